//! The search among parts for the combinations that reach a target.

use super::plan::PlanForm;
use serde::{Deserialize, Serialize};

/// Asks which parts reach a target.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(deny_unknown_fields)]
pub struct SearchAsk {
    /// The car.
    pub car: String,
    /// The snapshot to set out from; empty: the newest.
    #[serde(default)]
    pub from: String,
    /// The target; empty: the newest.
    #[serde(default)]
    pub target: String,
    /// Leave out what touches.
    #[serde(default)]
    pub no_touch: bool,
    /// Least height of every low point, as typed; empty: none.
    #[serde(default)]
    pub clearance: String,
    /// Caster not below, degrees, as typed; empty: none.
    #[serde(default)]
    pub caster_low: String,
    /// Caster not above.
    #[serde(default)]
    pub caster_high: String,
    /// Travel that an axle may lose, as typed; empty: any.
    #[serde(default)]
    pub travel_lost: String,
    /// Parts fitted at most, as typed; empty: any.
    #[serde(default)]
    pub most_parts: String,
    /// Price at most, as typed; empty: any.
    #[serde(default)]
    pub most_price: String,
    /// How far it goes before it reports: 1 at first, then twice as far each time it is asked again.
    #[serde(default)]
    pub effort: u32,
}

/// What a search found.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SearchView {
    /// "Two of these parts reach it."
    pub headline: String,
    /// The sentence under it.
    pub detail: String,
    /// How far it is, 0 to 1; 1 where it is done.
    pub done: f64,
    /// True where nothing better can be left.
    pub proved: bool,
    /// True where the first answer is within every tolerance.
    pub reaches: bool,
    /// Best first.
    pub answers: Vec<SearchAnswer>,
    /// The nearest without what is to be kept, and what it would break; empty where there is none.
    pub nearest_but: String,
    /// Parts that cannot be fitted to this car, and why.
    pub left_out: Vec<String>,
}

/// One combination of parts.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct SearchAnswer {
    /// "One front leaf out, front tires 20 mm smaller"
    pub label: String,
    /// "2 parts, 340, 5 hours"
    pub detail: String,
    /// Worst |difference|/tolerance.
    pub worst: f64,
    /// "rear right 4 mm higher, 0.7 of its tolerance"
    pub fit: String,
    /// True where it is within every tolerance.
    pub reaches: bool,
    /// What it breaks, sentence by sentence.
    pub breaks: Vec<String>,
    /// The plan that it is.
    pub plan: PlanForm,
}
