//! Temperatures of the air as people write them: degrees Celsius or Fahrenheit.

use std::ops::RangeInclusive;

/// Air in which a car is measured, °C.
pub const AIR_C: RangeInclusive<f64> = -50.0..=60.0;

/// What a thermometer is divided in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum TemperatureUnit {
    /// Degrees Celsius.
    #[default]
    C,
    /// Degrees Fahrenheit.
    F,
}

/// Reads a temperature, °C; a bare number is in the thermometer's unit. `None` where it is no number or has another unit.
///
/// # Source
/// t(°C) = (t(°F) − 32)/1.8, exact by definition (NIST SP 811, appendix B.9).
pub fn read_temperature(text: &str, thermometer: TemperatureUnit) -> Option<f64> {
    let plain: String = text.chars().filter(|c| !c.is_whitespace() && *c != '°' && *c != '\u{ba}').collect();
    let plain = plain.replace(',', ".").replace('\u{2212}', "-").to_lowercase();
    let (number, unit) = match plain.strip_suffix(['c', 'f']) {
        Some(number) if plain.ends_with('c') => (number, TemperatureUnit::C),
        Some(number) => (number, TemperatureUnit::F),
        None => (plain.as_str(), thermometer),
    };
    let is_plain = number.chars().all(|c| c.is_ascii_digit() || ".+-".contains(c));
    let read = number.parse::<f64>().ok().filter(|_| is_plain)?;
    Some(if unit == TemperatureUnit::F { (read - 32.0) / 1.8 } else { read })
}

#[cfg(test)]
mod tests {
    use super::TemperatureUnit::{C, F};
    use super::*;

    /// Freezing and boiling water, and where both scales meet.
    #[test]
    fn both_scales_are_read_with_or_without_their_sign() {
        for (text, unit, expected) in [
            ("18", C, 18.0),
            ("18 °C", F, 18.0),
            ("-4,5", C, -4.5),
            ("\u{2212}40 F", C, -40.0),
            ("32", F, 0.0),
            ("212 °F", C, 100.0),
        ] {
            let read = read_temperature(text, unit).expect(text);
            assert!((read - expected).abs() < 1e-9, "{text}: {read}");
        }
        for text in ["", "warm", "18 K", "inf", "nan", "1e3", "--5"] {
            assert_eq!(read_temperature(text, C), None, "{text}");
        }
    }
}
