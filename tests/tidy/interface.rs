//! The interface asks by one door, computes no result, and takes its colours from one place.

use crate::tree::{File, assert_none, files};

const LONGEST: usize = 300;

fn written() -> Vec<File> {
    let generated = |file: &File| file.path.starts_with("ui/src/bindings/");
    files("ui/src", &[".ts", ".svelte", ".css"]).into_iter().filter(|file| !generated(file)).collect()
}

fn shipped() -> Vec<File> {
    written().into_iter().filter(|file| !file.path.contains(".test.")).collect()
}

#[test]
fn one_file_imports_the_shell() {
    let doors: Vec<String> =
        written().into_iter().filter(|file| file.text.contains("@tauri-apps/")).map(|file| file.path).collect();
    assert_eq!(doors.len(), 1, "one door to the backend: {doors:?}");
}

/// Where a picture is scaled, turned and placed: there a number becomes a place on the screen, never a number again.
const DRAWS: [&str; 4] = ["ui/src/lib/drawing/", "Picture.svelte", "CloseView.svelte", "DiffersPrompt.svelte"];

/// Where a length is printed in the unit the person reads.
const PRINTS: &str = "ui/src/lib/format.ts";

#[test]
fn the_interface_computes_no_result() {
    let sums = ["Math.sqrt", "Math.atan", "Math.tan", "Math.hypot", "Math.asin", "Math.acos", "Math.pow", "25.4"];
    let found: Vec<String> = shipped()
        .iter()
        .filter(|file| file.path != PRINTS && !DRAWS.iter().any(|place| file.path.contains(place)))
        .flat_map(|file| file.holding(&sums))
        .collect();
    assert_none(&found, "every number on the screen comes from the core; a picture only scales and moves it");
}

#[test]
fn colours_are_tokens() {
    let colour = |line: &str| {
        let hex = line.split('#').skip(1).any(|rest| {
            let digits = rest.chars().take_while(char::is_ascii_hexdigit).count();
            let ends = rest[digits..].chars().next().is_none_or(|next| !next.is_ascii_alphanumeric() && next != '-');
            ends && [3, 4, 6, 8].contains(&digits)
        });
        hex || ["rgb(", "rgba(", "hsl(", "oklch("].iter().any(|word| line.contains(word))
    };
    let mut found = Vec::new();
    for file in shipped().iter().filter(|file| file.path != "ui/src/app.css") {
        // `{#if …}` and `{/each}` are no colours.
        let lines = file.shipped().filter(|(_, line)| !line.trim_start().starts_with("{#") && colour(line));
        found.extend(lines.map(|(at, line)| format!("{}:{at}: {}", file.path, line.trim())));
    }
    assert_none(&found, "a colour has a name in ui/src/app.css");
}

#[test]
fn nothing_is_written_past_the_security_policy() {
    let ways = ["setAttribute('style'", "setAttribute(\"style\"", "innerHTML", "{@html", "eval(", "new Function("];
    let found: Vec<String> = shipped().iter().flat_map(|file| file.holding(&ways)).collect();
    assert_none(&found, "blocked by the policy of the window, or a way round it");
}

#[test]
fn nothing_is_fetched() {
    let ways = ["fetch(", "XMLHttpRequest", "WebSocket", "http://", "https://", "@font-face", "@import url"];
    let found: Vec<String> = shipped().iter().flat_map(|file| file.holding(&ways)).collect();
    assert_none(&found, "the app needs no network");
}

#[test]
fn letters_are_the_systems_own() {
    let found: Vec<String> = shipped()
        .iter()
        .flat_map(|file| {
            let families = file.shipped().filter(|(_, line)| line.contains("font-family:"));
            let other = families
                .filter(|(_, line)| !["system-ui", "ui-monospace", "inherit"].iter().any(|own| line.contains(own)));
            other.map(|(at, line)| format!("{}:{at}: {}", file.path, line.trim())).collect::<Vec<_>>()
        })
        .collect();
    assert_none(&found, "system-ui, sans-serif");
}

#[test]
fn a_file_is_one_idea() {
    let long: Vec<String> = written()
        .iter()
        // The style of a component stands below what it is.
        .map(|file| (file.path.as_str(), file.text.lines().take_while(|line| *line != "<style>").count()))
        .filter(|(_, lines)| *lines > LONGEST)
        .map(|(path, lines)| format!("{path}: {lines} lines, {LONGEST} allowed"))
        .collect();
    assert_none(&long, "split the file");
}
