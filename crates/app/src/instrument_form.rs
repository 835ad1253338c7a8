//! The form of a tape or gauge: from what was typed to an entry of the exchange file.

use crate::fields::Fields;
use crate::wire::{FieldProblem, InstrumentForm, InstrumentKind, Problem, ReadFrom, TapeStep, TapeUnit};
use crate::words::capital;
use serde_json::Map;
use trueground_core::capture::{GaugeCheck, OwnedGauge, OwnedInstrument, OwnedTape, Tape, TapeCheck};
use trueground_core::car::Estimate;
use trueground_core::units::read_angle;
use trueground_core::validate;

/// Two lengths read by eye beside each other, without the steps [common practice, no source].
const COMPARED_U_MM: f64 = 0.3;
/// The ± that a hook has whose ± is not said.
const HOOK_BAND_MM: f64 = 1.0;
const HOOK_MM: std::ops::RangeInclusive<f64> = -20.0..=20.0;
const BAND_MM: std::ops::RangeInclusive<f64> = 0.1..=50.0;

/// The entry that the form describes.
///
/// # Errors
/// Every field that cannot be read, at once.
pub(crate) fn owned(
    form: &InstrumentForm,
    earlier: Option<&OwnedInstrument>,
    id: &str,
    today: &str,
) -> Result<OwnedInstrument, Problem> {
    let mut fields = Fields::default();
    let what = if form.kind == InstrumentKind::Tape { "The tape" } else { "The gauge" };
    let label = fields.label("label", what, &form.label);
    let built = match form.kind {
        InstrumentKind::Tape => tape(&mut fields, form, today).map(OwnedInstrument::Tape),
        InstrumentKind::AngleGauge => gauge(&mut fields, form, today).map(OwnedInstrument::AngleGauge),
    };
    fields.done()?;
    let (Some(label), Some(mut owned)) = (label, built) else {
        unreachable!("a field without a value was refused above");
    };
    match (&mut owned, earlier) {
        (OwnedInstrument::Tape(new), before) => {
            (new.id, new.label, new.since) = (id.to_owned(), label, Some(today.to_owned()));
            if let Some(OwnedInstrument::Tape(before)) = before {
                new.replaces = Some(before.id.clone());
                new.reading_u_mm = before.reading_u_mm;
                new.extra = before.extra.clone();
                // A check was made the way the tape was read then.
                if before.read_from_mm == new.read_from_mm {
                    new.checks = [before.checks.clone(), std::mem::take(&mut new.checks)].concat();
                }
            }
        }
        (OwnedInstrument::AngleGauge(new), before) => {
            (new.id, new.label, new.since) = (id.to_owned(), label, Some(today.to_owned()));
            if let Some(OwnedInstrument::AngleGauge(before)) = before {
                new.replaces = Some(before.id.clone());
                new.extra = before.extra.clone();
                new.checks = [before.checks.clone(), std::mem::take(&mut new.checks)].concat();
            }
        }
    }
    as_a_whole(form, &owned)?;
    Ok(owned)
}

/// True where nothing that matters was changed.
pub(crate) fn says_the_same(earlier: &OwnedInstrument, new: &OwnedInstrument) -> bool {
    let mut new = new.clone();
    match (&mut new, earlier) {
        (OwnedInstrument::Tape(new), OwnedInstrument::Tape(old)) => {
            (new.id, new.since, new.replaces) = (old.id.clone(), old.since.clone(), old.replaces.clone());
        }
        (OwnedInstrument::AngleGauge(new), OwnedInstrument::AngleGauge(old)) => {
            (new.id, new.since, new.replaces) = (old.id.clone(), old.since.clone(), old.replaces.clone());
        }
        _ => return false,
    }
    new == *earlier
}

/// What only the whole shows, such as a mark past the tape's end: the engine's own check.
fn as_a_whole(form: &InstrumentForm, owned: &OwnedInstrument) -> Result<(), Problem> {
    let mut fields = Fields::default();
    for fault in validate::instrument_faults(owned) {
        let place = fault.place.as_str();
        let (field, typed) = match place {
            "read_from_mm" => ("mark", &form.mark),
            "length_mm" => ("length", &form.length),
            _ if place.starts_with("hook_mm.u") => ("hook_band", &form.hook_band),
            _ if place.starts_with("hook_mm") => ("hook", &form.hook),
            "step_deg" => ("gauge_step", &form.gauge_step),
            "reading_u_deg" => ("gauge_band", &form.gauge_band),
            _ if place.ends_with(".date") => ("check_date", &form.check_date),
            _ if place.ends_with(".true_mm") => ("check_true", &form.check_true),
            _ if place.ends_with(".u_mm") => ("check_band", &form.check_band),
            _ if place.ends_with(".read_mm") => ("check_read", &form.check_read),
            _ if place.starts_with("checks") => ("check_reversed", &form.check_reversed),
            _ => ("label", &form.label),
        };
        let (sentence, hint) = (capital(&fault.message), capital(&fault.hint));
        fields.refuse(field, typed, &format!("{sentence}."), &format!("{hint}."));
    }
    fields.done()
}

/// A tape's division.
pub(crate) fn division(step: TapeStep) -> Tape {
    let inch = |parts| Tape { unit: "in".to_owned(), den: Some(parts), step_mm: None };
    let metric = |unit: &str, step_mm| Tape { unit: unit.to_owned(), den: None, step_mm: Some(step_mm) };
    match step {
        TapeStep::Sixteenths => inch(16),
        TapeStep::ThirtySeconds => inch(32),
        TapeStep::Mm => metric("mm", 1.0),
        TapeStep::HalfMm => metric("mm", 0.5),
        TapeStep::Cm => metric("cm", 1.0),
    }
}

fn tape(fields: &mut Fields, form: &InstrumentForm, today: &str) -> Option<OwnedTape> {
    let division = division(form.step);
    let unit = crate::car_form::tape_unit(&division);
    let length_mm = match form.length.trim() {
        "" => Some(None),
        typed => fields.length("length", "a tape", typed, unit, 100.0..=100_000.0).map(Some),
    };
    let read_from_mm = match form.read_from {
        ReadFrom::End => Some(0.0),
        ReadFrom::Mark => fields.length("mark", "a mark", &form.mark, unit, 1.0..=2_000.0),
    };
    let hook_mm = hook(fields, form, unit);
    let checks = tape_check(fields, form, &division, today);
    Some(OwnedTape {
        id: String::new(),
        label: String::new(),
        tape: division,
        length_mm: length_mm?,
        class: form.class,
        reading_u_mm: None,
        hook_mm: hook_mm?,
        read_from_mm: read_from_mm?,
        checks: checks?.into_iter().collect(),
        since: None,
        replaces: None,
        extra: Map::new(),
    })
}

/// What is said of the hook; nothing where the end is not touched.
fn hook(fields: &mut Fields, form: &InstrumentForm, unit: TapeUnit) -> Option<Option<Estimate>> {
    let (said, band) = (form.hook.trim(), form.hook_band.trim());
    if form.read_from == ReadFrom::Mark || (said.is_empty() && band.is_empty()) {
        return Some(None);
    }
    let value = match said {
        "" => Some(0.0),
        typed => fields.signed_length("hook", "a hook", typed, unit, HOOK_MM),
    };
    let band = match band {
        "" => Some(HOOK_BAND_MM),
        typed => fields.length("hook_band", "a hook\u{2019}s \u{b1}", typed, unit, BAND_MM),
    };
    Some(Some(Estimate { value: value?, u: band? / 2.0, extra: Map::new() }))
}

fn tape_check(fields: &mut Fields, form: &InstrumentForm, tape: &Tape, today: &str) -> Option<Option<TapeCheck>> {
    let texts = [&form.check_read, &form.check_true, &form.check_band, &form.check_against, &form.check_date];
    if texts.iter().all(|text| text.trim().is_empty()) {
        return Some(None);
    }
    let unit = crate::car_form::tape_unit(tape);
    let read = fields.length("check_read", "a check", &form.check_read, unit, 1.0..=100_000.0);
    let true_mm = fields.length("check_true", "a true length", &form.check_true, unit, 1.0..=100_000.0);
    let step = tape.division_mm();
    let u_mm = match form.check_band.trim() {
        "" => Some((COMPARED_U_MM.powi(2) + step * step / 12.0).sqrt()),
        typed => {
            fields.length("check_band", "a comparison\u{2019}s \u{b1}", typed, unit, BAND_MM).map(|band| band / 2.0)
        }
    };
    let date = date(fields, form, today);
    let against = form.check_against.trim();
    let against = if against.is_empty() {
        Some(String::new())
    } else {
        fields.label("check_against", "What it was held against", against)
    };
    Some(Some(TapeCheck { date: date?, against: against?, read_mm: read?, true_mm: true_mm?, u_mm: u_mm? }))
}

fn gauge(fields: &mut Fields, form: &InstrumentForm, today: &str) -> Option<OwnedGauge> {
    let step_deg = degrees(fields, "gauge_step", "a gauge\u{2019}s step", &form.gauge_step, 0.001..=5.0);
    let reading_u_deg = match form.gauge_band.trim() {
        "" => Some(None),
        typed => {
            degrees(fields, "gauge_band", "a reading\u{2019}s \u{b1}", typed, 0.002..=20.0).map(|band| Some(band / 2.0))
        }
    };
    let (straight, reversed) = (&form.check_straight, &form.check_reversed);
    let checks = if [straight, reversed, &form.check_date].iter().all(|text| text.trim().is_empty()) {
        Some(None)
    } else {
        let straight_deg = degrees(fields, "check_straight", "a gauge", straight, -45.0..=45.0);
        let reversed_deg = degrees(fields, "check_reversed", "a gauge", reversed, -45.0..=45.0);
        let date = date(fields, form, today);
        straight_deg.zip(reversed_deg).zip(date).map(|((straight_deg, reversed_deg), date)| {
            Some(GaugeCheck { date, straight_deg, reversed_deg, u_deg: None })
        })
    };
    Some(OwnedGauge {
        id: String::new(),
        label: String::new(),
        step_deg: step_deg?,
        reading_u_deg: reading_u_deg?,
        checks: checks?.into_iter().collect(),
        since: None,
        replaces: None,
        extra: Map::new(),
    })
}

fn degrees(
    fields: &mut Fields,
    field: &str,
    what: &str,
    typed: &str,
    range: std::ops::RangeInclusive<f64>,
) -> Option<f64> {
    match read_angle(typed) {
        Ok(entered) if range.contains(&entered.angle.to_deg()) => Some(entered.angle.to_deg()),
        Ok(entered) => {
            let deg = (entered.angle.to_deg() * 1e6).round() / 1e6;
            let sentence =
                format!("{deg}\u{b0} is outside {}\u{b0} to {}\u{b0}, where {what} lies.", range.start(), range.end());
            fields.refuse(field, typed, &sentence, "Correct it.");
            None
        }
        Err(error) => {
            fields.push(FieldProblem::entry(field, typed, error));
            None
        }
    }
}

/// Day of the check: as typed, or today.
fn date(fields: &mut Fields, form: &InstrumentForm, today: &str) -> Option<String> {
    let typed = form.check_date.trim();
    if typed.is_empty() {
        return Some(today.to_owned());
    }
    let digits = |text: &str, count| text.len() == count && text.bytes().all(|byte| byte.is_ascii_digit());
    let parts: Vec<&str> = typed.split('-').collect();
    let written = matches!(parts[..], [year, month, day] if digits(year, 4) && digits(month, 2) && digits(day, 2));
    if !written {
        let sentence = format!("{} is no date.", trueground_core::wording::shown(typed));
        fields.refuse(
            "check_date",
            &form.check_date,
            &sentence,
            "Type the day as 2031-04-12, or leave it empty for today.",
        );
        return None;
    }
    Some(typed.to_owned())
}
