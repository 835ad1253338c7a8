//! A stance on a ground, printed: the sentence, the car's wheels and low points on the ground, the gap along the way, every answer.

use super::printed::Printed;
use super::side_view::car;
use crate::wire::{CheckWord, DrivenView};
use maud::{Markup, html};
use trueground_core::wording::shown;

const WIDTH: f64 = 680.0;
const MARGIN: f64 = 100.0;
/// Room under the lowest tire, px.
const BELOW: f64 = 76.0;
const CURVE_HIGH: f64 = 152.0;
const MOST_MM: f64 = 100.0;

const STYLE: &str = concat!(
    include_str!("sheet.css"),
    include_str!("card.css"),
    include_str!("findings.css"),
    ".ramp .solid { fill: #ddd; } .ramp .ring { fill: none; stroke: #000; stroke-width: 2.5; } .ramp .edge { fill: none; stroke: #000; stroke-width: 3; }
.ramp .big { font-size: 30px; font-weight: 600; } .ramp .gap { fill: none; stroke: #000; stroke-width: 2.5; } .ramp .before { stroke-width: 1.5; stroke-dasharray: 2 3; }
.ramp .kept { fill: #ddd; } .ramp .zero { stroke: #000; stroke-width: 2.5; } .ramp .hair { stroke: #999; stroke-width: 0.75; }
.ramp .touching { stroke: #000; stroke-width: 8; } .ramp .end { text-anchor: end; } .ramp .legend { display: flex; gap: 24px; padding: 2px 0 6px; }
.ramp .legend svg { display: inline-block; vertical-align: middle; margin-right: 8px; }"
);

/// The page; `day` is when it was printed.
pub(crate) fn of(view: &DrivenView, label: &str, day: &str) -> String {
    let content = html! {
        p.result { b { (view.headline) } " " (view.detail) }
        p { (view.other_way) " " (view.doubt) }
        (picture(view))
        p { (view.picture.text) }
        section {
            h2 { (view.curve.title) ", gap in mm" }
            @if view.curve.lines.len() > 1 {
                p.legend {
                    @for (i, line) in view.curve.lines.iter().enumerate() {
                        span { svg width="44" height="8" { path.gap.before[i > 0] d="M0 4H44" {} } (shown(&line.label)) }
                    }
                }
            }
            (curve(view))
        }
        section {
            h2 { "Turned round" }
            table.rows.found {
                tbody {
                    @for row in &view.rows {
                        tr {
                            th scope="row" { b { (shown(&row.subject)) } }
                            td { (word(row.word)) }
                            td { (row.line) }
                            td.number { (row.number) }
                            td { (row.under) }
                        }
                    }
                }
            }
            @for caution in &view.cautions { p { b { "Caution: " } (caution) } }
        }
    };
    let stands = if view.predicted { "Predicted" } else { "Stance" };
    let cells = [(stands, view.stance.label.clone()), ("Printed", day.to_owned()), ("Units", "mm, degrees".to_owned())];
    Printed {
        label,
        what: &view.ground_words,
        cells: &cells,
        class: "findings ramp",
        style: STYLE,
        foot: "± holds 19 times in 20. This page measures; it does not say a car is roadworthy.",
    }
    .page(&content)
}

const fn word(word: CheckWord) -> &'static str {
    match word {
        CheckWord::Touches => "touches",
        CheckWord::Caution => "caution",
        CheckWord::CantTell => "can\u{2019}t tell",
        CheckWord::Clears => "clears",
        CheckWord::Within | CheckWord::Same | CheckWord::Number | CheckWord::NotRead => "",
    }
}

fn path(points: impl Iterator<Item = [f64; 2]>) -> String {
    let places: Vec<String> = points.map(|[x, y]| format!("{x:.1},{y:.1}")).collect();
    if places.is_empty() { String::new() } else { format!("M{}", places.join("L")) }
}

/// The car on the ground where it comes nearest, to scale; it faces left, as on the screen.
fn picture(view: &DrivenView) -> Markup {
    let of = &view.picture;
    let ([front, rear], side) = (of.wheels, &of.side);
    let [ahead, behind] = car(side, 1.0).1;
    let (left, right) = (front[0] + ahead, rear[0] - behind);
    let k = (WIDTH - 2.0 * MARGIN) / (left - right);
    let (body, _) = car(side, k);
    let feet = [front[1] - side.front_wheel.loaded_radius_mm, rear[1] - side.rear_wheel.loaded_radius_mm];
    // Nothing of a car stands higher over its wheels than this part of its wheelbase, with room for its nose up.
    let top = feet[0].max(feet[1]) + 0.52 * side.wheelbase_mm;
    let tall = (top - feet[0].min(feet[1])) * k + BELOW;
    let (x, y) = (|s: f64| MARGIN + (left - s) * k, |z: f64| (top - z) * k);
    let (from, to) = (right - MARGIN / k, left + MARGIN / k);
    let edge = cut(&of.ground, from, to).into_iter().map(|[s, z]| [x(s), y(z)]);
    let line = path(edge);
    let place = format!(
        "translate({:.1} {:.1}) rotate({:.3}) translate(0 {:.1})",
        x(front[0]),
        y(front[1]),
        of.nose_up_deg,
        side.front_wheel.loaded_radius_mm * k
    );
    let at = [x(of.at[0]), y(of.at[1])];
    // Under the lowest tire, so that no wheel lies over it.
    let number = [(at[0] + 70.0).min(WIDTH - 110.0), tall - 14.0];
    html! {
        svg width=(WIDTH) height=(format!("{tall:.0}")) viewBox=(format!("0 0 {WIDTH} {tall:.1}")) role="img" aria-label=(of.text) {
            path.solid d=(format!("{line}V{tall:.1}H{WIDTH}Z")) {}
            g transform=(place) { (body) }
            path.edge d=(line) {}
            circle.ring cx=(format!("{:.1}", at[0])) cy=(format!("{:.1}", at[1])) r="12" {}
            path.leader d=(format!("M{:.1},{:.1}L{:.1},{:.1}", at[0] + 9.0, at[1] + 8.0, number[0] - 6.0, number[1] - 14.0)) {}
            text.big x=(format!("{:.1}", number[0])) y=(format!("{:.1}", number[1])) { (of.number) }
        }
    }
}

/// The ground between two places along it, with both cuts.
fn cut(ground: &[[f64; 2]], from: f64, to: f64) -> Vec<[f64; 2]> {
    let mut out: Vec<[f64; 2]> = Vec::new();
    for pair in ground.windows(2) {
        let ([s0, z0], [s1, z1]) = (pair[0], pair[1]);
        let height = |s: f64| z0 + (s - s0) / (s1 - s0).max(1e-9) * (z1 - z0);
        let (a, b) = (s0.max(from), s1.min(to));
        if a <= b {
            out.extend([[a, height(a)], [b, height(b)]]);
        }
    }
    // From the left of the page to its right: the way in runs to the left.
    out.reverse();
    out
}

fn curve(view: &DrivenView) -> Markup {
    let of = &view.curve;
    let [from, to] = of.span;
    let least = of.lines.iter().flat_map(|line| &line.points).map(|[_, gap]| *gap).fold(0.0_f64, f64::min);
    let x = |s: f64| 44.0 + (s - from) / (to - from).max(1.0) * (WIDTH - 44.0);
    let y = |gap: f64| 8.0 + (MOST_MM - gap) / (MOST_MM - least) * (CURVE_HIGH - 56.0);
    let foot = CURVE_HIGH - 24.0;
    let every = if to - from > 4000.0 { 1000.0 } else { 500.0 };
    let places = (0..).map(|i| ((from / every).ceil() + f64::from(i)) * every).take_while(|s| *s <= to);
    html! {
        svg width=(WIDTH) height=(CURVE_HIGH) viewBox=(format!("0 0 {WIDTH} {CURVE_HIGH}")) role="img" aria-label=(of.text) {
            rect.kept x=(format!("{:.1}", x(from))) y=(format!("{:.1}", y(of.kept_mm))) width=(format!("{:.1}", x(to) - x(from))) height=(format!("{:.1}", y(0.0) - y(of.kept_mm))) {}
            @for gap in [25.0, 50.0, 100.0] { path.hair d=(format!("M44 {:.1}H{WIDTH}", y(gap))) {} }
            @for gap in [0.0, 25.0, 50.0, 100.0] { text.end x="36" y=(format!("{:.1}", y(gap) + 5.0)) { (gap) } }
            text.end x=(WIDTH - 6.0) y=(format!("{:.1}", y(0.0) - 8.0)) { (format!("{:.0} kept for bounce", of.kept_mm)) }
            path.zero d=(format!("M44 {:.1}H{WIDTH}", y(0.0))) {}
            @for (i, line) in of.lines.iter().enumerate() {
                path.gap.before[i > 0] d=(path(line.points.iter().filter(|[_, gap]| *gap <= MOST_MM).map(|[s, gap]| [x(*s), y(*gap)]))) {}
            }
            @if let Some([a, b]) = of.touching { path.touching d=(format!("M{:.1} {y0:.1}H{:.1}", x(a), x(b), y0 = y(0.0))) {} }
            @for place in places { text x=(format!("{:.1}", x(place))) y=(format!("{:.1}", foot)) text-anchor="middle" { (place) } }
            text.end x=(WIDTH) y=(CURVE_HIGH - 6.0) { (of.counted) }
        }
    }
}
