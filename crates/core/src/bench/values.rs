//! Values with a range: numbers, coordinates and words of a bench sum's input.

use super::{Node, Object, Refusal};
use crate::wording::{listed, nearest, shown};
use std::ops::RangeInclusive;

impl Node {
    /// As a number within `range`; `unit` is said beside it.
    ///
    /// # Errors
    /// Not a number, or outside of the range.
    pub fn number_in(&self, path: &str, range: &RangeInclusive<f64>, unit: &str) -> Result<f64, Refusal> {
        let number = self.number(path)?;
        if range.contains(&number) {
            return Ok(number);
        }
        let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
        let message = format!("{path} is {number}{unit}: {} to {}{unit} is taken.", range.start(), range.end());
        Err(Refusal::new(message, "Look at the number and its unit."))
    }

    /// As a whole number within `range`.
    ///
    /// # Errors
    /// Not a whole number, or outside of the range.
    pub fn count_in(&self, path: &str, range: RangeInclusive<usize>) -> Result<usize, Refusal> {
        let (low, high) = (*range.start(), *range.end());
        let number = self.number(path)?;
        (low..=high).find(|count| *count as f64 == number).ok_or_else(|| {
            let message = format!("{path} is {number}: a whole number from {low} to {high} is taken.");
            Refusal::new(message, "Look at the number.")
        })
    }

    /// As `N` numbers `[x, z]` or `[x, y, z]`, each within `range`.
    ///
    /// # Errors
    /// Not a list, another count, or a number outside of the range.
    pub fn coordinates<const N: usize>(
        &self,
        path: &str,
        range: &RangeInclusive<f64>,
        unit: &str,
    ) -> Result<[f64; N], Refusal> {
        let list = self.list(path)?;
        if list.len() != N {
            let message = format!("{path} has {} numbers.", list.len());
            let names = ["x", "y", "z"];
            let form = if N == 2 { "[x, z]".to_owned() } else { format!("[{}]", names.join(", ")) };
            return Err(Refusal::new(message, format!("Write {N} numbers there: {form}.")));
        }
        let mut out = [0.0; N];
        for (i, node) in list.iter().enumerate() {
            out[i] = node.number_in(&format!("{path}[{i}]"), range, unit)?;
        }
        Ok(out)
    }

    /// As one of the `known` words.
    ///
    /// # Errors
    /// Not text, or another word: the nearest known one is named.
    pub fn one_of(&self, path: &str, known: &'static [&'static str]) -> Result<&'static str, Refusal> {
        let all = known.join(", ");
        let Self::Text(text) = self else {
            return Err(Refusal::new(format!("{path} is no text."), format!("Write one of {all} there, in quotes.")));
        };
        known.iter().find(|word| **word == text).copied().ok_or_else(|| {
            let hint = match nearest(text, known) {
                Some(near) => format!("Did you mean {near}? It is one of {all}."),
                None => format!("It is one of {all}."),
            };
            Refusal::new(format!("{path} is \"{}\".", shown(text)), hint)
        })
    }

    /// As a list of at least `least` and at most `most` entries, which are called `what`.
    ///
    /// # Errors
    /// Not a list, or another length.
    pub fn list_of(&self, path: &str, least: usize, most: usize, what: &str) -> Result<&[Self], Refusal> {
        let list = self.list(path)?;
        if (least..=most).contains(&list.len()) {
            return Ok(list);
        }
        let message = format!("{path} has {} {what}: {least} to {most} are taken.", list.len());
        let hint = if list.len() < least { "Add what is missing." } else { "Leave some out, or give two files." };
        Err(Refusal::new(message, hint))
    }
}

impl Object<'_> {
    /// A number within `range`.
    ///
    /// # Errors
    /// Not there, not a number, or outside of the range.
    pub fn number_in(&self, key: &str, range: &RangeInclusive<f64>, unit: &str) -> Result<f64, Refusal> {
        self.required(key)?.number_in(&self.path(key), range, unit)
    }

    /// A number within `range`, if the key is there.
    ///
    /// # Errors
    /// Not a number, or outside of the range.
    pub fn optional_number_in(
        &self,
        key: &str,
        range: &RangeInclusive<f64>,
        unit: &str,
    ) -> Result<Option<f64>, Refusal> {
        self.optional(key).map(|node| node.number_in(&self.path(key), range, unit)).transpose()
    }

    /// That of `keys`, of which only one may be given, at most one is there.
    ///
    /// # Errors
    /// Names those that are there.
    pub fn at_most_one(&self, keys: &[&str]) -> Result<(), Refusal> {
        let there: Vec<&str> = keys.iter().filter(|key| self.optional(key).is_some()).copied().collect();
        if there.len() < 2 {
            return Ok(());
        }
        let place = super::place(&self.path);
        Err(Refusal::new(format!("{} are given together {place}.", listed(&there)), "Keep one of them."))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_out_of_range_is_said_with_the_range_and_a_word_with_the_nearest() {
        let node = Node::read(r#"{"r": -3, "at": [1, 2, 3], "attach": "boddy", "list": [], "a": 1, "b": 2}"#).unwrap();
        let object = node.object("", &["r", "at", "attach", "list", "a", "b"]).unwrap();
        for (refusal, says) in [
            (object.number_in("r", &(50.0..=900.0), "mm").unwrap_err(), "r is -3 mm: 50 to 900 mm is taken."),
            (
                object.required("at").unwrap().coordinates::<2>("at", &(0.0..=9.0), "mm").unwrap_err(),
                "at has 3 numbers. Write 2 numbers there: [x, z].",
            ),
            (
                object.required("at").unwrap().coordinates::<3>("at", &(0.0..=2.0), "mm").unwrap_err(),
                "at[2] is 3 mm: 0 to 2 mm is taken.",
            ),
            (
                object.required("attach").unwrap().one_of("attach", &["body", "front_axle"]).unwrap_err(),
                "attach is \"boddy\". Did you mean body? It is one of body, front_axle.",
            ),
            (
                object.required("list").unwrap().list_of("list", 1, 5, "leaves").unwrap_err(),
                "list has 0 leaves: 1 to 5 are taken. Add what is missing.",
            ),
            (object.at_most_one(&["a", "b"]).unwrap_err(), "a and b are given together at the top of the file."),
        ] {
            assert!(refusal.to_string().starts_with(says), "{refusal}");
        }
    }
}
