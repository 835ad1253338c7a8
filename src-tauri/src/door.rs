//! The one door to the garage: one question at a time, opened at the first, and looked after once the window has been painted.

use std::fs;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;
use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};
use std::time::Duration;

use serde_json::{Value, json};
use trueground_app::wire::Problem;
use trueground_app::{Garage, dispatch};

use crate::moment::now;

/// The first screen asks a few questions more after its first; they go before the check and the backup.
const FIRST_SCREEN: Duration = Duration::from_secs(1);

/// Between two pieces of the check and the backup.
const BREATH: Duration = Duration::from_millis(5);

/// Where questions go in.
#[derive(Debug)]
pub(crate) struct Door {
    folder: PathBuf,
    sample: bool,
    inside: Mutex<Inside>,
    first_answer: Condvar,
}

#[derive(Debug, Default)]
struct Inside {
    garage: Option<Garage>,
    answered: bool,
}

impl Door {
    /// A door to the garage in `folder`; with `sample`, the sample cars are put into it if it is empty.
    pub(crate) fn new(folder: PathBuf, sample: bool) -> Self {
        Self { folder, sample, inside: Mutex::default(), first_answer: Condvar::new() }
    }

    /// Answers one question. A garage that could not be opened is tried again at the next.
    pub(crate) fn ask(&self, verb: &str, request: Value) -> Result<Value, Problem> {
        let mut inside = self.inside();
        let answer = self.answer(&mut inside, verb, request);
        inside.answered = true;
        self.first_answer.notify_all();
        answer
    }

    /// Opens the garage beside the window, waits for the first answer, then checks the file and backs it up.
    pub(crate) fn tend(&self) {
        let mut inside = self.inside();
        if let Err(problem) = self.open(&mut inside) {
            tracing::warn!("{problem}");
        }
        let waited = self.first_answer.wait_while(inside, |inside| !inside.answered);
        drop(waited.unwrap_or_else(PoisonError::into_inner));
        std::thread::sleep(FIRST_SCREEN);
        while self.tend_a_little() {
            // Whoever asks in between goes first.
            std::thread::sleep(BREATH);
        }
    }

    /// One piece of the check and the backup; false once all is done.
    fn tend_a_little(&self) -> bool {
        let mut inside = self.inside();
        let Some(garage) = inside.garage.as_mut() else { return false };
        garage.tend_a_little(&now()).unwrap_or_else(|problem| {
            tracing::warn!("{problem}");
            false
        })
    }

    fn inside(&self) -> MutexGuard<'_, Inside> {
        // A panic is caught inside and the garage opened anew, so nothing half done is behind a poisoned lock.
        self.inside.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn answer(&self, inside: &mut Inside, verb: &str, request: Value) -> Result<Value, Problem> {
        let garage = self.open(inside)?;
        match catch_unwind(AssertUnwindSafe(|| dispatch(garage, verb, request, &now()))) {
            Ok(answer) => answer,
            Err(_panic) => {
                inside.garage = None;
                Err(problem(
                    "fault",
                    format!("Trueground has a fault: it could not carry out {verb}."),
                    "Readings taken before are kept. Go back and try it another way.",
                ))
            }
        }
    }

    fn open<'g>(&self, inside: &'g mut Inside) -> Result<&'g mut Garage, Problem> {
        match &mut inside.garage {
            Some(garage) => Ok(garage),
            closed => {
                fs::create_dir_all(&self.folder).map_err(|error| {
                    problem(
                        "folder_refused",
                        format!("The folder of the garage, {}, cannot be made: {error}.", self.folder.display()),
                        "Look at the permissions there, or start with --data and another folder.",
                    )
                })?;
                let mut garage = Garage::open(&self.folder.join("garage.db"), &now())?;
                if self.sample {
                    fill_with_samples(&mut garage)?;
                }
                Ok(closed.insert(garage))
            }
        }
    }
}

/// Puts the sample cars into a garage that has no car yet.
fn fill_with_samples(garage: &mut Garage) -> Result<(), Problem> {
    let seen = dispatch(garage, "open_garage", json!({}), &now())?;
    if seen["cars"].as_array().is_some_and(Vec::is_empty) {
        dispatch(garage, "open_sample_garage", json!({}), &now())?;
    }
    Ok(())
}

fn problem(code: &str, sentence: String, hint: &str) -> Problem {
    Problem { code: code.to_owned(), sentence, hint: hint.to_owned(), fields: Vec::new() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_second_window_on_one_garage_is_refused_in_words() {
        let folder = tempfile::tempdir().expect("a folder can be made");
        let first = Door::new(folder.path().to_path_buf(), false);
        let second = Door::new(folder.path().to_path_buf(), false);
        first.ask("open_garage", json!({})).expect("the first opens it");
        let refused = second.ask("open_garage", json!({})).expect_err("the second may not");
        assert_eq!(refused.code, "garage_in_use");
        assert!(refused.sentence.contains("already open"), "{}", refused.sentence);
        drop(first);
        second.ask("open_garage", json!({})).expect("the second opens it once the first is gone");
    }

    #[test]
    fn the_samples_go_into_an_empty_garage_only() {
        let folder = tempfile::tempdir().expect("a folder can be made");
        let cars = |sample| {
            let door = Door::new(folder.path().to_path_buf(), sample);
            let seen = door.ask("open_garage", json!({})).expect("it opens");
            seen["cars"].as_array().map_or(0, Vec::len)
        };
        assert_eq!(cars(false), 0);
        let filled = cars(true);
        assert!(filled > 0);
        assert_eq!(cars(true), filled);
    }

    #[test]
    fn a_folder_that_cannot_be_made_is_named() {
        let folder = tempfile::tempdir().expect("a folder can be made");
        let file = folder.path().join("file");
        fs::write(&file, "in the way").expect("a file can be written");
        let refused =
            Door::new(file.join("garage"), false).ask("open_garage", json!({})).expect_err("a file is no folder");
        assert_eq!(refused.code, "folder_refused");
        assert!(refused.sentence.contains("garage"), "{}", refused.sentence);
    }
}
