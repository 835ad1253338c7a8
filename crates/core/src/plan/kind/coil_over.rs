//! Coil-over turned: thread pitch × turns × wheel over spring.

use super::{
    Car, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, WHEEL_OVER_SPRING, Worked, doubted, number, the,
};

pub(super) const KIND: Kind = Kind {
    code: "coil_over",
    words: "coil-over turned",
    does: "By thread pitch × turns × wheel over spring; + lifts.",
    fields: &[
        number("turns", "Turns, + lifts", -100.0, 100.0, ""),
        number("pitch_mm", "Pitch of the thread", 0.5, 6.0, "mm"),
        WHEEL_OVER_SPRING,
    ],
    moves: Moves::Spring,
    side_effects: &["bump travel", "damper travel left both ways", "camber and toe"],
    cautions: &[],
    event: EventKind::Coils,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let (turns, pitch) = (given.required("turns", INSTEAD)?, given.required("pitch_mm", INSTEAD)?);
    let ratio = given.number("wheel_over_spring").unwrap_or(1.0);
    Ok(Worked::new(
        Effect::spring_at(the(end), doubted(turns * pitch * ratio, 0.05, 0.5)),
        format!("{turns} turns × {pitch} mm × {ratio}"),
    ))
}
