//! What a check finds: one number, what limits it, and a sentence.

use crate::uncertainty::Quantity;
use serde::Serialize;

/// One finding.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Finding {
    /// The check it comes from.
    pub check: &'static str,
    /// What was looked at: a point, a lamp, an angle.
    pub what: String,
    /// In `unit`.
    pub value: f64,
    /// Standard uncertainty (k = 1), in `unit`.
    pub u: f64,
    /// Of value, u and limit: `mm`, `deg`, `percent`, `rpm`.
    pub unit: &'static str,
    /// What it is held against, in `unit`; absent where only the number is told.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub limit: Option<f64>,
    /// Where the limit comes from, or where its number does.
    pub source: String,
    /// Absent where there is no limit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub verdict: Option<Verdict>,
    /// For the person.
    pub sentence: String,
}

/// One word for a finding.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Verdict {
    /// Nothing touches.
    Clears,
    /// Something does.
    Touches,
    /// Inside what a rule or a custom says.
    Within,
    /// Outside of it.
    Outside,
    /// Nearer to the limit than its doubt.
    #[serde(rename = "can't_tell")]
    CantTell,
}

impl Verdict {
    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Clears => "clears",
            Self::Touches => "touches",
            Self::Within => "within",
            Self::Outside => "outside",
            Self::CantTell => "can't tell",
        }
    }

    /// True where it touches or lies outside, false where it clears or lies within; `None` where that cannot be told.
    pub const fn touches(self) -> Option<bool> {
        match self {
            Self::Touches | Self::Outside => Some(true),
            Self::Clears | Self::Within => Some(false),
            Self::CantTell => None,
        }
    }

    /// A gap that must stay above a limit.
    pub fn clearing(gap: Quantity, limit: f64) -> Self {
        Self::above(gap, limit, Self::Clears, Self::Touches)
    }

    /// A number that must stay above a limit; how far on which side decides, 2u beyond it.
    pub fn above(value: Quantity, limit: f64, above: Self, below: Self) -> Self {
        match value.value - limit {
            beyond if beyond > 2.0 * value.u => above,
            beyond if beyond < -2.0 * value.u => below,
            // Exactly known and exactly on the limit is not past it.
            beyond if value.u == 0.0 && beyond >= 0.0 => above,
            _ => Self::CantTell,
        }
    }

    /// A number that must stay below a limit.
    pub fn below(value: Quantity, limit: f64, below: Self, above: Self) -> Self {
        Self::above(Quantity::new(-value.value, value.u), -limit, below, above)
    }
}

/// A length in words: whole millimetres, never −0.
pub(super) fn mm(value: f64) -> String {
    format!("{:.0} mm", value.round() + 0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nearer_to_the_limit_than_its_doubt_cannot_be_told() {
        let clearing = |value, u| Verdict::clearing(Quantity::new(value, u), 100.0);
        assert_eq!(clearing(106.1, 3.0), Verdict::Clears);
        assert_eq!(clearing(106.0, 3.0), Verdict::CantTell);
        assert_eq!(clearing(93.9, 3.0), Verdict::Touches);
        assert_eq!((clearing(100.0, 0.0), clearing(99.999, 0.0)), (Verdict::Clears, Verdict::Touches));
        let below = |value| Verdict::below(Quantity::new(value, 0.0), 3.0, Verdict::Within, Verdict::Outside);
        assert_eq!((below(3.0), below(3.1)), (Verdict::Within, Verdict::Outside));
    }
}
