//! A levelling network: heights of points from differences and from staff readings of several set-ups.
//!
//! Every set-up has its own level plane of unknown height: elevation = plane − staff. Points may be fixed, exactly or with
//! an uncertainty. Where nothing is fixed, the mean of all points (or of the datum points) stays zero, and the uncertainty
//! is that datum's. Nothing is left out: readings that do not fit are named.
//!
//! ```
//! use trueground_core::network::{Network, adjust};
//! // A loop that closes at +3 mm: each difference gives way by 1 mm.
//! let network = Network::read(r#"{"fixed": {"A": 0}, "differences": [
//!     {"from": "A", "to": "B", "rise_mm": 120, "u_mm": 1},
//!     {"from": "B", "to": "C", "rise_mm": 30, "u_mm": 1},
//!     {"from": "C", "to": "A", "rise_mm": -147, "u_mm": 1}]}"#)?;
//! let adjusted = adjust(&network)?;
//! let b = adjusted.elevation("B").unwrap();
//! assert!((b.value - 119.0).abs() < 1e-9 && (b.u - (2.0_f64 / 3.0).sqrt()).abs() < 1e-12);
//! # Ok::<(), trueground_core::bench::Refusal>(())
//! ```

mod adjust;
mod check;
mod input;
mod result;

pub use adjust::adjust;
pub use result::{AdjustedNetwork, Datum, Elevation, ReadingOf, ResidualRow};

/// Most unknown heights and planes that are adjusted together.
pub const MOST_UNKNOWNS: usize = 2_000;

/// Most readings that are adjusted together.
pub const MOST_READINGS: usize = 50_000;

/// Standard uncertainties that are taken, mm.
pub const U_RANGE_MM: std::ops::RangeInclusive<f64> = 0.001..=10_000.0;

/// Largest value that is taken, mm: 100 km.
pub const LARGEST_MM: f64 = 1e8;

/// A network as it was measured.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Network {
    /// Points whose height is given.
    pub fixed: Vec<FixedPoint>,
    /// Where nothing is fixed: the points whose mean stays zero; empty for all.
    pub datum_points: Vec<String>,
    /// Height differences.
    pub differences: Vec<Difference>,
    /// Staff readings, by set-up.
    pub setups: Vec<Setup>,
}

/// A point whose height is given.
#[derive(Debug, Clone, PartialEq)]
pub struct FixedPoint {
    /// Its name.
    pub point: String,
    /// Its height, mm.
    pub value_mm: f64,
    /// Standard uncertainty, mm; none where it is held exactly.
    pub u_mm: Option<f64>,
}

/// A height difference, `to` less `from`.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference {
    /// From this point …
    pub from: String,
    /// … to this one.
    pub to: String,
    /// Positive where `to` is higher, mm.
    pub rise_mm: f64,
    /// Standard uncertainty, mm.
    pub u_mm: f64,
}

/// One set-up of a level: a level plane of unknown height.
#[derive(Debug, Clone, PartialEq)]
pub struct Setup {
    /// Its name.
    pub id: String,
    /// What was read from it.
    pub readings: Vec<Staff>,
}

/// From the level plane down to a point: larger is lower.
#[derive(Debug, Clone, PartialEq)]
pub struct Staff {
    /// Where the staff stood.
    pub point: String,
    /// The reading, mm; negative with the staff upside down on a point above the plane.
    pub staff_mm: f64,
    /// Standard uncertainty, mm.
    pub u_mm: f64,
}
