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

/// Which wheels come down, and how it is said.
const CASES: [(&str, &[Corner]); 6] = [
    ("FL", &[Corner::FL]),
    ("FR", &[Corner::FR]),
    ("RL", &[Corner::RL]),
    ("RR", &[Corner::RR]),
    ("left side", &[Corner::FL, Corner::RL]),
    ("right side", &[Corner::FR, Corner::RR]),
];

/// What a model of a flat tire leaves out, mm [common practice, no source].
pub(super) const FLAT_U_MM: f64 = 2.0;

/// One finding a point and flat tire or side; and where the rubber is gone too, the lowest point.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (case, down) in CASES {
        let Some(left) = left_over(car, down, |car, corner| car.flat_drop_mm(corner)) else { return Vec::new() };
        findings.extend(left.into_iter().map(|(point, left)| {
            let case = format!("{case} flat");
            finding(format!("{}, {case}", point.id), &case, point, left)
        }));
    }
    for (case, down) in CASES {
        let left = left_over(car, down, |car, corner| {
            car.rim_edge_mm(corner).map(|edge| Quantity::new(edge.value.max(0.0), edge.u))
        });
        let lowest = left.into_iter().flatten().min_by(|a, b| a.1.value.total_cmp(&b.1.value));
        findings.extend(lowest.map(|(point, left)| {
            let case = format!("{case} on the rim");
            finding(case.clone(), &case, point, left)
        }));
    }
    findings
}

fn finding(what: String, case: &str, point: &LowPoint, left: Quantity) -> Finding {
    Finding {
        check: "flat_tire",
        what,
        value: left.value,
        u: left.u,
        unit: "mm",
        limit: Some(0.0),
        source: "the ground".to_owned(),
        verdict: Some(Verdict::clearing(left, 0.0)),
        sentence: format!("{case}: {} stands {} over the ground.", shown(point.called()), mm(left.value)),
    }
}

/// How far each point still stands over the ground once these wheels came down; `None` without tires.
fn left_over<'c>(
    car: &'c AtStance<'_>,
    wheels: &[Corner],
    drop_of: impl Fn(&AtStance<'_>, Corner) -> Option<Quantity>,
) -> Option<Vec<(&'c LowPoint, Quantity)>> {
    let drop = |corner| if wheels.contains(&corner) { drop_of(car, corner) } else { Some(Quantity::exact(0.0)) };
    let drops = Corners { FL: drop(Corner::FL)?, FR: drop(Corner::FR)?, RL: drop(Corner::RL)?, RR: drop(Corner::RR)? };
    let of = |point: &'c LowPoint| {
        let (height, down) = (car.height_of(point), down(car, &drops, [point.x_mm, point.y_mm], point.attach));
        (point, Quantity::new(height.value - down.value, height.u.hypot(down.u).hypot(FLAT_U_MM)))
    };
    Some(car.vehicle.clearance_points.iter().map(of).collect())
}

/// How far a point comes down, mm.
pub(super) fn down(
    car: &AtStance<'_>,
    drops: &Corners<Quantity>,
    [x_mm, y_mm]: [f64; 2],
    attach: Attached,
) -> Quantity {
    let drop = |corner| drops.at(corner).value;
    let mut u = drops.iter().map(|(_, drop)| drop.u).fold(0.0, f64::max);
    let front = [drop(Corner::FL), drop(Corner::FR)];
    let rear = [drop(Corner::RL), drop(Corner::RR)];
    let mean = |[left, right]: [f64; 2]| f64::midpoint(left, right);
    let slope = |[left, right]: [f64; 2], track: f64| (left - right) / track;
    let (front_slope, rear_slope) = (slope(front, car.vehicle.track_front_mm), slope(rear, car.vehicle.track_rear_mm));
    let value = match attach {
        Attached::FrontAxle => mean(front) + y_mm * front_slope,
        Attached::RearAxle => mean(rear) + y_mm * rear_slope,
        Attached::Body | Attached::Frame => {
            let back = -x_mm / car.vehicle.wheelbase_mm;
            let fall = mean(rear) - mean(front);
            let share = car.roll_share_front.value;
            let followed = share * front_slope + (1.0 - share) * rear_slope;
            let lean = car.lean_gain.value * followed;
            let by_share = car.lean_gain.value * (front_slope - rear_slope) * car.roll_share_front.u;
            u = u.hypot(y_mm * by_share).hypot(y_mm * followed * car.lean_gain.u);
            mean(front) + fall * back + (PITCH_GAIN.0 - 1.0) * fall * (back - 0.5) + y_mm * lean
        }
    };
    Quantity::new(value, u)
}
