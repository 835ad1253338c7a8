//! `trueground stance`: where the car would stand on level ground, from a car's exchange file.

mod words;

use crate::Answer;
use crate::input::FileArguments;
use crate::output::{Problem, json};
use clap::Args;
use serde::Serialize;
use serde_json::Value;
use trueground_core::bench::Node;
use trueground_core::capture::CarFile;
use trueground_core::level::{Options, solve};
use trueground_core::stance::SnapshotStance;
use trueground_core::wording::quotes_cut;

/// Heights, rake, lean and twist on level ground, of every snapshot of a car
///
/// FILE is a car's exchange file, or a scenario with one under "input". What the readings cannot tell is said so, and
/// what to read next.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
    /// Carry the car's own twist from one date to the others; what leans on it is assumed
    #[arg(long)]
    carry_twist: bool,
}

/// The answer as JSON.
#[derive(Serialize)]
struct Stances<'s> {
    snapshots: &'s [SnapshotStance],
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let text = arguments.input.read()?;
    let file = car_file(&text).map_err(|problem| problem.at(&arguments.input.name()))?;
    let options = Options { carry_twist: arguments.carry_twist };
    let solution = solve(&file, &options)
        .map_err(|e| Problem::new(sentence(e.message()), sentence(e.hint())).at(&arguments.input.name()))?;
    if arguments.input.json {
        json(&Stances { snapshots: &solution.snapshots })
    } else {
        Ok(words::readable(&file, &solution))
    }
}

/// The car in a text, or why there is none: where in the file, what stands there, what is expected.
fn car_file(text: &str) -> Result<CarFile, Problem> {
    Node::read(text)?.no_key_twice("")?;
    let not_json = |e: serde_json::Error| {
        Problem::new(
            format!("The file is not JSON: {}.", quotes_cut(&e.to_string())),
            "Mend the file, or export the car anew.",
        )
    };
    let mut file: Value = serde_json::from_str(text).map_err(not_json)?;
    if let Some(input) = file.get_mut("input").filter(|input| input.is_object()) {
        file = input.take();
    }
    if file.get("vehicle").is_none() {
        let message = "The file has no vehicle: it is not the exchange file of a car.";
        return Err(Problem::new(message, "Give a file that the app exported, or one of sample-data."));
    }
    serde_path_to_error::deserialize(file).map_err(|e| {
        let path = e.path().to_string();
        let place = if path == "." { String::new() } else { format!("{path}: ") };
        Problem::new(
            format!("{place}{}.", quotes_cut(&e.inner().to_string())),
            "Correct the file there, or export the car anew.",
        )
    })
}

/// Ended by a full stop.
fn sentence(text: &str) -> String {
    format!("{text}{}", if text.ends_with('.') { "" } else { "." })
}
