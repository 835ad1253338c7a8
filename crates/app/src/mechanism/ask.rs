//! What a part's form asks for, put together from few words.

use crate::wire::{MechanismChoice, MechanismField, MechanismList, MechanismOnly, MechanismSection};

/// A field with a unit behind it.
pub(super) fn field(name: &str, words: &str, hint: &str, unit: &str) -> MechanismField {
    MechanismField {
        name: name.to_owned(),
        words: words.to_owned(),
        hint: hint.to_owned(),
        unit: unit.to_owned(),
        choices: Vec::new(),
    }
}

/// A length on the person's tape.
pub(super) fn length(name: &str, words: &str, hint: &str) -> MechanismField {
    field(name, words, hint, "length")
}

/// One of a few.
pub(super) fn choice(name: &str, words: &str, choices: &[(&str, &str)]) -> MechanismField {
    let choices =
        choices.iter().map(|(value, words)| MechanismChoice { value: (*value).to_owned(), words: (*words).to_owned() });
    MechanismField { choices: choices.collect(), ..field(name, words, "", "") }
}

/// What belongs together.
pub(super) fn section(title: &str, words: &str, fields: Vec<MechanismField>) -> MechanismSection {
    MechanismSection {
        title: title.to_owned(),
        words: words.to_owned(),
        shows: String::new(),
        only: None,
        fields,
        list: None,
    }
}

/// A place of the car, shown in the picture by that name.
pub(super) fn place(name: &str, title: &str, words: &str) -> MechanismSection {
    let along = |axis: &str, words: &str, hint: &str| length(&format!("{name}.{axis}"), words, hint);
    let fields = vec![
        along("x", "Ahead of the front axle", "behind it: with a minus"),
        along("y", "Left of the centre", "right of it: with a minus"),
        along("z", "Above the ground", ""),
    ];
    MechanismSection { shows: name.to_owned(), ..section(title, words, fields) }
}

/// A place seen from the side.
pub(super) fn side_place(name: &str, title: &str, words: &str) -> MechanismSection {
    let fields = vec![
        length(&format!("{name}.x"), "Ahead of the front axle", "behind it: with a minus"),
        length(&format!("{name}.z"), "Above the ground", ""),
    ];
    MechanismSection { shows: name.to_owned(), ..section(title, words, fields) }
}

/// The same, asked for only where another field has one of these values.
pub(super) fn only(section: MechanismSection, name: &str, values: &[&str]) -> MechanismSection {
    let values = values.iter().map(|value| (*value).to_owned()).collect();
    MechanismSection { only: Some(MechanismOnly { name: name.to_owned(), values }), ..section }
}

/// Rows of fields.
pub(super) fn list(
    title: &str,
    words: &str,
    name: &str,
    [one, add]: [&str; 2],
    most: u32,
    fields: Vec<MechanismField>,
) -> MechanismSection {
    let list = MechanismList { name: name.to_owned(), one: one.to_owned(), add: add.to_owned(), most, fields };
    MechanismSection { list: Some(list), ..section(title, words, Vec::new()) }
}
