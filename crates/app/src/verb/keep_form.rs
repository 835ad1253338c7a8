//! Keeps a form half filled in.

use crate::wire::{KeepForm, Problem};
use crate::{Garage, Now};

/// Longest name and text that are kept, in characters; more than any form has.
const LONGEST_NAME: usize = 200;
const LONGEST_TEXT: usize = 100_000;

/// Keeps what is filled in so far, or lets go of it; it is on the disk when the reply comes.
///
/// # Errors
/// It is longer than any form, or it cannot be written.
pub fn keep_form(garage: &mut Garage, request: KeepForm, now: &Now<'_>) -> Result<(), Problem> {
    let Some(text) = request.text else { return Ok(garage.store.drop_form(&request.name)?) };
    if request.name.chars().count() > LONGEST_NAME || text.chars().count() > LONGEST_TEXT {
        let sentence =
            format!("A form of {} characters is longer than can be kept half filled in.", text.chars().count());
        return Err(Problem::new("form_too_long", sentence, "Shorten what was typed last."));
    }
    Ok(garage.store.keep_form(&request.name, &text, now.stamp())?)
}
