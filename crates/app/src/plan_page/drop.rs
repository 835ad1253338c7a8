//! Where a plan's drop comes from, to be drawn: at each axle what springs, axles, frame, tires and load do, one under the other; and
//! the body over the frame.

use super::view::signed;
use crate::wire::{DropPart, DropPlace};
use trueground_core::plan::{Planned, StepDrop};

/// In the order in which they stand under one another, from the ground up.
const SOURCES: [(&str, &str); 5] =
    [("tire", "tires"), ("axle", "axle"), ("spring", "spring"), ("frame", "frame"), ("load", "load")];
/// Less than this is nothing, mm.
const LEAST_MM: f64 = 0.5;

/// Front and rear axle, and the body where it moves over its frame; empty where nothing moves.
pub(super) fn drops(planned: &Planned) -> Vec<DropPlace> {
    let at = |words: &str, of: fn(&StepDrop) -> f64| {
        let source = |(code, source): (&str, &str)| {
            let own = planned.steps.iter().filter(|step| step.comes_from == code);
            part(source, own.map(of).sum())
        };
        place(words, SOURCES.into_iter().filter_map(source).collect())
    };
    let mut places = vec![at("front", |step| step.front_mm.value), at("rear", |step| step.rear_mm.value)];
    let sum = |of: fn(&StepDrop) -> f64| planned.steps.iter().map(of).sum::<f64>();
    let (frame, body) = (sum(|step| step.frame_mm.value), sum(|step| step.body_mm.value));
    if let Some(over) = part("body over frame", body - frame) {
        places.push(place("body, in the middle", part("with the frame", frame).into_iter().chain([over]).collect()));
    }
    if places.iter().all(|place| place.parts.is_empty()) { Vec::new() } else { places }
}

fn part(words: &str, mm: f64) -> Option<DropPart> {
    (mm.abs() >= LEAST_MM).then(|| DropPart { words: words.to_owned(), mm, number: signed(mm) })
}

fn place(words: &str, parts: Vec<DropPart>) -> DropPlace {
    let mm: f64 = parts.iter().map(|part| part.mm).sum();
    let told: Vec<String> = parts.iter().map(|part| format!("{} {}", part.words, part.number)).collect();
    let text = match (&told[..], mm.round()) {
        ([], _) => format!("{words}: stays"),
        (_, total) => format!("{words}: {} mm, from {}", signed(total), told.join(", ")),
    };
    DropPlace { words: words.to_owned(), number: signed(mm), mm, parts, text }
}
