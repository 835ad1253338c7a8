//! Opens the tapes and gauges of the garage.

use crate::wire::{InstrumentsView, Nothing, Problem};
use crate::{Garage, Now, instrument_page};

/// Every tape and gauge that is offered, with what its numbers do.
///
/// # Errors
/// The garage cannot be read.
pub fn open_instruments(garage: &mut Garage, _request: Nothing, _now: &Now<'_>) -> Result<InstrumentsView, Problem> {
    instrument_page::page(garage, None)
}
