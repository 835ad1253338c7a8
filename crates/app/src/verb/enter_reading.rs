//! Enters a cell of a filled booking sheet.

use super::take_reading::{reading, signed};
use crate::walk_page::{Walk, page, view};
use crate::wire::{Problem, TakeReading, WalkView};
use crate::{Garage, Now};
use trueground_store::{Mark, Reading};

/// Enters what stands in a cell of the sheet; it is on the disk when the reply comes. What stood there before is taken back and
/// stays in the book; an empty cell is not read. Nothing is asked here: [`super::check_sheet`] asks about all of it at the end.
///
/// # Errors
/// No such snapshot or step, finished, or the text cannot be read or lies out of range; then nothing was stored, and what stood
/// there stands.
pub fn enter_reading(garage: &mut Garage, request: TakeReading, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = Walk::of(garage, id)?;
    let step = walk.step(request.step)?;
    let text = signed(step, &walk, &request.text);
    let heard = |kept: &Reading| {
        kept.taken.request.as_ref() == Some(&request.request_id) && kept.taken.text == text && step.reads(kept)
    };
    let stood = walk.read(step);
    if walk.snapshot.readings.iter().any(heard) || stood.is_some_and(|kept| kept.taken.text == text) {
        return view(garage, &walk);
    }
    let stood = stood.map(|kept| kept.taken.id);
    if request.text.trim().is_empty() {
        if let Some(stood) = stood {
            garage.store.mark(stood, Mark::TakenBack, "", None, now.stamp())?;
        }
        return page(garage, id);
    }
    let reading = reading(garage, &walk, step, step.round, &request, now)?;
    let next = walk.next_key(request.step as usize);
    garage.store.take_instead(id, &reading, stood, &next, now.stamp())?;
    page(garage, id)
}
