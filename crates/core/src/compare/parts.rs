//! Tire or spring: where the wheel centre was read on both days, a change of height is taken apart into the two.

use super::verdict::Difference;
use crate::capture::CarFile;
use crate::car::PointKind;
use crate::corner::Corner;
use crate::level::{Solution, Term};
use serde::Serialize;
use std::collections::BTreeMap;

/// A change of height, as it stood on both days, mm: the two add to it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Parts {
    /// Change of the wheel centre over the floor: tire size, pressure, load on the tire.
    pub tire: Difference,
    /// Change of the point over the wheel centre: the spring, or a mark that moved.
    pub spring: Difference,
}

/// By end of the car.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize)]
pub struct EndParts {
    /// Means of left and right.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub front: Option<Parts>,
    /// The same behind.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rear: Option<Parts>,
}

/// Tire part and spring part of a snapshot's change from an earlier one: by point, and by kind of point and end.
///
/// # Source
/// Spring part = change of (point − wheel centre), tire part = change of the wheel centre over the floor: the two add up to the
/// change by construction. u from the covariance of all four readings.
pub(super) fn parts(
    file: &CarFile,
    solution: &Solution,
    later: &str,
    earlier: &str,
) -> (BTreeMap<String, Parts>, BTreeMap<String, EndParts>) {
    let change = |terms: &[(String, f64)]| {
        let both: Vec<Term<'_>> = [(later, 1.0), (earlier, -1.0)]
            .into_iter()
            .flat_map(|(snapshot, sign)| {
                terms.iter().map(move |(figure, weight)| Term { snapshot, figure, weight: sign * weight })
            })
            .collect();
        solution.sum(&both).map(|figure| Difference::of(figure, None))
    };
    let hub = |corner: Corner| format!("loaded_radius.{corner}");
    let both = |points: &[(String, f64)], hubs: &[(String, f64)]| {
        let over_hub: Vec<(String, f64)> =
            points.iter().cloned().chain(hubs.iter().map(|(path, weight)| (path.clone(), -weight))).collect();
        Some(Parts { tire: change(hubs)?, spring: change(&over_hub)? })
    };
    let points = file.vehicle.ref_points.iter().filter_map(|point| {
        let parts = both(&[(format!("heights.{}", point.id), 1.0)], &[(hub(point.corner), 1.0)])?;
        Some((point.id.clone(), parts))
    });
    let kinds = PointKind::ALL.into_iter().filter_map(|kind| {
        let end = |name: &str, corners: [Corner; 2]| {
            let mean = (format!("lines.{}.{name}", kind.code()), 1.0);
            both(&[mean], &corners.map(|corner| (hub(corner), 0.5)))
        };
        let ends = EndParts {
            front: end("front_mean_mm", [Corner::FL, Corner::FR]),
            rear: end("rear_mean_mm", [Corner::RL, Corner::RR]),
        };
        (ends != EndParts::default()).then(|| (kind.code().to_owned(), ends))
    });
    (points.collect(), kinds.collect())
}
