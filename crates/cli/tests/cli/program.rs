//! Runs the built program.

use assert_cmd::Command;

/// The program, without arguments yet.
pub(crate) fn trueground() -> Command {
    Command::new(env!("CARGO_BIN_EXE_trueground"))
}

/// What it printed; it must exit 0 and say nothing else.
pub(crate) fn answered(command: &mut Command) -> String {
    let output = command.output().unwrap();
    assert_eq!(output.status.code(), Some(0), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(output.stderr.is_empty());
    String::from_utf8(output.stdout).unwrap()
}

/// What it said; it must exit 1, print nothing, and say it in 2,000 bytes without control characters.
pub(crate) fn refused(command: &mut Command) -> String {
    let output = command.output().unwrap();
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(1), "{said}");
    assert!(output.stdout.is_empty(), "{}", String::from_utf8_lossy(&output.stdout));
    assert!(said.starts_with("trueground: ") && said.contains("\nhint: "), "{said}");
    assert!(said.len() <= 2_000 && !said.chars().any(|c| c.is_control() && c != '\n'), "{said}");
    said
}
