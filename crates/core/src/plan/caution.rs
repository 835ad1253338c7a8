//! What has to be said where the work is.

use serde::Serialize;

/// A caution that belongs to a kind of work.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Caution {
    /// Leaves and coils that are tight.
    SpringsHoldEnergy,
    /// Heat on spring steel.
    NeverHeatSprings,
    /// Cut and welded frames.
    Frame,
    /// Axles and steering arms that are bent, dropped or welded.
    AxleAndSteering,
    /// Parts that nobody has approved.
    NotApproved,
}

impl Caution {
    /// A short headline.
    pub const fn headline(self) -> &'static str {
        match self {
            Self::SpringsHoldEnergy => "Springs hold energy",
            Self::NeverHeatSprings => "No heat on springs",
            Self::Frame => "Structural work",
            Self::AxleAndSteering => "Axle and steering work",
            Self::NotApproved => "A gap is no approval",
        }
    }

    /// What to do, in sentences.
    pub const fn words(self) -> &'static str {
        match self {
            Self::SpringsHoldEnergy => {
                "Clamped leaves hold energy: the centre bolt comes out only with clamps on. A removed leaf raises the stress in the rest."
            }
            Self::NeverHeatSprings => "Do not heat, torch or weld spring steel: it loses its temper and may break.",
            Self::Frame => "Frame work belongs to a qualified person; local codes may require approval.",
            Self::AxleAndSteering => {
                "Axles, rods and steering arms that are dropped, cut or welded belong to a qualified person; local codes may require approval."
            }
            Self::NotApproved => "A gap that clears does not make a wheel, tire or spacer approved.",
        }
    }
}

/// After any change, before driving.
pub const BEFORE_DRIVING: &str = "Before driving: brake lines, steering lock to lock, tire to fender and frame, bump travel. Then alignment and \
                                  lamp aim. This program measures; it does not say that a car is roadworthy.";
