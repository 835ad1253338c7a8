//! A floor's page: its passes, what to read now, whether the passes agree, and the floor as a block.

mod agreement;
mod beside;
mod book;
mod picture;
mod stations;

pub(crate) use beside::{guest_row, other_floors};
pub(crate) use picture::{block, slope};
pub(crate) use stations::{edge_words, ends, line_of};

use crate::wire::{FloorRow, FloorView, Levelling, Problem, TapeUnit};
use crate::words::{counted, day, whole};
use crate::{Garage, Now};
use serde_json::Value;
use trueground_core::capture::{Floor, days_between};
use trueground_core::car::Vehicle;
use trueground_core::floor_block;
use trueground_store::{FloorRecord, Reading, ReadingKind, StoreError};
use uuid::Uuid;

/// The page.
///
/// # Errors
/// The floor or its car cannot be read.
pub(crate) fn page(garage: &Garage, id: Uuid, now: &Now<'_>) -> Result<FloorView, Problem> {
    let record = garage.store.floor(id)?;
    let vehicle = vehicle(&garage.store.car(record.car)?.document)?;
    let floor = floor(&record.file())?;
    let tape = rule(&record.document);
    let levelling = levelling(&floor);
    let groups = stations::groups(&record, &floor, &vehicle, tape);
    let block = block(&floor, &vehicle);
    Ok(FloorView {
        floor: id.to_string(),
        label: label(&floor),
        levelling,
        tape,
        state: state(&floor),
        levelled: block.is_some(),
        consequence: consequence(&floor, block.is_some()),
        age: age(&record, now),
        marked_out_by: vehicle.label.clone(),
        flat_to: record.document["flat_to_text"].as_str().unwrap_or_default().to_owned(),
        read: record.readings.iter().any(Reading::counts),
        passes: stations::passes(&record, tape),
        next: stations::next(&record, &groups),
        taken_back: Reading::to_put_back(&record.readings).map(|reading| stations::taken_back(reading, tape)),
        agreement: agreement::agreement(&floor, levelling, &groups),
        book: book::book(&record, &vehicle, tape),
        groups,
        block,
    })
}

/// A floor in a list.
pub(crate) fn row(id: Uuid, floor: &Floor) -> FloorRow {
    FloorRow {
        floor: id.to_string(),
        label: label(floor),
        levelled: is_levelled(floor),
        state: state(floor),
        of: None,
        beside: String::new(),
    }
}

/// "Drive, levelled"
pub(crate) fn with_state(floor: Option<&Floor>) -> String {
    match floor {
        None => "somewhere, not levelled".to_owned(),
        Some(floor) if is_levelled(floor) => format!("{}, levelled", label(floor)),
        Some(floor) if floor.flat_to_mm.is_some() => format!("{}, {}", label(floor), state(floor)),
        Some(floor) => format!("{}, not levelled", label(floor)),
    }
}

/// The vehicle of a car's document.
///
/// # Errors
/// The document is damaged.
pub(crate) fn vehicle(document: &Value) -> Result<Vehicle, Problem> {
    typed(document["vehicle"].clone())
}

/// The floor of a document.
///
/// # Errors
/// The document is damaged.
pub(crate) fn floor(document: &Value) -> Result<Floor, Problem> {
    typed(document.clone())
}

pub(crate) fn typed<T: serde::de::DeserializeOwned>(document: Value) -> Result<T, Problem> {
    serde_json::from_value(document).map_err(|error| StoreError::Damaged { what: error.to_string() }.into())
}

/// Unit of the rule that is held on the spots.
pub(crate) fn rule(document: &Value) -> TapeUnit {
    serde_json::from_value(document["rule"].clone()).unwrap_or(TapeUnit::Mm)
}

fn label(floor: &Floor) -> String {
    if floor.label.trim().is_empty() { floor.id.clone() } else { floor.label.clone() }
}

fn levelling(floor: &Floor) -> Levelling {
    match (&floor.survey, floor.flat_to_mm) {
        (Some(survey), _) => {
            let method = stations::method(survey).to_lowercase();
            if method.contains("laser") {
                Levelling::LaserLine
            } else if method.contains("straightedge") || survey.passes.is_empty() && !survey.straightedge.is_empty() {
                Levelling::Straightedge
            } else {
                Levelling::WaterLevel
            }
        }
        (None, Some(_)) => Levelling::FlatTo,
        (None, None) => Levelling::NotLevelled,
    }
}

/// Whether anything tells the four spots' twist; where the spots lie does not matter for that.
fn is_levelled(floor: &Floor) -> bool {
    const ANY_MM: [f64; 3] = [2600.0, 1400.0, 1400.0];
    floor.survey.as_ref().is_some_and(|survey| floor_block::shape(survey, ANY_MM).is_some())
}

fn complete_passes(floor: &Floor) -> usize {
    let passes = floor.survey.iter().flat_map(|survey| &survey.passes);
    passes.filter(|pass| floor_block::spots(pass).iter().all(Option::is_some)).count()
}

fn state(floor: &Floor) -> String {
    if is_levelled(floor) {
        return match complete_passes(floor) {
            0 => "levelled by straightedge".to_owned(),
            passes => format!("levelled, {}", counted(passes, "pass", "passes")),
        };
    }
    match floor.flat_to_mm {
        Some(flat) => format!("flat to about ± {} mm", whole(flat)),
        None => "not levelled".to_owned(),
    }
}

/// What the person's choice means for the result.
fn consequence(floor: &Floor, levelled: bool) -> String {
    match floor.flat_to_mm {
        _ if levelled => String::new(),
        Some(flat) => format!(
            "Left and right are told with your word for it, flat to about ± {} mm, and stay marked as assumed.",
            whole(flat)
        ),
        None => "Front, rear and rake can be told; left from right cannot.".to_owned(),
    }
}

/// When it was last read, and how long that is ago.
fn age(record: &FloorRecord, now: &Now<'_>) -> Option<String> {
    let newest = record.readings.iter().filter(|reading| reading.counts()).filter_map(taken_on).max()?;
    let ago = match days_between(&newest, &now.stamp().date())? {
        0 => "today".to_owned(),
        1 => "yesterday".to_owned(),
        days @ 2..=60 => format!("{days} days ago"),
        days @ 61..=730 => format!("{} months ago", days * 12 / 365),
        days @ 731.. => format!("{} years ago", days / 365),
        // The clock was set back since.
        _ => return Some(format!("Levelled {}.", day(&newest))),
    };
    Some(format!("Levelled {}, {ago}.", day(&newest)))
}

/// The day of a reading, where it is known.
fn taken_on(reading: &Reading) -> Option<String> {
    let written = || reading.taken.extra.get("taken_at").and_then(Value::as_str)?.get(..10).map(str::to_owned);
    reading.at.map(|at| at.date()).or_else(written)
}

/// True for a reading of an angle gauge.
fn is_edge(reading: &Reading) -> bool {
    reading.taken.kind == ReadingKind::Straightedge
}
