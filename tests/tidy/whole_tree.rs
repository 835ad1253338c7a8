//! What holds for every file of the tree.

use crate::tree::{assert_none, files, root};

#[test]
fn no_file_knows_the_machine_it_was_written_on() {
    // Put together here, so that this file does not hold them.
    let folders = ["ho", "ro", "Use", "t"].iter().zip(["me", "ot", "rs", "mp"]);
    let folders: Vec<String> = folders.map(|(first, rest)| format!("/{first}{rest}/")).collect();
    let found: Vec<String> = files("", &[])
        .iter()
        .filter(|file| !file.path.ends_with("package-lock.json"))
        .flat_map(|file| {
            let holds = |line: &str| folders.iter().any(|folder| line.contains(folder.as_str()));
            let places = file.text.lines().enumerate().filter(|(_, line)| holds(line));
            places.map(|(at, line)| format!("{}:{}: {}", file.path, at + 1, line.trim())).collect::<Vec<_>>()
        })
        .collect();
    assert_none(&found, "a path of one machine");
}

#[test]
fn lock_files_name_the_public_registries() {
    let npm = std::fs::read_to_string(root().join("ui/package-lock.json")).expect("the npm lock file is there");
    for line in npm.lines().filter(|line| line.contains("\"resolved\":")) {
        assert!(line.contains("https://registry.npmjs.org/"), "ui/package-lock.json: {}", line.trim());
    }
    let cargo = std::fs::read_to_string(root().join("Cargo.lock")).expect("the cargo lock file is there");
    for line in cargo.lines().filter(|line| line.starts_with("source = ")) {
        assert_eq!(line, "source = \"registry+https://github.com/rust-lang/crates.io-index\"", "Cargo.lock");
    }
}

#[test]
fn the_licences_are_there() {
    for (name, first) in [("LICENSE-MIT", "MIT License"), ("LICENSE-APACHE", "Apache License")] {
        let text = std::fs::read_to_string(root().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"));
        assert!(text.contains(first), "{name} does not hold the {first}");
    }
}

#[test]
fn every_page_a_reader_is_sent_to_exists() {
    for page in files("", &[".md"]) {
        let folder = root().join(&page.path).parent().expect("a page lies in a folder").to_path_buf();
        for link in page.text.split("](").skip(1).filter_map(|rest| rest.split([')', '#', ' ']).next()) {
            let here = !link.is_empty() && !link.contains(':');
            assert!(!here || folder.join(link).exists(), "{}: there is no {link}", page.path);
        }
    }
}

#[test]
fn every_sample_says_what_to_expect() {
    let about = std::fs::read_to_string(root().join("sample-data/README.md")).expect("sample-data/README.md is there");
    for sample in files("sample-data", &[".json"]) {
        let name = sample.path.trim_start_matches("sample-data/");
        assert!(about.contains(name), "sample-data/README.md has no line on {name}");
        assert!(!sample.text.contains("\"truth\""), "{name} holds the truth of its simulation");
    }
}
