//! Cooling: what a sectioned radiator has left of its core.

use super::at_stance::AtStance;
use super::finding::Finding;
use crate::bench::{Node, Refusal};
use crate::car::Radiator;
use crate::uncertainty::Quantity;
use crate::validate::radiator_faults;
use serde::Serialize;

/// Core height, width and depth of cut by rule, mm [common practice, no source].
const READ_U_MM: f64 = 2.0;

/// Part of the core's area that is left, percent: 1 − cut/height.
pub fn core_left_percent(radiator: &Radiator) -> Quantity {
    let (height, cut) = (radiator.core_height_mm, radiator.sectioned_mm);
    let u = (READ_U_MM / height).hypot(READ_U_MM * cut / (height * height));
    Quantity::new(100.0 * (1.0 - cut / height), 100.0 * u)
}

/// The answer of the bench sum.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct CoreLeft {
    /// Core area before, mm².
    pub before_mm2: f64,
    /// What is left of it, mm².
    pub left_mm2: f64,
    /// The same in percent.
    pub left_percent: f64,
    /// Standard uncertainty of that, percent.
    pub left_u_percent: f64,
}

/// Areas and part.
pub fn work_out(radiator: &Radiator) -> CoreLeft {
    let left = core_left_percent(radiator);
    let area = |height: f64| height * radiator.core_width_mm;
    CoreLeft {
        before_mm2: area(radiator.core_height_mm),
        left_mm2: area(radiator.core_height_mm - radiator.sectioned_mm),
        left_percent: left.value,
        left_u_percent: left.u,
    }
}

/// From `{"core_height_mm", "core_width_mm", "sectioned_mm"}`.
///
/// # Errors
/// Not JSON, an unknown key, a missing one, a number outside of its range, or more cut out than there is.
pub fn read(text: &str) -> Result<Radiator, Refusal> {
    let node = Node::read(text)?;
    let file = node.object("", &["core_height_mm", "core_width_mm", "sectioned_mm"])?;
    let radiator = Radiator {
        core_height_mm: file.number("core_height_mm")?,
        core_width_mm: file.number("core_width_mm")?,
        sectioned_mm: file.number("sectioned_mm")?,
        extra: serde_json::Map::new(),
    };
    match radiator_faults(&radiator).into_iter().next() {
        None => Ok(radiator),
        Some(fault) => Err(Refusal::new(format!("{}: {}.", fault.place, fault.message), format!("{}.", fault.hint))),
    }
}

pub(super) fn check(car: &AtStance<'_>) -> Vec<Finding> {
    car.vehicle.radiator.iter().map(finding).collect()
}

fn finding(radiator: &Radiator) -> Finding {
    let left = core_left_percent(radiator);
    let dm2 = |height: f64| height * radiator.core_width_mm / 10_000.0;
    Finding {
        check: "cooling",
        what: "radiator core".to_owned(),
        value: left.value,
        u: left.u,
        unit: "percent",
        limit: None,
        source: "no limit: what an engine needs is for its maker to say".to_owned(),
        verdict: None,
        sentence: format!(
            "The sectioned radiator keeps {:.0} % of its core, {:.1} of {:.1} dm².",
            left.value,
            dm2(radiator.core_height_mm - radiator.sectioned_mm),
            dm2(radiator.core_height_mm)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_is_the_part_that_was_not_cut() {
        let left = work_out(&Radiator {
            core_height_mm: 500.0,
            core_width_mm: 440.0,
            sectioned_mm: 75.0,
            extra: serde_json::Map::new(),
        });
        assert_eq!((left.before_mm2, left.left_mm2, left.left_percent), (220_000.0, 187_000.0, 85.0));
    }
}
