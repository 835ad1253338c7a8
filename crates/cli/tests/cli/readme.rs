//! The command lines of the README, run as they stand.

use crate::program::{answered, trueground};
use std::path::Path;

#[test]
fn every_command_line_of_the_readme_is_answered() {
    let top = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let readme = std::fs::read_to_string(top.join("README.md")).unwrap();
    let lines: Vec<_> = readme.lines().filter_map(|line| line.strip_prefix("target/release/trueground ")).collect();
    for verb in [
        "stance",
        "compare",
        "setout",
        "target",
        "settle",
        "history",
        "floor",
        "tire",
        "sheet",
        "gearing",
        "spring",
        "ramp",
        "bumpsteer",
        "check",
        "plan",
        "fit",
        "square",
        "steering",
        "pedal",
        "wedge",
        "radiator",
        "weight",
    ] {
        assert!(lines.iter().any(|line| line.starts_with(verb)), "the README shows no {verb}");
    }
    for line in lines {
        let words = line.split_whitespace().take_while(|word| *word != ">");
        let printed = answered(trueground().current_dir(&top).args(words));
        assert!(!printed.is_empty(), "{line}");
    }
}
