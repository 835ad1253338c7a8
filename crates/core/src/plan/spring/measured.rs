//! The rate of a pack that was put on the floor and loaded.

use crate::uncertainty::{Quantity, propagate};
use serde::Serialize;

/// Height of the pack under a load: from the line through the eyes to the middle, or any height that comes down with it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PackReading {
    /// N.
    pub load_n: f64,
    /// mm; less at more load.
    pub height_mm: f64,
}

/// A rate with its standard uncertainty (k = 1), N/mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct MeasuredRate {
    /// N/mm.
    pub value: f64,
    /// N/mm.
    pub u: f64,
}

/// One height, tape and what the friction of bounced leaves leaves over, mm [common practice, no source].
const HEIGHT_U_MM: f64 = 2.0;

/// A load from a scale [common practice, no source].
const LOAD_REL_U: f64 = 0.02;

impl MeasuredRate {
    /// Of the straight line through the readings; `None` with fewer than two.
    pub(super) fn of(readings: &[PackReading]) -> Option<Self> {
        if readings.len() < 2 {
            return None;
        }
        let count = readings.len() as f64;
        let mean_load = readings.iter().map(|reading| reading.load_n).sum::<f64>() / count;
        let mean_height = readings.iter().map(|reading| reading.height_mm).sum::<f64>() / count;
        let loads: f64 = readings.iter().map(|reading| (reading.load_n - mean_load).powi(2)).sum();
        let both: f64 =
            readings.iter().map(|reading| (reading.load_n - mean_load) * (mean_height - reading.height_mm)).sum();
        // mm for a N; its inverse is the rate.
        let softness = Quantity::new(both / loads, HEIGHT_U_MM / loads.sqrt());
        let rate = propagate([softness, Quantity::new(1.0, LOAD_REL_U)], |[softness, scale]| scale / softness);
        Some(Self { value: rate.value, u: rate.u })
    }
}
