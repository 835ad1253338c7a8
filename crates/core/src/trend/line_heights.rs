//! The heights of one line of a car, front or rear of one kind of point: which of them take part, by which clock, and between
//! which of them work moved the car.

use super::breaks::{Break, BreakKind};
use super::cause::moved_by;
use super::choice::Heights;
use super::dated::Begun;
use super::fitted::{Fitted, TIE, laws_laid};
use super::laid_law::Common;
use super::of_car::{End, SnapshotHeight, Step};
use super::points::Points;
use super::settling::Model;
use super::timeline::Timeline;
use crate::capture::{CarFile, Event, Snapshot};
use crate::car::PointKind;
use crate::curve_fit::Observed;
use crate::level::Solution;
use crate::stance::{Figure, Line, SnapshotStance};
use chrono::NaiveDate;

/// What heights share is worked out from so many of them at most.
const MOST_COMPARED: usize = 16;

/// Heights of one line in order, and which of them take part.
pub(super) struct LineHeights {
    path: String,
    pub(super) end: End,
    all: Vec<SnapshotHeight>,
    pub(super) taking_part: Vec<usize>,
}

impl LineHeights {
    pub(super) fn of(
        file: &CarFile,
        solution: &Solution,
        dated: &[(NaiveDate, &Snapshot)],
        kind: PointKind,
        end: End,
        begun: &Begun<'_>,
    ) -> Self {
        let path = format!("lines_nominal.{}.{}", kind.code(), end.mean());
        let mut heights = Self { path, end, all: Vec::new(), taking_part: Vec::new() };
        let told = |figure: Figure| figure.value.is_some();
        let at_end = |line: Option<&Line>| -> Option<Figure> {
            line.map(|line| if end == End::Front { line.front_mean_mm } else { line.rear_mean_mm })
        };
        let stance_of = |snapshot: &Snapshot| solution.snapshots.iter().find(|stance| stance.id == snapshot.id);
        // A mark that took the place of another begins the line anew: the step between the two is no settling.
        let read = dated.iter().rev().filter_map(|(_, snapshot)| stance_of(snapshot));
        let mut read = read.filter(|stance| at_end(stance.lines_nominal.get(kind.code())).is_some_and(told));
        let marks = read.next().map(|stance| Self::marks(file, stance, kind, end));
        for (date, snapshot) in dated {
            let Some(stance) = stance_of(snapshot) else { continue };
            if marks != Some(Self::marks(file, stance, kind, end)) {
                continue;
            }
            let nominal = at_end(stance.lines_nominal.get(kind.code()));
            let loaded = at_end(stance.lines.get(kind.code()));
            let Some((value, u)) = nominal.and_then(|figure| figure.value.zip(figure.u)) else { continue };
            let day = (*date - begun.day_0).num_days() as f64;
            let height = SnapshotHeight {
                snapshot: snapshot.id.clone(),
                date: date.to_string(),
                day,
                height_mm: value,
                u_mm: u,
                taken_out_mm: loaded.and_then(|figure| figure.value).map_or(0.0, |loaded| value - loaded),
                km: begun.km(snapshot),
                moved_by: moved_by(file, solution, &snapshot.id, kind, end),
                on_curve_mm: None,
            };
            if heights.repeats_the_last(solution, &height) {
                continue;
            }
            if !is_before(snapshot, day, begun.reset) {
                heights.taking_part.push(heights.all.len());
            }
            heights.all.push(height);
        }
        heights
    }

    /// Marks of this end on which a stance's line rests.
    fn marks<'f>(file: &'f CarFile, stance: &SnapshotStance, kind: PointKind, end: End) -> [Option<&'f str>; 2] {
        let [fl, fr, rl, rr] = stance.marks(&file.vehicle, kind).map(|mark| mark.map(|point| point.id.as_str()));
        if end == End::Front { [fl, fr] } else { [rl, rr] }
    }

    /// True for a second placement of the same stance: its heights are the same unknowns.
    fn repeats_the_last(&self, solution: &Solution, height: &SnapshotHeight) -> bool {
        self.all.last().is_some_and(|last| {
            last.day == height.day && {
                let change = solution.change(&last.snapshot, &height.snapshot, &self.path);
                change.and_then(|change| change.u).is_some_and(|u| u < 1e-9)
            }
        })
    }

    fn counted(&self) -> impl Iterator<Item = &SnapshotHeight> {
        self.taking_part.iter().map(|at| &self.all[*at])
    }

    fn points(&self, clock: impl Fn(&SnapshotHeight) -> f64, steps: Vec<f64>) -> Points {
        let rows = self.counted().map(|height| Observed { x: clock(height), y: height.height_mm, u: height.u_mm });
        Points { rows: rows.collect(), days: self.counted().map(|height| height.day).collect(), steps }
    }

    /// Kilometres by day; none unless they were booked on every day.
    pub(super) fn km(&self) -> Option<Timeline> {
        let booked: Option<Vec<(f64, f64)>> =
            self.counted().map(|height| height.km.map(|km| (height.day, km))).collect();
        Timeline::km(&booked?)
    }

    pub(super) fn heights(&self, solution: &Solution, days: &Timeline, steps: &[&Break]) -> Heights {
        let steps: Vec<f64> = steps.iter().map(|event| event.day).collect();
        let booked = self.counted().all(|height| height.km.is_some_and(|km| km >= 0.0));
        let first = self.counted().next().map_or(0.0, |height| height.day);
        Heights {
            by_days: self.points(|height| days.at(height.day), steps.clone()),
            by_km: booked.then(|| self.points(|height| height.km.unwrap_or_default(), steps)),
            days: (first, self.counted().last().map_or(first, |height| height.day)),
            common: self.common(solution),
        }
    }

    /// What the heights share, from the covariance of some of them.
    fn common(&self, solution: &Solution) -> Common {
        let all = self.taking_part.len();
        let some = all.min(MOST_COMPARED);
        let names: Vec<&str> =
            (0..some).map(|at| self.all[self.taking_part[at * all / some]].snapshot.as_str()).collect();
        let Some(covariance) = solution.covariance(&names, &self.path).filter(|_| some > 1) else {
            return Common::default();
        };
        let own = covariance.diagonal().sum();
        let beside = covariance.sum() - own;
        Common::of(beside / (some * (some - 1)) as f64, own / some as f64)
    }

    /// Work that moved this end between two of its heights; what only may have moved it, where the heights ask for a step.
    pub(super) fn steps<'b>(&self, breaks: &'b [Break], days: &Timeline, model: Model) -> Vec<&'b Break> {
        let parts = |event: &Break| self.counted().filter(|height| height.day < event.day).count();
        let all = self.taking_part.len();
        let mut steps: Vec<&Break> = Vec::new();
        let here = breaks.iter().filter(|event| event.is_at(self.end) && (1..all).contains(&parts(event)));
        for event in here {
            // Two works between the same two heights are one step.
            let same = steps.iter().any(|known| parts(known) == parts(event));
            let told = match event.kind {
                BreakKind::Step => true,
                // A second height on each side tells a step from a bad day.
                BreakKind::MayStep => (2..all - 1).contains(&parts(event)) && self.asks_for(&steps, event, days, model),
                BreakKind::Stored | BreakKind::Back => false,
            };
            if told && !same {
                steps.push(event);
            }
        }
        steps
    }

    /// Whether a step more is worth its parameter.
    fn asks_for(&self, steps: &[&Break], event: &Break, days: &Timeline, model: Model) -> bool {
        let aicc = |steps: Vec<f64>| {
            let points = self.points(|height| days.at(height.day), steps);
            laws_laid(&points, days.horizon, model).first().map(Fitted::aicc)
        };
        let known: Vec<f64> = steps.iter().map(|event| event.day).collect();
        let with: Vec<f64> = known.iter().copied().chain([event.day]).collect();
        aicc(with).zip(aicc(known)).is_some_and(|(with, without)| with < without - TIE)
    }

    /// The heights, those before a step as the curve has them.
    pub(super) fn on_curve(self, steps: &[Step]) -> Vec<SnapshotHeight> {
        let mut all = self.all;
        for at in self.taking_part {
            let height = &mut all[at];
            let after: f64 = steps.iter().filter(|step| height.day < step.day).map(|step| step.step_mm.value).sum();
            height.on_curve_mm = (after != 0.0).then_some(height.height_mm + after);
        }
        all
    }
}

/// True for a snapshot taken before the work: of an earlier day, or of the same with fewer kilometres on the clock.
fn is_before(snapshot: &Snapshot, day: f64, reset: Option<&Event>) -> bool {
    let fewer = || {
        let clocks = snapshot.odometer_km.zip(reset.and_then(|event| event.odometer_km));
        clocks.is_some_and(|(then, work)| then < work)
    };
    day < 0.0 || (day == 0.0 && fewer())
}
