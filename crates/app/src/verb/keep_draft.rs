//! Keeps what is half typed.

use crate::walk_page::Walk;
use crate::wire::{KeepDraft, Problem};
use crate::{Garage, Now, half_typed};
use trueground_core::wording::shown;

/// Longest text that is kept, in characters; more than any reading has.
const LONGEST: usize = 200;

/// Keeps half-typed text; it is on the disk when the reply comes.
///
/// # Errors
/// No such snapshot or step, or it is finished.
pub fn keep_draft(garage: &mut Garage, request: KeepDraft, now: &Now<'_>) -> Result<(), Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    if request.text.chars().count() > LONGEST {
        let sentence = format!("{} is longer than a reading can be.", shown(&request.text));
        return Err(Problem::new("field_unreadable", sentence, "Type the reading alone."));
    }
    let walk = Walk::of(garage, id)?;
    let key = walk.step(request.step)?.key();
    garage.store.keep_draft(id, &key, &request.text, now.stamp())?;
    half_typed::let_go(garage, &walk, &key, now)
}
