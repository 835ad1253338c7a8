//! The wedge for a wanted caster: a shim under a spring pad, or a cut through a wishbone, a rod or an axle.
//!
//! A shim of length l under the pad turns the axle by atan(thickness/l). A wedge cut out of a tube of depth d with its point at the far wall
//! turns the part behind it by 2·atan(base/(2·d)); of that the axle turns (l − a)/l where a rod of length l is cut at a from the axle.

use crate::bench::{Node, Object, Refusal, text_of};
use crate::car::WantedCaster;
use crate::uncertainty::{Quantity, propagate};
use crate::units::Angle;
use serde::Serialize;
use std::ops::RangeInclusive;

/// Now or wanted.
pub const CASTER_DEG: RangeInclusive<f64> = -15.0..=20.0;
/// Of a spring's seat along the car.
pub const PAD_MM: RangeInclusive<f64> = 20.0..=300.0;
/// Of what is cut.
pub const DEPTH_MM: RangeInclusive<f64> = 10.0..=200.0;
/// From the axle to the ball.
pub const ROD_MM: RangeInclusive<f64> = 100.0..=5_000.0;
/// Nearer to its ball than this part of a rod a cut turns hardly anything.
pub const LAST_CUT: f64 = 0.9;
/// Caster by a gauge on a floor whose slope was taken out, degrees [common practice, no source].
const CASTER_U_DEG: f64 = 0.25;
/// A pad or a tube by rule, mm [common practice, no source].
const READ_U_MM: f64 = 1.0;
/// Wedge shims beyond this let a U-bolt stand askew, degrees [common practice, no source].
const LARGEST_SHIM_DEG: f64 = 6.0;

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wedge {
    /// Caster now, on level ground, degrees.
    pub caster_deg: f64,
    /// Caster wanted, degrees.
    pub wanted_deg: f64,
    /// Where it goes.
    pub at: At,
}

/// Where the wedge goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum At {
    /// Between spring and axle pad of that length, mm; true where the axle hangs below the spring.
    Pad(f64, bool),
    /// Through a tube or bar of that depth, mm; of what the cut turns, the axle gets that part, above 0 to 1.
    Cut(f64, f64),
}

/// The answer.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WedgeAnswer {
    /// More caster, degrees; below 0 less.
    pub turn_deg: f64,
    /// Standard uncertainty of that, degrees.
    pub turn_u_deg: f64,
    /// Thick end of the shim, or base of the cut, mm.
    pub thickness_mm: f64,
    /// Standard uncertainty of that, mm.
    pub thickness_u_mm: f64,
    /// Which end is thick, or on which side the cut opens.
    pub thick_end: &'static str,
    /// What to look at.
    pub cautions: Vec<&'static str>,
}

/// Angle and thickness.
pub fn work_out(wedge: &Wedge) -> WedgeAnswer {
    let turn = wedge.wanted_deg - wedge.caster_deg;
    let size = |length: f64, degrees: f64| match wedge.at {
        At::Pad(..) => length * Angle::deg(degrees.abs()).tan(),
        At::Cut(_, part) => 2.0 * length * Angle::deg(degrees.abs() / part / 2.0).tan(),
    };
    let (length, thick_end) = match (wedge.at, turn > 0.0) {
        (At::Pad(length, true), true) | (At::Pad(length, false), false) => (length, "rear"),
        (At::Pad(length, _), _) => (length, "front"),
        // Closed at the top, the ball stands higher to the axle; held by the frame, it turns the axle's top rearward.
        (At::Cut(depth, _), true) => (depth, "closes at the top"),
        (At::Cut(depth, _), false) => (depth, "closes at the bottom"),
    };
    let inputs = [Quantity::new(length, READ_U_MM), Quantity::new(turn, CASTER_U_DEG)];
    let thickness = propagate(inputs, |[length, turn]| size(length, turn));
    let mut cautions = Vec::new();
    match wedge.at {
        At::Pad(..) => {
            cautions.push("A shim turns the axle and its pinion alike; the U-bolts need torque again after the first drive.");
            if turn.abs() > LARGEST_SHIM_DEG {
                cautions.push("More than 6 degrees of shim set U-bolts askew: a cut or another pad is the better way.");
            }
        }
        At::Cut(..) => cautions.push(
            "Steering work belongs to a qualified person; local codes may require approval. Tack, measure the caster, then weld.",
        ),
    }
    WedgeAnswer {
        turn_deg: turn,
        turn_u_deg: CASTER_U_DEG,
        thickness_mm: thickness.value,
        thickness_u_mm: thickness.u,
        thick_end,
        cautions,
    }
}

impl Wedge {
    /// What a car's file says of it.
    ///
    /// # Errors
    /// As [`Self::read`].
    pub fn of_car(described: &WantedCaster) -> Result<Self, Refusal> {
        Self::read(&text_of(&WantedCaster { extra: serde_json::Map::new(), ..described.clone() })?)
    }

    /// From `{"caster_deg", "wanted_deg", "pad_mm", "axle": "below_spring" or "above_spring"}` or `{"caster_deg", "wanted_deg", "cut_depth_mm", "cut_from_axle_mm", "rod_mm"}`.
    ///
    /// # Errors
    /// Not JSON, an unknown key, a missing one, a number outside of its range, or nothing to turn.
    pub fn read(text: &str) -> Result<Self, Refusal> {
        let node = Node::read(text)?;
        let keys = &["caster_deg", "wanted_deg", "pad_mm", "axle", "cut_depth_mm", "cut_from_axle_mm", "rod_mm"];
        let file = node.object("", keys)?;
        file.at_most_one(&["pad_mm", "cut_depth_mm"])?;
        let pad = file.optional_number_in("pad_mm", &PAD_MM, "mm")?;
        let cut = file.optional_number_in("cut_depth_mm", &DEPTH_MM, "mm")?;
        let below = match file.optional("axle") {
            None => true,
            Some(axle) => axle.one_of("axle", &["below_spring", "above_spring"])? == "below_spring",
        };
        let at = match (pad, cut) {
            (Some(pad), _) => At::Pad(pad, below),
            (None, Some(depth)) => At::Cut(depth, part(&file)?),
            (None, None) => {
                let hint =
                    "Add pad_mm for a shim under the spring, or cut_depth_mm for a cut through a wishbone or an axle.";
                return Err(Refusal::new("The file does not say where the wedge goes.", hint));
            }
        };
        let wedge = Self {
            caster_deg: file.number_in("caster_deg", &CASTER_DEG, "deg")?,
            wanted_deg: file.number_in("wanted_deg", &CASTER_DEG, "deg")?,
            at,
        };
        if wedge.caster_deg == wedge.wanted_deg {
            let message = format!("caster_deg and wanted_deg are both {} deg.", wedge.wanted_deg);
            return Err(Refusal::new(message, "There is nothing to turn; give another wanted_deg."));
        }
        Ok(wedge)
    }
}

/// What the axle gets of a cut's angle: all of it for a cut at the axle, or in the axle.
fn part(file: &Object<'_>) -> Result<f64, Refusal> {
    let from = file.optional_number_in("cut_from_axle_mm", &(0.0..=*ROD_MM.end()), "mm")?;
    let rod = file.optional_number_in("rod_mm", &ROD_MM, "mm")?;
    match (from, rod) {
        (None, _) => Ok(1.0),
        (Some(from), Some(rod)) if from <= LAST_CUT * rod => Ok(1.0 - from / rod),
        (Some(from), Some(rod)) => {
            let message = format!(
                "cut_from_axle_mm is {from} mm on a rod of {rod} mm: so near its ball a cut turns hardly anything."
            );
            Err(Refusal::new(message, "Cut nearer to the axle."))
        }
        (Some(_), None) => {
            Err(Refusal::new("rod_mm is missing at the top of the file.", "Add the length from the axle to the ball."))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn answer(caster_deg: f64, wanted_deg: f64, at: At) -> WedgeAnswer {
        work_out(&Wedge { caster_deg, wanted_deg, at })
    }

    #[test]
    fn a_shim_by_hand() {
        // 3° over a pad of 100 mm: 100·tan 3° = 5.24 mm; ± 0.25° are 0.44 mm.
        let more = answer(4.0, 7.0, At::Pad(100.0, true));
        assert!((more.thickness_mm - 5.2408).abs() < 1e-3 && (more.thickness_u_mm - 0.4406).abs() < 2e-3);
        assert_eq!(more.thick_end, "rear");
        assert_eq!(
            answer(4.0, 7.0, At::Pad(100.0, false)).thick_end,
            "front",
            "an axle over its spring turns about the other face"
        );
        let less = answer(7.0, 4.0, At::Pad(100.0, true));
        assert_eq!((less.turn_deg, less.thick_end), (-3.0, "front"));
        assert_eq!(answer(0.0, 8.0, At::Pad(60.0, true)).cautions.len(), 2);
    }

    #[test]
    fn a_cut_by_hand() {
        // An isosceles wedge of 4° and 50 mm depth: 2·50·tan 2° = 3.492 mm.
        assert!((answer(3.0, 7.0, At::Cut(50.0, 1.0)).thickness_mm - 3.4921).abs() < 1e-3);
        // At a quarter of the rod the axle gets three quarters: the cut has to turn 5.333°, 2·50·tan 2.667°.
        assert!((answer(3.0, 7.0, At::Cut(50.0, 0.75)).thickness_mm - 4.6578).abs() < 1e-3);
    }
}
