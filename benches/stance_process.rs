//! `trueground stance` as a whole process, file to answer, against a program that does nothing.
//!
//! `cargo xtask bench` builds the command line first.

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use criterion::Criterion;
use trueground_benches::{Ratio, criterion, print};

const GROUP: &str = "a whole process";
const JOB: &str = "stance of one snapshot";
const YARDSTICK: &str = "a program that does nothing";

fn main() {
    let nothing = PathBuf::from(env!("CARGO_BIN_EXE_nothing"));
    let command = nothing.with_file_name("trueground");
    assert!(command.exists(), "{} is not built; `cargo xtask bench` builds it", command.display());
    let top = Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("the benches lie one folder below the top");
    let folder = tempfile::tempdir().expect("a folder can be made");
    let file = folder.path().join("car.json");
    std::fs::write(&file, one_snapshot(&top.join("sample-data/sloping-drive.json"))).expect("a file can be written");

    let run = |program: &mut Command| {
        let ended = program.stdout(Stdio::null()).status().expect("the program starts");
        assert!(ended.success(), "{program:?} ended with {ended}");
    };
    let mut criterion: Criterion = criterion();
    let mut group = criterion.benchmark_group(GROUP);
    group.bench_function(JOB, |turn| turn.iter(|| run(Command::new(&command).arg("stance").arg(&file).arg("--json"))));
    group.bench_function(YARDSTICK, |turn| turn.iter(|| run(&mut Command::new(&nothing))));
    group.finish();
    print(Ratio { group: GROUP, job: JOB, yardstick: YARDSTICK, goal: "≤ 5 ms" });
    criterion.final_summary();
}

/// The sample car with its first snapshot only.
fn one_snapshot(sample: &Path) -> String {
    let text = std::fs::read_to_string(sample).expect("the sample is there");
    let mut file: serde_json::Value = serde_json::from_str(&text).expect("it is JSON");
    file["snapshots"].as_array_mut().expect("it has snapshots").truncate(1);
    file.to_string()
}
