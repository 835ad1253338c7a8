//! A string pulled over a piece of ground, and what was read from it down with a rule.

use crate::capture::{Struck, or_default};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// A string from one end of a ground to the other, and the stations under it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct StringLine {
    /// How steeply the string rises the way the car drives in, degrees: 0 with a line level on it; absent: not known, taken as 0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slope_deg: Option<f64>,
    /// Standard uncertainty of it, degrees; absent: 0.2 where the slope is known, 3 where it is not.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slope_u_deg: Option<f64>,
    /// How far it hangs through at its middle, measured, mm; absent: worked out from its mass and pull.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sag_mm: Option<f64>,
    /// Mass of the string, g/m; absent: 1.5, a mason's line.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass_g_per_m: Option<f64>,
    /// Pull on it, N; absent: 50, as one hand pulls it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pull_n: Option<f64>,
    /// Standard uncertainty of one height under the string, mm; absent: 1.5.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_u_mm: Option<f64>,
    /// In the order they are driven over; two at one place make a step.
    #[serde(default, deserialize_with = "or_default")]
    pub stations: Vec<Station>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// One place under the string.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Station {
    /// Along the string from its beginning, mm.
    pub along_mm: f64,
    /// From the string straight down to the ground, mm.
    pub down_mm: f64,
    /// The way as typed.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub along_text: String,
    /// The height as typed.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub text: String,
    /// Unit of both texts, `mm`, `cm` or `in`.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub unit: String,
    /// Set when the person took it back or struck it; it stays in the book.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub struck: Option<Struck>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A braided mason's line [common practice, no source].
const MASS_G_PER_M: f64 = 1.5;
/// Pulled by one hand [common practice, no source].
const PULL_N: f64 = 50.0;
/// What mass and pull leave open of the sag where nothing was measured, relative [common practice, no source].
const SAG_REL_U: f64 = 0.5;
/// Of a sag that was measured, mm [common practice, no source].
const SAG_U_MM: f64 = 1.0;
/// A rule held upright beside a string, one reading, mm [common practice, no source].
const HEIGHT_U_MM: f64 = 1.5;
/// A line level, or an angle gauge on the string's ends, deg [common practice, no source].
const SLOPE_U_DEG: f64 = 0.2;
/// A slope that nobody looked at, deg [common practice, no source].
const UNKNOWN_SLOPE_U_DEG: f64 = 3.0;
/// m/s².
const GRAVITY: f64 = 9.806_65;

impl StringLine {
    /// The stations that count.
    pub fn counting(&self) -> impl Iterator<Item = &Station> {
        self.stations.iter().filter(|station| station.struck.is_none())
    }

    /// From the first to the last station, mm.
    pub fn length_mm(&self) -> f64 {
        let along = || self.counting().map(|station| station.along_mm);
        along().fold(f64::MIN, f64::max).max(0.0) - along().fold(f64::MAX, f64::min).clamp(0.0, 1e9)
    }

    /// How far it hangs through at its middle, mm: value and standard uncertainty.
    ///
    /// A string of weight w a length hangs under a pull T as the parabola w·x·(L − x)/(2T), at its middle w·L²/(8T) (flat cable under
    /// an even load, any handbook of statics).
    ///
    /// ```
    /// use trueground_core::ground::StringLine;
    /// // 6 m of 1.5 g/m under 50 N: 0.01471 N/m · 36 m² / (8 · 50 N) = 1.324 mm.
    /// let text = r#"{"stations": [{"along_mm": 0, "down_mm": 100}, {"along_mm": 6000, "down_mm": 100}]}"#;
    /// let string: StringLine = serde_json::from_str(text)?;
    /// assert!((string.sag_mm().0 - 1.324).abs() < 0.001);
    /// # Ok::<(), serde_json::Error>(())
    /// ```
    pub fn sag_mm(&self) -> (f64, f64) {
        if let Some(measured) = self.sag_mm {
            return (measured, SAG_U_MM);
        }
        let newton_per_m = self.mass_g_per_m.unwrap_or(MASS_G_PER_M) / 1_000.0 * GRAVITY;
        let length_m = self.length_mm() / 1_000.0;
        let sag = newton_per_m * length_m * length_m / (8.0 * self.pull_n.unwrap_or(PULL_N)) * 1_000.0;
        (sag, SAG_REL_U * sag)
    }

    /// Standard uncertainty of one height, mm.
    pub fn height_u_mm(&self) -> f64 {
        self.height_u_mm.unwrap_or(HEIGHT_U_MM)
    }

    /// How steeply it rises, degrees: value and standard uncertainty.
    pub fn slope_deg(&self) -> (f64, f64) {
        let unknown = if self.slope_deg.is_some() { SLOPE_U_DEG } else { UNKNOWN_SLOPE_U_DEG };
        (self.slope_deg.unwrap_or(0.0), self.slope_u_deg.unwrap_or(unknown))
    }
}
