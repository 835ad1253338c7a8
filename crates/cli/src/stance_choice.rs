//! Which stance of a car's file is meant: a snapshot by its name, a target, or the last snapshot.

use crate::Answer;
use crate::car_file::sentence;
use crate::output::Problem;
use crate::target_choice::FileAndTarget;
use trueground_core::capture::CarFile;
use trueground_core::checks::{AtStance, LoadCase, Rule, Which, at_stance};
use trueground_core::level::{Options, Solution, solve};
use trueground_core::target::Target;

/// Hands the car at the stance that is meant to `answer`, and whether that is a target.
///
/// # Errors
/// No such stance, or the file cannot be worked out; as `answer`.
pub(crate) fn at(
    file: &CarFile,
    input: &FileAndTarget,
    snapshot: Option<&str>,
    load: LoadCase,
    rules: Vec<Rule>,
    answer: impl FnOnce(&AtStance<'_>, bool) -> Answer,
) -> Answer {
    meant(file, input, snapshot, |solution, which, predicted| {
        let car = at_stance(file, solution, which, load, rules).map_err(refused)?;
        answer(&car, predicted)
    })
}

/// Hands the stance that is meant to `answer`, with the file worked out, and whether that is a target.
///
/// # Errors
/// As [`at`].
pub(crate) fn meant(
    file: &CarFile,
    input: &FileAndTarget,
    snapshot: Option<&str>,
    answer: impl FnOnce(&Solution, Which<'_>, bool) -> Answer,
) -> Answer {
    let solution = solve(file, &Options::default()).map_err(refused)?;
    let target = match input.is_asked() {
        true => Some(Target::named(file, input.name()).map_err(refused)?),
        false => None,
    };
    let last = file.snapshots.iter().rfind(|snapshot| snapshot.on_wheels()).map(|snapshot| snapshot.id.as_str());
    let which = match (&target, snapshot.or(last)) {
        (Some(target), _) => Which::Target(target),
        (None, Some(snapshot)) => Which::Snapshot(snapshot),
        (None, None) => {
            let hint = "Take one: walk round the car with the tape.";
            return Err(Problem::new("The file has no snapshot to check.", hint));
        }
    };
    answer(&solution, which, target.is_some())
}

/// A refusal of the engine in sentences.
pub(crate) fn refused(e: trueground_core::level::Problem) -> Problem {
    Problem::new(sentence(e.message()), sentence(e.hint()))
}
