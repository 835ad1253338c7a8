//! In words, what one answer says: settled or not, where it comes to rest, which law, and what does not fit.

use crate::table::{plus_minus, whole};
use std::fmt::Write as _;
use trueground_core::trend::{Clock, Law, SettleFigure, Settled, Settling, TooEarly};

/// A few lines.
pub(super) fn words(settling: &Settling) -> String {
    let (Some(rest), Some(remaining)) = (settling.final_height_mm, settling.remaining_mm) else {
        return "Too early to say: five days of reading are needed at least.\n".to_owned();
    };
    let law = match settling.model {
        Some(Law::Logarithmic) => "slows down without end (logarithm)",
        Some(Law::Both) => "slows down without end (exponential and logarithm)",
        _ => "comes to rest (exponential)",
    };
    let clock = match settling.clock {
        Clock::Days => "",
        Clock::Km => ", counted in kilometres,",
    };
    let band = |figure: SettleFigure| format!("{} ± {} mm", whole(figure.value), plus_minus(figure.u));
    let mut out = match (settling.verdict, settling.settled_on_day) {
        (Settled::TooEarly, _) => too_early(settling),
        (Settled::Settled, Some(day)) => format!("Settled since day {}.\n", whole(day)),
        (_, Some(day)) => format!("Still settling; less than 2 mm to come from about day {}.\n", whole(day)),
        (_, None) => "Still settling.\n".to_owned(),
    };
    let _ = writeln!(out, "It {law}{clock} at {}; {} to come.", band(rest), band(remaining));
    if let Some(horizon) = settling.horizon_day {
        let _ = writeln!(out, "The logarithm has no end: its rest is taken on day {}.", whole(horizon));
    }
    if let Some(other) = settling.other {
        let how = if other.delta_aicc.abs() < 2.0 { "fits as well" } else { "fits less well" };
        let _ = writeln!(out, "The {} {how} (AICc {:+.1}).", name(other.model), other.delta_aicc);
    }
    for height in &settling.doubtful {
        let what = if height.used {
            "is far off the curve. Read that day's snapshot again."
        } else {
            "does not fit the other days and was left out."
        };
        let _ = writeln!(out, "Day {}: {} mm {what}", whole(height.day), whole(height.height_mm));
    }
    out
}

/// As it stands in a sentence.
pub(super) const fn name(law: Law) -> &'static str {
    match law {
        Law::Exponential => "exponential",
        Law::Logarithmic => "logarithm",
        Law::Both => "exponential with a logarithm",
    }
}

fn too_early(settling: &Settling) -> String {
    let why = match settling.lacking.first() {
        Some(TooEarly::ShortStretch) => "the stretch is too short for its law",
        Some(TooEarly::UnsureRest) => "the height at rest is not sure to 10 mm",
        _ => "there are too few days",
    };
    format!("Too early to say: {why}. Measure again in a week or two.\n")
}
