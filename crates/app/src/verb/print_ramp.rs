//! A stance on a ground, to print.

use crate::ramp_page::page;
use crate::sheet::ramp;
use crate::wire::{BlankSheet, Problem, SeeRamp};
use crate::words::{day, file_stem};
use crate::{Garage, Now};

/// A page to print, and a name to save it under.
///
/// # Errors
/// As for `see_ramp`, and where nothing can be driven yet.
pub fn print_ramp(garage: &mut Garage, request: SeeRamp, now: &Now<'_>) -> Result<BlankSheet, Problem> {
    let view = page(garage, &request, &now.stamp().date())?;
    let Some(driven) = &view.driven else {
        let nothing = view.nothing.map(|nothing| nothing.said.sentence).unwrap_or_default();
        return Err(Problem::new("nothing_to_drive", "There is nothing to drive over yet.", nothing));
    };
    let id = garage.find("car", &request.car)?;
    let label = garage.store.car_head(id)?.label;
    let today = now.stamp().date();
    Ok(BlankSheet {
        file_name: format!("{}-{}.html", file_stem(&label), file_stem(&driven.ground_words)),
        html: ramp::of(driven, &label, &day(&today)),
    })
}
