//! The gearing's page: engine speed over road speed.

use super::MechanismWords;
use serde::{Deserialize, Serialize};

/// Asks for the gearing's page.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SeeGearing {
    /// The car.
    pub car: String,
    /// True: road speeds in miles an hour; else in kilometres an hour.
    #[serde(default)]
    pub miles: bool,
    /// True: lengths are told in inches; else in mm.
    #[serde(default)]
    pub inches: bool,
}

/// The gearing's page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct GearingView {
    /// The car.
    pub car: String,
    /// What it says.
    pub words: MechanismWords,
    /// "km/h" or "mph"
    pub speed_unit: String,
    /// Road speeds of the table, in that unit.
    pub speeds: Vec<f64>,
    /// As the car stands first, then the others beside it; empty where nothing is described.
    pub drives: Vec<DriveTable>,
}

/// One drive.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct DriveTable {
    /// "as it is", "3.54 axle"
    pub label: String,
    /// "4.11 axle, rolling on 736 mm ±15"
    pub detail: String,
    /// Turns of the shaft for one of the wheels.
    pub axle_ratio: f64,
    /// What it rolls on, mm.
    pub rolling_mm: f64,
    /// Its standard uncertainty, mm.
    pub rolling_u_mm: f64,
    /// Across the tire without load, mm, where it is known: not what it rolls on.
    pub across_mm: Option<f64>,
    /// Gear by gear, in the person's order.
    pub gears: Vec<GearLine>,
}

/// One gear of a drive.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct GearLine {
    /// Its name.
    pub gear: String,
    /// Turns of the engine for one of the shaft.
    pub ratio: f64,
    /// Turns of the engine a minute at each speed of the table.
    pub rpm: Vec<f64>,
    /// Standard uncertainty of each.
    pub rpm_u: Vec<f64>,
}
