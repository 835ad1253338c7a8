//! Changes the order of an unfinished walk.

use crate::plan::Plan;
use crate::slip::about_newest;
use crate::step::Step;
use crate::steps::{part, steps};
use crate::walk_page::{Walk, page};
use crate::wire::{OrderWalk, Problem, WalkView};
use crate::{Garage, Now, car_form};

/// Begins the walk at another corner or goes the other way round. What is read stays read and half-typed text stays at its step;
/// where nothing is typed, the walk goes on at the first corner that is still open in the round that is being read.
///
/// # Errors
/// No such snapshot, or it is finished.
pub fn order_walk(garage: &mut Garage, request: OrderWalk, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = Walk::of(garage, id)?;
    let plan = Plan { order: request.order, ..walk.plan.clone() };
    let typed = walk.snapshot.draft.as_ref().is_some_and(|draft| !draft.text.is_empty());
    let next =
        if typed || about_newest(garage, &walk)?.question.is_some() { None } else { first_in_round(&walk, &plan) };
    garage.store.change_plan(id, &car_form::written(&plan)?, next.as_deref(), now.stamp())?;
    page(garage, id)
}

/// Name of the first open step of the present round in the new order; none where the walk is at its end.
fn first_in_round(walk: &Walk, plan: &Plan) -> Option<String> {
    let now = walk.steps.get(walk.at())?;
    let all = steps(&walk.snapshot, plan, &walk.vehicle);
    let same = |step: &&Step| part(step) == part(now);
    all.iter().filter(same).find(|step| walk.open(step)).map(Step::key)
}
