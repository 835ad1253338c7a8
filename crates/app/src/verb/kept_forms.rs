//! Gives back the forms that were half filled in.

use crate::wire::{KeptForms, Nothing, Problem};
use crate::{Garage, Now};

/// Every form that is kept, as it was filled in.
///
/// # Errors
/// The garage cannot be read.
pub fn kept_forms(garage: &mut Garage, _request: Nothing, _now: &Now<'_>) -> Result<KeptForms, Problem> {
    Ok(KeptForms { forms: garage.store.kept_forms()?.into_iter().collect() })
}
