//! What a step of a change says: the fields that its kind knows, read strictly.

use super::spring::SpringPack;
use crate::bench::{Node, Object, Refusal};

/// One field of a kind of change: for the reader of a file, for a form, for help.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Field {
    /// Key in files.
    pub key: &'static str,
    /// In words, before its unit.
    pub words: &'static str,
    /// What may stand there.
    pub takes: Takes,
}

/// What a field takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Takes {
    /// A number from … to …, in a unit.
    Number {
        /// Least.
        low: f64,
        /// Most.
        high: f64,
        /// `mm`, `deg`, `kPa` …, empty for a bare number.
        unit: &'static str,
    },
    /// One of some codes.
    Choice(&'static [&'static str]),
    /// Numbers of leaves, from 2 on, counted from the main leaf.
    Leaves,
    /// A spring pack as `trueground spring` takes it, without `remove`.
    Pack,
    /// Words, such as a tire's marking.
    Text,
}

/// What a step says, by key.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Given {
    values: Vec<(&'static str, Said)>,
    /// Where it stands, for refusals.
    pub path: String,
}

#[derive(Clone, Debug, PartialEq)]
enum Said {
    Number(f64),
    Choice(&'static str),
    Leaves(Vec<usize>),
    Pack(Box<SpringPack>),
    Text(String),
}

impl Given {
    /// The fields that are there.
    pub(super) fn read(object: &Object<'_>, fields: &[Field], path: &str) -> Result<Self, Refusal> {
        let mut values = Vec::new();
        for field in fields {
            let Some(node) = object.optional(field.key) else { continue };
            let at = object.path(field.key);
            let said = match field.takes {
                Takes::Number { low, high, unit } => Said::Number(node.number_in(&at, &(low..=high), unit)?),
                Takes::Choice(codes) => Said::Choice(node.one_of(&at, codes)?),
                Takes::Leaves => Said::Leaves(leaves(node, &at)?),
                Takes::Pack => Said::Pack(Box::new(SpringPack::of(node).map_err(|refusal| at_place(&at, refusal))?)),
                Takes::Text => Said::Text(node.name(&at)?),
            };
            values.push((field.key, said));
        }
        Ok(Self { values, path: path.to_owned() })
    }

    fn said(&self, key: &str) -> Option<&Said> {
        self.values.iter().find(|(known, _)| *known == key).map(|(_, said)| said)
    }

    /// True where nothing is said.
    pub fn is_empty(&self) -> bool {
        self.values.is_empty()
    }

    /// The first key that is there.
    pub fn first_key(&self) -> Option<&'static str> {
        self.values.first().map(|(key, _)| *key)
    }

    /// A number, if it is there.
    pub fn number(&self, key: &str) -> Option<f64> {
        match self.said(key)? {
            Said::Number(number) => Some(*number),
            _ => None,
        }
    }

    /// A number.
    ///
    /// # Errors
    /// Not there; the hint says what else would do.
    pub fn required(&self, key: &str, instead: &str) -> Result<f64, Refusal> {
        self.number(key).ok_or_else(|| self.missing(key, instead))
    }

    /// A code, if it is there.
    pub fn choice(&self, key: &str) -> Option<&'static str> {
        match self.said(key)? {
            Said::Choice(code) => Some(code),
            _ => None,
        }
    }

    /// Words, if they are there.
    pub fn text(&self, key: &str) -> Option<&str> {
        match self.said(key)? {
            Said::Text(text) => Some(text),
            _ => None,
        }
    }

    /// Leaves, if they are there.
    pub fn leaves(&self, key: &str) -> Option<&[usize]> {
        match self.said(key)? {
            Said::Leaves(leaves) => Some(leaves),
            _ => None,
        }
    }

    /// A pack, if it is there.
    pub fn pack(&self, key: &str) -> Option<&SpringPack> {
        match self.said(key)? {
            Said::Pack(pack) => Some(pack),
            _ => None,
        }
    }

    /// That a key is missing.
    pub fn missing(&self, key: &str, instead: &str) -> Refusal {
        Refusal::new(format!("{key} is missing in {}.", self.path), format!("Add it{instead}."))
    }
}

fn leaves(node: &Node, path: &str) -> Result<Vec<usize>, Refusal> {
    let mut leaves = Vec::new();
    for (i, node) in node.list_of(path, 1, 39, "leaves")?.iter().enumerate() {
        let at = format!("{path}[{i}]");
        let leaf = node.count_in(&at, 1..=40)?;
        if leaf == 1 {
            let message = format!("{at} is leaf 1, the main leaf: it carries the eyes and cannot be removed.");
            return Err(Refusal::new(message, "Name leaves from 2 on, counted from the main leaf."));
        }
        if leaves.contains(&leaf) {
            return Err(Refusal::new(format!("{at}: leaf {leaf} is named twice."), "Name each leaf once."));
        }
        leaves.push(leaf);
    }
    Ok(leaves)
}

/// The same refusal with its place in front.
pub(super) fn at_place(path: &str, refusal: Refusal) -> Refusal {
    Refusal::new(format!("{path}: {}", refusal.message), refusal.hint)
}
