//! In words, what one answer says: settled or not, where it comes to rest, which law, and what does not fit.

use crate::table::{plus_minus, whole};
use std::fmt::Write as _;
use trueground_core::trend::{Clock, Law, SettleFigure, Settled, Settling, TooEarly};

/// A few lines.
pub(super) fn words(settling: &Settling) -> String {
    let (Some(rest), Some(remaining)) = (settling.final_height_mm, settling.remaining_mm) else {
        let needed = settling.days_needed.unwrap_or(5);
        return format!("Too early to say: {needed} days of reading are needed at least.\n");
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
        (_, Some(day)) => {
            format!("Still settling; by its curve less than 2 mm to come from about day {}.\n", whole(day))
        }
        (_, None) => "Still settling.\n".to_owned(),
    };
    if let Some(ahead) = settling.ahead.filter(|_| settling.verdict != Settled::TooEarly) {
        let (day, come) = (whole(ahead.until_day), band(ahead.to_come_mm));
        let _ = writeln!(out, "Held against day {day}, two months after the last reading: {come} to come until then.");
    }
    match (settling.horizon_day.map(whole), settling.ahead) {
        (Some(day), Some(_)) => {
            let _ = writeln!(out, "On day {day} it stands at {}; {} to come until then.", band(rest), band(remaining));
            let _ = writeln!(
                out,
                "It {law}{clock}; behind that springs creep on, 0 to 3 mm a year: what the days leave of it is counted in."
            );
        }
        (Some(day), None) => {
            let _ = writeln!(out, "It {law}{clock} at {}; {} to come.", band(rest), band(remaining));
            let _ = writeln!(out, "The logarithm has no end: its rest is taken on day {day}.");
        }
        _ => {
            let _ = writeln!(out, "It {law}{clock} at {}; {} to come.", band(rest), band(remaining));
        }
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
