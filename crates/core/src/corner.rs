//! The four corners of a car, and a value for each of them.

use serde::{Deserialize, Serialize};
use std::fmt;

/// One corner of the car, in the car's own sense: front or rear, left or right.
///
/// A person may type either order of the letters (`FL` or `LF`); files and replies use `FL FR RL RR`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
pub enum Corner {
    /// Front left.
    #[serde(alias = "LF")]
    FL,
    /// Front right.
    #[serde(alias = "RF")]
    FR,
    /// Rear left.
    #[serde(alias = "LR")]
    RL,
    /// Rear right.
    RR,
}

impl Corner {
    /// All four, in the order of tables and of the floor's spots `S1` to `S4`.
    pub const ALL: [Self; 4] = [Self::FL, Self::FR, Self::RL, Self::RR];

    /// Place in [`Corner::ALL`], 0 to 3.
    pub const fn index(self) -> usize {
        self as usize
    }

    /// True at the front axle.
    pub const fn is_front(self) -> bool {
        matches!(self, Self::FL | Self::FR)
    }

    /// True on the car's left.
    pub const fn is_left(self) -> bool {
        matches!(self, Self::FL | Self::RL)
    }

    /// The two letters used in files.
    pub const fn code(self) -> &'static str {
        match self {
            Self::FL => "FL",
            Self::FR => "FR",
            Self::RL => "RL",
            Self::RR => "RR",
        }
    }

    /// In words: "front left".
    pub const fn words(self) -> &'static str {
        match self {
            Self::FL => "front left",
            Self::FR => "front right",
            Self::RL => "rear left",
            Self::RR => "rear right",
        }
    }

    /// Reads `FL`, `fl`, `LF`; `None` for anything else.
    pub fn from_code(text: &str) -> Option<Self> {
        match text.to_ascii_uppercase().as_str() {
            "FL" | "LF" => Some(Self::FL),
            "FR" | "RF" => Some(Self::FR),
            "RL" | "LR" => Some(Self::RL),
            "RR" => Some(Self::RR),
            _ => None,
        }
    }
}

impl fmt::Display for Corner {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.code())
    }
}

/// One value for each corner. In a file all four are named, or the whole is absent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[expect(non_snake_case, reason = "the corner letters are the trade's and the file's names")]
pub struct Corners<T> {
    /// Front left.
    #[serde(alias = "LF")]
    pub FL: T,
    /// Front right.
    #[serde(alias = "RF")]
    pub FR: T,
    /// Rear left.
    #[serde(alias = "LR")]
    pub RL: T,
    /// Rear right.
    pub RR: T,
}

impl<T> Corners<T> {
    /// Builds the four values from a function of the corner.
    pub fn from_fn(mut value: impl FnMut(Corner) -> T) -> Self {
        Self { FL: value(Corner::FL), FR: value(Corner::FR), RL: value(Corner::RL), RR: value(Corner::RR) }
    }

    /// The value at `corner`.
    pub const fn at(&self, corner: Corner) -> &T {
        match corner {
            Corner::FL => &self.FL,
            Corner::FR => &self.FR,
            Corner::RL => &self.RL,
            Corner::RR => &self.RR,
        }
    }

    /// Corner and value, in the order of [`Corner::ALL`].
    pub fn iter(&self) -> impl Iterator<Item = (Corner, &T)> {
        Corner::ALL.into_iter().map(move |corner| (corner, self.at(corner)))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn either_order_of_the_letters_is_understood() {
        for (text, corner) in [("lf", Corner::FL), ("RF", Corner::FR), ("LR", Corner::RL), ("rr", Corner::RR)] {
            assert_eq!(Corner::from_code(text), Some(corner));
        }
        assert_eq!(Corner::from_code("F"), None);
    }

    #[test]
    fn a_missing_corner_is_refused() {
        let error = serde_json::from_str::<Corners<f64>>(r#"{"FL":1,"FR":2,"RL":3}"#).expect_err("RR is missing");
        assert!(error.to_string().contains("RR"), "{error}");
    }
}
