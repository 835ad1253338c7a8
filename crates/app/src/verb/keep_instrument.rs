//! Adds a tape or gauge, or changes one.

use crate::wire::{InstrumentForm, InstrumentsView, Problem};
use crate::{Garage, Now, car_form, instrument_form, instrument_page};

/// Keeps a tape or gauge. A change is a new entry from today on: what was read with the earlier one goes on naming it.
///
/// # Errors
/// No such entry, or every field that cannot be read, at once; then nothing was stored.
pub fn keep_instrument(
    garage: &mut Garage,
    request: InstrumentForm,
    now: &Now<'_>,
) -> Result<InstrumentsView, Problem> {
    let earlier = match &request.instrument {
        Some(id) => Some(instrument_page::offered(garage, id)?),
        None => None,
    };
    let id = now.id().to_string();
    let owned = instrument_form::owned(&request, earlier.as_ref(), &id, &now.stamp().date())?;
    if earlier.as_ref().is_some_and(|earlier| instrument_form::says_the_same(earlier, &owned)) {
        return instrument_page::page(garage, request.instrument);
    }
    garage.store.add_instrument(&car_form::written(&owned)?, now.stamp())?;
    instrument_page::page(garage, Some(id))
}
