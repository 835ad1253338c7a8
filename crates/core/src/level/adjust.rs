//! The adjustment: weighted least squares over readings and priors, and the search for readings that do not fit.

use super::Problem;
use super::instruments::With;
use super::observe::{Observation, equation};
use super::prior::{Prior, Priors};
use super::system::{Solved, System};
use super::unknowns::Model;
use nalgebra::DVector;
use statrs::distribution::{ChiSquared, ContinuousCDF};

/// Standardised residuals above this are shown to the person: 0.1 % of clean readings, two-sided normal.
pub(crate) const FLAGGED: f64 = 3.29;
/// Above this the largest is left out and all is solved again.
const LEFT_OUT: f64 = 4.0;
/// A reading with less redundancy is hardly checked by any other.
const CHECKED: f64 = 0.2;
/// Instruments that misfit by this part of the worst misfit as it does.
const AS_WRONG: f64 = 0.8;
/// At most one reading in so many may be left out.
const ONE_IN: usize = 8;
/// More slips than this in one file are not slips; they stay in, and are shown.
const MOST_LEFT_OUT: usize = 60;
/// Gauss-Newton steps. Two to four are usual; a car turned on a floor that nobody levelled knows (γ − 1) times the slope but
/// neither of the two, and takes twenty or thirty along that valley.
const STEPS: usize = 100;
/// A step smaller than this part of the unknowns' own uncertainty changes nothing that is shown. What nobody can determine
/// is never settled to a millimetre, only to a part of its own width.
const SMALL_STEP: f64 = 1e-3;

/// A solved system, with what each observation came to.
pub(crate) struct Adjusted {
    /// Every unknown.
    pub(crate) x: Vec<f64>,
    pub(crate) solved: Solved,
    /// By number of the observation.
    pub(crate) outcomes: Vec<Outcome>,
    /// vᵀPv over readings and counted priors.
    pub(crate) weighted_squares: f64,
    pub(crate) degrees_of_freedom: f64,
    /// Instruments whose zero the readings contradict; each was let go.
    pub(crate) contradicted: Vec<Contradicted>,
}

/// An instrument's zero that other readings contradict.
#[derive(Clone, Debug)]
pub(crate) struct Contradicted {
    pub(crate) with: With,
    /// What was known of the zero.
    pub(crate) known: f64,
    /// What the adjustment made of it once nothing was known.
    pub(crate) adjusted: f64,
    pub(crate) standardised: f64,
}

/// What one observation came to.
#[derive(Clone, Debug, Default)]
pub(crate) struct Outcome {
    /// Its row of the design matrix.
    pub(crate) row: Vec<(usize, f64)>,
    /// What the adjustment makes of it.
    pub(crate) adjusted: f64,
    /// Redundancy number, 0 (nothing checks it) to 1.
    pub(crate) redundancy: f64,
    /// v/(u·√r), v = adjusted − observed; for a reading that was left out, at the moment it was.
    pub(crate) standardised: f64,
}

impl Adjusted {
    /// vᵀPv over degrees of freedom.
    pub(crate) fn variance_factor(&self) -> Option<f64> {
        (self.degrees_of_freedom > 0.0).then(|| self.weighted_squares / self.degrees_of_freedom)
    }

    /// The global test at 5 %, one-sided.
    pub(crate) fn fits(&self) -> Option<bool> {
        let chi = ChiSquared::new(self.degrees_of_freedom).ok()?;
        Some(self.weighted_squares <= chi.inverse_cdf(0.95))
    }
}

/// Adjusts, leaving out blunders one at a time; marks them in `observations`. Instruments that contradict each other are let go
/// in `priors` before a reading is doubted for their sake.
pub(crate) fn adjust(
    model: &Model,
    priors: &mut Priors,
    observations: &mut [Observation],
    start: &[f64],
) -> Result<Adjusted, Problem> {
    let readings = observations.iter().filter(|observation| !observation.is_assumption()).count();
    let may_leave_out = (readings / ONE_IN).min(MOST_LEFT_OUT);
    let mut remembered: Vec<(usize, f64, f64)> = Vec::new();
    let mut let_go: Vec<(usize, f64, f64)> = Vec::new();
    let mut x = start.to_vec();
    loop {
        let mut adjusted = solve(model, priors, observations, &x)?;
        let misfit = |i: usize| adjusted.outcomes[i].standardised.abs();
        let worst = |statements: bool| {
            (0..observations.len())
                .filter(|&i| observations[i].used && observations[i].is_assumption() == statements)
                .filter(|&i| statements || adjusted.outcomes[i].redundancy > CHECKED)
                .max_by(|&a, &b| misfit(a).total_cmp(&misfit(b)))
                .filter(|&i| misfit(i) > LEFT_OUT)
        };
        let zeros = contradicted_zeros(priors, &adjusted);
        let outdone = |w: f64| worst(false).is_some_and(|i| misfit(i) > w);
        if zeros.first().is_some_and(|&(_, w)| !outdone(w.abs())) {
            for (zero, standardised) in zeros {
                let prior = &mut priors.single[priors.zeros[zero].place];
                let_go.push((zero, prior.value, standardised));
                prior.u = priors.zeros[zero].let_go_u;
            }
            x = adjusted.x;
            continue;
        }
        // A statement that the readings contradict goes before any reading is doubted.
        match worst(true).or_else(|| worst(false).filter(|_| remembered.len() < may_leave_out)) {
            Some(i) => {
                remembered.push((i, adjusted.outcomes[i].standardised, adjusted.outcomes[i].redundancy));
                observations[i].used = false;
                x = adjusted.x;
            }
            None => {
                for (i, standardised, redundancy) in remembered {
                    adjusted.outcomes[i].standardised = standardised;
                    adjusted.outcomes[i].redundancy = redundancy;
                }
                for (number, known, standardised) in let_go {
                    let zero = &priors.zeros[number];
                    let adjusted_to = priors.single[zero.place].at(&adjusted.x);
                    let found = Contradicted { with: zero.with, known, adjusted: adjusted_to, standardised };
                    adjusted.contradicted.push(found);
                }
                return Ok(adjusted);
            }
        }
    }
}

/// Zeros of instruments that the readings contradict, as their place among the zeros and the standardised residual; largest
/// first. Of two instruments that contradict each other both misfit alike: one that was checked is believed before one that was
/// not, and where neither was, neither is.
fn contradicted_zeros(priors: &Priors, adjusted: &Adjusted) -> Vec<(usize, f64)> {
    let misfit = |prior: &Prior| {
        let redundancy = 1.0 - adjusted.solved.variance(&prior.row) / prior.u.powi(2);
        let hardly = redundancy < CHECKED;
        if hardly { 0.0 } else { (prior.at(&adjusted.x) - prior.value) / (prior.u * redundancy.sqrt()) }
    };
    let mut misfits: Vec<(usize, f64)> =
        priors.zeros.iter().map(|zero| misfit(&priors.single[zero.place])).enumerate().collect();
    let worst = misfits.iter().map(|&(_, w)| w.abs()).fold(0.0, f64::max);
    misfits.retain(|&(_, w)| w.abs() > LEFT_OUT.max(AS_WRONG * worst));
    if misfits.iter().any(|&(zero, _)| !priors.zeros[zero].checked) {
        misfits.retain(|&(zero, _)| !priors.zeros[zero].checked);
    }
    misfits.sort_by(|a, b| b.1.abs().total_cmp(&a.1.abs()));
    misfits
}

/// The same without what the person merely stated: tells what the readings alone determine.
pub(crate) fn without_assumptions(
    model: &Model,
    priors: &Priors,
    observations: &[Observation],
    start: &[f64],
) -> Result<Option<Adjusted>, Problem> {
    if observations.iter().any(Observation::is_assumption) {
        let readings: Vec<Observation> =
            observations.iter().filter(|observation| !observation.is_assumption()).cloned().collect();
        solve(model, priors, &readings, start).map(Some)
    } else {
        Ok(None)
    }
}

fn solve(model: &Model, priors: &Priors, observations: &[Observation], start: &[f64]) -> Result<Adjusted, Problem> {
    let mut x = start.to_vec();
    let (mut before, mut damping) = (f64::INFINITY, 1.0_f64);
    for _ in 0..STEPS {
        let factored = normal_equations(model, priors, observations, &x).factor().ok_or_else(not_solvable)?;
        if !factored.decrement.is_finite() {
            return Err(not_solvable());
        }
        // A step that grows has overshot: go on in smaller ones.
        if factored.decrement > before {
            damping = (damping / 2.0).max(1.0 / 16.0);
        }
        before = factored.decrement;
        for (value, step) in x.iter_mut().zip(&factored.step) {
            *value += damping * step;
        }
        if factored.decrement < SMALL_STEP * SMALL_STEP {
            return Ok(outcome(model, priors, observations, x, factored.solved()));
        }
    }
    Err(Problem::new(
        "the readings contradict each other so much that no stance fits them",
        "look for a reading taken at another corner or in another unit, and strike it",
    ))
}

fn normal_equations(model: &Model, priors: &Priors, observations: &[Observation], x: &[f64]) -> System {
    let mut system = System::new(&model.unknowns);
    let footings = model.footings(x);
    for observation in observations.iter().filter(|observation| observation.used) {
        let computed = equation(model, &footings, observation.sight, observation.with, x).merged();
        system.add(&computed.slopes, observation.u.powi(-2), observation.observed - computed.value);
    }
    for prior in priors.single.iter().chain(&priors.loose) {
        system.add(&prior.row, prior.u.powi(-2), prior.value - prior.at(x));
    }
    for field in &priors.bumps {
        let misclosure = DVector::from_iterator(field.unknowns.len(), field.unknowns.iter().map(|&b| -x[b]));
        system.add_group(&field.unknowns, &field.weight, &misclosure);
    }
    system
}

fn outcome(model: &Model, priors: &Priors, observations: &[Observation], x: Vec<f64>, solved: Solved) -> Adjusted {
    let mut weighted_squares = 0.0;
    let mut outcomes = Vec::with_capacity(observations.len());
    let footings = model.footings(&x);
    for observation in observations {
        let computed = equation(model, &footings, observation.sight, observation.with, &x).merged();
        let residual = computed.value - observation.observed;
        let variance = observation.u * observation.u;
        let of_adjusted = solved.variance(&computed.slopes);
        // A reading that took no part is compared with its prediction.
        let redundancy = if observation.used { (1.0 - of_adjusted / variance).clamp(0.0, 1.0) } else { 1.0 };
        let deviation = if observation.used { (variance * redundancy).sqrt() } else { (variance + of_adjusted).sqrt() };
        let standardised = if redundancy > 1e-9 { residual / deviation } else { 0.0 };
        if observation.used {
            weighted_squares += residual * residual / variance;
        }
        outcomes.push(Outcome { row: computed.slopes, adjusted: computed.value, redundancy, standardised });
    }
    for prior in &priors.single {
        weighted_squares += ((prior.at(&x) - prior.value) / prior.u).powi(2);
    }
    for field in &priors.bumps {
        let bumps = DVector::from_iterator(field.unknowns.len(), field.unknowns.iter().map(|&b| x[b]));
        weighted_squares += bumps.dot(&(&field.weight * &bumps));
    }
    let used = observations.iter().filter(|observation| observation.used).count();
    let degrees_of_freedom = (used + priors.counted()) as f64 - model.unknowns.len() as f64;
    Adjusted { x, solved, outcomes, weighted_squares, degrees_of_freedom, contradicted: Vec::new() }
}

fn not_solvable() -> Problem {
    Problem::new(
        "the readings cannot be adjusted: a value is out of all proportion to the others",
        "check the car's measures and the stated uncertainties",
    )
}
