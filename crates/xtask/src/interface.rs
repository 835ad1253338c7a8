//! The interface in `ui`: its npm packages, its build, its own tests.

use std::fs;
use std::path::PathBuf;

use crate::step::{self, Done, Stop, program, step};

/// What the Vite of `ui/package-lock.json` and its Svelte plug-in run on, in words; [`runs_the_build`] is the same in numbers.
const NODE: &str = "Node 20.19 or newer, 22.12 or newer, or any from 24 on";

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
    let words = |said: &str| Stop(format!("{said} Trueground's interface is built with {NODE}, and npm."));
    let Some(version) = found else { return Err(words("Node was not found.")) };
    if !runs_the_build(&version) {
        return Err(words(&format!("Node {} was found.", version.trim_start_matches('v'))));
    }
    if !step::on_path("npm") {
        return Err(words("npm was not found."));
    }
    Ok(())
}

/// Whether the interface can be built with the Node that calls itself `version`.
fn runs_the_build(version: &str) -> bool {
    let mut numbers = version.trim_start_matches('v').split('.').map(str::parse::<u32>);
    match (numbers.next(), numbers.next()) {
        (Some(Ok(20)), Some(Ok(minor))) => minor >= 19,
        (Some(Ok(22)), Some(Ok(minor))) => minor >= 12,
        (Some(Ok(major)), _) => major >= 24,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::runs_the_build;

    /// The range stands under "engines" of `@sveltejs/vite-plugin-svelte` in `ui/package-lock.json`.
    #[test]
    fn node_is_taken_by_major_and_minor_version() {
        for version in ["v20.19.0", "v20.20.2", "v22.12.0", "v24.0.0", "v25.1.0"] {
            assert!(runs_the_build(version), "{version}");
        }
        for version in ["v18.20.4", "v20.18.3", "v21.7.3", "v22.11.0", "v23.11.1", "20", "", "next"] {
            assert!(!runs_the_build(version), "{version:?}");
        }
    }
}
