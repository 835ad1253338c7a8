//! A plan as a stance: what its steps do to a number, and the heights and lines it predicts.

use super::stance::{Quantity as Number, Stance, Sum};
use crate::capture::CarFile;
use crate::car::{PointKind, RefPoint};
use crate::compare::marks_x_mm;
use crate::level::Solution;
use crate::plan::{PREDICTION_U_MM, Planned};
use crate::stance::Figure;
use crate::uncertainty::Quantity;
use serde::Serialize;
use std::collections::BTreeMap;

/// What a plan predicts, at nominal load and pressures. Not measured, and never stored as such.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlannedStance {
    /// Always `predicted`.
    pub basis: &'static str,
    /// The snapshot it sets out from.
    pub from: String,
    /// By point, mm.
    pub heights: BTreeMap<String, Figure>,
    /// By kind of point.
    pub lines: BTreeMap<String, PlannedLine>,
}

/// Front and rear of a kind of point.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PlannedLine {
    /// mm.
    pub front_mean_mm: Figure,
    /// mm.
    pub rear_mean_mm: Figure,
    /// Rear less front, mm.
    pub rake_mm: Figure,
    /// Positive nose-down.
    pub rake_deg: Figure,
    /// mm.
    pub front_left_minus_right_mm: Figure,
    /// mm.
    pub rear_left_minus_right_mm: Figure,
    /// FL − FR − RL + RR, mm.
    pub twist_mm: Figure,
}

/// How far the steps move a number, with their doubts and the prediction's own: 2 mm of either end as a whole, so that left less right
/// and twist have none of it.
pub(super) fn moved(planned: &Planned, of: &Number<'_>) -> Quantity {
    let effect = &planned.effect;
    let wheelbase = planned.vehicle.wheelbase_mm;
    // Per mm of: front, rear, body over frame, and lean.
    let mut follows = [0.0; 4];
    let mut ends = [0.0; 2];
    for (point, weight) in &of.follows {
        let back = -point.x_mm / wheelbase;
        follows[0] += weight * (1.0 - back);
        follows[1] += weight * back;
        follows[2] += if crate::plan::is_of_the_body(point.kind) { *weight } else { 0.0 };
        follows[3] += weight * point.y_mm;
        ends[usize::from(!point.corner.is_front())] += weight;
    }
    follows[3] += of.leans;
    let parts = [effect.frame_mm[0], effect.frame_mm[1], effect.body_over_frame_mm, effect.lean];
    let value = parts.iter().zip(follows).map(|(part, follows)| part.value * follows).sum();
    let own: f64 = parts.iter().zip(follows).map(|(part, follows)| (part.u * follows).powi(2)).sum();
    let prediction: f64 = ends.iter().map(|end| (PREDICTION_U_MM * end).powi(2)).sum();
    Quantity::new(value, (own + prediction).sqrt())
}

impl Planned {
    /// The stance that is predicted; a point that the snapshot does not tell is not told here either.
    pub fn stance(&self, file: &CarFile, solution: &Solution) -> PlannedStance {
        let figure = |number: &Number<'_>| {
            let mut sum = Sum::new(true);
            sum.add(Stance::Planned(self), 1.0, number)?;
            sum.figure(solution)
        };
        let points = &file.vehicle.ref_points;
        let height = |point: &RefPoint| {
            let number = number("heights", point.id.clone(), vec![(point, 1.0)]);
            Some((point.id.clone(), figure(&number)?))
        };
        let line = |kind: PointKind| {
            let from = solution.snapshots.iter().find(|stance| stance.id == self.from)?;
            let marks = from.marks(&file.vehicle, kind);
            let run_mm = marks_x_mm(marks).map(|[front, rear]| front - rear)?;
            let of = |name: &str, weights: [f64; 4]| {
                let follows: Option<Vec<(&RefPoint, f64)>> =
                    marks.into_iter().zip(weights).map(|(mark, weight)| Some((mark?, weight))).collect();
                figure(&number("lines", format!("{}.{name}", kind.code()), follows?))
            };
            let per_mm = 1.0_f64.to_degrees() / run_mm;
            const RISE: [f64; 4] = [-0.5, -0.5, 0.5, 0.5];
            Some((
                kind.code().to_owned(),
                PlannedLine {
                    front_mean_mm: of("front_mean_mm", [0.5, 0.5, 0.0, 0.0])?,
                    rear_mean_mm: of("rear_mean_mm", [0.0, 0.0, 0.5, 0.5])?,
                    rake_mm: of("rake_mm", RISE)?,
                    rake_deg: of("rake_deg", RISE.map(|weight| weight * per_mm))?,
                    front_left_minus_right_mm: of("front_left_minus_right_mm", [1.0, -1.0, 0.0, 0.0])?,
                    rear_left_minus_right_mm: of("rear_left_minus_right_mm", [0.0, 0.0, 1.0, -1.0])?,
                    twist_mm: of("twist_mm", [1.0, -1.0, -1.0, 1.0])?,
                },
            ))
        };
        PlannedStance {
            basis: "predicted",
            from: self.from.clone(),
            heights: points.iter().filter_map(height).collect(),
            lines: PointKind::ALL.into_iter().filter_map(line).collect(),
        }
    }
}

fn number<'q>(group: &'static str, name: String, follows: Vec<(&'q RefPoint, f64)>) -> Number<'q> {
    Number { terms: vec![(group, name, 1.0)], follows, leans: 0.0, of_target: Box::new(|_| None) }
}
