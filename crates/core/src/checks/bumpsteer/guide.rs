//! What leads the axle while it rises: a rod, nothing but up and down, a leaf spring, or four bars seen from the side.

use super::four_bar::FourBar;
use crate::car::{AxleGuide, SideLink};
use crate::units::Angle;
use nalgebra::Vector3;

/// What leads the axle.
#[derive(Debug, Clone, PartialEq)]
pub enum Guide {
    /// A radius rod, hairpin or split wishbone fixed to the axle: it turns about the lateral axis through the pivot.
    RadiusRod {
        /// Its end at the frame.
        pivot: Vector3<f64>,
    },
    /// The axle only rises.
    Parallel,
    /// A leaf spring: the axle goes along an arc about the fixed eye without turning.
    Leaf {
        /// The eye that is fixed to the frame.
        eye: Vector3<f64>,
        /// About three quarters of the half between eye and axle, mm [common practice, no source].
        radius_mm: f64,
    },
    /// Two links above each other, both from the frame to the axle.
    FourBar {
        /// The lower link.
        lower: PlaneLink,
        /// The upper link.
        upper: PlaneLink,
    },
}

/// A link seen from the side, `[x, z]`, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlaneLink {
    /// Its end at the frame.
    pub frame: [f64; 2],
    /// Its end at the axle.
    pub axle: [f64; 2],
}

/// How the axle has moved: turned in the side view about a point, then shifted.
#[derive(Debug, Clone, Copy)]
pub(in crate::checks) struct Carried {
    about: [f64; 2],
    /// Positive turns x toward z.
    turn: Angle,
    shift: [f64; 2],
}

impl Carried {
    /// A point of the axle.
    pub(in crate::checks) fn point(&self, p: Vector3<f64>) -> Vector3<f64> {
        let turned = self.direction(Vector3::new(p.x - self.about[0], 0.0, p.z - self.about[1]));
        Vector3::new(self.about[0] + turned.x + self.shift[0], p.y, self.about[1] + turned.z + self.shift[1])
    }

    /// A point of the axle seen from the side, `[x, z]`.
    pub(in crate::checks) fn in_side_view(&self, [x, z]: [f64; 2]) -> [f64; 2] {
        let moved = self.point(Vector3::new(x, 0.0, z));
        [moved.x, moved.z]
    }

    /// How far the axle has turned, degrees; positive raises what lies ahead.
    pub(in crate::checks) fn turn_deg(&self) -> f64 {
        self.turn.to_deg()
    }

    /// A direction fixed to the axle.
    pub(super) fn direction(&self, d: Vector3<f64>) -> Vector3<f64> {
        let (sin, cos) = (self.turn.sin(), self.turn.cos());
        Vector3::new(d.x * cos - d.z * sin, d.y, d.x * sin + d.z * cos)
    }
}

impl Guide {
    /// From a car's own description.
    pub(in crate::checks) fn of(guide: &AxleGuide) -> Self {
        let link = |link: &SideLink| PlaneLink { frame: link.frame, axle: link.axle };
        match guide {
            AxleGuide::RadiusRod { pivot } => Self::RadiusRod { pivot: (*pivot).into() },
            AxleGuide::Parallel => Self::Parallel,
            AxleGuide::Leaf { eye, radius_mm } => Self::Leaf { eye: (*eye).into(), radius_mm: *radius_mm },
            AxleGuide::FourBar { lower, upper } => Self::FourBar { lower: link(lower), upper: link(upper) },
        }
    }

    /// Where the axle is once its hub has risen by the travel; `None` where the guide does not let it.
    pub(in crate::checks) fn carry(&self, hub: Vector3<f64>, travel: f64) -> Option<Carried> {
        let still = Carried { about: [0.0; 2], turn: Angle::rad(0.0), shift: [0.0; 2] };
        match self {
            Self::Parallel => Some(Carried { shift: [0.0, travel], ..still }),
            Self::RadiusRod { pivot } => {
                let (along, up) = (hub.x - pivot.x, hub.z - pivot.z);
                let radius = along.hypot(up);
                let risen = up + travel;
                let rest = radius * radius - risen * risen;
                // Where the rod stands upright the hub is as high as it gets.
                let along_then = (rest >= 0.0).then(|| rest.sqrt().copysign(along))?;
                let turn = Angle::rad(Angle::atan2(risen, along_then).to_rad() - Angle::atan2(up, along).to_rad());
                Some(Carried { about: [pivot.x, pivot.z], turn, ..still })
            }
            Self::Leaf { eye, radius_mm } => {
                let (along, up) = (hub.x - eye.x, hub.z - eye.z);
                let level = |up: f64| {
                    let rest = radius_mm * radius_mm - up * up;
                    (rest >= 0.0).then(|| rest.sqrt().copysign(along))
                };
                Some(Carried { shift: [level(up + travel)? - level(up)?, travel], ..still })
            }
            Self::FourBar { lower, upper } => {
                let bars = FourBar::of(lower, upper);
                let (turn, shift) = bars.risen(lower, [hub.x, hub.z], travel)?;
                Some(Carried { about: lower.axle, turn, shift })
            }
        }
    }
}
