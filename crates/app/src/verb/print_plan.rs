//! A plan, to print.

use crate::wire::{BlankSheet, PlanForm, Problem};
use crate::words::file_stem;
use crate::{Garage, Now, plan_page, sheet};

/// A page to print, and a name to save it under.
///
/// # Errors
/// As for `sketch_plan`.
pub fn print_plan(garage: &mut Garage, request: PlanForm, _now: &Now<'_>) -> Result<BlankSheet, Problem> {
    let view = plan_page::view(garage, &request)?;
    let car = garage.find("car", &request.car)?;
    let label = garage.store.car_head(car)?.label;
    Ok(BlankSheet {
        file_name: format!("{}-plan.html", file_stem(&label)),
        html: sheet::plan(&label, &request.label, &view),
    })
}
