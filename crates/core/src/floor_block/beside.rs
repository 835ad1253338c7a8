//! A car on spots that another car marked out.

use crate::capture::Footprint;
use crate::car::Vehicle;
use crate::level::beside_u_mm;

/// How another car's wheels stand beside the spots of a floor, its front axle over S1 and S2, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BesideSpots {
    /// Rear wheels behind S3 and S4; negative ahead of them.
    pub rear_behind_mm: f64,
    /// Each front wheel outside its spot; negative inside.
    pub front_outside_mm: f64,
    /// Each rear wheel outside its spot; negative inside.
    pub rear_outside_mm: f64,
    /// What the ground between spot and wheel adds to the height under a front wheel, standard uncertainty, mm.
    pub front_u_mm: f64,
    /// The same under a rear wheel.
    pub rear_u_mm: f64,
}

/// Where this car's wheels stand on spots that another marked out.
pub fn beside_spots(footprint: &Footprint, vehicle: &Vehicle) -> BesideSpots {
    let front = (vehicle.track_front_mm - footprint.track_front_mm) / 2.0;
    let rear = (vehicle.track_rear_mm - footprint.track_rear_mm) / 2.0;
    let behind = vehicle.wheelbase_mm - footprint.wheelbase_mm;
    BesideSpots {
        rear_behind_mm: behind,
        front_outside_mm: front,
        rear_outside_mm: rear,
        front_u_mm: beside_u_mm(front),
        rear_u_mm: beside_u_mm(behind.hypot(rear)),
    }
}
