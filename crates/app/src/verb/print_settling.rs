//! The Settling tab, to print.

use super::see_settling::see_settling;
use crate::floor_page::vehicle;
use crate::sheet::settling;
use crate::wire::{BlankSheet, Problem, SeeSettling};
use crate::words::{day, file_stem};
use crate::{Garage, Now};

/// A page to print, and a name to save it under.
///
/// # Errors
/// No such car, or its readings cannot be worked out.
pub fn print_settling(garage: &mut Garage, request: SeeSettling, now: &Now<'_>) -> Result<BlankSheet, Problem> {
    let view = see_settling(garage, request, now)?;
    let car = garage.store.car(garage.find("car", &view.car)?)?;
    let label = vehicle(&car.document)?.label;
    let today = now.stamp().date();
    Ok(BlankSheet {
        file_name: format!("{}-settling-{today}.html", file_stem(&label)),
        html: settling::of(&view, &label, &day(&today)),
    })
}
