//! One step of a change: its kind, where, and what it says; other keys may stand beside the known ones, the nearest known word is named.

use super::effect::{Effect, End};
use super::given::Given;
use super::kind::{CODES, Car, Kind, Moves, Worked};
use crate::bench::{Node, Refusal};
use crate::uncertainty::Quantity;
use crate::wording::{nearest, shown};
use serde_json::Value;

/// A step of a change.
#[derive(Clone, Debug)]
pub struct Step {
    /// What is done.
    pub kind: &'static Kind,
    /// At which axle; `None` where the kind has none.
    pub end: Option<End>,
    /// What it lifts (+) or lowers (−), in place of the kind's own fields, mm.
    pub amount_mm: Option<f64>,
    /// Standard uncertainty of what it does that the person states, mm.
    pub u_mm: Option<f64>,
    /// The kind's own fields.
    pub given: Given,
    /// What the person calls it.
    pub label: Option<String>,
}

const COMMON: [&str; 5] = ["kind", "end", "amount_mm", "u_mm", "label"];
const ENDS: [&str; 2] = ["front", "rear"];
/// More than any car is lowered by.
const AMOUNT_MM: f64 = 500.0;
const MOST_U_MM: f64 = 100.0;

impl Step {
    /// From JSON; `path` is where it stands.
    ///
    /// # Errors
    /// An unknown kind, with the nearest known one; a field with a slip in its name; a number outside of its range; what is missing.
    pub fn of(value: &Value, path: &str) -> Result<Self, Refusal> {
        let node = Node::read(&value.to_string())?;
        Self::read(&node, path)
    }

    pub(super) fn read(node: &Node, path: &str) -> Result<Self, Refusal> {
        let fields = node.fields(path)?;
        let code = fields.iter().find(|(key, _)| key == "kind").map(|(_, code)| code);
        let Some(code) = code else {
            let hint = format!("Add it: one of {}.", CODES.join(", "));
            return Err(Refusal::new(format!("kind is missing in {path}."), hint));
        };
        let code = code.name(&format!("{path}.kind"))?;
        let Some(kind) = Kind::of(&code) else {
            let hint = match nearest(&code, &CODES) {
                Some(near) => format!("Did you mean {near}? It is one of {}.", CODES.join(", ")),
                None => format!("It is one of {}.", CODES.join(", ")),
            };
            return Err(Refusal::new(format!("{path}.kind is \"{}\".", shown(&code)), hint));
        };
        let known: Vec<&str> = COMMON.into_iter().chain(kind.fields.iter().map(|field| field.key)).collect();
        let object = node.object_of_a_car(path, &known)?;
        let end = match object.optional("end") {
            Some(end) => Some(match end.one_of(&object.path("end"), &ENDS)? {
                "front" => End::Front,
                _ => End::Rear,
            }),
            None if kind.has_end() => {
                let message = format!("end is missing in {path}: {} is at one axle.", kind.words);
                return Err(Refusal::new(message, "Add \"end\": \"front\" or \"rear\"."));
            }
            None => None,
        };
        let amount_mm = object.optional_number_in("amount_mm", &(-AMOUNT_MM..=AMOUNT_MM), "mm")?;
        let step = Self {
            kind,
            end,
            amount_mm,
            u_mm: object.optional_number_in("u_mm", &(0.0..=MOST_U_MM), "mm")?,
            given: Given::read(&object, kind.fields, path)?,
            label: object.optional("label").map(|node| node.name(&object.path("label"))).transpose()?,
        };
        step.checked()
    }

    fn checked(self) -> Result<Self, Refusal> {
        let path = &self.given.path;
        if self.amount_mm.is_some() {
            if let Some(key) = self.given.first_key() {
                let message = format!("amount_mm and {key} are given together in {path}.");
                return Err(Refusal::new(message, "Keep the amount, or what it follows from."));
            }
            if self.kind.moves == Moves::Nothing {
                let message = format!("amount_mm is given in {path}: {} moves nothing.", self.kind.words);
                return Err(Refusal::new(message, "Leave the amount out, or name what moves the car."));
            }
            if self.kind.moves == Moves::Mass && self.end.is_none() {
                let message = format!("amount_mm is given in {path} without an end.");
                return Err(Refusal::new(message, "Add \"end\": \"front\" or \"rear\", or say mass_kg and x_mm."));
            }
        }
        Ok(self)
    }

    /// What it does to a car on which the steps before it have been done.
    pub(super) fn work(&self, car: &Car<'_>) -> Result<Worked, Refusal> {
        let mut worked = match self.amount_mm {
            Some(amount) => {
                let rise = Quantity::exact(amount);
                let end = self.end.unwrap_or(End::Front);
                let effect = match self.kind.moves {
                    Moves::Spring | Moves::Mass => Effect::spring_at(end, rise),
                    Moves::Frame => Effect::frame_at(end, rise),
                    Moves::Wheels => Effect::wheels_at(end, rise),
                    Moves::Body => Effect { body_over_frame_mm: rise, ..Effect::NONE },
                    Moves::Nothing => Effect::NONE,
                };
                Worked::new(effect, "as given")
            }
            None => (self.kind.work)(&self.given, car, self.end)?,
        };
        if let Some(u) = self.u_mm {
            let stated = |part: &mut Quantity| {
                if part.value != 0.0 {
                    part.u = u;
                }
            };
            worked.effect.frame_mm.iter_mut().for_each(stated);
            stated(&mut worked.effect.body_over_frame_mm);
        }
        Ok(worked)
    }

    /// What it is called: the person's words, or its kind and end.
    pub fn words(&self) -> String {
        match (&self.label, self.end) {
            (Some(label), _) => label.clone(),
            (None, Some(end)) if self.kind.has_end() => format!("{}, {}", self.kind.words, end.words()),
            (None, _) => self.kind.words.to_owned(),
        }
    }
}
