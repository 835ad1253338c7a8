//! A reading, from typed to acknowledged, against the least that could keep it: an append and fdatasync on the same disk.

use std::fs::{File, OpenOptions};
use std::io::Write as _;
use std::path::Path;
use std::time::{Duration, Instant};

use criterion::Criterion;
use serde_json::{Map, json};
use trueground_benches::{Ratio, criterion, milliseconds, print};
use trueground_store::{NewReading, ReadingKind, Stamp, Store};
use uuid::Uuid;

const GROUP: &str = "a reading on disk";
const JOB: &str = "reading";
const YARDSTICK: &str = "append and fdatasync";
const NOW: Stamp = Stamp { utc_ms: 1_900_000_000_000, offset_minutes: 0 };
/// A row of the book is about this long.
const ROW: [u8; 200] = [b'x'; 200];

/// A book with one unfinished snapshot, and how many readings were taken in it.
struct Walk {
    store: Store,
    snapshot: Uuid,
    taken: u32,
}

impl Walk {
    fn begin(folder: &Path) -> Self {
        let mut store = Store::open(&folder.join("garage.db")).expect("a garage can be made");
        let car = json!({ "vehicle": { "label": "Bench car", "wheelbase_mm": 2600.0, "track_front_mm": 1400.0,
            "track_rear_mm": 1400.0, "ref_points": [] }, "instrument": { "tape_step_mm": 1.0 } });
        let (car_id, snapshot) = (Uuid::from_u128(1), Uuid::from_u128(2));
        store.add_car(car_id, &car, NOW).expect("a car is added");
        store.begin_snapshot(snapshot, car_id, &json!({ "id": "one" }), &json!({}), NOW).expect("a snapshot is begun");
        Self { store, snapshot, taken: 0 }
    }

    fn take(&mut self) {
        self.taken += 1;
        let reading = NewReading {
            id: Uuid::from_u128(1000 + u128::from(self.taken)),
            kind: ReadingKind::Tape,
            bounce: "1".to_owned(),
            pass_no: 0,
            place: "rail.FL".to_owned(),
            round: self.taken,
            reversed: false,
            text: "10 7/16".to_owned(),
            unit: "in".to_owned(),
            value: 265.1125,
            extra: Map::new(),
            request: Some(self.taken.to_string()),
        };
        self.store.take(self.snapshot, &reading, "next", NOW).expect("a reading is taken");
    }
}

fn append(file: &mut File) {
    file.write_all(&ROW).and_then(|()| file.sync_data()).expect("a row is appended");
}

fn main() {
    // Beside the build, so that it is a disk and not memory.
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder can be made");
    let mut walk = Walk::begin(folder.path());
    let plain = folder.path().join("plain");
    let mut plain = OpenOptions::new().create(true).append(true).open(plain).expect("a file can be made");

    let mut criterion: Criterion = criterion();
    let mut group = criterion.benchmark_group(GROUP);
    group.bench_function(JOB, |turn| turn.iter(|| walk.take()));
    group.bench_function(YARDSTICK, |turn| turn.iter(|| append(&mut plain)));
    group.finish();
    print(Ratio { group: GROUP, job: JOB, yardstick: YARDSTICK, goal: "p50 ≤ 2 × + 1 ms" });
    slowest(&mut walk, &mut plain);
    criterion.final_summary();
}

/// The slow tail, turn about, so that a stall of the disk can hit both.
#[expect(clippy::print_stdout, reason = "the line is what a benchmark is run for")]
fn slowest(walk: &mut Walk, plain: &mut File) {
    let time = |job: &mut dyn FnMut()| {
        let start = Instant::now();
        job();
        start.elapsed()
    };
    let (mut ours, mut bare): (Vec<Duration>, Vec<Duration>) =
        (0..1000).map(|_| (time(&mut || walk.take()), time(&mut || append(plain)))).unzip();
    ours.sort();
    bare.sort();
    for (percent, goal) in [(50, "≤ 2 × + 1 ms"), (99, "≤ 3 × + 5 ms")] {
        let at = |times: &[Duration]| times[times.len() * percent / 100 - 1].as_nanos() as f64;
        println!(
            "ratio  {GROUP}, p{percent} of 1000: {} against {}: {:.2} ×   (goal {goal})",
            milliseconds(at(&ours)),
            milliseconds(at(&bare)),
            at(&ours) / at(&bare)
        );
    }
}
