//! A reading through the app, from its request to the walk's next page, against an append and fdatasync on the same disk.

use serde_json::{Value, json};
use std::cell::Cell;
use std::fs::OpenOptions;
use std::io::Write;
use std::time::{Duration, Instant};
use trueground_app::{Garage, Now, dispatch};
use trueground_benches::milliseconds;
use uuid::Uuid;

const WALKS: usize = 20;
/// A row of the book is about this long.
const ROW: [u8; 200] = [b'x'; 200];

#[expect(clippy::print_stdout, reason = "the line is what a benchmark is run for")]
fn main() {
    // Beside the build, so that it is a disk and not memory.
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder can be made");
    let ids = Cell::new(1_u128 << 64);
    let fresh_id = || {
        ids.set(ids.get() + 1);
        Uuid::from_u128(ids.get())
    };
    let now = Now { utc_ms: 1_934_000_000_000, offset_minutes: 0, fresh_id: &fresh_id };
    let mut garage = Garage::open(&folder.path().join("garage.db"), &now).expect("a garage can be made");
    let mut ask = |verb: &str, request: Value| {
        dispatch(&mut garage, verb, request, &now).unwrap_or_else(|problem| panic!("{verb}: {problem}"))
    };
    let mut plain =
        OpenOptions::new().create(true).append(true).open(folder.path().join("plain")).expect("a file can be made");
    let sample = include_str!("../sample-data/sloping-drive.json");
    let cars = ask("import_file", json!({"name": "sample", "text": sample}));
    let car = cars["cars"][0]["car"].clone();

    let (mut ours, mut bare): (Vec<Duration>, Vec<Duration>) = (Vec::new(), Vec::new());
    for walk_no in 0..WALKS {
        let page = ask("open_car", json!({ "car": car }));
        let mut form = page["begin"].clone();
        (form["hubs"], form["tape"], form["angle_gauge"]) = (json!(false), json!("in"), json!(false));
        let mut walk = ask("begin_snapshot", form);
        for step in 0..walk["steps"].as_array().expect("steps").len() {
            let reading = json!({"snapshot": walk["snapshot"], "step": step, "text": "24 5/16", "insist": true,
                "request_id": format!("{walk_no}/{step}")});
            let start = Instant::now();
            walk = ask("take_reading", reading);
            ours.push(start.elapsed());
            let start = Instant::now();
            plain.write_all(&ROW).and_then(|()| plain.sync_data()).expect("a row is appended");
            bare.push(start.elapsed());
        }
        ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    }
    ours.sort();
    bare.sort();
    for (percent, goal) in [(50, "≤ 2 × + 1 ms"), (99, "≤ 3 × + 5 ms")] {
        let at = |times: &[Duration]| times[times.len() * percent / 100 - 1].as_nanos() as f64;
        println!(
            "ratio  a reading through the app, p{percent} of {}: {} against append and fdatasync {}: {:.2} ×   (goal {goal})",
            ours.len(),
            milliseconds(at(&ours)),
            milliseconds(at(&bare)),
            at(&ours) / at(&bare)
        );
    }
}
