//! Keeps a plan, or changes one.

use crate::fields::Fields;
use crate::plan_form::steps;
use crate::wire::{PlanForm, PlansView, Problem};
use crate::{Garage, Now, car_form, plan_page};
use trueground_core::plan::{KeptChange, KeptPlan};

/// Keeps a plan: a prediction, never a snapshot. A change is a new entry that replaces the earlier one.
///
/// # Errors
/// No such car or plan, or every field that cannot be read, at once; then nothing was stored.
pub fn keep_plan(garage: &mut Garage, request: PlanForm, now: &Now<'_>) -> Result<PlansView, Problem> {
    let car = garage.find("car", &request.car)?;
    let file = garage.store.with_plans(car)?;
    let tape = garage.settings()?.tape;
    let earlier = request.plan.as_deref().map(|id| plan_page::plan_of(&file, id)).transpose()?;
    let mut fields = Fields::default();
    let label = fields.label("label", "The plan", &request.label);
    if request.changes.is_empty() {
        fields.refuse("changes", "", "The plan has no change yet.", "Add a change.");
    }
    let mut changes = Vec::new();
    for (number, change) in request.changes.iter().enumerate() {
        let steps = steps(&mut fields, number, change, tape).unwrap_or_default();
        changes.push(KeptChange { label: change.label.trim().to_owned(), left_out: change.left_out, steps });
    }
    fields.done()?;
    let from = garage.store.snapshots(car)?.into_iter().find(|(id, ..)| id.to_string() == request.from);
    let form = PlanForm { plan: None, ..request.clone() };
    let mut extra = earlier.as_ref().map(|earlier| earlier.extra.clone()).unwrap_or_default();
    extra.insert("form".to_owned(), car_form::written(&form)?);
    let id = now.id().to_string();
    let plan = KeptPlan {
        id: id.clone(),
        label: label.unwrap_or_default(),
        from: from.map(|(_, name, _)| name),
        target: Some(request.target.clone()).filter(|target| !target.is_empty()),
        changes,
        note: earlier.as_ref().map(|earlier| earlier.note.clone()).unwrap_or_default(),
        since: Some(now.stamp().date()),
        replaces: earlier.map(|earlier| earlier.id),
        extra,
    };
    garage.store.add_plan(car, &plan, now.stamp())?;
    plan_page::page(garage, car, Some(id), now)
}
