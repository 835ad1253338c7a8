//! Takes one reading of the angle gauge on a straightedge.

use super::add_floor::begin;
use crate::fields::Fields;
use crate::floor_page::{self, edge_words, ends};
use crate::problems::one_field;
use crate::wire::{FieldProblem, FloorView, Levelling, Problem, TakeStraightedge};
use crate::{Garage, Now};
use serde_json::Map;
use trueground_core::units::read_angle;
use trueground_store::{FloorRecord, NewReading, ReadingKind};

/// Nobody levels a car on a steeper floor; a larger angle is a slip [common practice, no source].
const STEEP_DEG: f64 = 10.0;
/// A gauge whose own zero is further off was dropped, or one of the two ways round was misread [common practice, no source].
const ZERO_DEG: f64 = 1.5;

/// Takes the reading; it is on the disk when the reply comes. A line that was read this way round is read anew: the earlier
/// reading is struck and stays in the book. What is steep or does not go with the other way round is taken when asked twice.
///
/// # Errors
/// No such floor, the text cannot be read, or it cannot be; then nothing was stored.
pub fn take_straightedge(garage: &mut Garage, request: TakeStraightedge, now: &Now<'_>) -> Result<FloorView, Problem> {
    let id = garage.find("floor", &request.floor)?;
    let floor = garage.store.floor(id)?;
    let mut fields = Fields::default();
    fields.count("pass_no", "sets", request.pass_no, 1..=20);
    fields.done()?;
    let entered =
        read_angle(&request.text).map_err(|error| one_field(FieldProblem::entry("text", &request.text, error)))?;
    let deg = entered.angle.to_deg();
    if !request.insist {
        doubt(&floor, &request, deg)?;
    }
    let page = floor_page::page(garage, id, now)?;
    if page.levelling != Levelling::Straightedge {
        let mut document = floor.document.clone();
        begin(&mut document, Levelling::Straightedge, &page);
        garage.store.change_floor(id, &document)?;
    }
    let reading = NewReading {
        id: now.id(),
        kind: ReadingKind::Straightedge,
        bounce: String::new(),
        pass_no: request.pass_no,
        place: ends(request.line).to_owned(),
        round: 1,
        reversed: request.reversed,
        text: request.text.clone(),
        unit: "deg".to_owned(),
        value: deg,
        extra: Map::new(),
        request: Some(request.request_id),
    };
    garage.store.take_on_floor(id, &reading, now.stamp())?;
    floor_page::page(garage, id, now)
}

/// Asks once about what is hardly so.
fn doubt(floor: &FloorRecord, request: &TakeStraightedge, deg: f64) -> Result<(), Problem> {
    let refused = |code: &str, sentence: String| {
        let hint = "Read it again. If the gauge does say so, take it once more.";
        Err(Problem {
            code: code.to_owned(),
            ..one_field(FieldProblem {
                field: "text".to_owned(),
                typed: request.text.clone(),
                sentence,
                hint: hint.to_owned(),
                proposals: Vec::new(),
            })
        })
    };
    if deg.abs() > STEEP_DEG {
        let sentence = format!("{deg}° is steeper than any floor to level a car on: within ± {STEEP_DEG}° is usual.");
        return refused("steep", sentence);
    }
    let other = floor.readings.iter().rfind(|reading| {
        let taken = &reading.taken;
        reading.counts()
            && taken.kind == ReadingKind::Straightedge
            && taken.pass_no == request.pass_no
            && taken.place == ends(request.line)
            && taken.reversed != request.reversed
    });
    let zero = other.map(|other| ((deg - other.taken.value) / 2.0).abs());
    if let Some(zero) = zero.filter(|zero| *zero > ZERO_DEG) {
        let (_, up, down) = edge_words(request.line);
        let said = |deg: f64| format!("{:.1}° {}", deg.abs(), if deg < 0.0 { down } else { up });
        let before = other.map_or(0.0, |other| other.taken.value);
        let sentence = format!(
            "The two ways round say {} and {}: the gauge itself would be {zero:.1}° off.",
            said(before),
            said(deg)
        );
        return refused("two_ways", sentence);
    }
    Ok(())
}
