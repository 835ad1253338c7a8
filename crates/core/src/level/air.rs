//! Pressures of a day: as read, or as the air's temperature has made them since they were.
//!
//! # Source
//! The pressure of a closed volume goes with its absolute temperature (ideal gas); about 11 kPa for 10 K at 220 kPa.

use crate::capture::{CarFile, Snapshot, days_between};
use crate::corner::Corners;

/// Standard atmosphere, kPa (ISO 2533); gauges show what is above it.
const ATMOSPHERE_KPA: f64 = 101.325;
/// 0 °C in kelvin.
const ZERO_C_K: f64 = 273.15;
/// How far the air in a tire may be from the air round it, as a standard uncertainty, K; common practice, no source.
const TIRE_U_K: f64 = 5.0;

/// Gauge pressures of the four tires.
pub(super) struct Pressures {
    pub(super) kpa: Corners<f64>,
    /// Standard uncertainty of those that nobody read, kPa; what was read is taken as read.
    pub(super) u_kpa: f64,
}

/// As read; else from the snapshot nearest in time in which pressures were read cold, where the air's temperature is known of both days.
pub(super) fn pressures(file: &CarFile, snapshot: &Snapshot) -> Option<Pressures> {
    if let Some(read) = &snapshot.tire_pressure_kpa {
        return Some(Pressures { kpa: *read, u_kpa: 0.0 });
    }
    let air = snapshot.air_c?;
    let read_then = |other: &&Snapshot| !other.tires_warm && other.air_c.is_some() && other.tire_pressure_kpa.is_some();
    let apart = |other: &&Snapshot| days_between(&other.date, &snapshot.date).map_or(i64::MAX, i64::abs);
    let then = file.snapshots.iter().filter(read_then).min_by_key(apart)?;
    let (read, air_then) = then.tire_pressure_kpa.as_ref().zip(then.air_c)?;
    let since = |kpa: f64| changed(kpa, air_then, air);
    let kpa = Corners { FL: since(read.FL), FR: since(read.FR), RL: since(read.RL), RR: since(read.RR) };
    let mean = (kpa.FL + kpa.FR + kpa.RL + kpa.RR) / 4.0;
    Some(Pressures { u_kpa: (mean + ATMOSPHERE_KPA) * TIRE_U_K / (air + ZERO_C_K), kpa })
}

/// A gauge pressure after its air has gone from one temperature to another, kPa; never below an empty tire.
fn changed(kpa: f64, from_c: f64, to_c: f64) -> f64 {
    ((kpa + ATMOSPHERE_KPA) * (to_c + ZERO_C_K) / (from_c + ZERO_C_K) - ATMOSPHERE_KPA).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::level::{Options, solve};
    use serde_json::json;

    #[test]
    fn ten_kelvin_are_eleven_kilopascal() {
        // 321.325·10/293.15
        assert!((changed(220.0, 20.0, 30.0) - 220.0 - 10.961).abs() < 1e-3);
    }

    /// Pressures were read at 25 °C; on a day of −5 °C nobody read them: the car stands lower, and the nominal height says by how much.
    #[test]
    fn a_cold_day_is_no_sag() {
        let day = |id: &str, date: &str, air: f64, pressures: bool, mm: f64| {
            let at = |corner: &str| json!({"ref": format!("lip.{corner}"), "text": format!("{mm}"), "value_mm": mm});
            let mut snapshot = json!({"id": id, "date": date, "air_c": air,
                "bounces": [{"bounce_id": "b", "readings": [at("FL"), at("FR")]}]});
            if pressures {
                snapshot["tire_pressure_kpa"] = json!({"FL": 220, "FR": 220, "RL": 220, "RR": 220});
            }
            snapshot
        };
        let tire =
            json!({"designation": "x", "free_diameter_mm": 680, "rim_diameter_mm": 381, "nominal_pressure_kpa": 220});
        let file: CarFile = serde_json::from_value(json!({
            "vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "mass_kg_approx": 1400,
                "tires": {"FL": tire, "FR": tire, "RL": tire, "RR": tire},
                "ref_points": [{"id": "lip.FL", "corner": "FL", "kind": "fender_lip", "x_mm": 0, "y_mm": 700},
                    {"id": "lip.FR", "corner": "FR", "kind": "fender_lip", "x_mm": 0, "y_mm": -700}]},
            "snapshots": [day("warm", "2031-07-01", 25.0, true, 600.0), day("cold", "2032-01-01", -5.0, false, 599.0)],
        }))
        .expect("a file");
        let solution = solve(&file, &Options::default()).expect("adjustable");
        let mean = |at: usize, nominal: bool| {
            let stance = &solution.snapshots[at];
            let lines = if nominal { &stance.lines_nominal } else { &stance.lines };
            lines["fender_lip"].front_mean_mm
        };
        // By hand: 220 → 187.6 kPa, stiffness 0.8970; 1400·9.80665/4/(220·0.8970) = 17.39 mm, times 0.1030 = 1.79 mm.
        let out = mean(1, true).value.zip(mean(1, false).value).map(|(nominal, loaded)| nominal - loaded);
        assert!(out.is_some_and(|out| (out - 1.79).abs() < 0.01), "{out:?}");
        assert_eq!(mean(0, true).value, mean(0, false).value, "what was read cold is taken as read");
        // 20 % of it and 5 K: hypot(0.358, 17.39·0.7·5.39/220 = 0.298) = 0.466.
        let u = |nominal: bool| mean(1, nominal).u.expect("told").powi(2);
        assert!(((u(true) - u(false)).sqrt() - 0.466).abs() < 0.005, "{}", (u(true) - u(false)).sqrt());
    }
}
