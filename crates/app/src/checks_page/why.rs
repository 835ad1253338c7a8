//! Where the height of a point or a lamp comes from: the sum in whole mm, and its ± by source.

use super::rows::Row;
use super::wording::point;
use crate::wire::{CheckDoubt, SumLine};
use crate::words::day;
use trueground_core::car::Attached;
use trueground_core::checks::{AtStance, DoubtOf};

/// What was measured: its place, what it goes with, and beside which snapshot.
struct Measured<'c> {
    place_mm: [f64; 3],
    attach: Attached,
    beside: Option<&'c str>,
}

fn measured<'c>(car: &'c AtStance<'_>, row: &Row) -> Option<Measured<'c>> {
    let what = &row.finding.as_ref()?.what;
    match row.view.check.as_str() {
        "clearance" => {
            let point = point(car, what)?;
            Some(Measured { place_mm: point.place_mm(), attach: point.attach, beside: point.measured_in.as_deref() })
        }
        "lamps" => {
            let lamp = car.vehicle.all_lamps().iter().find(|lamp| lamp.id == *what)?;
            let place_mm = [lamp.x_mm, lamp.y_mm, lamp.z_mm];
            Some(Measured { place_mm, attach: lamp.attach, beside: lamp.measured_in.as_deref() })
        }
        _ => None,
    }
}

/// How a height comes about: as measured, and what the body or the axle did since; whole mm that add up.
pub(super) fn sum(car: &AtStance<'_>, row: &Row) -> Vec<SumLine> {
    let (Some(measured), Some(finding)) = (measured(car, row), row.finding.as_ref()) else { return Vec::new() };
    let (then, now) = (measured.place_mm[2].round(), finding.value.round());
    let beside = measured
        .beside
        .map_or_else(|| "beside the first snapshot".to_owned(), |id| format!("beside snapshot {}", day(id)));
    vec![
        SumLine { value_mm: then, words: format!("by tape, {beside}") },
        SumLine { value_mm: now - then, words: "what carries it moved since, and what is aboard".to_owned() },
        SumLine { value_mm: now, words: "above level ground".to_owned() },
    ]
}

/// Its ± by source; they add like the sides of a right angle.
pub(super) fn doubts(car: &AtStance<'_>, row: &Row) -> Vec<CheckDoubt> {
    let Some(measured) = measured(car, row) else { return Vec::new() };
    let said = |of: DoubtOf| match of {
        DoubtOf::Tape => ("Tape at the point", "one reading, and where the point is said to be"),
        DoubtOf::Front => ("Front of the body", "how far it moved since"),
        DoubtOf::Rear => ("Rear of the body", "how far it moved since"),
        DoubtOf::Lean => ("Lean", "how far it leans more or less than then"),
        DoubtOf::Axle => ("The axle", "how far its wheel centres moved since"),
        DoubtOf::Changes => ("Planned changes", "predicted, not measured"),
    };
    car.doubts_since(measured.place_mm, measured.attach, measured.beside)
        .into_iter()
        .map(|(of, u)| {
            let (words, detail) = said(of);
            CheckDoubt { words: words.to_owned(), detail: detail.to_owned(), band_mm: 2.0 * u }
        })
        .collect()
}
