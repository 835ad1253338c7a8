//! A reading against the others of the same mark in the same snapshot: its repeats, and its other bounces.

use super::noise::ASKED_BEYOND;
use super::{Newest, Then, about, counted_words, printed, size};
use crate::walk_page::Walk;
use crate::wire::{Differs, DiffersFrom, StepKind};
use crate::words::{degrees, whole};
use trueground_store::Reading;

/// The question, if the newest repeat lies near none of the others.
pub(super) fn in_this_bounce(walk: &Walk, newest: &Newest<'_>) -> Option<Differs> {
    let mut repeats: Vec<&Reading> = newest.repeats.clone();
    repeats.sort_by_key(|reading| reading.taken.round);
    let others = repeats.iter().copied().filter(|other| other.taken.id != newest.reading.taken.id);
    let gap = |other: &&Reading| (walk.without_too_much(other) - newest.value(walk)).abs();
    let nearest = others.min_by(|a, b| gap(a).total_cmp(&gap(b)))?;
    let u = walk.noise.repeat(newest.step.kind);
    if gap(&nearest) <= ASKED_BEYOND * u {
        return None;
    }
    let gauge = newest.step.kind == StepKind::Gauge;
    let shown = |value: f64| if newest.step.kind == StepKind::Plane { value.abs() } else { value };
    // With two tapes, all stand as the newest one shows them, so that the difference is the one that is said.
    let on_this_tape = |reading: &Reading| newest.on_its_tape(walk, walk.without_too_much(reading));
    let apart = if gauge { degrees(gap(&nearest)) } else { format!("{} mm", whole(gap(&nearest))) };
    let sentence = match repeats.len() {
        2 => format!("These two differ by {apart}. Read it once more?"),
        _ => format!("This one is {apart} from the nearest. Read it once more?"),
    };
    let then = Then {
        words: format!("the {} round", counted_words(nearest.taken.round)),
        value: walk.without_too_much(nearest),
        label: String::new(),
    };
    let hint = if matches!(newest.step.kind, StepKind::Gauge | StepKind::Plane) {
        String::new()
    } else {
        about(walk, newest, &then, 1.5 * u)
    };
    Some(Differs {
        step: newest.place,
        from: DiffersFrom::Repeats,
        sentence,
        hint,
        values: repeats.iter().map(|reading| shown(on_this_tape(reading))).collect(),
        printed: repeats.iter().map(|reading| printed(walk, newest.step, on_this_tape(reading))).collect(),
        labels: repeats.iter().map(|reading| format!("round {}", reading.taken.round)).collect(),
        rounds: repeats.iter().map(|reading| Some(reading.taken.round)).collect(),
    })
}

/// What the same mark read in the other bounces of this snapshot, nearest first.
pub(super) fn other_bounces(walk: &Walk, newest: &Newest<'_>) -> Vec<Then> {
    let of_bounce = |bounce: u32| {
        let step = walk
            .steps
            .iter()
            .find(|step| step.bounce == bounce && step.place == newest.step.place && step.kind == newest.step.kind)?;
        let readings = walk.snapshot.readings.iter();
        let values =
            readings.filter(|kept| kept.counts() && step.same_place(kept)).map(|kept| walk.without_too_much(kept));
        let words = format!("bounce {bounce}");
        Some(Then { value: super::median(values)?, label: words.clone(), words })
    };
    let others = (1..=walk.plan.bounces).filter(|bounce| *bounce != newest.step.bounce);
    let value = newest.value(walk);
    let mut found: Vec<Then> = others.filter_map(of_bounce).collect();
    found.sort_by(|a, b| (a.value - value).abs().total_cmp(&(b.value - value).abs()));
    found
}

/// The question, if the first reading of a bounce lies near none of the other bounces.
pub(super) fn in_other_bounces(walk: &Walk, newest: &Newest<'_>, others: &[Then]) -> Option<Differs> {
    let nearest = others.first()?;
    let u = walk.noise.bounce();
    let gap = newest.value(walk) - nearest.value;
    if gap.abs() <= ASKED_BEYOND * u {
        return None;
    }
    let slip = newest.slip(walk, nearest.value, 1.5 * u);
    let sentence = format!("{} than in {}. Read it once more?", size(gap, slip), nearest.words);
    Some(newest.differs(walk, DiffersFrom::Bounces, sentence, about(walk, newest, nearest, 1.5 * u), nearest))
}
