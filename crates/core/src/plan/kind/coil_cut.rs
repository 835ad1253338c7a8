//! Coil cut: turns removed take their loaded pitch away, m·(free pitch − F/(k·n)); the rest is stiffer by n/(n − m).

use super::{
    Car, Caution, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, WHEEL_OVER_SPRING, Worked, doubted,
    number, the, whole,
};

/// [common practice, no source]
const REL_U: f64 = 0.1;

pub(super) const KIND: Kind = Kind {
    code: "coil_cut",
    words: "coil cut",
    does: "Lower by the loaded pitch of what is cut off, m·(free pitch − F/(k·n)), times wheel over spring; stiffer by n/(n − m).",
    fields: &[
        number("turns_removed", "Turns cut off", 0.1, 10.0, ""),
        number("turns", "Working turns before", 1.0, 30.0, ""),
        number("free_length_mm", "Free length of the working turns", 50.0, 1_000.0, "mm"),
        number("rate_n_per_mm", "Rate before", 1.0, 1_000.0, "N/mm"),
        number("load_n", "Load on the spring", 1.0, 50_000.0, "N"),
        WHEEL_OVER_SPRING,
    ],
    moves: Moves::Spring,
    side_effects: &["bump travel", "seat of the cut end", "damper length", "camber and toe"],
    cautions: &[Caution::NeverHeatSprings, Caution::SpringsHoldEnergy],
    event: EventKind::Coils,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let number = |key| given.required(key, INSTEAD);
    let (out, turns, free) = (number("turns_removed")?, number("turns")?, number("free_length_mm")?);
    let (rate, load) = (number("rate_n_per_mm")?, number("load_n")?);
    if out >= turns {
        let message = format!("{}.turns_removed is {out}: the coil has {turns} working turns.", given.path);
        return Err(Refusal::new(message, "Leave some of them."));
    }
    let pitch = free / turns - load / (rate * turns);
    if pitch < 0.0 {
        let message =
            format!("{}: under {load} N this coil of {free} mm would sink {:.0} mm.", given.path, load / rate);
        return Err(Refusal::new(message, "Look at its free length, rate and load."));
    }
    let ratio = given.number("wheel_over_spring").unwrap_or(1.0);
    let rise = doubted(-out * pitch * ratio, REL_U, 2.0);
    let sum = format!("{out} turns × {} mm of loaded pitch × {ratio}", whole(pitch));
    Ok(Worked::new(Effect::spring_at(the(end), rise), sum)
        .with(format!("The coil is {:.0} % stiffer.", (turns / (turns - out) - 1.0) * 100.0)))
}
