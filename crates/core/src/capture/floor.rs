//! A place to stand: its four spots and how they were levelled.

use super::reading::Struck;
use super::{mm, or_default};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeSet;

/// A place to stand, with its own four spots.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Floor {
    /// Name in files.
    pub id: String,
    /// What the person calls it.
    #[serde(default, deserialize_with = "or_default")]
    pub label: String,
    /// Its levelling; absent: not levelled.
    #[serde(default)]
    pub survey: Option<Survey>,
    /// "Flat to about ± n": the person's own statement, a standard uncertainty of a spot against the plane, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flat_to_mm: Option<f64>,
    /// Where its spots lie, if another car marked them out; absent: under this car's wheels.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub footprint: Option<Footprint>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

impl Floor {
    /// True where anything of its four spots was levelled: by a staff reading or under a straightedge's end.
    pub fn levelled(&self) -> bool {
        self.survey.as_ref().is_some_and(|survey| survey.spots_read() > 0)
    }

    /// True where all four were, so that the floor's twist is read and not supposed.
    pub fn all_spots_levelled(&self) -> bool {
        self.survey.as_ref().is_some_and(|survey| survey.spots_read() == 4)
    }
}

/// Where four spots lie: S1 and S2 abreast, S3 and S4 behind them. Another car stands on them with its front axle over S1 and
/// S2, in the middle.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Footprint {
    /// From S1 and S2 back to S3 and S4, 500 to 10,000 mm.
    pub wheelbase_mm: f64,
    /// From S1 to S2, 300 to 4,000 mm.
    pub track_front_mm: f64,
    /// From S3 to S4, 300 to 4,000 mm.
    pub track_rear_mm: f64,
}

impl Footprint {
    /// Place of a spot on the floor's axes: behind S1 and S2 negative, left positive.
    pub fn spot(&self, number: usize) -> (f64, f64) {
        let (along, track) =
            if number < 2 { (0.0, self.track_front_mm) } else { (-self.wheelbase_mm, self.track_rear_mm) };
        (along, if number.is_multiple_of(2) { track / 2.0 } else { -track / 2.0 })
    }
}

/// A levelling of a floor's spots.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Survey {
    /// In words: "water level", "laser line and rule".
    #[serde(default, deserialize_with = "or_default")]
    pub method: String,
    /// Standard uncertainty of one staff reading, mm.
    #[serde(default = "default_staff_u_mm")]
    pub staff_u_mm: f64,
    /// Each pass has its own level plane.
    #[serde(default, deserialize_with = "or_default")]
    pub passes: Vec<Pass>,
    /// Straightedge with an angle gauge across two spots.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub straightedge: Vec<StraightedgeReading>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

const fn default_staff_u_mm() -> f64 {
    1.0
}

impl Survey {
    /// How many of the four spots a level plane or a straightedge was read at; 0 is a floor that is not levelled.
    pub fn spots_read(&self) -> usize {
        let staffs = self.passes.iter().flat_map(|pass| &pass.readings).filter(|reading| reading.struck.is_none());
        let lines = self.straightedge.iter().filter(|edge| edge.struck.is_none());
        let ends = lines.flat_map(|edge| [edge.from.as_str(), edge.to.as_str()]);
        let read: BTreeSet<&str> = staffs.map(|reading| reading.point.as_str()).chain(ends).collect();
        ["S1", "S2", "S3", "S4"].iter().filter(|spot| read.contains(*spot)).count()
    }
}

/// One levelling of the spots from one level plane.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Pass {
    /// 1, 2, …
    pub pass_no: u32,
    /// Distances from the level plane down.
    pub readings: Vec<StaffReading>,
    /// With readings on the car: the bounce that came before; absent: the last.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bounce_id: Option<String>,
    /// How this pass was levelled, in words; absent: as the survey says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<String>,
    /// Standard uncertainty of one reading of this pass, mm; absent: the survey's, or 1 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub staff_u_mm: Option<f64>,
    /// Id of the tape or rule it was read with, which its rounding is taken from; absent: one with 1 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
}

/// From the level plane down to a point: larger is lower.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct StaffReading {
    /// `S1` to `S4`, `under:` and a point's name, or `on:` and a point's name for a reading on the car itself.
    pub point: String,
    /// As entered.
    #[serde(default, deserialize_with = "or_default")]
    pub text: String,
    /// Unit of the text, `mm` or `in`.
    #[serde(default = "mm")]
    pub unit: String,
    /// The same in mm.
    pub value_mm: f64,
    /// Set when the person struck it; it stays in the book.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub struck: Option<Struck>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// An angle gauge on a straightedge from one spot to another.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct StraightedgeReading {
    /// Spot at one end, `S1` to `S4`.
    pub from: String,
    /// Spot at the other end.
    pub to: String,
    /// Positive when `from` is higher, degrees, already turned into this sense.
    pub angle_deg: f64,
    /// The gauge turned end for end.
    #[serde(default, deserialize_with = "or_default")]
    pub reversed: bool,
    /// As entered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// Standard uncertainty of one reading, degrees; absent [`STRAIGHTEDGE_U_DEG`].
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_deg: Option<f64>,
    /// Set when the person struck it; it stays in the book.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub struck: Option<Struck>,
    /// Id of the angle gauge; absent: one that nothing is known of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instrument: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Angle gauge on a straightedge, one reading, deg; common practice, no source.
pub const STRAIGHTEDGE_U_DEG: f64 = 0.1;
