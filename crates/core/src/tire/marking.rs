//! The marking on a sidewall, read into what it states.

use super::nearest::nearest_readable;
use super::reader::parse;
use crate::wording::shown;
use serde::Serialize;
use std::fmt;

/// How the cords run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Construction {
    /// `R` in the marking.
    Radial,
    /// A dash or `D`: cords crossed at an angle.
    Diagonal,
    /// `B`: diagonal with a belt.
    BiasBelted,
}

/// The rim a marking asks for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Rim {
    /// Nominal diameter code, in inches.
    Code(f64),
    /// Diameter in mm, as some early and some late rims are.
    Mm(f64),
}

/// What the size part of a marking states.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Size {
    /// `205/55R16`, `155R15`: section width in mm, aspect ratio in % where it is marked.
    Metric { width_mm: f64, aspect: Option<f64>, rim: Rim },
    /// `6.00-16`: section width in inches. A double marking `6.00/6.50-16` has two; one is given twice.
    Numeric { width_in: (f64, f64), rim: Rim, low_section: bool },
    /// `G78-15`: load letter and aspect ratio in %.
    Letter { letter: char, series: f64, rim: Rim },
    /// `31x10.50R15`: outer diameter and section width in inches.
    Flotation { diameter_in: f64, width_in: f64, rim: Rim },
    /// `30x3 1/2`: outer diameter and section in inches, on a rim that is the difference.
    EarlyInch { diameter_in: f64, section_in: f64 },
    /// `880x120`: the same in mm.
    EarlyMetric { diameter_mm: f64, section_mm: f64 },
}

/// A marking that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Marking {
    /// As typed.
    pub text: String,
    /// The size.
    pub size: Size,
    /// How the cords run.
    pub construction: Construction,
    /// What stands behind the size: `91V`, `LT`, `6PR`; nothing follows from it.
    pub service: String,
}

/// A marking that cannot be read.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub struct MarkingError {
    /// The part that was understood; may be empty.
    pub understood: String,
    /// The part that was not; empty where something is missing at the end.
    pub not_understood: String,
    /// What was expected there.
    pub expected: &'static str,
    /// The nearest marking that can be read.
    pub nearest: String,
}

impl MarkingError {
    /// What is wrong with which part.
    pub fn message(&self) -> String {
        let what = match (self.understood.trim().is_empty(), self.not_understood.trim().is_empty()) {
            (true, true) => "Nothing is typed yet".to_owned(),
            (true, false) => format!("{} is not a tire marking", shown(&self.not_understood)),
            (false, true) => format!("{} was understood, but the marking is not finished", shown(&self.understood)),
            (false, false) => {
                format!(
                    "{} was understood, {} was not",
                    shown(self.understood.trim()),
                    shown(self.not_understood.trim())
                )
            }
        };
        format!("{what}: {} was expected.", self.expected)
    }

    /// What to do next.
    pub fn hint(&self) -> String {
        format!("Nearest marking that can be read: {}", self.nearest)
    }
}

impl fmt::Display for MarkingError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}.", self.message(), self.hint())
    }
}

/// Reads a sidewall marking.
///
/// # Errors
/// What was understood, what was not, and the nearest readable marking. Words after the size and its service description
/// are not understood.
pub fn read_marking(text: &str) -> Result<Marking, MarkingError> {
    parse(text).map_err(|stop| {
        let at = stop.at.min(text.chars().count());
        MarkingError {
            understood: text.chars().take(at).collect(),
            not_understood: text.chars().skip(at).collect(),
            expected: stop.expected,
            nearest: nearest_readable(text, at),
        }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use Construction::{BiasBelted, Diagonal, Radial};
    use proptest::prelude::*;

    fn numeric(width: f64, rim: f64) -> Size {
        Size::Numeric { width_in: (width, width), rim: Rim::Code(rim), low_section: false }
    }

    fn metric(width_mm: f64, aspect: Option<f64>, rim: Rim) -> Size {
        Size::Metric { width_mm, aspect, rim }
    }

    #[test]
    fn markings_of_every_era_are_read() {
        for (text, size, construction) in [
            ("30x3 1/2", Size::EarlyInch { diameter_in: 30.0, section_in: 3.5 }, Diagonal),
            ("30 × 3½", Size::EarlyInch { diameter_in: 30.0, section_in: 3.5 }, Diagonal),
            ("32 x 4", Size::EarlyInch { diameter_in: 32.0, section_in: 4.0 }, Diagonal),
            ("880 x 120", Size::EarlyMetric { diameter_mm: 880.0, section_mm: 120.0 }, Diagonal),
            ("6.00-16", numeric(6.0, 16.0), Diagonal),
            ("6,00-16", numeric(6.0, 16.0), Diagonal),
            ("600-16", numeric(6.0, 16.0), Diagonal),
            ("6.00x16", numeric(6.0, 16.0), Diagonal),
            ("600 x 16", numeric(6.0, 16.0), Diagonal),
            ("6.00–16 6PR", numeric(6.0, 16.0), Diagonal),
            ("7.00R16", numeric(7.0, 16.0), Radial),
            ("7.50-16LT 8PR", numeric(7.5, 16.0), Diagonal),
            ("4.75-19", numeric(4.75, 19.0), Diagonal),
            ("6.95-14", numeric(6.95, 14.0), Diagonal),
            ("6.00-15 L", Size::Numeric { width_in: (6.0, 6.0), rim: Rim::Code(15.0), low_section: true }, Diagonal),
            (
                "6.00/6.50-16",
                Size::Numeric { width_in: (6.0, 6.5), rim: Rim::Code(16.0), low_section: false },
                Diagonal,
            ),
            ("165-13/6.45-13", metric(165.0, None, Rim::Code(13.0)), Diagonal),
            ("G78-15", Size::Letter { letter: 'G', series: 78.0, rim: Rim::Code(15.0) }, Diagonal),
            ("GR78-15", Size::Letter { letter: 'G', series: 78.0, rim: Rim::Code(15.0) }, Radial),
            ("l60-15", Size::Letter { letter: 'L', series: 60.0, rim: Rim::Code(15.0) }, Diagonal),
            ("E60x15", Size::Letter { letter: 'E', series: 60.0, rim: Rim::Code(15.0) }, Diagonal),
            ("H78 X 15", Size::Letter { letter: 'H', series: 78.0, rim: Rim::Code(15.0) }, Diagonal),
            ("HR78x15/D", Size::Letter { letter: 'H', series: 78.0, rim: Rim::Code(15.0) }, Radial),
            ("155R15", metric(155.0, None, Rim::Code(15.0)), Radial),
            ("165SR15", metric(165.0, None, Rim::Code(15.0)), Radial),
            ("165 SR 15", metric(165.0, None, Rim::Code(15.0)), Radial),
            ("165-400", metric(165.0, None, Rim::Mm(400.0)), Diagonal),
            ("135x400", metric(135.0, None, Rim::Mm(400.0)), Diagonal),
            ("185R14C 102/100Q", metric(185.0, None, Rim::Code(14.0)), Radial),
            ("205/55 R16 91V", metric(205.0, Some(55.0), Rim::Code(16.0)), Radial),
            ("205/55R16", metric(205.0, Some(55.0), Rim::Code(16.0)), Radial),
            ("205/55ZR16 (91Y)", metric(205.0, Some(55.0), Rim::Code(16.0)), Radial),
            ("P205/75R15", metric(205.0, Some(75.0), Rim::Code(15.0)), Radial),
            ("p205/75 r 15", metric(205.0, Some(75.0), Rim::Code(15.0)), Radial),
            ("LT235/85R16 120/116R", metric(235.0, Some(85.0), Rim::Code(16.0)), Radial),
            ("LT235/75R15/C", metric(235.0, Some(75.0), Rim::Code(15.0)), Radial),
            ("LT235/75R15/C 104/101R", metric(235.0, Some(75.0), Rim::Code(15.0)), Radial),
            ("7.00-15LT/D", numeric(7.0, 15.0), Diagonal),
            ("7.00-15/D 8PR", numeric(7.0, 15.0), Diagonal),
            ("T125/70D15", metric(125.0, Some(70.0), Rim::Code(15.0)), Diagonal),
            ("205/60B15", metric(205.0, Some(60.0), Rim::Code(15.0)), BiasBelted),
            ("220/55R390", metric(220.0, Some(55.0), Rim::Mm(390.0)), Radial),
            ("205/70HR15", metric(205.0, Some(70.0), Rim::Code(15.0)), Radial),
            ("31x10.50R15LT", Size::Flotation { diameter_in: 31.0, width_in: 10.5, rim: Rim::Code(15.0) }, Radial),
            ("31X10.50R15LT/C", Size::Flotation { diameter_in: 31.0, width_in: 10.5, rim: Rim::Code(15.0) }, Radial),
            ("33x12.50-15", Size::Flotation { diameter_in: 33.0, width_in: 12.5, rim: Rim::Code(15.0) }, Diagonal),
        ] {
            let read = read_marking(text).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert_eq!((read.size, read.construction), (size, construction), "{text}");
        }
    }

    #[test]
    fn what_cannot_be_read_says_what_was_understood_and_the_nearest_readable_form() {
        for (text, understood, not_understood, nearest) in [
            ("205/55R16 91V whitewall", "205/55R16 91V ", "whitewall", "205/55R16 91V"),
            ("205/55R", "205/55R", "", "205/55R15"),
            ("205/55R1", "205/55R", "1", "205/55R15"),
            ("205/55", "205/55", "", "205/55R15"),
            ("6.OO-16", "6", ".OO-16", "6.00-16"),
            ("6.0016", "6.00", "16", "6.00-16"),
            ("205/5516", "205/", "5516", "205/55R16"),
            ("20S/55R16", "20", "S/55R16", "205/55R16"),
            ("G7815", "G", "7815", "G78-15"),
            ("banana", "", "banana", "6.00-16"),
            ("", "", "", "6.00-16"),
            ("NaN", "", "NaN", "6.00-16"),
            ("1e9", "1", "e9", "6.00-16"),
            ("-205/55R16", "", "-205/55R16", "205/55R16"),
            ("205/55P16", "205/55", "P16", "205/55R16"),
            ("6.00--16", "6.00-", "-16", "6.00-16"),
            ("6.00-1600", "6.00-", "1600", "6.00-16"),
            ("g78", "g78", "", "G78-15"),
            ("30 x", "30 x", "", "30x3 1/2"),
            ("P205/75", "P205/75", "", "P205/75R15"),
            ("6.70 15", "6.70 ", "15", "6.70-15"),
            ("6.70  15", "6.70  ", "15", "6.70-15"),
            ("205/55 16", "205/55 ", "16", "205/55 R16"),
            ("G78 15", "G78 ", "15", "G78-15"),
            ("205/55R99", "205/55R", "99", "205/55R15"),
            ("6.70-15/CC", "6.70-15/", "CC", "6.70-15/C"),
            ("12.4/11-28", "12.4/", "11-28", "6.00-16"),
        ] {
            let error = read_marking(text).expect_err(text);
            assert_eq!(
                (error.understood.as_str(), error.not_understood.as_str()),
                (understood, not_understood),
                "{text}"
            );
            assert_eq!(error.nearest, nearest, "{text}");
            assert!(read_marking(&error.nearest).is_ok(), "{text}");
        }
        let error = read_marking("205/55R16 91V whitewall").unwrap_err();
        assert_eq!(
            error.to_string(),
            "205/55R16 91V was understood, whitewall was not: nothing more than a service description such as 91V was \
             expected. Nearest marking that can be read: 205/55R16 91V."
        );
    }

    #[test]
    fn ten_thousand_characters_are_refused_in_a_short_message() {
        let error = read_marking(&"205/55R16".repeat(1200)).unwrap_err();
        assert!(error.to_string().len() < 400, "{error}");
    }

    proptest! {
        #[test]
        fn no_text_panics_and_the_nearest_form_reads(text in prop_oneof![".{0,50}", "[0-9A-Za-z ./×x()-]{0,44}"]) {
            if let Err(error) = read_marking(&text) {
                prop_assert!(read_marking(&error.nearest).is_ok(), "{}", error.nearest);
                prop_assert!(!error.nearest.contains(" -") && error.nearest.trim() == error.nearest, "{}", error.nearest);
                prop_assert_eq!(format!("{}{}", error.understood, error.not_understood), text);
            }
        }
    }
}
