//! From what was typed to a part of a car's description, and from what is wrong with it to the field it belongs to.

use super::table::{Ask, Kind};
use crate::fields::Fields;
use crate::quantity::MASS;
use crate::wire::{Problem, TapeUnit};
use crate::words::capital;
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;
use trueground_core::validate::Fault;
use trueground_core::wording::shown;

/// Wider than any measure: what a car's own check then refuses in words has been read at least.
const ANY_LENGTH_MM: std::ops::RangeInclusive<f64> = -20_000.0..=20_000.0;

/// What was typed, and what it is read against.
pub(super) struct Typed<'a> {
    pub(super) fields: &'a BTreeMap<String, String>,
    pub(super) tape: TapeUnit,
    /// How much more a field says of the car as it stands than of the stance its numbers count from, mm.
    pub(super) risen: &'a BTreeMap<String, f64>,
    /// The part as it was.
    pub(super) earlier: Option<&'a Value>,
}

/// The part with the typed fields in it; what it said beyond the form stays.
///
/// # Errors
/// Every field that cannot be read, at once.
pub(super) fn part(asks: &[Ask], mut kept: Value, form: &Typed<'_>) -> Result<Value, Problem> {
    let (typed, tape) = (form.fields, form.tape);
    let mut fields = Fields::default();
    for ask in asks {
        let text = typed.get(&ask.path).map_or("", |text| text.trim());
        let unchanged = super::field(ask, form.earlier, tape, form.risen).value == text;
        // What was not touched keeps every digit it had.
        if unchanged && form.earlier.is_some() && !matches!(ask.kind, Kind::Choice(_)) {
            continue;
        }
        let rise = form.risen.get(&ask.path).copied().unwrap_or(0.0);
        let value = value(&mut fields, ask, text, tape, rise);
        set(&mut kept, &ask.path, value);
    }
    for ask in asks.iter().filter(|ask| ask.must) {
        let group = ask.path.rsplit_once('.').map_or("", |(group, _)| group);
        let empty = |ask: &Ask| typed.get(&ask.path).is_none_or(|text| text.trim().is_empty());
        let of_group = |other: &&Ask| {
            other.path.rsplit_once('.').map_or("", |(of, _)| of) == group && !matches!(other.kind, Kind::Choice(_))
        };
        let any = group.is_empty() || asks.iter().filter(of_group).any(|other| !empty(other));
        if any && empty(ask) {
            let sentence = format!("{}: nothing is typed yet.", ask.words);
            let hint = if group.is_empty() { "Type it." } else { "Type it, or empty the others of this part." };
            fields.refuse(&ask.path, "", &sentence, hint);
        }
    }
    fields.done()?;
    prune(&mut kept, asks);
    Ok(kept)
}

fn value(fields: &mut Fields, ask: &Ask, text: &str, tape: TapeUnit, rise: f64) -> Value {
    if text.is_empty() {
        return Value::Null;
    }
    match ask.kind {
        Kind::Length => {
            let what = format!("a measure ({})", ask.words.to_lowercase());
            fields.signed_length(&ask.path, &what, text, tape, ANY_LENGTH_MM).map_or(Value::Null, |mm| json!(mm - rise))
        }
        Kind::Degrees => degrees(fields, ask, text).map_or(Value::Null, |degrees| json!(degrees)),
        Kind::Kg => fields.quantity(&ask.path, text, &MASS).map_or(Value::Null, |kg| json!(kg)),
        Kind::Words => fields.label(&ask.path, &ask.words, text).map_or(Value::Null, |label| json!(label)),
        Kind::Marking => json!(text),
        Kind::Choice(choices) => match choices.iter().find(|(value, _)| *value == text) {
            Some(("true", _)) => json!(true),
            Some((value, _)) if !value.is_empty() => json!(value),
            _ => Value::Null,
        },
    }
}

fn degrees(fields: &mut Fields, ask: &Ask, text: &str) -> Option<f64> {
    let plain = text.trim_end_matches(['°', ' ']).trim_end_matches("deg").trim();
    let plain = plain.replace(',', ".").replace(['\u{2212}', '\u{2013}'], "-");
    let digits = plain.trim_start_matches('-');
    let number = digits.chars().all(|c| c.is_ascii_digit() || c == '.') && digits.chars().any(|c| c.is_ascii_digit());
    let read = plain.parse::<f64>().ok().filter(|_| number);
    if read.is_none() {
        let sentence = format!("{} is no angle.", shown(text));
        fields.refuse(&ask.path, text, &sentence, "Type degrees as 6, 6.5 or -0.5.");
    }
    read
}

/// Sets a value under a path with points, making what stands on the way; `null` takes it away.
fn set(at: &mut Value, path: &str, value: Value) {
    let (key, rest) = path.split_once('.').map_or((path, None), |(key, rest)| (key, Some(rest)));
    if let Some(rest) = rest {
        let in_list = rest.split('.').next().is_some_and(|next| next.parse::<usize>().is_ok());
        if value.is_null() && super::step(at, key).is_none() {
            return;
        }
        if let Value::Array(list) = at {
            let number = key.parse::<usize>().unwrap_or(0).min(list.len());
            if number == list.len() {
                list.push(json!({}));
            }
            set(&mut list[number], rest, value);
            return;
        }
        if !at.is_object() {
            *at = Value::Object(Map::new());
        }
        if at[key].is_null() {
            at[key] = if in_list { json!([]) } else { json!({}) };
        }
        set(&mut at[key], rest, value);
        return;
    }
    if !at.is_object() {
        *at = Value::Object(Map::new());
    }
    if let Value::Object(keys) = at {
        if value.is_null() {
            keys.shift_remove(key);
        } else {
            keys.insert(key.to_owned(), value);
        }
    }
}

/// Groups of the form that hold nothing any more are not said. A choice alone is no measure. What the form does not know stays.
fn prune(at: &mut Value, asks: &[Ask]) {
    let hollow = |value: &Value| match value {
        Value::Object(keys) => keys.values().all(|value| value.is_string() || value.is_boolean()) && keys.len() < 2,
        Value::Array(list) => list.is_empty(),
        _ => false,
    };
    let mut groups: Vec<&str> =
        asks.iter().flat_map(|ask| ask.path.match_indices('.').map(|(end, _)| &ask.path[..end])).collect();
    // The innermost first.
    groups.sort_by_key(|group| std::cmp::Reverse(group.matches('.').count()));
    groups.dedup();
    for group in groups {
        let (above, last) = group.rsplit_once('.').unwrap_or(("", group));
        let holder = above.split('.').filter(|key| !key.is_empty()).try_fold(&mut *at, super::step_mut);
        match holder {
            Some(Value::Object(keys)) if keys.get(last).is_some_and(hollow) => drop(keys.shift_remove(last)),
            Some(Value::Array(list)) => {
                if let Some(number) = last.parse::<usize>().ok().filter(|at| list.get(*at).is_some_and(hollow)) {
                    list.remove(number);
                }
            }
            _ => {}
        }
    }
}

/// What is wrong with the car only since it holds this part, beside the fields it belongs to.
///
/// # Errors
/// All of it.
pub(super) fn refused(
    faults: &[Fault],
    earlier: &[Fault],
    asks: &[Ask],
    path: &[String],
    typed: &BTreeMap<String, String>,
) -> Result<(), Problem> {
    let bare = |place: &str| place.replace('[', ".").replace(']', "");
    let under = format!("vehicle.{}", path.join("."));
    let mut fields = Fields::default();
    for fault in faults.iter().filter(|fault| !earlier.contains(fault)) {
        let place = bare(&fault.place);
        let inside = place.strip_prefix(&under).map(|rest| rest.trim_start_matches('.')).unwrap_or_default();
        let exactly = asks.iter().find(|ask| ask.path == inside);
        let beneath = || asks.iter().find(|ask| !inside.is_empty() && ask.path.starts_with(inside));
        let field = exactly.or_else(beneath).or(asks.first());
        let Some(field) = field else { continue };
        let text = typed.get(&field.path).map_or("", String::as_str);
        let sentence = format!("{}.", capital(fault.message.trim_end_matches('.')));
        fields.refuse(&field.path, text, &sentence, &format!("{}.", capital(fault.hint.trim_end_matches('.'))));
    }
    fields.done()
}
