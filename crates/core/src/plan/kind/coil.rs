//! Coil exchanged: (free length − load/rate) of the other less that of this, times wheel over spring.

use super::{
    Car, Caution, Effect, End, EventKind, Given, INSTEAD, Kind, Moves, Refusal, WHEEL_OVER_SPRING, Worked, doubted,
    number, the, whole,
};

/// [common practice, no source]
const REL_U: f64 = 0.1;

pub(super) const KIND: Kind = Kind {
    code: "coil",
    words: "other coil",
    does: "By the difference of the loaded lengths, free length − load/rate, times wheel over spring.",
    fields: &[
        number("free_length_before_mm", "Free length now", 50.0, 1_500.0, "mm"),
        number("rate_before_n_per_mm", "Rate now", 1.0, 1_000.0, "N/mm"),
        number("free_length_after_mm", "Free length of the other", 50.0, 1_500.0, "mm"),
        number("rate_after_n_per_mm", "Rate of the other", 1.0, 1_000.0, "N/mm"),
        number("load_n", "Load on the spring", 1.0, 50_000.0, "N"),
        WHEEL_OVER_SPRING,
    ],
    moves: Moves::Spring,
    side_effects: &["bump travel", "damper length", "camber and toe", "ride: another rate shifts the roll share"],
    cautions: &[Caution::SpringsHoldEnergy],
    event: EventKind::Coils,
    work,
};

fn work(given: &Given, _: &Car<'_>, end: Option<End>) -> Result<Worked, Refusal> {
    let number = |key| given.required(key, INSTEAD);
    let load = number("load_n")?;
    let before = number("free_length_before_mm")? - load / number("rate_before_n_per_mm")?;
    let after = number("free_length_after_mm")? - load / number("rate_after_n_per_mm")?;
    let ratio = given.number("wheel_over_spring").unwrap_or(1.0);
    let rise = doubted((after - before) * ratio, REL_U, 3.0);
    Ok(Worked::new(
        Effect::spring_at(the(end), rise),
        format!("loaded length {} mm, now {} mm, × {ratio}", whole(after), whole(before)),
    ))
}
