//! Puts a plan or a part away, brings it back, or says that a plan was carried out.

use crate::wire::{MarkPlan, PlanMarked, PlansView, Problem};
use crate::{Garage, Now, event, plan_page};
use trueground_core::capture::Event;
use trueground_core::plan::{PlanMark, PlanMarkKind};

/// Nothing of a plan or a part is lost. One that was carried out is entered in the history as the work it is, and its list is made.
///
/// # Errors
/// No such car, plan or part, or it cannot be written.
pub fn mark_plan(garage: &mut Garage, request: MarkPlan, now: &Now<'_>) -> Result<PlansView, Problem> {
    let car = garage.find("car", &request.car)?;
    let file = garage.store.with_plans(car)?;
    let what = match request.what {
        PlanMarked::PutAway => PlanMarkKind::PutAway,
        PlanMarked::BroughtBack => PlanMarkKind::BroughtBack,
        PlanMarked::CarriedOut => PlanMarkKind::CarriedOut,
    };
    if what == PlanMarkKind::CarriedOut {
        let plan = plan_page::plan_of(&file, &request.of)?;
        if plan.carried_out(&file).is_none() {
            for (kind, end, words) in plan_page::events_of(&plan) {
                let says = Event {
                    date: now.stamp().date(),
                    kind: Some(kind.code().to_owned()),
                    end,
                    what: words,
                    resets_settling: kind.resets_settling(),
                    ..Event::default()
                };
                let row = event::kept(says, now);
                garage.store.write_event(car, &row, None, now.stamp())?;
            }
        }
    } else if plan_page::plan_of(&file, &request.of).is_err() {
        plan_page::part_of(&file, &request.of)?;
    }
    let mark = PlanMark { uuid: now.id().to_string(), of: request.of.clone(), what, at: now.stamp().iso() };
    garage.store.mark_plan(car, &mark, now.stamp())?;
    plan_page::page(garage, car, (request.what != PlanMarked::PutAway).then_some(request.of), now)
}
