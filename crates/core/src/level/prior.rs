//! What is known before any reading: priors as observations, each with its value, uncertainty and source.
//!
//! The figures are those of the level recipe (`docs/method.md`, "Priors"): common practice, no source, except where a file states its own.

use super::instruments::Zero;
use super::unknowns::{Model, Placement};
use crate::capture::{CarFile, Footprint};
use crate::corner::Corner;
use crate::stance::DoubtSource;
use nalgebra::{Cholesky, DMatrix, Dyn};

/// One prior: a combination of unknowns has a value with a standard uncertainty.
#[derive(Clone, Debug)]
pub(crate) struct Prior {
    pub(crate) row: Vec<(usize, f64)>,
    pub(crate) value: f64,
    pub(crate) u: f64,
    pub(crate) source: DoubtSource,
    /// Id of the instrument whose it is.
    pub(crate) instrument: Option<String>,
    /// True where something was read for it: a check of the instrument.
    pub(crate) read: bool,
}

impl Prior {
    /// One that belongs to no instrument.
    fn of(row: Vec<(usize, f64)>, value: f64, u: f64, source: DoubtSource) -> Self {
        Self { row, value, u, source, instrument: None, read: false }
    }

    /// What the adjustment makes of it.
    pub(crate) fn at(&self, x: &[f64]) -> f64 {
        self.row.iter().map(|&(unknown, slope)| slope * x[unknown]).sum()
    }
}

/// Local bumps of one floor: zero, with a covariance that falls with the distance between them.
#[derive(Clone, Debug)]
pub(crate) struct BumpField {
    pub(crate) unknowns: Vec<usize>,
    pub(crate) weight: DMatrix<f64>,
}

/// All priors of a model.
#[derive(Clone, Debug, Default)]
pub(crate) struct Priors {
    pub(crate) single: Vec<Prior>,
    pub(crate) bumps: Vec<BumpField>,
    /// Places in `single` of the floors' twists, which are held for regularity only.
    pub(crate) twists: Vec<usize>,
    /// Regularity only, so wide that no result leans on them; they count for nothing.
    pub(crate) loose: Vec<Prior>,
    /// What is known of instruments' zeros, where readings name instruments.
    pub(crate) zeros: Vec<Zero>,
}

/// Roll share and lean gain where the car's springs are not known.
pub(crate) const ROLL_SHARE: (f64, f64) = (0.5, 0.15);
/// See [`ROLL_SHARE`].
pub(crate) const LEAN_GAIN: (f64, f64) = (1.09, 0.04);
/// Pitch of the body over the slope of the ground, and its u [common practice, no source].
pub(crate) const PITCH_GAIN: (f64, f64) = (1.012, 0.008);
/// Zero of a tape whose hook nobody looked at.
pub(crate) const TAPE_ZERO_U_MM: f64 = 0.5;
/// Zero of a gauge that was never turned.
pub(crate) const GAUGE_ZERO_U_DEG: f64 = 0.2;
const RAIL_U_DEG: f64 = 0.1;
/// Friction of a bounce over the bounce's repeatability: heave at an axle, and roll in rad a mm.
pub(crate) const HEAVE_OVER_BOUNCE: f64 = 0.95;
/// See [`HEAVE_OVER_BOUNCE`].
pub(crate) const ROLL_RAD_PER_MM: f64 = 0.55e-3;
const SLOPE_U: f64 = 0.03;
const DATUM_U_MM: f64 = 1.0;
const CROWN_U_MM: f64 = 2.0;
/// A local bump of a floor under a mark.
pub(crate) const BUMP_U_MM: f64 = 0.7;
const BUMP_RANGE_MM: f64 = 300.0;
/// Part of a bump's variance that no neighbour shares; keeps two marks a hand apart from being one.
const BUMP_OWN_PART: f64 = 1e-4;
/// A bump under the hub's plumb line.
const HUB_BUMP_U_MM: f64 = 0.5;
/// How well a wheel comes back to its spot, as height.
pub(crate) const PLACEMENT_U_MM: f64 = 0.2;
const LOOSE_TWIST_U_MM: f64 = 1000.0;
/// Wide enough to say nothing.
pub(crate) const LOOSE_U: f64 = 1.0e4;

impl Priors {
    /// The priors of a model; `start` gives the value about which the loose ones lie.
    pub(crate) fn of(file: &CarFile, model: &Model, start: &[f64]) -> Option<Self> {
        let mut priors = Self::default();
        priors.shared(file, model);
        for number in 0..model.floors.len() {
            priors.floor(model, number, start)?;
        }
        let bounce_u_mm = file.instrument.bounce_repeat_u_mm;
        for placement in &model.placements {
            for (corner, &wheel) in Corner::ALL.into_iter().zip(&placement.wheels) {
                priors.single(wheel, 0.0, placement_u_mm(model, placement, corner), DoubtSource::Placement);
            }
            for &[front, rear, roll] in &placement.bounces {
                priors.single(front, 0.0, HEAVE_OVER_BOUNCE * bounce_u_mm, DoubtSource::Bounces);
                priors.single(rear, 0.0, HEAVE_OVER_BOUNCE * bounce_u_mm, DoubtSource::Bounces);
                priors.single(roll, 0.0, ROLL_RAD_PER_MM * bounce_u_mm, DoubtSource::Bounces);
            }
            priors.loose(&placement.planes, start);
        }
        for stance in &model.stances {
            priors.loose(stance.heights.values(), start);
            priors.loose(stance.radius.values(), start);
        }
        priors.loose(model.carried_twist.values(), start);
        Some(priors)
    }

    fn shared(&mut self, file: &CarFile, model: &Model) {
        let shared = &model.shared;
        let stated = |estimate: &Option<crate::car::Estimate>, otherwise: (f64, f64)| {
            estimate.as_ref().map_or(otherwise, |known| (known.value, known.u))
        };
        let (share, share_u) = stated(&file.vehicle.roll_share_front, ROLL_SHARE);
        let (gain, gain_u) = stated(&file.vehicle.lean_gain, LEAN_GAIN);
        self.single(shared.roll_share, share, share_u, DoubtSource::RollShare);
        self.single(shared.lean_gain, gain, gain_u, DoubtSource::LeanGain);
        self.single(shared.pitch_gain, PITCH_GAIN.0, PITCH_GAIN.1, DoubtSource::LeanGain);
        let tape_default = self.single.len();
        self.single(shared.tape_zero, 0.0, TAPE_ZERO_U_MM, DoubtSource::TapeZero);
        self.single(shared.gauge_zero, 0.0, GAUGE_ZERO_U_DEG, DoubtSource::AngleGauge);
        for rail in shared.rail {
            self.single(rail, 0.0, RAIL_U_DEG, DoubtSource::RailStraightness);
        }
        self.instruments(file, model, tape_default);
    }

    fn floor(&mut self, model: &Model, number: usize, start: &[f64]) -> Option<()> {
        let floor = &model.floors[number];
        let [s1, s2, s3, s4] = floor.spots;
        self.twists.push(self.single.len() + 3);
        let Footprint { wheelbase_mm: along, track_front_mm: front, track_rear_mm: rear } = floor.footprint;
        let mut combination = |weights: [f64; 4], u: f64| {
            let row = vec![(s1, weights[0]), (s2, weights[1]), (s3, weights[2]), (s4, weights[3])];
            self.single.push(Prior::of(row, 0.0, u, DoubtSource::Slope));
        };
        let half = 0.5 / along;
        combination([-half, -half, half, half], SLOPE_U);
        combination([0.5 / front, -0.5 / front, 0.5 / rear, -0.5 / rear], SLOPE_U);
        combination([0.25; 4], DATUM_U_MM);
        combination([1.0, -1.0, -1.0, 1.0], LOOSE_TWIST_U_MM);
        self.single(floor.crown, 0.0, CROWN_U_MM, DoubtSource::FloorUnderMark);
        self.single(floor.dish, 0.0, CROWN_U_MM, DoubtSource::FloorUnderMark);
        for &bump in floor.hub_bumps.values() {
            self.single(bump, 0.0, HUB_BUMP_U_MM, DoubtSource::FloorUnderMark);
        }
        self.loose(&floor.planes, start);
        if !floor.bumps.is_empty() {
            let places: Vec<(f64, f64)> = floor.bumps.iter().map(|&(place, _)| place).collect();
            let covariance = DMatrix::from_fn(places.len(), places.len(), |i, j| {
                let (dx, dy) = (places[i].0 - places[j].0, places[i].1 - places[j].1);
                let near = libm::exp(-(dx * dx + dy * dy) / (2.0 * BUMP_RANGE_MM * BUMP_RANGE_MM));
                let own = if i == j { BUMP_OWN_PART } else { 0.0 };
                BUMP_U_MM * BUMP_U_MM * ((1.0 - BUMP_OWN_PART) * near + own)
            });
            let weight = Cholesky::<f64, Dyn>::new(covariance)?.inverse();
            self.bumps.push(BumpField { unknowns: floor.bumps.iter().map(|&(_, unknown)| unknown).collect(), weight });
        }
        Some(())
    }

    fn single(&mut self, unknown: usize, value: f64, u: f64, source: DoubtSource) {
        self.single.push(Prior::of(vec![(unknown, 1.0)], value, u, source));
    }

    fn loose<'a>(&mut self, unknowns: impl IntoIterator<Item = &'a usize>, start: &[f64]) {
        for &unknown in unknowns {
            let source = DoubtSource::Slope;
            self.loose.push(Prior::of(vec![(unknown, 1.0)], start[unknown], LOOSE_U, source));
        }
    }

    /// How many of them count as observations.
    pub(crate) fn counted(&self) -> usize {
        self.single.len() + self.bumps.iter().map(|field| field.unknowns.len()).sum::<usize>()
    }
}

/// A wheel that stands beside its spot meets other bumps than the levelling did: their difference over that distance.
fn placement_u_mm(model: &Model, placement: &Placement, corner: Corner) -> f64 {
    let footprint = &model.floors[placement.floor].footprint;
    let spot = footprint.spot(if placement.turned { 3 - corner.index() } else { corner.index() });
    let place = model.on_floor(placement.floor, model.wheel_place(corner), placement.turned);
    PLACEMENT_U_MM.hypot(beside_u_mm((place.0 - spot.0).hypot(place.1 - spot.1)))
}

/// What standing that far beside a levelled spot adds, mm (standard uncertainty): the difference of two bumps.
pub(crate) fn beside_u_mm(distance_mm: f64) -> f64 {
    let near = libm::exp(-distance_mm * distance_mm / (2.0 * BUMP_RANGE_MM * BUMP_RANGE_MM));
    BUMP_U_MM * (2.0 * (1.0 - near)).sqrt()
}
