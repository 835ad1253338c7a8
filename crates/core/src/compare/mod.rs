//! Two stances of one car against each other: what is really different, and what is within the doubt.

mod split;
mod target;
mod unequal;
mod verdict;

pub use split::{Split, SplitFigure};
pub use target::Target;
pub use unequal::Unequal;
pub use verdict::{Difference, Verdict};

use crate::capture::{CarFile, Snapshot};
use crate::car::PointKind;
use crate::level::{Problem, Solution, Term};
use crate::stance::Figure;
use crate::wording::shown;
use serde::Serialize;
use std::collections::BTreeMap;

/// What a snapshot is held against.
#[derive(Clone, Copy, Debug)]
pub enum Against<'a> {
    /// An earlier one: differences are later less earlier.
    Snapshot(&'a str),
    /// A target: differences are the snapshot less the target.
    Target(&'a Target),
}

/// A difference in mm over a line, and the same in degrees.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Angle {
    /// mm: rake over the marks' own distance, lean over the front track.
    pub mm: Difference,
    /// Degrees.
    pub deg: Difference,
}

/// Front and rear of a kind of point: means of left and right, which the floor's twist does not touch.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Means {
    /// mm.
    pub front: Difference,
    /// mm.
    pub rear: Difference,
}

/// Two stances against each other, at nominal load and pressures.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Comparison {
    /// By point that both have.
    pub differences: BTreeMap<String, Difference>,
    /// By kind of point that both have at all four corners.
    pub means: BTreeMap<String, Means>,
    /// By kind of point: rear less front; positive is more nose-down.
    pub rake: BTreeMap<String, Angle>,
    /// By kind of point: positive is the left side higher.
    pub lean: BTreeMap<String, Angle>,
    /// By kind of point: front left − front right − rear left + rear right, mm.
    pub twist: BTreeMap<String, Difference>,
    /// The differences as movements of a rigid body, and what is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub split: Option<Split>,
    /// What was not alike between the two, first what matters most.
    pub unequal: Vec<Unequal>,
}

/// Compares a snapshot with an earlier one or with a target.
///
/// Floors, tape and roll share that both snapshots share cancel in their difference, so a change on the same marks is sharper than a
/// height. Known effects of load and pressures are taken out; what was read stays as it is.
///
/// # Errors
/// A snapshot that is not in the file, or nothing that both have.
pub fn compare(
    file: &CarFile,
    solution: &Solution,
    snapshot: &str,
    against: Against<'_>,
) -> Result<Comparison, Problem> {
    let later = find(file, snapshot)?;
    let earlier = match against {
        Against::Snapshot(earlier) => Some(find(file, earlier)?),
        Against::Target(_) => None,
    };
    let pair = Pair { file, solution, later, earlier, against };
    let differences = pair.differences();
    if differences.is_empty() {
        let message = format!("snapshot {} and what it is compared with have no point in common", shown(snapshot));
        return Err(Problem::new(message, "Read the same points in both, or name another snapshot."));
    }
    let unequal = earlier.map(|earlier| unequal::unequal(file, earlier, later)).unwrap_or_default();
    Ok(Comparison {
        means: pair.means(),
        rake: pair.angles("rake_mm", "rake_deg"),
        lean: pair.lean(),
        twist: pair.twist(),
        split: split::split(&pair, &differences),
        differences,
        unequal,
    })
}

fn find<'f>(file: &'f CarFile, id: &str) -> Result<&'f Snapshot, Problem> {
    let Some(snapshot) = file.snapshots.iter().find(|snapshot| snapshot.id == id) else {
        let known: Vec<&str> = file.snapshots.iter().map(|snapshot| snapshot.id.as_str()).collect();
        let hint = format!("Name one of them: {}.", crate::wording::listed(&known));
        return Err(Problem::new(format!("there is no snapshot {}", shown(id)), hint));
    };
    if !snapshot.on_wheels() {
        let message = format!("snapshot {} is a mock-up on rated stands: its heights are no ride heights", shown(id));
        return Err(Problem::new(message, "Compare snapshots that stand on their wheels."));
    }
    Ok(snapshot)
}

/// What is compared.
struct Pair<'a> {
    file: &'a CarFile,
    solution: &'a Solution,
    later: &'a Snapshot,
    earlier: Option<&'a Snapshot>,
    against: Against<'a>,
}

impl Pair<'_> {
    /// A sum of figures of the later snapshot less the same of the other.
    fn figure(&self, terms: &[(String, f64)], target: Option<f64>) -> Option<Figure> {
        let mut all = Vec::new();
        for (figure, weight) in terms {
            all.push(Term { snapshot: &self.later.id, figure, weight: *weight });
            if let Some(earlier) = self.earlier {
                all.push(Term { snapshot: &earlier.id, figure, weight: -weight });
            }
        }
        let figure = self.solution.sum(&all)?;
        match self.against {
            Against::Snapshot(_) => Some(figure),
            Against::Target(_) => {
                target.map(|target| Figure { value: figure.value.map(|value| value - target), ..figure })
            }
        }
    }

    /// What the target says, where there is one.
    fn of_the_target(&self, of: impl Fn(&Target) -> Option<f64>) -> Option<f64> {
        match self.against {
            Against::Target(target) => of(target),
            Against::Snapshot(_) => None,
        }
    }

    fn differences(&self) -> BTreeMap<String, Difference> {
        let points = self.file.vehicle.ref_points.iter();
        points
            .filter_map(|point| {
                let target = self.of_the_target(|target| target.heights_mm.get(&point.id).copied());
                let figure = self.figure(&[(format!("heights_nominal.{}", point.id), 1.0)], target)?;
                Some((point.id.clone(), Difference::of(figure, self.of_the_target(|target| Some(target.tolerance_mm)))))
            })
            .collect()
    }

    /// Front left − front right − rear left + rear right and the like of a kind's targets, if all four are given.
    fn of_target(&self, kind: PointKind, weights: [f64; 4]) -> Option<f64> {
        self.of_the_target(|target| {
            let at = |corner| {
                let point = self.file.vehicle.ref_points.iter().find(|p| p.kind == kind && p.corner == corner)?;
                target.heights_mm.get(&point.id).copied()
            };
            let heights: Option<Vec<f64>> = crate::corner::Corner::ALL.into_iter().map(at).collect();
            Some(heights?.iter().zip(weights).map(|(height, weight)| height * weight).sum())
        })
    }

    fn means(&self) -> BTreeMap<String, Means> {
        let of_kind = |kind: PointKind| {
            let tolerance = self.of_the_target(|target| Some(target.tolerance_mm));
            let mean = |name: &str, weights: [f64; 4]| {
                let path = format!("lines_nominal.{}.{name}", kind.code());
                Some(Difference::of(self.figure(&[(path, 1.0)], self.of_target(kind, weights))?, tolerance))
            };
            let front = mean("front_mean_mm", [0.5, 0.5, 0.0, 0.0])?;
            Some((kind.code().to_owned(), Means { front, rear: mean("rear_mean_mm", [0.0, 0.0, 0.5, 0.5])? }))
        };
        PointKind::ALL.into_iter().filter_map(of_kind).collect()
    }

    fn angles(&self, mm: &str, deg: &str) -> BTreeMap<String, Angle> {
        let of_kind = |kind: PointKind| {
            let path = |name: &str| format!("lines_nominal.{}.{name}", kind.code());
            let rise = self.of_target(kind, [-0.5, -0.5, 0.5, 0.5]);
            let angle = rise.and_then(|rise| Some(libm::atan(rise / self.run_mm(kind)?).to_degrees()));
            let stated = self.of_the_target(|target| target.rake_deg).or(angle);
            let mm = self.figure(&[(path(mm), 1.0)], rise)?;
            let deg = self.figure(&[(path(deg), 1.0)], stated)?;
            let tolerance = self.of_the_target(|target| Some(target.tolerance_mm));
            let angle_tolerance = self.of_the_target(|target| target.rake_tolerance_deg);
            Some((
                kind.code().to_owned(),
                Angle { mm: Difference::of(mm, tolerance), deg: Difference::of(deg, angle_tolerance) },
            ))
        };
        PointKind::ALL.into_iter().filter_map(of_kind).collect()
    }

    /// From the front marks of a kind to its rear ones, mm.
    fn run_mm(&self, kind: PointKind) -> Option<f64> {
        let at =
            |corner| self.file.vehicle.ref_points.iter().find(|p| p.kind == kind && p.corner == corner).map(|p| p.x_mm);
        let x: Option<Vec<f64>> = crate::corner::Corner::ALL.into_iter().map(at).collect();
        let x = x?;
        Some((x[0] + x[1] - x[2] - x[3]) / 2.0).filter(|run| *run > 0.0)
    }

    /// Against a target the lean is against none.
    fn lean(&self) -> BTreeMap<String, Angle> {
        let track = self.file.vehicle.track_front_mm;
        let of_kind = |kind: PointKind| {
            let mm = self.figure(&[(format!("lines_nominal.{}.lean_mm", kind.code()), 1.0)], Some(0.0))?;
            let deg = scaled(mm, 1.0_f64.to_degrees() / track);
            let tolerance = self.of_the_target(|target| target.side_to_side_tolerance_mm);
            let angle = Angle {
                mm: Difference::of(mm, tolerance),
                deg: Difference::of(deg, tolerance.map(|mm| (mm / track).to_degrees())),
            };
            Some((kind.code().to_owned(), angle))
        };
        PointKind::ALL.into_iter().filter_map(of_kind).collect()
    }

    fn twist(&self) -> BTreeMap<String, Difference> {
        let of_kind = |kind: PointKind| {
            let target = self.of_target(kind, [1.0, -1.0, -1.0, 1.0]);
            let figure = self.figure(&[(format!("lines_nominal.{}.twist_mm", kind.code()), 1.0)], target)?;
            let tolerance = self.of_the_target(|target| target.side_to_side_tolerance_mm);
            Some((kind.code().to_owned(), Difference::of(figure, tolerance)))
        };
        PointKind::ALL.into_iter().filter_map(of_kind).collect()
    }
}

/// A small angle from a length: figures keep how they are known.
fn scaled(figure: Figure, factor: f64) -> Figure {
    Figure { value: figure.value.map(|value| value * factor), u: figure.u.map(|u| u * factor), ..figure }
}
