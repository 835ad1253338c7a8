//! A tire pressure above the air around it, in kPa inside, and how it is typed: `210`, `32 psi`, `2,2 bar`.

use super::entry::{EntryError, Mark, marks};
use crate::wording::shown;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Kilopascals in one pound-force per square inch [NIST SP 811, appendix B.8: 6.894 757 E+00].
pub const KPA_PER_PSI: f64 = 6.894_757;

/// Tire pressures that are read, kPa: below lies no pressure a car stands on, above no tire of one [common practice, no source].
pub const PRESSURE_RANGE_KPA: std::ops::RangeInclusive<f64> = 30.0..=1000.0;

/// A bare number of kPa below this is psi typed by habit, far likelier than a tire so soft [common practice, no source].
pub const BARE_FROM_KPA: f64 = 70.0;

/// What a gauge is divided in. A bare number is in this unit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum PressureUnit {
    /// Kilopascals.
    Kpa,
    /// Pounds per square inch.
    Psi,
    /// Bar, 100 kPa.
    Bar,
}

impl PressureUnit {
    fn to_kpa(self) -> f64 {
        match self {
            Self::Kpa => 1.0,
            Self::Psi => KPA_PER_PSI,
            Self::Bar => 100.0,
        }
    }
}

impl fmt::Display for PressureUnit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Kpa => "kPa",
            Self::Psi => "psi",
            Self::Bar => "bar",
        })
    }
}

/// A gauge pressure, kept in kPa.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub struct Pressure {
    kpa: f64,
}

impl Pressure {
    /// From kPa.
    pub const fn kpa(kpa: f64) -> Self {
        Self { kpa }
    }

    /// In kPa.
    pub const fn to_kpa(self) -> f64 {
        self.kpa
    }

    /// In pounds per square inch.
    pub fn to_psi(self) -> f64 {
        self.kpa / KPA_PER_PSI
    }

    /// In bar.
    pub fn to_bar(self) -> f64 {
        self.kpa / 100.0
    }

    /// As a gauge of that unit shows it: whole kPa or psi, bar to the tenth.
    pub fn on_a_gauge(self, unit: PressureUnit) -> String {
        match unit {
            PressureUnit::Kpa => format!("{:.0}", self.kpa),
            PressureUnit::Psi => format!("{:.0}", self.to_psi()),
            PressureUnit::Bar => format!("{:.1}", self.to_bar()),
        }
    }
}

/// A pressure as it was typed.
#[derive(Debug, Clone, PartialEq)]
pub struct EnteredPressure {
    /// The pressure.
    pub pressure: Pressure,
    /// The unit it was typed in: the gauge's, unless one was written.
    pub unit: PressureUnit,
    /// The text, untouched.
    pub text: String,
}

/// Reads a tire pressure; a bare number is in `gauge_unit`.
///
/// # Errors
/// Anything but one pressure in [`PRESSURE_RANGE_KPA`], or a number without its unit below [`BARE_FROM_KPA`]: what is wrong, what to do, and texts to type instead.
pub fn read_pressure(text: &str, gauge_unit: PressureUnit) -> Result<EnteredPressure, EntryError> {
    let how = match gauge_unit {
        PressureUnit::Kpa => "Type it as the gauge reads, like 210.",
        PressureUnit::Psi => "Type it as the gauge reads, like 30.",
        PressureUnit::Bar => "Type it as the gauge reads, like 2.1.",
    };
    let marks = marks(text, "a pressure", how)?;
    let refused = |why: &str| EntryError::new(format!("{} {why}", shown(text)), how);
    let bare = matches!(&marks[..], [Mark::Number(_)]);
    let (number, unit) = match &marks[..] {
        [Mark::Dash, ..] => return Err(refused("is below zero: no tire carries a car so.")),
        [Mark::Number(number)] => (*number, gauge_unit),
        [Mark::Number(number), Mark::Word(word)] => match word.as_str() {
            "kpa" => (*number, PressureUnit::Kpa),
            "psi" | "lb" | "lbs" => (*number, PressureUnit::Psi),
            "bar" => (*number, PressureUnit::Bar),
            _ => {
                let message = format!("{} is not a pressure: {word} is no unit of a gauge.", shown(text));
                return Err(EntryError::new(message, "The units are kPa, psi and bar."));
            }
        },
        _ => return Err(refused("is not one pressure.")),
    };
    let size = number.to_f64();
    let kpa = size * unit.to_kpa();
    if !PRESSURE_RANGE_KPA.contains(&kpa) {
        let others = [PressureUnit::Psi, PressureUnit::Bar, PressureUnit::Kpa]
            .into_iter()
            .filter(|other| *other != unit && PRESSURE_RANGE_KPA.contains(&(size * other.to_kpa())))
            .map(|other| format!("{number} {other}"));
        let (low, high) = (Pressure::kpa(*PRESSURE_RANGE_KPA.start()), Pressure::kpa(*PRESSURE_RANGE_KPA.end()));
        let range =
            format!("is out of range: a tire has {} to {} {unit}.", low.on_a_gauge(unit), high.on_a_gauge(unit));
        return Err(refused(&range).proposing(others));
    }
    if bare && unit == PressureUnit::Kpa && kpa < BARE_FROM_KPA {
        let message = format!("{} would be {number} kPa: a nearly flat tire.", shown(text));
        let proposals = [PressureUnit::Psi, PressureUnit::Kpa].map(|unit| format!("{number} {unit}"));
        return Err(EntryError::new(message, "Type the unit with it.").proposing(proposals));
    }
    Ok(EnteredPressure { pressure: Pressure::kpa(kpa), unit, text: text.to_owned() })
}

#[cfg(test)]
mod tests {
    use super::*;
    use PressureUnit::{Bar, Kpa, Psi};

    #[test]
    fn what_a_gauge_shows_is_read() {
        // 30 psi = 206.84271 kPa by NIST SP 811.
        for (text, gauge, kpa, unit) in [
            ("210", Kpa, 210.0, Kpa),
            ("30", Psi, 206.842_71, Psi),
            ("30 psi", Kpa, 206.842_71, Psi),
            ("2,2 bar", Psi, 220.0, Bar),
            ("2.2", Bar, 220.0, Bar),
            ("70", Kpa, 70.0, Kpa),
            ("32 kPa", Kpa, 32.0, Kpa),
            ("10", Psi, 68.947_57, Psi),
        ] {
            let read = read_pressure(text, gauge).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert!((read.pressure.to_kpa() - kpa).abs() < 1e-9, "{text}");
            assert_eq!((read.unit, read.text.as_str()), (unit, text));
        }
    }

    #[test]
    fn what_is_no_pressure_is_refused_in_words() {
        for (text, gauge, says, proposals) in [
            ("2.2", Kpa, "a tire has 30 to 1000 kPa", &["2.2 bar"][..]),
            ("210", Psi, "a tire has 4 to 145 psi", &["210 kPa"]),
            ("28", Kpa, "out of range", &["28 psi"]),
            ("32", Kpa, "kPa: a nearly flat tire", &["32 psi", "32 kPa"]),
            ("69.5", Kpa, "kPa: a nearly flat tire", &["69.5 psi", "69.5 kPa"]),
            ("0", Kpa, "out of range", &[]),
            ("-30", Psi, "below zero", &[]),
            ("30 m", Psi, "m is no unit of a gauge", &[]),
            ("1e9", Kpa, "is not one pressure", &[]),
            ("NaN", Kpa, "is not one pressure", &[]),
            ("", Bar, "Nothing is typed yet. Type it as the gauge reads, like 2.1.", &[]),
        ] {
            let error = read_pressure(text, gauge).expect_err(text);
            assert!(error.to_string().contains(says), "{text}: {error}");
            assert_eq!(error.proposals, proposals, "{text}");
        }
    }
}
