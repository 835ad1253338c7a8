//! The driveline's page: joints, what the shaft does over the travel, and what wants to stand level.

use super::{MechanismWords, SideLine, SidePoint, StanceChoice, StanceChoices};
use serde::{Deserialize, Serialize};

/// The driveline's page.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct DrivelineView {
    /// The car.
    pub car: String,
    /// What it says.
    pub words: MechanismWords,
    /// Stances that can be chosen.
    pub choices: StanceChoices,
    /// The one that is shown; absent before the first snapshot.
    pub stance: Option<StanceChoice>,
    /// True where it was not measured: predicted.
    pub predicted: bool,
    /// The picture; absent where no shaft is described.
    pub picture: Option<DrivelinePicture>,
    /// At droop, at rest and at bump; empty where no shaft is described.
    pub table: Vec<ShaftRow>,
}

/// The shaft from the side, slopes as they are.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct DrivelinePicture {
    /// Joints and the axle.
    pub points: Vec<SidePoint>,
    /// Transmission, shaft and pinion at rest.
    pub rest: Vec<SideLine>,
    /// The shaft at bump and at droop.
    pub moved: Vec<SideLine>,
    /// Radius of the loaded rear wheel, mm.
    pub wheel_mm: f64,
    /// Middle of the rear wheel, `[x, z]`, mm.
    pub hub: [f64; 2],
    /// True for a closed shaft.
    pub torque_tube: bool,
}

/// The shaft at one travel of the axle.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct ShaftRow {
    /// "60 mm up"
    pub words: String,
    /// mm, positive with the wheel up.
    pub travel_mm: f64,
    /// Degrees.
    pub front_joint_deg: f64,
    /// Degrees; absent for a closed shaft.
    pub rear_joint_deg: Option<f64>,
    /// How much longer the shaft must be than at rest, mm; absent for a closed shaft.
    pub longer_mm: Option<f64>,
    /// What is left of the slip: pushing in where it must be shorter, pulling out where longer, mm; absent where not measured.
    pub slip_left_mm: Option<f64>,
}
