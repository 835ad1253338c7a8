//! Dependencies point one way: core ← store ← app ← {cli, shell}; the tests may use everything.

use std::collections::BTreeMap;
use std::process::Command;

use serde_json::Value;

use crate::tree::root;

/// What each member may know of its neighbours when it ships.
const MAY_KNOW: [(&str, &[&str]); 6] = [
    ("trueground-core", &[]),
    ("trueground-store", &["trueground-core"]),
    ("trueground-app", &["trueground-core", "trueground-store"]),
    ("trueground", &["trueground-core", "trueground-store", "trueground-app"]),
    ("trueground-shell", &["trueground-app"]),
    ("xtask", &[]),
];

/// Packages that would bring a clock, threads, files or chance into the numbers.
const NOT_IN_CORE: [&str; 9] =
    ["rusqlite", "tauri", "tokio", "rayon", "rand", "getrandom", "tempfile", "reqwest", "etcetera"];

#[test]
fn each_member_knows_only_what_lies_below_it() {
    let known = shipped_dependencies();
    for (member, may) in MAY_KNOW {
        let has = known.get(member).unwrap_or_else(|| panic!("{member} is not in the workspace"));
        let neighbours = has.iter().filter(|name| known.contains_key(*name) && !may.contains(&name.as_str()));
        assert_eq!(neighbours.collect::<Vec<_>>(), Vec::<&String>::new(), "{member} may know only {may:?}");
    }
    for (member, has) in &known {
        if member != "trueground-tests" && member != "trueground-benches" {
            assert!(
                MAY_KNOW.iter().any(|(name, _)| name == member),
                "say in this test what {member} may know: {has:?}"
            );
        }
    }
}

#[test]
fn the_numbers_bring_no_clock_file_thread_or_chance_with_them() {
    let has = &shipped_dependencies()["trueground-core"];
    let wrong: Vec<_> = has.iter().filter(|name| NOT_IN_CORE.contains(&name.as_str())).collect();
    assert!(wrong.is_empty(), "core depends on {wrong:?}");
}

#[test]
fn only_the_store_knows_the_database() {
    for (member, has) in shipped_dependencies() {
        if !["trueground-store", "trueground-benches"].contains(&member.as_str()) {
            assert!(!has.iter().any(|name| name == "rusqlite"), "{member} depends on rusqlite");
        }
    }
}

#[test]
fn every_member_takes_lints_licence_and_versions_from_the_workspace() {
    for package in metadata()["packages"].as_array().expect("packages") {
        let (name, manifest) = (&package["name"], package["manifest_path"].as_str().expect("a path"));
        let text = std::fs::read_to_string(manifest).expect("a manifest is readable");
        assert!(text.contains("[lints]\nworkspace = true"), "{name} does not take the lints of the workspace");
        assert!(text.contains("license.workspace = true"), "{name} does not take the licence of the workspace");
        for dependency in text.lines().filter(|line| line.contains("version = \"") || line.contains(" = \"")) {
            let own = ["name", "description", "path", "crate-type", "default-run"];
            let word = dependency.split(['=', ' ']).next().unwrap_or_default();
            assert!(own.contains(&word), "{name} names a version of its own: {dependency}");
        }
    }
}

fn metadata() -> Value {
    let output = Command::new(env!("CARGO"))
        .args(["metadata", "--no-deps", "--offline", "--format-version", "1"])
        .current_dir(root())
        .output()
        .expect("cargo metadata runs");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    serde_json::from_slice(&output.stdout).expect("cargo metadata prints JSON")
}

/// Member → names it depends on outside its tests.
fn shipped_dependencies() -> BTreeMap<String, Vec<String>> {
    let text = |value: &Value| value.as_str().unwrap_or_default().to_owned();
    let of = |package: &Value| {
        let all = package["dependencies"].as_array().expect("a list");
        all.iter().filter(|one| one["kind"] != "dev").map(|one| text(&one["name"])).collect()
    };
    let packages = metadata();
    let packages = packages["packages"].as_array().expect("packages");
    packages.iter().map(|package| (text(&package["name"]), of(package))).collect()
}
