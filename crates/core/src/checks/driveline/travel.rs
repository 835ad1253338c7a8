//! The shaft over the travel of the rear axle: what its joints work at, and how much longer or shorter it must be.
//!
//! With a guide the axle goes as the guide lets it, seen from the body; without one it goes straight up and down. A closed shaft turns
//! about its front joint and keeps its length.

use super::{CHECK, GAUGE_U_DEG};
use crate::car::Driveline;
use crate::checks::at_stance::AtStance;
use crate::checks::beside;
use crate::checks::bumpsteer::Guide;
use crate::checks::finding::{Finding, Verdict};
use crate::corner::Corner;
use crate::uncertainty::Quantity;
use crate::units::Angle;
use nalgebra::Vector3;

/// Slip of a shaft by tape, and what joints are off their places [common practice, no source].
const SLIP_U_MM: f64 = 2.0;

/// The shaft at one travel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ShaftAt {
    /// From this stance, mm, positive with the wheel up.
    pub travel_mm: f64,
    /// Slope, degrees, positive falling to the rear; that of the body as first measured, seen from it where a guide is described.
    pub slope_deg: f64,
    /// Of the front joint, degrees with its sign.
    pub front_joint_deg: f64,
    /// Of the rear joint, degrees with its sign; `None` for a closed shaft.
    pub rear_joint_deg: Option<f64>,
    /// Between the joints, mm.
    pub length_mm: f64,
    /// Front joint `[x, z]`, mm.
    pub front: [f64; 2],
    /// Rear joint `[x, z]`, mm.
    pub rear: [f64; 2],
    /// Slope of the transmission, degrees, positive falling to the rear.
    pub transmission_deg: f64,
    /// Slope of the pinion, degrees, positive falling to the rear.
    pub pinion_deg: Option<f64>,
}

impl ShaftAt {
    /// At a travel; `None` where the axle cannot go there.
    pub fn of(car: &AtStance<'_>, line: &Driveline, travel_mm: f64) -> Option<Self> {
        let line = &beside::driveline(car, line);
        let ([front_x, front_z], [rear_x, rear_z]) = (line.front_joint, line.rear_joint);
        let since = car.since(line.measured_in.as_deref());
        let rake_deg = car.nose_down_deg(&since, front_x).value;
        let front_rise = car.frame_rise(&since, [front_x, 0.0]).value;
        let axle_rise = since.axle_rise[1].value + travel_mm;
        let flat = |rear: [f64; 2], front: [f64; 2], transmission_deg: f64, pinion_deg: Option<f64>| {
            let (along, down) = (front[0] - rear[0], front[1] - rear[1]);
            let slope_deg = Angle::atan2(down, along).to_deg();
            Self {
                travel_mm,
                slope_deg,
                front_joint_deg: transmission_deg - slope_deg,
                rear_joint_deg: pinion_deg.map(|pinion| pinion - slope_deg),
                length_mm: along.hypot(down),
                front,
                rear,
                transmission_deg,
                pinion_deg,
            }
        };
        // What a planned wedge turns up falls to the rear by as much more.
        let pinion_now = line.pinion_deg.map(|pinion| pinion + car.changed.pinion_deg.value);
        let front = [front_x, front_z + front_rise];
        let straight = [rear_x, rear_z + axle_rise];
        // A falling slope of the transmission lessens as the nose goes down.
        let transmission_deg = line.transmission_deg - rake_deg;
        if line.pinion_deg.is_none() {
            let length = (front_x - rear_x).hypot(front_z - rear_z);
            let down = front[1] - straight[1];
            let along = (length * length - down * down).sqrt();
            return along.is_finite().then(|| flat([front_x - along, straight[1]], front, transmission_deg, None));
        }
        let Some(guide) = &line.guide else {
            return Some(flat(straight, front, transmission_deg, pinion_now));
        };
        // Seen from the body, which stands as when the joints were measured.
        let hub_x = -car.vehicle.wheelbase_mm;
        let radius = f64::midpoint(car.loaded_radius.at(Corner::RL).value, car.loaded_radius.at(Corner::RR).value);
        let hub = Vector3::new(hub_x, 0.0, radius - since.axle_rise[1].value);
        let toward_body = axle_rise - car.frame_rise(&since, [hub_x, 0.0]).value;
        let carried = Guide::of(guide).carry(hub, toward_body)?;
        let pinion_deg = pinion_now.map(|pinion| pinion + carried.turn_deg());
        Some(flat(carried.in_side_view([rear_x, rear_z]), [front_x, front_z], line.transmission_deg, pinion_deg))
    }
}

/// At droop, at rest and at bump, as far as the file has them; empty without a shaft.
pub fn over_travel(car: &AtStance<'_>) -> Vec<ShaftAt> {
    let Some(line) = &car.vehicle.driveline else { return Vec::new() };
    let travels = [line.droop_mm.map(|down| -down), Some(0.0), line.bump_mm];
    travels.into_iter().flatten().filter_map(|travel| ShaftAt::of(car, line, travel)).collect()
}

/// What is left of the slip, mm: pushing in where the shaft must be shorter by then, pulling out where longer; `None` where that
/// was not measured.
pub fn slip_left_mm(line: &Driveline, longer_mm: f64) -> Option<f64> {
    if longer_mm > 0.0 {
        line.slip_out_mm.map(|out| out - longer_mm)
    } else {
        line.slip_in_mm.map(|within| within + longer_mm)
    }
}

/// Joints and slip at both ends of the travel.
pub(super) fn findings(car: &AtStance<'_>) -> Vec<Finding> {
    let Some(line) = car.vehicle.driveline.as_ref().filter(|line| line.pinion_deg.is_some()) else { return Vec::new() };
    let all = over_travel(car);
    let Some(rest) = all.iter().find(|at| at.travel_mm == 0.0).copied() else { return Vec::new() };
    all.into_iter().filter(|at| at.travel_mm != 0.0).flat_map(|at| end(line, &rest, &at)).collect()
}

fn end(line: &Driveline, rest: &ShaftAt, at: &ShaftAt) -> Vec<Finding> {
    let way = if at.travel_mm < 0.0 { "droop" } else { "bump" };
    let joint = at.front_joint_deg.abs().max(at.rear_joint_deg.unwrap_or(0.0).abs());
    let mut out = vec![Finding {
        check: CHECK,
        what: format!("larger joint at {way}"),
        value: joint,
        u: GAUGE_U_DEG,
        unit: "deg",
        limit: None,
        source: "no limit".to_owned(),
        verdict: None,
        sentence: format!(
            "With the axle {:.0} mm {} the larger joint works at {joint:.1}°.",
            at.travel_mm.abs(),
            up_or_down(at)
        ),
    }];
    let longer = at.length_mm - rest.length_mm;
    let (by, how) = (longer.abs(), if longer > 0.0 { "longer" } else { "shorter" });
    let left = slip_left_mm(line, longer);
    let slip = left.map(|left| Quantity::new(left, SLIP_U_MM));
    out.push(Finding {
        check: CHECK,
        what: format!("slip at {way}"),
        value: slip.map_or(longer, |slip| slip.value),
        u: SLIP_U_MM,
        unit: "mm",
        limit: slip.map(|_| 0.0),
        source: if slip.is_some() { "of the slip that was measured".to_owned() } else { "no limit".to_owned() },
        verdict: slip.map(|slip| Verdict::clearing(slip, 0.0)),
        sentence: match left {
            Some(left) => format!("At {way} the shaft must be {by:.0} mm {how}; {left:.0} mm of its slip are left."),
            None => format!("At {way} the shaft must be {by:.0} mm {how}."),
        },
    });
    out
}

const fn up_or_down(at: &ShaftAt) -> &'static str {
    if at.travel_mm < 0.0 { "down" } else { "up" }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::car::{AxleGuide, Vehicle};
    use serde_json::json;

    fn vehicle(line: serde_json::Value) -> Vehicle {
        let car = json!({"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "driveline": line});
        serde_json::from_value(car).expect("a car")
    }

    /// By hand: joints 1300 mm apart, the rear one 60 mm lower; the axle straight up by 60 makes the shaft level.
    #[test]
    fn straight_up_and_down_by_hand() {
        let vehicle = vehicle(
            json!({"transmission_deg": 3.0, "pinion_deg": 2.0, "front_joint": [-1000, 420], "rear_joint": [-2300, 360],
            "droop_mm": 80, "bump_mm": 60, "slip_in_mm": 20, "slip_out_mm": 40}),
        );
        let car = AtStance::as_described(&vehicle);
        let all = over_travel(&car);
        assert_eq!(all.iter().map(|at| at.travel_mm).collect::<Vec<_>>(), [-80.0, 0.0, 60.0]);
        let up = all[2];
        assert!(up.slope_deg.abs() < 1e-9 && (up.front_joint_deg - 3.0).abs() < 1e-9);
        assert!((up.length_mm - 1300.0).abs() < 1e-9);
        // √(1300² + 60²) = 1301.384, √(1300² + 140²) = 1307.517.
        let rest = all[1].length_mm;
        assert!((rest - 1301.384).abs() < 1e-3 && (all[0].length_mm - 1307.517).abs() < 1e-3);
        let line = vehicle.driveline.as_ref().unwrap();
        assert!((slip_left_mm(line, up.length_mm - rest).unwrap() - (20.0 - 1.384)).abs() < 1e-3);
        assert!((slip_left_mm(line, all[0].length_mm - rest).unwrap() - (40.0 - 6.133)).abs() < 1e-3);
        let said: Vec<String> = findings(&car).into_iter().map(|finding| finding.what).collect();
        assert_eq!(said, ["larger joint at droop", "slip at droop", "larger joint at bump", "slip at bump"]);
    }

    /// Second road: a rod of 900 mm that is level carries the joint, 150 mm ahead of the axle and 30 above it, round its pivot.
    #[test]
    fn a_rod_turns_the_pinion_and_carries_the_joint() {
        let mut vehicle = vehicle(
            json!({"transmission_deg": 3.0, "pinion_deg": 2.0, "front_joint": [-1000, 420], "rear_joint": [-2450, 360],
            "bump_mm": 50}),
        );
        let axle_z = 330.0;
        vehicle.driveline.as_mut().unwrap().guide = Some(AxleGuide::RadiusRod { pivot: [-1700.0, 0.0, axle_z] });
        let mut car = AtStance::as_described(&vehicle);
        car.loaded_radius = crate::corner::Corners::from_fn(|_| Quantity::exact(axle_z));
        let up = over_travel(&car)[1];
        // The axle, 900 behind the pivot, rises by 50: the rod leans forward-down by asin(50/900), which lowers the pinion's nose.
        let turn = Angle::asin(50.0 / 900.0).unwrap();
        assert!((up.pinion_deg.unwrap() - (2.0 - turn.to_deg())).abs() < 1e-9, "{up:?}");
        let (along, above) = (-750.0, 30.0);
        let by_hand =
            [-1700.0 + along * turn.cos() + above * turn.sin(), axle_z - along * turn.sin() + above * turn.cos()];
        assert!((up.rear[0] - by_hand[0]).abs() < 1e-9 && (up.rear[1] - by_hand[1]).abs() < 1e-9, "{up:?} {by_hand:?}");
    }

    #[test]
    fn a_closed_shaft_keeps_its_length() {
        let vehicle = vehicle(
            json!({"transmission_deg": 3.0, "front_joint": [-900, 420], "rear_joint": [-2600, 330], "droop_mm": 90, "bump_mm": 70}),
        );
        let car = AtStance::as_described(&vehicle);
        let all = over_travel(&car);
        let length = 1700.0_f64.hypot(90.0);
        assert!(all.iter().all(|at| (at.length_mm - length).abs() < 1e-9 && at.rear_joint_deg.is_none()));
        // 20 mm lower than the front joint at full bump, over the tube's length.
        assert!((all[2].slope_deg - Angle::asin(20.0 / length).unwrap().to_deg()).abs() < 1e-9);
        assert_eq!(findings(&car), []);
    }
}
