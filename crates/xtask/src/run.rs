//! `cargo xtask run`: sets up, builds, and opens the app with the sample garage.

use crate::interface;
use crate::setup::{For, setup};
use crate::step::{self, Done, cargo, program, step};

const SAMPLE: &str = "sample-data/sloping-drive.json";

/// Opens the window; where there is no screen, says so and does the same job on the command line.
pub(crate) fn run() -> Done {
    setup(For::Running)?;
    interface::build()?;
    step(
        cargo().args(["build", "--release", "--package", "trueground-shell", "--package", "trueground"]),
        "The window and the command line are built together.",
    )?;
    let built = step::target().join("release");
    if has_screen() {
        step::say("\nOpening Trueground with the sample garage.");
        step(program(built.join("trueground-app"), &step::root()).arg("--sample"), "")
    } else {
        step::say(&format!(
            "\nThere is no screen here (DISPLAY and WAYLAND_DISPLAY are not set), so the window was built but not opened.\n\
             The same job on the command line: the stance of the pickup on the sloping drive, from {SAMPLE}."
        ));
        step(program(built.join("trueground"), &step::root()).args(["stance", SAMPLE]), "")
    }
}

fn has_screen() -> bool {
    ["DISPLAY", "WAYLAND_DISPLAY"].iter().any(|name| std::env::var_os(name).is_some_and(|value| !value.is_empty()))
}
