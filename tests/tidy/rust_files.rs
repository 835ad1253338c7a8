//! How a Rust file looks: one idea, said in its first line, and short enough to read.

use crate::tree::{assert_none, files};

const LONGEST: usize = 300;

/// Files that may be longer, each with its reason.
const LONGER: [(&str, usize, &str); 3] = [
    ("crates/core/src/capture.rs", 400, "the exchange file in one sight: types and their documentation, no code"),
    ("crates/core/src/units/length_entry.rs", 380, "one grammar: every way a length is typed"),
    ("crates/core/src/tire/marking.rs", 480, "one grammar: sidewall markings of every era"),
];

#[test]
fn every_file_says_what_it_is_for() {
    let silent: Vec<String> =
        files("", &[".rs"]).into_iter().filter(|file| !file.text.starts_with("//! ")).map(|file| file.path).collect();
    assert_none(&silent, "the first line of a file says what it is for (`//! …`)");
}

#[test]
fn a_file_is_one_idea() {
    let mut long = Vec::new();
    for file in files("", &[".rs"]) {
        let length = file.shipped().last().map_or(0, |(at, _)| at);
        let allowed = LONGER.iter().find(|(path, ..)| *path == file.path).map_or(LONGEST, |(_, lines, _)| *lines);
        if length > allowed {
            long.push(format!("{}: {length} lines before its tests, {allowed} allowed", file.path));
        }
    }
    assert_none(&long, "split the file, or say in this test why it is longer");
}

#[test]
fn every_exception_is_still_needed() {
    for (path, lines, reason) in LONGER {
        let known = files("", &[".rs"]).into_iter().find(|file| file.path == path);
        let length = known.and_then(|file| file.shipped().last().map(|(at, _)| at));
        assert!(
            length.is_some_and(|length| length > LONGEST && length <= lines),
            "{path} needs no exception: {reason}"
        );
    }
}

#[test]
fn names_say_what_a_file_holds() {
    let vague = ["utils", "util", "helper", "helpers", "manager", "misc", "common"];
    let named: Vec<String> = files("", &[".rs", ".ts", ".svelte"])
        .into_iter()
        .map(|file| file.path)
        .filter(|path| path.split('/').any(|name| vague.contains(&name.split('.').next().unwrap_or_default())))
        .collect();
    assert_none(&named, "a name is a noun of the subject");
}

#[test]
fn nothing_is_left_half_done() {
    // Put together here, so that this file does not hold them.
    let marks = [["TO", "DO"], ["FIX", "ME"], ["XX", "X:"], ["todo", "!("], ["unimplemented", "!("], ["#[igno", "re"]];
    let marks: Vec<String> = marks.iter().map(|halves| halves.concat()).collect();
    let found: Vec<String> = files("", &[".rs", ".ts", ".svelte", ".css"])
        .iter()
        .flat_map(|file| {
            let places = file.text.lines().enumerate().filter(|(_, line)| marks.iter().any(|mark| line.contains(mark)));
            places.map(|(at, line)| format!("{}:{}: {}", file.path, at + 1, line.trim())).collect::<Vec<_>>()
        })
        .collect();
    assert_none(&found, "what is not done is not there; no test is ignored");
}

#[test]
fn a_lint_is_put_aside_only_with_a_reason() {
    let found: Vec<String> = files("", &[".rs"])
        .iter()
        .flat_map(|file| {
            let places = file.text.lines().enumerate().filter(|(_, line)| {
                let line = line.trim_start();
                line.starts_with("#[allow(") || line.starts_with("#![allow(")
            });
            places.map(|(at, line)| format!("{}:{}: {}", file.path, at + 1, line.trim())).collect::<Vec<_>>()
        })
        .collect();
    assert_none(&found, "write `#[expect(…, reason = \"…\")]`");
}
