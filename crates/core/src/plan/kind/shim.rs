//! Flat shim under a spring's seat, on one side or both: takes lean out; a car's own twist no shim takes out.
//!
//! Both sides: 1 to 1. One side: half of it at that axle, and the body leans by share·gain·thickness/(distance of the springs), the
//! way it follows a cross slope of the floor under that axle.

use super::{
    Car, Caution, Effect, End, EventKind, Field, Given, INSTEAD, Kind, Moves, Refusal, Takes, Worked, doubted, number,
    the, whole,
};

/// Roll shares are known to a fifth [common practice, no source].
const REL_U: f64 = 0.2;

pub(super) const KIND: Kind = Kind {
    code: "shim",
    words: "flat shim",
    does: "Both sides: higher by its thickness. One side: half of it, and the car leans away; takes lean out, never the frame's own twist.",
    fields: &[
        number("thickness_mm", "Thickness, - is one taken out", -50.0, 50.0, "mm"),
        Field { key: "side", words: "On which side", takes: Takes::Choice(&["both", "left", "right"]) },
    ],
    moves: Moves::Spring,
    side_effects: &["wheel loads over the diagonals", "bump travel on that side", "re-torque the U-bolts"],
    cautions: &[Caution::SpringsHoldEnergy],
    event: EventKind::BlocksShims,
    work,
};

fn work(given: &Given, car: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let end = the(end);
    let thick = given.required("thickness_mm", INSTEAD)?;
    let left = match given.choice("side").unwrap_or("both") {
        "left" => 1.0,
        "right" => -1.0,
        _ => {
            return Ok(Worked::new(
                Effect::spring_at(end, doubted(thick, 0.0, 0.5)),
                format!("1 to 1: {} mm", whole(thick)),
            ));
        }
    };
    let springs = car.vehicle.suspension.as_ref().map(|both| if end == End::Front { &both.front } else { &both.rear });
    let track = if end == End::Front { car.vehicle.track_front_mm } else { car.vehicle.track_rear_mm };
    let apart = springs.and_then(|axle| axle.spring_base_mm).unwrap_or(track);
    let share = if end == End::Front { car.roll_share_front } else { 1.0 - car.roll_share_front };
    let mut effect = Effect::spring_at(end, doubted(thick / 2.0, 0.0, 0.5));
    effect.lean = doubted(left * share * car.lean_gain * thick / apart, REL_U, 0.0);
    Ok(Worked::new(
        effect,
        format!(
            "half of {} mm at the axle; {:.0} % of the axle's roll share leans the car",
            whole(thick),
            share * 100.0
        ),
    ))
}
