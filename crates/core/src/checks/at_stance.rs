//! The car at one stance, for the checks: how far body and axles have moved since their points were measured.

use crate::capture::LoadChange;
use crate::car::{Attached, GroundAngles, LowPoint, Vehicle};
use crate::corner::{Corner, Corners};
use crate::ground::OwnGround;
use crate::level::{LEAN_GAIN, ROLL_SHARE};
use crate::plan::{Bends, Effect, PREDICTION_U_MM};
use crate::uncertainty::Quantity;
use std::collections::BTreeMap;

/// A car at a stance. What moved is counted from the stance at which its points and lamps were measured.
#[derive(Clone, Debug)]
pub struct AtStance<'f> {
    /// Its measures, points, lamps and links.
    pub vehicle: &'f Vehicle,
    /// How the body moved.
    pub body: BodyMove,
    /// The same since later snapshots that parts were measured beside, by their names.
    pub since: BTreeMap<String, Since>,
    /// Wheel centre to ground, mm.
    pub loaded_radius: Corners<Quantity>,
    /// How far each axle's wheel centres rose, mm: front, rear.
    pub axle_rise: [Quantity; 2],
    /// What changes of the car did besides; nothing where none are planned.
    pub changed: Changed,
    /// Roll share of the front and lean gain, as the adjustment or the file has them.
    pub roll_share_front: Quantity,
    /// Lean over the cross slope that the body follows.
    pub lean_gain: Quantity,
    /// What is aboard besides the nominal load.
    pub aboard: Vec<LoadChange>,
    /// Ground that the car has to drive over, as its file has it.
    pub ground: Option<GroundAngles>,
    /// Ground that is kept with the car.
    pub grounds: &'f [OwnGround],
    /// Lower edge of the frame rail at the front and the rear marks: ahead of the front axle and above level ground, mm; absent where
    /// it was not measured.
    pub rail: Option<[(f64, Quantity); 2]>,
    /// Rules that were asked for.
    pub rules: Vec<Rule>,
    /// Least clearance that a target asks for, mm.
    pub wanted_clearance_mm: Option<f64>,
}

impl<'f> AtStance<'f> {
    /// As it stood when its points were measured: nothing has moved, and nothing of its floor or its load is known.
    pub fn as_described(vehicle: &'f Vehicle) -> Self {
        Self {
            vehicle,
            body: BodyMove::none(vehicle),
            since: BTreeMap::new(),
            loaded_radius: Corners::from_fn(|corner| unread_radius(vehicle, corner)),
            axle_rise: [Quantity::exact(0.0); 2],
            changed: Changed::NOTHING,
            roll_share_front: Quantity::new(ROLL_SHARE.0, ROLL_SHARE.1),
            lean_gain: Quantity::new(LEAN_GAIN.0, LEAN_GAIN.1),
            aboard: Vec::new(),
            ground: None,
            grounds: &[],
            rail: None,
            rules: Vec::new(),
            wanted_clearance_mm: None,
        }
    }
}

pub(super) const GRAVITY: f64 = 9.806_65;
/// One tire [common practice, no source].
pub(super) const TIRE_RATE_N_PER_MM: f64 = 220.0;
/// A wheel of a car whose tires nobody entered, mm [common practice, no source].
const RADIUS_UNLESS_GIVEN_MM: f64 = 330.0;
/// What its weight presses into a tire, of its radius, where the car was not weighed [common practice, no source].
const PRESSED_UNLESS_WEIGHED: f64 = 0.045;

/// Loaded radius of a wheel whose hub was not read: the free one less what the car's weight presses in.
pub(super) fn unread_radius(vehicle: &Vehicle, corner: Corner) -> Quantity {
    let free = vehicle.tires.as_ref().map_or(RADIUS_UNLESS_GIVEN_MM, |tires| tires.at(corner).free_diameter_mm / 2.0);
    let pressed = vehicle.mass_kg_approx.map_or(PRESSED_UNLESS_WEIGHED * free, |mass| {
        let share = vehicle.front_mass_share.unwrap_or(0.5);
        let share = if corner.is_front() { share } else { 1.0 - share };
        mass * GRAVITY * share / 2.0 / TIRE_RATE_N_PER_MM
    });
    Quantity::new(free - pressed, 0.3 * pressed)
}

/// How a car moved since a snapshot.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Since {
    /// Its body.
    pub body: BodyMove,
    /// Each axle's wheel centres up, mm: front, rear.
    pub axle_rise: [Quantity; 2],
}

/// How a rigid body moved: at two places along the car, and side to side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BodyMove {
    /// Where the front marks are, mm.
    pub front_x_mm: f64,
    /// Where the rear marks are, mm.
    pub rear_x_mm: f64,
    /// Up, mm.
    pub front: Quantity,
    /// Up, mm.
    pub rear: Quantity,
    /// Left side up, mm for each mm from the middle.
    pub lean: Quantity,
}

impl BodyMove {
    /// Not at all.
    pub const fn none(vehicle: &Vehicle) -> Self {
        let none = Quantity::exact(0.0);
        Self { front_x_mm: 0.0, rear_x_mm: -vehicle.wheelbase_mm, front: none, rear: none, lean: none }
    }

    /// How far a place of the body rose, mm.
    pub fn rise(&self, x_mm: f64, y_mm: f64) -> Quantity {
        let back = (self.front_x_mm - x_mm) / (self.front_x_mm - self.rear_x_mm);
        let value = self.front.value * (1.0 - back) + self.rear.value * back + y_mm * self.lean.value;
        let u = (self.front.u * (1.0 - back)).hypot(self.rear.u * back).hypot(y_mm * self.lean.u);
        Quantity::new(value, u)
    }

    /// How much more nose-down it stands, degrees.
    pub fn rake_deg(&self) -> Quantity {
        let run = self.front_x_mm - self.rear_x_mm;
        let degrees = 1.0_f64.to_degrees() / run;
        Quantity::new((self.rear.value - self.front.value) * degrees, self.front.u.hypot(self.rear.u) * degrees)
    }
}

/// What planned changes do to a car besides moving its frame and wheels; up is positive, pairs are front and rear.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Changed {
    /// The body over the frame, mm.
    pub body_over_frame_mm: Quantity,
    /// An axle's own parts against its wheel centres, mm.
    pub axle_mm: [Quantity; 2],
    /// Caster gained, degrees.
    pub caster_deg: Quantity,
    /// Pinion turned up, degrees.
    pub pinion_deg: Quantity,
    /// Room gained between an axle and its stop besides what the frame's heights say, mm.
    pub travel_mm: [Quantity; 2],
    /// Where its frame was bent.
    pub bends: Bends,
}

impl Changed {
    /// Nothing.
    pub const NOTHING: Self = Self {
        body_over_frame_mm: Quantity::exact(0.0),
        axle_mm: [Quantity::exact(0.0); 2],
        caster_deg: Quantity::exact(0.0),
        pinion_deg: Quantity::exact(0.0),
        travel_mm: [Quantity::exact(0.0); 2],
        bends: Bends::NONE,
    };
}

/// Rules that may be asked for by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Rule {
    /// Lamp heights of 49 CFR 571.108, table I-a.
    Fmvss108,
    /// Dipped beam of UN Regulation 48.
    UnR48,
    /// Nothing but wheels below the lowest rim edge.
    RimLine,
    /// Nothing below crossed strings from a rim edge to the bottom of the opposite tire.
    ScrubLine,
}

impl Rule {
    /// Names as they are asked for.
    pub const ALL: [(&'static str, Self); 4] = [
        ("fmvss108", Self::Fmvss108),
        ("un_r48", Self::UnR48),
        ("rim_line", Self::RimLine),
        ("scrub_line", Self::ScrubLine),
    ];
}

/// One height by tape or plumb, with what a point is away from where it is said to be, mm [common practice, no source].
pub(super) const POINT_U_MM: f64 = 2.0;

/// Flange of a rim over its bead seat, mm [common practice, no source].
const FLANGE_MM: f64 = 12.7;

/// Rubber that a flat tire leaves under the flange, mm [common practice, no source].
const FLAT_RUBBER_MM: f64 = 18.0;

impl AtStance<'_> {
    /// How it moved since the snapshot that a part was measured beside; absent: since the first.
    pub fn since(&self, measured_in: Option<&str>) -> Since {
        let later = measured_in.and_then(|name| self.since.get(name));
        later.copied().unwrap_or(Since { body: self.body, axle_rise: self.axle_rise })
    }

    /// Height of a low point above level ground, mm.
    pub fn height_of(&self, point: &LowPoint) -> Quantity {
        self.height_since(point.place_mm(), point.attach, point.measured_in.as_deref())
    }

    /// Height above level ground of a point that was measured beside a snapshot, mm.
    pub fn height_since(&self, [x, y, z]: [f64; 3], attached: Attached, measured_in: Option<&str>) -> Quantity {
        let since = self.since(measured_in);
        let rise = match attached {
            Attached::Body => both(self.frame_rise(&since, [x, y]), self.changed.body_over_frame_mm),
            Attached::Frame => self.frame_rise(&since, [x, y]),
            Attached::FrontAxle => self.axle_parts_rise_since(0, &since),
            Attached::RearAxle => self.axle_parts_rise_since(1, &since),
        };
        Quantity::new(z + rise.value, POINT_U_MM.hypot(rise.u))
    }

    /// How far a place of the frame rose, beyond a cut of it too, mm.
    pub fn frame_rise(&self, since: &Since, [x_mm, y_mm]: [f64; 2]) -> Quantity {
        both(since.body.rise(x_mm, y_mm), self.changed.bends.rise_mm(x_mm))
    }

    /// How much more nose-down a place of the frame stands, degrees.
    pub fn nose_down_deg(&self, since: &Since, x_mm: f64) -> Quantity {
        let (rake, up) = (since.body.rake_deg(), self.changed.bends.nose_up_deg(x_mm));
        Quantity::new(rake.value - up.value, rake.u.hypot(up.u))
    }

    /// The car after changes that do that much; a prediction's own doubt at each end.
    #[must_use]
    pub fn moved_by(mut self, effect: &Effect) -> Self {
        let [front, rear] = effect.frame_mm;
        let by = |at: Quantity, x_mm: f64| {
            let back = -x_mm / self.vehicle.wheelbase_mm;
            let rise = front.value * (1.0 - back) + rear.value * back;
            let u = (front.u * (1.0 - back)).hypot(rear.u * back).hypot(PREDICTION_U_MM);
            Quantity::new(at.value + rise, at.u.hypot(u))
        };
        let carried = |body: BodyMove| BodyMove {
            front: by(body.front, body.front_x_mm),
            rear: by(body.rear, body.rear_x_mm),
            lean: both(body.lean, effect.lean),
            ..body
        };
        let lifted = |rise: [Quantity; 2]| [0, 1].map(|end| both(rise[end], effect.hub_mm[end]));
        self.body = carried(self.body);
        for since in self.since.values_mut() {
            *since = Since { body: carried(since.body), axle_rise: lifted(since.axle_rise) };
        }
        let bent = |x_mm| effect.bends.rise_mm(x_mm);
        self.rail = self.rail.map(|ends| ends.map(|(x_mm, height)| (x_mm, both(by(height, x_mm), bent(x_mm)))));
        let hub = |corner: Corner| effect.hub_mm[usize::from(!corner.is_front())];
        self.loaded_radius = Corners::from_fn(|corner| both(*self.loaded_radius.at(corner), hub(corner)));
        self.axle_rise = lifted(self.axle_rise);
        self.changed = Changed {
            body_over_frame_mm: effect.body_over_frame_mm,
            axle_mm: effect.axle_mm,
            caster_deg: effect.caster_deg,
            pinion_deg: effect.pinion_deg,
            travel_mm: effect.room_besides(),
            bends: effect.bends,
        };
        self
    }

    /// How far an axle's own parts rose, front 0, rear 1, mm: with its wheel centres, and against them where it is another axle.
    pub fn axle_parts_rise(&self, axle: usize) -> Quantity {
        both(self.axle_rise[axle], self.changed.axle_mm[axle])
    }

    /// The same since a snapshot that a part was measured beside.
    pub fn axle_parts_rise_since(&self, axle: usize, since: &Since) -> Quantity {
        both(since.axle_rise[axle], self.changed.axle_mm[axle])
    }

    /// Lowest rim edge of a wheel above the ground, mm; `None` without tires.
    pub fn rim_edge_mm(&self, corner: Corner) -> Option<Quantity> {
        let rim = self.vehicle.tires.as_ref()?.at(corner).rim_diameter_mm;
        let radius = self.loaded_radius.at(corner);
        Some(Quantity::new(radius.value - rim / 2.0 - FLANGE_MM, radius.u))
    }

    /// How far a wheel comes down with its tire flat, mm; `None` without tires.
    pub fn flat_drop_mm(&self, corner: Corner) -> Option<Quantity> {
        self.rim_edge_mm(corner).map(|edge| Quantity::new((edge.value - FLAT_RUBBER_MM).max(0.0), edge.u))
    }
}

fn both(a: Quantity, b: Quantity) -> Quantity {
    Quantity::new(a.value + b.value, a.u.hypot(b.u))
}
