//! `cargo xtask test`: sets up, and runs every test of the workspace and the interface.

use crate::interface;
use crate::setup::{For, setup};
use crate::step::{self, Done, cargo, step};

/// All tests; the first kind that fails stops the rest.
pub(crate) fn test() -> Done {
    setup(For::Everything)?;
    interface::build()?;
    interface::check_types()?;
    interface::test()?;
    let failed = "A test failed, or did not build. Its name and what it found stand above.";
    if step::answer(cargo().args(["nextest", "--version"])).is_some() {
        step(cargo().args(["nextest", "run", "--workspace", "--no-fail-fast"]), failed)?;
        step(cargo().args(["test", "--workspace", "--doc"]), failed)?;
    } else {
        step(cargo().args(["test", "--workspace", "--no-fail-fast"]), failed)?;
    }
    step::say(&format!("\nAll tests hold. Pictures of the window: {}", step::target().join("screens").display()));
    Ok(())
}
