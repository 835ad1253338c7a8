//! A reading against earlier finished snapshots: a corner that moved alone, and left for right.

use super::noise::ASKED_BEYOND;
use super::past::{Past, finished, levelled_changes};
use super::{Newest, Said, Then, about, single, size};
use crate::Garage;
use crate::step::Step;
use crate::walk_page::Walk;
use crate::wire::{Differs, DiffersFrom, Problem, StepKind};
use crate::words::{capital, whole};
use std::collections::BTreeMap;

/// What the last snapshot with this mark says about the first reading of it.
///
/// # Errors
/// A snapshot cannot be read.
pub(super) fn said(garage: &Garage, walk: &Walk, newest: &Newest<'_>) -> Result<Said, Problem> {
    let past = finished(garage, walk)?;
    let here: Vec<&Past> = past.iter().filter(|past| past.same_place).collect();
    let partner = partner(walk, newest.step);
    if let Some(swapped) = partner.and_then(|partner| swapped_sides(walk, newest, partner, &here)) {
        return Ok(Some(swapped).into());
    }
    let Some(last) = past.iter().find(|past| past.at(&newest.step.place).is_some()) else {
        return Ok(Said::default());
    };
    let changes = if last.same_place {
        changes_by_tape(walk, newest.step, last)
    } else if all_four(walk, newest.step) {
        levelled_changes(garage, walk, last)?
    } else {
        BTreeMap::new()
    };
    Ok(Judged { walk, last, changes: &changes }.said(newest, partner))
}

/// By how much each mark reads more than in that snapshot, mm, in the bounce of `step`.
fn changes_by_tape(walk: &Walk, step: &Step, last: &Past) -> BTreeMap<String, f64> {
    let marks = walk
        .steps
        .iter()
        .filter(|mark| mark.bounce == step.bounce && !matches!(mark.kind, StepKind::Gauge | StepKind::Plane));
    marks.filter_map(|mark| Some((mark.place.clone(), middle(walk, mark)? - last.at(&mark.place)?))).collect()
}

/// The middle of what was read at a mark in its bounce.
fn middle(walk: &Walk, mark: &Step) -> Option<f64> {
    let readings = walk.snapshot.readings.iter().filter(|kept| kept.counts() && mark.same_place(kept));
    super::median(readings.map(|kept| walk.without_too_much(kept)))
}

/// The mark of the same kind on the other side of the axle.
fn partner<'w>(walk: &'w Walk, step: &Step) -> Option<&'w Step> {
    let across = |mark: &&Step| {
        mark.bounce == step.bounce
            && mark.kind == step.kind
            && mark.point_kind == step.point_kind
            && mark.corner.is_front() == step.corner.is_front()
            && mark.corner.is_left() != step.corner.is_left()
    };
    let off = |mark: &Step| (mark.s_mm - step.s_mm).abs();
    walk.steps.iter().filter(across).min_by(|a, b| off(a).total_cmp(&off(b)))
}

/// True once a mark of this kind is read at all four corners in the bounce of `step`.
fn all_four(walk: &Walk, step: &Step) -> bool {
    let read = |corner| {
        let mut marks = walk
            .steps
            .iter()
            .filter(|mark| mark.bounce == step.bounce && mark.kind == step.kind && mark.point_kind == step.point_kind);
        marks.any(|mark| mark.corner == corner && middle(walk, mark).is_some())
    };
    step.kind == StepKind::Height && trueground_core::corner::Corner::ALL.into_iter().all(read)
}

/// The changes since the last snapshot.
struct Judged<'j> {
    walk: &'j Walk,
    last: &'j Past,
    changes: &'j BTreeMap<String, f64>,
}

impl Judged<'_> {
    fn said(&self, newest: &Newest<'_>, partner: Option<&Step>) -> Said {
        let Some(&change) = self.changes.get(&newest.step.place) else { return Said::default() };
        let noise = self.walk.noise;
        let (u, uneven_u) = (noise.change(self.last.same_load), noise.uneven_change());
        let moved = |change: f64| change.abs() > ASKED_BEYOND * u;
        let alike = |other: f64| (change - other).abs() <= ASKED_BEYOND * uneven_u;
        let across = partner.and_then(|partner| self.changes.get(&partner.place)).copied();
        // The same corner at another mark: what moved both is no slip of one reading.
        let whole_corner = self.walk.steps.iter().any(|mark| {
            mark.kind == StepKind::Height
                && newest.step.kind == StepKind::Height
                && mark.corner == newest.step.corner
                && mark.place != newest.step.place
                && self.changes.get(&mark.place).is_some_and(|other| moved(*other) && alike(*other))
        });
        let within_mm = 1.5 * u;
        match across {
            Some(other) if alike(other) && moved(change) && moved(other) => self.note(newest, change, "left and right"),
            Some(other) if alike(other) => Said::default(),
            _ if whole_corner => self.note(newest, change, "two marks of the corner"),
            // What the other side does too is the car's.
            Some(other) if moved(change) => self.ask(newest, change, if moved(other) { other } else { 0.0 }, within_mm),
            Some(other) if moved(other) => {
                // The first of the pair is the odd one, and was not asked about while it was alone.
                let first = partner.and_then(|partner| single(self.walk, partner));
                let first = first.filter(|first| !self.stands_out_alone(first, other, within_mm));
                first.map_or_else(Said::default, |first| self.ask(&first, other, 0.0, within_mm))
            }
            None if moved(change) && self.stands_out_alone(newest, change, within_mm) => {
                self.ask(newest, change, 0.0, within_mm)
            }
            _ => Said::default(),
        }
    }

    /// A single corner may have been worked on: only what stands out alone is asked about before the other side is read.
    fn stands_out_alone(&self, newest: &Newest<'_>, change: f64, within_mm: f64) -> bool {
        let slip = newest.slip(self.walk, newest.value(self.walk) - change, within_mm);
        self.last.same_load && !self.last.worked_on && slip.is_some_and(|slip| slip.stands_out(change))
    }

    /// The question about a reading that changed by `change`, of which `of_the_car` is the car's own.
    fn ask(&self, newest: &Newest<'_>, change: f64, of_the_car: f64, within_mm: f64) -> Said {
        let day = self.last.words();
        let should = newest.value(self.walk) - change + of_the_car;
        let slip = newest.slip(self.walk, should, within_mm);
        let levelled = if self.last.same_place { "" } else { ", both on level ground" };
        let (words, label) = match of_the_car {
            0.0 => (format!("on {day}"), day),
            _ => (format!("the other side would have it since {day}"), "as the other side".to_owned()),
        };
        let sentence = format!("{} than {words}{levelled}. Read it once more?", size(change - of_the_car, slip));
        let then = Then { words, label, value: should };
        let hint = about(self.walk, newest, &then, within_mm);
        Some(newest.differs(self.walk, DiffersFrom::LastSnapshot, sentence, hint, &then)).into()
    }

    fn note(&self, newest: &Newest<'_>, change: f64, what: &str) -> Said {
        let end = if newest.step.corner.is_front() { "front" } else { "rear" };
        let more = if change > 0.0 { "more" } else { "less" };
        let (day, mm) = (self.last.words(), whole(change.abs()));
        let note = format!("{}, {what} read about {mm} mm {more} than on {day}: a change, no slip.", capital(end));
        Said { question: None, note }
    }
}

/// The question, if both sides of an axle read what the other side has always read.
fn swapped_sides(walk: &Walk, newest: &Newest<'_>, partner: &Step, here: &[&Past]) -> Option<Differs> {
    let across = single(walk, partner)?;
    let pairs: Vec<(f64, f64)> =
        here.iter().filter_map(|past| Some((past.at(&newest.step.place)?, past.at(&partner.place)?))).collect();
    let count = pairs.len() as f64;
    let mean = |pick: fn(&(f64, f64)) -> f64| pairs.iter().map(pick).sum::<f64>() / count;
    let apart = ASKED_BEYOND * walk.noise.bounce();
    let (own_now, across_now) = (newest.value(walk), across.value(walk));
    let now = own_now - across_now;
    let mirrored = |(own, other): &(f64, f64)| (own - other).abs() > apart && (own > other) != (now > 0.0);
    let near = |value: f64, other: f64| (value - other).abs() <= ASKED_BEYOND * walk.noise.change(true);
    if pairs.is_empty()
        || now.abs() <= apart
        || !pairs.iter().all(mirrored)
        || !near(own_now, mean(|(_, other)| *other))
        || !near(across_now, mean(|(own, _)| *own))
    {
        return None;
    }
    let last = here.iter().find(|past| past.at(&partner.place).is_some())?;
    let compared = if pairs.len() == 1 { last.words() } else { "all earlier snapshots".to_owned() };
    let sentence = format!("Left and right seem swapped compared with {compared}.");
    let [own, other] = [last.at(&newest.step.place)?, last.at(&partner.place)?];
    let text = |value| newest.printed(walk, value);
    let hint = format!(
        "{} {}, {} {} now; {}, {} on {}. Read both again.",
        partner.corner,
        text(across_now),
        newest.step.corner,
        text(own_now),
        text(other),
        text(own),
        last.words()
    );
    let then = Then { words: String::new(), label: last.words(), value: own };
    Some(newest.differs(walk, DiffersFrom::SwappedSides, sentence, hint, &then))
}
