//! A mass put aboard or taken off: m·g·share/ride rate at both axles, and a lean where it sits to one side.

use super::{Car, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, Worked, doubted, number, whole};
use crate::capture::LoadChange;
use crate::level::{load_drop_mm, load_lean};

/// Ride rates known to a tenth [common practice, no source].
const REL_U: f64 = 0.1;

pub(super) const KIND: Kind = Kind {
    code: "load",
    words: "weight aboard",
    does: "Lower by m·g·share/ride rate at each axle; behind the rear axle it lifts the nose. Aside it leans the car.",
    fields: &[
        number("mass_kg", "Mass, - is taken off", -2_000.0, 2_000.0, "kg"),
        number("x_mm", "Ahead of the front axle, - is behind it", -8_000.0, 3_000.0, "mm"),
        number("y_mm", "Left of the middle, - is right", -1_500.0, 1_500.0, "mm"),
    ],
    moves: Moves::Mass,
    side_effects: &["nothing is settled or worn by it: take it out again when you compare"],
    cautions: &[],
    event: EventKind::HeavyParts,
    work,
};

fn work(given: &Given, car: &Car<'_>, _: Option<End>) -> Result<Worked, Refusal> {
    let (mass_kg, x_mm) = (given.required("mass_kg", INSTEAD)?, given.required("x_mm", "")?);
    let mass = LoadChange { label: String::new(), mass_kg, x_mm, y_mm: given.number("y_mm").unwrap_or(0.0) };
    let [front, rear] = load_drop_mm(car.vehicle, std::slice::from_ref(&mass));
    let mut effect = Effect::NONE;
    effect.frame_mm = [front, rear].map(|drop| doubted(-drop, REL_U, 0.0));
    effect.travel_mm = effect.frame_mm;
    effect.lean = doubted(load_lean(car.vehicle, &mass, car.lean_gain), REL_U, 0.0);
    Ok(Worked::new(effect, format!("{} kg, {} mm behind the front axle", whole(mass_kg), whole(-x_mm))))
}
