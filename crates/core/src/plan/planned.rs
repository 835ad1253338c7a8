//! The stance that a list of changes would make of a measured one: predicted, never measured.

use super::after::Taught;
use super::caution::Caution;
use super::change::Change;
use super::effect::{Effect, End};
use super::kind::{Car, Moves};
use super::step::Step;
use crate::bench::Refusal;
use crate::capture::{CarFile, Snapshot};
use crate::car::Vehicle;
use crate::checks::loaded_radius;
use crate::compare::on_its_wheels;
use crate::corner::Corner;
use crate::level::{LEAN_GAIN, Problem, ROLL_SHARE, Solution};
use crate::stance::Figure;
use crate::uncertainty::Quantity;
use serde::Serialize;

/// A planned stance: a snapshot, moved by the sum of its steps. Any comparison and any check takes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Planned {
    /// Its name; names of its changes, joined by `+`, where it has none of its own.
    pub id: String,
    /// What the person calls it.
    pub label: String,
    /// The snapshot it sets out from.
    pub from: String,
    /// In order.
    pub steps: Vec<StepDrop>,
    /// All of them together.
    pub effect: Effect,
    /// The car afterwards: its tires may be others.
    pub vehicle: Vehicle,
    /// Leaves that come out of the car's own packs, front and rear, counted from the main leaf.
    pub leaves_out: [Vec<usize>; 2],
}

/// A number of a plan with its standard uncertainty (k = 1).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct PlannedFigure {
    /// In mm, + is up.
    pub value: f64,
    /// The step's own; what a prediction adds on top is said once, for the whole stance.
    pub u: f64,
}

impl From<Quantity> for PlannedFigure {
    fn from(Quantity { value, u }: Quantity) -> Self {
        Self { value: value + 0.0, u }
    }
}

/// What one step does: where the drop comes from.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StepDrop {
    /// The change that it belongs to.
    pub change: String,
    /// Its kind.
    pub kind: &'static str,
    /// At which axle.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub end: Option<End>,
    /// What it is called.
    pub label: String,
    /// `spring`, `frame`, `axle`, `tire`, `body`, `load`, or `nothing` that moves.
    pub comes_from: &'static str,
    /// At the front axle, mm.
    pub front_mm: PlannedFigure,
    /// At the rear axle, mm.
    pub rear_mm: PlannedFigure,
    /// Of the frame in the middle of the wheelbase, mm.
    pub frame_mm: PlannedFigure,
    /// Of the body there, mm.
    pub body_mm: PlannedFigure,
    /// The sum in words.
    pub sum: String,
    /// What follows, with numbers.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub follows: Vec<String>,
    /// What to look at again.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub side_effects: Vec<&'static str>,
    /// What has to be said where the work is.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<Caution>,
}

/// What a prediction adds to the doubt of what was measured, mm [common practice, no source; domain Q26].
pub(crate) const PREDICTION_U_MM: f64 = 2.0;

/// Changes done in order to the car as it stood in a snapshot, at nominal load and pressures.
///
/// `taught` is what earlier work on this car has shown of its springs; see [`super::after`].
///
/// # Errors
/// No such snapshot, or one on stands; a step that cannot be worked out: its place, its value, what would do.
pub fn plan(
    file: &CarFile,
    solution: &Solution,
    from: &str,
    changes: &[&Change],
    taught: &Taught,
) -> Result<Planned, Problem> {
    let snapshot = on_its_wheels(file, from, "Plan from a snapshot that stands on its wheels.")?;
    let mut state = State::of(file, solution, snapshot);
    let mut steps = Vec::new();
    let mut effect = Effect::NONE;
    for change in changes {
        for step in &change.steps {
            let (drop, one) =
                state.done(change, step, taught).map_err(|refusal| Problem::new(refusal.message, refusal.hint))?;
            effect = effect.plus(&one);
            steps.push(drop);
        }
    }
    let joined =
        |of: fn(&Change) -> &str, by: &str| changes.iter().map(|change| of(change)).collect::<Vec<_>>().join(by);
    Ok(Planned {
        id: joined(|change| &change.id, "+"),
        label: joined(|change| &change.label, ", "),
        from: from.to_owned(),
        steps,
        effect,
        vehicle: state.vehicle,
        leaves_out: state.leaves_out,
    })
}

/// The car between two steps.
struct State {
    vehicle: Vehicle,
    loaded_radius_mm: [f64; 2],
    pressure_kpa: [f64; 2],
    roll_share_front: f64,
    lean_gain: f64,
    leaves_out: [Vec<usize>; 2],
}

impl State {
    fn of(file: &CarFile, solution: &Solution, snapshot: &Snapshot) -> Self {
        let told = |figure: Figure, otherwise: f64| figure.value.unwrap_or(otherwise);
        let shared = solution.shared();
        let axles = [[Corner::FL, Corner::FR], [Corner::RL, Corner::RR]];
        let mean = |of: &dyn Fn(Corner) -> f64| axles.map(|[left, right]| f64::midpoint(of(left), of(right)));
        Self {
            loaded_radius_mm: mean(&|corner| loaded_radius(file, solution, snapshot, corner).value),
            pressure_kpa: mean(&|corner| {
                file.vehicle.tires.as_ref().map_or(0.0, |tires| tires.at(corner).nominal_pressure_kpa)
            }),
            vehicle: file.vehicle.clone(),
            leaves_out: [Vec::new(), Vec::new()],
            roll_share_front: told(shared.roll_share_front, ROLL_SHARE.0),
            lean_gain: told(shared.lean_gain, LEAN_GAIN.0),
        }
    }

    fn done(&mut self, change: &Change, step: &Step, taught: &Taught) -> Result<(StepDrop, Effect), Refusal> {
        let car = Car {
            vehicle: &self.vehicle,
            loaded_radius_mm: self.loaded_radius_mm,
            pressure_kpa: self.pressure_kpa,
            roll_share_front: self.roll_share_front,
            lean_gain: self.lean_gain,
        };
        let mut worked = step.work(&car)?;
        if step.amount_mm.is_none() && step.kind.moves == Moves::Spring {
            taught.apply(&mut worked.effect);
        }
        for (radius, hub) in self.loaded_radius_mm.iter_mut().zip(worked.effect.hub_mm) {
            *radius += hub.value;
        }
        if let (Some(leaves), None, Some(end)) = (step.given.leaves("leaves"), step.given.pack("pack"), step.end) {
            self.leaves_out[end.index()].extend(leaves);
        }
        if let Some((end, kpa)) = worked.pressure_kpa {
            self.pressure_kpa[end.index()] = kpa;
        }
        self.vehicle.tires = worked.tires.or_else(|| self.vehicle.tires.take());
        let [front, rear] = worked.effect.frame_mm;
        let [frame, body] = worked.effect.in_the_middle();
        let drop = StepDrop {
            change: change.id.clone(),
            kind: step.kind.code,
            end: step.end,
            label: step.words(),
            comes_from: comes_from(step),
            front_mm: front.into(),
            rear_mm: rear.into(),
            frame_mm: frame.into(),
            body_mm: body.into(),
            sum: worked.sum,
            follows: worked.follows,
            side_effects: step.kind.side_effects.to_vec(),
            cautions: step.kind.cautions.to_vec(),
        };
        Ok((drop, worked.effect))
    }
}

fn comes_from(step: &Step) -> &'static str {
    match step.kind.moves {
        Moves::Frame if step.kind.code.starts_with("dropped") => "axle",
        Moves::Spring => "spring",
        Moves::Frame => "frame",
        Moves::Wheels => "tire",
        Moves::Body => "body",
        Moves::Mass => "load",
        Moves::Nothing => "nothing",
    }
}

impl Planned {
    /// Every caution of its steps, each once.
    pub fn cautions(&self) -> Vec<Caution> {
        let all: std::collections::BTreeSet<Caution> =
            self.steps.iter().flat_map(|step| step.cautions.iter().copied()).collect();
        all.into_iter().collect()
    }
}
