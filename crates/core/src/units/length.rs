//! A length, in millimetres inside, and how it is printed.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::ops::{Add, Neg, Sub};

/// Millimetres in one inch, exact by definition (international yard, 1959).
pub const MM_PER_INCH: f64 = 25.4;

/// What a tape is divided in. A bare number is in this unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum LengthUnit {
    /// Millimetres.
    Mm,
    /// Centimetres.
    Cm,
    /// Inches.
    In,
}

impl LengthUnit {
    /// Millimetres in one of this unit.
    pub fn to_mm(self) -> f64 {
        match self {
            Self::Mm => 1.0,
            Self::Cm => 10.0,
            Self::In => MM_PER_INCH,
        }
    }
}

impl fmt::Display for LengthUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Mm => "mm",
            Self::Cm => "cm",
            Self::In => "in",
        })
    }
}

/// A length, kept in millimetres.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
pub struct Length {
    mm: f64,
}

/// A length printed in inches and parts of an inch.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InchText {
    /// Whole inches and a reduced fraction: `27 5/8`, `3/16`, `0`, `-1 1/2`.
    pub text: String,
    /// The length does not lie on such a part: the text is the nearest one.
    pub rounded: bool,
}

impl Length {
    /// From millimetres.
    pub const fn mm(mm: f64) -> Self {
        Self { mm }
    }

    /// From inches.
    pub fn inches(inches: f64) -> Self {
        Self { mm: inches * MM_PER_INCH }
    }

    /// In millimetres.
    pub const fn to_mm(self) -> f64 {
        self.mm
    }

    /// In inches.
    pub fn to_inches(self) -> f64 {
        self.mm / MM_PER_INCH
    }

    /// To the nearest whole millimetre, half away from zero: `600`, `-3`.
    pub fn whole_mm(self) -> String {
        // Adding zero turns a rounded -0.4 into 0, not -0.
        format!("{:.0}", self.mm.round() + 0.0)
    }

    /// To the nearest sixteenth of an inch, half away from zero.
    pub fn sixteenths(self) -> InchText {
        self.parts_of_an_inch(16)
    }

    /// To the nearest thirty-second of an inch, half away from zero.
    pub fn thirty_seconds(self) -> InchText {
        self.parts_of_an_inch(32)
    }

    fn parts_of_an_inch(self, parts: u32) -> InchText {
        let exact = self.mm / MM_PER_INCH * f64::from(parts);
        if !exact.is_finite() || exact.abs() > 1e15 {
            return InchText { text: "beyond any tape".to_owned(), rounded: true };
        }
        let nearest = exact.round();
        let rounded = (exact - nearest).abs() * MM_PER_INCH / f64::from(parts) > 1e-6;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "checked against 1e15 above")]
        let count = nearest.abs() as u64;
        let sign = if nearest < 0.0 { "-" } else { "" };
        InchText { text: format!("{sign}{}", super::Fraction::new(count, u64::from(parts))), rounded }
    }

    /// As a tape of that unit shows it: whole mm, cm to the millimetre, inches to the sixteenth.
    pub fn on_a_tape(self, unit: LengthUnit) -> String {
        match unit {
            LengthUnit::Mm => self.whole_mm(),
            LengthUnit::Cm => format!("{:.1}", self.mm.round() / 10.0 + 0.0),
            LengthUnit::In => self.sixteenths().text,
        }
    }
}

impl Neg for Length {
    type Output = Self;
    fn neg(self) -> Self {
        Self { mm: -self.mm }
    }
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { mm: self.mm + other.mm }
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self { mm: self.mm - other.mm }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn inches_print_as_whole_and_reduced_fraction_and_say_when_rounded() {
        for (mm, text, rounded) in [
            (701.675, "27 5/8", false), // 27.625 in exactly
            (600.0, "23 5/8", true),    // 23.622 in
            (4.7625, "3/16", false),
            (25.4, "1", false),
            (0.0, "0", false),
            (-38.1, "-1 1/2", false),
            (-0.2, "0", true),
            (25.3, "1", true),
        ] {
            assert_eq!(Length::mm(mm).sixteenths(), InchText { text: text.to_owned(), rounded }, "{mm} mm");
        }
    }

    #[test]
    fn thirty_seconds_print_reduced() {
        // 10 15/32 in = 265.90625 mm; 266 mm = 10.4724 in lies 3.5/1000 in above it.
        for (mm, text, rounded) in [(265.906_25, "10 15/32", false), (266.0, "10 15/32", true), (12.7, "1/2", false)] {
            assert_eq!(Length::mm(mm).thirty_seconds(), InchText { text: text.to_owned(), rounded }, "{mm} mm");
        }
    }

    #[test]
    fn millimetres_print_whole_and_never_minus_zero() {
        assert_eq!(Length::mm(599.5).whole_mm(), "600");
        assert_eq!(Length::mm(-0.4).whole_mm(), "0");
        assert_eq!(Length::mm(137.2).on_a_tape(LengthUnit::Cm), "13.7");
        assert_eq!(Length::mm(f64::NAN).sixteenths().text, "beyond any tape");
    }
}
