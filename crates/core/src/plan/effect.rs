//! What changes do to a car, as sums: frame and body at both axles, body over frame, wheels, axles, caster, travel.

use super::bend::Bends;
use crate::car::{PointKind, RefPoint};
use crate::uncertainty::Quantity;

/// Nothing, exactly.
pub(super) const NONE: Quantity = Quantity::exact(0.0);

/// One end of the car.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// The front axle's.
    Front,
    /// The rear axle's.
    Rear,
}

impl End {
    /// 0 in front, 1 behind.
    pub const fn index(self) -> usize {
        match self {
            Self::Front => 0,
            Self::Rear => 1,
        }
    }

    /// As it stands in a sentence.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Rear => "rear",
        }
    }
}

/// What a step, or all steps of a plan, do. Up is positive; pairs are front and rear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Effect {
    /// How far the frame, and the body with it, rises at the axles, mm.
    pub frame_mm: [Quantity; 2],
    /// How far the body rises over the frame, mm.
    pub body_over_frame_mm: Quantity,
    /// How far the left side rises, mm for each mm from the middle.
    pub lean: Quantity,
    /// How far the wheel centres rise, mm.
    pub hub_mm: [Quantity; 2],
    /// How far the axle's own parts rise against its wheel centres, mm.
    pub axle_mm: [Quantity; 2],
    /// What the caster gains besides what heights do to it, degrees.
    pub caster_deg: Quantity,
    /// How far the pinion turns up besides what heights do to it, degrees.
    pub pinion_deg: Quantity,
    /// How much room the axles gain below their stops, mm.
    pub travel_mm: [Quantity; 2],
    /// Where the frame is bent; `frame_mm` is what its straight part does.
    pub bends: Bends,
}

impl Effect {
    /// Nothing.
    pub const NONE: Self = Self {
        frame_mm: [NONE; 2],
        body_over_frame_mm: NONE,
        lean: NONE,
        hub_mm: [NONE; 2],
        axle_mm: [NONE; 2],
        caster_deg: NONE,
        pinion_deg: NONE,
        travel_mm: [NONE; 2],
        bends: Bends::NONE,
    };

    /// Frame and body rise at an end; the room below the stop of that axle stays.
    pub(super) fn frame_at(end: End, rise: Quantity) -> Self {
        let mut effect = Self::NONE;
        effect.frame_mm[end.index()] = rise;
        effect
    }

    /// Frame and body rise on the spring of an end, and the axle's room with them.
    pub(super) fn spring_at(end: End, rise: Quantity) -> Self {
        let mut effect = Self::frame_at(end, rise);
        effect.travel_mm[end.index()] = rise;
        effect
    }

    /// Wheel centres of an end rise, and all that stands on them.
    pub(super) fn wheels_at(end: End, rise: Quantity) -> Self {
        let mut effect = Self::frame_at(end, rise);
        effect.hub_mm[end.index()] = rise;
        effect
    }

    /// Both, one after the other; doubts are independent.
    pub fn plus(&self, other: &Self) -> Self {
        let pair = |a: [Quantity; 2], b: [Quantity; 2]| [sum(a[0], b[0]), sum(a[1], b[1])];
        Self {
            frame_mm: pair(self.frame_mm, other.frame_mm),
            body_over_frame_mm: sum(self.body_over_frame_mm, other.body_over_frame_mm),
            lean: sum(self.lean, other.lean),
            hub_mm: pair(self.hub_mm, other.hub_mm),
            axle_mm: pair(self.axle_mm, other.axle_mm),
            caster_deg: sum(self.caster_deg, other.caster_deg),
            pinion_deg: sum(self.pinion_deg, other.pinion_deg),
            travel_mm: pair(self.travel_mm, other.travel_mm),
            bends: self.bends.plus(&other.bends),
        }
    }

    /// Room that the axles gain besides what the frame's own heights say: a notch, a step over the axle, tires that lift both, mm.
    pub fn room_besides(&self) -> [Quantity; 2] {
        [End::Front, End::Rear].map(|end| {
            let at = end.index();
            let frame = self.frame_mm[at].value + self.bends.over_axle_mm(end);
            let over_axle = frame - self.hub_mm[at].value - self.axle_mm[at].value;
            Quantity::new(self.travel_mm[at].value - over_axle, 0.0)
        })
    }

    /// How far a reference point rises: front·(1 − σ) + rear·σ, with the lean, and with what the body does over the frame where the
    /// point is one of the body; σ = −x/wheelbase; beyond a cut of the frame it turns about that. The doubt is that of the steps alone.
    pub fn rise(&self, point: &RefPoint, wheelbase_mm: f64) -> Quantity {
        let back = -point.x_mm / wheelbase_mm;
        let beyond = self.bends.rise_mm(point.x_mm);
        let weighed = [
            (self.frame_mm[0], 1.0 - back),
            (self.frame_mm[1], back),
            (self.lean, point.y_mm),
            (beyond, 1.0),
            (self.body_over_frame_mm, if is_of_the_body(point.kind) { 1.0 } else { 0.0 }),
        ];
        let value = weighed.iter().map(|(part, weight)| part.value * weight).sum();
        let variance: f64 = weighed.iter().map(|(part, weight)| (part.u * weight).powi(2)).sum();
        Quantity::new(value, variance.sqrt())
    }

    /// At the middle of the wheelbase, frame and body, mm.
    pub fn in_the_middle(&self) -> [Quantity; 2] {
        let [front, rear] = self.frame_mm;
        let frame = Quantity::new(f64::midpoint(front.value, rear.value), front.u.hypot(rear.u) / 2.0);
        [frame, sum(frame, self.body_over_frame_mm)]
    }
}

/// Rails and spring perches belong to the frame; everything else rides with the body.
pub fn is_of_the_body(kind: PointKind) -> bool {
    !matches!(kind, PointKind::FrameRail | PointKind::SpringPerch)
}

fn sum(a: Quantity, b: Quantity) -> Quantity {
    Quantity::new(a.value + b.value, a.u.hypot(b.u))
}
