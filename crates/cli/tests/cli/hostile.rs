//! Any file ends in exit 0, 1 or 2: binary, huge, deep, half, empty, a folder, missing; a full disk and a closed pipe too.

use crate::program::{refused, trueground};
use std::fs::{self, File};
use std::process::{Command, Stdio};

/// Verbs that take a file.
const VERBS: [&str; 2] = ["floor", "stance"];

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
