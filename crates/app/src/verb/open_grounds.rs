//! Opens the list of grounds.

use crate::wire::{GroundsView, Nothing, Problem};
use crate::{Garage, Now, ground_page};

/// Every ground of the garage, and an empty form.
///
/// # Errors
/// The garage cannot be read.
pub fn open_grounds(garage: &mut Garage, _request: Nothing, _now: &Now<'_>) -> Result<GroundsView, Problem> {
    ground_page::list(garage)
}
