//! What each layer must not know, looked for in its code.

use crate::tree::{assert_none, files};

const CLOCK: [&str; 5] = ["SystemTime", "Instant", "Utc::now", "Local::now", "chrono::Local"];
const CHANCE: [&str; 6] = ["rand::", "getrandom", "thread_rng", "new_v4", "now_v7", "RandomState"];
const THREADS: [&str; 4] = ["std::thread", "thread::spawn", "tokio::", "rayon::"];
const SURROUNDINGS: [&str; 5] = ["std::env", "std::net", "std::process", "env!(", "option_env!("];

#[test]
fn core_knows_no_file_clock_thread_chance_or_surroundings() {
    let files_words = ["std::fs", "File::", "std::io", "std::path", "include_str!", "include_bytes!"];
    for words in [&CLOCK[..], &CHANCE, &THREADS, &SURROUNDINGS, &files_words, &["HashMap", "HashSet"]] {
        let found: Vec<String> =
            files("crates/core/src", &[".rs"]).iter().flat_map(|file| file.holding(words)).collect();
        assert_none(&found, "core depends on its arguments only (hash maps have an order of chance)");
    }
}

#[test]
fn store_and_app_get_time_and_ids_as_arguments() {
    for layer in ["crates/store/src", "crates/app/src"] {
        for words in [&CLOCK[..], &CHANCE, &THREADS] {
            let found: Vec<String> = files(layer, &[".rs"]).iter().flat_map(|file| file.holding(words)).collect();
            assert_none(&found, "time and ids are arguments here, and there are no threads");
        }
    }
}

#[test]
fn store_and_app_touch_files_in_one_small_module_each() {
    for layer in ["crates/store/src", "crates/app/src"] {
        let holding = files(layer, &[".rs"]);
        let holding: Vec<_> = holding.iter().filter(|file| !file.holding(&["std::fs"]).is_empty()).collect();
        let names: Vec<_> = holding.iter().map(|file| file.path.as_str()).collect();
        assert!(names.len() <= 1, "{layer} must also run where there are no files; these use them: {names:?}");
    }
}

#[test]
fn only_the_store_writes_sql() {
    let sql = ["SELECT ", "INSERT INTO", "INSERT OR", "DELETE FROM", "CREATE TABLE", "PRAGMA ", "rusqlite"];
    for layer in ["crates/core/src", "crates/app/src", "crates/cli/src", "src-tauri/src"] {
        let found: Vec<String> = files(layer, &[".rs"]).iter().flat_map(|file| file.holding(&sql)).collect();
        assert_none(&found, "only store writes SQL");
    }
}

#[test]
fn a_saved_reading_is_never_changed_or_deleted() {
    let found: Vec<String> = files("crates/store/src", &[".rs"])
        .iter()
        .flat_map(|file| file.holding(&["UPDATE reading", "DELETE FROM reading", "REPLACE INTO reading", "DROP TABLE"]))
        .collect();
    assert_none(&found, "a reading is superseded, never changed");
}

#[test]
fn the_window_only_passes_on() {
    let found: Vec<String> = files("src-tauri/src", &[".rs"])
        .iter()
        .flat_map(|file| file.holding(&["trueground_core", "trueground_store", "nalgebra"]))
        .collect();
    assert_none(&found, "the shell knows the app crate only");
    let commands: usize = files("src-tauri/src", &[".rs"])
        .iter()
        .map(|file| file.shipped().filter(|(_, line)| line.contains("#[tauri::command")).count())
        .sum();
    assert_eq!(commands, 1, "one command, `ask`; a new thing to ask for is a new verb of the app crate");
}
