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

/// What a car's file says under `key`, read as its bench sum is; `what` names it in a refusal.
pub(crate) fn described<Part, Sum>(
    part: Option<&Part>,
    [what, key]: [&str; 2],
    read: impl Fn(&Part) -> Result<Sum, Refusal>,
) -> Result<Sum, Refusal> {
    let Some(part) = part else {
        let hint = format!("Type it: in the app under Car, Bench sums, or as vehicle.{key} in the file.");
        return Err(Refusal::new(format!("The car\u{2019}s {what} is not described."), hint));
    };
    read(part).map_err(|refusal| Refusal::new(format!("vehicle.{key}: {}", refusal.message), refusal.hint))
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
