//! A tire flat, or both of a side: how far each low point still stands over the ground.
//!
//! The wheel comes down onto what rubber is left under its rim. The body follows both axles as on a floor of that shape; what goes
//! with an axle follows the line of its two wheels.

use super::at_stance::AtStance;
use super::finding::{Finding, Verdict, mm};
use crate::car::{Attached, LowPoint};
use crate::corner::{Corner, Corners};
use crate::level::PITCH_GAIN;
use crate::uncertainty::Quantity;
use crate::wording::shown;

/// Which tires are flat, and how it is said.
const CASES: [(&str, &[Corner]); 6] = [
    ("FL flat", &[Corner::FL]),
    ("FR flat", &[Corner::FR]),
    ("RL flat", &[Corner::RL]),
    ("RR flat", &[Corner::RR]),
    ("left side flat", &[Corner::FL, Corner::RL]),
    ("right side flat", &[Corner::FR, Corner::RR]),
];

/// What a model of a flat tire leaves out, mm [common practice, no source].
const FLAT_U_MM: f64 = 2.0;

/// One finding a point and case.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (case, flat) in CASES {
        let drops = Corners::from_fn(|corner| {
            if flat.contains(&corner) { car.flat_drop_mm(corner) } else { Some(Quantity::exact(0.0)) }
        });
        if drops.iter().any(|(_, drop)| drop.is_none()) {
            return Vec::new();
        }
        let drops = Corners::from_fn(|corner| drops.at(corner).unwrap_or(Quantity::exact(0.0)));
        for point in &car.vehicle.clearance_points {
            let height = car.height(point.place_mm(), point.attach);
            let down = down(car, &drops, point);
            let left = Quantity::new(height.value - down.value, height.u.hypot(down.u).hypot(FLAT_U_MM));
            findings.push(Finding {
                check: "flat_tire",
                what: format!("{}, {case}", point.id),
                value: left.value,
                u: left.u,
                unit: "mm",
                limit: Some(0.0),
                source: "the ground".to_owned(),
                verdict: Some(Verdict::clearing(left, 0.0)),
                sentence: format!("{case}: {} stands {} over the ground.", shown(point.called()), mm(left.value)),
            });
        }
    }
    findings
}

/// How far a point comes down, mm.
fn down(car: &AtStance<'_>, drops: &Corners<Quantity>, point: &LowPoint) -> Quantity {
    let drop = |corner| drops.at(corner).value;
    let u = drops.iter().map(|(_, drop)| drop.u).fold(0.0, f64::max);
    let front = [drop(Corner::FL), drop(Corner::FR)];
    let rear = [drop(Corner::RL), drop(Corner::RR)];
    let mean = |[left, right]: [f64; 2]| f64::midpoint(left, right);
    let slope = |[left, right]: [f64; 2], track: f64| (left - right) / track;
    let (front_slope, rear_slope) = (slope(front, car.vehicle.track_front_mm), slope(rear, car.vehicle.track_rear_mm));
    let value = match point.attach {
        Attached::FrontAxle => mean(front) + point.y_mm * front_slope,
        Attached::RearAxle => mean(rear) + point.y_mm * rear_slope,
        Attached::Body | Attached::Frame => {
            let back = -point.x_mm / car.vehicle.wheelbase_mm;
            let fall = mean(rear) - mean(front);
            let share = car.roll_share_front.value;
            let lean = car.lean_gain.value * (share * front_slope + (1.0 - share) * rear_slope);
            mean(front) + fall * back + (PITCH_GAIN.0 - 1.0) * fall * (back - 0.5) + point.y_mm * lean
        }
    };
    Quantity::new(value, u)
}
