//! What follows from a stance, to print.

use crate::checks_page::page;
use crate::sheet::findings;
use crate::wire::{BlankSheet, Problem, SeeChecks};
use crate::words::file_stem;
use crate::{Garage, Now};

/// A page to print, and a name to save it under.
///
/// # Errors
/// As for `see_checks`, and where there is no stance yet.
pub fn print_checks(garage: &mut Garage, request: SeeChecks, now: &Now<'_>) -> Result<BlankSheet, Problem> {
    let view = page(garage, &request, &now.stamp().date())?;
    let Some(checked) = &view.checked else {
        let nothing = view.nothing.map(|nothing| nothing.sentence).unwrap_or_default();
        return Err(Problem::new("nothing_to_check", "There is nothing to check yet.", nothing));
    };
    let id = garage.find("car", &request.car)?;
    let label = garage.store.car_head(id)?.label;
    Ok(BlankSheet { file_name: format!("{}-checks.html", file_stem(&label)), html: findings::page(&label, checked) })
}
