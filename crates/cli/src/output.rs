//! Where answers and refusals go: standard output whole or not at all, standard error in at most 2,000 bytes.

use serde::Serialize;
use std::fmt::Write as _;
use std::io::{self, ErrorKind, Write};
use std::process::ExitCode;
use trueground_core::bench::Refusal;
use trueground_core::wording::shown;

/// Longest message, in bytes.
const LONGEST: usize = 2_000;

/// Why there is no answer.
#[derive(Debug)]
pub(crate) struct Problem {
    /// What, where, which value, which range.
    message: String,
    /// What to do next.
    hint: String,
}

impl Problem {
    pub(crate) fn new(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { message: message.into(), hint: hint.into() }
    }

    /// With the place it came from in front: `floor.json: …`.
    pub(crate) fn at(self, place: &str) -> Self {
        Self { message: format!("{}: {}", shown(place), self.message), hint: self.hint }
    }
}

impl From<Refusal> for Problem {
    fn from(refusal: Refusal) -> Self {
        Self::new(refusal.message, refusal.hint)
    }
}

/// JSON as it is printed: numbers in full.
pub(crate) fn json(answer: &impl Serialize) -> Result<String, Problem> {
    serde_json::to_string_pretty(answer)
        .map(|text| text + "\n")
        .map_err(|error| Problem::new(format!("The answer cannot be written as JSON: {error}."), "Leave --json out."))
}

/// Prints an answer. A reader that has gone away is no problem; a full disk is.
pub(crate) fn print(text: &str) -> Result<(), Problem> {
    let mut out = io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Err(error) if error.kind() != ErrorKind::BrokenPipe => {
            Err(Problem::new(format!("The answer could not be written: {error}."), "Make room, or write it elsewhere."))
        }
        _ => Ok(()),
    }
}

/// Says why there is no answer; exit 1.
pub(crate) fn refuse(problem: &Problem) -> ExitCode {
    say(&format!("trueground: {}\nhint: {}\n", problem.message, problem.hint));
    ExitCode::from(1)
}

/// Help and version on standard output; a wrong use on standard error, exit 2.
pub(crate) fn usage(usage: &clap::Error) -> ExitCode {
    let text = usage.render().to_string();
    if usage.use_stderr() {
        say(&text);
        return ExitCode::from(2);
    }
    match print(&text) {
        Ok(()) => ExitCode::SUCCESS,
        Err(problem) => refuse(&problem),
    }
}

/// To standard error: control characters escaped, cut to [`LONGEST`] bytes. When even that cannot be written, nobody reads.
fn say(text: &str) {
    let mut said = String::new();
    for c in text.chars() {
        if c == '\n' || !c.is_control() {
            said.push(c);
        } else {
            let _ = write!(said, "{}", c.escape_unicode());
        }
    }
    if said.len() > LONGEST {
        let mut end = LONGEST - "…\n".len();
        while !said.is_char_boundary(end) {
            end -= 1;
        }
        said.truncate(end);
        said.push_str("…\n");
    }
    let _ = io::stderr().write_all(said.as_bytes());
}
