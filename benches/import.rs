//! An exchange file of 10 MB read in, all or nothing, against the least that could: it is parsed, and as many rows are written in
//! one transaction on the same disk.

use rusqlite::{Connection, params};
use serde_json::{Value, json};
use std::path::Path;
use std::time::{Duration, Instant};
use trueground_benches::milliseconds;
use trueground_store::{Stamp, Store};

const SIZE: usize = 10_000_000;
const TURNS: usize = 5;
const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 0 };

#[expect(clippy::print_stdout, reason = "the line is what a benchmark is run for")]
fn main() {
    // Beside the build, so that it is a disk and not memory.
    let folder = tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("a folder can be made");
    let text = file();
    let (mut ours, mut bare) = (Vec::new(), Vec::new());
    let mut readings = 0;
    for turn in 0..TURNS {
        let mut store = Store::open(&folder.path().join(format!("{turn}.db"))).expect("a garage can be made");
        let start = Instant::now();
        let imported = store.import(&text, AT).expect("the file is read in");
        ours.push(start.elapsed());
        let connection = plain(&folder.path().join(format!("{turn}-plain.db")));
        let start = Instant::now();
        let rows = write_plainly(connection, &text);
        bare.push(start.elapsed());
        assert_eq!(imported.new_readings, rows, "as many rows");
        readings = rows;
    }
    let median = |times: &mut Vec<Duration>| {
        times.sort();
        times[times.len() / 2].as_nanos() as f64
    };
    let (ours, bare) = (median(&mut ours), median(&mut bare));
    println!(
        "ratio  an exchange file of {:.1} MB read in, {readings} readings, median of {TURNS}: {} against parsed and as many rows \
         in one transaction {}: {:.2} ×   (goal ≤ 5 ×)",
        text.len() as f64 / 1e6,
        milliseconds(ours),
        milliseconds(bare),
        ours / bare
    );
}

/// The sample car with as many snapshots as fill the file, each of forty readings.
fn file() -> String {
    let mut file: Value = serde_json::from_str(include_str!("../sample-data/sloping-drive.json")).expect("sample data");
    let a_snapshot = snapshot(0).to_string().len() + 1;
    let snapshots = SIZE / a_snapshot;
    file["snapshots"] = (0..snapshots).map(snapshot).collect();
    file.to_string()
}

fn snapshot(number: usize) -> Value {
    let name = format!("s{number}");
    let mut readings = Vec::new();
    for round in 1..=5 {
        for (kind, height) in [("lip", 700.0), ("rail", 420.0)] {
            for corner in ["FL", "FR", "RL", "RR"] {
                let value = height + f64::from(round);
                readings.push(json!({"ref": format!("{kind}.{corner}"), "repeat": round, "text": format!("{value}"),
                    "unit": "mm", "value_mm": value}));
            }
        }
    }
    let bounce = json!({"bounce_id": format!("{name}.b1"), "readings": readings});
    json!({"id": name, "date": "2031-04-12", "floor": "drive", "bounces": [bounce]})
}

/// As safe against sudden death as the garage, with one table and no checks.
fn plain(path: &Path) -> Connection {
    let connection = Connection::open(path).expect("a database can be made");
    let _mode: String = connection.query_row("PRAGMA journal_mode = WAL", [], |row| row.get(0)).expect("a log");
    connection.pragma_update(None, "synchronous", "FULL").expect("flushed at each commit");
    let table = "CREATE TABLE reading (id INTEGER PRIMARY KEY, owner TEXT, place TEXT, round INTEGER, text TEXT, unit TEXT, \
                 value REAL) STRICT";
    connection.execute(table, []).expect("a table");
    connection
}

/// Every reading of the file as a row; returns how many.
fn write_plainly(mut connection: Connection, text: &str) -> usize {
    let file: Value = serde_json::from_str(text).expect("JSON");
    let transaction = connection.transaction().expect("a transaction");
    let mut rows = 0;
    {
        let mut insert = transaction
            .prepare("INSERT INTO reading (owner, place, round, text, unit, value) VALUES (?1, ?2, ?3, ?4, ?5, ?6)")
            .expect("a statement");
        let mut write = |owner: &Value, place: &Value, reading: &Value| {
            let row = params![
                owner.as_str(),
                place.as_str(),
                reading["repeat"].as_i64(),
                reading["text"].as_str(),
                reading["unit"].as_str(),
                reading["value_mm"].as_f64()
            ];
            rows += insert.execute(row).expect("a row");
        };
        let list = |value: &'_ Value| value.as_array().cloned().unwrap_or_default();
        for snapshot in file["snapshots"].as_array().expect("snapshots") {
            for bounce in snapshot["bounces"].as_array().expect("bounces") {
                for reading in bounce["readings"].as_array().expect("readings") {
                    write(&snapshot["id"], &reading["ref"], reading);
                }
            }
        }
        for floor in list(&file["floors"]) {
            for pass in list(&floor["survey"]["passes"]) {
                for reading in list(&pass["readings"]) {
                    write(&floor["id"], &reading["point"], &reading);
                }
            }
        }
    }
    transaction.commit().expect("committed");
    rows
}
