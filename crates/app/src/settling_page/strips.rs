//! Rake and lean over the same days: what settles evenly leaves both alone.

use super::{Shown, since_day_0};
use crate::wire::{SettlingStrip, SettlingStripPoint};
use crate::words::{band_deg, band_mm, capital, degrees, known, whole};
use std::collections::BTreeSet;
use trueground_core::stance::{Figure, Line};
use trueground_core::trend::SnapshotHeight;

/// A number that a strip shows.
struct Asked {
    what: &'static str,
    field: &'static str,
    unit: &'static str,
    /// What a positive and a negative one are called.
    sides: [&'static str; 2],
    of: fn(&Line) -> &Figure,
}

const ASKED: [Asked; 2] = [
    Asked { what: "rake", field: "rake_deg", unit: "deg", sides: ["nose-down", "nose-up"], of: |line| &line.rake_deg },
    Asked {
        what: "lean",
        field: "lean_mm",
        unit: "mm",
        sides: ["left side higher", "right side higher"],
        of: |line| &line.lean_mm,
    },
];

/// Those of the two that are known on two days at least.
pub(super) fn strips(shown: &Shown<'_>) -> Vec<SettlingStrip> {
    let mut seen = BTreeSet::new();
    let mut heights: Vec<&SnapshotHeight> = shown.lines.iter().flat_map(|line| since_day_0(line)).collect();
    heights.retain(|height| seen.insert(&height.snapshot));
    heights.sort_by(|a, b| a.day.total_cmp(&b.day));
    ASKED.iter().filter_map(|asked| strip(shown, asked, &heights)).collect()
}

fn strip(shown: &Shown<'_>, asked: &Asked, heights: &[&SnapshotHeight]) -> Option<SettlingStrip> {
    let read: Vec<(&SnapshotHeight, f64, f64)> = heights
        .iter()
        .filter_map(|height| {
            let stance = shown.about.solved.stance(&height.snapshot)?;
            let (value, u) = known((asked.of)(stance.lines_nominal.get(shown.kind.code())?))?;
            Some((*height, value, u))
        })
        .collect();
    let ((first, then, _), (last, now, _)) = (read.first()?, read.last()?);
    if read.len() < 2 {
        return None;
    }
    // Its numbers are counted the way the car leans for the most part, so that they are seldom below zero.
    let mean = read.iter().map(|(_, value, _)| value).sum::<f64>();
    let (sign, side) = if mean < 0.0 { (-1.0, asked.sides[1]) } else { (1.0, asked.sides[0]) };
    let figure = format!("lines_nominal.{}.{}", shown.kind.code(), asked.field);
    let change = shown.about.solution.change(&first.snapshot, &last.snapshot, &figure);
    let sentence = change.and_then(|change| known(&change)).map_or(String::new(), |(by, u)| {
        let word = if by.abs() <= 2.0 * u {
            "the same"
        } else if by.abs() > 3.0 * u {
            "changed"
        } else {
            "can\u{2019}t tell"
        };
        let printed = |value: f64| if asked.unit == "deg" { degrees(value) } else { format!("{} mm", whole(value)) };
        let band =
            if asked.unit == "deg" { format!("{:.1}°", band_deg(u)) } else { format!("{} mm", whole(band_mm(u))) };
        let of = |value: f64| printed(sign * value);
        format!("{} on day {}, {} on day {}, ±{band}: {word}.", of(*then), whole(first.day), of(*now), whole(last.day))
    });
    let points = read.iter().map(|(height, value, u)| SettlingStripPoint {
        snapshot: shown.id_of(&height.snapshot),
        at: height.day,
        value: sign * value,
        band: 2.0 * u,
    });
    Some(SettlingStrip {
        what: asked.what.to_owned(),
        words: format!("{}, {side}", capital(asked.what)),
        unit: asked.unit.to_owned(),
        points: points.collect(),
        sentence,
    })
}
