//! Strikes the reading of a step.

use crate::fields::Fields;
use crate::walk_page::{Walk, page};
use crate::wire::{Problem, StrikeReading, WalkView};
use crate::{Garage, Now};
use std::collections::BTreeSet;
use trueground_core::wording::shown;
use trueground_store::Mark;

/// Strikes a reading with the person's reason; it stays in the book, and the step can be read again.
///
/// # Errors
/// No such snapshot or step, nothing is read there, no reason, or it is finished.
pub fn strike_reading(garage: &mut Garage, request: StrikeReading, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = Walk::of(garage, id)?;
    let step = walk.step(request.step)?;
    let Some(reading) = walk.read(step) else {
        return Err(Problem::new("nothing_to_strike", "Nothing is read at this step.", "Choose a step that is read."));
    };
    let mut fields = Fields::default();
    let reason = reason(&mut fields, &request.reason);
    fields.done()?;
    garage.store.mark(reading.taken.id, Mark::Struck, &reason, None, now.stamp())?;
    page(garage, id)
}

/// Longest reason, in characters: one line in the book.
const LONGEST: usize = 80;

fn reason(fields: &mut Fields, typed: &str) -> String {
    let reason = typed.trim();
    let length = reason.chars().count();
    let letters: BTreeSet<char> = reason.to_lowercase().chars().filter(|c| c.is_alphabetic()).collect();
    let hint = "Say it in a few words: \u{201c}tape slipped\u{201d}.";
    if reason.is_empty() {
        fields.refuse("reason", typed, "The reason is missing.", hint);
    } else if length > LONGEST || reason.chars().any(char::is_control) {
        let sentence = format!(
            "\u{201c}{}\u{201d} has {length} characters: a reason has 1 to {LONGEST}, on one line.",
            shown(reason)
        );
        fields.refuse("reason", typed, &sentence, "Type a shorter one.");
    } else if letters.len() < 2 && reason.is_ascii() {
        fields.refuse("reason", typed, &format!("\u{201c}{}\u{201d} says no reason.", shown(reason)), hint);
    }
    reason.to_owned()
}
