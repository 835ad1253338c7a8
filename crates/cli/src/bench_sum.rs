//! How every bench sum runs: strict JSON from a file, worked out, printed as JSON or in words.

use crate::Answer;
use crate::input::FileArguments;
use crate::output::{Problem, json};
use serde::Serialize;
use trueground_core::bench::Refusal;

/// Reads, works out and prints; what is refused names the file.
pub(crate) fn run<Sum, Worked: Serialize>(
    input: &FileArguments,
    read: impl Fn(&str) -> Result<Sum, Refusal>,
    work_out: impl Fn(&Sum) -> Result<Worked, Refusal>,
    words: impl Fn(&Sum, &Worked) -> String,
) -> Answer {
    let text = input.file.read()?;
    let refused = |refusal: Refusal| Problem::from(refusal).at(&input.file.name());
    let sum = read(&text).map_err(refused)?;
    let worked = work_out(&sum).map_err(refused)?;
    if input.json { json(&worked) } else { Ok(words(&sum, &worked)) }
}
