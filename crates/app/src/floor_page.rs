//! A floor's page: its passes, the spot to read now, whether the passes agree, and the floor as a block.

use crate::Garage;
use crate::wire::{
    Agreement, FloorBlock, FloorRow, FloorView, Levelling, NextSpot, PassView, Problem, SpotTakenBack, SpotView,
    TapeUnit,
};
use crate::words::{counted, on_tape, whole};
use serde_json::Value;
use trueground_core::capture::{Floor, Survey};
use trueground_core::car::Vehicle;
use trueground_core::corner::Corner;
use trueground_core::floor_block::{self, PassAgreement};
use trueground_core::stance::{Figure, Known};
use trueground_store::{FloorRecord, NewReading, Reading, StoreError};
use uuid::Uuid;

/// The page.
///
/// # Errors
/// The floor or its car cannot be read.
pub(crate) fn page(garage: &Garage, id: Uuid) -> Result<FloorView, Problem> {
    let record = garage.store.floor(id)?;
    let vehicle = vehicle(&garage.store.car(record.car)?.document)?;
    let floor = floor(&record.file())?;
    let tape = rule(&record.document);
    let passes = passes(&record, tape);
    Ok(FloorView {
        floor: id.to_string(),
        label: label(&floor),
        levelling: levelling(&floor),
        tape,
        next: next(&passes, &floor),
        taken_back: Reading::to_put_back(&record.readings).map(|reading| taken_back(reading, tape)),
        agreement: floor.survey.as_ref().and_then(agreement),
        block: block(&floor, &vehicle),
        passes,
    })
}

/// A floor in a list.
pub(crate) fn row(id: Uuid, floor: &Floor) -> FloorRow {
    FloorRow { floor: id.to_string(), label: label(floor), levelled: complete_passes(floor) > 0, state: state(floor) }
}

/// "Drive, levelled"
pub(crate) fn with_state(floor: Option<&Floor>) -> String {
    match floor {
        None => "somewhere, not levelled".to_owned(),
        Some(floor) if complete_passes(floor) > 0 => format!("{}, levelled", label(floor)),
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

/// The floor as a block, once a pass has all four spots.
pub(crate) fn block(floor: &Floor, vehicle: &Vehicle) -> Option<FloorBlock> {
    let size_mm =
        floor.footprint.map_or([vehicle.wheelbase_mm, vehicle.track_front_mm, vehicle.track_rear_mm], |other| {
            [other.wheelbase_mm, other.track_front_mm, other.track_rear_mm]
        });
    let shape = floor_block::shape(floor.survey.as_ref()?, size_mm)?;
    let figure = |value, u| Figure { value: Some(value), u: Some(u), known: Known::Measured, band_if: None };
    let above = shape.above_lowest_mm.map(whole);
    let corners = Corner::ALL.map(Corner::words);
    let spots: Vec<String> = above.iter().zip(corners).map(|(mm, words)| format!("{words} {mm}")).collect();
    let text = format!(
        "{}, mm above its lowest spot: {}. Tilt {:.1} %, harmless. Twist {} mm.",
        label(floor),
        spots.join(", "),
        shape.tilt_percent,
        whole(shape.twist_mm.abs())
    );
    Some(FloorBlock {
        above_lowest_mm: shape.above_lowest_mm,
        elevation_mm: std::array::from_fn(|spot| figure(shape.elevation_mm[spot], shape.elevation_u_mm[spot])),
        size_mm,
        tilt_percent: shape.tilt_percent,
        tilt_mm: shape.tilt_mm,
        twist_mm: figure(shape.twist_mm, shape.twist_u_mm),
        twist_part_mm: shape.twist_part_mm,
        text,
    })
}

fn label(floor: &Floor) -> String {
    if floor.label.trim().is_empty() { floor.id.clone() } else { floor.label.clone() }
}

fn levelling(floor: &Floor) -> Levelling {
    match (&floor.survey, floor.flat_to_mm) {
        (Some(survey), _) if survey.method.to_lowercase().contains("laser") => Levelling::LaserLine,
        (Some(_), _) => Levelling::WaterLevel,
        (None, Some(_)) => Levelling::FlatTo,
        (None, None) => Levelling::NotLevelled,
    }
}

fn complete_passes(floor: &Floor) -> usize {
    let passes = floor.survey.iter().flat_map(|survey| &survey.passes);
    passes.filter(|pass| floor_block::spots(pass).iter().all(Option::is_some)).count()
}

fn state(floor: &Floor) -> String {
    match (complete_passes(floor), floor.flat_to_mm) {
        (0, Some(flat)) => format!("flat to about ± {} mm", whole(flat)),
        (0, None) => "not levelled".to_owned(),
        (passes, _) => format!("levelled, {}", counted(passes, "pass", "passes")),
    }
}

fn passes(record: &FloorRecord, tape: TapeUnit) -> Vec<PassView> {
    let described = record.document["survey"]["passes"].as_array();
    let mut numbers: Vec<u32> = described
        .into_iter()
        .flatten()
        .filter_map(|pass| u32::try_from(pass["pass_no"].as_u64()?).ok())
        .chain(record.readings.iter().map(|reading| reading.taken.pass_no))
        .collect();
    numbers.sort_unstable();
    numbers.dedup();
    let spot = |pass_no: u32, corner: Corner| {
        let point = format!("S{}", corner.index() + 1);
        let here =
            |reading: &&Reading| reading.counts() && reading.taken.pass_no == pass_no && reading.taken.place == point;
        let taken = record.readings.iter().rfind(here).map(|reading| &reading.taken);
        SpotView {
            corner,
            text: taken.map(|taken| taken.text.clone()),
            value_mm: taken.map(|taken| taken.value),
            printed: taken.map(|taken| on_tape(taken.value, tape)),
            point,
        }
    };
    let pass = |pass_no| PassView { pass_no, spots: Corner::ALL.map(|corner| spot(pass_no, corner)).to_vec() };
    numbers.into_iter().map(pass).collect()
}

fn next(passes: &[PassView], floor: &Floor) -> Option<NextSpot> {
    if passes.is_empty() {
        // Whoever levels a floor later begins with its first spot.
        let begins = floor.survey.is_some();
        return begins.then(|| NextSpot { pass_no: 1, point: "S1".to_owned(), then: "next: spot 2".to_owned() });
    }
    let (pass, at) = passes.iter().find_map(|pass| {
        let at = pass.spots.iter().position(|spot| spot.text.is_none())?;
        Some((pass, at))
    })?;
    let after = (at + 1..4).find(|later| pass.spots[*later].text.is_none());
    let then = match after {
        Some(later) => format!("next: spot {}", later + 1),
        None => "last spot of this pass".to_owned(),
    };
    Some(NextSpot { pass_no: pass.pass_no, point: pass.spots[at].point.clone(), then })
}

fn taken_back(reading: &Reading, tape: TapeUnit) -> SpotTakenBack {
    let NewReading { pass_no, place, value, .. } = &reading.taken;
    let words = format!("spot {} of pass {pass_no}, {}", place.trim_start_matches('S'), on_tape(*value, tape));
    SpotTakenBack { pass_no: *pass_no, point: place.clone(), words }
}

/// The newest pass against the first: same within 2u, changed beyond 3u.
fn agreement(survey: &Survey) -> Option<Agreement> {
    let (first, later) = (survey.passes.first()?, survey.passes.get(1..)?);
    let (pass, found): (_, PassAgreement) =
        later.iter().rev().find_map(|pass| Some((pass, floor_block::agreement(first, pass, survey.staff_u_mm)?)))?;
    let spots: Vec<String> = found.spots.iter().map(|spot| (spot + 1).to_string()).collect();
    let named = match &spots[..] {
        [first, .., last] if found.spots.len() > 2 && found.spots.len() == found.spots[found.spots.len() - 1] + 1 => {
            format!("Spots {first} to {last}")
        }
        many => format!("Spots {}", trueground_core::wording::listed(many)),
    };
    let worst = whole(found.worst_mm.max(1.0));
    let spot = found.worst_spot + 1;
    let (word, sentence) = if found.worst_mm <= 2.0 * found.u_mm {
        ("same", format!("{named}: same as pass {}, within {worst} mm.", first.pass_no))
    } else if found.worst_mm > 3.0 * found.u_mm {
        let read_again = "Read it again, and see that the level did not move.";
        ("changed", format!("Spot {spot}: changed by {worst} mm against pass {}. {read_again}", first.pass_no))
    } else {
        let sentence = format!(
            "Spot {spot} is {worst} mm off between pass {} and pass {}: can\u{2019}t tell. One more pass would.",
            first.pass_no, pass.pass_no
        );
        ("cant_tell", sentence)
    };
    Some(Agreement { word: word.to_owned(), sentence })
}
