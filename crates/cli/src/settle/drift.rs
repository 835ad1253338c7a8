//! In words, whether rake and lean go on drifting after the springs have settled.

use crate::table::{plus_minus, whole};
use std::fmt::Write as _;
use trueground_core::trend::{ChartOf, Drift, DriftUnknown, DriftVerdict};

/// A paragraph with a line for each chart; nothing without any.
pub(super) fn words(drifts: &[Drift]) -> String {
    let mut out = String::new();
    for drift in drifts {
        let name = match drift.figure {
            ChartOf::RakeMm => "rake",
            ChartOf::LeanMm => "lean",
        };
        let said = match (drift.verdict, drift.unknown) {
            (DriftVerdict::Drifting, _) => drifting(drift),
            (DriftVerdict::Steady, _) => {
                format!("steady since {}, {} snapshots.", since(drift), drift.points.len())
            }
            (_, Some(DriftUnknown::NotSettled)) => "can't tell before front and rear have settled.".to_owned(),
            _ => {
                let more = drift.more_readings;
                format!("can't tell yet; {more} more snapshot{} needed.", if more == 1 { " is" } else { "s are" })
            }
        };
        let _ = writeln!(out, "{}, {name}: {said}", drift.kind.words());
        for point in drift.points.iter().filter(|point| point.limits.is_some_and(|limits| limits.is_out)) {
            let _ = writeln!(out, "  {} lies outside of its limits. Read that day's snapshot again.", point.date);
        }
    }
    if let Some(drift) = drifts.first() {
        let often = whole(drift.readings_to_a_false_alarm);
        let _ = writeln!(out, "A car that does not drift is called drifting once in {often} snapshots at most.");
        out.insert_str(0, "\nDrift after settling\n");
    }
    out
}

fn since(drift: &Drift) -> &str {
    drift.since.as_deref().unwrap_or("the first snapshot")
}

fn drifting(drift: &Drift) -> String {
    let moved = drift.moved_mm.map_or_else(String::new, |moved| {
        let way = match (drift.figure, moved.value > 0.0) {
            (ChartOf::RakeMm, true) => "more nose-down",
            (ChartOf::RakeMm, false) => "more nose-up",
            (ChartOf::LeanMm, true) => "left side higher",
            (ChartOf::LeanMm, false) => "right side higher",
        };
        format!(", {way} by {} ± {} mm", whole(moved.value.abs()), plus_minus(moved.u))
    });
    let began = drift.points.iter().find(|point| Some(&point.snapshot) == drift.moved_since.as_ref());
    let day = began.map_or_else(String::new, |point| format!(" on {}", point.date));
    format!("drifting{moved}; first seen{day}.")
}
