//! Under strace: every reading is flushed to the disk before it is said to be taken.

#![cfg(target_os = "linux")]

use crate::child::{folder, garage, program};
use std::process::{Command, Stdio};

const READINGS: usize = 400;

#[test]
fn four_hundred_readings_are_flushed_before_they_are_acknowledged() {
    let folder = folder();
    let trace = folder.path().join("trace");
    let status = Command::new("strace")
        .args(["-f", "-qq", "-e", "trace=fsync,fdatasync,write", "-s", "40", "-o"])
        .arg(&trace)
        .arg(program())
        .arg(garage(&folder))
        .arg(READINGS.to_string())
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .status()
        .expect("strace is needed to see what reaches the disk: install it (`cargo xtask setup` does)");
    assert!(status.success(), "strace could not follow the program: {status}");
    let trace = std::fs::read_to_string(&trace).unwrap();

    let (mut flushes, mut since_last, mut acks) = (0, 0, 0);
    for line in trace.lines() {
        let flush =
            ["fsync(", "fdatasync(", "fsync resumed", "fdatasync resumed"].iter().any(|call| line.contains(call));
        if flush && line.trim_end().ends_with("= 0") {
            flushes += 1;
            since_last += 1;
        } else if line.contains("write(1, \"ack ") {
            acks += 1;
            assert!(since_last > 0, "said before it was flushed: {line}");
            since_last = 0;
        } else if line.contains("write(1, \"draft ") {
            assert!(since_last > 0, "half-typed text said to be kept before it was flushed: {line}");
            since_last = 0;
        }
    }
    assert_eq!(acks, READINGS);
    assert!(flushes >= READINGS, "{flushes} flushes for {READINGS} readings");
}
