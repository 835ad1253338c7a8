//! `cargo xtask bench`: benchmarks, printed as ratios to the yardstick measured in the same run.

use crate::interface;
use crate::setup::{For, setup};
use crate::step::{Done, cargo, step};

/// The window is built first, since the time it takes to open is one of the figures.
pub(crate) fn bench() -> Done {
    setup(For::Everything)?;
    interface::build()?;
    step(cargo().args(["build", "--release", "--package", "trueground-shell", "--package", "trueground"]), "")?;
    step(cargo().args(["bench", "--package", "trueground-benches"]), "")
}
