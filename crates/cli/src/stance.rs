//! `trueground stance`: where the car would stand on level ground, from a car's exchange file.

mod words;

use crate::Answer;
use crate::car_file::{read, sentence};
use crate::input::FileArguments;
use crate::output::{Problem, json};
use clap::Args;
use serde::Serialize;
use trueground_app::corrections::corrections;
use trueground_core::capture::{CarFile, Snapshot};
use trueground_core::level::{Options, solve};
use trueground_core::stance::SnapshotStance;

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
    /// What was corrected in finished snapshots; absent where nothing was.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    corrections: Vec<Corrected>,
}

/// One correction.
#[derive(Serialize)]
struct Corrected {
    snapshot: String,
    sentence: String,
}

fn corrected(file: &CarFile) -> Vec<Corrected> {
    let of = |snapshot: &Snapshot| {
        let id = snapshot.id.clone();
        let words = corrections(file, snapshot).into_iter();
        words.map(move |one| Corrected { snapshot: id.clone(), sentence: one.sentence() }).collect::<Vec<_>>()
    };
    file.snapshots.iter().flat_map(of).collect()
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let file = read(&arguments.input.file)?;
    let options = Options { carry_twist: arguments.carry_twist };
    let solution = solve(&file, &options)
        .map_err(|e| Problem::new(sentence(e.message()), sentence(e.hint())).at(&arguments.input.file.name()))?;
    if arguments.input.json {
        json(&Stances { snapshots: &solution.snapshots, corrections: corrected(&file) })
    } else {
        Ok(words::readable(&file, &solution))
    }
}
