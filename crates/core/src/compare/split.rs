//! Differences as movements of a rigid body: up, nose-down, left side up, and the twist that none of these explains.

use super::pair::Pair;
use super::stance::{Quantity, SplitFigure};
use super::verdict::Difference;
use crate::car::RefPoint;
use crate::least_squares;
use nalgebra::DMatrix;
use serde::Serialize;
use std::collections::BTreeMap;

/// The four movements.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Split {
    /// Up, in the middle between the axles, mm.
    pub heave_mm: SplitFigure,
    /// Positive nose-down, degrees.
    pub pitch_deg: SplitFigure,
    /// Positive left side up, degrees.
    pub lean_deg: SplitFigure,
    /// What is left: front left − front right − rear left + rear right over the wheels, mm. It cannot be shimmed out.
    pub twist_mm: SplitFigure,
}

/// Splits by least squares over all points that are told, each counting alike: d = heave + pitch·(−x − L/2) + lean·y + warp·x·y.
/// None where fewer than four points at three corners or less are told.
pub(super) fn split(pair: &Pair<'_>, differences: &BTreeMap<String, Difference>) -> Option<Split> {
    let vehicle = &pair.file.vehicle;
    let is_told = |difference: &Difference| difference.value.is_some();
    let points: Vec<&RefPoint> =
        vehicle.ref_points.iter().filter(|point| differences.get(&point.id).is_some_and(is_told)).collect();
    if points.len() < 4 {
        return None;
    }
    let middle = vehicle.wheelbase_mm / 2.0;
    let design = DMatrix::from_fn(points.len(), 4, |row, column| {
        let (x, y) = (points[row].x_mm + middle, points[row].y_mm);
        [1.0, -x, y, x * y][column]
    });
    // The inverse of the normal matrix times the design gives each movement as a sum over the points.
    let ones = vec![1.0; points.len()];
    let mut movements = vec![[0.0; 4]; points.len()];
    for (row, movement) in movements.iter_mut().enumerate() {
        let mut unit = vec![0.0; points.len()];
        unit[row] = 1.0;
        let found = least_squares::fit(&design, &unit, &ones).ok()?.parameters;
        *movement = std::array::from_fn(|of| found[of]);
    }
    let figure = |of: usize, factor: f64| -> Option<SplitFigure> {
        let follows: Vec<(&RefPoint, f64)> =
            points.iter().zip(&movements).map(|(point, movement)| (*point, factor * movement[of])).collect();
        let figure = pair.figure(&Quantity {
            terms: follows.iter().map(|(point, weight)| ("heights", point.id.clone(), *weight)).collect(),
            of_target: Box::new(|target| {
                follows.iter().map(|(point, weight)| Some(weight * target.heights_mm.get(&point.id)?)).sum()
            }),
            follows: follows.clone(),
            leans: 0.0,
        })?;
        Some(SplitFigure { value: figure.value?, u: figure.u? })
    };
    // FL − FR − RL + RR of warp·x·y over the wheels: x is ±L/2, y is ±t/2 of each axle.
    let over_wheels = middle * (vehicle.track_front_mm + vehicle.track_rear_mm);
    let degrees = 1.0_f64.to_degrees();
    Some(Split {
        heave_mm: figure(0, 1.0)?,
        pitch_deg: figure(1, degrees)?,
        lean_deg: figure(2, degrees)?,
        twist_mm: figure(3, over_wheels)?,
    })
}
