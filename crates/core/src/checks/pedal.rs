//! A pedal: its ratio, the push at the rod, the pressure in the line and how far the pedal goes for it.
//!
//! Ratio = pivot to pad over pivot to rod; push = foot × ratio; pressure = push over the cylinder's area; pad travel = stroke × ratio.

use crate::bench::{Node, Refusal, text_of};
use crate::car::PedalArms;
use crate::uncertainty::{Propagated, Quantity, propagate};
use serde::Serialize;
use std::f64::consts::PI;
use std::ops::RangeInclusive;

/// From the pivot.
pub const ARM_MM: RangeInclusive<f64> = 10.0..=800.0;
/// Of the foot.
pub const FOOT_N: RangeInclusive<f64> = 10.0..=2_000.0;
/// Of a master cylinder.
pub const BORE_MM: RangeInclusive<f64> = 5.0..=80.0;
/// Of a master cylinder.
pub const STROKE_MM: RangeInclusive<f64> = 1.0..=150.0;
/// An arm by rule between two middles, mm [common practice, no source].
const ARM_U_MM: f64 = 1.0;
/// A firm push where none is given, N [common practice, no source].
const USUAL_FOOT_N: f64 = 300.0;

/// A pedal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pedal {
    /// Pivot to the middle of the pad, mm.
    pub pad_mm: f64,
    /// Pivot to the push rod's pin, mm.
    pub rod_mm: f64,
    /// Push of the foot, N.
    pub foot_n: f64,
    /// Of the master cylinder, mm.
    pub bore_mm: Option<f64>,
    /// The cylinder's stroke in use, mm.
    pub stroke_mm: Option<f64>,
}

/// The answer; u is k = 1.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PedalAnswer {
    /// Pad arm over rod arm.
    pub ratio: f64,
    /// Its standard uncertainty.
    pub ratio_u: f64,
    /// At the rod, N.
    pub push_n: f64,
    /// Its standard uncertainty, with the foot taken as exact.
    pub push_u_n: f64,
    /// In the line, MPa.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pressure_mpa: Option<f64>,
    /// Its standard uncertainty, with foot and bore taken as exact, MPa.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pressure_u_mpa: Option<f64>,
    /// The pad goes that far, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pad_travel_mm: Option<f64>,
    /// Its standard uncertainty, with the stroke taken as exact, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub pad_travel_u_mm: Option<f64>,
}

/// Ratio, push, pressure and travel.
pub fn work_out(pedal: &Pedal) -> PedalAnswer {
    let arms = [Quantity::new(pedal.pad_mm, ARM_U_MM), Quantity::new(pedal.rod_mm, ARM_U_MM)];
    let Propagated { value: ratio, u: ratio_u, .. } = propagate(arms, |[pad, rod]| pad / rod);
    let push_n = pedal.foot_n * ratio;
    let area = |bore: f64| PI * bore * bore / 4.0;
    PedalAnswer {
        ratio,
        ratio_u,
        push_n,
        push_u_n: pedal.foot_n * ratio_u,
        // N over mm² is MPa.
        pressure_mpa: pedal.bore_mm.map(|bore| push_n / area(bore)),
        pressure_u_mpa: pedal.bore_mm.map(|bore| pedal.foot_n * ratio_u / area(bore)),
        pad_travel_mm: pedal.stroke_mm.map(|stroke| stroke * ratio),
        pad_travel_u_mm: pedal.stroke_mm.map(|stroke| stroke * ratio_u),
    }
}

impl Pedal {
    /// What a car's file says of it.
    ///
    /// # Errors
    /// As [`Self::read`].
    pub fn of_car(described: &PedalArms) -> Result<Self, Refusal> {
        Self::read(&text_of(&PedalArms { extra: serde_json::Map::new(), ..described.clone() })?)
    }

    /// From `{"pad_mm", "rod_mm", "foot_n", "bore_mm", "stroke_mm"}`; foot 300 N where it is left out.
    ///
    /// # Errors
    /// Not JSON, an unknown key, a missing one, a number outside of its range, or a rod farther out than the pad.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let node = Node::read(text)?;
        let file = node.object("", &["pad_mm", "rod_mm", "foot_n", "bore_mm", "stroke_mm"])?;
        let pedal = Self {
            pad_mm: file.number_in("pad_mm", &ARM_MM, "mm")?,
            rod_mm: file.number_in("rod_mm", &ARM_MM, "mm")?,
            foot_n: file.optional_number_in("foot_n", &FOOT_N, "N")?.unwrap_or(USUAL_FOOT_N),
            bore_mm: file.optional_number_in("bore_mm", &BORE_MM, "mm")?,
            stroke_mm: file.optional_number_in("stroke_mm", &STROKE_MM, "mm")?,
        };
        if pedal.rod_mm >= pedal.pad_mm {
            let message = format!("rod_mm is {} mm, pad_mm {} mm: a pad lies farther out.", pedal.rod_mm, pedal.pad_mm);
            return Err(Refusal::new(message, "Measure both from the pivot; correct the one that is wrong."));
        }
        Ok(pedal)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn six_to_one_by_hand() {
        let pedal = Pedal { pad_mm: 300.0, rod_mm: 50.0, foot_n: 300.0, bore_mm: Some(25.4), stroke_mm: Some(20.0) };
        let answer = work_out(&pedal);
        assert_eq!((answer.ratio, answer.push_n, answer.pad_travel_mm), (6.0, 1_800.0, Some(120.0)));
        // One inch of bore is 506.71 mm²: 1800/506.71 = 3.552 MPa.
        assert!(answer.pressure_mpa.is_some_and(|mpa| (mpa - 3.5524).abs() < 1e-3));
        // A mm on 300 and on 50: 6·√((1/300)² + (1/50)²) = 0.1217.
        assert!((answer.ratio_u - 0.1217).abs() < 1e-3);
        // The ratio carries it on: 3.5524·0.1217/6 = 0.0721 MPa, 20·0.1217 = 2.43 mm.
        assert!(answer.pressure_u_mpa.is_some_and(|u| (u - 0.0721).abs() < 2e-4));
        assert!(answer.pad_travel_u_mm.is_some_and(|u| (u - 2.433).abs() < 2e-3));
    }
}
