//! A refusal of a change in the words of its form: at the field that it is about, without the keys and places of a file.

use crate::words::capital;
use trueground_core::plan::Kind;

/// What is wrong with a change, and where in its form.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct InForm {
    /// Key of the field; `kind` where it is about none.
    pub(crate) key: &'static str,
    pub(crate) sentence: String,
    pub(crate) hint: String,
}

impl InForm {
    /// Both sentences.
    pub(crate) fn said(&self) -> String {
        format!("{} {}", self.sentence, self.hint).trim().to_owned()
    }
}

/// The refusal as the form of a change of these kinds says it.
pub(crate) fn in_form(kinds: &[&'static Kind], message: &str, hint: &str) -> InForm {
    let mut keys: Vec<(&'static str, String)> = vec![("amount_mm", "the amount".to_owned())];
    for field in kinds.iter().flat_map(|kind| kind.fields) {
        // A number is named as its field is; a longer sentence up to its comma.
        let words = field.words.split(',').next().unwrap_or(field.words);
        keys.push((field.key, format!("\u{201c}{words}\u{201d}")));
    }
    // A key may begin another one: leaves, leaves_in_pack.
    keys.sort_by_key(|(key, _)| std::cmp::Reverse(key.len()));
    let (message, hint) = (without_place(message), without_place(hint));
    let first = keys.iter().filter_map(|(key, _)| Some((place(&message, key)?, *key))).min_by_key(|(at, _)| *at);
    let words = |text: &str| {
        let text = text.replace("the pack with its leaves", "the pack on the car\u{2019}s Springs page");
        capital(&keys.iter().fold(text, |text, (key, words)| replaced(&text, key, words)))
    };
    InForm { key: first.map_or("kind", |(_, key)| key), sentence: ended(words(&message)), hint: ended(words(&hint)) }
}

fn ended(text: String) -> String {
    if text.is_empty() || text.ends_with(['.', '?', '!']) { text } else { format!("{text}.") }
}

/// Where a key stands as a word of its own.
fn place(text: &str, key: &str) -> Option<usize> {
    let is_word = |c: char| c.is_alphanumeric() || c == '_';
    text.match_indices(key).map(|(at, _)| at).find(|at| {
        !text[..*at].ends_with(is_word) && !text[at + key.len()..].starts_with(is_word)
            // A key that is a word of the language is meant only where something is said of it.
            && (key.contains('_') || is_said_of(&text[at + key.len()..]))
    })
}

fn is_said_of(rest: &str) -> bool {
    let rest = rest.trim_start_matches(|c: char| c == '[' || c == ']' || c.is_ascii_digit());
    [" is ", " has ", " names ", " takes ", ": "].iter().any(|says| rest.starts_with(says))
}

fn replaced(text: &str, key: &str, words: &str) -> String {
    match place(text, key) {
        None => text.to_owned(),
        Some(at) => {
            let rest = text[at + key.len()..].to_owned();
            // An index into the list belongs to the key.
            let index = rest.find(']').filter(|_| rest.starts_with('[')).map_or(0, |end| end + 1);
            format!("{}{words}{}", &text[..at], replaced(&rest[index..], key, words))
        }
    }
}

/// A sentence without the place in a file that it names: "this change[0].leaves is …", "parts[2].steps[0]: …".
pub(crate) fn without_place(said: &str) -> String {
    let mut text = said.to_owned();
    for opening in ["this change[", "This change[", "this part[", "This part[", "changes[", "parts["] {
        while let Some(at) = text.find(opening) {
            let mut end = at + opening.len();
            loop {
                end += text[end..].find(']').map_or(text.len() - end, |close| close + 1);
                match text[end..].strip_prefix(".steps[") {
                    Some(_) => end += ".steps[".len(),
                    None => break,
                }
            }
            let (before, after) = (&text[..at], &text[end..]);
            let before = before.strip_suffix(" in ").unwrap_or(before);
            let after = after
                .strip_prefix(": ")
                .or(after.strip_prefix('.').filter(|rest| rest.starts_with(char::is_alphabetic)));
            text = format!("{before}{}", after.unwrap_or(&text[end..]));
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_refusal_names_the_field_of_the_form() {
        let kind = [Kind::of("leaf_out").unwrap()];
        let said = |message: &str, hint: &str| in_form(&kind, message, hint);
        let missing =
            said("leaves_in_pack is missing in this change[0].", "Add it, or the pack with its leaves, or amount_mm.");
        assert_eq!(missing.key, "leaves_in_pack");
        assert_eq!(
            missing.said(),
            "\u{201c}Leaves in the pack\u{201d} is missing. Add it, or the pack on the car\u{2019}s Springs page, or the amount."
        );
        let main =
            said("this change[0].leaves[0] is leaf 1, the main leaf: it carries the eyes.", "Name leaves from 2 on.");
        assert_eq!(
            (main.key, main.sentence.as_str()),
            ("leaves", "\u{201c}Which leaves come out\u{201d} is leaf 1, the main leaf: it carries the eyes.")
        );
        assert_eq!(main.hint, "Name leaves from 2 on.");
        let none = in_form(
            &[Kind::of("block").unwrap()],
            "parts[2].steps[0]: the front axle has a transverse spring",
            "Lower it by its leaves",
        );
        assert_eq!((none.key, none.sentence.as_str()), ("kind", "The front axle has a transverse spring."));
    }
}
