//! Every number of two stances against each other: points, means, rake, lean and twist, by kind of point.

use super::marks::{Told, common, other_marks};
use super::stance::{Quantity, Stance, Sum};
use super::unequal::Unequal;
use super::verdict::Difference;
use super::{Angle, Means};
use crate::capture::CarFile;
use crate::car::{PointKind, RefPoint};
use crate::corner::Corner;
use crate::level::Solution;
use crate::stance::Figure;
use crate::target::Target;
use std::collections::BTreeMap;

/// What is compared.
pub(super) struct Pair<'a> {
    pub(super) file: &'a CarFile,
    pub(super) solution: &'a Solution,
    /// Differences are this…
    pub(super) this: Stance<'a>,
    /// …less this.
    pub(super) other: Stance<'a>,
    /// At nominal load and pressures, or as it stood.
    pub(super) nominal: bool,
}

/// Mean x of front marks and of rear ones, mm; `None` where a corner has none or rear is not behind front.
pub(crate) fn marks_x_mm(marks: [Option<&RefPoint>; 4]) -> Option<[f64; 2]> {
    let [fl, fr, rl, rr] = marks.map(|mark| mark.map(|point| point.x_mm));
    let (front, rear) = (f64::midpoint(fl?, fr?), f64::midpoint(rl?, rr?));
    (front > rear).then_some([front, rear])
}

impl<'a> Pair<'a> {
    /// What tells the heights of one side; `None` for a snapshot that nobody worked out.
    fn told(&self, stance: Stance<'a>) -> Option<Told<'a>> {
        let snapshot = match stance {
            Stance::Target(target) => return Some(Told::Target(target)),
            Stance::Measured(id) => id,
            Stance::Forecast(forecast) => &forecast.snapshot,
            Stance::Planned(planned) => &planned.from,
        };
        self.solution.snapshots.iter().find(|stance| stance.id == *snapshot).map(Told::Snapshot)
    }

    /// The mark of a kind at a corner that both speak of.
    fn mark(&self, kind: PointKind, corner: Corner) -> Option<&'a RefPoint> {
        common(&self.file.vehicle, kind, corner, self.told(self.this)?, self.told(self.other)?)
    }

    /// Where the two speak of different marks.
    pub(super) fn other_marks(&self) -> Option<Unequal> {
        other_marks(&self.file.vehicle, self.told(self.other)?, self.told(self.this)?)
    }

    /// This less the other.
    pub(super) fn figure(&self, of: &Quantity<'_>) -> Option<Figure> {
        let mut sum = Sum::new(self.nominal);
        sum.add(self.this, 1.0, of)?;
        sum.add(self.other, -1.0, of)?;
        sum.figure(self.solution)
    }

    /// What the target says, where one of the two is one; the other first.
    pub(super) fn of_the_target<T>(&self, of: impl Fn(&'a Target) -> Option<T>) -> Option<T> {
        match (self.this, self.other) {
            (_, Stance::Target(target)) | (Stance::Target(target), _) => of(target),
            _ => None,
        }
    }

    pub(super) fn differences(&self) -> BTreeMap<String, Difference> {
        let told = |point: &RefPoint| {
            let quantity = Quantity {
                terms: vec![("heights", point.id.clone(), 1.0)],
                follows: vec![(point, 1.0)],
                leans: 0.0,
                of_target: Box::new(|target| target.heights_mm.get(&point.id).copied()),
            };
            let tolerance = self.of_the_target(|target| Some(target.tolerance_of(&point.id)));
            Some((point.id.clone(), Difference::of(self.figure(&quantity)?, tolerance)))
        };
        self.file.vehicle.ref_points.iter().filter_map(told).collect()
    }

    /// A number of a kind's line, by its name in a stance, how it follows the four heights (per mm), and what a target says of it
    /// from the same sum of its own heights.
    fn line(
        &self,
        kind: PointKind,
        name: &str,
        follows: [f64; 4],
        says: impl Fn(&Target, Option<f64>) -> Option<f64>,
    ) -> Option<Figure> {
        let weighed = Corner::ALL.into_iter().zip(follows).filter(|(_, weight)| *weight != 0.0);
        let follows: Option<Vec<(&RefPoint, f64)>> =
            weighed.map(|(corner, weight)| Some((self.mark(kind, corner)?, weight))).collect();
        let follows = follows?;
        let sum = |target: &Target| -> Option<f64> {
            follows.iter().map(|(point, weight)| Some(weight * target.heights_mm.get(&point.id)?)).sum()
        };
        self.figure(&Quantity {
            terms: vec![("lines", format!("{}.{name}", kind.code()), 1.0)],
            follows: follows.clone(),
            leans: if name == "lean_mm" { self.file.vehicle.track_front_mm } else { 0.0 },
            of_target: Box::new(|target| says(target, sum(target))),
        })
    }

    /// How far a sum over a kind's corners may be off: the mean of what each of them may be.
    fn tolerance(&self, kind: PointKind, follows: [f64; 4]) -> Option<f64> {
        self.of_the_target(|target| {
            let corners = Corner::ALL.into_iter().filter(|corner| follows[corner.index()] != 0.0);
            let points = corners.filter_map(|corner| self.mark(kind, corner));
            let each: Vec<f64> = points.map(|point| target.tolerance_of(&point.id)).collect();
            (!each.is_empty()).then(|| each.iter().sum::<f64>() / each.len() as f64)
        })
    }

    pub(super) fn means(&self) -> BTreeMap<String, Means> {
        let mean = |kind, name: &str, follows| {
            let figure = self.line(kind, name, follows, |_, sum| sum)?;
            Some(Difference::of(figure, self.tolerance(kind, follows)))
        };
        let of_kind = |kind: PointKind| {
            let front = mean(kind, "front_mean_mm", [0.5, 0.5, 0.0, 0.0])?;
            Some((kind.code().to_owned(), Means { front, rear: mean(kind, "rear_mean_mm", [0.0, 0.0, 0.5, 0.5])? }))
        };
        PointKind::ALL.into_iter().filter_map(of_kind).collect()
    }

    pub(super) fn rake(&self) -> BTreeMap<String, Angle> {
        const RISE: [f64; 4] = [-0.5, -0.5, 0.5, 0.5];
        let of_kind = |kind: PointKind| {
            let [front_x_mm, rear_x_mm] = marks_x_mm(Corner::ALL.map(|corner| self.mark(kind, corner)))?;
            let run_mm = front_x_mm - rear_x_mm;
            // A rake that is stated for this kind needs no heights.
            let stated = |target: &Target| target.rake_deg.filter(|_| target.rake_kind == Some(kind));
            let mm = self.line(kind, "rake_mm", RISE, |target, rise| {
                rise.or_else(|| Some(run_mm * libm::tan(stated(target)?.to_radians())))
            })?;
            // A stance that was moved by some mm turns by so much; rakes are small, and so is what tan leaves out.
            let per_mm = 1.0_f64.to_degrees() / run_mm;
            let deg = self.line(kind, "rake_deg", RISE.map(|weight| weight * per_mm), |target, _| {
                let rise = self.rise(target, kind);
                target.stated_rake_deg(kind).or_else(|| Some(libm::atan(rise? / run_mm).to_degrees()))
            })?;
            let tolerance = self.tolerance(kind, RISE);
            // Against a target every number is on or off; what has no tolerance of its own has that of the heights.
            let angle_tolerance = self
                .of_the_target(|target| target.rake_tolerance_deg)
                .or_else(|| tolerance.map(|mm| libm::atan(mm / run_mm).to_degrees()));
            let angle = Angle { mm: Difference::of(mm, tolerance), deg: Difference::of(deg, angle_tolerance) };
            Some((kind.code().to_owned(), angle))
        };
        PointKind::ALL.into_iter().filter_map(of_kind).collect()
    }

    /// Rear less front of a target's own heights, mm.
    fn rise(&self, target: &Target, kind: PointKind) -> Option<f64> {
        let height = |corner| target.heights_mm.get(&self.mark(kind, corner)?.id).copied();
        let [fl, fr, rl, rr] = Corner::ALL.map(height);
        Some(f64::midpoint(rl?, rr?) - f64::midpoint(fl?, fr?))
    }

    /// How far left and right may differ.
    fn side_to_side(&self, kind: PointKind) -> Option<f64> {
        let own = self.of_the_target(|target| target.side_to_side_tolerance_mm);
        own.or_else(|| self.tolerance(kind, [1.0; 4]))
    }

    /// Left side higher, mm over the front track, as a target's own heights say it: the mean of the axles at which it names both. One
    /// that names a kind but no two opposite points of it leans to no side; of other kinds it says nothing.
    fn lean_of(&self, target: &Target, kind: PointKind) -> Option<f64> {
        let vehicle = &self.file.vehicle;
        let at = |corner| {
            let point = self.mark(kind, corner)?;
            Some((point, *target.heights_mm.get(&point.id)?))
        };
        let [fl, fr, rl, rr] = Corner::ALL.map(at);
        let named = target.rake_kind == Some(kind) || [fl, fr, rl, rr].iter().any(Option::is_some);
        let over_track = |((left, high), (right, low)): ((&RefPoint, f64), (&RefPoint, f64))| {
            let apart_mm = left.y_mm - right.y_mm;
            (apart_mm > 0.0).then(|| (high - low) * vehicle.track_front_mm / apart_mm)
        };
        let leans: Vec<f64> = [fl.zip(fr), rl.zip(rr)].into_iter().flatten().filter_map(over_track).collect();
        named.then(|| if leans.is_empty() { 0.0 } else { leans.iter().sum::<f64>() / leans.len() as f64 })
    }

    pub(super) fn lean(&self) -> BTreeMap<String, Angle> {
        let track = self.file.vehicle.track_front_mm;
        let of_kind = |kind: PointKind| {
            // Front and rear go up and down; no forecast leans, and a plan says its lean itself.
            let mm = self.line(kind, "lean_mm", [0.0; 4], |target, _| self.lean_of(target, kind))?;
            let tolerance = self.side_to_side(kind);
            let angle = Angle {
                mm: Difference::of(mm, tolerance),
                deg: Difference::of(
                    scaled(mm, 1.0_f64.to_degrees() / track),
                    tolerance.map(|mm| (mm / track).to_degrees()),
                ),
            };
            Some((kind.code().to_owned(), angle))
        };
        PointKind::ALL.into_iter().filter_map(of_kind).collect()
    }

    pub(super) fn twist(&self) -> BTreeMap<String, Difference> {
        let of_kind = |kind: PointKind| {
            let figure = self.line(kind, "twist_mm", [1.0, -1.0, -1.0, 1.0], |_, sum| sum)?;
            Some((kind.code().to_owned(), Difference::of(figure, self.side_to_side(kind))))
        };
        PointKind::ALL.into_iter().filter_map(of_kind).collect()
    }
}

/// A small angle from a length: figures keep how they are known.
fn scaled(figure: Figure, factor: f64) -> Figure {
    Figure { value: figure.value.map(|value| value * factor), u: figure.u.map(|u| u * factor), ..figure }
}
