//! The tapes and gauges of a file, and that every name of one points to one.

use super::Faults;
use super::measured::date;
use crate::capture::{CarFile, GaugeCheck, OwnedGauge, OwnedInstrument, OwnedTape, Tape, TapeCheck};
use crate::wording::shown;
use std::ops::RangeInclusive;

const MOST_INSTRUMENTS: usize = 200;
const MOST_CHECKS: usize = 1_000;
/// A hook that is farther off is no hook any more.
const HOOK_MM: RangeInclusive<f64> = -20.0..=20.0;
/// Half a millimetre is what nobody can judge better by eye and two fingers; a hand's breadth is no uncertainty.
const U_MM: RangeInclusive<f64> = 0.01..=50.0;
const TAPE_LENGTH_MM: RangeInclusive<f64> = 100.0..=100_000.0;
const CHECKED_MM: RangeInclusive<f64> = 1.0..=100_000.0;

pub(super) fn check(file: &CarFile, found: &mut Faults) {
    found.count("instruments", file.instruments.len(), MOST_INSTRUMENTS);
    found.names("instruments", file.instruments.iter().map(OwnedInstrument::id));
    for (number, owned) in file.instruments.iter().enumerate() {
        let place = format!("instruments[{number}]");
        check_one(&place, owned, found);
    }
}

pub(super) fn check_one(place: &str, owned: &OwnedInstrument, found: &mut Faults) {
    match owned {
        OwnedInstrument::Tape(owned) => tape(place, owned, found),
        OwnedInstrument::AngleGauge(owned) => gauge(place, owned, found),
    }
}

/// A division: its unit, parts of an inch, step.
pub(super) fn division(place: &str, tape: &Tape, found: &mut Faults) {
    if super::length_unit(&tape.unit).is_none() {
        found.add(format!("{place}.unit"), format!("the unit {} is not known", shown(&tape.unit)), "use mm, cm or in");
    }
    if let Some(den) = tape.den
        && ![1, 2, 4, 8, 16, 32, 64].contains(&den)
    {
        let message = format!("{den} parts of an inch are on no tape");
        found.add(format!("{place}.den"), message, "use 2, 4, 8, 16, 32 or 64");
    }
    if let Some(step) = tape.step_mm {
        found.number(&format!("{place}.step_mm"), step, &(0.01..=100.0), "mm");
    }
}

fn tape(place: &str, tape: &OwnedTape, found: &mut Faults) {
    division(&format!("{place}.tape"), &tape.tape, found);
    if let Some(u) = tape.reading_u_mm {
        found.number(&format!("{place}.reading_u_mm"), u, &U_MM, "mm");
    }
    if let Some(hook) = &tape.hook_mm {
        found.number(&format!("{place}.hook_mm.value"), hook.value, &HOOK_MM, "mm");
        found.number(&format!("{place}.hook_mm.u"), hook.u, &U_MM, "mm");
    }
    let from = format!("{place}.read_from_mm");
    found.number(&from, tape.read_from_mm, &(0.0..=2_000.0), "mm");
    if let Some(length) = tape.length_mm {
        found.number(&format!("{place}.length_mm"), length, &TAPE_LENGTH_MM, "mm");
        if tape.read_from_mm >= length {
            let message = format!("a mark at {} mm is not on a tape of {length} mm", tape.read_from_mm);
            found.add(from, message, "correct the mark, or the tape's length");
        }
    }
    found.count(&format!("{place}.checks"), tape.checks.len(), MOST_CHECKS);
    for (number, check) in tape.checks.iter().enumerate() {
        tape_check(&format!("{place}.checks[{number}]"), tape, check, found);
    }
    since(place, tape.since.as_deref(), found);
}

fn tape_check(place: &str, tape: &OwnedTape, check: &TapeCheck, found: &mut Faults) {
    date(&format!("{place}.date"), &check.date, found);
    found.number(&format!("{place}.read_mm"), check.read_mm, &CHECKED_MM, "mm");
    found.number(&format!("{place}.true_mm"), check.true_mm, &CHECKED_MM, "mm");
    found.number(&format!("{place}.u_mm"), check.u_mm, &U_MM, "mm");
    let off = check.read_mm - check.true_mm - tape.read_from_mm;
    if !HOOK_MM.contains(&off) && off.is_finite() {
        found.add(
            format!("{place}.read_mm"),
            format!("the tape would be off by {off:.1} mm, more than any hook"),
            "read the check as the car is read; say the mark that the tape is read from",
        );
    }
}

fn gauge(place: &str, gauge: &OwnedGauge, found: &mut Faults) {
    found.number(&format!("{place}.step_deg"), gauge.step_deg, &(0.001..=5.0), "deg");
    if let Some(u) = gauge.reading_u_deg {
        found.number(&format!("{place}.reading_u_deg"), u, &(0.001..=10.0), "deg");
    }
    found.count(&format!("{place}.checks"), gauge.checks.len(), MOST_CHECKS);
    for (number, check) in gauge.checks.iter().enumerate() {
        gauge_check(&format!("{place}.checks[{number}]"), check, found);
    }
    since(place, gauge.since.as_deref(), found);
}

fn gauge_check(place: &str, check: &GaugeCheck, found: &mut Faults) {
    date(&format!("{place}.date"), &check.date, found);
    found.number(&format!("{place}.straight_deg"), check.straight_deg, &(-45.0..=45.0), "deg");
    found.number(&format!("{place}.reversed_deg"), check.reversed_deg, &(-45.0..=45.0), "deg");
    if let Some(u) = check.u_deg {
        found.number(&format!("{place}.u_deg"), u, &(0.001..=10.0), "deg");
    }
    let zero = (check.straight_deg + check.reversed_deg) / 2.0;
    if zero.abs() > 5.0 {
        found.add(
            place,
            format!("straight and turned give a zero of {zero:.1} deg, more than any gauge is off by"),
            "enter both with the sign that the gauge shows: turned, a slope changes its sign",
        );
    }
}

fn since(place: &str, day: Option<&str>, found: &mut Faults) {
    if let Some(day) = day {
        date(&format!("{place}.since"), day, found);
    }
}

/// A name must be that of a tape of the file.
pub(super) fn names_a_tape(file: &CarFile, place: &str, name: Option<&str>, found: &mut Faults) {
    if let Some(name) = name
        && tape_named(file, name).is_none()
    {
        let message = format!("there is no tape {}", shown(name));
        found.add(place, message, "name a tape of the file's instruments, or leave it out");
    }
}

/// A name must be that of an angle gauge of the file.
pub(super) fn names_a_gauge(file: &CarFile, place: &str, name: Option<&str>, found: &mut Faults) {
    let is = |owned: &OwnedInstrument| matches!(owned, OwnedInstrument::AngleGauge(gauge) if Some(gauge.id.as_str()) == name);
    if let Some(name) = name
        && !file.instruments.iter().any(is)
    {
        let message = format!("there is no angle gauge {}", shown(name));
        found.add(place, message, "name an angle gauge of the file's instruments, or leave it out");
    }
}

/// The tape of that name.
pub(super) fn tape_named<'a>(file: &'a CarFile, name: &str) -> Option<&'a OwnedTape> {
    file.instruments.iter().find_map(|owned| match owned {
        OwnedInstrument::Tape(tape) if tape.id == name => Some(tape),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn file() -> Value {
        json!({"vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "ref_points": [
                {"id": "lip.FL", "corner": "FL", "kind": "fender_lip", "x_mm": 0, "y_mm": 800}]},
            "floors": [{"id": "f", "survey": {"straightedge": [{"from": "S1", "to": "S2", "angle_deg": 0.1, "instrument": "g"}]}}],
            "snapshots": [{"id": "s", "date": "2031-04-12", "tape": "t", "gauge": "g", "bounces": [{"bounce_id": "b", "readings": [
                {"ref": "lip.FL", "text": "26 1/4", "unit": "in", "value_mm": 666.75, "instrument": "t"}]}],
                "angle_gauge": [{"bounce_id": "b", "where": "frame_front", "angle_deg": 0.2, "instrument": "g"}]}],
            "instruments": [
                {"kind": "tape", "id": "t", "tape": {"unit": "in", "den": 32}, "length_mm": 3000, "class": "II", "read_from_mm": 25.4,
                 "hook_mm": {"value": 0, "u": 0.5},
                 "checks": [{"date": "2031-04-01", "read_mm": 526.0, "true_mm": 500, "u_mm": 0.3}]},
                {"kind": "angle_gauge", "id": "g", "step_deg": 0.1, "since": "2031-01-01",
                 "checks": [{"date": "2031-04-01", "straight_deg": 0.9, "reversed_deg": -0.5}]}]})
    }

    fn faults_with(pointer: &str, value: Value) -> Vec<String> {
        let mut file = file();
        *file.pointer_mut(pointer).unwrap_or_else(|| panic!("{pointer} is in the file")) = value;
        let file: CarFile = serde_json::from_value(file).expect("well-formed");
        super::super::faults(&file).iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_sound_file_has_no_faults() {
        assert_eq!(faults_with("/snapshots/0/date", json!("2031-04-12")), [""; 0]);
    }

    #[test]
    fn each_fault_is_named_with_place_value_and_range() {
        let reading = "/snapshots/0/bounces/0/readings/0";
        let at = "snapshots[0].bounces[0].readings[0]";
        let rows = [
            ("/instruments/0/tape/den", json!(12), "instruments[0].tape.den: 12 parts of an inch are on no tape"),
            ("/instruments/0/tape/unit", json!("ell"), "instruments[0].tape.unit: the unit ell is not known"),
            (
                "/instruments/0/hook_mm/value",
                json!(25.4),
                "instruments[0].hook_mm.value: 25.4 mm is outside -20 to 20 mm",
            ),
            ("/instruments/0/hook_mm/u", json!(0), "instruments[0].hook_mm.u: 0 mm is outside 0.01 to 50 mm"),
            ("/instruments/0/checks/0/date", json!("soon"), "instruments[0].checks[0].date: soon is no date"),
            (
                "/instruments/0/checks/0/u_mm",
                json!(-1),
                "instruments[0].checks[0].u_mm: -1 mm is outside 0.01 to 50 mm",
            ),
            (
                "/instruments/0/checks/0/read_mm",
                json!(500.6),
                "instruments[0].checks[0].read_mm: the tape would be off by -24.8 mm, more than any hook",
            ),
            ("/instruments/1/step_deg", json!(0), "instruments[1].step_deg: 0 deg is outside 0.001 to 5 deg"),
            (
                "/instruments/1/checks/0/reversed_deg",
                json!(20),
                "instruments[1].checks[0]: straight and turned give a zero of 10.4 deg, more than any gauge is off by",
            ),
            ("/instruments/1/since", json!("2031-02-30"), "instruments[1].since: 2031-02-30 is no date"),
            ("/instruments/1/id", json!("t"), "instruments: the name t stands twice"),
            ("/snapshots/0/tape", json!("g"), "snapshots[0].tape: there is no tape g"),
            ("/snapshots/0/gauge", json!("h"), "snapshots[0].gauge: there is no angle gauge h"),
            (&format!("{reading}/instrument"), json!("u"), &format!("{at}.instrument: there is no tape u")),
        ];
        for (pointer, value, expected) in rows {
            let found = faults_with(pointer, value);
            assert!(found.iter().any(|fault| fault == expected), "{pointer}: {found:?}");
        }
    }

    #[test]
    fn a_mark_must_be_on_the_tape_and_a_reading_behind_it() {
        let found = faults_with("/instruments/0/length_mm", json!(500.0));
        let past = "snapshots[0].bounces[0].readings[0].value_mm: 666.75 mm is past the end of the tape, 500 mm";
        assert_eq!(found, [past]);
        let found = faults_with("/instruments/0/read_from_mm", json!(700.0));
        assert!(found.iter().any(|fault| fault.contains("666.75 mm lies before the mark at 700 mm")), "{found:?}");
    }
}
