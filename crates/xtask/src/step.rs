//! One step of the work: what is run is said first, and a step that fails stops with words.

use std::ffi::OsStr;
use std::io::Write as _;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Why the work stopped: a sentence, and what to do next.
#[derive(Debug)]
pub(crate) struct Stop(pub(crate) String);

pub(crate) type Done = Result<(), Stop>;

/// The folder of the workspace.
pub(crate) fn root() -> PathBuf {
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    here.ancestors().nth(2).unwrap_or(here).to_path_buf()
}

/// The folder cargo builds into.
pub(crate) fn target() -> PathBuf {
    std::env::var_os("CARGO_TARGET_DIR").map_or_else(|| root().join("target"), |folder| root().join(folder))
}

/// `cargo`, the same one that runs this, in the folder of the workspace.
pub(crate) fn cargo() -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.current_dir(root());
    command
}

/// A program, in `folder`.
pub(crate) fn program(name: impl AsRef<OsStr>, folder: &Path) -> Command {
    let mut command = Command::new(name);
    command.current_dir(folder);
    command
}

/// Says the command, runs it with its output in sight, and stops where it fails.
///
/// `hint`: what a person can do when it fails.
pub(crate) fn step(command: &mut Command, hint: &str) -> Done {
    let shown = shown(command);
    say(&format!("\n> {shown}"));
    match command.status() {
        Ok(status) if status.success() => Ok(()),
        Ok(status) => Err(Stop(format!("`{shown}` ended with {status}.\n{hint}"))),
        Err(error) => Err(Stop(format!("`{shown}` could not be started: {error}.\n{hint}"))),
    }
}

/// What a command prints, or nothing where it cannot be run or fails.
pub(crate) fn answer(command: &mut Command) -> Option<String> {
    let output = command.output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

/// Whether a program of this name is on the search path.
pub(crate) fn on_path(name: &str) -> bool {
    let folders = std::env::var_os("PATH").unwrap_or_default();
    std::env::split_paths(&folders).any(|folder| folder.join(name).is_file())
}

/// A line for the person at the terminal.
pub(crate) fn say(words: &str) {
    // A closed terminal is no reason to stop the work.
    let _ = writeln!(std::io::stdout().lock(), "{words}");
}

/// A line that says what went wrong.
pub(crate) fn complain(words: &str) {
    let _ = writeln!(std::io::stderr().lock(), "\n{words}");
}

fn shown(command: &Command) -> String {
    let name = Path::new(command.get_program()).file_name().unwrap_or(command.get_program());
    let words = std::iter::once(name).chain(command.get_args());
    words.map(|word| word.to_string_lossy().into_owned()).collect::<Vec<_>>().join(" ")
}
