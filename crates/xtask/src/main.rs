//! `cargo xtask setup | run | test | check | bench`: everything a person needs to build, open and test Trueground.
//!
//! Only the standard library, so that it is built in a second on a machine that has nothing yet.

mod bench;
mod bindings;
mod check;
mod interface;
mod packages;
mod run;
mod setup;
mod step;
mod test;

use std::process::ExitCode;

use step::Stop;

const USAGE: &str = "\
cargo xtask setup     install what is missing on this machine, saying what and why
cargo xtask run       set up, build, and open the app with the sample garage
cargo xtask test      set up, and run every test of the workspace and the interface
cargo xtask check     formatting, lints, types of the interface, generated TypeScript
cargo xtask bench     benchmarks, printed as ratios to their yardsticks";

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let done = match words.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
        ["setup"] => setup::setup(setup::For::Everything),
        ["run"] => run::run(),
        ["test"] => test::test(),
        ["check"] => check::check(),
        ["bench"] => bench::bench(),
        [] | ["help" | "--help" | "-h"] => {
            step::say(USAGE);
            return ExitCode::SUCCESS;
        }
        other => {
            step::complain(&format!("`cargo xtask {}` is not known. There are:\n{USAGE}", other.join(" ")));
            return ExitCode::from(2);
        }
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(Stop(words)) => {
            step::complain(&words);
            ExitCode::FAILURE
        }
    }
}
