//! Bench sums of a car: each with its numbers, its picture and the form that asks for it.

use super::MechanismWords;
use serde::{Deserialize, Serialize};

/// A sum that is reckoned at the bench.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum BenchSum {
    /// Ratio and turns of the steering.
    SteeringBox,
    /// The wedge for a wanted caster.
    Wedge,
    /// The pedal's ratio, push, pressure and travel.
    Pedal,
    /// What a sectioned radiator keeps.
    Radiator,
    /// Where the weight sits.
    Weight,
}

/// Asks for the bench sums of a car.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SeeBenchSums {
    /// The car.
    pub car: String,
    /// True: lengths are told in inches; else in mm.
    #[serde(default)]
    pub inches: bool,
}

/// Every bench sum of a car, in the order they are listed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BenchSumsView {
    /// The car.
    pub car: String,
    /// One by one, those that nobody typed yet too.
    pub sums: Vec<BenchSumView>,
}

/// One bench sum.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct BenchSumView {
    /// Which.
    pub sum: BenchSum,
    /// "Steering box and turns"
    pub title: String,
    /// What it says; rows without a band have no ±, and a note says why.
    pub words: MechanismWords,
    /// What is drawn; absent where nothing is typed.
    pub picture: Option<BenchPicture>,
}

/// What is drawn of a bench sum: measures as typed and what followed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum BenchPicture {
    /// Both arms from above, straight ahead and at both locks.
    Arms {
        /// mm.
        pitman_mm: f64,
        /// mm.
        arm_mm: f64,
        /// From lock to lock, degrees.
        pitman_sweep_deg: f64,
        /// From lock to lock, degrees.
        wheel_sweep_deg: f64,
    },
    /// A lever hung from its pivot.
    Pedal {
        /// Pivot to the pad, mm.
        pad_mm: f64,
        /// Pivot to the rod, mm.
        rod_mm: f64,
        /// The pad goes that far, mm.
        travel_mm: Option<f64>,
        /// The rod goes that far, mm.
        stroke_mm: Option<f64>,
    },
    /// A shim between spring and axle, from the left: nose left.
    Shim {
        /// Of the seat, mm.
        length_mm: f64,
        /// At its thick end, mm.
        thickness_mm: f64,
        /// True where its rear end is thick.
        thick_rear: bool,
        /// True where the axle hangs below the spring.
        axle_below: bool,
        /// How far the kingpin's top leans back now, degrees.
        caster_deg: f64,
        /// The same as it is wanted, degrees.
        wanted_deg: f64,
    },
    /// A cut through a rod, from the left: nose left.
    Cut {
        /// mm.
        depth_mm: f64,
        /// Taken out where it is widest, mm.
        base_mm: f64,
        /// What it closes by, degrees.
        cut_deg: f64,
        /// True where it closes at the top.
        closes_top: bool,
        /// From the axle, mm; absent: at the axle.
        from_axle_mm: Option<f64>,
        /// Axle to ball, mm; absent: not measured.
        rod_mm: Option<f64>,
        /// How far the kingpin's top leans back now, degrees.
        caster_deg: f64,
        /// The same as it is wanted, degrees.
        wanted_deg: f64,
    },
    /// A radiator's core from the front, before and after.
    Core {
        /// mm.
        height_mm: f64,
        /// mm.
        width_mm: f64,
        /// Taken out of the height, mm.
        sectioned_mm: f64,
        /// What is left of the area, percent.
        left_percent: f64,
    },
    /// The car from above: what scales said, and the middle of its weight.
    Weights {
        /// mm.
        wheelbase_mm: f64,
        /// mm.
        track_front_mm: f64,
        /// mm.
        track_rear_mm: f64,
        /// Front left, front right, rear left, rear right; absent: only the axles were weighed.
        wheels_kg: Option<[f64; 4]>,
        /// Front, rear.
        axles_kg: [f64; 2],
        /// Middle of the weight behind the front axle, mm.
        behind_mm: f64,
        /// Its standard uncertainty, mm.
        behind_u_mm: f64,
        /// Left of the middle plane, mm; absent: not known.
        left_mm: Option<f64>,
        /// Its standard uncertainty, mm.
        left_u_mm: Option<f64>,
    },
}
