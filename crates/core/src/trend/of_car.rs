//! The settling of a car: one series for the front and one for the rear of each kind of point, from its snapshots.

use super::answer::{Model, SettleFigure, Settling};
use super::breaks::{Break, BreakKind, breaks, stored};
use super::cause::{MovedBy, moved_by};
use super::choice::{Candidate, Chosen, Heights, SharedRate, told};
use super::fit::{MOST_STEPS, Points};
use super::fitted::{TIE, laws_laid};
use super::laid_law::{Common, LaidLaw};
use super::timeline::Timeline;
use crate::bench::Refusal;
use crate::capture::{CarFile, Event, Snapshot};
use crate::car::PointKind;
use crate::curve_fit::Observed;
use crate::level::Solution;
use crate::stance::{Figure, Line, SnapshotStance};
use chrono::NaiveDate;
use serde::Serialize;

/// What heights share is worked out from so many of them at most.
const MOST_COMPARED: usize = 16;

/// Which end of the car.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// Mean of left and right in front.
    Front,
    /// The same behind.
    Rear,
}

impl End {
    pub(super) const ALL: [Self; 2] = [Self::Front, Self::Rear];

    const fn mean(self) -> &'static str {
        match self {
            Self::Front => "front_mean_mm",
            Self::Rear => "rear_mean_mm",
        }
    }
}

/// One height of a line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SnapshotHeight {
    /// The snapshot's name.
    pub snapshot: String,
    /// Its day, `YYYY-MM-DD`.
    pub date: String,
    /// Days since the settling began; negative before it.
    pub day: f64,
    /// At nominal load and pressures, mm.
    pub height_mm: f64,
    /// Its standard uncertainty (k = 1), mm.
    pub u_mm: f64,
    /// What load and pressures of the day were taken out, mm; 0 where nothing was.
    pub taken_out_mm: f64,
    /// Kilometres on the clock since the settling began, where both were booked.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub km: Option<f64>,
    /// What moved the car that day, cause by cause; the nominal height is without it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub moved_by: Vec<MovedBy>,
    /// The height as the curve has it, where work since then has moved the car at once, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub on_curve_mm: Option<f64>,
}

/// Work that moved one end of the car at once, and by how much.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Step {
    /// Its day, `YYYY-MM-DD`.
    pub date: String,
    /// Days since the settling began.
    pub day: f64,
    /// In the person's words.
    pub what: String,
    /// Upwards, mm.
    pub step_mm: SettleFigure,
}

/// How one end of one kind of point settles.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LineSettling {
    /// The kind of point.
    pub kind: PointKind,
    /// Which end.
    pub end: End,
    /// The day on which the settling began, `YYYY-MM-DD`.
    pub day_0: String,
    /// Every height of the line in order, those before day 0 too.
    pub heights: Vec<SnapshotHeight>,
    /// What they say, each end by itself over days.
    #[serde(flatten)]
    pub settling: Settling,
    /// Every law by every clock that was laid through this line by itself, the best first; the second is the runner-up.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub candidates: Vec<Candidate>,
    /// One rate for front and rear, where one can be told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub shared: Option<SharedRate>,
    /// The answer that the heights of both ends ask for, where it is another.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub chosen: Option<Chosen>,
    /// Work since day 0 that moved this end at once.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub steps: Vec<Step>,
    /// Stretches on which the car was stored, from and to in days since day 0; those days do not count. The last may not have ended.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub stored: Vec<(f64, Option<f64>)>,
    /// The law of the answer that counts, for any day; none with too few days.
    #[serde(skip)]
    pub law: Option<LaidLaw>,
}

impl LineSettling {
    /// The answer that counts: the one the heights ask for.
    pub fn answer(&self) -> &Settling {
        self.chosen.as_ref().map_or(&self.settling, |chosen| &chosen.settling)
    }
}

/// Works out the settling of every line of a car.
///
/// Day 0 is that of the last event with `resets_settling`, else of the first snapshot; earlier snapshots take no part. Every height
/// has its full uncertainty, with what it shares with the others (the tape's zero, a floor's levelling): for the law's bend that
/// is too much by a little, for the final height about right. Work since day 0 that moved the car is a step, and stored days do not count.
///
/// # Errors
/// A day that is no date, or heights that no law can be laid through.
pub fn settle_car(file: &CarFile, solution: &Solution, model: Model) -> Result<Vec<LineSettling>, Refusal> {
    let dated = on_its_wheels(file)?;
    let reset = last_reset(file)?;
    let Some(day_0) = reset.map(|(date, _)| date).or_else(|| dated.first().map(|(date, _)| *date)) else {
        return Ok(Vec::new());
    };
    let begun = Begun {
        day_0,
        reset: reset.map(|(_, event)| event),
        first_km: dated.first().and_then(|(_, snapshot)| snapshot.odometer_km),
    };
    let breaks = breaks(file, day_0)?;
    let stored = stored(&breaks);
    let days = Timeline::without(&stored);
    let mut lines = Vec::new();
    for kind in PointKind::ALL {
        let of = |end| LineHeights::of(file, solution, &dated, kind, end, &begun);
        let mut ends: Vec<LineHeights> =
            End::ALL.into_iter().map(of).filter(|line| !line.taking_part.is_empty()).collect();
        let steps: Vec<Vec<&Break>> = ends.iter().map(|line| line.steps(&breaks, &days, model)).collect();
        let km = ends.iter().max_by_key(|line| line.taking_part.len()).and_then(LineHeights::km);
        let heights: Vec<Heights> =
            ends.iter().zip(&steps).map(|(line, steps)| line.heights(solution, &days, steps)).collect();
        let all = told(&heights, &days, km.as_ref(), model)?;
        for ((line, steps), told) in ends.drain(..).zip(steps).zip(all) {
            let sizes = told.law.as_ref().map_or_else(Vec::new, |law| law.steps());
            let steps: Vec<Step> =
                steps.into_iter().zip(sizes).map(|(event, step_mm)| Step::of(event, step_mm)).collect();
            lines.push(LineSettling {
                kind,
                end: line.end,
                day_0: day_0.to_string(),
                heights: line.on_curve(&steps),
                settling: told.settling.no_surer_than(told.chosen.as_ref().map(|chosen| &chosen.settling)),
                candidates: told.candidates,
                shared: told.shared,
                chosen: told.chosen,
                steps,
                stored: stored.iter().map(|(from, to)| (*from, to.is_finite().then_some(*to))).collect(),
                law: told.law,
            });
        }
    }
    Ok(lines)
}

impl Step {
    fn of(event: &Break, step_mm: SettleFigure) -> Self {
        Self { date: event.date.clone(), day: event.day, what: event.what.clone(), step_mm }
    }
}

/// When the settling began, and what stood on the clock then.
struct Begun<'f> {
    day_0: NaiveDate,
    reset: Option<&'f Event>,
    first_km: Option<f64>,
}

impl Begun<'_> {
    /// Kilometres since, where both were booked; of a car without work on its springs, since its first snapshot.
    fn km(&self, snapshot: &Snapshot) -> Option<f64> {
        let begun = self.reset.map_or(self.first_km, |event| event.odometer_km);
        snapshot.odometer_km.zip(begun).map(|(now, then)| now - then)
    }
}

/// Snapshots with their days, in order. A mock-up on stands is no ride height.
pub(super) fn on_its_wheels(file: &CarFile) -> Result<Vec<(NaiveDate, &Snapshot)>, Refusal> {
    let mut dated = Vec::new();
    for (i, snapshot) in file.snapshots.iter().enumerate().filter(|(_, snapshot)| snapshot.on_wheels()) {
        dated.push((date(&snapshot.date, &format!("snapshots[{i}].date"))?, snapshot));
    }
    dated.sort_by_key(|(date, _)| *date);
    Ok(dated)
}

/// A day of the file.
pub(super) fn date(text: &str, path: &str) -> Result<NaiveDate, Refusal> {
    text.parse().map_err(|_| {
        let message = format!("{path} is {}, not a day.", crate::wording::shown(text));
        Refusal::new(message, "Write it as 2031-05-03.")
    })
}

/// The last work after which springs settle anew.
pub(super) fn last_reset(file: &CarFile) -> Result<Option<(NaiveDate, &Event)>, Refusal> {
    let mut last: Option<(NaiveDate, &Event)> = None;
    for (i, event) in file.events.iter().enumerate().filter(|(_, event)| event.resets_settling) {
        let on = date(&event.date, &format!("events[{i}].date"))?;
        if last.is_none_or(|(before, _)| before <= on) {
            last = Some((on, event));
        }
    }
    Ok(last)
}

/// True for a snapshot taken before the work: of an earlier day, or of the same with fewer kilometres on the clock.
fn before(snapshot: &Snapshot, day: f64, reset: Option<&Event>) -> bool {
    let fewer = || {
        let clocks = snapshot.odometer_km.zip(reset.and_then(|event| event.odometer_km));
        clocks.is_some_and(|(then, work)| then < work)
    };
    day < 0.0 || (day == 0.0 && fewer())
}

/// Heights of one line in order, and which of them take part.
struct LineHeights {
    path: String,
    end: End,
    all: Vec<SnapshotHeight>,
    taking_part: Vec<usize>,
}

impl LineHeights {
    fn of(
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
            if !before(snapshot, day, begun.reset) {
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
    fn km(&self) -> Option<Timeline> {
        let booked: Option<Vec<(f64, f64)>> =
            self.counted().map(|height| height.km.map(|km| (height.day, km))).collect();
        Timeline::km(&booked?)
    }

    fn heights(&self, solution: &Solution, days: &Timeline, steps: &[&Break]) -> Heights {
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
    fn steps<'b>(&self, breaks: &'b [Break], days: &Timeline, model: Model) -> Vec<&'b Break> {
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
        steps.split_off(steps.len().saturating_sub(MOST_STEPS))
    }

    /// Whether a step more is worth its parameter.
    fn asks_for(&self, steps: &[&Break], event: &Break, days: &Timeline, model: Model) -> bool {
        let aicc = |steps: Vec<f64>| {
            let points = self.points(|height| days.at(height.day), steps);
            laws_laid(&points, days.horizon, model).first().map(super::fitted::Fitted::aicc)
        };
        let known: Vec<f64> = steps.iter().map(|event| event.day).collect();
        let with: Vec<f64> = known.iter().copied().chain([event.day]).collect();
        aicc(with).zip(aicc(known)).is_some_and(|(with, without)| with < without - TIE)
    }

    /// The heights, those before a step as the curve has them.
    fn on_curve(self, steps: &[Step]) -> Vec<SnapshotHeight> {
        let mut all = self.all;
        for at in self.taking_part {
            let height = &mut all[at];
            let after: f64 = steps.iter().filter(|step| height.day < step.day).map(|step| step.step_mm.value).sum();
            height.on_curve_mm = (after != 0.0).then_some(height.height_mm + after);
        }
        all
    }
}
