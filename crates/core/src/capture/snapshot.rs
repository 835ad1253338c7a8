//! One dated measuring of one car on one floor: which way round, what was aboard, and its bounces.

use super::condition::{ConditionPart, LoadChange, Standing};
use super::correction::Correction;
use super::floor::Pass;
use super::or_default;
use super::photo::Photo;
use super::reading::{GaugeReading, Reading};
use crate::corner::{Corner, Corners};
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// One dated measuring of one car on one floor, facing one way.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Snapshot {
    /// Name in files.
    pub id: String,
    /// What the person calls it.
    #[serde(default, deserialize_with = "or_default")]
    pub label: String,
    /// Day, `YYYY-MM-DD`.
    pub date: String,
    /// The floor's name; absent: somewhere that is not levelled.
    #[serde(default)]
    pub floor: Option<String>,
    /// `A` as first, `B` turned end for end.
    #[serde(default, deserialize_with = "or_default")]
    pub facing: Facing,
    /// Which spot each wheel stands on; absent: as the facing says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wheel_on_spot: Option<Corners<String>>,
    /// Each a rolling and bouncing of the car, and every reading after it.
    #[serde(default, deserialize_with = "or_default")]
    pub bounces: Vec<Bounce>,
    /// Kilometres on the clock.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub odometer_km: Option<f64>,
    /// Pressures of that day, kPa, all four or none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tire_pressure_kpa: Option<Corners<f64>>,
    /// True where the pressures were read warm, after a drive; absent: cold. The sums take them as read.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "std::ops::Not::not")]
    pub tires_warm: bool,
    /// Temperature of the air, and so of tires that have stood in it, °C. Where no pressures were read that day, it tells how they have
    /// changed since they were.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_c: Option<f64>,
    /// On its wheels unless said otherwise.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Standing::on_wheels")]
    pub standing: Standing,
    /// What the person confirmed of the condition when the snapshot began; absent: nobody was asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub confirmed: Option<Vec<ConditionPart>>,
    /// What was aboard beside the nominal load, or missing from it.
    #[serde(default, deserialize_with = "or_default")]
    pub load_change_from_nominal: Vec<LoadChange>,
    /// Angle gauge on the car.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub angle_gauge: Vec<GaugeReading>,
    /// Points of the car read from a level plane, one entry a set-up.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub plane_on_car: Vec<Pass>,
    /// Plates under wheels that stood there that day, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plates_mm: Option<Corners<f64>>,
    /// What was corrected after it was finished, oldest first; everything else here is as corrected.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub corrections: Vec<Correction>,
    /// Photos of its sides, in the order they were added; no number hangs on them.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub photos: Vec<Photo>,
    /// Id of the tape that its readings name unless they name another; absent: the file's `instrument`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tape: Option<String>,
    /// Id of the angle gauge, likewise.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gauge: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Which way round the car stands on the spots.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub enum Facing {
    /// As first.
    #[default]
    A,
    /// Turned end for end.
    B,
}

impl Facing {
    /// The corner that stands on a spot, S1 to S4 by the corners of the car as first.
    pub fn corner_on(self, spot: Corner) -> Corner {
        match self {
            Self::A => spot,
            Self::B => Corner::ALL[3 - spot.index()],
        }
    }
}

/// One rolling and bouncing of the car, and every reading after it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Bounce {
    /// Name in files.
    pub bounce_id: String,
    /// In words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub how: Option<String>,
    /// In the order they were taken.
    #[serde(default, deserialize_with = "or_default")]
    pub readings: Vec<Reading>,
}

impl Snapshot {
    /// True where its heights are ride heights; a mock-up's are not.
    pub const fn on_wheels(&self) -> bool {
        self.standing.on_wheels()
    }

    /// True where the person said this part of the condition, or was never asked.
    pub fn says(&self, part: ConditionPart) -> bool {
        self.confirmed.as_ref().is_none_or(|confirmed| confirmed.contains(&part))
    }
}
