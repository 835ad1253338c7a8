//! The interface in `ui`: its npm packages, its build, its own tests.

use std::fs;
use std::path::PathBuf;

use crate::step::{self, Done, Stop, program, step};

const OLDEST_NODE: u32 = 20;

fn folder() -> PathBuf {
    step::root().join("ui")
}

/// Installs the npm packages named by the lock file, unless just those are there already.
pub(crate) fn install() -> Done {
    node()?;
    let lock = fs::read(folder().join("package-lock.json"))
        .map_err(|error| Stop(format!("ui/package-lock.json cannot be read: {error}.")))?;
    // A copy of the lock file inside the folder it describes: `npm ci` empties the folder first, so a half-finished
    // install leaves no copy behind.
    let installed = folder().join("node_modules/.installed-package-lock.json");
    if fs::read(&installed).is_ok_and(|copy| copy == lock) {
        step::say("npm packages: those of ui/package-lock.json are installed.");
        return Ok(());
    }
    step::say(
        "npm packages of the interface (Svelte, Vite, the test runner) are missing or older than ui/package-lock.json.",
    );
    npm(&["ci", "--no-audit", "--no-fund", "--loglevel", "http"])?;
    fs::write(&installed, lock).map_err(|error| Stop(format!("{} cannot be written: {error}.", installed.display())))
}

/// Builds `ui/dist`, which the window carries inside it.
pub(crate) fn build() -> Done {
    npm(&["run", "build"])
}

/// How the interface is written out.
pub(crate) fn check_format() -> Done {
    npm(&["run", "format:check"])
}

/// Types of the interface.
pub(crate) fn check_types() -> Done {
    npm(&["run", "check"])
}

/// Tests of the interface.
pub(crate) fn test() -> Done {
    npm(&["test"])
}

fn npm(arguments: &[&str]) -> Done {
    step(program("npm", &folder()).args(arguments), "This was run in the folder ui.")
}

fn node() -> Done {
    let found = step::answer(program("node", &folder()).arg("--version"));
    let words =
        |said: &str| Stop(format!("{said} Trueground's interface is built with Node {OLDEST_NODE} or newer and npm."));
    let Some(version) = found else { return Err(words("Node was not found.")) };
    let major = version.trim_start_matches('v').split('.').next().and_then(|digits| digits.parse::<u32>().ok());
    if major.is_none_or(|major| major < OLDEST_NODE) {
        return Err(words(&format!("Node {version} was found.")));
    }
    if !step::on_path("npm") {
        return Err(words("npm was not found."));
    }
    Ok(())
}
