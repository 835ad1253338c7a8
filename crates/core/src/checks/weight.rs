//! Where the weight sits: from a scale ticket level, and from one with an end raised, how far back and how high its centre is, and what a slope
//! puts on the rear axle.
//!
//! Behind the front axle a = b·rear/total. With the rear raised by l the front carries more: height over the axles' line
//! c = (front raised − front level)/total · b/tan X, sin X = l/b. On a grade, nose up, the rear carries (a·cos + h·sin)/b of the total.
//!
//! # Source
//! Raising one axle, and the load on a slope: sums of vehicle handbooks, with the exact angle and not its small-angle form.

use crate::bench::{Node, Refusal};
use crate::car::{Vehicle, Weighed};
use crate::corner::Corners;
use crate::uncertainty::{Quantity, propagate};
use crate::units::Angle;
use serde::Serialize;
use std::ops::RangeInclusive;

const WHEELBASE_MM: RangeInclusive<f64> = 500.0..=10_000.0;
const AXLE_KG: RangeInclusive<f64> = 20.0..=25_000.0;
const LIFT_MM: RangeInclusive<f64> = 50.0..=3_000.0;
/// Of wheel centres.
pub const AXLE_HEIGHT_MM: RangeInclusive<f64> = 100.0..=1_000.0;
const GRADE_PERCENT: RangeInclusive<f64> = -50.0..=50.0;
const MOST: usize = 50;
/// A public scale, kg [common practice, no source].
const SCALE_U_KG: f64 = 5.0;
/// A tape, mm [common practice, no source].
const TAPE_U_MM: f64 = 3.0;

/// What was weighed.
#[derive(Clone, Debug, PartialEq)]
pub struct Weight {
    /// mm.
    pub wheelbase_mm: f64,
    /// Both axles level, kg: front, rear.
    pub level_kg: [f64; 2],
    /// With an end raised.
    pub raised: Option<Raised>,
    /// Slopes asked for, percent, nose up positive.
    pub grades_percent: Vec<f64>,
    /// Standard uncertainty of what is told of one axle, kg; absent: that of a public scale.
    pub u_kg: Option<f64>,
}

/// The car with its rear axle raised, its springs blocked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Raised {
    /// On the front axle then, kg.
    pub front_kg: f64,
    /// How far the rear axle was raised, mm.
    pub lift_mm: f64,
    /// Wheel centres above the ground, level, mm.
    pub axle_height_mm: f64,
}

/// A value with its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Told {
    /// The value.
    pub value: f64,
    /// k = 1.
    pub u: f64,
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WeightAnswer {
    /// Both axles, kg.
    pub total_kg: f64,
    /// Part of it on the front axle, level.
    pub front_share: f64,
    /// Its standard uncertainty.
    pub front_share_u: f64,
    /// Centre of the weight behind the front axle, mm.
    pub behind_front_axle_mm: Told,
    /// Centre of the weight above the ground, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub height_mm: Option<Told>,
    /// Part of the weight on the rear axle, by slope; only where the height is known.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub on_slopes: Vec<OnSlope>,
}

/// The rear axle on a slope.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OnSlope {
    /// Nose up positive.
    pub grade_percent: f64,
    /// Part of the weight on the rear axle, of the weight itself.
    pub rear_share: f64,
}

/// Part of the weight on the rear axle on a grade, nose up positive; its centre `behind_mm` behind the front axle and `height_mm` high.
pub fn rear_share(wheelbase_mm: f64, behind_mm: f64, height_mm: f64, grade_percent: f64) -> f64 {
    let slope = Angle::atan(grade_percent / 100.0);
    (behind_mm * slope.cos() + height_mm * slope.sin()) / wheelbase_mm
}

/// Height of the centre of the weight above the ground: wheelbase, total, front level, front with the rear raised, lift, height of the axles.
fn height([wheelbase, total, level, front, lift, axle]: [f64; 6]) -> f64 {
    let along = (wheelbase * wheelbase - lift * lift).max(0.0).sqrt();
    axle + (front - level) / total * wheelbase * along / lift
}

/// Place and height of the centre of the weight, and the rear axle on slopes.
pub fn work_out(weight: &Weight) -> WeightAnswer {
    let [front, rear] = weight.level_kg;
    let total = front + rear;
    let kg = |kg: f64| Quantity::new(kg, weight.u_kg.unwrap_or(SCALE_U_KG));
    let mm = |mm: f64| Quantity::new(mm, TAPE_U_MM);
    let behind =
        propagate([mm(weight.wheelbase_mm), kg(front), kg(rear)], |[b, front, rear]| b * rear / (front + rear));
    let high = weight.raised.map(|raised| {
        let inputs = [
            mm(weight.wheelbase_mm),
            kg(total),
            kg(front),
            kg(raised.front_kg),
            mm(raised.lift_mm),
            mm(raised.axle_height_mm),
        ];
        let high = propagate(inputs, height);
        Told { value: high.value, u: high.u }
    });
    let on_slopes = high.into_iter().flat_map(|high| {
        weight.grades_percent.iter().map(move |grade| OnSlope {
            grade_percent: *grade,
            rear_share: rear_share(weight.wheelbase_mm, behind.value, high.value, *grade),
        })
    });
    WeightAnswer {
        total_kg: total,
        front_share: front / total,
        front_share_u: propagate([kg(front), kg(rear)], |[front, rear]| front / (front + rear)).u,
        behind_front_axle_mm: Told { value: behind.value, u: behind.u },
        height_mm: high,
        on_slopes: on_slopes.collect(),
    }
}

/// Where the weight sits across the car, from a scale under each wheel.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Across {
    /// Its centre left of the middle plane, mm.
    pub left_mm: Told,
    /// Part of it on front left and rear right together.
    pub diagonal_share: Told,
}

/// Each side carries at half of its axle's track from the middle; `u_kg` is that of one scale.
pub fn across(wheels_kg: &Corners<f64>, tracks_mm: [f64; 2], u_kg: f64) -> Across {
    let kg = |kg: f64| Quantity::new(kg, u_kg);
    let mm = |mm: f64| Quantity::new(mm, TAPE_U_MM);
    let Corners { FL: fl, FR: fr, RL: rl, RR: rr } = wheels_kg;
    let wheels = [kg(*fl), kg(*fr), kg(*rl), kg(*rr)];
    let left = propagate([wheels[0], wheels[1], wheels[2], wheels[3], mm(tracks_mm[0]), mm(tracks_mm[1])], |given| {
        let [fl, fr, rl, rr, front, rear] = given;
        ((fl - fr) * front + (rl - rr) * rear) / 2.0 / (fl + fr + rl + rr)
    });
    let diagonal = propagate(wheels, |[fl, fr, rl, rr]| (fl + rr) / (fl + fr + rl + rr));
    let told = |value: f64, u: f64| Told { value, u };
    Across { left_mm: told(left.value, left.u), diagonal_share: told(diagonal.value, diagonal.u) }
}

impl Weighed {
    /// Standard uncertainty of one reading of the scale, kg.
    pub fn scale_u_kg(&self) -> f64 {
        self.u_kg.unwrap_or(SCALE_U_KG)
    }
}

impl Weight {
    /// What scales said of a car: pads under the wheels before the ticket; `None` where it was not weighed.
    pub fn of_car(vehicle: &Vehicle) -> Option<Self> {
        let weighed = vehicle.weighed.as_ref()?;
        let (level_kg, scales) = match (&weighed.wheels_kg, weighed.axles_kg) {
            (Some(Corners { FL: fl, FR: fr, RL: rl, RR: rr }), _) => ([fl + fr, rl + rr], 2.0_f64.sqrt()),
            (None, Some(axles)) => ([axles.front, axles.rear], 1.0),
            (None, None) => return None,
        };
        let raised = weighed.raised.map(|raised| Raised {
            front_kg: raised.front_kg,
            lift_mm: raised.lift_mm,
            axle_height_mm: raised.axle_height_mm,
        });
        let u_kg = Some(scales * weighed.scale_u_kg());
        Some(Self { wheelbase_mm: vehicle.wheelbase_mm, level_kg, raised, grades_percent: Vec::new(), u_kg })
    }

    /// From `{"wheelbase_mm", "front_kg", "rear_kg", "front_with_rear_raised_kg", "rear_raised_mm", "axle_height_mm", "grades_percent": […]}`; the
    /// three of the raised car together or not at all.
    ///
    /// # Errors
    /// Not JSON, an unknown key, a missing one, a number outside of its range, or a lift that the wheelbase cannot reach.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let node = Node::read(text)?;
        let raised_keys = ["front_with_rear_raised_kg", "rear_raised_mm", "axle_height_mm"];
        let keys = &[
            "wheelbase_mm",
            "front_kg",
            "rear_kg",
            "front_with_rear_raised_kg",
            "rear_raised_mm",
            "axle_height_mm",
            "grades_percent",
        ];
        let file = node.object("", keys)?;
        let wheelbase_mm = file.number_in("wheelbase_mm", &WHEELBASE_MM, "mm")?;
        let level_kg = [file.number_in("front_kg", &AXLE_KG, "kg")?, file.number_in("rear_kg", &AXLE_KG, "kg")?];
        let raised = if raised_keys.iter().any(|key| file.optional(key).is_some()) {
            Some(Raised {
                front_kg: file.number_in("front_with_rear_raised_kg", &AXLE_KG, "kg")?,
                lift_mm: file.number_in("rear_raised_mm", &LIFT_MM, "mm")?,
                axle_height_mm: file.number_in("axle_height_mm", &AXLE_HEIGHT_MM, "mm")?,
            })
        } else {
            None
        };
        if let Some(raised) = raised.filter(|raised| raised.lift_mm > 0.7 * wheelbase_mm) {
            let message = format!("rear_raised_mm is {} mm on a wheelbase of {wheelbase_mm} mm.", raised.lift_mm);
            return Err(Refusal::new(message, "Look at both numbers and their units."));
        }
        let mut grades_percent = Vec::new();
        if let Some(list) = file.optional("grades_percent") {
            for (i, grade) in list.list_of("grades_percent", 0, MOST, "grades")?.iter().enumerate() {
                grades_percent.push(grade.number_in(&format!("grades_percent[{i}]"), &GRADE_PERCENT, "percent")?);
            }
        }
        Ok(Self { wheelbase_mm, level_kg, raised, grades_percent, u_kg: None })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_middle_lies_where_the_wheels_say_by_hand() {
        let wheels = Corners { FL: 330.0, FR: 310.0, RL: 260.0, RR: 280.0 };
        // (20·1400 − 20·1440)/2 over 1180 kg: 0.339 mm to the right; front left and rear right carry 610 of 1180.
        let told = across(&wheels, [1_400.0, 1_440.0], 2.0);
        assert!((told.left_mm.value + 0.338_98).abs() < 1e-4, "{told:?}");
        assert!((told.diagonal_share.value - 0.516_95).abs() < 1e-5, "{told:?}");
        // Each scale's 2 kg at about 710 mm of arm: 2·710·√4/1180 = 2.41 mm.
        assert!((told.left_mm.u - 2.41).abs() < 0.02, "{told:?}");
    }
}
