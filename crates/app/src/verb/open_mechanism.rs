//! Opens the form of a part.

use crate::floor_page::vehicle;
use crate::wire::{MechanismFormView, MechanismRef, Problem};
use crate::{Garage, Now, mechanism};

/// What is asked for, and what the car has now, as it was typed.
///
/// # Errors
/// No such car.
pub fn open_mechanism(
    garage: &mut Garage,
    request: MechanismRef,
    _now: &Now<'_>,
) -> Result<MechanismFormView, Problem> {
    let id = garage.find("car", &request.car)?;
    let document = garage.store.car(id)?.document;
    let tape = garage.settings()?.tape;
    mechanism::form(id.to_string(), &document, &vehicle(&document)?, request.part, tape)
}
