//! What can be said of a settling: the figures, the word for it, and what is lacking where there is none.

use super::law::Law;
use super::timeline::Clock;
use serde::Serialize;
use std::collections::BTreeMap;

/// Which law is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Model {
    /// This one.
    Law(Law),
    /// The one with the lower AICc; a tie goes to the exponential.
    Best,
}

/// A number with its standard uncertainty (k = 1).
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SettleFigure {
    /// mm, or days or kilometres for a rate.
    pub value: f64,
    /// In the same unit.
    pub u: f64,
}

/// Parameters by name.
pub type ParameterMap = BTreeMap<&'static str, SettleFigure>;

/// Whether it has settled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Settled {
    /// By its law less than 2 mm is to come, and hardly more than 3 in the time that it is held against.
    Settled,
    /// More is.
    Settling,
    /// The days do not tell yet.
    TooEarly,
}

/// The law that was not chosen.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Other {
    /// Which.
    pub model: Law,
    /// Its AICc less the chosen one's.
    pub delta_aicc: f64,
}

/// What comes in the time that a builder plans by.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Ahead {
    /// Its last day, days since the settling began.
    pub until_day: f64,
    /// From the last reading to that day, positive downwards, mm.
    pub to_come_mm: SettleFigure,
}

/// A height that does not fit.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct DoubtfulHeight {
    /// Days since the settling began.
    pub day: f64,
    /// As given.
    pub height_mm: f64,
    /// (law − height)/(u·√r).
    pub standardised_residual: f64,
    /// False where it was left out.
    pub used: bool,
}

/// The curve at one day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct BandPoint {
    /// Days since the settling began.
    pub day: f64,
    /// The law's height there, mm.
    pub height_mm: f64,
    /// Standard uncertainty of the law there, without a reading's noise, mm.
    pub u_mm: f64,
}

/// Why it is too early to say.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum TooEarly {
    /// Fewer days of reading than a law needs: five, and one more for each step; seven for both laws together.
    FewDays,
    /// The stretch is shorter than twice the law's own time, or than a quarter of a logarithm's year.
    ShortStretch,
    /// The height at rest is less sure than 5 mm (k = 1).
    UnsureRest,
}

/// How a height settles.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Settling {
    /// The law; absent with fewer than five days.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub model: Option<Law>,
    /// By what the law counts.
    pub clock: Clock,
    /// By name; empty with fewer than five days.
    pub parameters: ParameterMap,
    /// Σ (residual/u)².
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sum_weighted_squares: Option<f64>,
    /// The height it comes to rest at.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub final_height_mm: Option<SettleFigure>,
    /// The day that is called final, where the curve has no end of its own: with a logarithm, or with creep behind it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub horizon_day: Option<f64>,
    /// The law at the last reading less the final height: what is still to come, positive downwards.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub remaining_mm: Option<SettleFigure>,
    /// Of springs that may creep on behind an exponential: what comes in the two months after the last reading. Settled is held against it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ahead: Option<Ahead>,
    /// Day on which less than 2 mm was left, a place on the law without creep; it may lie ahead.
    pub settled_on_day: Option<f64>,
    /// In one word.
    pub verdict: Settled,
    /// What is lacking, where it is too early to say.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub lacking: Vec<TooEarly>,
    /// How many days of reading a law needs, where there are too few.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub days_needed: Option<usize>,
    /// The law that was not chosen, where both could be fitted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub other: Option<Other>,
    /// The law from the first reading to the last, and on as far as it is worth drawing.
    pub band: Vec<BandPoint>,
    /// Heights off the law by more than 3.29 of their standard deviations, largest first.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub doubtful: Vec<DoubtfulHeight>,
}

impl Settling {
    /// An end by itself is not called settled where the answer that counts is not.
    pub(super) fn no_surer_than(self, counts: Option<&Self>) -> Self {
        match counts {
            Some(counts) if self.verdict == Settled::Settled => {
                Self { verdict: counts.verdict, lacking: counts.lacking.clone(), ..self }
            }
            _ => self,
        }
    }

    /// Too few days of reading: so many are needed.
    pub(super) fn too_few(clock: Clock, days_needed: usize) -> Self {
        Self {
            model: None,
            clock,
            parameters: ParameterMap::new(),
            sum_weighted_squares: None,
            final_height_mm: None,
            horizon_day: None,
            remaining_mm: None,
            ahead: None,
            settled_on_day: None,
            verdict: Settled::TooEarly,
            lacking: vec![TooEarly::FewDays],
            days_needed: Some(days_needed),
            other: None,
            band: Vec::new(),
            doubtful: Vec::new(),
        }
    }
}
