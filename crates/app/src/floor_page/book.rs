//! The floor's book: every reading ever taken, pass by pass, struck ones too.

use super::stations::{edge_words, line_of, printed, under_words};
use super::{is_edge, taken_on};
use crate::wire::{BookFloorRow, BookPass, TapeUnit};
use crate::words::day;
use trueground_core::car::Vehicle;
use trueground_store::{FloorRecord, Reading, Standing};

pub(super) fn book(record: &FloorRecord, vehicle: &Vehicle, tape: TapeUnit) -> Vec<BookPass> {
    let mut kinds: Vec<(bool, u32)> =
        record.readings.iter().map(|reading| (is_edge(reading), reading.taken.pass_no)).collect();
    kinds.sort_unstable();
    kinds.dedup();
    kinds.into_iter().map(|of| pass(record, of, vehicle, tape)).collect()
}

fn pass(record: &FloorRecord, of: (bool, u32), vehicle: &Vehicle, tape: TapeUnit) -> BookPass {
    let (edge, pass_no) = of;
    let here: Vec<&Reading> =
        record.readings.iter().filter(|reading| (is_edge(reading), reading.taken.pass_no) == of).collect();
    let described = record.document["survey"]["passes"].as_array().into_iter().flatten();
    let own = described.filter(|pass| pass["pass_no"] == pass_no).find_map(|pass| pass["method"].as_str());
    let method = match own.or_else(|| record.document["survey"]["method"].as_str()) {
        _ if edge => "straightedge",
        Some(method) if !method.trim().is_empty() => method,
        _ => "level line",
    };
    let date = here.iter().filter_map(|reading| taken_on(reading)).min().map(|date| format!(", {}", day(&date)));
    BookPass {
        words: format!("{} {pass_no}, {method}{}", if edge { "Set" } else { "Pass" }, date.unwrap_or_default()),
        rows: here.into_iter().map(|reading| row(reading, vehicle, tape)).collect(),
    }
}

fn row(reading: &Reading, vehicle: &Vehicle, tape: TapeUnit) -> BookFloorRow {
    let taken = &reading.taken;
    let words = if let Some(line) = line_of(&taken.place) {
        format!("{}, {}", edge_words(line).0, if taken.reversed { "gauge turned" } else { "gauge straight" })
    } else if let Some(point) = taken.place.strip_prefix("under:") {
        under_words(vehicle, point)
    } else {
        format!("spot {}", taken.place.trim_start_matches('S'))
    };
    BookFloorRow {
        reading: taken.id.to_string(),
        words,
        text: taken.text.clone(),
        printed: printed(taken, tape),
        struck: match &reading.standing {
            Standing::Kept => None,
            Standing::TakenBack { .. } => Some("taken back".to_owned()),
            Standing::Struck { reason, .. } => Some(format!("struck: {reason}")),
        },
    }
}
