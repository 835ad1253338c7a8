//! What moved a car on one day beside its settling, cause by cause: what was aboard, fuel, pressures, and the air's temperature.

use super::of_car::End;
use crate::capture::CarFile;
use crate::car::PointKind;
use crate::corner::Corner;
use crate::level::{Cause, Moved, Solution};
use serde::Serialize;

/// What it was.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum MovedCause {
    /// More or less fuel than usual.
    Fuel,
    /// Somebody or something aboard, or missing.
    Load,
    /// Pressures other than the usual ones, as they were read.
    Pressure,
    /// The same as the air's temperature makes them; nobody read them that day.
    Temperature,
}

/// How one cause moved a height on one day; it is taken out of the nominal one.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MovedBy {
    /// What it was.
    pub cause: MovedCause,
    /// What the person calls it; empty for pressures and temperature.
    pub what: String,
    /// Upwards, mm.
    pub moved_mm: f64,
    /// Its standard uncertainty (k = 1), mm.
    pub u_mm: f64,
}

/// Less than this shows nowhere, mm.
const NOTHING_MM: f64 = 0.05;

/// What moved one end of a kind of point in a snapshot, largest first.
pub(super) fn moved_by(file: &CarFile, solution: &Solution, snapshot: &str, kind: PointKind, end: End) -> Vec<MovedBy> {
    let [left, right] = match end {
        End::Front => [Corner::FL, Corner::FR],
        End::Rear => [Corner::RL, Corner::RR],
    };
    let at = |corner: Corner| file.vehicle.mark_at(kind, corner, |_| true);
    let Some((left, right)) = at(left).zip(at(right)) else { return Vec::new() };
    let sigma = -f64::midpoint(left.x_mm, right.x_mm) / file.vehicle.wheelbase_mm;
    let read = file.snapshots.iter().any(|known| known.id == snapshot && known.tire_pressure_kpa.is_some());
    let tires = if read { MovedCause::Pressure } else { MovedCause::Temperature };
    let mut all: Vec<MovedBy> = solution
        .moved_by_condition(snapshot)
        .into_iter()
        .map(|moved| MovedBy::at(&moved, sigma, tires))
        .filter(|moved| moved.moved_mm.abs() > NOTHING_MM)
        .collect();
    all.sort_by(|a, b| b.moved_mm.abs().total_cmp(&a.moved_mm.abs()));
    all
}

impl MovedBy {
    fn at(moved: &Moved, sigma: f64, tires: MovedCause) -> Self {
        let along = |front: f64, rear: f64| front * (1.0 - sigma) + rear * sigma;
        let (cause, what) = match &moved.cause {
            Cause::Load(mass) => {
                let is_fuel = ["fuel", "tank", "gas"].iter().any(|word| mass.label.to_lowercase().contains(word));
                (if is_fuel { MovedCause::Fuel } else { MovedCause::Load }, mass.label.clone())
            }
            Cause::Pressures => (tires, String::new()),
        };
        Self {
            cause,
            what,
            moved_mm: along(moved.front_mm.0, moved.rear_mm.0),
            // Front and rear hang on rates of their own.
            u_mm: (moved.front_mm.1 * (1.0 - sigma)).hypot(moved.rear_mm.1 * sigma),
        }
    }
}
