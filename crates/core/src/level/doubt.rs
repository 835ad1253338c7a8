//! How each result is known, where its uncertainty comes from, and which readings do not fit.

use super::adjust::{Adjusted, FLAGGED};
use super::instruments::With;
use super::nominal::ToNominal;
use super::observe::Observation;
use super::prior::{Prior, Priors};
use super::unknowns::{Model, Placement};
use super::wanted::{USUAL_TWIST_MM, Wanted};
use crate::stance::{BandIf, BudgetLine, DoubtSource, Doubtful, Figure, Known};
use nalgebra::DMatrix;
use std::collections::BTreeMap;

/// The solved system with what the doubts need.
pub(crate) struct Doubts<'a> {
    priors: &'a Priors,
    observations: &'a [Observation],
    adjusted: &'a Adjusted,
    /// The same without the person's statements, where there are any.
    readings_alone: Option<&'a Adjusted>,
    /// Places of the priors on which a result must not lean for more than half.
    leaning: Vec<usize>,
    /// Places of the person's statements among the observations.
    statements: Vec<usize>,
}

impl<'a> Doubts<'a> {
    /// The doubts of a solved system.
    pub(crate) fn of(
        priors: &'a Priors,
        observations: &'a [Observation],
        adjusted: &'a Adjusted,
        readings_alone: Option<&'a Adjusted>,
    ) -> Self {
        let leans = |source: DoubtSource| {
            use DoubtSource::{LeanGain, RailStraightness, RollShare, Slope};
            matches!(source, RollShare | LeanGain | RailStraightness | Slope)
        };
        let leaning = (0..priors.single.len()).filter(|&number| leans(priors.single[number].source)).collect();
        let statements = (0..observations.len()).filter(|&number| observations[number].is_assumption()).collect();
        Self { priors, observations, adjusted, readings_alone, leaning, statements }
    }

    /// The result as loaded.
    pub(crate) fn figure(&self, wanted: &Wanted) -> Figure {
        self.figure_with(wanted, &ToNominal::default())
    }

    /// The result at nominal load and pressures.
    pub(crate) fn figure_with(&self, wanted: &Wanted, correction: &ToNominal) -> Figure {
        let spread = correction.variance(wanted.nominal);
        let unusual = if wanted.usual_twist { self.unusual_twist(wanted) } else { 0.0 };
        let u = ((self.adjusted.solved.variance(&wanted.jet.slopes) - unusual).max(0.0) + spread).sqrt();
        if u > wanted.limit {
            let band = |half_width_mm| BandIf { floor_twist_mm: USUAL_TWIST_MM, half_width_mm };
            return Figure { value: None, u: None, known: Known::Undetermined, band_if: wanted.half_width.map(band) };
        }
        let assumed = correction.guessed_variance(wanted.nominal) > 0.5 * u * u || self.leans_on_priors(wanted, u);
        let known = if assumed { Known::Assumed } else { Known::Measured };
        Figure { value: Some(wanted.jet.value + correction.shift(wanted.nominal)), u: Some(u), known, band_if: None }
    }

    /// The part of a variance that comes from floors twisted more than usual, which nobody stands a car on.
    fn unusual_twist(&self, wanted: &Wanted) -> f64 {
        let product = self.adjusted.solved.product(&wanted.jet.slopes);
        let twists = self.priors.twists.iter().map(|&number| &self.priors.single[number]);
        twists.map(|prior| unusual_part(prior) * (product.along(&prior.row) / prior.u).powi(2)).sum()
    }

    /// Covariance of several results of one sort as loaded.
    pub(crate) fn covariance(&self, wanted: &[&Wanted]) -> DMatrix<f64> {
        let rows: Vec<&[(usize, f64)]> = wanted.iter().map(|wanted| &wanted.jet.slopes[..]).collect();
        let covariance = self.adjusted.solved.covariance(&rows);
        if !wanted.iter().any(|wanted| wanted.usual_twist) {
            return covariance;
        }
        // Along each floor's twist, times the part of it that is more than usual.
        let twists: Vec<&Prior> = self.priors.twists.iter().map(|&number| &self.priors.single[number]).collect();
        let mut unusual = DMatrix::zeros(twists.len(), wanted.len());
        for (column, wanted) in wanted.iter().enumerate().filter(|(_, wanted)| wanted.usual_twist) {
            let product = self.adjusted.solved.product(&wanted.jet.slopes).worked_out();
            for (row, prior) in twists.iter().enumerate() {
                unusual[(row, column)] = unusual_part(prior).max(0.0).sqrt() * product.along(&prior.row) / prior.u;
            }
        }
        covariance - unusual.tr_mul(&unusual)
    }

    /// Undetermined without the person's word, or more than half of the variance from what nobody read.
    fn leans_on_priors(&self, wanted: &Wanted, u: f64) -> bool {
        if let Some(alone) = self.readings_alone
            && alone.solved.variance(&wanted.jet.slopes).max(0.0).sqrt() > wanted.limit
        {
            return true;
        }
        let product = self.adjusted.solved.product(&wanted.jet.slopes);
        let from_priors: f64 = self
            .leaning
            .iter()
            .map(|&number| &self.priors.single[number])
            // A corner that only stands because no floor is very steep was not measured. The lean is where slopes belong.
            .filter(|prior| prior.source != DoubtSource::Slope || !wanted.usual_twist)
            .map(|prior| (product.along(&prior.row) / prior.u).powi(2))
            .sum();
        let from_word: f64 = self
            .statements
            .iter()
            .map(|&number| (&self.observations[number], &self.adjusted.outcomes[number]))
            .map(|(observation, outcome)| (product.along(&outcome.row) / observation.u).powi(2))
            .sum();
        from_priors + from_word > 0.5 * u * u
    }

    /// Where a result's uncertainty comes from, largest first; the squares add to its own.
    pub(crate) fn budget(&self, wanted: &Wanted, correction: &ToNominal) -> Vec<BudgetLine> {
        let product = self.adjusted.solved.product(&wanted.jet.slopes);
        let mut parts: BTreeMap<(DoubtSource, Option<&str>), f64> = BTreeMap::new();
        let mut readings: BTreeMap<(DoubtSource, Option<&str>), f64> = BTreeMap::new();
        for (observation, outcome) in self.observations.iter().zip(&self.adjusted.outcomes) {
            if observation.used {
                let part = (product.along(&outcome.row) / observation.u).powi(2);
                *parts.entry((observation.source, None)).or_default() += part;
                if !observation.is_assumption() {
                    *readings.entry((observation.source, None)).or_default() += part;
                }
            }
        }
        for prior in self.priors.single.iter().chain(&self.priors.loose) {
            let (part, whose) =
                ((product.along(&prior.row) / prior.u).powi(2), (prior.source, prior.instrument.as_deref()));
            *parts.entry(whose).or_default() += part;
            if prior.read {
                *readings.entry(whose).or_default() += part;
            }
        }
        if wanted.usual_twist {
            *parts.entry((DoubtSource::Slope, None)).or_default() -= self.unusual_twist(wanted);
        }
        for field in &self.priors.bumps {
            let bumps: Vec<f64> = field.unknowns.iter().map(|&unknown| product.at(unknown)).collect();
            let part: f64 = (0..bumps.len())
                .flat_map(|i| (0..bumps.len()).map(move |j| (i, j)))
                .map(|(i, j)| bumps[i] * field.weight[(i, j)] * bumps[j])
                .sum();
            *parts.entry((DoubtSource::FloorUnderMark, None)).or_default() += part;
        }
        *parts.entry((DoubtSource::LoadAndPressure, None)).or_default() += correction.variance(wanted.nominal);
        let mut lines: Vec<BudgetLine> = parts
            .into_iter()
            .filter(|&(_, part)| part > 0.0)
            .map(|((source, whose), part)| {
                let read = readings.get(&(source, whose)).copied().unwrap_or(0.0);
                let assumed = read < 0.5 * part && source != DoubtSource::Bounces;
                BudgetLine { source, u: part.sqrt(), assumed, instrument: whose.map(str::to_owned) }
            })
            .collect();
        lines.sort_by(|a, b| b.u.total_cmp(&a.u));
        lines
    }

    /// Readings on this snapshot's car or floor that do not fit, and statements and zeros of its instruments that readings
    /// contradict, largest first.
    pub(crate) fn doubtful(&self, model: &Model, snapshot: usize, placement: &Placement) -> Vec<Doubtful> {
        let mut doubtful: Vec<Doubtful> = self
            .observations
            .iter()
            .zip(&self.adjusted.outcomes)
            .filter(|(observation, _)| {
                observation.snapshot() == Some(snapshot)
                    || observation.floor() == Some(placement.floor)
                    || observation.stance() == Some(placement.stance)
            })
            .filter(|(observation, outcome)| !observation.used || outcome.standardised.abs() > FLAGGED)
            .map(|(observation, outcome)| Doubtful {
                reading: observation.label.reading,
                bounce: observation.label.bounce.clone(),
                point: observation.label.point.clone(),
                standardised_residual: outcome.standardised,
                used: observation.used,
                observed: observation.observed,
                expected: outcome.adjusted,
            })
            .collect();
        let used = |with: With| {
            let here = |o: &&Observation| o.snapshot() == Some(snapshot) || o.floor() == Some(placement.floor);
            self.observations.iter().filter(here).any(|observation| match (observation.with, with) {
                (With::Tape { tape, .. }, With::Tape { tape: other, .. }) => tape == other,
                (one, other) => one == other,
            })
        };
        let zeros = self.adjusted.contradicted.iter().filter(|zero| used(zero.with));
        doubtful.extend(zeros.map(|zero| Doubtful {
            reading: 1,
            bounce: None,
            point: model.instrument_id(zero.with).map_or_else(|| "instrument".into(), |id| format!("instrument:{id}")),
            standardised_residual: zero.standardised,
            used: false,
            observed: zero.known,
            expected: zero.adjusted,
        }));
        doubtful.sort_by(|a, b| b.standardised_residual.abs().total_cmp(&a.standardised_residual.abs()));
        doubtful
    }
}

fn unusual_part(prior: &Prior) -> f64 {
    1.0 - (USUAL_TWIST_MM / prior.u).powi(2)
}
