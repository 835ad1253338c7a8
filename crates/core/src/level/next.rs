//! What to measure next: of the readings a person could still take, what each would do to one result.
//!
//! A reading not yet taken has a row but no value, and a row is all that a covariance needs. New unknowns (a pass's plane, a
//! bounce's friction, a wheel put down again) enter through their priors, so
//! u²_then = u² − b·(B·Q·Bᵀ + R)⁻¹·bᵀ with b = g·Q·Bᵀ and R the noise of the new readings with those priors.

use super::adjust::Adjusted;
use super::collect::RULE_DIVISION_MM;
use super::instruments::With;
use super::observe::{Observation, Sight, equation};
use super::prior;
use super::system::Product;
use super::unknowns::{Model, Placement};
use super::wanted::Wanted;
use crate::capture::{CarFile, GAUGE_U_DEG, with_rounding_mm};
use crate::stance::NextReading;
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};
use std::collections::BTreeMap;

/// Rounds that anybody would read in one more bounce.
const MOST_ROUNDS: usize = 3;
/// Block of an unknown that is not there yet: it is never looked up, since the solved system ends before it.
const NEW: usize = usize::MAX;

/// Readings to be taken together, with the priors of the unknowns that they bring along.
struct Candidate {
    what: String,
    /// Row over old and new unknowns, and the standard uncertainty of the reading.
    rows: Vec<(Vec<(usize, f64)>, f64)>,
    /// Standard uncertainty of each new unknown, by its number.
    new: BTreeMap<usize, f64>,
}

/// What every useful reading would do to `target`, most useful first; those that would not help stand last.
pub(crate) fn next_readings(
    file: &CarFile,
    model: &Model,
    adjusted: &Adjusted,
    observations: &[Observation],
    snapshot: usize,
    read: &[usize],
    target: &Wanted,
) -> Vec<NextReading> {
    let u_now = adjusted.solved.variance(&target.jet.slopes).max(0.0).sqrt();
    let told = |u: f64| (u <= target.limit).then_some(u);
    let mut next: Vec<(f64, NextReading)> = candidates(file, model, adjusted, observations, snapshot, read, target)
        .into_iter()
        .filter_map(|candidate| {
            let u_then = u_then(adjusted, &target.jet.slopes, u_now, &candidate)?;
            let reading = NextReading {
                what: candidate.what,
                target: target.path.clone(),
                u_now: told(u_now),
                u_then: told(u_then),
            };
            Some((u_then, reading))
        })
        .collect();
    next.sort_by(|a, b| a.0.total_cmp(&b.0));
    next.into_iter().map(|(_, reading)| reading).collect()
}

fn u_then(adjusted: &Adjusted, target: &[(usize, f64)], u_now: f64, candidate: &Candidate) -> Option<f64> {
    let known = adjusted.x.len();
    let old: Vec<Vec<(usize, f64)>> = candidate
        .rows
        .iter()
        .map(|(row, _)| row.iter().copied().filter(|&(unknown, _)| unknown < known).collect())
        .collect();
    let count = old.len();
    let products: Vec<Product<'_>> = old.iter().map(|row| adjusted.solved.product(row).worked_out()).collect();
    let spread = DMatrix::from_fn(count, count, |i, j| {
        let mut sum = products[j].along(&old[i]);
        let (row_i, u_i) = &candidate.rows[i];
        for &(unknown, slope) in row_i.iter().filter(|(unknown, _)| *unknown >= known) {
            let other: f64 = candidate.rows[j].0.iter().filter(|entry| entry.0 == unknown).map(|entry| entry.1).sum();
            sum += slope * other * candidate.new.get(&unknown).copied().unwrap_or(0.0).powi(2);
        }
        if i == j { sum + u_i * u_i } else { sum }
    });
    let reach = DVector::from_fn(count, |j, _| products[j].along(target));
    let gain = Cholesky::<f64, Dyn>::new(spread)?.solve(&reach).dot(&reach);
    Some((u_now * u_now - gain).max(0.0).sqrt())
}

/// One snapshot's part of the model, with room for what is not there yet. Its placement, stance and floor have number 0;
/// unknowns keep their numbers.
struct Extended {
    model: Model,
    x: Vec<f64>,
    new: BTreeMap<usize, f64>,
}

/// The snapshot's own tape and gauge, which the next reading will be taken with.
struct InHand {
    tape: usize,
    gauge: usize,
    /// Length of a reading by point, mm.
    lengths: BTreeMap<usize, f64>,
}

impl InHand {
    fn of(file: &CarFile, model: &Model, observations: &[Observation], snapshot: usize) -> Self {
        let taken = &file.snapshots[snapshot];
        let tape = model.tape_of(taken, None);
        let lengths = observations
            .iter()
            .filter_map(|observation| match (observation.sight, observation.with) {
                (Sight::Tape { point, .. }, With::Tape { tape, .. }) => {
                    Some((point, observation.observed - model.tapes[tape].from_mm))
                }
                _ => None,
            })
            .collect();
        Self { tape, gauge: model.gauge_of(taken.gauge.as_deref()), lengths }
    }

    fn with(&self, model: &Model, sight: Sight) -> With {
        match sight {
            Sight::Tape { point, .. } => {
                model.with_tape(self.tape, self.lengths.get(&point).copied().unwrap_or_default())
            }
            Sight::Rail { .. } => With::Gauge(self.gauge),
            _ => With::Nothing,
        }
    }
}

impl Extended {
    fn of(model: &Model, x: &[f64], snapshot: usize) -> Self {
        let placement = &model.placements[snapshot];
        let model = Model {
            placements: vec![Placement { stance: 0, floor: 0, ..placement.clone() }],
            stances: vec![model.stances[placement.stance].clone()],
            floors: vec![model.floors[placement.floor].clone()],
            points: model.points.clone(),
            unknowns: model.unknowns.clone(),
            tapes: model.tapes.clone(),
            gauges: model.gauges.clone(),
            carried_twist: BTreeMap::new(),
            ..*model
        };
        Self { model, x: x.to_vec(), new: BTreeMap::new() }
    }

    /// Gives every unknown added since `from` its prior.
    fn adopt(&mut self, from: usize, u: f64) {
        for unknown in from..self.model.unknowns.len() {
            self.new.insert(unknown, u);
        }
        self.x.resize(self.model.unknowns.len(), 0.0);
    }

    fn candidate(self, what: impl Into<String>, sights: Vec<(Sight, f64)>, hand: &InHand) -> Candidate {
        let footings = self.model.footings(&self.x);
        let row =
            |sight| equation(&self.model, &footings, sight, hand.with(&self.model, sight), &self.x).merged().slopes;
        let rows = sights.into_iter().map(|(sight, u)| (row(sight), u)).collect();
        Candidate { what: what.into(), rows, new: self.new }
    }

    fn new_plane(&mut self) -> usize {
        self.model.unknowns.block.push(NEW);
        let plane = self.model.unknowns.len() - 1;
        self.adopt(plane, prior::LOOSE_U);
        plane
    }

    fn new_bounce(&mut self, placement: usize, bounce_u_mm: f64) -> usize {
        let from = self.model.unknowns.len();
        self.model.unknowns.block.extend([NEW; 3]);
        self.adopt(from, prior::HEAVE_OVER_BOUNCE * bounce_u_mm);
        self.new.insert(from + 2, prior::ROLL_RAD_PER_MM * bounce_u_mm);
        self.model.placements[placement].bounces.push([from, from + 1, from + 2]);
        self.model.placements[placement].bounces.len() - 1
    }
}

fn candidates(
    file: &CarFile,
    model: &Model,
    adjusted: &Adjusted,
    observations: &[Observation],
    snapshot: usize,
    read: &[usize],
    target: &Wanted,
) -> Vec<Candidate> {
    let placement = &model.placements[snapshot];
    let floor = placement.floor;
    let hand = InHand::of(file, model, observations, snapshot);
    let tape_u = model.tapes[hand.tape].reading_u_mm;
    let bounce_u = file.instrument.bounce_repeat_u_mm;
    let survey = file.floors.get(floor).and_then(|f| f.survey.as_ref());
    let staff_u = with_rounding_mm(survey.map_or(1.0, |s| s.staff_u_mm), RULE_DIVISION_MM);
    let extended = || Extended::of(model, &adjusted.x, snapshot);
    let on_spots = |plane: usize| {
        (0..4).map(move |spot| (Sight::StaffOnSpot { floor: 0, plane, spot }, staff_u)).collect::<Vec<_>>()
    };
    let has = |test: &dyn Fn(&Sight) -> bool| observations.iter().any(|observation| test(&observation.sight));
    let mut all = Vec::new();

    let levelled = has(&|sight| matches!(sight, Sight::StaffOnSpot { floor: f, .. } if *f == floor));
    let mut more = extended();
    let mut sights = on_spots(more.new_plane());
    if levelled {
        all.push(more.candidate("survey_pass", sights, &hand));
    } else {
        sights.extend(on_spots(more.new_plane()));
        all.push(more.candidate("survey_spots", sights, &hand));
    }

    // The floor is levelled under the marks with the car away or in place as first: the four spots tie the pass.
    if !placement.turned {
        let mut more = extended();
        let plane = more.new_plane();
        let mut sights = on_spots(plane);
        for &point in read {
            sights.push((Sight::StaffUnder { floor: 0, plane, point }, staff_u));
        }
        all.push(more.candidate("survey_under", sights, &hand));
    }

    if !placement.bounces.is_empty() {
        let mut more = extended();
        let bounce = more.new_bounce(0, bounce_u);
        let rounds =
            (tape_readings(observations, snapshot) / placement.bounces.len() / read.len().max(1)).clamp(1, MOST_ROUNDS);
        let sights = std::iter::repeat_n(read, rounds)
            .flatten()
            .map(|&point| (Sight::Tape { snapshot: 0, bounce, point }, tape_u))
            .collect();
        all.push(more.candidate("another_bounce", sights, &hand));

        let bounce = placement.bounces.len() - 1;
        if let Some(point) = target.path.strip_prefix("heights.").and_then(|id| model.point(id)) {
            let taken = has(&|sight| *sight == Sight::Tape { snapshot, bounce, point });
            if taken {
                let what = format!("repeat:{}", model.points[point].id);
                let again = vec![(Sight::Tape { snapshot: 0, bounce, point }, tape_u)];
                all.push(extended().candidate(what, again, &hand));
            }
        }
        let mut more = extended();
        let plane = more.new_plane();
        let sights =
            read.iter().map(|&point| (Sight::StaffOnCar { snapshot: 0, bounce, plane, point }, staff_u)).collect();
        all.push(more.candidate("plane_on_car", sights, &hand));
        all.extend(rails(model, adjusted, observations, snapshot, &hand));
    }
    all.push(turned(extended(), read, bounce_u, &hand));
    all
}

fn tape_readings(observations: &[Observation], snapshot: usize) -> usize {
    observations
        .iter()
        .filter(|observation| matches!(observation.sight, Sight::Tape { snapshot: s, .. } if s == snapshot))
        .count()
}

/// Angle gauge on both rails, straight and reversed, if the rails are points of this stance.
fn rails(
    model: &Model,
    adjusted: &Adjusted,
    observations: &[Observation],
    snapshot: usize,
    hand: &InHand,
) -> Option<Candidate> {
    let placement = &model.placements[snapshot];
    let gauged = observations.iter().any(|o| matches!(o.sight, Sight::Rail { snapshot: s, .. } if s == snapshot));
    let marked = model.points_of(crate::car::PointKind::FrameRail, placement.stance).iter().all(Option::is_some);
    if gauged || !marked {
        return None;
    }
    let bounce = placement.bounces.len().checked_sub(1)?;
    let gauge_u = model.gauge_u_deg(hand.gauge, GAUGE_U_DEG);
    let sights = [(true, false), (true, true), (false, false), (false, true)]
        .into_iter()
        .map(|(left, reversed)| (Sight::Rail { snapshot: 0, bounce, left, reversed }, gauge_u))
        .collect();
    Some(Extended::of(model, &adjusted.x, snapshot).candidate("level_rails", sights, hand))
}

/// The car turned end for end on the same spots, bounced once, each point read once.
fn turned(mut more: Extended, read: &[usize], bounce_u: f64, hand: &InHand) -> Candidate {
    let tape_u = more.model.tapes[hand.tape].reading_u_mm;
    let from = more.model.unknowns.len();
    more.model.unknowns.block.extend([NEW; 4]);
    more.adopt(from, prior::PLACEMENT_U_MM);
    let turned = !more.model.placements[0].turned;
    more.model.placements.push(Placement {
        turned,
        wheels: std::array::from_fn(|i| from + i),
        bounces: Vec::new(),
        ..more.model.placements[0].clone()
    });
    let bounce = more.new_bounce(1, bounce_u);
    let from = more.model.unknowns.len();
    for &point in read {
        let place = more.model.on_floor(0, more.model.place(point), turned);
        more.model.need_bump(0, place);
    }
    more.adopt(from, prior::BUMP_U_MM);
    let sights = read.iter().map(|&point| (Sight::Tape { snapshot: 1, bounce, point }, tape_u)).collect();
    more.candidate("turn_car", sights, hand)
}
