//! `cargo xtask bench`: benchmarks, printed as ratios to the yardstick measured in the same run.

use crate::interface;
use crate::setup::{For, setup};
use crate::step::{Done, cargo, step};

/// The window is built first, since the time it takes to open is one of the figures.
pub(crate) fn bench() -> Done {
    setup(For::Everything)?;
    interface::build()?;
    let programs = ["--package", "trueground-shell", "--bins", "--examples", "--package", "trueground"];
    step(cargo().args(["build", "--release"]).args(programs), "")?;
    let benches = ["--package", "trueground-benches", "--package", "trueground-shell", "--benches"];
    step(cargo().arg("bench").args(benches), "A line that begins with `ratio` is one result.")
}
