//! An angle as it is typed from a gauge: `2.7`, `-0,4`, `2.7°`, `2°42'`.

use super::Angle;
use super::entry::{EntryError, Mark, marks};
use crate::wording::shown;

/// Largest angle that is read, either way, deg: more than any line of a standing car.
pub const ANGLE_LIMIT_DEG: f64 = 45.0;

const HOW: &str = "Type degrees as the gauge shows them, like 2.7 or -0.4.";

/// An angle as it was typed.
#[derive(Debug, Clone, PartialEq)]
pub struct EnteredAngle {
    /// The angle.
    pub angle: Angle,
    /// The text, untouched.
    pub text: String,
}

/// Reads an angle in degrees, with minutes and seconds where they are written.
///
/// # Errors
/// Anything but one angle within ± [`ANGLE_LIMIT_DEG`]: what is wrong, what to do, and texts to type instead.
pub fn read_angle(text: &str) -> Result<EnteredAngle, EntryError> {
    let marks = marks(text, "an angle", HOW)?;
    let refused = |why: &str| EntryError::new(format!("{} {why}", shown(text)), HOW);
    let (below_zero, rest) = match &marks[..] {
        [Mark::Dash, rest @ ..] => (true, rest),
        [Mark::Plus, rest @ ..] => (false, rest),
        rest => (false, rest),
    };
    let [Mark::Number(degrees), rest @ ..] = rest else {
        return Err(refused("is not an angle."));
    };
    let rest = match rest {
        [Mark::Degree, rest @ ..] => rest,
        [Mark::Word(word), rest @ ..] if matches!(word.as_str(), "deg" | "degree" | "degrees") => rest,
        rest => rest,
    };
    let (minutes, seconds) = match rest {
        [] => (None, None),
        [Mark::Number(minutes), Mark::Prime] => (Some(*minutes), None),
        [Mark::Number(minutes), Mark::Prime, Mark::Number(seconds), Mark::DoublePrime] => {
            (Some(*minutes), Some(*seconds))
        }
        [Mark::Number(_), Mark::Slash, ..] | [Mark::Vulgar(..), ..] | [Mark::Slash, ..] => {
            return Err(refused("has a fraction, and a gauge reads decimals."));
        }
        _ => return Err(refused("is not one angle.")),
    };
    let part = |typed: Option<super::entry::Typed>| typed.map_or(0.0, super::entry::Typed::to_f64);
    if minutes.is_some() && !degrees.is_whole() || seconds.is_some() && !minutes.is_some_and(|m| m.is_whole()) {
        return Err(refused("has decimals before a smaller unit."));
    }
    if part(minutes) >= 60.0 || part(seconds) >= 60.0 {
        return Err(refused("does not add up: minutes and seconds are less than 60."));
    }
    let size_deg = degrees.to_f64() + part(minutes) / 60.0 + part(seconds) / 3600.0;
    if size_deg > ANGLE_LIMIT_DEG {
        let tenth =
            (size_deg / 10.0 <= ANGLE_LIMIT_DEG && degrees.is_whole() && minutes.is_none() && degrees.digits < 100)
                .then(|| format!("{}{}", if below_zero { "-" } else { "" }, size_deg / 10.0));
        return Err(refused("is out of range: an angle here is -45 to 45 deg.").proposing(tenth));
    }
    let deg = if below_zero { -size_deg } else { size_deg };
    Ok(EnteredAngle { angle: Angle::deg(deg + 0.0), text: text.to_owned() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn what_a_gauge_shows_is_read() {
        for (text, deg) in [
            ("2.7", 2.7),
            ("-0,4", -0.4),
            ("\u{2212}0.4", -0.4),
            ("2.7°", 2.7),
            ("2°42'", 2.7),
            ("2° 42′", 2.7),
            ("-0°30'", -0.5),
            ("2°42'36\"", 2.71),
            ("1 deg", 1.0),
            ("+3", 3.0),
            ("45", 45.0),
            ("0", 0.0),
        ] {
            let read = read_angle(text).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert!((read.angle.to_deg() - deg).abs() < 1e-12, "{text}: {}", read.angle.to_deg());
            assert_eq!(read.text, text);
        }
    }

    #[test]
    fn what_is_not_an_angle_is_refused_in_words() {
        for (text, says) in [
            ("", "Nothing is typed yet."),
            ("90", "out of range: an angle here is -45 to 45 deg. Did you mean 9?"),
            ("-46.1", "out of range"),
            ("2 1/2", "has a fraction"),
            ("2½", "has a fraction"),
            ("2°75'", "less than 60"),
            ("2.5°10'", "has decimals before"),
            ("1e9", "is not one angle"),
            ("NaN", "is not an angle"),
            ("--2", "is not an angle"),
            ("2 3", "is not one angle"),
            ("\u{202e}2", "it has the character \\u{202e}"),
        ] {
            let error = read_angle(text).expect_err(text);
            assert!(error.to_string().contains(says), "{text}: {error}");
        }
    }

    proptest! {
        #[test]
        fn printed_degrees_read_back(hundredths in -4500_i32..=4500) {
            let deg = f64::from(hundredths) / 100.0;
            prop_assert!((read_angle(&deg.to_string()).unwrap().angle.to_deg() - deg).abs() < 1e-12);
        }

        #[test]
        fn no_text_panics(text in ".{0,60}") {
            if let Ok(read) = read_angle(&text) {
                prop_assert!(read.angle.to_deg().abs() <= ANGLE_LIMIT_DEG + 1e-12);
            }
        }
    }
}
