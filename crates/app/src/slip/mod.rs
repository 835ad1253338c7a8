//! Likely slips, asked about at the moment of taking: the reading is stored as always, and the question stands in its place
//! until it is answered. It follows from the book, so that it stands after a restart too.

mod earlier;
mod kind;
mod noise;
mod past;
mod repeats;
mod tapes;
mod twist;

pub(crate) use noise::Noise;
pub(crate) use tapes::TooMuch;

use crate::Garage;
use crate::history::History;
use crate::step::Step;
use crate::walk_page::Walk;
use crate::wire::{Differs, DiffersFrom, Problem, StepKind};
use crate::words::{as_read, capital, degrees, whole};
use kind::Slip;
use trueground_store::{Reading, Standing};

/// What is to be said about the reading taken last.
#[derive(Debug, Default)]
pub(crate) struct Said {
    /// A question, asked in place.
    pub(crate) question: Option<Differs>,
    /// A remark that asks nothing; empty: none.
    pub(crate) note: String,
}

impl From<Option<Differs>> for Said {
    fn from(question: Option<Differs>) -> Self {
        Self { question, note: String::new() }
    }
}

/// The reading taken last, and what the same mark read in the same bounce.
struct Newest<'w> {
    place: u32,
    step: &'w Step,
    reading: &'w Reading,
    /// With the reading itself.
    repeats: Vec<&'w Reading>,
}

impl Newest<'_> {
    /// What was read, without what its tape says too much, mm or degrees.
    fn value(&self, walk: &Walk) -> f64 {
        walk.without_too_much(self.reading)
    }

    /// A value as the tape of this reading shows it, mm.
    fn on_its_tape(&self, walk: &Walk, value: f64) -> f64 {
        value + walk.too_much.in_reading(self.reading)
    }

    /// The same as printed.
    fn printed(&self, walk: &Walk, value: f64) -> String {
        printed(walk, self.step, self.on_its_tape(walk, value))
    }

    /// The slip that takes `should` to what was read, both without what the tape says too much.
    fn slip(&self, walk: &Walk, should: f64, within_mm: f64) -> Option<Slip> {
        Slip::between(self.on_its_tape(walk, should), self.reading.taken.value, walk.plan.tape, within_mm)
    }

    /// A question about this reading against one other number.
    fn differs(&self, walk: &Walk, from: DiffersFrom, sentence: String, hint: String, then: &Then) -> Differs {
        Differs {
            step: self.place,
            from,
            sentence,
            hint,
            values: [then.value, self.value(walk)].map(|value| self.on_its_tape(walk, value)).to_vec(),
            printed: [then.value, self.value(walk)].map(|value| self.printed(walk, value)).to_vec(),
            labels: vec![then.label.clone(), "now".to_owned()],
            rounds: vec![None, Some(self.reading.taken.round)],
        }
    }
}

/// What a reading is held against.
#[derive(Clone, Debug)]
struct Then {
    /// "the first round", "bounce 1", "12 July 2031"
    words: String,
    /// The same, shorter.
    label: String,
    /// mm or degrees, without what the tape says too much.
    value: f64,
}

/// The question about the reading taken last, or a remark: until another is taken, one is struck, or the person goes on.
///
/// # Errors
/// An earlier snapshot cannot be read.
pub(crate) fn about_newest(garage: &Garage, walk: &Walk) -> Result<Said, Problem> {
    let readings = &walk.snapshot.readings;
    let struck_since = readings.iter().any(|kept| kept.marked_last && matches!(kept.standing, Standing::Struck { .. }));
    let settled = walk.snapshot.draft.as_ref().is_some_and(|draft| draft.settled);
    if struck_since || settled || walk.snapshot.finished {
        return Ok(Said::default());
    }
    // The order of entry is known of what was taken here.
    let newest = readings.last().filter(|kept| kept.counts() && kept.at.is_some());
    about_last(garage, walk, newest)
}

/// The questions that a walk in the order of its steps would have asked, at most one a mark and bounce: a repeat that
/// contradicts the first says more than what was asked about the first.
///
/// # Errors
/// An earlier snapshot cannot be read.
pub(crate) fn about_each(garage: &Garage, walk: &Walk) -> Result<Vec<Differs>, Problem> {
    let in_order: Vec<Reading> = walk.steps.iter().filter_map(|step| walk.read(step)).cloned().collect();
    let mut found: Vec<Differs> = Vec::new();
    for last in 0..in_order.len() {
        let mut snapshot = walk.snapshot.clone();
        snapshot.readings = in_order[..=last].to_vec();
        let so_far = Walk {
            snapshot,
            vehicle: walk.vehicle.clone(),
            plan: walk.plan.clone(),
            steps: walk.steps.clone(),
            history: History::default(),
            noise: walk.noise,
            too_much: walk.too_much.clone(),
        };
        let Some(question) = about_last(garage, &so_far, so_far.snapshot.readings.last())?.question else { continue };
        let mark = |asked: &Differs| {
            let step = &walk.steps[asked.step as usize];
            (step.kind, step.bounce, step.place.clone(), step.reversed)
        };
        found.retain(|earlier| mark(earlier) != mark(&question));
        found.push(question);
    }
    found.sort_by_key(|asked| asked.step);
    Ok(found)
}

fn about_last(garage: &Garage, walk: &Walk, newest: Option<&Reading>) -> Result<Said, Problem> {
    let Some(newest) = newest.and_then(|reading| of(walk, reading)) else { return Ok(Said::default()) };
    // Another reading of the same mark, today, is nearer to the truth of today than any earlier day.
    if newest.repeats.len() > 1 {
        return Ok(repeats::in_this_bounce(walk, &newest).into());
    }
    if matches!(newest.step.kind, StepKind::Gauge | StepKind::Plane) {
        return Ok(Said::default());
    }
    let bounces = repeats::other_bounces(walk, &newest);
    if !bounces.is_empty() {
        return Ok(repeats::in_other_bounces(walk, &newest, &bounces).into());
    }
    let said = earlier::said(garage, walk, &newest)?;
    if said.question.is_some() || !said.note.is_empty() {
        return Ok(said);
    }
    Ok(twist::question(garage, walk, &newest)?.into())
}

/// A reading with its step and its repeats.
fn of<'w>(walk: &'w Walk, reading: &'w Reading) -> Option<Newest<'w>> {
    let place = walk.steps.iter().position(|step| step.reads(reading))?;
    let step = &walk.steps[place];
    let repeats = walk.snapshot.readings.iter().filter(|kept| kept.counts() && step.same_place(kept)).collect();
    Some(Newest { place: u32::try_from(place).unwrap_or(u32::MAX), step, reading, repeats })
}

/// The only reading of a mark in its bounce, if there is exactly one.
fn single<'w>(walk: &'w Walk, mark: &Step) -> Option<Newest<'w>> {
    let mut readings = walk.snapshot.readings.iter().filter(|kept| kept.counts() && mark.same_place(kept));
    let reading = readings.next().filter(|_| readings.next().is_none())?;
    of(walk, reading)
}

/// "RR reads an inch more than the first round: 24 5/8, 23 5/8. Read it again.": the slip in words; empty where a difference
/// looks like none.
fn about(walk: &Walk, newest: &Newest<'_>, then: &Then, within_mm: f64) -> String {
    let Some(slip) = newest.slip(walk, then.value, within_mm) else { return String::new() };
    let value = newest.value(walk);
    let corner = newest.step.corner;
    let pair = format!("{}, {}", newest.printed(walk, value), newest.printed(walk, then.value));
    if slip == Slip::SwappedDigits {
        return format!("{corner}: two digits look swapped: {pair}. Read it again.");
    }
    let more = if value > then.value { "more" } else { "less" };
    format!("{corner} reads {} {more} than {}: {pair}. Read it again.", slip.size(), then.words)
}

/// "An inch more", "38 mm less"
fn size(gap: f64, slip: Option<Slip>) -> String {
    let more = if gap > 0.0 { "more" } else { "less" };
    match slip {
        Some(slip) if slip != Slip::SwappedDigits => format!("{} {more}", capital(slip.size())),
        _ => format!("{} mm {more}", whole(gap.abs())),
    }
}

fn printed(walk: &Walk, step: &Step, value: f64) -> String {
    match step.kind {
        StepKind::Gauge => degrees(value),
        StepKind::Plane => as_read(value.abs(), walk.plan.tape),
        StepKind::Height | StepKind::Hub | StepKind::HubToLip => as_read(value, walk.plan.tape),
    }
}

/// "first", "second"
fn counted_words(number: u32) -> String {
    const WORDS: [&str; 6] = ["first", "second", "third", "fourth", "fifth", "sixth"];
    let word = WORDS.get((number as usize).wrapping_sub(1));
    word.map_or_else(|| format!("{number}th"), |word| (*word).to_owned())
}

/// The middle one; of an even number the mean of the two in the middle.
fn median(values: impl Iterator<Item = f64>) -> Option<f64> {
    let mut sorted: Vec<f64> = values.collect();
    sorted.sort_by(f64::total_cmp);
    let upper = *sorted.get(sorted.len() / 2)?;
    let lower = if sorted.len().is_multiple_of(2) { *sorted.get(sorted.len() / 2 - 1)? } else { upper };
    Some(f64::midpoint(lower, upper))
}
