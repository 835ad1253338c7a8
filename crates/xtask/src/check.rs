//! `cargo xtask check`: formatting, lints with warnings denied, types of the interface, generated TypeScript.

use crate::setup::{For, setup};
use crate::step::{Done, cargo, step};
use crate::{bindings, interface};

/// The cheap checks first.
pub(crate) fn check() -> Done {
    step(cargo().args(["fmt", "--all", "--check"]), "`cargo fmt --all` puts it right.")?;
    setup(For::Everything)?;
    interface::check_format()?;
    interface::build()?;
    interface::check_types()?;
    step(
        cargo().args(["clippy", "--workspace", "--all-targets", "--", "--deny", "warnings"]),
        "Each finding names its place and what to write instead.",
    )?;
    bindings::check()
}
