//! Words and numbers as they are shown: short, plain, rounded as drawn.

use crate::wire::TapeUnit;
use trueground_core::capture::{Facing, Snapshot};
use trueground_core::car::PointKind;
use trueground_core::stance::Figure;
use trueground_core::units::{BARE_FROM_KPA, Length};

pub(crate) use trueground_core::wording::day;

/// Whole millimetres, with a true minus sign.
pub(crate) fn whole(value: f64) -> String {
    signed_text(&format!("{:.0}", value.round() + 0.0))
}

/// Degrees with one decimal.
pub(crate) fn degrees(value: f64) -> String {
    let rounded = (value * 10.0).round() / 10.0 + 0.0;
    signed_text(&format!("{rounded:.1}°"))
}

fn signed_text(text: &str) -> String {
    text.replace('-', "\u{2212}")
}

/// ±2u in whole mm, never below 1.
pub(crate) fn band_mm(u: f64) -> f64 {
    (2.0 * u).round().max(1.0)
}

/// ±2u in tenths of a degree, never below 0.1.
pub(crate) fn band_deg(u: f64) -> f64 {
    ((20.0 * u).round() / 10.0).max(0.1)
}

/// "nose-down 1.0°", "nose-up 0.3°", "level"
pub(crate) fn rake(deg: f64) -> String {
    let size = (deg.abs() * 10.0).round() / 10.0;
    if size < 0.05 {
        "level fore and aft".to_owned()
    } else if deg > 0.0 {
        format!("nose-down {size:.1}°")
    } else {
        format!("nose-up {size:.1}°")
    }
}

/// A count in words up to twelve.
pub(crate) fn count(number: usize) -> String {
    const WORDS: [&str; 13] =
        ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"];
    WORDS.get(number).map_or_else(|| number.to_string(), |word| (*word).to_owned())
}

/// "two bounces", "one bounce"
pub(crate) fn counted(number: usize, one: &str, many: &str) -> String {
    format!("{} {}", count(number), if number == 1 { one } else { many })
}

/// With a capital first letter.
pub(crate) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// "Frame rails"
pub(crate) const fn kinds(kind: PointKind) -> &'static str {
    match kind {
        PointKind::FenderLip => "Fender lips",
        PointKind::FrameRail => "Frame rails",
        PointKind::BodySeam => "Body seams",
        PointKind::Rocker => "Rocker edges",
        PointKind::SpringPerch => "Spring perches",
        PointKind::Other => "Marked points",
    }
}

/// A car's name as the first part of a file's name: small letters and digits, "car" where none is left.
pub(crate) fn file_stem(label: &str) -> String {
    let plain: String =
        label.chars().map(|c| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    let words: Vec<&str> = plain.split('-').filter(|word| !word.is_empty()).collect();
    if words.is_empty() { "car".to_owned() } else { words.join("-") }
}

/// A height as a tape of that unit shows it.
pub(crate) fn on_tape(mm: f64, tape: TapeUnit) -> String {
    match tape {
        TapeUnit::In32 => Length::mm(mm).thirty_seconds().text,
        TapeUnit::In | TapeUnit::Mm | TapeUnit::Cm => Length::mm(mm).on_a_tape(crate::fields::unit(tape)),
    }
}

/// A reading as it was read: as the tape shows it, but what stands between its lines is kept, tenths of a millimetre and
/// thirty-seconds of an inch.
pub(crate) fn as_read(mm: f64, tape: TapeUnit) -> String {
    const SAME: f64 = 1e-6;
    let even = |count: f64| (count - count.round()).abs() < SAME;
    match tape {
        TapeUnit::Mm if !even(mm) && even(mm * 10.0) => format!("{mm:.1}"),
        TapeUnit::Cm if !even(mm) && even(mm * 10.0) => format!("{:.2}", mm / 10.0),
        TapeUnit::In if even(mm / 25.4 * 32.0) => on_tape(mm, TapeUnit::In32),
        TapeUnit::In | TapeUnit::In32 | TapeUnit::Mm | TapeUnit::Cm => on_tape(mm, tape),
    }
}

/// A height as a tape of that unit shows it, with the unit.
pub(crate) fn on_tape_with_unit(mm: f64, tape: TapeUnit) -> String {
    format!("{} {}", on_tape(mm, tape), crate::fields::unit(tape))
}

/// A pressure as a field takes it, all digits: bare kPa, with its unit where a bare number would be asked about.
pub(crate) fn typed_pressure(kpa: f64) -> String {
    if kpa < BARE_FROM_KPA { format!("{kpa} kPa") } else { format!("{kpa}") }
}

/// Which way round, in words.
pub(crate) fn facing(snapshot: &Snapshot) -> &'static str {
    match snapshot.facing {
        Facing::A => "as first",
        Facing::B => "turned end for end",
    }
}

/// Value and u, where there are both.
pub(crate) fn known(figure: &Figure) -> Option<(f64, f64)> {
    Some((figure.value?, figure.u?))
}
