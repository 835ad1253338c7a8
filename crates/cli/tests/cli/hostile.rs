//! Any file ends in exit 0, 1 or 2: binary, huge, deep, half, empty, a folder, missing; a full disk and a closed pipe too.

use crate::program::{refused, trueground};
use serde_json::{Value, json};
use std::fs::{self, File};
use std::process::{Command, Stdio};

/// Bench sums with a sound input.
const SUMS: [(&str, &str); 11] = [
    ("floor", crate::floor::PASSES),
    ("gearing", crate::gearing::GEARS),
    ("spring", crate::spring::PACK),
    ("ramp", crate::ramp::TRAILER),
    ("bumpsteer", crate::bumpsteer::WISHBONE),
    ("square", crate::fit::SQUARE),
    ("steering", crate::fit::STEERING),
    ("pedal", crate::fit::PEDAL),
    ("wedge", crate::fit::WEDGE),
    ("radiator", crate::fit::RADIATOR),
    ("weight", crate::fit::WEIGHT),
];

/// Verbs that take a file.
const VERBS: [&str; 16] = [
    "bumpsteer",
    "check",
    "fit",
    "floor",
    "gearing",
    "pedal",
    "plan",
    "radiator",
    "ramp",
    "settle",
    "spring",
    "square",
    "stance",
    "steering",
    "wedge",
    "weight",
];

#[test]
fn no_file_makes_it_panic() {
    let folder = tempfile::tempdir().unwrap();
    let utf16: Vec<u8> =
        [0xff, 0xfe].into_iter().chain("{\"a\":1}".encode_utf16().flat_map(u16::to_le_bytes)).collect();
    let contents: Vec<(&str, Vec<u8>)> = vec![
        ("empty", Vec::new()),
        ("blank", b" \n\n".to_vec()),
        ("half", b"{\"snapshots\": [{\"id\"".to_vec()),
        ("deep", "[".repeat(200_000).into_bytes()),
        ("deep object", "{\"a\":".repeat(200_000).into_bytes()),
        ("binary", (0..=255_u8).cycle().take(70_000).collect()),
        ("utf-16", utf16),
        ("not utf-8", b"{\"a\": \"\xc3\x28\"}".to_vec()),
        ("number", b"7".to_vec()),
        ("null", b"null".to_vec()),
        ("list", b"[1, 2, 3]".to_vec()),
        ("text", b"\"\x1b[31mred\"".to_vec()),
        ("control characters", b"{\"\\u001b[31m\\u202e\": 1}".to_vec()),
        ("long key", format!("{{\"{}\": 1}}", "k".repeat(1_000_000)).into_bytes()),
        (
            "infinite",
            b"{\"differences\": [{\"from\": \"A\", \"to\": \"B\", \"rise_mm\": 1e999, \"u_mm\": 1}]}".to_vec(),
        ),
        ("nan", b"{\"differences\": [{\"from\": \"A\", \"to\": \"B\", \"rise_mm\": NaN, \"u_mm\": 1}]}".to_vec()),
        ("two values", b"{} {}".to_vec()),
    ];
    for verb in VERBS {
        for (name, bytes) in &contents {
            let file = folder.path().join(name);
            fs::write(&file, bytes).unwrap();
            for json in [&[][..], &["--json"]] {
                let said = refused(trueground().arg(verb).arg(&file).args(json));
                assert!(!said.contains("panicked"), "{verb} {name}: {said}");
            }
            refused(trueground().args([verb, "-"]).write_stdin(bytes.clone()));
        }
        refused(trueground().arg(verb).arg(folder.path()));
        let said = refused(trueground().arg(verb).arg(folder.path().join("missing.json")));
        assert!(said.contains("cannot be read"), "{said}");
        let said = refused(trueground().arg(verb).arg(folder.path().join("utf-16")));
        assert!(said.contains("UTF-16"), "{said}");
    }
}

#[test]
fn a_file_of_a_byte_order_mark_and_json_is_read() {
    let json = "\u{feff}{\"differences\": [{\"from\": \"A\", \"to\": \"B\", \"rise_mm\": 1, \"u_mm\": 1}]}";
    trueground().args(["floor", "-"]).write_stdin(json).assert().success();
}

#[test]
fn a_file_that_never_ends_is_refused() {
    if std::path::Path::new("/dev/zero").exists() {
        let said = refused(trueground().args(["floor", "/dev/zero"]));
        assert!(said.contains("larger than 64 MB"), "{said}");
    }
}

/// Every value of a sound file replaced in turn by things a file should not say there.
#[test]
fn no_single_value_makes_it_panic() {
    let sums = SUMS.map(|(verb, text)| (verb, serde_json::from_str(text).unwrap()));
    for (verb, sound) in sums.into_iter().chain([("stance", crate::stance::car(true))]) {
        let mut places = Vec::new();
        leaves(&sound, String::new(), &mut places);
        assert!(places.len() > 2, "{verb}");
        let strange = [
            json!(0),
            json!(-1),
            json!(1e300),
            json!(-1e-300),
            json!(1e12),
            Value::Null,
            json!("\u{202e}"),
            json!([]),
            json!({}),
            json!(true),
        ];
        for (i, place) in places.iter().enumerate() {
            // Each place gets three of them, and each of them many places.
            for turn in 0..3 {
                let mut file = sound.clone();
                *file.pointer_mut(place).unwrap() = strange[(i * 3 + turn) % strange.len()].clone();
                ends_well(verb, &file.to_string().into_bytes());
            }
        }
    }
}

/// A sound file with bytes changed, cut out or put in, at places spread over it.
#[test]
fn no_damaged_byte_makes_it_panic() {
    let sums = SUMS.map(|(verb, text)| (verb, text.to_owned()));
    for (verb, sound) in sums.into_iter().chain([("stance", crate::stance::car(true).to_string())]) {
        let sound = sound.into_bytes();
        for turn in 0..150_usize {
            let mut bytes = sound.clone();
            // A fixed spread: the same on every run.
            let at = turn * 7919 % bytes.len();
            match turn % 4 {
                0 => bytes[at] ^= 1 << (turn / 4 % 8),
                1 => bytes.truncate(at),
                2 => drop(bytes.drain(at..(at + 1 + turn % 30).min(sound.len()))),
                _ => bytes.splice(at..at, b"9e9".iter().copied()).for_each(drop),
            }
            ends_well(verb, &bytes);
        }
    }
}

/// Exit 0 with an answer, or exit 1 with a short message and nothing printed.
fn ends_well(verb: &str, bytes: &[u8]) {
    let output = trueground().args([verb, "-", "--json"]).write_stdin(bytes).output().unwrap();
    let (text, said) = (String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    let file = String::from_utf8_lossy(bytes);
    match output.status.code() {
        Some(0) => {
            let answer: Value = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{e} in {text} of {file}"));
            assert!(no_null(&answer), "a number was lost in {text} of {file}");
        }
        Some(1) => assert!(text.is_empty() && said.len() <= 2_000 && !said.contains("panicked"), "{said} of {file}"),
        code => panic!("{code:?} {said} of {file}"),
    }
}

/// NaN and infinity are printed as null.
fn no_null(value: &Value) -> bool {
    match value {
        Value::Null => false,
        Value::Array(list) => list.iter().all(no_null),
        // Without degrees of freedom there is no variance factor, and no test of it.
        Value::Object(fields) => fields.iter().all(|(key, value)| {
            no_null(value)
                || matches!(
                    key.as_str(),
                    // Without a point of the body there, there is no such angle.
                    "variance_factor" | "fits_stated_uncertainty" | "approach_deg" | "departure_deg" | "breakover_deg"
                )
        }),
        _ => true,
    }
}

/// Pointers to everything in a file, whole objects and lists included.
pub(crate) fn leaves(value: &Value, path: String, out: &mut Vec<String>) {
    match value {
        Value::Array(list) => list.iter().enumerate().for_each(|(i, value)| leaves(value, format!("{path}/{i}"), out)),
        Value::Object(fields) => fields.iter().for_each(|(key, value)| leaves(value, format!("{path}/{key}"), out)),
        _ => {}
    }
    out.push(path);
}

#[test]
fn wrong_use_is_exit_2_and_short() {
    let long = "x".repeat(50_000);
    for arguments in [
        &["floor"][..],
        &["no-such-verb"],
        &["tire"],
        &["floor", "a", "b"],
        &["floor", "--jsn", "x"],
        &["\u{1b}[31m"],
        &[long.as_str()],
    ] {
        let output = trueground().args(arguments).output().unwrap();
        assert_eq!(output.status.code(), Some(2), "{arguments:?}");
        assert!(output.stdout.is_empty());
        assert!(output.stderr.len() <= 2_000 && !output.stderr.contains(&0x1b), "{arguments:?}");
    }
    assert_eq!(trueground().output().unwrap().status.code(), Some(2));
}

#[test]
#[cfg(target_os = "linux")]
fn an_answer_that_cannot_be_written_is_a_problem_and_a_closed_pipe_is_none() {
    for arguments in [&["tire", "6.00-16"][..], &["--help"], &["tire", "6.00-16", "--json"]] {
        let full = File::options().write(true).open("/dev/full").unwrap();
        let output = Command::new(env!("CARGO_BIN_EXE_trueground")).args(arguments).stdout(full).output().unwrap();
        assert_eq!(output.status.code(), Some(1), "{arguments:?}");
        assert!(String::from_utf8_lossy(&output.stderr).contains("could not be written"), "{arguments:?}");
    }
    let mut child = Command::new(env!("CARGO_BIN_EXE_trueground"))
        .args(["floor", "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    drop(child.stdout.take());
    let json = b"{\"differences\": [{\"from\": \"A\", \"to\": \"B\", \"rise_mm\": 1, \"u_mm\": 1}]}";
    std::io::Write::write_all(&mut child.stdin.take().unwrap(), json).unwrap();
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
}

#[test]
fn manual_pages_and_completions_are_written() {
    for arguments in [&["manual", "page"][..], &["manual", "page", "floor"], &["manual", "completions", "bash"]] {
        let output = trueground().args(arguments).output().unwrap();
        assert_eq!(output.status.code(), Some(0));
        assert!(output.stdout.len() > 200, "{arguments:?}");
    }
    refused(trueground().args(["manual", "page", "nothing"]));
}
