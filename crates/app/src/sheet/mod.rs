//! The blank booking sheet: a page to print and fill in with a pencil, when it rains or a second person writes.
//!
//! It stands alone: no script, nothing fetched, black on white, one column that fits A4 and Letter. Everything a walk asks
//! for is on it in the order of the walk, so that typing it in afterwards goes from top to bottom.

mod bounce;
pub(crate) mod card;
pub(crate) mod comparison;
pub(crate) mod findings;
pub(crate) mod log;
mod marks;
mod outline;
mod picture;
pub(crate) mod plan;
mod printed;
pub(crate) mod ramp;
pub(crate) mod settling;
mod side_shape;
mod side_view;

use crate::plan::WALK;
use bounce::bounce;
pub use card::card;
pub use comparison::comparison;
use marks::Mark;
pub(crate) use marks::marks;
use maud::{DOCTYPE, Markup, PreEscaped, html};
pub(crate) use plan::plan;
use trueground_core::capture::{CarFile, Floor, Tape};
use trueground_core::corner::Corner;
use trueground_core::units::{Pressure, PressureUnit};
use trueground_core::wording::shown;

/// Bounces the sheet has room for, two rounds each: what shows a slip and a spring that sticks.
const BOUNCES: usize = 2;
/// Most floors that are named to tick.
const MOST_FLOORS: usize = 4;
/// A name of more characters is set smaller.
const LONG_NAME: usize = 20;
/// Ruled lines for notes.
const NOTE_LINES: usize = 3;

/// Longest description that is printed, characters.
const LONGEST_PROSE: usize = 160;

const STYLE: &str = include_str!("sheet.css");

/// An empty booking sheet for a car, as HTML. The file is one that [`trueground_core::validate`] finds no fault with; of any
/// other it is drawn as well as it goes.
pub fn blank(file: &CarFile) -> String {
    let label = shown(&file.vehicle.label);
    let marks = marks(&file.vehicle);
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (label) ", booking sheet" }
                style { (PreEscaped(STYLE)) }
            }
            body {
                main {
                    (head(&label))
                    div.pair {
                        div { (stood(file)) (notes()) }
                        div { (tires(file)) (levelling()) }
                    }
                    (walk(file, &marks))
                    @for number in 1..=BOUNCES {
                        (bounce(number, &label, &marks, &file.instrument.tape))
                    }
                }
            }
        }
    };
    page.into_string()
}

fn head(label: &str) -> Markup {
    html! {
        header {
            h1 class=[(label.chars().count() > LONG_NAME).then_some("long")] { (label) " " span { "booking sheet" } }
            @for cell in ["Date", "Time", "Read by"] {
                p.cell { (cell) }
            }
        }
    }
}

/// Floor, facing, load, odometer, tape.
fn stood(file: &CarFile) -> Markup {
    let nominal = file.vehicle.nominal_load.as_deref().filter(|load| !load.trim().is_empty());
    html! {
        section {
            h2 { "How it stands" }
            table.rows {
                tr { th scope="row" { "Floor" } td { (floors(&file.floors)) } }
                tr { th scope="row" { "Facing" } td { (tick("as first")) (tick("turned end for end")) span.blank { "nose toward" } } }
                tr {
                    th scope="row" { "Load" }
                    td {
                        @if let Some(load) = nominal { (tick(&prose(load))) } @else { (tick("as always")) }
                        span.blank { "or fuel, people, luggage, and where" }
                    }
                }
                tr { th scope="row" { "Odometer" } td {} }
                tr { th scope="row" { "Tape" } td { (tick(&division(&file.instrument.tape))) (tick("read from the one-inch mark")) } }
            }
        }
    }
}

fn floors(floors: &[Floor]) -> Markup {
    let named = |floor: &Floor| {
        let label = if floor.label.trim().is_empty() { &floor.id } else { &floor.label };
        let levelled = floor.survey.as_ref().is_some_and(|survey| survey.spots_read() > 0);
        format!("{}, {}", shown(label), if levelled { "levelled" } else { "not levelled" })
    };
    html! {
        @for floor in floors.iter().take(MOST_FLOORS) { (tick(&named(floor))) }
        span.blank { @if floors.is_empty() { "which" } @else { "another" } }
    }
}

/// A box to tick, with its words.
fn tick(words: &str) -> Markup {
    html! { span.tick { i {} (words) } }
}

/// "inches in sixteenths"
fn division(tape: &Tape) -> String {
    let parts = match tape.den {
        Some(8) => "eighths".to_owned(),
        Some(16) => "sixteenths".to_owned(),
        Some(32) => "thirty-seconds".to_owned(),
        Some(64) => "sixty-fourths".to_owned(),
        Some(den) => format!("1/{den}"),
        None => return if tape.unit == "in" { "inches".to_owned() } else { shown(&tape.unit) },
    };
    if tape.unit == "in" { format!("inches in {parts}") } else { shown(&tape.unit) }
}

fn tires(file: &CarFile) -> Markup {
    html! {
        section {
            h2 { "Tires" }
            table.book.tires {
                thead {
                    tr { th scope="col" { "Corner" } th scope="col" { "Tire" } th scope="col" { "Nominal, cold" } th.write scope="col" { "Today" } }
                }
                tbody {
                    @for corner in WALK {
                        @let tire = file.vehicle.tires.as_ref().map(|tires| tires.at(corner));
                        tr {
                            th scope="row" { (corner.words()) }
                            td { @if let Some(tire) = tire { (shown(&tire.designation)) } }
                            td { @if let Some(tire) = tire { (pressure(tire.nominal_pressure_kpa)) } }
                            td {}
                        }
                    }
                }
            }
            p { (tick("cold")) (tick("warm")) (tick("other tires than these")) }
        }
    }
}

/// "210 kPa, 30 psi"
fn pressure(kpa: f64) -> String {
    let pressure = Pressure::kpa(kpa);
    format!("{} kPa, {} psi", pressure.on_a_gauge(PressureUnit::Kpa), pressure.on_a_gauge(PressureUnit::Psi))
}

fn walk(file: &CarFile, marks: &[Mark]) -> Markup {
    html! {
        section.walk {
            h2 { "The walk" }
            @if file.vehicle.ref_points.is_empty() {
                p.caution {
                    (triangle())
                    b { "No points are marked yet. " }
                    "Mark the same hard point at all four corners first, such as the underside of the frame rail, with a dab \
                     of paint. Write beside \u{201c}mark\u{201d} what it is and how far from the axle."
                }
            }
            (picture::picture(&file.vehicle, marks))
            ul.cautions {
                li.caution {
                    (triangle())
                    b { "Under the car: " }
                    "wheels on the ground or on rated stands on solid floor. Never put any part of you under a car held by a jack. Heights on a \
                     jack or stands are not ride heights."
                }
                li.caution {
                    (triangle())
                    b { "Rolling: " }
                    "chock the wheels before brake and gear are released; on more than about 5 % not alone. Fingers out of the gap while it moves."
                }
                li { "Trueground measures. It does not say a car is roadworthy." }
            }
        }
    }
}

/// The triangle; always with a word beside it.
fn triangle() -> Markup {
    html! {
        svg width="22" height="20" viewBox="0 0 30 27" aria-hidden="true" {
            path class="plate" d="M15 2L28.4 25H1.6Z" {}
            path class="sign" d="M15 9.5V17.5" {}
            circle cx="15" cy="21.4" r="1.6" {}
        }
    }
}

fn levelling() -> Markup {
    html! {
        section {
            h2 { "Levelling the floor" }
            p { (tick("water level")) (tick("laser line and rule")) (tick("not levelled")) }
            table.book {
                thead {
                    tr {
                        th scope="col" { "Spot" }
                        th scope="col" { "Under, as first" }
                        th.write scope="col" { "Pass 1" }
                        th.write scope="col" { "Pass 2" }
                    }
                }
                tbody {
                    @for (number, corner) in (1..).zip(Corner::ALL) {
                        tr { th scope="row" { "S" (number) } td { (corner.words()) } td {} td {} }
                    }
                }
            }
            p {
                b { "A bigger number is a lower floor. " }
                "From pass to pass all four move by the same amount; where one does not, read it again. Do not look into a laser."
            }
        }
    }
}

fn notes() -> Markup {
    html! {
        section.notes {
            h2 { "Notes" }
            @for _ in 0..NOTE_LINES { div {} }
        }
    }
}

/// What a person wrote, as it can be printed: each word as a message shows it, the whole not longer than [`LONGEST_PROSE`].
fn prose(text: &str) -> String {
    let mut out = String::new();
    for word in text.split_whitespace().map(shown) {
        if out.chars().count() + word.chars().count() > LONGEST_PROSE {
            out.push('…');
            break;
        }
        if !out.is_empty() {
            out.push(' ');
        }
        out.push_str(&word);
    }
    out
}

#[cfg(test)]
mod tests;
