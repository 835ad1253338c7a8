//! The printed settling of a car: the sentence, front and rear over time in black, every day in a table, and how it was found.

use super::printed::Printed;
use crate::wire::{SettlingDay, SettlingEnd, SettlingView};
use crate::words::{band_mm, capital, whole};
use maud::{Markup, html};
use std::fmt::Write as _;
use trueground_core::stance::Figure;

/// The column of a page and the room round a strip, px.
const WIDTH: f64 = 680.0;
const LEFT: f64 = 44.0;
const TALL: f64 = 190.0;
const BETWEEN: f64 = 20.0;
/// Numbers on the line of time, at most.
const LABELS: f64 = 10.0;

const STYLE: &str = concat!(
    include_str!("sheet.css"),
    include_str!("card.css"),
    ".settling .band { fill: #ddd; } .settling .fit { fill: none; stroke: #000; stroke-width: 2.5; }
.settling .ahead { stroke-dasharray: 2 3; } .settling .read { fill: none; stroke: #000; stroke-width: 1.5; }
.settling .dot { stroke: #000; stroke-width: 10; stroke-linecap: round; } .settling .hollow { fill: #fff; stroke: #000; stroke-width: 2; }
.settling .hair { stroke: #999; stroke-width: 0.5; } .settling .at { stroke: #000; stroke-width: 3; } .settling .big { font-weight: 700; }
.settling .result { padding: 8px 0 2px; font-size: 16px; } .settling p { font-size: 13px; } .settling .days tr { height: 20px; }
.settling .days th, .settling .days td { padding: 1px 10px 1px 0; white-space: nowrap; text-align: left; font-weight: 400; }
.settling .days td:nth-child(3), .settling .days td:nth-child(4) { font-weight: 700; } .settling .days td:last-child { white-space: normal; width: 99%; }
.settling .found-out { columns: 2; column-gap: 24px; } .settling .found-out h2 { column-span: all; }"
);

/// The page; `day` is when it was printed.
pub(crate) fn of(view: &SettlingView, label: &str, day: &str) -> String {
    let content = html! {
        p.result { b { (view.headline) } " " (view.detail) }
        p { (view.about) }
        @if !view.ends.is_empty() { (picture(view)) }
        @if !view.no_curve.is_empty() { p { b { "No curve yet. " } (view.no_curve) } }
        @for end in &view.ends { @if let Some(words) = rest(view, end) { p { (words) } } }
        p { b { "Next: " } (view.next) }
        @if !view.days.is_empty() { (days(&view.days)) }
        @if !view.strips.is_empty() || !view.notes.is_empty() {
            section.found-out {
                h2 { "How it was found" }
                @for strip in &view.strips { p { (strip.words) ". " (strip.change) " " (strip.drift) } }
                @for note in &view.notes { p { (note) } }
            }
        }
    };
    let cells = [
        ("Days", view.dates.clone()),
        ("Floor", capital(&view.floor)),
        ("Printed", day.to_owned()),
        ("Units", "mm".to_owned()),
    ];
    Printed {
        label,
        what: "settling",
        cells: &cells,
        class: "settling",
        style: STYLE,
        foot: "± holds 19 times in 20. This page measures; it does not say a car is roadworthy.",
    }
    .page(&content)
}

fn figure(figure: Option<&Figure>) -> Option<String> {
    let figure = figure?;
    Some(format!("{} ±{}", whole(figure.value?), whole(band_mm(figure.u?))))
}

fn rest(view: &SettlingView, end: &SettlingEnd) -> Option<String> {
    let (rest, left) = (figure(end.rest_mm.as_ref())?, figure(end.remaining_mm.as_ref())?);
    let rests =
        if view.rest_by.is_empty() { "comes to rest".to_owned() } else { format!("{} it stands", view.rest_by) };
    Some(format!("{}: {rests} at {rest} mm, {left} mm still to come.", capital(&end.end)))
}

fn days(days: &[SettlingDay]) -> Markup {
    html! {
        section {
            table.rows.days {
                thead { tr { th { "Day" } th {} th { "front, mm" } th { "rear, mm" } th {} } }
                tbody {
                    @for day in days {
                        tr {
                            td { (day.date) }
                            td { (day.at_words) }
                            td { (figure(day.front_mm.as_ref()).unwrap_or_default()) }
                            td { (figure(day.rear_mm.as_ref()).unwrap_or_default()) }
                            td { (day.taken_out) " " (day.left_out) }
                        }
                    }
                }
            }
        }
    }
}

/// Lowest and highest of an end, mm.
fn extent(end: &SettlingEnd) -> (f64, f64) {
    let points = end.points.iter().flat_map(|point| {
        [point.height_mm - point.band_mm, point.height_mm + point.band_mm, point.stood_mm.unwrap_or(point.height_mm)]
    });
    let curve = end.curve.iter().flat_map(|at| [at.height_mm - at.band_mm, at.height_mm + at.band_mm]);
    points.chain(curve).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), mm| (low.min(mm), high.max(mm)))
}

/// A round step of which `most` go into a stretch.
fn step(stretch: f64, most: f64) -> f64 {
    let mut step = 1.0;
    for factor in [2.0, 2.5, 2.0].into_iter().cycle().take(30) {
        if stretch / step <= most {
            break;
        }
        step *= factor;
    }
    step
}

fn picture(view: &SettlingView) -> Markup {
    let all: f64 = view.ends.iter().map(extent).map(|(low, high)| high - low).sum();
    let k = (TALL / all.max(1.0)).min(9.0);
    let x = |at: f64| LEFT + at / view.until.max(1.0) * (WIDTH - LEFT);
    let mut top = 10.0;
    let mut strips = Vec::new();
    for end in &view.ends {
        let (low, high) = extent(end);
        strips.push(strip(view, end, &x, &|mm: f64| top + (high - mm) * k, (low, high)));
        top += (high - low) * k + BETWEEN;
    }
    let (axis, every) = (top - BETWEEN + 8.0, step(view.until, LABELS));
    let labels = (0..).map(|i| f64::from(i) * every).take_while(|at| x(*at) < WIDTH - 60.0);
    let height = axis + 30.0;
    html! {
        svg width=(WIDTH) height=(format!("{height:.0}")) viewBox=(format!("0 0 {WIDTH} {height:.0}")) role="img" aria-label=(view.text) {
            @for strip in &strips { (strip) }
            @if let Some(settled) = &view.settled {
                path.at d=(format!("M{:.1} 6V{axis:.1}", x(settled.at))) {}
                text.big x=(format!("{:.1}", x(settled.at) + 8.0)) y="18" { (settled.words) }
            }
            path.at d=(format!("M{LEFT} {axis:.1}H{WIDTH}")) {}
            @for at in labels {
                path.read d=(format!("M{:.1} {axis:.1}v7", x(at))) {}
                text x=(format!("{:.1}", x(at))) y=(format!("{:.1}", axis + 24.0)) text-anchor="middle" { (whole(at)) }
            }
            text x=(WIDTH) y=(format!("{:.1}", axis + 24.0)) text-anchor="end" { (view.clock_words) }
        }
    }
}

fn strip(
    view: &SettlingView,
    end: &SettlingEnd,
    x: &impl Fn(f64) -> f64,
    y: &impl Fn(f64) -> f64,
    (low, high): (f64, f64),
) -> Markup {
    let every = step(high - low, 6.0);
    let rows = (0..).map(|i| (low / every).ceil() * every + f64::from(i) * every).take_while(|mm| *mm <= high);
    let line = |of: &dyn Fn(&crate::wire::SettlingCurve) -> f64, from: f64, to: f64, back: bool| {
        let mut path = String::new();
        let mut part: Vec<_> = end.curve.iter().filter(|at| at.at >= from && at.at <= to).collect();
        if back {
            part.reverse();
        }
        for at in part {
            let _ =
                write!(path, "{}{:.1} {:.1}", if path.is_empty() && !back { "M" } else { "L" }, x(at.at), y(of(at)));
        }
        path
    };
    let all = f64::INFINITY;
    let edge = |side: f64| move |at: &crate::wire::SettlingCurve| at.height_mm + side * at.band_mm;
    let band = line(&edge(1.0), 0.0, all, false) + &line(&edge(-1.0), 0.0, all, true);
    let law = |at: &crate::wire::SettlingCurve| at.height_mm;
    html! {
        path.band d=(band) {}
        @for mm in rows {
            path.hair d=(format!("M{LEFT} {:.1}H{WIDTH}", y(mm))) {}
            text x=(LEFT - 8.0) y=(format!("{:.1}", y(mm) + 5.0)) text-anchor="end" { (whole(mm)) }
        }
        path.fit d=(line(&law, 0.0, view.last + 1e-9, false)) {}
        path class="fit ahead" d=(line(&law, view.last - 1e-9, all, false)) {}
        text.big x=(LEFT + 8.0) y=(format!("{:.1}", y(low) - 2.0)) { (end.end) }
        @for point in &end.points {
            path.read d=(format!("M{:.1} {:.1}V{:.1}", x(point.at), y(point.height_mm + point.band_mm), y(point.height_mm - point.band_mm))) {}
            @if point.counts { path.dot d=(format!("M{:.1} {:.1}h0", x(point.at), y(point.height_mm))) {} }
            @if let Some(stood) = point.stood_mm {
                circle.hollow cx=(format!("{:.1}", x(point.at))) cy=(format!("{:.1}", y(stood))) r="4.5" {}
            }
        }
    }
}
