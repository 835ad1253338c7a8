//! In words, one end of one kind of point: its heights with what moved them, and what they say.

use super::said;
use crate::table::{Column, Table, plus_minus, whole};
use std::fmt::Write as _;
use trueground_core::trend::{Clock, End, LineSettling, MovedCause, SnapshotHeight};
use trueground_core::wording::shown;

/// A table and a few lines.
pub(super) fn words(line: &LineSettling) -> String {
    let end = if line.end == End::Front { "front" } else { "rear" };
    let mut out = format!("{}, {end}, since {}\n{}", line.kind.words(), line.day_0, table(line));
    for step in &line.steps {
        let (size, way) = (step.step_mm.value, if step.step_mm.value < 0.0 { "lower" } else { "higher" });
        let (size, band) = (whole(size.abs()), plus_minus(step.step_mm.u));
        let _ = writeln!(out, "{}, day {}: {size} ± {band} mm {way}.", shown(&step.what), whole(step.day));
    }
    for (from, to) in &line.stored {
        let until = to.map_or_else(String::new, |to| format!(" to day {}", whole(to)));
        let _ = writeln!(out, "Stored from day {}{until}: these days do not count.", whole(*from));
    }
    out.push_str(&said::words(line.answer()));
    out.push_str(&how(line));
    out
}

/// Which way of counting was chosen, and the runner-up.
fn how(line: &LineSettling) -> String {
    let mut out = String::new();
    if let Some(shared) = line.shared.filter(|_| line.chosen.as_ref().is_some_and(|chosen| chosen.shared_rate)) {
        let unit = if shared.clock == Clock::Km { "km" } else { "days" };
        let (rate, band) = (whole(shared.rate.value), plus_minus(shared.rate.u));
        let by = shared.delta_aicc;
        let _ = writeln!(out, "Front and rear share one rate, {rate} ± {band} {unit} (AICc {by:+.1} against two).");
    }
    if line.candidates.iter().any(|candidate| candidate.clock == Clock::Km) {
        let named: Vec<String> = line
            .candidates
            .iter()
            .take(2)
            .map(|candidate| {
                let clock = if candidate.clock == Clock::Km { "kilometres" } else { "days" };
                format!("{} by {clock} ({:+.1})", said::name(candidate.model), candidate.delta_aicc)
            })
            .collect();
        let _ = writeln!(out, "This end by itself: best {}.", named.join(", then "));
    }
    out
}

fn table(line: &LineSettling) -> String {
    let head = [
        (Column::Numbers, "day"),
        (Column::Words, "date"),
        (Column::Numbers, "height mm"),
        (Column::Numbers, "±"),
        (Column::Words, ""),
    ];
    let mut table = Table::new(&head);
    for height in &line.heights {
        table.row([
            whole(height.day),
            height.date.clone(),
            whole(height.height_mm),
            plus_minus(height.u_mm),
            note(height),
        ]);
    }
    table.lines()
}

/// "fuel tank full instead of half: -7 ± 1 mm, taken out"
fn note(height: &SnapshotHeight) -> String {
    let large = height.moved_by.iter().filter(|moved| moved.moved_mm.abs() >= 0.5);
    let named: Vec<String> = large
        .map(|moved| {
            let what = match moved.cause {
                MovedCause::Pressure => "tire pressures".to_owned(),
                MovedCause::Temperature => "colder or warmer tires".to_owned(),
                MovedCause::Fuel | MovedCause::Load if moved.what.is_empty() => "load".to_owned(),
                MovedCause::Fuel | MovedCause::Load => shown(&moved.what),
            };
            format!("{what}: {} ± {} mm", whole(moved.moved_mm), plus_minus(moved.u_mm))
        })
        .collect();
    if named.is_empty() { String::new() } else { format!("{}, taken out", named.join("; ")) }
}
