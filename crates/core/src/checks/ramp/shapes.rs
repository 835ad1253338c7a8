//! Ground that is met everywhere, from its few measures: a ramp or apron, a crest, a speed hump.

use super::Ground;
use crate::units::Angle;
use serde::{Deserialize, Serialize};
use std::f64::consts::PI;

/// A piece of ground by its measures.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export, rename = "GroundShape"))]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Shape {
    /// Level, up at an angle, level again: an apron, or the ramp of a trailer.
    Ramp {
        /// Degrees, above 0.
        angle_deg: f64,
        /// mm, above 0.
        rise_mm: f64,
    },
    /// Up at an angle, then level: the edge at the top of a long ramp.
    Crest {
        /// Degrees, above 0.
        angle_deg: f64,
    },
    /// A hump on level ground.
    Hump {
        /// From foot to foot without the flat, mm.
        length_mm: f64,
        /// mm.
        height_mm: f64,
        /// Level piece let into its middle, mm.
        #[serde(default)]
        flat_mm: f64,
        /// How it rises.
        #[serde(default)]
        shape: HumpShape,
    },
}

/// How a hump rises.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum HumpShape {
    /// An arc through both feet and the crown.
    #[default]
    Circular,
    /// 4·H·x·(l − x)/l².
    Parabolic,
    /// H·(1 − cos(2πx/l))/2.
    Sinusoidal,
}

/// Straight pieces a half of a hump is drawn with.
const PIECES: u32 = 120;

impl Shape {
    /// Its corners, with `lead_mm` of ground before and behind.
    pub fn ground(&self, lead_mm: f64) -> Ground {
        match *self {
            Self::Ramp { angle_deg, rise_mm } => {
                let run = rise_mm / Angle::deg(angle_deg).tan();
                Ground::new([[0.0, 0.0], [lead_mm, 0.0], [lead_mm + run, rise_mm], [2.0 * lead_mm + run, rise_mm]])
            }
            Self::Crest { angle_deg } => {
                let rise = lead_mm * Angle::deg(angle_deg).sin();
                let run = lead_mm * Angle::deg(angle_deg).cos();
                Ground::new([[0.0, 0.0], [run, rise], [run + lead_mm, rise]])
            }
            Self::Hump { length_mm, height_mm, flat_mm, shape } => {
                let half = length_mm / 2.0;
                let rising = (0..=PIECES).map(|i| half * f64::from(i) / f64::from(PIECES));
                let up: Vec<[f64; 2]> = rising.map(|x| [x, shape.height(x, length_mm, height_mm)]).collect();
                let down = up.iter().rev().map(|[x, z]| [length_mm + flat_mm - x, *z]);
                // Without a flat the crown stands once.
                let down = down.skip(usize::from(flat_mm == 0.0));
                let hump = up.iter().copied().chain(down).map(|[x, z]| [lead_mm + x, z]);
                let end = 2.0 * lead_mm + length_mm + flat_mm;
                Ground::new([[0.0, 0.0]].into_iter().chain(hump).chain([[end, 0.0]]))
            }
        }
    }
}

impl HumpShape {
    /// Height `x` mm behind its foot; length and height above 0, mm.
    pub fn height(self, x: f64, length: f64, height: f64) -> f64 {
        match self {
            Self::Circular => {
                let half = length / 2.0;
                let radius = (half * half + height * height) / (2.0 * height);
                (radius * radius - (x - half).powi(2)).sqrt() - (radius - height)
            }
            Self::Parabolic => 4.0 * height * x * (length - x) / (length * length),
            Self::Sinusoidal => height * (1.0 - Angle::rad(2.0 * PI * x / length).cos()) / 2.0,
        }
    }
}
