//! What a plan comes to: the picture, a row for each change, what follows, what was measured afterwards.

use super::{Base, refused, stances};
use crate::Garage;
use crate::checks_page::follows;
use crate::compare_page::{self, Chosen};
use crate::fields::Fields;
use crate::plan_form::steps;
use crate::plan_refusal::{InForm, in_form};
use crate::wire::{
    CautionView, ChangeRow, CompareAsk, DifferenceView, FieldProblem, PlanForm, PlanHeight, PlanView, Problem,
    StanceOf, StanceRef,
};
use crate::words::{band_mm, capital, whole};
use std::collections::BTreeSet;
use trueground_core::capture::{CarFile, EventKind};
use trueground_core::level::Solution;
use trueground_core::plan::{After, BEFORE_DRIVING, Change, Planned, StepDrop, Taught, plan, tasks};

/// The changes of a form that can be read and are not left out, each with its number, and what is wrong with the others.
pub(crate) fn read(form: &PlanForm, tape: crate::wire::TapeUnit) -> (Vec<(usize, Change)>, Vec<FieldProblem>) {
    let (mut changes, mut problems) = (Vec::new(), Vec::new());
    for (number, change) in form.changes.iter().enumerate() {
        let mut fields = Fields::default();
        let written = steps(&mut fields, number, change, tape);
        match fields.done() {
            Err(problem) => problems.extend(problem.fields),
            Ok(()) => {
                let read = written
                    .and_then(|steps| Change::of_steps(&number.to_string(), &change.label, &steps, "this change").ok());
                changes.extend(read.map(|change| (number, change)));
            }
        }
    }
    (changes, problems)
}

/// The stance that those changes make together; one that cannot be worked out is left out, and said under its number.
pub(crate) fn planned(base: &Base, changes: &[(usize, Change)]) -> Result<(Planned, Vec<(usize, InForm)>), Problem> {
    planned_of(&base.solved.file, base.solution()?, &base.from.0, &base.taught, changes)
}

/// The same of a file; `from` is the name of the snapshot in it.
pub(super) fn planned_of(
    file: &CarFile,
    solution: &Solution,
    from: &str,
    taught: &Taught,
    changes: &[(usize, Change)],
) -> Result<(Planned, Vec<(usize, InForm)>), Problem> {
    let (mut kept, mut refusals): (Vec<&Change>, Vec<(usize, InForm)>) = (Vec::new(), Vec::new());
    let mut last = plan(file, solution, from, &[], taught).map_err(|problem| refused(&problem))?;
    for (number, change) in changes {
        kept.push(change);
        match plan(file, solution, from, &kept, taught) {
            Ok(planned) => last = planned,
            Err(problem) => {
                kept.pop();
                let kinds: Vec<_> = change.steps.iter().map(|step| step.kind).collect();
                refusals.push((*number, in_form(&kinds, problem.message(), problem.hint())));
            }
        }
    }
    Ok((last, refusals))
}

/// That these steps can be done to the car as it stands; without a snapshot nobody can say.
///
/// # Errors
/// What cannot be done, at its field.
pub(crate) fn can_be_done(garage: &mut Garage, car: &str, steps: &[serde_json::Value]) -> Result<(), Problem> {
    let Some(base) = Base::of(garage, car, "")? else { return Ok(()) };
    let change = Change::of_steps("part", "part", steps, "this part").map_err(|refusal| super::not_read(&refusal))?;
    let (_, refusals) = planned(&base, &[(0, change)])?;
    let mut fields = Fields::default();
    for (_, InForm { key, sentence, hint }) in refusals {
        fields.refuse(&format!("step.{key}"), "", &sentence, &hint);
    }
    fields.done()
}

/// The page of a form.
///
/// # Errors
/// No such car, no snapshot to set out from, or readings that cannot be worked out.
pub(crate) fn view(garage: &mut Garage, form: &PlanForm) -> Result<PlanView, Problem> {
    let Some(base) = Base::of(garage, &form.car, &form.from)? else {
        let hint = "Walk round the car with the tape first: a plan sets out from how it stands now.";
        return Err(Problem::new("nothing_to_plan", "No snapshot to set out from yet.", hint));
    };
    let tape = garage.settings()?.tape;
    let (changes, problems) = read(form, tape);
    let done: Vec<(usize, Change)> =
        changes.iter().filter(|(number, _)| !form.changes[*number].left_out).cloned().collect();
    let (planned, refusals) = planned(&base, &done)?;
    let mut asked = stances(garage, form)?;
    let stance = |of, id: &str| StanceRef { of, id: id.to_owned() };
    let now = asked.find(&stance(StanceOf::Snapshot, &base.from.1))?;
    let then = Chosen::Planned {
        id: form.plan.clone().unwrap_or_default(),
        label: form.label.clone(),
        planned: Box::new(planned.clone()),
    };
    asked.pair = Some((then.clone(), now.clone()));
    let ask = CompareAsk { kind: form.kind.clone(), ..CompareAsk::of(&form.car) };
    let comparison = compare_page::page(&asked, &ask)?.comparison;
    let kind = comparison.as_ref().map(|of| of.kind.clone()).unwrap_or_default();
    let line = planned.stance(&base.solved.file, base.solution()?).lines.remove(&kind);
    let (front, rear) =
        (height(line.as_ref().map(|line| line.front_mean_mm)), height(line.as_ref().map(|line| line.rear_mean_mm)));
    let (follows, counted) = follows(&asked, &then)?;
    let mut cannot = Vec::new();
    let rows = form.changes.iter().enumerate().map(|(number, typed)| {
        let alone = changes.iter().find(|(own, _)| *own == number);
        let steps = match alone {
            Some((_, change)) => self::planned(&base, std::slice::from_ref(&(number, change.clone())))
                .map(|(planned, refusals)| (planned.steps, refusals)),
            None => Ok((Vec::new(), Vec::new())),
        };
        let (steps, alone_refused) = steps.unwrap_or_default();
        let refusal =
            refusals.iter().chain(&alone_refused).find(|(own, _)| *own == number).map(|(_, refusal)| refusal.clone());
        let unread = problems.iter().find(|problem| problem.field.starts_with(&format!("changes.{number}.")));
        let problem = match (&refusal, unread) {
            (Some(refusal), _) => refusal.said(),
            (None, Some(unread)) => unread.sentence.clone(),
            (None, None) => String::new(),
        };
        cannot.extend(refusal.map(|InForm { key, sentence, hint }| FieldProblem {
            field: format!("changes.{number}.{key}"),
            typed: String::new(),
            sentence,
            hint,
            proposals: Vec::new(),
        }));
        row(typed, alone.map(|(_, change)| change), &steps, problem)
    });
    let rows: Vec<ChangeRow> = rows.collect();
    let against = against(&asked, form, &then, &ask);
    let after = form.plan.as_ref().and_then(|id| base.after.iter().find(|(own, _)| own == id));
    Ok(PlanView {
        car: form.car.clone(),
        from: now.choice(&asked),
        date: base.solved.snapshot(&base.from.0).map(|snapshot| snapshot.date.clone()).unwrap_or_default(),
        floor: comparison.as_ref().map(|of| of.floor.clone()).unwrap_or_default(),
        headline: headline(&front, &rear, &problems, &cannot),
        kinds: comparison.as_ref().map(|of| of.kinds.clone()).unwrap_or_default(),
        text: text(&front, &rear, comparison.as_ref().map(|of| [&of.front, &of.rear])),
        overlay: comparison.and_then(|of| of.overlay),
        kind,
        front,
        rear,
        rows,
        follows,
        counted,
        against,
        drops: super::drop::drops(&planned),
        cautions: planned
            .cautions()
            .into_iter()
            .map(|caution| CautionView { headline: caution.headline().to_owned(), words: caution.words().to_owned() })
            .collect(),
        tasks: after_work(&planned),
        problems: problems.into_iter().chain(cannot).collect(),
        after: after.map(|(_, after)| measured(after)).unwrap_or_default(),
        taught: taught(&base.taught),
        before_driving: BEFORE_DRIVING.to_owned(),
    })
}

fn height(figure: Option<trueground_core::stance::Figure>) -> PlanHeight {
    let told = figure.and_then(|figure| figure.value.zip(figure.u));
    PlanHeight {
        value_mm: told.map(|(value, _)| value),
        u_mm: told.map(|(_, u)| u),
        number: told.map(|(value, _)| whole(value)).unwrap_or_default(),
        band: told.map(|(_, u)| format!("±{}", whole(band_mm(u)))).unwrap_or_default(),
    }
}

/// A true minus sign stands before what lowers.
pub(super) fn signed(mm: f64) -> String {
    let printed = whole(mm);
    printed.strip_prefix('-').map_or(printed.clone(), |digits| format!("\u{2212}{digits}"))
}

fn row(typed: &crate::wire::ChangeForm, change: Option<&Change>, steps: &[StepDrop], problem: String) -> ChangeRow {
    let sum = |of: fn(&StepDrop) -> f64| steps.iter().map(of).sum::<f64>();
    let (front, rear) = (sum(|step| step.front_mm.value), sum(|step| step.rear_mm.value));
    let over = sum(|step| step.body_mm.value - step.frame_mm.value);
    let told = problem.is_empty() && !steps.is_empty();
    let own = change.and_then(|change| change.steps.first()).map(|step| capital(&step.words()));
    let kind = typed
        .steps
        .first()
        .and_then(|step| trueground_core::plan::Kind::of(&step.kind))
        .map(|kind| capital(kind.words));
    let label =
        if typed.label.trim().is_empty() { own.or(kind).unwrap_or_default() } else { typed.label.trim().to_owned() };
    let mut follows: Vec<String> = steps.iter().flat_map(|step| step.follows.iter().cloned()).collect();
    let looks: BTreeSet<&str> = steps.iter().flat_map(|step| step.side_effects.iter().copied()).collect();
    if !looks.is_empty() {
        follows.push(format!("Look again at: {}.", looks.into_iter().collect::<Vec<_>>().join("; ")));
    }
    ChangeRow {
        label,
        left_out: typed.left_out,
        front: if told { signed(front) } else { String::new() },
        rear: if told { signed(rear) } else { String::new() },
        front_mm: told.then_some(front),
        rear_mm: told.then_some(rear),
        body: if told && over.abs() >= 0.5 { format!("body {}", signed(over)) } else { String::new() },
        sum: steps.iter().map(|step| step.sum.as_str()).collect::<Vec<_>>().join("; "),
        follows,
        problem,
    }
}

fn headline(front: &PlanHeight, rear: &PlanHeight, unread: &[FieldProblem], cannot: &[FieldProblem]) -> String {
    if unread.is_empty() && !cannot.is_empty() {
        return "A change cannot be done to this car; the rest is planned without it.".to_owned();
    }
    if !unread.is_empty() {
        return "A change cannot be read yet; the rest is planned without it.".to_owned();
    }
    match (front.number.as_str(), rear.number.as_str()) {
        ("", _) | (_, "") => "Can\u{2019}t tell front and rear from this snapshot.".to_owned(),
        (front, rear) => format!("Front {front}, rear {rear} mm, predicted."),
    }
}

fn text(front: &PlanHeight, rear: &PlanHeight, moved: Option<[&DifferenceView; 2]>) -> String {
    let end = |name: &str, height: &PlanHeight, moved: Option<&DifferenceView>| {
        let by = moved.map(|moved| format!(", {} mm {} than now", moved.number, moved.word)).unwrap_or_default();
        let by = if by.starts_with(", 0 ") { ", as now".to_owned() } else { by };
        if height.number.is_empty() {
            format!("{name} can\u{2019}t be told")
        } else {
            format!("{name} {} {} mm{by}", height.number, height.band)
        }
    };
    let [front_moved, rear_moved] = moved.map_or([None, None], |both| both.map(Some));
    format!(
        "Predicted: {}; {}. A plan, not a snapshot.",
        end("front", front, front_moved),
        end("rear", rear, rear_moved)
    )
}

/// "Against low and forward: off, front 9 mm higher."
fn against(asked: &compare_page::Asked, form: &PlanForm, then: &Chosen, ask: &CompareAsk) -> String {
    let Ok(target) = asked.find(&StanceRef { of: StanceOf::Target, id: form.target.clone() }) else {
        return String::new();
    };
    let label = target.choice(asked).label;
    let told = compare_page::told(asked, (then.clone(), target), ask);
    // "Off: front 9 mm higher." stands within a sentence here.
    told.map(|told| format!("Against {label}: {}", lower(&told.replacen(": ", ", ", 1)))).unwrap_or_default()
}

pub(super) fn lower(text: &str) -> String {
    let mut characters = text.chars();
    characters.next().map_or_else(String::new, |first| first.to_lowercase().chain(characters).collect())
}

/// Every task that this work makes, once.
fn after_work(planned: &Planned) -> Vec<String> {
    let kinds = planned.steps.iter().filter_map(|step| trueground_core::plan::Kind::of(step.kind));
    let events: BTreeSet<EventKind> = kinds.map(|kind| kind.event).collect();
    let mut seen = BTreeSet::new();
    events.into_iter().flat_map(tasks).filter(|task| seen.insert(task.code)).map(|task| task.words.to_owned()).collect()
}

/// What was measured after the work.
pub(super) fn measured(after: &After) -> Vec<String> {
    let way = |mm: f64| match mm.round() {
        down if down < 0.0 => format!("{} mm lower", whole(-mm)),
        up if up > 0.0 => format!("{} mm higher", whole(mm)),
        _ => "as before".to_owned(),
    };
    let end = |end: &trueground_core::plan::EndAfter| {
        let mut said = format!(
            "{}: predicted {}, measured {}, ±{}.",
            capital(end.end.words()),
            way(end.predicted_mm),
            way(end.measured_mm),
            whole(band_mm(end.measured_u_mm))
        );
        if let Some(ratio) = end.ratio {
            said += &format!(" These springs go {ratio:.1} times the way that the sum says.");
        }
        said
    };
    after.ends.iter().map(end).collect()
}

fn taught(taught: &Taught) -> Vec<String> {
    let ends = ["front", "rear"].into_iter().zip(taught.ratio);
    let told = ends.filter_map(|(end, ratio)| {
        let ratio = ratio?;
        Some(format!(
            "Sums of {end} springs are taken times {:.1}: earlier work on this car has shown it.",
            ratio.value
        ))
    });
    told.collect()
}
