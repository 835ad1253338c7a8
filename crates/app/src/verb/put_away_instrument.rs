//! Puts a tape or gauge away.

use crate::wire::{InstrumentRef, InstrumentsView, Problem};
use crate::{Garage, Now, instrument_page};

/// No longer offers a tape or gauge; what was read with it keeps it.
///
/// # Errors
/// No such entry, or it cannot be written.
pub fn put_away_instrument(
    garage: &mut Garage,
    request: InstrumentRef,
    _now: &Now<'_>,
) -> Result<InstrumentsView, Problem> {
    instrument_page::offered(garage, &request.instrument)?;
    garage.store.put_instrument_away(&request.instrument, true)?;
    instrument_page::page(garage, None)
}
