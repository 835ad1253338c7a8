//! The ground that the car has to drive over: approach, departure and breakover angle against the apron and the trailer's ramp.

use super::at_stance::AtStance;
use super::finding::{Finding, Verdict};
use super::own_grounds;
use super::ramp::Wheels;
use super::ramp::angles::{Angles, angles};
use crate::car::Attached;
use crate::corner::Corner;
use crate::uncertainty::Quantity;
use crate::wording::shown;

/// Of an angle worked out from heights to 2 or 3 mm, degrees [common practice, no source].
const ANGLE_U_DEG: f64 = 0.25;

/// One finding an angle and ground, angles alone where the file names no ground; and one for each ground that is kept.
pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    let body =
        car.vehicle.clearance_points.iter().filter(|point| matches!(point.attach, Attached::Body | Attached::Frame));
    let points: Vec<(&str, [f64; 2])> =
        body.map(|point| (point.id.as_str(), [point.x_mm, car.height_of(point).value])).collect();
    let mean = |left, right| f64::midpoint(car.loaded_radius.at(left).value, car.loaded_radius.at(right).value);
    let wheels = Wheels {
        wheelbase_mm: car.vehicle.wheelbase_mm,
        front_radius_mm: mean(Corner::FL, Corner::FR),
        rear_radius_mm: mean(Corner::RL, Corner::RR),
    };
    let Angles { approach, departure, breakover } = angles(&wheels, points.into_iter());
    let ground = car.ground.clone().unwrap_or_default();
    let grounds = [("apron", ground.apron_angle_deg), ("trailer ramp", ground.trailer_ramp_angle_deg)];
    let mut findings = Vec::new();
    for (name, angle) in [("approach angle", approach), ("departure angle", departure), ("breakover angle", breakover)]
    {
        let Some(angle) = angle else { continue };
        let value = Quantity::new(angle.deg, ANGLE_U_DEG);
        let mut finding = |ground: Option<(&str, f64)>| {
            let against = ground.map_or_else(String::new, |(name, deg)| format!("; the {name} has {deg:.1}°"));
            findings.push(Finding {
                check: "ramp",
                what: ground.map_or_else(|| name.to_owned(), |(ground, _)| format!("{name}, {ground}")),
                value: angle.deg,
                u: ANGLE_U_DEG,
                unit: "deg",
                limit: ground.map(|(_, deg)| deg),
                source: ground.map_or("no ground named", |_| "the ground as the car's file has it").to_owned(),
                verdict: ground.map(|(_, deg)| Verdict::clearing(value, deg)),
                sentence: format!("The {name} is {:.1}°, at {}{against}.", angle.deg, shown(&angle.point)),
            });
        };
        let named = grounds.iter().filter_map(|(name, deg)| Some((*name, (*deg)?)));
        let named: Vec<(&str, f64)> = named.collect();
        if named.is_empty() {
            finding(None);
        }
        named.into_iter().for_each(|ground| finding(Some(ground)));
    }
    findings.extend(own_grounds::check(car));
    findings
}
