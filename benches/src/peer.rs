//! Other programs as yardsticks, measured in the same run: scripts in `tests/peers`, run by the Python that `TRUEGROUND_PYTHON` names.

use std::io::Write as _;
use std::path::Path;
use std::process::{Command, Stdio};

use crate::{Ratio, median, milliseconds};

/// Prints our time of `ratio.group` and `ratio.job` against that of a script, which gets `input` and prints nanoseconds first.
#[expect(clippy::print_stdout, reason = "the line is what a benchmark is run for")]
pub fn print(ratio: Ratio<'_>, script: &str, input: &str) {
    let Some(job) = median(ratio.group, ratio.job) else { return };
    let Some(python) = std::env::var_os("TRUEGROUND_PYTHON") else {
        println!(
            "ratio  {}: not against {}: TRUEGROUND_PYTHON names no Python that has it",
            ratio.group, ratio.yardstick
        );
        return;
    };
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("../tests/peers").join(script);
    let mut child = Command::new(python)
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the Python that TRUEGROUND_PYTHON names starts");
    child.stdin.take().expect("it has an input").write_all(input.as_bytes()).expect("it reads");
    let printed = child.wait_with_output().expect("it ends");
    assert!(printed.status.success(), "the peer ended with {}", printed.status);
    let printed = String::from_utf8_lossy(&printed.stdout);
    let peer: f64 = printed.split_whitespace().next().and_then(|word| word.parse().ok()).expect("nanoseconds");
    println!(
        "ratio  {}: {} {} against {} {}: {:.2} ×   (goal {})",
        ratio.group,
        ratio.job,
        milliseconds(job),
        ratio.yardstick,
        milliseconds(peer),
        job / peer,
        ratio.goal
    );
}
