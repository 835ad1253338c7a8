//! The shaft's joints: their angles at this stance, how unevenly one turns, and how fast it may turn.
//!
//! # Source
//! Single cardan joint: ω₂/ω₁ = cos β/(1 − sin²β·cos²θ), between cos β and 1/cos β. Angles of 0.5 to 3 degrees at each end and equal within 1, and the
//! largest angle by shaft speed: driveline-angle rules of a maker of joints (3500 to 5000 rpm seen in print, lower speeds from memory).
//! A joint alone at most 1.5 degrees (a service manual).

mod travel;

pub use travel::{ShaftAt, over_travel, slip_left_mm};

use super::at_stance::AtStance;
use super::finding::{Finding, Verdict};
use super::rolling::turns_per_km;
use crate::uncertainty::Quantity;
use crate::units::Angle;

const CHECK: &str = "driveline";
const MAKER: &str = "driveline-angle rules of a maker of joints";
const ROAD_KMH: f64 = 100.0;

/// Each angle by gauge on two machined faces, degrees [common practice, no source].
const GAUGE_U_DEG: f64 = 0.2;
const VIBRATION_FREE_DEG: f64 = 3.0;
const ALONE_DEG: f64 = 1.5;
const EQUAL_DEG: f64 = 1.0;

/// Largest operating angle by shaft speed, rpm and degrees.
const LARGEST_DEG: [(f64, f64); 8] = [
    (1500.0, 11.5),
    (2000.0, 8.7),
    (2500.0, 7.0),
    (3000.0, 5.8),
    (3500.0, 5.0),
    (4000.0, 4.2),
    (4500.0, 3.7),
    (5000.0, 3.2),
];

/// Speed of the driven yoke over that of the driving one, which stands at `turned_deg`.
pub fn speed_ratio(joint_deg: f64, turned_deg: f64) -> f64 {
    let (joint, turned) = (Angle::deg(joint_deg), Angle::deg(turned_deg));
    joint.cos() / (1.0 - (joint.sin() * turned.cos()).powi(2))
}

/// Slowest and fastest speed of the driven yoke over that of the driving one.
pub fn speed_range(joint_deg: f64) -> [f64; 2] {
    let cos = Angle::deg(joint_deg).cos();
    [cos, 1.0 / cos]
}

/// Largest angular acceleration of the driven yoke over the square of the driving one's speed.
pub fn largest_acceleration(joint_deg: f64) -> f64 {
    let (sin, cos) = (Angle::deg(joint_deg).sin(), Angle::deg(joint_deg).cos());
    let square = sin * sin;
    if square == 0.0 {
        return 0.0;
    }
    // cos β·sin²β·sin 2θ/(1 − sin²β·cos²θ)² is largest where cos 2θ = c with c² + b·c − 2 = 0.
    let b = (2.0 - square) / square;
    let c = (-b + (b * b + 8.0).sqrt()) / 2.0;
    let double = Angle::acos(c.clamp(-1.0, 1.0)).unwrap_or_default();
    let cos_square = f64::midpoint(1.0, double.cos());
    cos * square * double.sin().abs() / (1.0 - square * cos_square).powi(2)
}

/// The angle at which the driven yoke's slowest and fastest speed lie that part of the driving speed apart: tan β·sin β.
pub fn joint_deg_for_spread(part: f64) -> f64 {
    // sin²β = part·cos β, a quadratic in cos β.
    let cos = (-part + (part * part + 4.0).sqrt()) / 2.0;
    Angle::acos(cos.clamp(-1.0, 1.0)).unwrap_or_default().to_deg()
}

/// Largest operating angle at a shaft speed, degrees; straight between the rows of the table, its ends beyond them.
pub fn largest_joint_deg(rpm: f64) -> f64 {
    let above = LARGEST_DEG.iter().position(|(row, _)| *row >= rpm).unwrap_or(LARGEST_DEG.len() - 1);
    let (high, at_high) = LARGEST_DEG[above];
    let (low, at_low) = LARGEST_DEG[above.saturating_sub(1)];
    if high <= low {
        return at_high;
    }
    at_low + (rpm.clamp(low, high) - low) / (high - low) * (at_high - at_low)
}

/// Both joints and their difference; of a closed shaft the one joint.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let Some(line) = &car.vehicle.driveline else { return Vec::new() };
    let since = car.since(line.measured_in.as_deref());
    let (rake, axle_rise) = (car.nose_down_deg(&since, line.front_joint[0]), since.axle_rise);
    let front_rise = car.frame_rise(&since, [line.front_joint[0], 0.0]);
    let length = line.front_joint[0] - line.rear_joint[0];
    let Some(rest) = ShaftAt::of(car, line, 0.0) else { return vec![out_of_reach(car)] };
    let u = rake.u.hypot((front_rise.u.hypot(axle_rise[1].u) / length).to_degrees()).hypot(GAUGE_U_DEG);
    let joint = |what: &str, angle: f64, limit: f64, source: &str| {
        let value = Quantity::new(angle.abs(), u);
        Finding {
            check: CHECK,
            what: what.to_owned(),
            value: value.value,
            u,
            unit: "deg",
            limit: Some(limit),
            source: source.to_owned(),
            verdict: Some(Verdict::below(value, limit, Verdict::Within, Verdict::Outside)),
            sentence: format!("The {what} works at {:.1}°; up to {limit}° run without vibration.", value.value),
        }
    };
    let front = rest.front_joint_deg;
    let Some(rear) = rest.rear_joint_deg else {
        let alone = joint("joint", front, ALONE_DEG, "one joint alone, from a service manual");
        return [Some(alone), at_speed(car, front, u)].into_iter().flatten().collect();
    };
    let apart = Quantity::new((front.abs() - rear.abs()).abs(), u * 2.0_f64.sqrt());
    let difference = Finding {
        check: CHECK,
        what: "difference of the joints".to_owned(),
        value: apart.value,
        u: apart.u,
        unit: "deg",
        limit: Some(EQUAL_DEG),
        source: MAKER.to_owned(),
        verdict: Some(Verdict::below(apart, EQUAL_DEG, Verdict::Within, Verdict::Outside)),
        sentence: format!("The two joints differ by {:.1}°; within {EQUAL_DEG}° one evens out the other.", apart.value),
    };
    let joints = [
        joint("front joint", front, VIBRATION_FREE_DEG, MAKER),
        joint("rear joint", rear, VIBRATION_FREE_DEG, MAKER),
        difference,
    ];
    let at_rest = joints.into_iter().chain(at_speed(car, front.abs().max(rear.abs()), u));
    at_rest.chain(travel::findings(car)).collect()
}

/// What leads the axle does not let it stand as this stance asks; its number is how far the axle rose.
fn out_of_reach(car: &AtStance<'_>) -> Finding {
    Finding {
        check: CHECK,
        what: "reach".to_owned(),
        value: car.axle_rise[1].value,
        u: car.axle_rise[1].u,
        unit: "mm",
        limit: None,
        source: "the joints and the guide as the file has them".to_owned(),
        verdict: Some(Verdict::CantTell),
        sentence: "What leads the rear axle does not let it stand there: look at the joints and the guide.".to_owned(),
    }
}

/// The larger angle against what a joint may work at, at the shaft's speed on the road.
fn at_speed(car: &AtStance<'_>, angle: f64, u: f64) -> Option<Finding> {
    let turns = turns_per_km(car)?;
    let rpm = turns.value * ROAD_KMH / 60.0 * car.vehicle.drive.as_ref()?.axle_ratio;
    let (value, limit) = (Quantity::new(angle.abs(), u), largest_joint_deg(rpm));
    let [slowest, fastest] = speed_range(angle).map(|part| 100.0 * (part - 1.0).abs());
    Some(Finding {
        check: CHECK,
        what: format!("larger joint at {ROAD_KMH} km/h"),
        value: value.value,
        u,
        unit: "deg",
        limit: Some(limit),
        source: MAKER.to_owned(),
        verdict: Some(Verdict::below(value, limit, Verdict::Within, Verdict::Outside)),
        sentence: format!(
            "At {ROAD_KMH} km/h the shaft turns {rpm:.0} a minute and takes up to {limit:.1}°; at {:.1}° its speed swings by {:.2} %.",
            value.value,
            slowest.max(fastest)
        ),
    })
}
