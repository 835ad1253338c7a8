//! The form of a change: from what is typed to a step of the core, and back; kinds of change as they are offered.

use crate::fields::Fields;
use crate::plan_refusal::{InForm, in_form};
use crate::wire::{CautionView, ChangeField, ChangeForm, ChangeKind, FieldProblem, StepForm, TapeUnit, TargetChoice};
use crate::words::{capital, on_tape};
use serde_json::{Map, Value, json};
use trueground_core::plan::{Field, KINDS, KeptChange, Kind, Moves, Step, Takes};
use trueground_core::units::LengthUnit;

/// Kinds of change as they are offered.
pub(crate) fn kinds() -> Vec<ChangeKind> {
    KINDS.iter().map(choice).collect()
}

fn choice(kind: &Kind) -> ChangeKind {
    let typed = typed_fields(kind);
    ChangeKind {
        kind: kind.code.to_owned(),
        words: capital(kind.words),
        group: group(kind).to_owned(),
        does: kind.does.to_owned(),
        end: kind.has_end(),
        amount: !matches!(kind.moves, Moves::Nothing | Moves::Mass),
        fields: typed.into_iter().map(field).collect(),
        side_effects: kind.side_effects.iter().map(|effect| capital(effect)).collect(),
        cautions: kind
            .cautions
            .iter()
            .map(|caution| CautionView { headline: caution.headline().to_owned(), words: caution.words().to_owned() })
            .collect(),
    }
}

/// A pack is typed on its own page; what needs one is typed as an amount here.
fn typed_fields(kind: &Kind) -> Vec<&'static Field> {
    let own: Vec<&Field> = kind.fields.iter().filter(|field| field.takes != Takes::Pack).collect();
    if kind.code == "rearched_leaf" { Vec::new() } else { own }
}

fn field(of: &Field) -> ChangeField {
    let (unit, choices) = match of.takes {
        Takes::Number { unit, .. } => (unit, Vec::new()),
        Takes::Choice(codes) => {
            ("", codes.iter().map(|code| TargetChoice { id: (*code).to_owned(), words: words(code) }).collect())
        }
        Takes::Leaves | Takes::Pack | Takes::Text => ("", Vec::new()),
    };
    ChangeField { key: of.key.to_owned(), words: of.words.to_owned(), unit: unit.to_owned(), choices }
}

fn words(code: &str) -> String {
    let said = match code {
        "hanging" => "Hanging: the eye below the pivot",
        "standing" => "Standing: the eye above the pivot",
        "both_berlin" => "Both, centred on the leaf (Berlin eyes)",
        "one_berlin" => "One, centred on the leaf (Berlin eye)",
        other => return capital(&other.replace('_', " the ")),
    };
    said.to_owned()
}

/// Under which heading a kind is offered.
fn group(kind: &Kind) -> &'static str {
    match kind.code {
        "spring" | "leaf_out" | "reversed_eyes" | "rearched_leaf" | "perch" | "shackle" | "hanger" => "Springs",
        "coil_cut" | "coil" | "coil_over" | "air" => "Coils and air",
        "block" | "shim" | "wedge" | "dropped_axle" | "dropped_spindle" | "flipped_axle" => "Axle",
        "crossmember" | "kick_up" | "pie_cut" | "c_notch" => "Frame",
        "channel" | "section" => "Body",
        _ => "Wheels, tires, load",
    }
}

/// The steps of a change as a file has them; what cannot be read is said to `fields`, under `changes.<number>.<key>`.
pub(crate) fn steps(fields: &mut Fields, number: usize, change: &ChangeForm, tape: TapeUnit) -> Option<Vec<Value>> {
    let steps: Vec<Option<Value>> =
        change.steps.iter().map(|step| read(fields, &format!("changes.{number}"), step, tape)).collect();
    steps.into_iter().collect()
}

/// One step; `place` is where its fields stand.
pub(crate) fn read(fields: &mut Fields, place: &str, step: &StepForm, tape: TapeUnit) -> Option<Value> {
    let at = |key: &str| format!("{place}.{key}");
    if !step.written.is_empty() {
        return serde_json::from_str(&step.written).ok();
    }
    let Some(kind) = Kind::of(&step.kind) else {
        fields.refuse(&at("kind"), &step.kind, "What is changed is not chosen.", "Choose one.");
        return None;
    };
    let mut written = Map::new();
    written.insert("kind".to_owned(), json!(kind.code));
    if kind.has_end() {
        if step.end.is_empty() {
            fields.refuse(&at("end"), "", "Front or rear is not chosen.", "Choose the axle.");
            return None;
        }
        written.insert("end".to_owned(), json!(step.end));
    }
    let mut readable = true;
    for (key, typed) in step.fields.iter().filter(|(_, typed)| !typed.trim().is_empty()) {
        let value = if key == "amount_mm" {
            fields.signed_length(&at(key), "an amount", typed, tape, -500.0..=500.0).map(Value::from)
        } else {
            match kind.fields.iter().find(|field| field.key == *key) {
                Some(field) => value(fields, &at(key), field, typed, tape),
                None => continue,
            }
        };
        match value {
            Some(value) => drop(written.insert(key.clone(), value)),
            None => readable = false,
        }
    }
    let written = Value::Object(written);
    if !readable {
        return None;
    }
    match Step::of(&written, "this change") {
        Ok(_) => Some(written),
        Err(refusal) => {
            let InForm { key, sentence, hint } = in_form(&[kind], &refusal.message, &refusal.hint);
            fields.push(FieldProblem { field: at(key), typed: String::new(), sentence, hint, proposals: Vec::new() });
            None
        }
    }
}

fn value(fields: &mut Fields, at: &str, field: &Field, typed: &str, tape: TapeUnit) -> Option<Value> {
    match field.takes {
        Takes::Number { low, high, unit: "mm" } => {
            fields.signed_length(at, "a length", typed, tape, low..=high).map(Value::from)
        }
        Takes::Number { low, high, unit } => {
            let number: Option<f64> = typed.trim().trim_end_matches(unit).trim().replace(',', ".").parse().ok();
            match number.filter(|number: &f64| (low..=high).contains(number)) {
                Some(number) => Some(json!(number)),
                None => {
                    let said = format!(
                        "\u{201c}{}\u{201d} is no number from {low} to {high} {unit}",
                        trueground_core::wording::shown(typed)
                    );
                    fields.refuse(at, typed, &format!("{}.", said.trim_end()), "Look at the number and its unit.");
                    None
                }
            }
        }
        Takes::Leaves => {
            let leaves: Option<Vec<usize>> = typed
                .split([',', ' ', ';'])
                .filter(|part| !part.trim().is_empty())
                .map(|part| part.trim().parse().ok())
                .collect();
            match leaves {
                Some(leaves) if !leaves.is_empty() => Some(json!(leaves)),
                _ => {
                    fields.refuse(
                        at,
                        typed,
                        "These are no numbers of leaves.",
                        "Type which come out, counted from the main leaf: 3, 5.",
                    );
                    None
                }
            }
        }
        Takes::Choice(_) | Takes::Text => Some(json!(typed.trim())),
        Takes::Pack => None,
    }
}

/// The form that would write these changes.
pub(crate) fn forms(changes: &[KeptChange], tape: TapeUnit) -> Vec<ChangeForm> {
    let form = |change: &KeptChange| ChangeForm {
        label: change.label.clone(),
        left_out: change.left_out,
        steps: change.steps.iter().map(|step| step_form(step, tape)).collect(),
    };
    changes.iter().map(form).collect()
}

/// The form that would write this step; one whose fields cannot all be typed keeps its text.
pub(crate) fn step_form(step: &Value, tape: TapeUnit) -> StepForm {
    let as_written = || StepForm {
        written: step.to_string(),
        kind: step["kind"].as_str().unwrap_or_default().to_owned(),
        ..StepForm::default()
    };
    let (Some(kind), Some(keys)) = (step["kind"].as_str().and_then(Kind::of), step.as_object()) else {
        return as_written();
    };
    let known = typed_fields(kind);
    let mut form = StepForm {
        kind: kind.code.to_owned(),
        end: step["end"].as_str().unwrap_or_default().to_owned(),
        ..StepForm::default()
    };
    for (key, value) in keys.iter().filter(|(key, _)| !["kind", "end"].contains(&key.as_str())) {
        let is_mm = key == "amount_mm"
            || known.iter().any(|field| field.key == key && matches!(field.takes, Takes::Number { unit: "mm", .. }));
        let typed = match (known.iter().any(|field| field.key == key) || key == "amount_mm", value) {
            (true, Value::Number(number)) if is_mm => length(number.as_f64().unwrap_or_default(), tape),
            (true, Value::Number(number)) => number.to_string(),
            (true, Value::String(text)) => text.clone(),
            (true, Value::Array(leaves)) => leaves.iter().map(ToString::to_string).collect::<Vec<_>>().join(", "),
            _ => return as_written(),
        };
        form.fields.insert(key.clone(), typed);
    }
    form
}

/// As it would be typed: nothing is lost by being looked at.
fn length(mm: f64, tape: TapeUnit) -> String {
    let sixteenths = mm / 25.4 * 16.0;
    match crate::fields::unit(tape) {
        LengthUnit::In if (sixteenths - sixteenths.round()).abs() < 1e-6 => {
            let sign = if mm < 0.0 { "-" } else { "" };
            format!("{sign}{}", on_tape(mm.abs(), TapeUnit::In))
        }
        LengthUnit::Mm => mm.to_string(),
        _ => format!("{mm} mm"),
    }
}
