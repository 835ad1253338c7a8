//! Gearing: engine speed for every gear and road speed, with the diameter a tire really rolls on.
//!
//! ```
//! use trueground_core::checks::gearing::{Gearing, work_out};
//! let text = r#"{"axle_ratio": 3.5, "gears": {"3": 1}, "tire": {"rolling_diameter_mm": 711.2}, "speeds_kmh": [96.56064]}"#;
//! // 60 miles an hour on 28 inches: 2521 turns a minute.
//! assert_eq!(work_out(&Gearing::read(text)?).table[0].rpm, 2521.0);
//! # Ok::<(), trueground_core::bench::Refusal>(())
//! ```

mod input;
mod of_car;
mod rolling;

pub use rolling::RollingTire;

use crate::tire::TireFigure;
use serde::Serialize;
use std::f64::consts::PI;

/// A gearbox, an axle and a tire, the road speeds asked for, and what to set beside them.
#[derive(Debug, Clone, PartialEq)]
pub struct Gearing {
    /// As the car stands.
    pub drive: Drive,
    /// km/h, above 0, in the order asked.
    pub speeds_kmh: Vec<f64>,
    /// Other axles, gearboxes or tires, each with its name.
    pub beside: Vec<(String, Drive)>,
}

/// What turns between engine and road.
#[derive(Debug, Clone, PartialEq)]
pub struct Drive {
    /// Turns of the propeller shaft for one of the wheels.
    pub axle_ratio: f64,
    /// Turns of the engine for one of the propeller shaft, by gear, in the order of the file.
    pub gears: Vec<(String, f64)>,
    /// What it rolls on.
    pub tire: RollingTire,
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GearingTable {
    /// Gear by gear, each at every speed.
    pub table: Vec<GearRow>,
    /// Diameter of a hard wheel that would roll as far in one turn, mm.
    pub rolling_diameter_mm: TireFigure,
    /// Diameter across the tire without load, mm, where it is known: not the one it rolls on.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub free_diameter_mm: Option<TireFigure>,
    /// The same speeds with other axles, gearboxes or tires.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub beside: Vec<BesideTable>,
}

/// The answer for another drive.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BesideTable {
    /// Its name.
    pub label: String,
    /// Turns of the propeller shaft for one of the wheels.
    pub axle_ratio: f64,
    /// As in [`GearingTable`].
    #[serde(flatten)]
    pub answer: GearingTable,
}

/// Engine speed in one gear at one road speed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct GearRow {
    /// The gear's name.
    pub gear: String,
    /// Road speed, km/h.
    pub speed_kmh: f64,
    /// Turns of the engine a minute, rounded to 0.1.
    pub rpm: f64,
    /// Standard uncertainty (k = 1) of that, from the rolling diameter; not rounded.
    pub rpm_u: f64,
}

/// Engine speeds: n = v/(πD)·axle·gear, D the rolling diameter.
pub fn work_out(gearing: &Gearing) -> GearingTable {
    let beside = gearing.beside.iter().map(|(label, drive)| BesideTable {
        label: label.clone(),
        axle_ratio: drive.axle_ratio,
        answer: table(drive, &gearing.speeds_kmh),
    });
    GearingTable { beside: beside.collect(), ..table(&gearing.drive, &gearing.speeds_kmh) }
}

fn table(drive: &Drive, speeds_kmh: &[f64]) -> GearingTable {
    let rolling = drive.tire.rolling_diameter_mm();
    let mut rows = Vec::new();
    for (gear, ratio) in &drive.gears {
        for &speed_kmh in speeds_kmh {
            let wheel_rpm = speed_kmh * 1e6 / 60.0 / (PI * rolling.value);
            let rpm = wheel_rpm * drive.axle_ratio * ratio;
            rows.push(GearRow {
                gear: gear.clone(),
                speed_kmh,
                rpm: (rpm * 10.0).round() / 10.0,
                rpm_u: rpm * rolling.u / rolling.value,
            });
        }
    }
    GearingTable {
        table: rows,
        rolling_diameter_mm: rolling,
        free_diameter_mm: drive.tire.free_diameter_mm(),
        beside: Vec::new(),
    }
}
