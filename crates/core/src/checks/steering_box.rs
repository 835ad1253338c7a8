//! Steering box: turns of the wheel from lock to lock, the ratio at the road wheels, and what another box, pitman arm or steering arm does.
//!
//! Ratio at the road wheels = box ratio × steering arm/pitman arm, with both arms square to the drag link; turns = ratio × sweep/360.
//! A box whose ratio is not known comes from counted turns: the same sum backward.

use crate::bench::{Node, Object, Refusal, text_of};
use crate::car::BoxAndArms;
use crate::uncertainty::{Quantity, propagate};
use crate::wording::shown;
use serde::Serialize;
use std::ops::RangeInclusive;

/// Of a box.
pub const RATIO: RangeInclusive<f64> = 2.0..=60.0;
/// Of either arm.
pub const ARM_MM: RangeInclusive<f64> = 20.0..=500.0;
/// Of a road wheel from lock to lock.
pub const SWEEP_DEG: RangeInclusive<f64> = 10.0..=120.0;
/// Of the steering wheel from lock to lock.
pub const TURNS: RangeInclusive<f64> = 0.3..=20.0;
const MOST: usize = 50;
/// An arm by rule, between pin and axis, mm [common practice, no source].
const ARM_U_MM: f64 = 1.0;
/// A road wheel's sweep on paper or plates, degrees [common practice, no source].
const SWEEP_U_DEG: f64 = 1.0;
/// Turns counted to an eighth.
const TURNS_U: f64 = 0.05;

/// A steering: its box by ratio or by counted turns.
#[derive(Clone, Debug, PartialEq)]
pub struct SteeringBox {
    /// As it is.
    pub now: Linkage,
    /// A road wheel from lock to lock, degrees.
    pub sweep_deg: f64,
    /// Others, each with its name.
    pub beside: Vec<(String, Linkage)>,
}

/// What lies between steering wheel and road wheel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Linkage {
    /// Turns of the steering wheel for one of the pitman arm, or turns counted from lock to lock.
    pub box_by: BoxBy,
    /// Pitman arm, mm.
    pub pitman_mm: f64,
    /// Steering arm at the road wheel, mm.
    pub arm_mm: f64,
}

/// How the box is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BoxBy {
    /// Its ratio.
    Ratio(f64),
    /// Turns of the steering wheel from lock to lock.
    Turns(f64),
}

/// A value with its standard uncertainty.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Told {
    /// The value.
    pub value: f64,
    /// k = 1.
    pub u: f64,
}

/// The answer for one linkage.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Steers {
    /// Its name; absent for the one that is there.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub label: Option<String>,
    /// Of the box alone.
    pub box_ratio: Told,
    /// Degrees of steering wheel for one of the road wheel.
    pub overall_ratio: Told,
    /// From lock to lock.
    pub turns: Told,
    /// What the pitman arm sweeps, degrees.
    pub pitman_sweep_deg: Told,
    /// Pull at the rim of the steering wheel over that of the one that is there; absent for that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub effort: Option<f64>,
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SteeringTable {
    /// As it is.
    #[serde(flatten)]
    pub now: Steers,
    /// Others.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub beside: Vec<Steers>,
}

/// Ratios and turns.
pub fn work_out(steering: &SteeringBox) -> SteeringTable {
    let now = of(&steering.now, steering.sweep_deg);
    let beside = steering.beside.iter().map(|(label, linkage)| {
        let other = of(linkage, steering.sweep_deg);
        let effort = Some(now.overall_ratio.value / other.overall_ratio.value);
        Steers { label: Some(label.clone()), effort, ..other }
    });
    SteeringTable { beside: beside.collect(), now }
}

fn of(linkage: &Linkage, sweep_deg: f64) -> Steers {
    let arms = [
        Quantity::new(linkage.pitman_mm, ARM_U_MM),
        Quantity::new(linkage.arm_mm, ARM_U_MM),
        Quantity::new(sweep_deg, SWEEP_U_DEG),
    ];
    let [pitman, arm, sweep] = arms;
    let told = |formula: &dyn Fn([f64; 4]) -> f64, given: Quantity| {
        let worked = propagate([pitman, arm, sweep, given], formula);
        Told { value: worked.value, u: worked.u }
    };
    let pitman_sweep_deg = told(&|[pitman, arm, sweep, _]| sweep * arm / pitman, Quantity::exact(0.0));
    let (box_ratio, overall_ratio, turns) = match linkage.box_by {
        BoxBy::Ratio(ratio) => {
            let ratio = Quantity::exact(ratio);
            (
                Told { value: ratio.value, u: 0.0 },
                told(&|[pitman, arm, _, ratio]| ratio * arm / pitman, ratio),
                told(&|[pitman, arm, sweep, ratio]| ratio * arm / pitman * sweep / 360.0, ratio),
            )
        }
        BoxBy::Turns(turns) => {
            let turns = Quantity::new(turns, TURNS_U);
            (
                told(&|[pitman, arm, sweep, turns]| turns * 360.0 / sweep * pitman / arm, turns),
                told(&|[_, _, sweep, turns]| turns * 360.0 / sweep, turns),
                Told { value: turns.value, u: turns.u },
            )
        }
    };
    Steers { label: None, box_ratio, overall_ratio, turns, pitman_sweep_deg, effort: None }
}

impl SteeringBox {
    /// What a car's file says of it.
    ///
    /// # Errors
    /// As [`Self::read`].
    pub fn of_car(described: &BoxAndArms) -> Result<Self, Refusal> {
        Self::read(&text_of(&BoxAndArms { extra: serde_json::Map::new(), ..described.clone() })?)
    }

    /// From `{"box_ratio" or "turns_lock_to_lock", "pitman_arm_mm", "steering_arm_mm", "wheel_sweep_deg", "beside": [{"label", …}]}`. A
    /// row of `beside` takes what it leaves out from above.
    ///
    /// # Errors
    /// Not JSON, an unknown key, a missing one, or a number outside of its range.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let node = Node::read(text)?;
        let keys =
            &["box_ratio", "turns_lock_to_lock", "pitman_arm_mm", "steering_arm_mm", "wheel_sweep_deg", "beside"];
        let file = node.object("", keys)?;
        let by = box_by(&file)?.ok_or_else(|| {
            Refusal::new(
                "box_ratio is missing at the top of the file.",
                "Add it, or turns_lock_to_lock as counted at the steering wheel.",
            )
        })?;
        let now = Linkage {
            box_by: by,
            pitman_mm: file.number_in("pitman_arm_mm", &ARM_MM, "mm")?,
            arm_mm: file.number_in("steering_arm_mm", &ARM_MM, "mm")?,
        };
        let sweep_deg = file.number_in("wheel_sweep_deg", &SWEEP_DEG, "deg")?;
        let mut beside = Vec::new();
        if let Some(rows) = file.optional("beside") {
            for (i, row) in rows.list_of("beside", 0, MOST, "rows")?.iter().enumerate() {
                beside.push(other(row, &format!("beside[{i}]"), &now, sweep_deg)?);
            }
        }
        Ok(Self { now, sweep_deg, beside })
    }
}

fn box_by(object: &Object<'_>) -> Result<Option<BoxBy>, Refusal> {
    object.at_most_one(&["box_ratio", "turns_lock_to_lock"])?;
    let ratio = object.optional_number_in("box_ratio", &RATIO, "to 1")?.map(BoxBy::Ratio);
    Ok(ratio.or(object.optional_number_in("turns_lock_to_lock", &TURNS, "turns")?.map(BoxBy::Turns)))
}

fn other(node: &Node, path: &str, now: &Linkage, sweep_deg: f64) -> Result<(String, Linkage), Refusal> {
    let row = node.object(path, &["label", "box_ratio", "pitman_arm_mm", "steering_arm_mm"])?;
    // Turns were counted with the present arms: another arm goes with the ratio that follows from them.
    let ratio = of(now, sweep_deg).box_ratio.value;
    let box_by = row.optional_number_in("box_ratio", &RATIO, "to 1")?.unwrap_or(ratio);
    let other = Linkage {
        box_by: BoxBy::Ratio(box_by),
        pitman_mm: row.optional_number_in("pitman_arm_mm", &ARM_MM, "mm")?.unwrap_or(now.pitman_mm),
        arm_mm: row.optional_number_in("steering_arm_mm", &ARM_MM, "mm")?.unwrap_or(now.arm_mm),
    };
    if ["box_ratio", "pitman_arm_mm", "steering_arm_mm"].iter().all(|key| row.optional(key).is_none()) {
        let message = format!("{} changes nothing.", shown(path));
        return Err(Refusal::new(message, "Give it a box_ratio or an arm of its own."));
    }
    Ok((row.name("label")?, other))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn turns_by_hand_and_back() {
        let by = |box_by| SteeringBox {
            now: Linkage { box_by, pitman_mm: 150.0, arm_mm: 180.0 },
            sweep_deg: 60.0,
            beside: vec![(
                "longer pitman".to_owned(),
                Linkage { box_by: BoxBy::Ratio(15.0), pitman_mm: 180.0, arm_mm: 180.0 },
            )],
        };
        // 15 · 180/150 = 18; 18 · 60/360 = 3 turns; the pitman arm sweeps 72°.
        let answer = work_out(&by(BoxBy::Ratio(15.0)));
        assert_eq!((answer.now.overall_ratio.value, answer.now.turns.value), (18.0, 3.0));
        assert!((answer.now.pitman_sweep_deg.value - 72.0).abs() < 1e-9);
        // 18 to 15: quicker by a sixth, and 1.2 times the pull.
        assert!(answer.beside[0].effort.is_some_and(|part| (part - 1.2).abs() < 1e-9));
        assert!((work_out(&by(BoxBy::Turns(3.0))).now.box_ratio.value - 15.0).abs() < 1e-9);
    }
}
