//! What one tire carries: by the scales where there were any, else by the nominal mass; what is aboard is moved to the wheels.
//!
//! A mass m at x behind the front axle's line puts m·(1 + x/L) on the front axle and −m·x/L on the rear one; half of it on each wheel,
//! and what stands to the left m·y·(roll share)/track more on the left wheels of each axle.

use super::InOpening;
use crate::car::OtherWheel;
use crate::checks::at_stance::AtStance;
use crate::checks::finding::{Finding, Verdict};
use crate::corner::Corner;
use crate::uncertainty::Quantity;
use crate::wording::{capital, shown};

/// A public scale, kg [common practice, no source].
const SCALE_U_KG: f64 = 5.0;
/// A mass from a handbook and its share, parts of it [common practice, no source].
const MASS_REL_U: f64 = 0.03;
/// One wheel of an axle carries up to 5 % more or less than half of it [common practice, no source], as the u of a rectangle: 5 %/√3.
const SIDE_REL_U: f64 = 0.05 / 1.732_050_807_568_877_2;
/// What is aboard is rarely put on a scale, parts of it [common practice, no source].
const ABOARD_REL_U: f64 = 0.1;

/// What stands on one wheel.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelLoad {
    /// kg.
    pub kg: Quantity,
    /// What it was worked out from, after "by".
    pub by: &'static str,
    /// True where something is aboard besides the nominal load.
    pub aboard: bool,
}

/// What stands on a wheel, kg; `None` without a scale, or a mass and its share.
pub fn wheel_load(car: &AtStance<'_>, corner: Corner) -> Option<WheelLoad> {
    let (nominal, by) = nominal_kg(car, corner)?;
    let (value, u) = car.aboard.iter().fold((0.0, 0.0_f64), |(sum, u), mass| {
        let part = part_kg(car, corner, [mass.mass_kg, mass.x_mm, mass.y_mm]);
        (sum + part, u.hypot(ABOARD_REL_U * part))
    });
    let kg = Quantity::new(nominal.value + value, nominal.u.hypot(u));
    Some(WheelLoad { kg, by, aboard: !car.aboard.is_empty() })
}

fn nominal_kg(car: &AtStance<'_>, corner: Corner) -> Option<(Quantity, &'static str)> {
    let half = |axle: f64, u: f64| Quantity::new(axle / 2.0, u.hypot(SIDE_REL_U * axle) / 2.0);
    if let Some(weighed) = &car.vehicle.weighed {
        let u = weighed.u_kg.unwrap_or(SCALE_U_KG);
        if let Some(wheels) = &weighed.wheels_kg {
            return Some((Quantity::new(*wheels.at(corner), u), "the scale under it"));
        }
        if let Some(axles) = weighed.axles_kg {
            let axle = if corner.is_front() { axles.front } else { axles.rear };
            return Some((half(axle, u), "half of its axle on the scale ticket"));
        }
    }
    let (mass, share) = (car.vehicle.mass_kg_approx?, car.vehicle.front_mass_share?);
    let axle = mass * if corner.is_front() { share } else { 1.0 - share };
    Some((half(axle, MASS_REL_U * axle), "half of its axle\u{2019}s part of the nominal mass"))
}

/// What a mass at a place puts on a wheel, kg.
fn part_kg(car: &AtStance<'_>, corner: Corner, [mass_kg, x_mm, y_mm]: [f64; 3]) -> f64 {
    let back = -x_mm / car.vehicle.wheelbase_mm;
    let front = car.roll_share_front.value;
    let (axle, share, track) = if corner.is_front() {
        (1.0 - back, front, car.vehicle.track_front_mm)
    } else {
        (back, 1.0 - front, car.vehicle.track_rear_mm)
    };
    let aside = share * y_mm / track;
    mass_kg * (axle / 2.0 + if corner.is_left() { aside } else { -aside })
}

/// What one tire carries against what stands on it.
pub(super) fn finding(car: &AtStance<'_>, found: &InOpening, other: Option<&OtherWheel>) -> Option<Finding> {
    let size = found.other.as_ref().unwrap_or(&found.now);
    let max = size.max_load.as_ref()?;
    let load = wheel_load(car, found.corner)?;
    let with = other.map_or_else(String::new, |other| format!(", {}", shown(&other.label)));
    let aboard = if load.aboard { " and what is aboard" } else { "" };
    Some(Finding {
        check: "fitment",
        what: format!("{}, tire load{with}", found.corner),
        value: load.kg.value,
        u: load.kg.u,
        unit: "kg",
        limit: Some(max.kg),
        source: max.source.clone(),
        verdict: Some(Verdict::below(load.kg, max.kg, Verdict::Within, Verdict::Outside)),
        sentence: format!(
            "{} carries {:.0} kg by {}{aboard}; its tire {} takes {:.0} kg, at the pressure and speed its maker says.",
            capital(found.corner.words()),
            load.kg.value,
            load.by,
            shown(&size.marking),
            max.kg
        ),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::capture::LoadChange;
    use crate::car::Vehicle;
    use serde_json::{Value, json};

    fn car(more: &Value) -> Vehicle {
        let mut car = json!({"label": "x", "wheelbase_mm": 2700, "track_front_mm": 1400, "track_rear_mm": 1350});
        for (key, value) in more.as_object().into_iter().flatten() {
            car[key] = value.clone();
        }
        serde_json::from_value(car).expect("a car")
    }

    fn loads(car: &Vehicle, aboard: &[[f64; 3]]) -> [f64; 4] {
        let mass = |at: &[f64; 3]| LoadChange { label: "x".to_owned(), mass_kg: at[0], x_mm: at[1], y_mm: at[2] };
        let stance = AtStance { aboard: aboard.iter().map(mass).collect(), ..AtStance::as_described(car) };
        Corner::ALL.map(|corner| wheel_load(&stance, corner).map_or(f64::NAN, |load| load.kg.value))
    }

    /// Both in the order of [`Corner::ALL`].
    fn same(ours: [f64; 4], by_hand: [(Corner, f64); 4]) {
        for (corner, kg) in by_hand {
            let at = Corner::ALL.iter().position(|known| *known == corner).expect("a corner");
            assert!((ours[at] - kg).abs() < 1e-9, "{corner}: {} and {kg}", ours[at]);
        }
    }

    #[test]
    fn a_ticket_comes_before_the_mass_and_pads_before_the_ticket() {
        use Corner::{FL, FR, RL, RR};
        let mass = json!({"mass_kg_approx": 1000, "front_mass_share": 0.5});
        same(loads(&car(&mass), &[]), [(FL, 250.0), (FR, 250.0), (RL, 250.0), (RR, 250.0)]);
        let mut ticket = mass;
        ticket["weighed"] = json!({"axles_kg": {"front": 640, "rear": 540}});
        same(loads(&car(&ticket), &[]), [(FL, 320.0), (FR, 320.0), (RL, 270.0), (RR, 270.0)]);
        ticket["weighed"]["wheels_kg"] = json!({"FL": 331, "FR": 309, "RL": 262, "RR": 278});
        same(loads(&car(&ticket), &[]), [(FL, 331.0), (FR, 309.0), (RL, 262.0), (RR, 278.0)]);
    }

    #[test]
    fn what_is_aboard_goes_to_the_wheels_by_hand() {
        use Corner::{FL, FR, RL, RR};
        let car = car(
            &json!({"weighed": {"axles_kg": {"front": 640, "rear": 540}}, "roll_share_front": {"value": 0.4, "u": 0.05}}),
        );
        // 75 kg 1485 mm back of 2700: 0.55 of it behind, 41.25, and 33.75 in front; half on each wheel.
        same(loads(&car, &[[75.0, -1_485.0, 0.0]]), [(FL, 336.875), (FR, 336.875), (RL, 290.625), (RR, 290.625)]);
        // 50 kg on a ball 900 mm behind the rear axle: 50·3600/2700 = 66.667 behind, −16.667 in front.
        let ball = loads(&car, &[[50.0, -3_600.0, 0.0]]);
        same(
            ball,
            [(FL, 320.0 - 25.0 / 3.0), (FR, 320.0 - 25.0 / 3.0), (RL, 270.0 + 100.0 / 3.0), (RR, 270.0 + 100.0 / 3.0)],
        );
        // Whatever is aboard, and wherever, all of it stands on the four wheels.
        let aside = loads(&car, &[[80.0, -1_300.0, 350.0]]);
        assert!((aside.iter().sum::<f64>() - 1_260.0).abs() < 1e-9 && aside[0] > 336.0);
    }

    #[test]
    fn the_doubt_of_half_an_axle_is_more_than_that_of_a_pad() {
        let u = |more: &Value| {
            let car = car(more);
            wheel_load(&AtStance::as_described(&car), Corner::FL).map_or(f64::NAN, |load| load.kg.u)
        };
        assert_eq!(u(&json!({"weighed": {"wheels_kg": {"FL": 331, "FR": 309, "RL": 262, "RR": 278}, "u_kg": 2}})), 2.0);
        // √(5² + (640·0.05/√3)²)/2 = √(25 + 341.33)/2 = 9.570.
        assert!((u(&json!({"weighed": {"axles_kg": {"front": 640, "rear": 540}}})) - 9.569_9).abs() < 1e-3);
    }
}
