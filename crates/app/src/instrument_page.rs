//! The tapes and gauges of the garage, with what each does to the numbers in a sentence.

use crate::wire::{
    InstrumentForm, InstrumentKind, InstrumentRow, InstrumentsView, Problem, ReadFrom, TapeStep, TapeUnit,
};
use crate::words::{day, degrees};
use crate::{Garage, car_form};
use trueground_core::capture::{OwnedGauge, OwnedInstrument, OwnedTape, Tape};
use trueground_core::units::Length;
use trueground_store::StoreError;
use uuid::Uuid;

/// The list; `kept` is the entry that the request just kept.
///
/// # Errors
/// The garage cannot be read.
pub(crate) fn page(garage: &Garage, kept: Option<String>) -> Result<InstrumentsView, Problem> {
    let (mut tapes, mut gauges) = (Vec::new(), Vec::new());
    for owned in all_offered(garage)? {
        match &owned {
            OwnedInstrument::Tape(tape) => tapes.push(tape_row(tape)),
            OwnedInstrument::AngleGauge(gauge) => gauges.push(gauge_row(gauge)),
        }
    }
    Ok(InstrumentsView { tapes, gauges, kept })
}

/// Present entries: neither replaced nor put away.
fn all_offered(garage: &Garage) -> Result<Vec<OwnedInstrument>, Problem> {
    let records = garage.store.instruments()?;
    let all: Vec<(bool, OwnedInstrument)> = records
        .into_iter()
        .filter_map(|record| Some((record.put_away, serde_json::from_value(record.document).ok()?)))
        .collect();
    let replaced = |id: &str| all.iter().any(|(_, owned)| owned.replaces() == Some(id));
    Ok(all.iter().filter(|(away, owned)| !away && !replaced(owned.id())).map(|(_, owned)| owned.clone()).collect())
}

/// The present entry of that id.
///
/// # Errors
/// There is none.
pub(crate) fn offered(garage: &Garage, id: &str) -> Result<OwnedInstrument, Problem> {
    let found = all_offered(garage)?.into_iter().find(|owned| owned.id() == id);
    found.ok_or_else(|| StoreError::NotFound { what: "tape or gauge", id: trueground_core::wording::shown(id) }.into())
}

/// The entry of that id, replaced or put away or not: the car's own, else the garage's.
pub(crate) fn known(garage: &Garage, car: Uuid, id: &str) -> Result<Option<OwnedInstrument>, Problem> {
    let document = garage.store.car(car)?.document;
    let own = document["instruments"].as_array().into_iter().flatten().find(|entry| entry["id"] == id).cloned();
    let found = match own {
        Some(own) => Some(own),
        None => garage.store.instruments()?.into_iter().find(|record| record.name == id).map(|record| record.document),
    };
    Ok(found.and_then(|document| serde_json::from_value(document).ok()))
}

/// The present entry that an earlier one has become, if it is still offered.
pub(crate) fn as_now(garage: &Garage, id: &str) -> Result<Option<String>, Problem> {
    let records = garage.store.instruments()?;
    let mut id = id.to_owned();
    // Each entry is newer than the one it replaces, so one pass follows the chain.
    for record in &records {
        if record.document["replaces"] == id.as_str() {
            id.clone_from(&record.name);
        }
    }
    Ok(all_offered(garage)?.into_iter().any(|owned| owned.id() == id).then_some(id))
}

fn tape_row(tape: &OwnedTape) -> InstrumentRow {
    let class = tape.class.map_or_else(|| "no class marked".to_owned(), |class| format!("class {class:?}"));
    let step = step(&tape.tape);
    InstrumentRow {
        instrument: tape.id.clone(),
        label: tape.label.clone(),
        what: format!("{}, {class}", step_words(step)),
        state: tape_state(tape),
        tape: Some(car_form::tape_unit(&tape.tape)),
        form: tape_form(tape),
    }
}

fn tape_state(tape: &OwnedTape) -> String {
    let unit = car_form::tape_unit(&tape.tape);
    let mark = (tape.read_from_mm > 0.0)
        .then(|| format!("Read from its {} mark: that much is taken off.", mark_words(tape.read_from_mm, unit)));
    let zero = match (tape.newest_check(), &tape.hook_mm) {
        (Some(check), _) => {
            let off = check.read_mm - check.true_mm - tape.read_from_mm;
            format!("Checked {}: {}, ±{}.", day(&check.date), too_much(off), tenths(2.0 * check.u_mm))
        }
        (None, Some(hook)) if tape.read_from_mm == 0.0 => {
            format!("Hook: {}, ±{}. Not checked.", too_much(hook.value), tenths(2.0 * hook.u))
        }
        (None, _) => "Not checked: heights carry ±1 mm more, differences none.".to_owned(),
    };
    mark.into_iter().chain([zero]).collect::<Vec<_>>().join(" ")
}

/// "says 1.5 mm too much"
fn too_much(off_mm: f64) -> String {
    if off_mm.abs() < 0.05 {
        return "says what is true".to_owned();
    }
    format!("says {} mm too {}", tenths(off_mm.abs()), if off_mm > 0.0 { "much" } else { "little" })
}

fn tenths(value: f64) -> String {
    let rounded = (value * 10.0).round() / 10.0;
    format!("{rounded}")
}

/// "1 in", "100 mm"
fn mark_words(mm: f64, unit: TapeUnit) -> String {
    let word = match unit {
        TapeUnit::In | TapeUnit::In32 => "in",
        TapeUnit::Cm => "cm",
        TapeUnit::Mm => "mm",
    };
    format!("{} {word}", in_unit(mm, unit))
}

/// A length as a number of the tape's own unit.
fn in_unit(mm: f64, unit: TapeUnit) -> f64 {
    trimmed(match unit {
        TapeUnit::In | TapeUnit::In32 => Length::mm(mm).to_inches(),
        TapeUnit::Cm => mm / 10.0,
        TapeUnit::Mm => mm,
    })
}

/// Without the tail of digits that no tape has.
fn trimmed(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

fn step(tape: &Tape) -> TapeStep {
    match (car_form::tape_unit(tape), tape.step_mm) {
        (TapeUnit::In, _) => TapeStep::Sixteenths,
        (TapeUnit::In32, _) => TapeStep::ThirtySeconds,
        (TapeUnit::Cm, _) => TapeStep::Cm,
        (TapeUnit::Mm, Some(step)) if step <= 0.5 => TapeStep::HalfMm,
        (TapeUnit::Mm, _) => TapeStep::Mm,
    }
}

const fn step_words(step: TapeStep) -> &'static str {
    match step {
        TapeStep::Sixteenths => "inches in sixteenths",
        TapeStep::ThirtySeconds => "inches in thirty-seconds",
        TapeStep::Mm => "millimetres",
        TapeStep::HalfMm => "half millimetres",
        TapeStep::Cm => "centimetres",
    }
}

fn tape_form(tape: &OwnedTape) -> InstrumentForm {
    let unit = car_form::tape_unit(&tape.tape);
    let typed = |mm: f64| format!("{}", in_unit(mm, unit));
    let hook = tape.hook_mm.as_ref();
    // A hook is known in millimetres, whatever the tape is divided in.
    let mm = |value: f64| match unit {
        TapeUnit::Mm => format!("{}", trimmed(value)),
        _ => format!("{} mm", trimmed(value)),
    };
    let from_mark = tape.read_from_mm > 0.0;
    InstrumentForm {
        instrument: Some(tape.id.clone()),
        kind: InstrumentKind::Tape,
        label: tape.label.clone(),
        step: step(&tape.tape),
        length: tape.length_mm.map(typed).unwrap_or_default(),
        class: tape.class,
        read_from: if from_mark { ReadFrom::Mark } else { ReadFrom::End },
        mark: if from_mark { typed(tape.read_from_mm) } else { String::new() },
        hook: hook.map(|hook| mm(hook.value)).unwrap_or_default(),
        hook_band: hook.map(|hook| mm(2.0 * hook.u)).unwrap_or_default(),
        ..blank(InstrumentKind::Tape)
    }
}

fn gauge_row(gauge: &OwnedGauge) -> InstrumentRow {
    // The screen shows tenths; a gauge in hundredths is said in hundredths.
    let state = match gauge.zero_deg() {
        Some((zero, u)) => {
            let date = gauge.checks.iter().map(|check| check.date.as_str()).max().unwrap_or_default();
            let said = if zero.abs() < 0.005 {
                "shows what is true".to_owned()
            } else {
                format!("shows {:.2}° too {}", zero.abs(), if zero > 0.0 { "much" } else { "little" })
            };
            format!("Turned end for end {}: {said}, ±{:.2}°.", day(date), 2.0 * u)
        }
        None => format!("Never turned end for end: its zero is within ±{}.", degrees(0.4)),
    };
    InstrumentRow {
        instrument: gauge.id.clone(),
        label: gauge.label.clone(),
        what: format!("degrees in steps of {}", trimmed(gauge.step_deg)),
        state,
        tape: None,
        form: InstrumentForm {
            instrument: Some(gauge.id.clone()),
            label: gauge.label.clone(),
            gauge_step: format!("{}", trimmed(gauge.step_deg)),
            gauge_band: gauge.reading_u_deg.map(|u| format!("{}", trimmed(2.0 * u))).unwrap_or_default(),
            ..blank(InstrumentKind::AngleGauge)
        },
    }
}

fn blank(kind: InstrumentKind) -> InstrumentForm {
    InstrumentForm {
        instrument: None,
        kind,
        label: String::new(),
        step: TapeStep::Mm,
        length: String::new(),
        class: None,
        read_from: ReadFrom::End,
        mark: String::new(),
        hook: String::new(),
        hook_band: String::new(),
        gauge_step: String::new(),
        gauge_band: String::new(),
        check_against: String::new(),
        check_read: String::new(),
        check_true: String::new(),
        check_band: String::new(),
        check_straight: String::new(),
        check_reversed: String::new(),
        check_date: String::new(),
    }
}
