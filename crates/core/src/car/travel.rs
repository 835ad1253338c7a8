//! What an axle's travel has left: frame, bump stop, shackle, shock, hose and track bar, each at rest.

use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

/// Travel of both axles, as measured on the day of the first snapshot, at nominal load.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Travel {
    /// The front axle's.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "AxleTravel::is_empty")]
    pub front: AxleTravel,
    /// The rear axle's.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "AxleTravel::is_empty")]
    pub rear: AxleTravel,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Travel of one axle.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct AxleTravel {
    /// Axle up to the frame or floor above it, iron to iron, 0 to 500 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frame_gap_mm: Option<f64>,
    /// Axle to the bump stop's rubber, 0 to 500 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stop_gap_mm: Option<f64>,
    /// What the rubber gives before it is solid, 0 to 100 mm; absent: 0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stop_gives_mm: Option<f64>,
    /// How far the axle drops from rest until something holds it, 0 to 500 mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub droop_mm: Option<f64>,
    /// The spring's shackle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shackle: Option<Shackle>,
    /// A shock absorber.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shock: Option<Shock>,
    /// The brake hose.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hose: Option<Hose>,
    /// The bar that holds the axle sideways.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub track_bar: Option<TrackBar>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

impl AxleTravel {
    /// True where nothing was measured.
    pub fn is_empty(&self) -> bool {
        *self == Self::default()
    }
}

/// A shackle, and the leaf that swings it: both eyes in line, the leaf a flat arc.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Shackle {
    /// Between its pins, 20 to 300 mm.
    pub length_mm: f64,
    /// From upright, 0 to 90 degrees when it leans the way a longer spring pushes it, below 0 the other way.
    pub angle_deg: f64,
    /// Between the spring's eyes, 200 to 2,500 mm.
    pub spring_length_mm: f64,
    /// Height of the leaf's arc over the line of its eyes, loaded, −150 to 400 mm.
    pub arch_mm: f64,
    /// True for a spring with a shackle at each end, such as a transverse one.
    #[serde(default, deserialize_with = "crate::capture::or_default", skip_serializing_if = "std::ops::Not::not")]
    pub both_ends: bool,
    /// Name of the snapshot beside which it was measured; absent: the first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_in: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A shock absorber, its lower end on the axle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Shock {
    /// Between its pins at rest, 100 to 1,200 mm.
    pub length_mm: f64,
    /// Pushed in, mm.
    pub shortest_mm: f64,
    /// Pulled out, mm.
    pub longest_mm: f64,
    /// Leaning from upright, 0 to 80 degrees; absent: 0.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lean_deg: Option<f64>,
    /// Name of the snapshot beside which it was measured; absent: the first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_in: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A brake hose from frame to axle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct Hose {
    /// The hose laid straight, 50 to 1,500 mm.
    pub length_mm: f64,
    /// Straight from end to end as it hangs at rest, mm.
    pub span_mm: f64,
    /// Name of the snapshot beside which it was measured; absent: the first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measured_in: Option<String>,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// A bar across the car from the frame to the axle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct TrackBar {
    /// Between its ends, 100 to 2,000 mm.
    pub length_mm: f64,
    /// Its axle end above its frame end at rest, mm; absent: level.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rise_mm: Option<f64>,
    /// The side its frame end is on.
    pub frame_end: Side,
    /// Whatever else the file said.
    #[serde(flatten)]
    #[cfg_attr(feature = "ts", ts(skip))]
    pub extra: Map<String, Value>,
}

/// Left or right of the car.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum Side {
    /// The car's left.
    Left,
    /// Its right.
    Right,
}

impl AxleTravel {
    /// Up from rest until iron meets iron or the stop is solid, mm; `None` where neither was measured.
    pub fn bump_mm(&self) -> Option<f64> {
        let stop = self.stop_gap_mm.map(|gap| gap + self.stop_gives_mm.unwrap_or(0.0));
        match (stop, self.frame_gap_mm) {
            (Some(stop), Some(frame)) => Some(stop.min(frame)),
            (stop, frame) => stop.or(frame),
        }
    }
}
