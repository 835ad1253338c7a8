//! Other tires: half of the change of the diameter, exactly that of the static loaded radius.

use super::{
    Car, Caution, Effect, End, EventKind, Field, Given, Kind, Moves, Refusal, Takes, Worked, number, the, whole,
};
use crate::corner::{Corner, Corners};
use crate::tire::{Basis, Measured, TireFigure, dimensions, read_marking};
use crate::uncertainty::Quantity;

/// How much alike two tires press in, relative to what they do [common practice, no source].
const PRESSED_REL_U: f64 = 0.2;
/// A diameter that the person states, mm.
const STATED_U_MM: f64 = 0.5;

pub(super) const KIND: Kind = Kind {
    code: "tire",
    words: "other tires",
    does: "By half of the change of the diameter, exactly the change of the loaded radius; the axle goes with it.",
    fields: &[
        Field { key: "marking", words: "Marking of the other tire", takes: Takes::Text },
        number("free_diameter_change_mm", "Change of the diameter, in place of the marking", -400.0, 400.0, "mm"),
    ],
    moves: Moves::Wheels,
    side_effects: &[
        "rpm and speedometer",
        "rake, and caster by the rake",
        "axle clearance",
        "tire to fender at lock and bump",
    ],
    cautions: &[Caution::NotApproved],
    event: EventKind::Tires,
    work,
};

fn work(given: &Given, car: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let end = the(end);
    let axle: [Corner; 2] = if end == End::Front { [Corner::FL, Corner::FR] } else { [Corner::RL, Corner::RR] };
    let fitted = car.vehicle.tires.as_ref();
    let free =
        fitted.map(|tires| f64::midpoint(tires.at(axle[0]).free_diameter_mm, tires.at(axle[1]).free_diameter_mm));
    let pressed = free.map_or(15.0, |free| (free / 2.0 - car.loaded_radius_mm[end.index()]).max(0.0));
    let (change, u, name, rim) = match (given.text("marking"), given.number("free_diameter_change_mm")) {
        (Some(_), Some(_)) => {
            let message = format!("{}: marking and free_diameter_change_mm are given together.", given.path);
            return Err(Refusal::new(message, "Keep one of them."));
        }
        (None, Some(change)) => (change, STATED_U_MM, None, None),
        (Some(text), None) => {
            let marking = read_marking(text)
                .map_err(|error| Refusal::new(format!("{}.marking: {}", given.path, error.message()), error.hint()))?;
            let Some(free) = free else {
                let message = format!("{}: the car's file has no tires, so a marking says no change.", given.path);
                return Err(Refusal::new(message, "Add the tires of the car, or give free_diameter_change_mm."));
            };
            let other = dimensions(&marking, &Measured::default());
            let TireFigure { value, u, basis } = other.diameter_mm;
            // A standard's diameter still has a tolerance of its own.
            let u = if basis == Basis::Measured { u } else { u.max(STATED_U_MM) };
            (value - free, u, Some(text.to_owned()), Some(other.rim_diameter_mm.value))
        }
        (None, None) => return Err(given.missing("marking", ", or free_diameter_change_mm, or amount_mm")),
    };
    let rise = Quantity::new(change / 2.0, (u / 2.0).hypot(PRESSED_REL_U * pressed.min(change.abs())));
    let mut worked = Worked::new(Effect::wheels_at(end, rise), format!("half of {} mm of diameter", whole(change)));
    worked.tires = fitted.map(|tires| {
        Corners::from_fn(|corner| {
            let mut tire = tires.at(corner).clone();
            if axle.contains(&corner) {
                tire.free_diameter_mm += change;
                tire.rim_diameter_mm = rim.unwrap_or(tire.rim_diameter_mm);
                tire.designation = name.clone().unwrap_or(tire.designation);
            }
            tire
        })
    });
    if let Some(free) = free {
        worked =
            worked.with(format!("Engine speed {:+.1} % at the same road speed.", -change / (free + change) * 100.0));
    }
    Ok(worked)
}
