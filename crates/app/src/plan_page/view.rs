//! What a plan comes to: the picture, a row for each change, what follows, what was measured afterwards.

use super::follows::follows;
use super::{Base, ended, refused, stances};
use crate::Garage;
use crate::compare_page::{self, Chosen};
use crate::fields::Fields;
use crate::plan_form::steps;
use crate::wire::{
    CautionView, ChangeRow, CompareAsk, DifferenceView, FieldProblem, PlanForm, PlanHeight, PlanView, Problem,
    StanceOf, StanceRef,
};
use crate::words::{band_mm, capital, whole};
use std::collections::BTreeSet;
use trueground_core::capture::EventKind;
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
pub(crate) fn planned(base: &Base, changes: &[(usize, Change)]) -> Result<(Planned, Vec<(usize, String)>), Problem> {
    let solution = base.solution()?;
    let (mut kept, mut refusals): (Vec<&Change>, Vec<(usize, String)>) = (Vec::new(), Vec::new());
    let mut last =
        plan(&base.solved.file, solution, &base.from.0, &[], &base.taught).map_err(|problem| refused(&problem))?;
    for (number, change) in changes {
        kept.push(change);
        match plan(&base.solved.file, solution, &base.from.0, &kept, &base.taught) {
            Ok(planned) => last = planned,
            Err(problem) => {
                kept.pop();
                let said = format!("{} {}", ended(problem.message()), ended(problem.hint()));
                refusals.push((*number, without_place(&said)));
            }
        }
    }
    Ok((last, refusals))
}

/// A refusal without the place in a file that it names.
pub(super) fn without_place(said: &str) -> String {
    // Parts of a file say where they stand: "parts[2].steps[0]: …".
    let said = said
        .split_once("]: ")
        .filter(|(place, _)| place.starts_with("parts[") || place.starts_with("changes["))
        .map_or(said, |(_, rest)| rest);
    let short = ["This change[0]: ", "this change[0]: ", "This part[0]: ", "this part[0]: "];
    let short = short.iter().fold(said.to_owned(), |said, place| said.replace(place, ""));
    capital(&short.replace(" in this change[0]", "").replace(" in this part[0]", ""))
}

/// That these steps can be done to the car as it stands; without a snapshot nobody can say.
///
/// # Errors
/// What cannot be done, at the field `step.kind`.
pub(crate) fn can_be_done(garage: &mut Garage, car: &str, steps: &[serde_json::Value]) -> Result<(), Problem> {
    let Some(base) = Base::of(garage, car, "")? else { return Ok(()) };
    let change = Change::of_steps("part", "part", steps, "this part").map_err(|refusal| super::not_read(&refusal))?;
    let (_, refusals) = planned(&base, &[(0, change)])?;
    let mut fields = Fields::default();
    for (_, said) in refusals {
        fields.refuse("step.kind", "", &said, "");
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
    let ask = CompareAsk {
        car: form.car.clone(),
        this: None,
        other: None,
        kind: form.kind.clone(),
        as_loaded: false,
        times: 0,
    };
    let comparison = compare_page::page(&asked, &ask)?.comparison;
    let kind = comparison.as_ref().map(|of| of.kind.clone()).unwrap_or_default();
    let line = planned.stance(&base.solved.file, base.solution()?).lines.remove(&kind);
    let (front, rear) =
        (height(line.as_ref().map(|line| line.front_mean_mm)), height(line.as_ref().map(|line| line.rear_mean_mm)));
    let (follows, counted) = follows(&base, &planned)?;
    let rows = form.changes.iter().enumerate().map(|(number, typed)| {
        let alone = changes.iter().find(|(own, _)| *own == number);
        let steps = match alone {
            Some((_, change)) => self::planned(&base, std::slice::from_ref(&(number, change.clone())))
                .map(|(planned, refusals)| (planned.steps, refusals)),
            None => Ok((Vec::new(), Vec::new())),
        };
        let (steps, alone_refused) = steps.unwrap_or_default();
        let refusal =
            refusals.iter().chain(&alone_refused).find(|(own, _)| *own == number).map(|(_, said)| said.clone());
        let unread = problems.iter().find(|problem| problem.field.starts_with(&format!("changes.{number}.")));
        let problem = refusal.or_else(|| unread.map(|problem| problem.sentence.clone())).unwrap_or_default();
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
        headline: headline(&front, &rear, &problems),
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
        cautions: planned
            .cautions()
            .into_iter()
            .map(|caution| CautionView { headline: caution.headline().to_owned(), words: caution.words().to_owned() })
            .collect(),
        tasks: after_work(&planned),
        problems,
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
fn signed(mm: f64) -> String {
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

fn headline(front: &PlanHeight, rear: &PlanHeight, problems: &[FieldProblem]) -> String {
    if !problems.is_empty() {
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
    told.map(|told| format!("Against {label}: {told}")).unwrap_or_default()
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
