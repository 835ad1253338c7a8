//! The walk round the car from above, nose up: the way to go, and every mark with its number.

use super::marks::{Mark, hub};
use super::outline::{Place, at, path, reach};
use crate::plan::WALK;
use maud::{Markup, html};
use trueground_core::car::{Outline, Vehicle};
use trueground_core::corner::Corner;

/// Size of the picture, px.
const WIDTH: f64 = 680.0;
const HEIGHT: f64 = 300.0;
/// Room above and below the car for the way round it, px.
const ENDS: f64 = 30.0;
/// From the middle of the picture to where the names of the marks begin, px.
const NAMES: f64 = 158.0;
/// Between two names, px.
const PITCH: f64 = 19.0;
/// Most names at one corner; the tables have them all.
const MOST_NAMES: usize = 6;
/// Where a tire is not known: its diameter and width, mm. Only the drawing depends on it.
const TIRE_MM: (f64, f64) = (680.0, 165.0);

pub(super) fn picture(vehicle: &Vehicle, marks: &[Mark]) -> Markup {
    let view = View::of(vehicle);
    let outline = vehicle.outline.unwrap_or(Outline::Coupe);
    let unit = vehicle.wheelbase_mm / 1000.0;
    let body = path(outline, |(s, y)| view.place(-s * unit, -y * unit));
    let nose = view.place(view.front_mm, 0.0).1;
    html! {
        svg width=(WIDTH) height=(HEIGHT) viewBox={ "0 0 " (WIDTH) " " (HEIGHT) } role="img" aria-labelledby="walk-words" {
            title id="walk-words" { (in_words(marks)) }
            path class="body" d=(body) {}
            @for corner in Corner::ALL { (tire(vehicle, &view, corner)) }
            path class="nose" d={ "M" (at((WIDTH / 2.0, nose + 12.0))) "l-8,14h16Z" } {}
            text class="word" x=(WIDTH / 2.0) y=(format!("{:.1}", nose + 42.0)) { "nose" }
            @for corner in WALK { (names(vehicle, &view, corner, marks)) }
            (way_round(vehicle, &view))
        }
    }
}

/// The picture for someone who cannot see it.
fn in_words(marks: &[Mark]) -> String {
    let corner = |corner: Corner| {
        let of_it: Vec<String> = marks.iter().filter(|mark| mark.corner == corner).map(named).collect();
        format!("{}: {}", corner.words(), of_it.join(", "))
    };
    format!("The car from above. Walk round it in this order. {}.", WALK.map(corner).join("; "))
}

fn named(mark: &Mark) -> String {
    format!("{} {}", mark.number, mark.brief)
}

/// From the car's millimetres to the picture's px.
struct View {
    k: f64,
    /// How far the car reaches ahead of the front axle, mm.
    front_mm: f64,
}

impl View {
    fn of(vehicle: &Vehicle) -> Self {
        let (front, rear) = reach(vehicle.outline.unwrap_or(Outline::Coupe));
        let unit = vehicle.wheelbase_mm / 1000.0;
        let wheel = TIRE_MM.0 / 2.0;
        let (front_mm, rear_mm) = ((front * unit).max(wheel), (rear * unit).max(vehicle.wheelbase_mm + wheel));
        let wide = vehicle.track_front_mm.max(vehicle.track_rear_mm) + 2.0 * TIRE_MM.1;
        let k = ((HEIGHT - 2.0 * ENDS) / (front_mm + rear_mm)).min(2.0 * (NAMES - 50.0) / wide);
        Self { k, front_mm }
    }

    /// `x_mm` ahead of the front axle, `y_mm` left of the centre plane. What lies far outside is drawn at the edge.
    fn place(&self, x_mm: f64, y_mm: f64) -> Place {
        let across = (WIDTH / 2.0 - y_mm * self.k).clamp(WIDTH / 2.0 - NAMES + 24.0, WIDTH / 2.0 + NAMES - 24.0);
        (across, (ENDS + (self.front_mm - x_mm) * self.k).clamp(4.0, HEIGHT - 4.0))
    }
}

fn tire(vehicle: &Vehicle, view: &View, corner: Corner) -> Markup {
    let diameter = vehicle.tires.as_ref().map_or(TIRE_MM.0, |tires| tires.at(corner).free_diameter_mm);
    let (long, wide) = ((diameter * view.k).clamp(8.0, 90.0), (TIRE_MM.1 * view.k).clamp(6.0, 24.0));
    let (x_mm, y_mm) = hub(vehicle, corner);
    let (x, y) = view.place(x_mm, y_mm);
    let px = |value: f64| format!("{value:.1}");
    html! {
        rect class="tire" x=(px(x - wide / 2.0)) y=(px(y - long / 2.0)) width=(px(wide)) height=(px(long)) rx="2" {}
    }
}

/// Dotted, from the first corner round nose and tail to the last, with its arrow there.
fn way_round(vehicle: &Vehicle, view: &View) -> Markup {
    let wheel = |corner| {
        let (x_mm, y_mm) = hub(vehicle, corner);
        view.place(x_mm, y_mm)
    };
    let beside = |corner: Corner| {
        let (x, y) = wheel(corner);
        (if corner.is_left() { x - 26.0 } else { x + 26.0 }, y)
    };
    let [first, second, third, last] = WALK.map(beside);
    let (left, right) = (first.0.min(last.0), second.0.max(third.0));
    let (top, bottom, turn) = (10.0, HEIGHT - 10.0, 22.0);
    let (inner_left, inner_right) = (left + turn, right - turn);
    let way = format!(
        "M{left:.1},{:.1}V{:.1}Q{left:.1},{top} {inner_left:.1},{top}H{inner_right:.1}Q{right:.1},{top} {right:.1},{:.1}V{:.1}\
         Q{right:.1},{bottom} {inner_right:.1},{bottom}H{inner_left:.1}Q{left:.1},{bottom} {left:.1},{:.1}V{:.1}",
        first.1,
        top + turn,
        top + turn,
        bottom - turn,
        bottom - turn,
        last.1 + 10.0,
    );
    html! {
        path class="way" d=(way) {}
        circle class="start" cx=(format!("{left:.1}")) cy=(format!("{:.1}", first.1)) r="5" {}
        path class="arrow" d={ "M" (at((left, last.1 - 4.0))) "l-6,14h12Z" } {}
    }
}

/// The marks of a corner: a dot where each is, a leader to its number and name.
fn names(vehicle: &Vehicle, view: &View, corner: Corner, marks: &[Mark]) -> Markup {
    let mut of_it: Vec<&Mark> = marks.iter().filter(|mark| mark.corner == corner).collect();
    let beyond = of_it.len().saturating_sub(MOST_NAMES);
    of_it.truncate(MOST_NAMES);
    let axle = hub(vehicle, corner);
    // From nose to tail, and of marks abreast the outermost first, so that no leader crosses another.
    let spread = |mark: &Mark| (-mark.x_mm, -mark.y_mm.abs());
    of_it.sort_by(|a, b| spread(a).partial_cmp(&spread(b)).unwrap_or(std::cmp::Ordering::Equal));
    let lines = of_it.len() + usize::from(beyond > 0);
    let middle = view.place(axle.0, axle.1).1;
    let top = (middle - (lines as f64 - 1.0) / 2.0 * PITCH).clamp(40.0, HEIGHT - 14.0 - (lines as f64 - 1.0) * PITCH);
    let side = if corner.is_left() { -1.0 } else { 1.0 };
    let (edge, text) = (WIDTH / 2.0 + side * NAMES, WIDTH / 2.0 + side * (NAMES + 26.0));
    let anchor = if corner.is_left() { "end" } else { "start" };
    let line = |nth: usize| top + nth as f64 * PITCH;
    let order = match WALK.iter().position(|at| *at == corner) {
        Some(0) => "start: ",
        Some(3) => "last: ",
        _ => "then ",
    };
    html! {
        text class="corner" x=(text) y=(format!("{:.1}", top - PITCH)) text-anchor=(anchor) { (order) (corner.words()) }
        @for (nth, mark) in of_it.iter().enumerate() {
            @let dot = view.place(mark.x_mm, mark.y_mm);
            path class="leader" d={ "M" (at((edge, line(nth)))) "L" (at(dot)) } {}
            circle class="mark" cx=(format!("{:.1}", dot.0)) cy=(format!("{:.1}", dot.1)) r="3.5" {}
            circle class="ring" cx=(format!("{:.1}", edge + side * 9.0)) cy=(format!("{:.1}", line(nth))) r="9.5" {}
            text class="number" x=(format!("{:.1}", edge + side * 9.0)) y=(format!("{:.1}", line(nth) + 4.6)) { (mark.number) }
            text x=(text) y=(format!("{:.1}", line(nth) + 4.6)) text-anchor=(anchor) { (mark.brief) }
        }
        @if beyond > 0 {
            text x=(text) y=(format!("{:.1}", line(lines - 1) + 4.6)) text-anchor=(anchor) { "and " (beyond) " more, in the table" }
        }
    }
}
