//! How a Rust file looks: one idea, said in its first line, and short enough to read.

use crate::tree::{assert_none, files};

/// No file is longer than this before its tests …
const LONGEST: usize = 500;

/// … and of ten files nine are at most this long.
const USUAL: usize = 300;

#[test]
fn every_file_says_what_it_is_for() {
    let silent: Vec<String> =
        files("", &[".rs"]).into_iter().filter(|file| !file.text.starts_with("//! ")).map(|file| file.path).collect();
    assert_none(&silent, "the first line of a file says what it is for (`//! …`)");
}

#[test]
fn a_file_is_one_idea() {
    let lengths: Vec<(String, usize)> = files("", &[".rs"])
        .into_iter()
        .map(|file| (file.path.clone(), file.shipped().last().map_or(0, |(at, _)| at)))
        .collect();
    let over = |most: usize| {
        let long = lengths.iter().filter(move |(_, length)| *length > most);
        long.map(|(path, length)| format!("{path}: {length} lines before its tests")).collect::<Vec<_>>()
    };
    assert_none(&over(LONGEST), "split the file");
    let unusual = over(USUAL);
    assert!(unusual.len() * 10 <= lengths.len(), "of ten files nine stay under {USUAL} lines:\n{}", unusual.join("\n"));
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
