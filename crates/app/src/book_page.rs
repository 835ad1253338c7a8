//! The book of a finished snapshot: its readings and conditions as they count, and its corrections.

use crate::corrections::{CorrectionWords, condition_name, condition_words, corrections, gauge};
use crate::fields::Fields;
use crate::floor_page::with_state;
use crate::next_words::point;
use crate::plan::Plan;
use crate::wire::{
    BookChoice, BookCondition, BookCorrection, BookPlace, BookReading, BookView, LoadForm, Problem, TapeUnit,
};
use crate::words::{as_read, capital, counted, degrees, typed_pressure};
use crate::{Garage, Now, garage_row, load, snapshot_row};
use serde_json::{Map, Value};
use trueground_core::capture::{CarFile, Corrected, Correction, OwnedInstrument, Snapshot};
use trueground_core::corner::{Corner, Corners};
use trueground_store::{Reading, ReadingKind, SnapshotRecord, Standing, StoreError};

/// Conditions that can be corrected, in the order they are shown.
const CONDITIONS: [&str; 9] =
    ["date", "floor", "facing", LOAD, "tire_pressure_kpa", "air_c", "odometer_km", "tape", "label"];

/// What was aboard, as the exchange file names it.
pub(crate) const LOAD: &str = "load_change_from_nominal";

/// A finished snapshot with its car.
#[derive(Debug)]
pub(crate) struct Book {
    pub(crate) record: SnapshotRecord,
    pub(crate) file: CarFile,
    pub(crate) snapshot: Snapshot,
    pub(crate) tape: TapeUnit,
}

impl Book {
    /// Reads it.
    ///
    /// # Errors
    /// No such snapshot, unfinished, or damaged.
    pub(crate) fn of(garage: &Garage, snapshot: &str) -> Result<Self, Problem> {
        let id = garage.find("snapshot", snapshot)?;
        let record = garage.store.snapshot(id)?;
        if !record.finished {
            let hint = "Go on with it: in its walk every reading can be taken back, struck or read anew.";
            return Err(Problem::new("snapshot_unfinished", "This snapshot is unfinished.", hint));
        }
        let file: CarFile = crate::floor_page::typed(garage.store.car_file(record.car)?.document)?;
        let snapshot = file.snapshots.iter().find(|snapshot| snapshot.id == record.name).cloned();
        let snapshot = snapshot.ok_or_else(|| StoreError::NotFound { what: "snapshot", id: id.to_string() })?;
        let tape = Plan::of(&record, &file.vehicle).tape;
        Ok(Self { record, file, snapshot, tape })
    }

    /// The reading of that id.
    ///
    /// # Errors
    /// There is none.
    pub(crate) fn reading(&self, id: &str) -> Result<&Reading, Problem> {
        let found = self.record.readings.iter().find(|reading| reading.taken.id.to_string() == id);
        let gone = || StoreError::NotFound { what: "reading", id: trueground_core::wording::shown(id) };
        Ok(found.ok_or_else(gone)?)
    }

    /// A correction of this snapshot that says nothing yet.
    #[expect(clippy::unused_self, reason = "it is one of this book")]
    pub(crate) fn correction(&self, what: Corrected, now: &Now<'_>) -> Correction {
        Correction {
            uuid: now.id().to_string(),
            at: Some(now.stamp().iso()),
            what,
            reason: String::new(),
            reading: None,
            field: None,
            of: None,
            old: None,
            new: None,
            text: None,
            extra: Map::new(),
        }
    }

    /// Names of its bounces, in their order.
    pub(crate) fn bounce_ids(&self) -> Vec<String> {
        self.snapshot.bounces.iter().map(|bounce| bounce.bounce_id.clone()).collect()
    }

    /// Where a reading can have been missed: every point of the car and every wheel centre.
    pub(crate) fn places(&self) -> Vec<BookPlace> {
        let vehicle = &self.file.vehicle;
        let points = vehicle.ref_points.iter().map(|point| point.id.clone());
        let hubs = Corner::ALL.map(|corner| format!("hub.{corner}"));
        points.chain(hubs).map(|id| BookPlace { words: capital(&point(&id, vehicle)), point: id }).collect()
    }
}

/// Why something is corrected; the field is `reason`.
pub(crate) fn reason(fields: &mut Fields, typed: &str) -> String {
    if typed.trim().is_empty() {
        fields.refuse(
            "reason",
            typed,
            "The reason is missing.",
            "Say why in a few words, such as \u{201c}wrong edge\u{201d}.",
        );
        return String::new();
    }
    fields.label("reason", "The reason", typed).unwrap_or_default()
}

/// Keeps a correction, works the car’s row out again, and shows the book.
///
/// # Errors
/// It cannot be written.
pub(crate) fn correct(
    garage: &mut Garage,
    book: &Book,
    correction: &Correction,
    request: &str,
    now: &Now<'_>,
) -> Result<BookView, Problem> {
    garage.store.correct(book.record.id, correction, request, now.stamp())?;
    // A car that can no longer be worked out is corrected all the same: its result page says why.
    let _said_there = garage_row::keep(garage, book.record.car);
    Ok(page(&Book::of(garage, &book.record.id.to_string())?))
}

/// The page.
pub(crate) fn page(book: &Book) -> BookView {
    let words = corrections(&book.file, &book.snapshot);
    let readings: Vec<BookReading> = book.record.readings.iter().map(|each| reading(book, &words, each)).collect();
    let read = capital(&counted(readings.len(), "reading", "readings"));
    let state = match words.len() {
        0 => format!("{read}, nothing corrected."),
        number => format!("{read}, {}.", counted(number, "correction", "corrections")),
    };
    let own = |owned: &OwnedInstrument| match owned {
        OwnedInstrument::Tape(tape) => Some(BookChoice { name: tape.id.clone(), words: tape.label.clone() }),
        OwnedInstrument::AngleGauge(_) => None,
    };
    let tapes: Vec<BookChoice> = book.file.instruments.iter().filter_map(own).collect();
    BookView {
        snapshot: book.record.id.to_string(),
        car: book.record.car.to_string(),
        car_label: book.file.vehicle.label.clone(),
        label: snapshot_row::label(&book.snapshot),
        date: book.snapshot.date.clone(),
        tape: book.tape,
        state,
        readings,
        conditions: CONDITIONS
            .iter()
            .filter(|field| **field != "tape" || !tapes.is_empty())
            .filter(|field| **field != LOAD || book.snapshot.on_wheels())
            .map(|field| condition(book, &words, field))
            .collect(),
        tapes: tapes.clone(),
        corrections: words.iter().map(correction).collect(),
        places: book.places(),
        bounces: u32::try_from(book.snapshot.bounces.len()).unwrap_or(u32::MAX),
        floors: book
            .file
            .floors
            .iter()
            .map(|floor| BookChoice { name: floor.id.clone(), words: with_state(Some(floor)) })
            .collect(),
    }
}

fn reading(book: &Book, words: &[CorrectionWords], reading: &Reading) -> BookReading {
    let taken = &reading.taken;
    let id = taken.id.to_string();
    let vehicle = &book.file.vehicle;
    let place = match taken.kind {
        ReadingKind::Gauge => gauge(&taken.place, taken.reversed),
        ReadingKind::Plane | ReadingKind::Staff | ReadingKind::Straightedge => {
            let of = taken.place.strip_prefix("on:").unwrap_or(&taken.place);
            format!("{}, from the level line", point(of, vehicle))
        }
        ReadingKind::Tape => point(&taken.place, vehicle),
    };
    let added = |each: &&Correction| each.what == Corrected::Added && each.reading.as_deref() == Some(id.as_str());
    BookReading {
        words: capital(&place),
        bounce: bounce(book, reading),
        round: taken.round,
        printed: match taken.kind {
            ReadingKind::Gauge => degrees(taken.value),
            _ => as_read(taken.value, tape_of(&taken.unit, book.tape)),
        },
        text: taken.text.clone(),
        unit: taken.unit.clone(),
        counts: reading.counts(),
        struck: match &reading.standing {
            Standing::Kept => String::new(),
            Standing::TakenBack { .. } => "taken back".to_owned(),
            Standing::Struck { reason, .. } => reason.clone(),
        },
        added: book.record.corrections.iter().any(|each| added(&each)),
        corrected: about(words, &id),
        reading: id,
    }
}

/// Number of the bounce, or of the set-up of the level line, a reading belongs to.
fn bounce(book: &Book, reading: &Reading) -> u32 {
    let taken = &reading.taken;
    if matches!(taken.kind, ReadingKind::Plane | ReadingKind::Staff) {
        return taken.pass_no;
    }
    let place = book.snapshot.bounces.iter().position(|bounce| bounce.bounce_id == taken.bounce);
    u32::try_from(place.map_or(1, |place| place + 1)).unwrap_or(1)
}

/// The tape a reading was typed with: the snapshot’s, unless its unit says another.
fn tape_of(unit: &str, tape: TapeUnit) -> TapeUnit {
    match unit {
        _ if crate::fields::unit(tape).to_string() == unit => tape,
        "in" => TapeUnit::In,
        "cm" => TapeUnit::Cm,
        _ => TapeUnit::Mm,
    }
}

fn about(words: &[CorrectionWords], id: &str) -> Vec<String> {
    words.iter().filter(|each| each.about == id).map(CorrectionWords::brief).collect()
}

fn condition(book: &Book, words: &[CorrectionWords], field: &str) -> BookCondition {
    let value = book.record.document.get(field).cloned().unwrap_or_default();
    let pressures: Option<Corners<f64>> = serde_json::from_value(value.clone()).ok();
    let typed = |corner| pressures.as_ref().map_or_else(String::new, |all| typed_pressure(*all.at(corner)));
    BookCondition {
        field: field.to_owned(),
        name: condition_name(field).to_owned(),
        words: condition_words(&book.file, field, &value),
        typed: match (field, &value) {
            ("facing", Value::Null) => "A".to_owned(),
            (_, Value::String(text)) => text.clone(),
            (_, Value::Number(number)) => number.as_f64().unwrap_or_default().to_string(),
            _ => String::new(),
        },
        pressures: (field == "tire_pressure_kpa").then(|| Corners::from_fn(typed)),
        load: (field == LOAD).then(|| load_form(book)),
        corrected: about(words, field),
    }
}

/// The load as it was typed for this snapshot, else what is remembered of the car's tank.
fn load_form(book: &Book) -> LoadForm {
    let said = &book.record.document["typed"]["load"];
    crate::floor_page::typed(said.clone()).unwrap_or_else(|_| load::blank(&Value::Null, &book.file.vehicle))
}

fn correction(words: &CorrectionWords) -> BookCorrection {
    BookCorrection {
        correction: words.uuid.clone(),
        day: words.day.clone(),
        clock: words.clock.clone(),
        what: words.what.clone(),
        change: words.change.clone(),
        reason: words.reason.clone(),
        taken_back: words.taken_back,
    }
}
