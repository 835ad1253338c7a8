//! A child process that enters readings into a garage and says on its standard output when each is taken.
//!
//! `enter-readings GARAGE correct`: finishes what is there and corrects its first reading over and over, `corrected N` a line.
//!
//! `enter-readings GARAGE COUNT`: takes readings after those that are there, `ack N TEXT` a line; before each, half-typed text is
//! kept, `draft N TEXT`. `enter-readings GARAGE hold`: says `open`, and keeps the garage open until its standard input ends.

use serde_json::{Map, json};
use std::io::{Read, Write, stdin, stdout};
use std::path::Path;
use std::process::ExitCode;
use trueground_core::capture::{Corrected, Correction};
use trueground_store::{NewReading, ReadingKind, Stamp, Store, StoreError};
use uuid::Uuid;

const AT: Stamp = Stamp { utc_ms: 1_934_000_000_000, offset_minutes: 60 };
const SNAPSHOT: Uuid = Uuid::from_u128(2);

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().collect();
    let [_, garage, what] = &arguments[..] else {
        say("usage: enter-readings GARAGE COUNT|hold");
        return ExitCode::from(2);
    };
    match run(Path::new(garage), what) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            say(&format!("refused {}: {error} {}", error.code(), error.hint()));
            ExitCode::from(1)
        }
    }
}

fn run(garage: &Path, what: &str) -> Result<(), StoreError> {
    let mut store = Store::open(garage)?;
    if what == "hold" {
        say("open");
        let mut rest = Vec::new();
        // Whatever comes, the garage is held until the other end is closed.
        let _ended = stdin().read_to_end(&mut rest);
        return Ok(());
    }
    if what == "correct" {
        return correct(&mut store);
    }
    let count: u32 = what.parse().unwrap_or_default();
    if store.cars()?.is_empty() {
        let car = Uuid::from_u128(1);
        let vehicle =
            json!({"label": "Killed car", "wheelbase_mm": 2500.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0});
        store.add_car(car, &json!({ "vehicle": vehicle }), AT)?;
        let document = json!({"id": SNAPSHOT.to_string(), "date": "2031-04-15", "bounces": [{"bounce_id": "b"}]});
        store.begin_snapshot(SNAPSHOT, car, &document, &json!({}), AT)?;
    }
    let taken = store.snapshot(SNAPSHOT)?.readings.len();
    let first = u32::try_from(taken).unwrap_or(u32::MAX) + 1;
    for number in first..first.saturating_add(count) {
        let text = format!("{}.5", 300 + number);
        store.keep_draft(SNAPSHOT, &number.to_string(), &text, AT)?;
        say(&format!("draft {number} {text}"));
        store.take(SNAPSHOT, &reading(number, &text), &(number + 1).to_string(), AT)?;
        say(&format!("ack {number} {text}"));
    }
    Ok(())
}

/// Each correction writes the next whole number of millimetres.
fn correct(store: &mut Store) -> Result<(), StoreError> {
    store.finish(SNAPSHOT, AT)?;
    let reading = store.snapshot(SNAPSHOT)?.readings.first().map(|first| first.taken.id.to_string());
    let first = store.snapshot(SNAPSHOT)?.corrections.len() + 1;
    for number in first.. {
        let written = |mm: usize| Some(json!({"text": mm.to_string(), "unit": "mm", "value_mm": mm as f64}));
        let correction = Correction {
            uuid: Uuid::from_u128(0x9000 + number as u128).to_string(),
            at: Some(AT.iso()),
            what: Corrected::Value,
            reason: format!("correction {number}"),
            reading: reading.clone(),
            field: None,
            of: None,
            old: written(number - 1),
            new: written(number),
            text: None,
            extra: Map::new(),
        };
        store.correct(SNAPSHOT, &correction, &format!("correct {number}"), AT)?;
        say(&format!("corrected {number}"));
    }
    Ok(())
}

fn reading(number: u32, text: &str) -> NewReading {
    NewReading {
        id: Uuid::from_u128(0x1000 + u128::from(number)),
        kind: ReadingKind::Tape,
        bounce: "b".to_owned(),
        pass_no: 0,
        place: "rail.FL".to_owned(),
        round: number,
        reversed: false,
        text: text.to_owned(),
        unit: "mm".to_owned(),
        value: 300.5 + f64::from(number),
        extra: Map::new(),
        request: Some(format!("request {number}")),
    }
}

/// One write a line, so that a reader sees whole lines only and a tracer sees when it was said.
fn say(line: &str) {
    let mut out = stdout().lock();
    // A reader that is gone is no reason to stop.
    let _unheard = out.write_all(format!("{line}\n").as_bytes()).and_then(|()| out.flush());
}
