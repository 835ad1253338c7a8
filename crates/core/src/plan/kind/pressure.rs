//! Other tire pressure: rate k₀·(0.3 + 0.7·p/p₀); what the tire presses in changes by it, u 20 % of the change [common practice, no source].

use super::{Car, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, Worked, doubted, number, the, whole};
use crate::corner::Corner;

const REL_U: f64 = 0.2;

pub(super) const KIND: Kind = Kind {
    code: "pressure",
    words: "other tire pressure",
    does: "What the tire presses in changes with its rate, k0·(0.3 + 0.7·p/p0): a few mm (common practice, no source).",
    fields: &[number("to_kpa", "Pressure afterwards, cold", 50.0, 700.0, "kPa")],
    moves: Moves::Wheels,
    side_effects: &["load that the tire may carry at this pressure", "axle clearance", "wear and steering"],
    cautions: &[],
    event: EventKind::Note,
    work,
};

fn work(given: &Given, car: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let end = the(end);
    let to = given.required("to_kpa", INSTEAD)?;
    let Some(tires) = car.vehicle.tires.as_ref() else {
        let message = format!("{}: the car's file has no tires.", given.path);
        return Err(Refusal::new(message, "Add the tires of the car with their pressure, or give amount_mm."));
    };
    let tire = tires.at(if end == End::Front { Corner::FL } else { Corner::RL });
    let stiffness = |kpa: f64| 0.3 + 0.7 * kpa / tire.nominal_pressure_kpa;
    let from = car.pressure_kpa[end.index()];
    let pressed = (tire.free_diameter_mm / 2.0 - car.loaded_radius_mm[end.index()]).max(0.0);
    let rise = -pressed * (stiffness(from) / stiffness(to) - 1.0);
    let sum = format!("from {} to {} kPa, {} mm pressed in now", whole(from), whole(to), whole(pressed));
    let mut worked = Worked::new(Effect::wheels_at(end, doubted(rise, REL_U, 0.2)), sum);
    worked.pressure_kpa = Some((end, to));
    Ok(worked)
}
