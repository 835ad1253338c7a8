//! Longer or shorter shackles: what they do depends on which way they point, so the sketch has to be chosen.
//!
//! Hanging: the spring's eye hangs below the pivot; standing: it stands above it. On parallel leaves the pivot is the frame's and one
//! end of the spring moves: half of the change. On a transverse spring the pivot is the axle's and both ends move, along shackles that
//! stand at about 45 degrees under load [all common practice, no source].

use super::{
    Car, Caution, Effect, End, EventKind, Field, Given, INSTEAD, Kind, Moves, Refusal, Takes, Worked, doubted, layout,
    number, the, whole,
};
use crate::car::SpringKind;

/// [common practice, no source]
const REL_U: f64 = 0.2;
const TRANSVERSE_DEG: f64 = 45.0;

pub(super) const KIND: Kind = Kind {
    code: "shackle",
    words: "other shackles",
    does: "Parallel leaves: half of the change, up where a longer shackle hangs, down where it stands. Transverse: both ends, along the shackle.",
    fields: &[
        Field {
            key: "sketch",
            words: "Which way the shackle points from its pivot to the spring's eye",
            takes: Takes::Choice(&["hanging", "standing"]),
        },
        number("length_change_mm", "How much longer, - is shorter", -150.0, 150.0, "mm"),
        number("angle_deg", "Its lean from upright under load", 0.0, 80.0, "deg"),
    ],
    moves: Moves::Spring,
    side_effects: &[
        "shackle angle: it must not go over",
        "pinion angle or caster: the spring slopes otherwise",
        "spring-to-frame clearance",
    ],
    cautions: &[Caution::SpringsHoldEnergy],
    event: EventKind::Shackles,
    work,
};

fn work(given: &Given, car: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let end = the(end);
    let change = given.required("length_change_mm", INSTEAD)?;
    let Some(sketch) = given.choice("sketch") else {
        let message = format!(
            "sketch is missing in {}: a longer shackle lifts where it hangs and lowers where it stands.",
            given.path
        );
        let hint = "Look at the car: \"hanging\" where the spring's eye hangs below the pivot, \"standing\" where it stands above it.";
        return Err(Refusal::new(message, hint));
    };
    let transverse = match layout(car, end) {
        Some(SpringKind::TransverseLeaf) => true,
        Some(SpringKind::ParallelLeaf) => false,
        Some(_) => {
            let message =
                format!("{}: the {} axle has no leaf spring, so it has no shackles.", given.path, end.words());
            return Err(Refusal::new(message, "Look at the end, or at the springs of the car."));
        }
        None => {
            let message = format!(
                "{}: the car's file does not say whether the {} springs are parallel or transverse.",
                given.path,
                end.words()
            );
            return Err(Refusal::new(message, "Say it on the car's page under springs, or give amount_mm."));
        }
    };
    let lean = given.number("angle_deg").unwrap_or(if transverse { TRANSVERSE_DEG } else { 0.0 });
    let along = change * libm::cos(lean.to_radians());
    // The pivot of a parallel spring's shackle is the frame's, that of a transverse one the axle's: the other way round.
    let up = if (sketch == "hanging") == transverse { -1.0 } else { 1.0 };
    let (ends, words) =
        if transverse { (1.0, "both ends of a transverse spring") } else { (0.5, "one end of the spring, half of it") };
    let rise = doubted(up * ends * along, REL_U, 1.0);
    Ok(Worked::new(Effect::spring_at(end, rise), format!("{} mm of shackle, {sketch}: {words}", whole(change))))
}
