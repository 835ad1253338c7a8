//! A stance on a ground, printed: the sentence, the car's wheels and low points on the ground, the gap along the way, every answer.

use super::STYLE;
use crate::wire::{CheckWord, DrivenView};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use trueground_core::wording::shown;

const WIDTH: f64 = 680.0;
const MARGIN: f64 = 16.0;
const CURVE_HIGH: f64 = 180.0;
const MOST_MM: f64 = 100.0;

const OWN: &str = ".ramp .ground { fill: #ddd; stroke: #000; stroke-width: 2.5; } .ramp .tire { fill: none; stroke: #000; stroke-width: 4; }
.ramp .rail { stroke: #000; stroke-width: 2; } .ramp .dot { fill: #000; } .ramp .ring { fill: none; stroke: #000; stroke-width: 2; }
.ramp .gap { fill: none; stroke: #000; stroke-width: 2.5; } .ramp .before { stroke-dasharray: 2 3; } .ramp .kept { fill: #ddd; }
.ramp .zero { stroke: #000; stroke-width: 2; }";

/// The page; `day` is when it was printed.
pub(crate) fn of(view: &DrivenView, label: &str, day: &str) -> String {
    let label = shown(label);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (label) ", " (view.ground_words) }
                style { (PreEscaped(STYLE)) (PreEscaped(OWN)) }
            }
            body.ramp {
                main {
                    header { h1 { (label) " " span { (view.ground_words) ", printed " (day) } } }
                    section {
                        h2 { (view.headline) }
                        p { (view.detail) }
                        p { "Stance: " (view.stance.label) @if view.predicted { ", predicted, not measured" } ". " (view.other_way) " " (view.doubt) }
                        (picture(view))
                        p { (view.picture.text) }
                    }
                    section { h2 { (view.curve.title) ", gap in mm" } (curve(view)) p { (view.curve.text) } }
                    section {
                        table.book {
                            tbody {
                                @for row in &view.rows {
                                    tr { td { (word(row.word)) } td { (row.subject) } td { (row.line) } td { (row.number) " " (row.under) } }
                                }
                            }
                        }
                        @for caution in &view.cautions { p { "Caution: " (caution) } }
                        p { "The car stands still at each place. ± is two standard uncertainties: 95 in 100 lie within it." }
                    }
                }
            }
        }
    };
    page.into_string()
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

fn points(all: impl Iterator<Item = [f64; 2]>) -> String {
    let all: Vec<String> = all.map(|[x, y]| format!("{x:.1},{y:.1}")).collect();
    all.join(" ")
}

/// The car faces left, as on the screen.
fn picture(view: &DrivenView) -> Markup {
    let of = &view.picture;
    let [front, rear] = of.wheels;
    let reach = of.side.front_wheel.free_radius_mm.max(of.side.rear_wheel.free_radius_mm) + 700.0;
    let (left, right) = (front[0] + reach, rear[0] - reach);
    let k = (WIDTH - 2.0 * MARGIN) / (left - right);
    let high = front[1].max(rear[1]) + 400.0;
    let low = front[1].min(rear[1]) - 700.0;
    let (tall, x, y) = ((high - low) * k, |s: f64| MARGIN + (left - s) * k, |z: f64| (high - z) * k);
    let inside = of.ground.windows(2).flat_map(|pair| {
        let cut =
            |s: f64| pair[0][1] + (s - pair[0][0]) / (pair[1][0] - pair[0][0]).max(1e-9) * (pair[1][1] - pair[0][1]);
        let (from, to) = (pair[0][0].max(right), pair[1][0].min(left));
        if from > to { Vec::new() } else { vec![[from, cut(from)], [to, cut(to)]] }
    });
    let line: Vec<[f64; 2]> = inside.map(|[s, z]| [x(s), y(z)]).collect();
    let ends = [[x(left), tall], [x(right), tall]];
    let filled = points(line.iter().copied().chain(ends));
    let turn = of.nose_up_deg.to_radians();
    let (sin, cos) = (libm_sin(turn), libm_cos(turn));
    let radius = of.side.front_wheel.loaded_radius_mm;
    let carry = |[s, z]: [f64; 2]| [front[0] - s * cos - (z - radius) * sin, front[1] - s * sin + (z - radius) * cos];
    let rail = [[of.side.front_s_mm, of.side.rail_front_mm], [of.side.rear_s_mm, of.side.rail_rear_mm]].map(carry);
    html! {
        svg width=(WIDTH) height=(tall) viewBox=(format!("0 0 {WIDTH} {tall:.1}")) role="img" {
            polygon.ground points=(filled);
            @for (at, wheel) in of.wheels.iter().zip([&of.side.front_wheel, &of.side.rear_wheel]) {
                circle.tire cx=(x(at[0])) cy=(y(at[1])) r=(wheel.loaded_radius_mm * k);
            }
            line.rail x1=(x(rail[0][0])) y1=(y(rail[0][1])) x2=(x(rail[1][0])) y2=(y(rail[1][1]));
            @for point in &of.points { @let at = carry(*point); circle.dot cx=(x(at[0])) cy=(y(at[1])) r="3"; }
            circle.ring cx=(x(of.at[0])) cy=(y(of.at[1])) r="12";
            text x=(x(of.at[0]) + 18.0) y=(y(of.at[1]) + 30.0) { (of.number) }
        }
    }
}

fn libm_sin(radians: f64) -> f64 {
    trueground_core::units::Angle::rad(radians).sin()
}

fn libm_cos(radians: f64) -> f64 {
    trueground_core::units::Angle::rad(radians).cos()
}

fn curve(view: &DrivenView) -> Markup {
    let of = &view.curve;
    let [from, to] = of.span;
    let least = of.lines.iter().flat_map(|line| &line.points).map(|[_, gap]| *gap).fold(0.0_f64, f64::min);
    let x = |s: f64| 44.0 + (s - from) / (to - from).max(1.0) * (WIDTH - 60.0);
    let y = |gap: f64| 8.0 + (MOST_MM - gap) / (MOST_MM - least) * (CURVE_HIGH - 40.0);
    html! {
        svg width=(WIDTH) height=(CURVE_HIGH) viewBox=(format!("0 0 {WIDTH} {CURVE_HIGH}")) role="img" {
            rect.kept x=(x(from)) y=(y(of.kept_mm)) width=(x(to) - x(from)) height=(y(0.0) - y(of.kept_mm));
            line.zero x1=(x(from)) y1=(y(0.0)) x2=(x(to)) y2=(y(0.0));
            @for gap in [0.0, 25.0, 50.0, 100.0] { text x="0" y=(y(gap) + 4.0) { (gap) } }
            @for (i, line) in of.lines.iter().enumerate() {
                polyline.gap.before[i > 0] points=(points(line.points.iter().filter(|[_, gap]| *gap <= MOST_MM).map(|[s, gap]| [x(*s), y(*gap)])));
            }
            text x=(x(from)) y=(CURVE_HIGH - 6.0) { (format!("{from:.0} to {to:.0} mm, {}", of.counted)) }
        }
    }
}
