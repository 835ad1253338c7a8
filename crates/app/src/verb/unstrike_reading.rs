//! Lets a struck reading count again.

use crate::walk_page::{Walk, page};
use crate::wire::{Problem, UnstrikeReading, WalkView};
use crate::{Garage, Now};
use trueground_store::{Mark, Standing};

/// Puts a struck reading back into its place; that it was struck, when and why stays in the book.
///
/// # Errors
/// No such snapshot or reading, it is not struck, another one is read in its place, or the snapshot is finished.
pub fn unstrike_reading(garage: &mut Garage, request: UnstrikeReading, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = Walk::of(garage, id)?;
    let named = |reading: &&trueground_store::Reading| reading.taken.id.to_string() == request.reading;
    let Some(reading) = walk.snapshot.readings.iter().find(named) else {
        let hint = "Open the readings again.";
        return Err(Problem::new("reading_unknown", "That reading is not in this snapshot.", hint));
    };
    if !matches!(reading.standing, Standing::Struck { .. }) {
        return Err(Problem::new("not_struck", "That reading is not struck.", "Open the readings again."));
    }
    if let Some(step) = walk.step_of(reading)
        && walk.read(&step).is_some()
    {
        let sentence = format!("The {} was read anew in this round.", step.brief());
        return Err(Problem::new("read_anew", sentence, "Strike the newer reading first. Both stay in the book."));
    }
    let next = walk.on_from(reading);
    garage.store.mark(reading.taken.id, Mark::PutBack, "", next.as_deref(), now.stamp())?;
    page(garage, id)
}
