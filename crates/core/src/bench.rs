//! Input of the bench sums: strict JSON. An unknown key is refused with the nearest known one, a key given twice is refused.

mod values;

use crate::wording::{listed, nearest, shown, slip_of};
use serde::Deserialize;
use serde::de::{self, Deserializer, MapAccess, SeqAccess, Visitor};
use std::fmt;

/// Why an input cannot be worked on. The message says what, where, which value and which range; the hint what to do.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[error("{message} {hint}")]
pub struct Refusal {
    /// What is wrong, and where.
    pub message: String,
    /// What to do next.
    pub hint: String,
}

impl Refusal {
    /// From the two sentences.
    pub fn new(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { message: message.into(), hint: hint.into() }
    }
}

/// What a car's file says of a part, as the text that its bench sum reads. What a newer program wrote beside it has no place there.
///
/// # Errors
/// It cannot be written.
pub(crate) fn text_of(part: &impl serde::Serialize) -> Result<String, Refusal> {
    serde_json::to_string(part).map_err(|e| Refusal::new(format!("It cannot be written: {e}."), "Describe it anew."))
}

/// A JSON value that remembers the order of its keys and every key that was written.
#[derive(Debug, Clone, PartialEq)]
pub enum Node {
    /// `null`.
    Null,
    /// `true` or `false`.
    Truth(bool),
    /// Any number; always finite.
    Number(f64),
    /// Text.
    Text(String),
    /// `[…]`.
    List(Vec<Node>),
    /// `{…}`.
    Object(Vec<(String, Node)>),
}

impl Node {
    /// From JSON text.
    ///
    /// # Errors
    /// Says line and column where the text stops being JSON.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        serde_json::from_str(text).map_err(|e| {
            let place = format!("line {}, column {}", e.line(), e.column());
            let what = e.to_string();
            let what = what.split(" at line ").next().unwrap_or_default();
            Refusal::new(
                format!("The file is not JSON: {} at {place}.", shown(what)),
                "Mend the file there, or write it anew.",
            )
        })
    }

    /// In words, with a short value: for "is … , a number is expected".
    fn in_words(&self) -> String {
        match self {
            Self::Null => "null".to_owned(),
            Self::Truth(truth) => truth.to_string(),
            Self::Number(number) => number.to_string(),
            Self::Text(text) => format!("the text \"{}\"", shown(text)),
            Self::List(list) => format!("a list of {}", list.len()),
            Self::Object(_) => "an object".to_owned(),
        }
    }

    /// As an object that may have only the `known` keys; `path` is where it stands, empty for the whole file.
    ///
    /// # Errors
    /// Not an object, an unknown key (with the nearest known one), or a key given twice.
    pub fn object<'n>(&'n self, path: &str, known: &[&str]) -> Result<Object<'n>, Refusal> {
        let fields = self.fields(path)?;
        for (key, _) in fields {
            if !known.contains(&key.as_str()) {
                let hint = match nearest(key, known) {
                    Some(near) => format!("Did you mean {near}? The keys here are {}.", known.join(", ")),
                    None => format!("The keys here are {}.", known.join(", ")),
                };
                return Err(Refusal::new(format!("{} is not a key {}.", shown(key), place(path)), hint));
            }
        }
        Ok(Object { path: path.to_owned(), fields })
    }

    /// As an object of a car's file, where other keys may stand beside the `known` ones and say nothing here; `path` is where it stands.
    ///
    /// # Errors
    /// Not an object, a key given twice, or one that is a known one with a slip, which would otherwise be passed over in silence.
    pub fn object_of_a_car<'n>(&'n self, path: &str, known: &[&str]) -> Result<Object<'n>, Refusal> {
        let fields = self.fields(path)?;
        for (key, _) in fields.iter().filter(|(key, _)| !known.contains(&key.as_str())) {
            if let Some(meant) = slip_of(key, known) {
                let hint = format!("Did you mean {meant}? The keys here are {}.", known.join(", "));
                return Err(Refusal::new(format!("{} is not a key {}.", shown(key), place(path)), hint));
            }
        }
        Ok(Object { path: path.to_owned(), fields })
    }

    /// The fields of an object with free keys, such as names of points.
    ///
    /// # Errors
    /// Not an object, or a key given twice.
    pub fn fields(&self, path: &str) -> Result<&[(String, Node)], Refusal> {
        let Self::Object(fields) = self else {
            return Err(self.not(path, "an object {…}"));
        };
        let mut keys: Vec<&str> = fields.iter().map(|(key, _)| key.as_str()).collect();
        keys.sort_unstable();
        if let Some(twice) = keys.windows(2).find(|pair| pair[0] == pair[1]) {
            let message = format!("{} is given twice {}.", shown(twice[0]), place(path));
            return Err(Refusal::new(message, "Keep one of the two."));
        }
        Ok(fields)
    }

    /// That no object in it, however deep, has a key twice; `path` is where it stands.
    ///
    /// # Errors
    /// Names the key and its place.
    pub fn no_key_twice(&self, path: &str) -> Result<(), Refusal> {
        match self {
            Self::Object(_) => {
                let dot = if path.is_empty() { "" } else { "." };
                for (key, node) in self.fields(path)? {
                    node.no_key_twice(&format!("{path}{dot}{}", shown(key)))?;
                }
                Ok(())
            }
            Self::List(list) => {
                list.iter().enumerate().try_for_each(|(i, node)| node.no_key_twice(&format!("{path}[{i}]")))
            }
            _ => Ok(()),
        }
    }

    /// As a list.
    ///
    /// # Errors
    /// Not a list.
    pub fn list(&self, path: &str) -> Result<&[Self], Refusal> {
        match self {
            Self::List(list) => Ok(list),
            _ => Err(self.not(path, "a list […]")),
        }
    }

    /// As a number.
    ///
    /// # Errors
    /// Not a number.
    pub fn number(&self, path: &str) -> Result<f64, Refusal> {
        match self {
            Self::Number(number) => Ok(*number),
            _ => Err(self.not(path, "a number")),
        }
    }

    /// As a name: text that is not empty, or a whole number as text.
    ///
    /// # Errors
    /// Neither.
    pub fn name(&self, path: &str) -> Result<String, Refusal> {
        match self {
            Self::Text(text) if !text.trim().is_empty() => Ok(text.clone()),
            Self::Number(number) if number.fract() == 0.0 => Ok(number.to_string()),
            _ => Err(self.not(path, "a name in quotes")),
        }
    }

    fn not(&self, path: &str, expected: &str) -> Refusal {
        let subject = if path.is_empty() { "The whole file" } else { path };
        Refusal::new(format!("{subject} is {}.", self.in_words()), format!("Write {expected} there."))
    }
}

/// An object whose keys were checked.
#[derive(Debug)]
pub struct Object<'n> {
    path: String,
    fields: &'n [(String, Node)],
}

impl<'n> Object<'n> {
    /// The value of a key, if it is there and not `null`.
    pub fn optional(&self, key: &str) -> Option<&'n Node> {
        self.fields.iter().find(|(k, _)| k == key).map(|(_, node)| node).filter(|node| **node != Node::Null)
    }

    /// The value of a key.
    ///
    /// # Errors
    /// Not there.
    pub fn required(&self, key: &str) -> Result<&'n Node, Refusal> {
        self.optional(key).ok_or_else(|| {
            let there: Vec<&str> = self.fields.iter().map(|(k, _)| k.as_str()).collect();
            let message = format!("{key} is missing {}.", place(&self.path));
            Refusal::new(message, format!("Add it. What is there: {}.", listed(&there)))
        })
    }

    /// Where the value of a key stands: `differences[3].u_mm`.
    pub fn path(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_owned() } else { format!("{}.{key}", self.path) }
    }

    /// A number.
    ///
    /// # Errors
    /// Not there, or not a number.
    pub fn number(&self, key: &str) -> Result<f64, Refusal> {
        self.required(key)?.number(&self.path(key))
    }

    /// A name.
    ///
    /// # Errors
    /// Not there, or not a name.
    pub fn name(&self, key: &str) -> Result<String, Refusal> {
        self.required(key)?.name(&self.path(key))
    }
}

fn place(path: &str) -> String {
    if path.is_empty() { "at the top of the file".to_owned() } else { format!("in {path}") }
}

impl<'de> Deserialize<'de> for Node {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        struct AnyNode;
        impl<'de> Visitor<'de> for AnyNode {
            type Value = Node;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("JSON")
            }
            fn visit_unit<E: de::Error>(self) -> Result<Node, E> {
                Ok(Node::Null)
            }
            fn visit_bool<E: de::Error>(self, truth: bool) -> Result<Node, E> {
                Ok(Node::Truth(truth))
            }
            fn visit_i64<E: de::Error>(self, number: i64) -> Result<Node, E> {
                Ok(Node::Number(number as f64))
            }
            fn visit_u64<E: de::Error>(self, number: u64) -> Result<Node, E> {
                Ok(Node::Number(number as f64))
            }
            fn visit_f64<E: de::Error>(self, number: f64) -> Result<Node, E> {
                Ok(Node::Number(number))
            }
            fn visit_str<E: de::Error>(self, text: &str) -> Result<Node, E> {
                Ok(Node::Text(text.to_owned()))
            }
            fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Node, A::Error> {
                let mut out = Vec::new();
                while let Some(node) = list.next_element()? {
                    out.push(node);
                }
                Ok(Node::List(out))
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Node, A::Error> {
                let mut out = Vec::new();
                while let Some(field) = map.next_entry()? {
                    out.push(field);
                }
                Ok(Node::Object(out))
            }
        }
        from.deserialize_any(AnyNode)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn unknown_and_doubled_keys_are_refused_with_their_place() {
        let node = Node::read(r#"{"from": "A", "tu": "B"}"#).unwrap();
        let refusal = node.object("differences[0]", &["from", "to", "rise_mm", "u_mm"]).unwrap_err();
        let said = "tu is not a key in differences[0]. Did you mean to? The keys here are from, to, rise_mm, u_mm.";
        assert_eq!(refusal.to_string(), said);
        let node = Node::read(r#"{"A": 0, "A": 1}"#).unwrap();
        assert_eq!(node.fields("fixed").unwrap_err().message, "A is given twice in fixed.");
    }

    #[test]
    fn what_is_not_json_is_refused_with_line_and_column() {
        for (text, says) in
            [("", "line 1, column 0"), ("{\n\"a\": }", "line 2, column 6"), ("[1e999]", "number out of range")]
        {
            let refusal = Node::read(text).unwrap_err();
            assert!(refusal.message.contains(says), "{refusal}");
        }
        let deep = "[".repeat(100_000);
        assert!(Node::read(&deep).unwrap_err().message.contains("recursion limit"));
    }
}
