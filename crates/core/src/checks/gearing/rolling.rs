//! What a tire rolls on: from a rolled turn, a measured radius, or the marking.

use crate::tire::{Basis, TireDimensions, TireFigure};
use std::f64::consts::PI;

/// How the rolling diameter is known.
#[derive(Debug, Clone, PartialEq)]
pub enum RollingTire {
    /// The diameter of a hard wheel that rolls as far, mm; taken as exact.
    Diameter(f64),
    /// The way of one turn of the loaded wheel, chalked on the floor, mm.
    OneTurn(f64),
    /// Turns in one kilometre, as makers of tires print them.
    TurnsPerKm(f64),
    /// From a marking, or from what was measured.
    Tire(Box<TireDimensions>),
}

/// One turn between two chalk marks, mm [common practice, no source].
const ONE_TURN_U_MM: f64 = 5.0;

/// Printed turns against the road: pressure, load and wear [common practice, no source].
const PRINTED_REL_U: f64 = 0.01;

impl RollingTire {
    /// mm.
    pub fn rolling_diameter_mm(&self) -> TireFigure {
        match self {
            Self::Diameter(value) => TireFigure { value: *value, u: 0.0, basis: Basis::Measured },
            Self::OneTurn(way) => TireFigure { value: way / PI, u: ONE_TURN_U_MM / PI, basis: Basis::Measured },
            Self::TurnsPerKm(turns) => {
                let value = 1e6 / (PI * turns);
                TireFigure { value, u: PRINTED_REL_U * value, basis: Basis::Formula }
            }
            Self::Tire(tire) => {
                let turns = tire.revs_per_km;
                let value = 1e6 / (PI * turns.value);
                TireFigure { value, u: value * turns.u / turns.value, basis: turns.basis }
            }
        }
    }

    /// Across the tire without load, mm, where it is known.
    pub fn free_diameter_mm(&self) -> Option<TireFigure> {
        match self {
            Self::Tire(tire) => Some(tire.diameter_mm),
            _ => None,
        }
    }
}
