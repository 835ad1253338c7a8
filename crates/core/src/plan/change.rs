//! Changes and parts of a car's file: alternatives of one or several steps each; other keys may stand beside the known ones.

use super::step::Step;
use crate::bench::{Node, Object, Refusal};
use crate::capture::CarFile;
use crate::wording::shown;
use serde_json::Value;

/// Something that could be done to the car.
#[derive(Clone, Debug)]
pub struct Change {
    /// Its name in the file.
    pub id: String,
    /// What the person calls it.
    pub label: String,
    /// In the order in which they are done.
    pub steps: Vec<Step>,
}

/// Something that a person has or could buy. One part a slot is fitted, or none.
#[derive(Clone, Debug)]
pub struct Part {
    /// The change that fitting it is.
    pub change: Change,
    /// What it takes the place of: parts of one slot exclude one another.
    pub slot: String,
    /// In the person's money; 0 where it is there already.
    pub price: f64,
    /// Of work.
    pub hours: f64,
}

/// As many as a person can look through.
const MOST: usize = 2_000;
const MOST_STEPS: usize = 60;
const MONEY: std::ops::RangeInclusive<f64> = 0.0..=10_000_000.0;
const HOURS: std::ops::RangeInclusive<f64> = 0.0..=10_000.0;

/// `changes[]` of a car's file, in its order.
///
/// # Errors
/// Names the place, what stands there, and the nearest known word.
pub fn changes(file: &CarFile) -> Result<Vec<Change>, Refusal> {
    let Some(node) = node(file.extra.get("changes"))? else { return Ok(Vec::new()) };
    let list = node.list_of("changes", 0, MOST, "changes")?;
    let all = list.iter().enumerate().map(|(i, node)| {
        let path = format!("changes[{i}]");
        change(&node.object_of_a_car(&path, &["id", "label", "steps", "note"])?, &path)
    });
    named_once(all.collect::<Result<Vec<_>, _>>()?, "changes", |change| &change.id)
}

/// `parts[]` of a car's file, in its order.
///
/// # Errors
/// As [`changes`].
pub fn parts(file: &CarFile) -> Result<Vec<Part>, Refusal> {
    let kept: Vec<Value> = file.parts.iter().filter(|part| part.is_offered(file)).map(|part| part.written()).collect();
    let node = Node::read(&Value::Array(kept).to_string())?;
    let list = node.list_of("parts", 0, MOST, "parts")?;
    let all = list.iter().enumerate().map(|(i, node)| part(node, &format!("parts[{i}]")));
    named_once(all.collect::<Result<Vec<_>, Refusal>>()?, "parts", |part| &part.change.id)
}

fn part(node: &Node, path: &str) -> Result<Part, Refusal> {
    let known = ["id", "label", "slot", "steps", "price", "hours", "note", "since", "replaces"];
    let object = node.object_of_a_car(path, &known)?;
    let change = change(&object, path)?;
    let slot = object.optional("slot").map(|node| node.name(&object.path("slot"))).transpose()?;
    Ok(Part {
        slot: slot.unwrap_or(change.id.clone()),
        change,
        price: object.optional_number_in("price", &MONEY, "")?.unwrap_or(0.0),
        hours: object.optional_number_in("hours", &HOURS, "hours")?.unwrap_or(0.0),
    })
}

impl Part {
    /// One part as a file has it.
    ///
    /// # Errors
    /// As [`parts`]; its place is called `part`.
    pub fn of(value: &Value) -> Result<Self, Refusal> {
        part(&Node::read(&value.to_string())?, "part")
    }
}

impl Change {
    /// A change of its own from steps as JSON, such as a form makes them.
    ///
    /// # Errors
    /// As [`changes`]; `path` is where they stand.
    pub fn of_steps(id: &str, label: &str, steps: &[Value], path: &str) -> Result<Self, Refusal> {
        let steps = steps.iter().enumerate().map(|(i, step)| Step::of(step, &format!("{path}[{i}]")));
        Ok(Self { id: id.to_owned(), label: label.to_owned(), steps: steps.collect::<Result<_, _>>()? })
    }
}

fn node(value: Option<&Value>) -> Result<Option<Node>, Refusal> {
    value.filter(|value| !value.is_null()).map(|value| Node::read(&value.to_string())).transpose()
}

fn change(object: &Object<'_>, path: &str) -> Result<Change, Refusal> {
    let id = object.name("id")?;
    let list = object.required("steps")?.list_of(&object.path("steps"), 1, MOST_STEPS, "steps")?;
    let steps = list.iter().enumerate().map(|(i, node)| Step::read(node, &format!("{path}.steps[{i}]")));
    let label = object.optional("label").map(|node| node.name(&object.path("label"))).transpose()?;
    Ok(Change { label: label.unwrap_or_else(|| id.clone()), id, steps: steps.collect::<Result<_, _>>()? })
}

fn named_once<T>(all: Vec<T>, list: &str, id: impl Fn(&T) -> &String) -> Result<Vec<T>, Refusal> {
    let mut seen = std::collections::BTreeSet::new();
    for one in &all {
        if !seen.insert(id(one)) {
            let message = format!("{list}: the id {} stands twice.", shown(id(one)));
            return Err(Refusal::new(message, "Give each a name of its own."));
        }
    }
    Ok(all)
}
