//! Engine speed on the road, on the diameter the rear tires really roll on.

use super::at_stance::AtStance;
use super::finding::{Finding, mm};
use crate::corner::Corner;
use crate::tire::{Measured, MeasuredLength, TireDimensions, TireFigure, dimensions, read_marking};

/// A tape round the tire [common practice, no source].
const DIAMETER_U_MM: f64 = 2.0;

/// Road speeds told, km/h.
const SPEEDS_KMH: [f64; 3] = [60.0, 80.0, 100.0];

/// The rear tires as they stand; `None` without tires whose marking can be read.
pub(super) fn rear_tire(car: &AtStance<'_>) -> Option<TireDimensions> {
    let tires = car.vehicle.tires.as_ref()?;
    let (left, right) = (tires.at(Corner::RL), tires.at(Corner::RR));
    let marking = read_marking(&left.designation).ok()?;
    let [loaded, other] = [Corner::RL, Corner::RR].map(|corner| *car.loaded_radius.at(corner));
    let measured = Measured {
        diameter: Some(MeasuredLength {
            value_mm: f64::midpoint(left.free_diameter_mm, right.free_diameter_mm),
            u_mm: DIAMETER_U_MM,
        }),
        loaded_radius: Some(MeasuredLength {
            value_mm: f64::midpoint(loaded.value, other.value),
            u_mm: loaded.u.max(0.1),
        }),
        ..Measured::default()
    };
    Some(dimensions(&marking, &measured))
}

/// Turns of a rear wheel in one kilometre; `None` without tires whose marking can be read.
pub(super) fn turns_per_km(car: &AtStance<'_>) -> Option<TireFigure> {
    rear_tire(car).map(|tire| tire.revs_per_km)
}

/// One finding a speed, in top gear.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let Some((drive, turns)) = car.vehicle.drive.as_ref().zip(turns_per_km(car)) else { return Vec::new() };
    let rolling_mm = 1e6 / (std::f64::consts::PI * turns.value);
    let of = |speed: f64| {
        let rpm = turns.value * speed / 60.0 * drive.axle_ratio * drive.top_gear_ratio;
        Finding {
            check: "gearing",
            what: format!("{speed} km/h"),
            value: rpm,
            u: rpm * turns.u / turns.value,
            unit: "rpm",
            limit: None,
            source: "no limit".to_owned(),
            verdict: None,
            sentence: format!(
                "At {speed} km/h in top gear the engine turns {rpm:.0} a minute, rolling on {}.",
                mm(rolling_mm)
            ),
        }
    };
    SPEEDS_KMH.map(of).into()
}
