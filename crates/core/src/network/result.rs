//! What an adjusted network answers.

use serde::{Serialize, Serializer};

/// An adjusted network.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct AdjustedNetwork {
    /// What the heights are counted from.
    pub datum: Datum,
    /// By point, in the order the file names them.
    #[serde(serialize_with = "by_name")]
    pub elevations: Vec<(String, Elevation)>,
    /// In the order of the file, differences first.
    pub residuals: Vec<ResidualRow>,
    /// Readings and heights fixed with a u, less what they determine.
    pub degrees_of_freedom: usize,
    /// Σ (residual / u)² over readings and heights fixed with a u.
    pub sum_weighted_squares: f64,
    /// The rows whose |standardised| is above 3.29, largest first. They were not left out.
    pub doubtful: Vec<ResidualRow>,
}

/// A height with its standard uncertainty (k = 1, a priori), mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Elevation {
    /// mm.
    pub value: f64,
    /// mm.
    pub u: f64,
}

/// What heights are counted from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Datum {
    /// The given heights.
    Fixed,
    /// The mean of all points is zero.
    MeanZero,
    /// The mean of the datum points is zero.
    DatumPoints,
}

/// One reading after the adjustment.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ResidualRow {
    /// Which reading.
    #[serde(flatten)]
    pub of: ReadingOf,
    /// As read.
    pub observed_mm: f64,
    /// As it should have been.
    pub adjusted_mm: f64,
    /// Adjusted less observed.
    pub residual_mm: f64,
    /// Part of the reading that the others check, 0 to 1.
    pub redundancy: f64,
    /// Residual over its own standard deviation; absent where nothing checks the reading.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub standardised: Option<f64>,
}

/// Which reading a row belongs to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(untagged)]
pub enum ReadingOf {
    /// A height difference.
    Difference {
        /// From this point …
        from: String,
        /// … to this one.
        to: String,
    },
    /// A staff reading.
    Staff {
        /// From this set-up …
        setup: String,
        /// … on this point.
        point: String,
    },
}

impl AdjustedNetwork {
    /// The height of a point.
    pub fn elevation(&self, point: &str) -> Option<Elevation> {
        self.elevations.iter().find(|(name, _)| name == point).map(|(_, elevation)| *elevation)
    }
}

fn by_name<S: Serializer>(elevations: &[(String, Elevation)], out: S) -> Result<S::Ok, S::Error> {
    out.collect_map(elevations.iter().map(|(name, elevation)| (name, elevation)))
}
