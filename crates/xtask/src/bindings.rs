//! The TypeScript generated from the wire types: what stands in `ui/src/bindings` must be what the Rust says today.

use std::collections::BTreeMap;
use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use crate::step::{self, Done, Stop, cargo, step};

const FRESHEN: &str =
    "`cargo test --features ts --package trueground-core --package trueground-app` writes ui/src/bindings anew.";

/// Generates the types into a folder of its own and compares, so that the check never changes a file under version control.
pub(crate) fn check() -> Done {
    let fresh = step::target().join("bindings-check");
    let _ = fs::remove_dir_all(&fresh);
    step(
        cargo()
            .args(["test", "--features", "ts", "--package", "trueground-core", "--package", "trueground-app", "--lib"])
            .args(["export_bindings"])
            .env("TS_RS_EXPORT_DIR", &fresh),
        FRESHEN,
    )?;
    let kept = step::root().join("ui/src/bindings");
    let unreadable = |error: io::Error| Stop(format!("The generated types cannot be compared: {error}."));
    let differing = differences(&contents(&kept).map_err(unreadable)?, &contents(&fresh).map_err(unreadable)?);
    if differing.is_empty() {
        step::say("Generated TypeScript: as the Rust says.");
        return Ok(());
    }
    Err(Stop(format!("The generated TypeScript is stale: {}.\n{FRESHEN}", differing.join(", "))))
}

type Contents = BTreeMap<PathBuf, Vec<u8>>;

fn differences(kept: &Contents, fresh: &Contents) -> Vec<String> {
    let changed = fresh.iter().filter(|(name, text)| kept.get(*name) != Some(text)).map(|(name, _)| name);
    let left_over = kept.keys().filter(|name| !fresh.contains_key(*name));
    changed.chain(left_over).map(|name| name.display().to_string()).collect()
}

fn contents(folder: &Path) -> io::Result<Contents> {
    let mut found = Contents::new();
    let mut folders = vec![folder.to_path_buf()];
    while let Some(next) = folders.pop() {
        if !next.is_dir() {
            continue;
        }
        for entry in fs::read_dir(&next)? {
            let path = entry?.path();
            if path.is_dir() {
                folders.push(path);
            } else if let Ok(name) = path.strip_prefix(folder) {
                found.insert(name.to_path_buf(), fs::read(&path)?);
            }
        }
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_changed_a_new_and_a_left_over_file_are_named() {
        let of =
            |rows: &[(&str, &str)]| rows.iter().map(|(name, text)| (name.into(), text.as_bytes().to_vec())).collect();
        let kept: Contents = of(&[("Car.ts", "a"), ("Gone.ts", "b"), ("Same.ts", "c")]);
        let fresh: Contents = of(&[("Car.ts", "x"), ("New.ts", "n"), ("Same.ts", "c")]);
        assert_eq!(differences(&kept, &fresh), ["Car.ts", "New.ts", "Gone.ts"]);
        assert!(differences(&kept, &kept).is_empty());
    }
}
