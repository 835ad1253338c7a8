//! How a car stood when a snapshot began: on its wheels or as a mock-up, what was confirmed of its condition, what was aboard.

use super::or_default;
use serde::{Deserialize, Deserializer, Serialize, de};

/// What the car stands on. Heights on a jack are not stored at all.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
#[cfg_attr(feature = "ts", ts(rename_all = "snake_case"))]
pub enum Standing {
    /// On its own wheels: what is read are ride heights.
    #[default]
    OnWheels,
    /// A body or frame on rated stands, before it has wheels: never ride heights.
    MockUp,
}

impl Standing {
    /// Name in files.
    pub const fn code(self) -> &'static str {
        match self {
            Self::OnWheels => "on_wheels",
            Self::MockUp => "mock_up",
        }
    }

    /// True where heights are ride heights.
    pub const fn on_wheels(&self) -> bool {
        matches!(self, Self::OnWheels)
    }
}

impl<'de> Deserialize<'de> for Standing {
    fn deserialize<D: Deserializer<'de>>(from: D) -> Result<Self, D::Error> {
        let code = String::deserialize(from)?;
        [Self::OnWheels, Self::MockUp].into_iter().find(|standing| standing.code() == code).ok_or_else(|| {
            let code = crate::wording::shown(&code);
            de::Error::custom(format!(
                "{code} is no way to stand: on_wheels, or mock_up for a body on rated stands; heights on a jack are not ride heights"
            ))
        })
    }
}

/// A part of a car's condition that can be as last time, or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum ConditionPart {
    /// Where it stands.
    Floor,
    /// Which way round.
    Facing,
    /// The tires on it.
    Tires,
    /// What is aboard.
    Load,
    /// What a gauge showed at each tire.
    Pressures,
}

/// Mass aboard beside the nominal load (or, negative, missing from it).
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub struct LoadChange {
    /// In words.
    #[serde(default, deserialize_with = "or_default")]
    pub label: String,
    /// kg.
    pub mass_kg: f64,
    /// Ahead of the front axle, mm.
    pub x_mm: f64,
    /// Left of the centre plane, mm.
    #[serde(default, deserialize_with = "or_default")]
    pub y_mm: f64,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_jack_is_refused_in_words() {
        assert_eq!(serde_json::from_str::<Standing>("\"mock_up\"").ok(), Some(Standing::MockUp));
        let refused = serde_json::from_str::<Standing>("\"jack\"").expect_err("no ride height").to_string();
        assert!(refused.starts_with("jack is no way to stand") && refused.contains("not ride heights"), "{refused}");
    }
}
