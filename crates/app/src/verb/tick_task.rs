//! Ticks a task of the list that work made, or takes the tick back.

use crate::wire::{PlansView, Problem, TickTask};
use crate::{Garage, Now, event, plan_page};

/// The tick is kept with its day; taking it back is another row.
///
/// # Errors
/// No such car or event, or it cannot be written.
pub fn tick_task(garage: &mut Garage, request: TickTask, now: &Now<'_>) -> Result<PlansView, Problem> {
    let car = garage.find("car", &request.car)?;
    event::find(garage, car, &request.event)?;
    garage.store.add_tick(car, &plan_page::tick(&request, now), now.stamp())?;
    plan_page::page(garage, car, None, now)
}
