//! Sets how the app is set.

use super::open_garage;
use crate::wire::{GarageView, Nothing, Problem, Settings};
use crate::{Garage, Now, car_form};

/// Keeps the settings.
///
/// # Errors
/// They cannot be written.
pub fn set_settings(garage: &mut Garage, request: Settings, now: &Now<'_>) -> Result<GarageView, Problem> {
    garage.store.set("app", &car_form::written(&request)?.to_string())?;
    open_garage(garage, Nothing {}, now)
}
