//! A stance that is wanted.

use crate::capture::CarFile;
use crate::level::Problem;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// Side to side and against a target, a quarter of an inch; common practice, no source.
const fn usual_tolerance_mm() -> f64 {
    6.0
}

/// Heights that are wanted, at nominal load and pressures on level ground.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Target {
    /// What the person calls it.
    #[serde(default)]
    pub label: String,
    /// By point, mm.
    #[serde(default)]
    pub heights_mm: BTreeMap<String, f64>,
    /// How far a height may be off, mm.
    #[serde(default = "usual_tolerance_mm")]
    pub tolerance_mm: f64,
    /// Rake wanted, degrees, positive nose-down; absent: that of the heights.
    #[serde(default)]
    pub rake_deg: Option<f64>,
    /// How far the rake may be off, degrees.
    #[serde(default)]
    pub rake_tolerance_deg: Option<f64>,
    /// How far left and right may differ, mm.
    #[serde(default)]
    pub side_to_side_tolerance_mm: Option<f64>,
}

impl Target {
    /// The target of a car's file.
    ///
    /// # Errors
    /// None in it, or one that makes no sense: the place, the value, the range.
    pub fn of(file: &CarFile) -> Result<Self, Problem> {
        let Some(written) = file.extra.get("target").filter(|written| !written.is_null()) else {
            let hint = "Add one: \"target\": {\"heights_mm\": {\"rail.FL\": 246, …}, \"tolerance_mm\": 6}.";
            return Err(Problem::new("the file has no target", hint));
        };
        let hint = "Correct it there; heights and tolerances are in mm.";
        let target: Self = serde_json::from_value(written.clone()).map_err(|error| {
            Problem::new(format!("target: {}", crate::wording::quotes_cut(&error.to_string())), hint)
        })?;
        target.check(file).map_err(|message| Problem::new(message, hint))?;
        Ok(target)
    }

    fn check(&self, file: &CarFile) -> Result<(), String> {
        if self.heights_mm.is_empty() {
            return Err("target.heights_mm: names no point".to_owned());
        }
        for (point, height) in &self.heights_mm {
            let place = format!("target.heights_mm.{}", crate::wording::shown(point));
            if !file.vehicle.ref_points.iter().any(|known| known.id == *point) {
                return Err(format!("{place}: the car has no such point"));
            }
            if !(*height > 0.0 && *height <= 5_000.0) {
                return Err(format!("{place}: {height} mm is outside 0 to 5000 mm"));
            }
        }
        let tolerances = [
            ("tolerance_mm", Some(self.tolerance_mm), 1_000.0),
            ("rake_tolerance_deg", self.rake_tolerance_deg, 45.0),
            ("side_to_side_tolerance_mm", self.side_to_side_tolerance_mm, 1_000.0),
        ];
        for (name, value, most) in tolerances {
            if let Some(value) = value.filter(|value| !(*value > 0.0 && *value <= most)) {
                return Err(format!("target.{name}: {value} is outside 0 to {most}"));
            }
        }
        match self.rake_deg {
            Some(rake) if rake.abs() > 45.0 => Err(format!("target.rake_deg: {rake} is outside -45 to 45")),
            _ => Ok(()),
        }
    }
}
