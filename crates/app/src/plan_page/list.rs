//! Kept plans and parts, with the forms that would change them.

use super::follow::{day_of, follow_up};
use crate::plan_form::{forms, kinds, step_form};
use crate::wire::{PartForm, PartRow, PlanForm, PlanRef, PlansView, Problem, TapeUnit, TargetChoice};
use crate::words::{counted, day};
use crate::{Garage, Now, snapshot_row, solved};
use trueground_core::capture::CarFile;
use trueground_core::plan::{KeptPart, KeptPlan};
use trueground_core::target::Target;
use trueground_core::wording::shown;
use trueground_store::StoreError;
use uuid::Uuid;

/// The page.
///
/// # Errors
/// The car cannot be read.
pub(crate) fn page(garage: &mut Garage, car: Uuid, kept: Option<String>, now: &Now<'_>) -> Result<PlansView, Problem> {
    let file = garage.store.with_plans(car)?;
    let tape = garage.settings()?.tape;
    let snapshots = snapshots(garage, car)?;
    let targets = garage.store.targets(car)?.into_iter().rev();
    let label =
        |target: &Target| if target.label.trim().is_empty() { "the target".to_owned() } else { shown(&target.label) };
    let targets: Vec<TargetChoice> =
        targets.map(|target| TargetChoice { words: label(&target), id: target.id }).collect();
    let about = About { car, file: &file, tape, snapshots: &snapshots };
    let replaced = |id: &str| file.plans.iter().any(|plan| plan.replaces.as_deref() == Some(id));
    let replaced_part = |id: &str| file.parts.iter().any(|part| part.replaces.as_deref() == Some(id));
    let (rows, put_away): (Vec<_>, Vec<_>) =
        file.plans.iter().rev().filter(|plan| !replaced(&plan.id)).partition(|plan| plan.is_offered(&file));
    let (parts, parts_away): (Vec<_>, Vec<_>) =
        file.parts.iter().filter(|part| !replaced_part(&part.id)).partition(|part| part.is_offered(&file));
    let nothing = if snapshots.is_empty() {
        "Walk round the car with the tape first: a plan sets out from how it stands now."
    } else {
        ""
    };
    Ok(PlansView {
        car: car.to_string(),
        rows: rows.into_iter().map(|plan| about.plan(plan)).collect(),
        put_away: put_away.into_iter().map(|plan| about.plan(plan)).collect(),
        kept,
        blank: PlanForm {
            car: car.to_string(),
            target: targets.first().map(|target| target.id.clone()).unwrap_or_default(),
            ..PlanForm::default()
        },
        kinds: kinds(),
        parts: parts.into_iter().map(|part| about.part(part)).collect(),
        parts_away: parts_away.into_iter().map(|part| about.part(part)).collect(),
        blank_part: PartForm { car: car.to_string(), ..PartForm::default() },
        tape,
        nothing: nothing.to_owned(),
        follow_up: follow_up(garage, car, &file, now)?,
        snapshots,
        targets,
    })
}

struct About<'a> {
    car: Uuid,
    file: &'a CarFile,
    tape: TapeUnit,
    snapshots: &'a [TargetChoice],
}

impl About<'_> {
    fn plan(&self, plan: &KeptPlan) -> PlanRef {
        let done = plan.changes.iter().filter(|change| !change.left_out).count();
        let mut detail = counted(done, "change", "changes");
        if let Some(since) = &plan.since {
            detail += &format!(", {}", day(since));
        }
        if let Some(at) = plan.carried_out(self.file) {
            detail += &format!("; done {}", day_of(at));
        }
        PlanRef {
            id: plan.id.clone(),
            label: if plan.label.trim().is_empty() { "A plan".to_owned() } else { plan.label.clone() },
            detail,
            carried_out: plan.carried_out(self.file).is_some(),
            form: self.form(plan),
        }
    }

    /// As it was typed, where it was; else from what a file says.
    fn form(&self, plan: &KeptPlan) -> PlanForm {
        let typed: Option<PlanForm> = plan.extra.get("form").and_then(|form| serde_json::from_value(form.clone()).ok());
        let from =
            plan.from.as_ref().and_then(|name| self.snapshots.iter().find(|own| own.id == named(self.car, name)));
        PlanForm {
            car: self.car.to_string(),
            plan: Some(plan.id.clone()),
            label: plan.label.clone(),
            from: from.map(|own| own.id.clone()).unwrap_or_default(),
            target: plan.target.clone().unwrap_or_default(),
            kind: String::new(),
            changes: typed.map_or_else(|| forms(&plan.changes, self.tape), |form| form.changes),
        }
    }

    fn part(&self, part: &KeptPart) -> PartRow {
        let text = |key: &str| part.says.get(key).and_then(|value| value.as_str()).unwrap_or_default().to_owned();
        let number = |key: &str| part.says.get(key).and_then(serde_json::Value::as_f64);
        let steps = part.says.get("steps").and_then(|steps| steps.as_array()).cloned().unwrap_or_default();
        let form = PartForm {
            car: self.car.to_string(),
            part: Some(part.id.clone()),
            label: text("label"),
            slot: text("slot"),
            steps: steps.iter().map(|step| step_form(step, self.tape)).collect(),
            price: number("price").filter(|price| *price > 0.0).map(|price| price.to_string()).unwrap_or_default(),
            hours: number("hours").filter(|hours| *hours > 0.0).map(|hours| hours.to_string()).unwrap_or_default(),
        };
        let mut detail = form.slot.clone();
        for (typed, unit) in [(&form.price, ""), (&form.hours, " hours")] {
            if !typed.is_empty() {
                detail += &format!("; {typed}{unit}");
            }
        }
        let label = if form.label.is_empty() { part.id.clone() } else { form.label.clone() };
        PartRow { id: part.id.clone(), label, detail: detail.trim_start_matches("; ").to_owned(), form }
    }
}

fn named(car: Uuid, name: &str) -> String {
    trueground_store::named_id(car, "snapshot", name).to_string()
}

fn snapshots(garage: &mut Garage, car: Uuid) -> Result<Vec<TargetChoice>, Problem> {
    let solved = solved::car(garage, car, None)?;
    let mut choices: Vec<(String, TargetChoice)> = Vec::new();
    for (id, name, finished) in garage.store.snapshots(car)? {
        let Some(snapshot) = solved.snapshot(&name).filter(|snapshot| finished && snapshot.on_wheels()) else {
            continue;
        };
        let row = snapshot_row::row(&solved, id, snapshot, None);
        let words = format!("{}, {}", day(&row.date), row.floor);
        choices.push((row.date, TargetChoice { id: row.snapshot, words }));
    }
    choices.sort_by(|a, b| b.0.cmp(&a.0));
    Ok(choices.into_iter().map(|(_, choice)| choice).collect())
}

/// The plan of that name.
///
/// # Errors
/// There is none.
pub(crate) fn plan_of(file: &CarFile, id: &str) -> Result<KeptPlan, Problem> {
    let found = file.plans.iter().find(|plan| plan.id == id).cloned();
    found.ok_or_else(|| StoreError::NotFound { what: "plan", id: shown(id) }.into())
}

/// The part of that name.
///
/// # Errors
/// There is none.
pub(crate) fn part_of(file: &CarFile, id: &str) -> Result<KeptPart, Problem> {
    let found = file.parts.iter().find(|part| part.id == id).cloned();
    found.ok_or_else(|| StoreError::NotFound { what: "part", id: shown(id) }.into())
}
