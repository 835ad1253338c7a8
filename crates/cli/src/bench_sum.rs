//! How every bench sum runs: strict JSON from a file, worked out, printed as JSON or in words. Where the file is a car's, what it
//! describes of the same thing is taken.

use crate::input::FileArguments;
use crate::output::{Problem, json};
use crate::{Answer, car_file};
use serde::Serialize;
use trueground_core::bench::Refusal;
use trueground_core::car::Vehicle;

/// Reads, works out and prints; what is refused names the file.
pub(crate) fn run<Sum, Worked: Serialize>(
    input: &FileArguments,
    read: impl Fn(&str) -> Result<Sum, Refusal>,
    work_out: impl Fn(&Sum) -> Result<Worked, Refusal>,
    words: impl Fn(&Sum, &Worked) -> String,
) -> Answer {
    let read = |text: &str| read(text).map_err(Problem::from);
    of_text(input, read, work_out, words)
}

/// The same; of a car's file its own description.
pub(crate) fn run_or_of_car<Sum, Worked: Serialize>(
    input: &FileArguments,
    read: impl Fn(&str) -> Result<Sum, Refusal>,
    of_car: impl Fn(&Vehicle) -> Result<Sum, Refusal>,
    work_out: impl Fn(&Sum) -> Result<Worked, Refusal>,
    words: impl Fn(&Sum, &Worked) -> String,
) -> Answer {
    let read = |text: &str| {
        if car_file::is_car(text) { Ok(of_car(&car_file::of(text)?.vehicle)?) } else { Ok(read(text)?) }
    };
    of_text(input, read, work_out, words)
}

fn of_text<Sum, Worked: Serialize>(
    input: &FileArguments,
    read: impl Fn(&str) -> Result<Sum, Problem>,
    work_out: impl Fn(&Sum) -> Result<Worked, Refusal>,
    words: impl Fn(&Sum, &Worked) -> String,
) -> Answer {
    let text = input.file.read()?;
    let sum = read(&text).map_err(|problem| problem.at(&input.file.name()))?;
    let worked = work_out(&sum).map_err(|refusal| Problem::from(refusal).at(&input.file.name()))?;
    if input.json { json(&worked) } else { Ok(words(&sum, &worked)) }
}
