//! What the measures of a ground may be.

use std::ops::RangeInclusive;

/// Of a ramp or crest, degrees.
pub const SLOPE_DEG: RangeInclusive<f64> = 0.1..=60.0;
/// Of a ramp, mm.
pub const RISE_MM: RangeInclusive<f64> = 1.0..=20_000.0;
/// Of a hump from foot to foot, mm.
pub const HUMP_LENGTH_MM: RangeInclusive<f64> = 100.0..=50_000.0;
/// Of a hump's crown, mm.
pub const HUMP_HEIGHT_MM: RangeInclusive<f64> = 1.0..=1_000.0;
/// Of the level piece in a hump, mm.
pub const FLAT_MM: RangeInclusive<f64> = 0.0..=50_000.0;
