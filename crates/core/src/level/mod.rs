//! The level engine: whatever was read, in one weighted least-squares adjustment, becomes level stances.
//!
//! Everything observed is one equation ([`observe`](self)), everything known beforehand is a prior, and the answer carries for
//! every result its uncertainty, how it is known, what its uncertainty is made of, which readings do not fit, and what to
//! read next. `docs/method.md` has the mathematics with its sources.
//!
//! ```
//! use trueground_core::capture::CarFile;
//! use trueground_core::level::{Options, solve};
//! let file: CarFile = serde_json::from_str(r#"{
//!   "vehicle": {"label": "any", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "ref_points": [
//!     {"id": "lip.FL", "corner": "FL", "kind": "fender_lip", "x_mm": 0, "y_mm": 800},
//!     {"id": "lip.FR", "corner": "FR", "kind": "fender_lip", "x_mm": 0, "y_mm": -800}]},
//!   "snapshots": [{"id": "s1", "date": "2031-04-12", "bounces": [{"bounce_id": "b1", "readings": [
//!     {"ref": "lip.FL", "text": "640", "value_mm": 640}, {"ref": "lip.FR", "text": "652", "value_mm": 652}]}]}]
//! }"#).expect("a file");
//! let stance = &solve(&file, &Options::default()).expect("readings").snapshots[0];
//! // Nobody levelled this floor, so no corner is claimed.
//! assert!(stance.heights["lip.FL"].value.is_none());
//! ```

mod adjust;
mod air;
mod change;
mod collect;
mod doubt;
mod instruments;
mod jet;
mod mock_up;
mod model;
mod moved;
mod next;
mod nominal;
mod observe;
mod prior;
mod reply;
mod set_out;
mod system;
mod unknowns;
mod wanted;

use crate::capture::{CarFile, Snapshot};
use crate::stance::{BudgetLine, Figure, Known, NextReading, SharedFigures, SnapshotStance};
use adjust::Adjusted;
pub use change::Term;
use doubt::Doubts;
pub use moved::{Cause, Moved};
use nominal::ToNominal;
pub use nominal::{load_drop_mm, load_lean};
use observe::{Observation, Sight};
use prior::Priors;
pub use set_out::WantedHeight;
use unknowns::Model;
use wanted::Wanted;

pub(crate) use prior::{LEAN_GAIN, PITCH_GAIN, ROLL_SHARE, beside_u_mm};

/// Version of the engine; stored beside results, which are computed anew when it has moved on.
pub const ENGINE_VERSION: u32 = 1;

/// Largest part of the system that cannot be taken apart: seconds of work, and far beyond any car.
const MOST_UNKNOWNS: usize = 1_500;

/// What the person asked for beside the readings.
#[derive(Clone, Copy, Debug, Default)]
pub struct Options {
    /// Carry the car's own twist from date to date; what leans on it is `assumed`.
    pub carry_twist: bool,
}

/// Why a file cannot be adjusted.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("{message}")]
pub struct Problem {
    message: String,
    hint: String,
}

impl Problem {
    pub(crate) fn new(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { message: message.into(), hint: hint.into() }
    }

    /// What is wrong, where, with the value.
    pub fn message(&self) -> &str {
        &self.message
    }

    /// What to do next.
    pub fn hint(&self) -> &str {
        &self.hint
    }
}

/// All stances of one file, and what stands behind each number.
pub struct Solution {
    /// One for each snapshot, in the file's order. Mock-ups stand among them, and take no part in the adjustment.
    pub snapshots: Vec<SnapshotStance>,
    /// What was adjusted: the file without its mock-ups.
    file: CarFile,
    mock_ups: Vec<Snapshot>,
    model: Model,
    priors: Priors,
    observations: Vec<Observation>,
    adjusted: Adjusted,
    readings_alone: Option<Adjusted>,
}

impl std::fmt::Debug for Solution {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Solution").field("snapshots", &self.snapshots).finish_non_exhaustive()
    }
}

/// How one level height comes about, mm: `tape_mm + instrument_mm + floor_mm + car_mm = level_mm`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeightSum {
    /// Mean of the readings that were used.
    pub tape_mm: f64,
    /// How many.
    pub readings: usize,
    /// In how many bounces.
    pub bounces: usize,
    /// What is taken off for the tapes that the readings name: the mark they are read from, their zero and their class's error.
    pub instrument_mm: f64,
    /// The floor under the mark over the plane that lies best under the wheels: its twist, crown and bumps. The tilt of that
    /// plane is harmless, since car and floor tilt alike, and stands in neither part.
    pub floor_mm: f64,
    /// How far the twist leans the car there, with what its lean and pitch exceed the tilt by; friction and zero errors included.
    pub car_mm: f64,
    /// The level height as loaded.
    pub level_mm: f64,
}

/// Adjusts all snapshots of a file at once.
///
/// # Errors
/// A fault of the file ([`crate::validate`]), or readings that no stance fits.
pub fn solve(file: &CarFile, options: &Options) -> Result<Solution, Problem> {
    if let [first, others @ ..] = &crate::validate::faults(file)[..] {
        let more = if others.is_empty() { String::new() } else { format!(" (and {} more)", others.len()) };
        return Err(Problem::new(format!("{first}{more}"), first.hint.clone()));
    }
    let whole = file;
    let (file, mock_ups) = mock_up::apart(file);
    let file = &file;
    let mut model = Model::new(file)?;
    let mut observations = collect::collect(file, &mut model, options.carry_twist)?;
    if let Some(largest) = model.unknowns.largest_block().filter(|&size| size > MOST_UNKNOWNS) {
        return Err(Problem::new(
            format!("{largest} unknowns hang together, more than the {MOST_UNKNOWNS} that one adjustment carries"),
            "split the file by car or by year",
        ));
    }
    let start = start(&model, &observations);
    let mut priors = Priors::of(file, &model, &start).ok_or_else(|| {
        Problem::new("the floor's places cannot be told apart", "check the positions of the reference points")
    })?;
    let adjusted = adjust::adjust(&model, &mut priors, &mut observations, &start)?;
    let readings_alone = adjust::without_assumptions(&model, &priors, &observations, &start)?;
    let mut solution = Solution {
        snapshots: Vec::new(),
        file: file.clone(),
        mock_ups,
        model,
        priors,
        observations,
        adjusted,
        readings_alone,
    };
    let doubts = solution.doubts();
    let mut on_wheels = (0..file.snapshots.len()).map(|number| reply::stance(&solution, &doubts, number));
    let stance = |snapshot: &Snapshot| {
        if snapshot.on_wheels() { on_wheels.next() } else { Some(mock_up::stance(file, snapshot)) }
    };
    solution.snapshots = whole.snapshots.iter().filter_map(stance).collect();
    Ok(solution)
}

impl Solution {
    /// Where a figure's uncertainty comes from, largest first; the squares add to the figure's own.
    ///
    /// `figure` is a path such as `heights.lip.FL`, `heights_nominal.lip.FL` or `lines.frame_rail.rake_deg`. `None` if there is none such.
    pub fn budget(&self, snapshot: &str, figure: &str) -> Option<Vec<BudgetLine>> {
        if let Some(mock_up) = self.mock_up(snapshot) {
            return mock_up::budget(&self.file, mock_up, figure);
        }
        let number = self.number(snapshot)?;
        let (wanted, nominal) = self.find(number, figure)?;
        let correction = if nominal { self.to_nominal(number) } else { ToNominal::default() };
        Some(self.doubts().budget(&wanted, &correction))
    }

    /// What each reading that could still be taken would do to a figure, most useful first.
    pub fn next_readings(&self, snapshot: &str, figure: &str) -> Option<Vec<NextReading>> {
        let number = self.number(snapshot)?;
        let (wanted, _) = self.find(number, figure)?;
        Some(self.next_for(number, &wanted))
    }

    /// How a level height comes about from the tape.
    pub fn height_sum(&self, snapshot: &str, point: &str) -> Option<HeightSum> {
        if let Some(mock_up) = self.mock_up(snapshot) {
            return mock_up::height_sum(&self.file, mock_up, point);
        }
        let number = self.number(snapshot)?;
        let point = self.model.point(point)?;
        let stance = self.snapshots.iter().find(|stance| stance.id == snapshot)?;
        let level_mm = stance.heights.get(&self.model.points[point].id)?.value?;
        let mut bounces: Vec<usize> = Vec::new();
        let mut too_much: Vec<f64> = Vec::new();
        let taken: Vec<f64> = self
            .observations
            .iter()
            .filter(|observation| observation.used)
            .filter_map(|observation| match observation.sight {
                Sight::Tape { snapshot, bounce, point: p } if snapshot == number && p == point => {
                    bounces.push(bounce);
                    too_much.push(self.too_much(observation.with));
                    Some(observation.observed)
                }
                _ => None,
            })
            .collect();
        bounces.dedup();
        let (readings, bounces) = (taken.len(), bounces.len());
        if readings == 0 {
            return None;
        }
        let tape_mm = taken.iter().sum::<f64>() / readings as f64;
        let instrument_mm = -too_much.iter().sum::<f64>() / readings as f64 + 0.0;
        let (placement, x) = (&self.model.placements[number], &self.adjusted.x);
        let ref_point = &self.model.points[point];
        let place = self.model.on_floor(placement.floor, self.model.place(point), placement.turned);
        let ground = self.model.ground(x, placement);
        let sigma = self.model.sigma(ref_point.x_mm);
        let tilt = ground.front.value * (1.0 - sigma)
            + ground.rear.value * sigma
            + ref_point.y_mm * (ground.phi_front.value + ground.phi_rear.value) / 2.0;
        let floor_mm = self.model.elevation(x, placement.floor, place).value - tilt;
        let car_mm = level_mm - tape_mm - instrument_mm - floor_mm;
        Some(HeightSum { tape_mm, readings, bounces, instrument_mm, floor_mm, car_mm, level_mm })
    }

    /// What all snapshots together say about the car's roll share and lean gain and about the instruments' zeros.
    ///
    /// A figure is `assumed` while more than half of its variance is still the prior's.
    pub fn shared(&self) -> SharedFigures {
        let figure = |unknown: usize| {
            let row = [(unknown, 1.0)];
            let u = self.adjusted.solved.variance(&row).max(0.0).sqrt();
            let prior = self.priors.single.iter().find(|prior| prior.row[..] == row);
            let known = match prior {
                // The prior's share of the variance is u²/u_prior².
                Some(prior) if u * u > 0.5 * prior.u * prior.u => Known::Assumed,
                _ => Known::Measured,
            };
            Figure { value: Some(self.adjusted.x[unknown]), u: Some(u), known, band_if: None }
        };
        let shared = &self.model.shared;
        SharedFigures {
            roll_share_front: figure(shared.roll_share),
            lean_gain: figure(shared.lean_gain),
            tape_zero_mm: figure(shared.tape_zero),
            gauge_zero_deg: figure(shared.gauge_zero),
        }
    }

    fn mock_up(&self, snapshot: &str) -> Option<&Snapshot> {
        self.mock_ups.iter().find(|mock_up| mock_up.id == snapshot)
    }

    /// Its place among what was adjusted.
    fn number(&self, snapshot: &str) -> Option<usize> {
        self.file.snapshots.iter().position(|s| s.id == snapshot)
    }

    fn find(&self, number: usize, figure: &str) -> Option<(Wanted, bool)> {
        let plain = figure.replacen("heights_nominal.", "heights.", 1).replacen("lines_nominal.", "lines.", 1);
        let wanted = wanted::wanted(&self.model, &self.adjusted.x, number, &self.read(number));
        let nominal = plain != figure;
        wanted.into_iter().find(|wanted| wanted.path == plain).map(|wanted| (wanted, nominal))
    }

    /// Points with a reading in the snapshot, by tape or from a level plane.
    fn read(&self, number: usize) -> Vec<usize> {
        let mut read: Vec<usize> = self
            .observations
            .iter()
            .filter_map(|observation| match observation.sight {
                Sight::Tape { snapshot, point, .. }
                | Sight::HubTo { snapshot, point, .. }
                | Sight::StaffOnCar { snapshot, point, .. }
                    if snapshot == number =>
                {
                    Some(point)
                }
                _ => None,
            })
            .collect();
        read.sort_unstable();
        read.dedup();
        read
    }

    fn to_nominal(&self, number: usize) -> ToNominal {
        nominal::to_nominal(&self.file, &self.model, &self.adjusted, number)
    }

    fn next_for(&self, number: usize, target: &Wanted) -> Vec<NextReading> {
        let read = self.read(number);
        next::next_readings(&self.file, &self.model, &self.adjusted, &self.observations, number, &read, target)
    }

    fn doubts(&self) -> Doubts<'_> {
        Doubts::of(&self.priors, &self.observations, &self.adjusted, self.readings_alone.as_ref())
    }
}

/// Where the iteration starts, and where the loose priors lie: at what was read.
fn start(model: &Model, observations: &[Observation]) -> Vec<f64> {
    let mut x = vec![0.0; model.unknowns.len()];
    (x[model.shared.roll_share], x[model.shared.lean_gain]) = (ROLL_SHARE.0, LEAN_GAIN.0);
    x[model.shared.pitch_gain] = 1.0;
    for observation in observations {
        match observation.sight {
            Sight::Tape { snapshot, point, .. } => {
                x[model.stances[model.placements[snapshot].stance].heights[&point]] = observation.observed;
            }
            Sight::Hub { snapshot, corner } => {
                x[model.stances[model.placements[snapshot].stance].radius[&corner.index()]] = observation.observed;
            }
            Sight::StaffOnSpot { plane, .. } | Sight::StaffUnder { plane, .. } => x[plane] = observation.observed,
            _ => {}
        }
    }
    x
}
