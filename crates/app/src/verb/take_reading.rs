//! Takes a reading, tape or gauge as the step asks.

use crate::car_form::tape_unit;
use crate::fields::unit;
use crate::problems::one_field;
use crate::slip::about_newest;
use crate::step::Step;
use crate::walk_page::{Walk, page, view};
use crate::wire::{FieldProblem, LevelLine, Problem, StepKind, TakeReading, WalkView};
use crate::words::capital;
use crate::{Garage, Now, half_typed, instrument_page};
use serde_json::{Map, Value};
use trueground_core::capture::{OwnedInstrument, OwnedTape};
use trueground_core::units::{read_angle, read_length};
use trueground_store::{NewReading, Reading, ReadingKind};

/// Nothing on a car is nearer to the ground or higher above it and still a ride height.
pub(super) const HEIGHT_RANGE_MM: std::ops::RangeInclusive<f64> = 20.0..=2_500.0;
pub(super) const HUB_RANGE_MM: std::ops::RangeInclusive<f64> = 100.0..=800.0;
/// A point lies on the level line or within a long rule of it.
pub(super) const LINE_RANGE_MM: std::ops::RangeInclusive<f64> = 0.0..=2_500.0;
/// From a lip that hides half the tire to one far above it [common practice, no source].
pub(super) const HUB_TO_LIP_RANGE_MM: std::ops::RangeInclusive<f64> = 50.0..=1_200.0;
/// No car is raked more than this; a larger angle is a slip or a dropped gauge [common practice, no source].
pub(super) const STEEP_DEG: f64 = 15.0;

/// Takes a reading; it is on the disk when the reply comes. A step that is read already takes one more repeat. A reading that
/// looks like a slip is kept all the same, and the reply asks.
///
/// # Errors
/// No such snapshot or step, finished, or the text cannot be read or lies out of range; then nothing was stored.
pub fn take_reading(garage: &mut Garage, request: TakeReading, now: &Now<'_>) -> Result<WalkView, Problem> {
    let id = garage.find("snapshot", &request.snapshot)?;
    let walk = Walk::of(garage, id)?;
    let step = walk.step(request.step)?;
    let same = |kept: &Reading| {
        kept.taken.request.as_ref() == Some(&request.request_id)
            && kept.taken.text == signed(step, &walk, &request.text)
            && step.same_place(kept)
    };
    if walk.snapshot.readings.iter().any(same) {
        return view(garage, &walk);
    }
    let reading = reading(garage, &walk, step, round(&walk, step), &request, now)?;
    let next = walk.next_key(request.step as usize);
    garage.store.take(id, &reading, &next, now.stamp())?;
    half_typed::let_go(garage, &walk, &step.key(), now)?;
    let walk = Walk::of(garage, id)?;
    if request.insist && about_newest(garage, &walk)?.question.is_some() {
        garage.store.go_to(id, &next, now.stamp())?;
        return page(garage, id);
    }
    view(garage, &walk)
}

/// The reading that a request brings, as it is to be kept.
///
/// # Errors
/// The text cannot be read or lies out of range, or the instrument does not fit.
pub(super) fn reading(
    garage: &Garage,
    walk: &Walk,
    step: &Step,
    round: u32,
    request: &TakeReading,
    now: &Now<'_>,
) -> Result<NewReading, Problem> {
    let tape = tape(garage, step, walk, request)?;
    let (value, unit) = measure(step, walk, request, tape.as_ref())?;
    let mut extra: Map<String, Value> =
        request.instrument.iter().map(|id| ("instrument".to_owned(), Value::from(id.as_str()))).collect();
    if let Some(at) = &walk.plan.sheet_read_at {
        extra.insert("taken_at".to_owned(), Value::from(at.as_str()));
    }
    Ok(NewReading {
        id: now.id(),
        kind: match step.kind {
            StepKind::Gauge => ReadingKind::Gauge,
            StepKind::Plane => ReadingKind::Plane,
            StepKind::Height | StepKind::Hub | StepKind::HubToLip => ReadingKind::Tape,
        },
        bounce: if step.kind == StepKind::Plane { String::new() } else { step.bounce_id.clone() },
        pass_no: if step.kind == StepKind::Plane { step.bounce } else { 0 },
        place: step.place.clone(),
        round,
        reversed: step.reversed,
        text: signed(step, walk, &request.text),
        unit,
        value,
        extra,
        request: Some(request.request_id.clone()),
    })
}

/// The step's own round, or one beyond all where it is read already.
fn round(walk: &Walk, step: &Step) -> u32 {
    if walk.read(step).is_none() {
        return step.round;
    }
    let same = walk.snapshot.readings.iter().filter(|reading| step.same_place(reading));
    let once = matches!(step.kind, StepKind::Gauge | StepKind::Plane);
    let planned = if once { 1 } else { walk.plan.rounds };
    same.map(|reading| reading.taken.round).max().unwrap_or(0).max(planned) + 1
}

/// The tape of one's own that the reading is taken with, if it is: its own, or the snapshot's.
fn tape(garage: &Garage, step: &Step, walk: &Walk, request: &TakeReading) -> Result<Option<OwnedTape>, Problem> {
    let other = || {
        Problem::new(
            "instrument_unfit",
            "That does not read this step.",
            "Choose a tape for a height, a gauge for an angle.",
        )
    };
    let named = match &request.instrument {
        Some(id) => Some(instrument_page::offered(garage, id)?),
        None => match walk.snapshot.document["tape"].as_str() {
            Some(id) => instrument_page::known(garage, walk.snapshot.car, id)?,
            None => None,
        },
    };
    let chosen = request.instrument.is_some();
    match (step.kind, named) {
        (StepKind::Height | StepKind::Hub | StepKind::HubToLip, Some(OwnedInstrument::Tape(tape))) => Ok(Some(tape)),
        (StepKind::Gauge, Some(OwnedInstrument::AngleGauge(_))) | (_, None) => Ok(None),
        (_, Some(_)) if chosen => Err(other()),
        (_, Some(_)) => Ok(None),
    }
}

/// Value in mm or degrees, and the unit of the text.
fn measure(
    step: &Step,
    walk: &Walk,
    request: &TakeReading,
    tape: Option<&OwnedTape>,
) -> Result<(f64, String), Problem> {
    let refused = |error| one_field(FieldProblem::entry("text", &request.text, error));
    if step.kind == StepKind::Gauge {
        let deg = read_angle(&request.text).map_err(refused)?.angle.to_deg();
        if deg.abs() > STEEP_DEG && !request.insist {
            let sentence = format!("{deg}° is steeper than any frame: within ± {STEEP_DEG}° is usual.");
            let hint = "Read it again. If the gauge does say so, take it once more.";
            return Err(Problem {
                code: "steep".to_owned(),
                ..one_field(FieldProblem {
                    field: "text".to_owned(),
                    typed: request.text.clone(),
                    sentence,
                    hint: hint.to_owned(),
                    proposals: Vec::new(),
                })
            });
        }
        return Ok((deg, "deg".to_owned()));
    }
    let (what, range) = match step.kind {
        StepKind::Hub => ("a wheel centre", HUB_RANGE_MM),
        StepKind::Plane => ("the way from the line to a point", LINE_RANGE_MM),
        StepKind::HubToLip => ("a wheel centre to lip", HUB_TO_LIP_RANGE_MM),
        StepKind::Height | StepKind::Gauge => ("a ride height", HEIGHT_RANGE_MM),
    };
    let tape_unit = tape.map_or(walk.plan.tape, |tape| tape_unit(&tape.tape));
    let entered =
        read_length(&request.text, unit(tape_unit)).and_then(|entered| entered.within(what, range)).map_err(refused)?;
    let mm = entered.length.to_mm();
    if let Some((message, hint)) = tape.and_then(|tape| tape.off_the_tape(mm)) {
        return Err(one_field(FieldProblem {
            field: "text".to_owned(),
            typed: request.text.clone(),
            sentence: format!("{}.", capital(&message)),
            hint: format!("{}.", capital(hint)),
            proposals: Vec::new(),
        }));
    }
    Ok((if reads_up(step, walk) { 0.0 - mm } else { mm }, entered.unit.to_string()))
}

/// True where the rule stands on the line and reads up: in the book such a reading is below nought, as what lies lower is more.
fn reads_up(step: &Step, walk: &Walk) -> bool {
    step.kind == StepKind::Plane && walk.plan.level_line == Some(LevelLine::Below)
}

/// The text with the sign that the choice of the line gives it.
pub(super) fn signed(step: &Step, walk: &Walk, typed: &str) -> String {
    if reads_up(step, walk) { format!("-{}", typed.trim()) } else { typed.to_owned() }
}
