//! What was observed: floors and their levelling, snapshots with bounces and readings, and the instruments.
//!
//! These types are the exchange file (version 1), the rows of the store, and the wire to the interface at once. A key
//! that is not known here is kept in `extra` and written back.

use crate::car::Vehicle;
use crate::corner::Corners;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};
use std::collections::BTreeSet;

/// One car with all that was measured on it: the exchange file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct CarFile {
    /// The car.
    pub vehicle: Vehicle,
    /// Where it was measured.
    #[serde(default, deserialize_with = "or_default")]
    pub floors: Vec<Floor>,
    /// When and how it was measured.
    #[serde(default, deserialize_with = "or_default")]
    pub snapshots: Vec<Snapshot>,
    /// The tape and how well it repeats.
    #[serde(default, deserialize_with = "or_default")]
    pub instrument: Instrument,
    /// Dated work on the car.
    #[serde(default, deserialize_with = "or_default", skip_serializing_if = "Vec::is_empty")]
    pub events: Vec<Event>,
    /// Whatever else the file said: target, changes, ground and what later versions add.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

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
        let ends = self.straightedge.iter().flat_map(|edge| [edge.from.as_str(), edge.to.as_str()]);
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
    /// Standard uncertainty of one reading of this pass, mm; absent: the survey's, or 1 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub staff_u_mm: Option<f64>,
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

fn mm() -> String {
    "mm".to_owned()
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
    /// Standard uncertainty of one reading, degrees; absent 0.1.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_deg: Option<f64>,
}

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

/// One tape value as entered: height above the floor straight below the point.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Reading {
    /// A reference point's name, or `hub.` and a corner.
    #[serde(rename = "ref")]
    pub point: String,
    /// Which round: 1, 2, …
    #[serde(default = "first")]
    pub repeat: u32,
    /// As entered.
    #[serde(default, deserialize_with = "or_default")]
    pub text: String,
    /// Unit of the text, `mm`, `cm` or `in`.
    #[serde(default = "mm")]
    pub unit: String,
    /// The same in mm.
    pub value_mm: f64,
    /// When, `YYYY-MM-DDTHH:MM:SS+HH:MM`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub taken_at: Option<String>,
    /// Set when the person struck it; it stays in the book and takes no part.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub struck: Option<Struck>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

const fn first() -> u32 {
    1
}

/// Why and when a reading was struck.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Struck {
    /// The person's reason.
    pub reason: String,
    /// When.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
}

/// Mass aboard beside the nominal load (or, negative, missing from it).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LoadChange {
    /// In words.
    #[serde(default, deserialize_with = "or_default")]
    pub label: String,
    /// kg.
    pub mass_kg: f64,
    /// Ahead of the front axle, mm.
    pub x_mm: f64,
    /// Left of the centre plane, mm.
    #[serde(default, deserialize_with = "or_default")]
    pub y_mm: f64,
}

/// An angle gauge laid on the car.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct GaugeReading {
    /// The bounce it belongs to.
    pub bounce_id: String,
    /// `frame_rail_left`, `frame_rail_right` (positive nose-down); `frame_front`, `frame_rear` across the frame (positive left higher).
    #[serde(rename = "where")]
    pub place: String,
    /// The gauge turned end for end.
    #[serde(default, deserialize_with = "or_default")]
    pub reversed: bool,
    /// Already turned into the car's sense, degrees.
    pub angle_deg: f64,
    /// As entered.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// Standard uncertainty of one reading, degrees; absent 0.07.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub u_deg: Option<f64>,
    /// Set when the person struck it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub struck: Option<Struck>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Dated work on the car.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Event {
    /// Day, `YYYY-MM-DD`.
    pub date: String,
    /// Kilometres on the clock.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub odometer_km: Option<f64>,
    /// In words.
    pub what: String,
    /// True where springs start settling anew.
    #[serde(default, deserialize_with = "or_default")]
    pub resets_settling: bool,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// The tape, and how well readings and bounces repeat.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Instrument {
    /// The tape's division.
    #[serde(default, deserialize_with = "or_default")]
    pub tape: Tape,
    /// Standard uncertainty of one tape reading without its rounding, mm.
    #[serde(default = "default_tape_reading_u_mm")]
    pub tape_reading_u_mm: f64,
    /// Standard uncertainty of one bounce at a spring, mm.
    #[serde(default = "default_bounce_repeat_u_mm")]
    pub bounce_repeat_u_mm: f64,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// What is absent and what is `null` are the same: not said.
pub(crate) fn or_default<'de, D, T>(from: D) -> Result<T, D::Error>
where
    D: serde::Deserializer<'de>,
    T: Default + Deserialize<'de>,
{
    Ok(Option::<T>::deserialize(from)?.unwrap_or_default())
}

/// Steel tape at a marked point with a plumb line; common practice, no source.
const fn default_tape_reading_u_mm() -> f64 {
    1.2
}

/// Bounced three times and left to rest; common practice, no source.
const fn default_bounce_repeat_u_mm() -> f64 {
    1.6
}

impl Instrument {
    /// Standard uncertainty of one tape reading with its rounding to the tape's division, mm: √(u² + division²/12).
    pub fn reading_u_mm(&self) -> f64 {
        with_rounding_mm(self.tape_reading_u_mm, self.tape.division_mm())
    }
}

/// A reading's own standard uncertainty with that of its rounding to a division, mm (JCGM 100:2008, 4.3.7).
pub(crate) fn with_rounding_mm(u_mm: f64, division_mm: f64) -> f64 {
    (u_mm.powi(2) + division_mm * division_mm / 12.0).sqrt()
}

impl Default for Instrument {
    fn default() -> Self {
        Self {
            tape: Tape::default(),
            tape_reading_u_mm: default_tape_reading_u_mm(),
            bounce_repeat_u_mm: default_bounce_repeat_u_mm(),
            extra: Map::new(),
        }
    }
}

/// A tape's division: `{"unit":"in","den":16}` or `{"unit":"mm","step_mm":1}`.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Tape {
    /// `in`, `mm` or `cm`.
    #[serde(default = "mm")]
    pub unit: String,
    /// Parts of an inch, on an inch tape.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub den: Option<u32>,
    /// Division of a metric tape, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step_mm: Option<f64>,
}

impl Default for Tape {
    fn default() -> Self {
        Self { unit: mm(), den: None, step_mm: Some(1.0) }
    }
}

impl Tape {
    /// Length of one division, mm.
    pub fn division_mm(&self) -> f64 {
        match (self.unit.as_str(), self.den, self.step_mm) {
            ("in", Some(parts), _) if parts > 0 => 25.4 / f64::from(parts),
            ("in", _, None) => 25.4 / 16.0,
            (_, _, Some(step)) => step,
            _ => 1.0,
        }
    }
}
