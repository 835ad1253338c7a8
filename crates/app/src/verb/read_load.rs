//! Says what a typed load comes to.

use crate::fields::Fields;
use crate::floor_page::vehicle;
use crate::wire::{LoadRead, Problem, ReadLoad};
use crate::{Garage, Now, load};

/// The masses at their places, and about what they do to the heights. Nothing is stored.
///
/// # Errors
/// No such car, or every field that cannot be read, at once.
pub fn read_load(garage: &mut Garage, request: ReadLoad, _now: &Now<'_>) -> Result<LoadRead, Problem> {
    let vehicle = vehicle(&garage.store.car(garage.find("car", &request.car)?)?.document)?;
    let mut fields = Fields::default();
    let changes = load::read(&mut fields, &request.load, &vehicle);
    fields.done()?;
    Ok(load::view(&vehicle, &changes))
}
