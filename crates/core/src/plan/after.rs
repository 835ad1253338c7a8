//! What was measured after the work against what was predicted, and what the car taught.

use super::change::Change;
use super::effect::{Effect, End};
use super::kept::KeptPlan;
use super::planned::Planned;
use crate::capture::CarFile;
use crate::car::PointKind;
use crate::compare::{Comparison, Load, Stance, compare};
use crate::level::{Problem, Solution};
use crate::uncertainty::Quantity;
use serde::Serialize;

/// How far the springs of this car really go for what a sum says, by end; `None` where no work has shown it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Taught {
    /// Measured over predicted, front and rear.
    pub ratio: [Option<Quantity>; 2],
}

/// A plan against what was measured afterwards.
#[derive(Clone, Debug)]
pub struct After {
    /// Measured less predicted.
    pub comparison: Comparison,
    /// By end, of the kind of point that was read surest.
    pub ends: Vec<EndAfter>,
}

/// One end of it.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct EndAfter {
    /// Which.
    pub end: End,
    /// The kind of point that says it.
    pub kind: PointKind,
    /// How far it was to rise, mm.
    pub predicted_mm: f64,
    /// How far it did, mm.
    pub measured_mm: f64,
    /// Standard uncertainty of that, mm.
    pub measured_u_mm: f64,
    /// Measured over predicted, where the drop is one of springs and large enough to say it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ratio: Option<f64>,
    /// Standard uncertainty of the ratio.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ratio_u: Option<f64>,
}

/// Less than this teaches nothing, mm.
const LEAST_MM: f64 = 8.0;
/// A ratio outside of this is a slip or other work, no property of springs.
const BELIEVED: std::ops::RangeInclusive<f64> = 0.3..=3.0;

impl Taught {
    /// What a spring's sum says, as this car does it: the ratio's doubt takes the place of the formula's.
    pub(super) fn apply(&self, effect: &mut Effect) {
        for end in 0..2 {
            let Some(ratio) = self.ratio[end] else { continue };
            let learned = |part: Quantity| Quantity::new(part.value * ratio.value, (part.value * ratio.u).abs());
            effect.frame_mm[end] = learned(effect.frame_mm[end]);
            effect.travel_mm[end] = learned(effect.travel_mm[end]);
        }
    }
}

impl After {
    /// What it says about the next prediction.
    pub fn taught(&self) -> Taught {
        let ratio = |end: End| {
            let one = self.ends.iter().find(|one| one.end == end)?;
            Some(Quantity::new(one.ratio?, one.ratio_u?))
        };
        Taught { ratio: [ratio(End::Front), ratio(End::Rear)] }
    }
}

/// A snapshot after the work against the plan.
///
/// # Errors
/// No such snapshot, one on stands, or nothing that both tell.
pub fn after(file: &CarFile, solution: &Solution, planned: &Planned, snapshot: &str) -> Result<After, Problem> {
    if planned.from == snapshot {
        let message = format!("snapshot {} is the one the plan sets out from", crate::wording::shown(snapshot));
        return Err(Problem::new(message, "Name a snapshot that was taken after the work."));
    }
    let comparison = compare(file, solution, Stance::Measured(snapshot), Stance::Planned(planned), Load::Nominal)?;
    let ends = [End::Front, End::Rear].into_iter().filter_map(|end| end_after(file, solution, planned, snapshot, end));
    Ok(After { comparison, ends: ends.collect() })
}

/// What the plans of a file that were carried out have shown, the newest last; with the label of each that showed something.
///
/// A plan is held against the first snapshot on its wheels from the day on which it was carried out.
pub fn taught(file: &CarFile, solution: &Solution) -> (Taught, Vec<(String, After)>) {
    let (mut taught, mut shown) = (Taught::default(), Vec::new());
    for plan in &file.plans {
        let Some(after) = carried_out(file, solution, plan) else { continue };
        let one = after.taught();
        for (known, new) in taught.ratio.iter_mut().zip(one.ratio) {
            *known = new.or(*known);
        }
        shown.push((plan.id.clone(), after));
    }
    (taught, shown)
}

fn carried_out(file: &CarFile, solution: &Solution, plan: &KeptPlan) -> Option<After> {
    let day = plan.carried_out(file)?.get(..10)?;
    let on_wheels = || file.snapshots.iter().filter(|snapshot| snapshot.on_wheels());
    let from = match &plan.from {
        Some(from) => from.clone(),
        None => {
            on_wheels().filter(|snapshot| snapshot.date.as_str() < day).max_by(|a, b| a.date.cmp(&b.date))?.id.clone()
        }
    };
    let since =
        on_wheels().filter(|snapshot| snapshot.date.get(..10).is_some_and(|date| date >= day) && snapshot.id != from);
    let measured = since.min_by(|a, b| a.date.cmp(&b.date))?;
    let changes = plan.done_changes().ok()?;
    let changes: Vec<&Change> = changes.iter().collect();
    let planned = super::planned::plan(file, solution, &from, &changes, &Taught::default()).ok()?;
    after(file, solution, &planned, &measured.id).ok()
}

fn end_after(file: &CarFile, solution: &Solution, planned: &Planned, snapshot: &str, end: End) -> Option<EndAfter> {
    let kinds = [PointKind::FrameRail].into_iter().chain(PointKind::ALL);
    let from = solution.snapshots.iter().find(|stance| stance.id == planned.from)?;
    kinds.into_iter().find_map(|kind| {
        let path = format!("lines_nominal.{}.{}_mean_mm", kind.code(), end.words());
        let change = solution.change(&planned.from, snapshot, &path)?;
        let (measured_mm, measured_u_mm) = change.value.zip(change.u)?;
        let [fl, fr, rl, rr] = from.marks(&file.vehicle, kind);
        let [left, right] = if end == End::Front { [fl?, fr?] } else { [rl?, rr?] };
        let rise = |point| planned.effect.rise(point, file.vehicle.wheelbase_mm).value;
        let predicted_mm = f64::midpoint(rise(left), rise(right));
        let at_end = |step: &&super::planned::StepDrop| step.end == Some(end) && step.comes_from != "nothing";
        let of_springs = planned.steps.iter().filter(at_end).all(|step| step.comes_from == "spring");
        let ratio = measured_mm / predicted_mm;
        let told = of_springs && predicted_mm.abs() >= LEAST_MM && BELIEVED.contains(&ratio);
        Some(EndAfter {
            end,
            kind,
            predicted_mm,
            measured_mm,
            measured_u_mm,
            ratio: told.then_some(ratio),
            ratio_u: told.then_some(measured_u_mm / predicted_mm.abs()),
        })
    })
}
