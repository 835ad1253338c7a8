//! From a car's file to the stance that is checked: a snapshot or a target, under a load, counted from the first snapshot.

use super::at_stance::{AtStance, BodyMove, Changed, GRAVITY, Rule, Since, TIRE_RATE_N_PER_MM, unread_radius};
use super::load_case::LoadCase;
use crate::capture::{CarFile, LoadChange, Snapshot};
use crate::car::{PointKind, RefPoint, Vehicle};
use crate::compare::{Forecast, marks_x_mm};
use crate::corner::{Corner, Corners};
use crate::level::{LEAN_GAIN, Problem, ROLL_SHARE, Solution, Term, load_drop_mm};
use crate::plan::Planned;
use crate::stance::Figure;
use crate::target::Target;
use crate::uncertainty::Quantity;
use crate::wording::{listed, shown};
use std::collections::BTreeMap;

/// Which stance is checked.
#[derive(Clone, Copy, Debug)]
pub enum Which<'a> {
    /// A snapshot, by its name.
    Snapshot(&'a str),
    /// A target.
    Target(&'a Target),
    /// What changes would make of a snapshot.
    Planned(&'a Planned),
    /// Where its settling will end.
    Forecast(&'a Forecast),
}

/// Axles that were not measured again: tires warm, worn or pumped a little otherwise, mm [common practice, no source].
const AXLE_U_MM: f64 = 1.0;
/// Left against right where a floor that was not levelled does not tell it, mm over the track [common practice, no source].
const LEAN_U_MM: f64 = 6.0;

/// Of what a load does to a tire, relative: one tire 180 to 260 N/mm [common practice, no source].
const TIRE_REL_U: f64 = 0.2;

/// The car at a stance, ready for the checks.
///
/// # Errors
/// A snapshot that is not there or stands on stands, a file without any, or nothing that both
/// stances have.
pub fn at_stance<'f>(
    file: &'f CarFile,
    solution: &Solution,
    which: Which<'f>,
    load: LoadCase,
    rules: Vec<Rule>,
) -> Result<AtStance<'f>, Problem> {
    if let Which::Planned(planned) = which {
        // What is aboard of a plan is what is aboard nominally.
        let load = if load == LoadCase::AsLoaded { LoadCase::Nominal } else { load };
        let now = at_stance(file, solution, Which::Snapshot(&planned.from), load, rules)?;
        return Ok(AtStance { vehicle: &planned.vehicle, ..now }.moved_by(&planned.effect));
    }
    let vehicle = &file.vehicle;
    let first = first_snapshot(file)?;
    let later = match which {
        Which::Snapshot(id) => Some(snapshot(file, id)?),
        Which::Forecast(forecast) => Some(snapshot(file, &forecast.snapshot)?),
        Which::Target(_) | Which::Planned(_) => None,
    };
    let masses = load.masses(vehicle)?;
    let since = |base: &Snapshot| -> Result<Since, Problem> {
        let moved = Moved { file, solution, base };
        let body = match which {
            Which::Snapshot(id) if id == base.id && load != LoadCase::AsLoaded => BodyMove::none(vehicle),
            Which::Snapshot(id) => moved.to_snapshot(id, load == LoadCase::AsLoaded)?,
            Which::Planned(_) => BodyMove::none(vehicle),
            Which::Target(target) => {
                moved.to_heights(&|point| Some(Quantity::exact(*target.heights_mm.get(point)?)))?
            }
            Which::Forecast(forecast) => {
                let heights = forecast.heights(file, solution);
                moved.to_heights(&|point| told(*heights.get(point)?))?
            }
        };
        Ok(Since {
            body: loaded(vehicle, body, &masses, load.rel_u()),
            axle_rise: [true, false]
                .map(|front| pressed(vehicle, axle_rise(solution, base, later, front), &masses, front)),
        })
    };
    let Since { body, axle_rise } = since(first)?;
    let mut beside = BTreeMap::new();
    for (_, id) in vehicle.measured_beside() {
        if id != first.id && !beside.contains_key(id) {
            beside.insert(id.to_owned(), since(snapshot(file, id)?)?);
        }
    }
    let shared = solution.shared();
    let known = |figure: Figure, otherwise: Quantity| {
        figure.value.zip(figure.u).map_or(otherwise, |(value, u)| Quantity::new(value, u))
    };
    Ok(AtStance {
        vehicle,
        rail: rail(&Moved { file, solution, base: first }, &body, which),
        grounds: &file.grounds,
        body,
        since: beside,
        loaded_radius: Corners::from_fn(|corner| {
            pressed(vehicle, loaded_radius(file, solution, later.unwrap_or(first), corner), &masses, corner.is_front())
        }),
        axle_rise,
        changed: Changed::NOTHING,
        roll_share_front: known(shared.roll_share_front, Quantity::new(ROLL_SHARE.0, ROLL_SHARE.1)),
        lean_gain: known(shared.lean_gain, Quantity::new(LEAN_GAIN.0, LEAN_GAIN.1)),
        aboard: match (load, later) {
            (LoadCase::AsLoaded, Some(snapshot)) => snapshot.load_change_from_nominal.clone(),
            _ => masses.clone(),
        },
        ground: file.ground.clone(),
        rules,
        wanted_clearance_mm: match which {
            Which::Target(target) => target.extra.get("min_clearance_mm").and_then(serde_json::Value::as_f64),
            Which::Snapshot(_) | Which::Forecast(_) | Which::Planned(_) => None,
        },
    })
}

/// The stance at which points and lamps were measured: the first by its day.
fn first_snapshot(file: &CarFile) -> Result<&Snapshot, Problem> {
    let first = file.snapshots.iter().filter(|snapshot| snapshot.on_wheels()).min_by(|a, b| a.date.cmp(&b.date));
    first.ok_or_else(|| {
        let message = "the file has no snapshot: nothing says how the car stood when its points were measured";
        Problem::new(message, "Take one: walk round the car with the tape.")
    })
}

fn snapshot<'f>(file: &'f CarFile, id: &str) -> Result<&'f Snapshot, Problem> {
    let all: Vec<&str> = file.snapshots.iter().map(|snapshot| snapshot.id.as_str()).collect();
    match file.snapshots.iter().find(|snapshot| snapshot.id == id) {
        Some(snapshot) if snapshot.on_wheels() => Ok(snapshot),
        Some(_) => {
            let message = format!("snapshot {} stands on stands", shown(id));
            Err(Problem::new(message, "Name one in which the car stands on its wheels."))
        }
        None => {
            let message = format!("there is no snapshot {}", shown(id));
            Err(Problem::new(message, format!("Name one of them: {}.", listed(&all))))
        }
    }
}

/// How the body moved from a snapshot on.
struct Moved<'a> {
    file: &'a CarFile,
    solution: &'a Solution,
    base: &'a Snapshot,
}

impl Moved<'_> {
    fn to_snapshot(&self, id: &str, as_loaded: bool) -> Result<BodyMove, Problem> {
        let lines = if as_loaded { "lines" } else { "lines_nominal" };
        self.by_any_kind(|kind, name| {
            let (now, then) =
                (format!("{lines}.{}.{name}", kind.code()), format!("lines_nominal.{}.{name}", kind.code()));
            let sum = self.solution.sum(&[
                Term { snapshot: id, figure: &now, weight: 1.0 },
                Term { snapshot: &self.base.id, figure: &then, weight: -1.0 },
            ]);
            told(sum?)
        })
    }

    fn to_heights(&self, of: &dyn Fn(&str) -> Option<Quantity>) -> Result<BodyMove, Problem> {
        let track = self.file.vehicle.track_front_mm;
        self.by_any_kind(|kind, name| {
            let marks = self.marks(kind)?;
            let mark = |corner: Corner| marks[corner.index()];
            let height = |corner| of(&mark(corner)?.id);
            let pair = |left, right| Some((height(left)?, height(right)?, mark(left)?.y_mm - mark(right)?.y_mm));
            let (front, rear) = (pair(Corner::FL, Corner::FR)?, pair(Corner::RL, Corner::RR)?);
            let mean = |(left, right, _): (Quantity, Quantity, f64)| {
                Quantity::new(f64::midpoint(left.value, right.value), left.u.hypot(right.u) / 2.0)
            };
            let slope = |(left, right, apart): (Quantity, Quantity, f64)| {
                Quantity::new((left.value - right.value) / apart, left.u.hypot(right.u) / apart)
            };
            let wanted = match name {
                "front_mean_mm" => mean(front),
                "rear_mean_mm" => mean(rear),
                _ => {
                    let (front, rear) = (slope(front), slope(rear));
                    let lean = track * f64::midpoint(front.value, rear.value);
                    Quantity::new(lean, track * front.u.hypot(rear.u) / 2.0)
                }
            };
            let path = format!("lines_nominal.{}.{name}", kind.code());
            let then = told(self.solution.sum(&[Term { snapshot: &self.base.id, figure: &path, weight: 1.0 }])?)?;
            Some(Quantity::new(wanted.value - then.value, wanted.u.hypot(then.u)))
        })
    }

    /// Those on which the first snapshot's line of a kind rests.
    fn marks(&self, kind: PointKind) -> Option<[Option<&RefPoint>; 4]> {
        let first = self.solution.snapshots.iter().find(|stance| stance.id == self.base.id)?;
        Some(first.marks(&self.file.vehicle, kind))
    }

    /// By the first kind of point that both stances have in front and behind.
    fn by_any_kind(&self, of: impl Fn(PointKind, &str) -> Option<Quantity>) -> Result<BodyMove, Problem> {
        let track = self.file.vehicle.track_front_mm;
        // A frame is stiffer and straighter than lips and seams.
        let kinds = [PointKind::FrameRail].into_iter().chain(PointKind::ALL);
        let found = kinds.into_iter().find_map(|kind| {
            let [front_x_mm, rear_x_mm] = marks_x_mm(self.marks(kind)?)?;
            let lean = of(kind, "lean_mm").unwrap_or(Quantity::new(0.0, LEAN_U_MM));
            Some(BodyMove {
                front_x_mm,
                rear_x_mm,
                front: of(kind, "front_mean_mm")?,
                rear: of(kind, "rear_mean_mm")?,
                lean: Quantity::new(lean.value / track, lean.u / track),
            })
        });
        found.ok_or_else(|| {
            let message = format!(
                "this stance and snapshot {} have no kind of point in common in front and behind",
                shown(&self.base.id)
            );
            Problem::new(message, "Read the same points in both, or give the target heights of points that were read.")
        })
    }
}

/// The frame rail as it was at first, carried with the body. Where it was read at this stance itself, its own doubt counts.
fn rail(moved: &Moved<'_>, body: &BodyMove, which: Which<'_>) -> Option<[(f64, Quantity); 2]> {
    let xs = marks_x_mm(moved.marks(PointKind::FrameRail)?)?;
    let read = |snapshot: &str, end: &str| {
        let figure = format!("lines_nominal.frame_rail.{end}_mean_mm");
        told(moved.solution.sum(&[Term { snapshot, figure: &figure, weight: 1.0 }])?)
    };
    let end = |x: f64, end: &str| {
        let (then, rise) = (read(&moved.base.id, end)?, body.rise(x, 0.0));
        let here = match which {
            Which::Snapshot(id) => read(id, end),
            Which::Target(_) | Which::Forecast(_) | Which::Planned(_) => None,
        };
        let u = here.map_or_else(|| then.u.hypot(rise.u), |here| here.u);
        Some((x, Quantity::new(then.value + rise.value, u)))
    };
    Some([end(xs[0], "front")?, end(xs[1], "rear")?])
}

fn told(figure: Figure) -> Option<Quantity> {
    figure.value.zip(figure.u).map(|(value, u)| Quantity::new(value, u))
}

/// The body let down by masses.
fn loaded(vehicle: &Vehicle, body: BodyMove, masses: &[LoadChange], rel_u: f64) -> BodyMove {
    if masses.is_empty() {
        return body;
    }
    let [front, rear] = load_drop_mm(vehicle, masses);
    let down = |at: Quantity, x_mm: f64| {
        let back = -x_mm / vehicle.wheelbase_mm;
        let drop = front * (1.0 - back) + rear * back;
        Quantity::new(at.value - drop, at.u.hypot(rel_u * drop))
    };
    BodyMove { front: down(body.front, body.front_x_mm), rear: down(body.rear, body.rear_x_mm), ..body }
}

/// A height of wheel centres that masses press down into the tires.
fn pressed(vehicle: &Vehicle, at: Quantity, masses: &[LoadChange], front: bool) -> Quantity {
    let force = masses.iter().map(|mass| {
        let behind = -mass.x_mm / vehicle.wheelbase_mm;
        mass.mass_kg * GRAVITY * if front { 1.0 - behind } else { behind }
    });
    let down = force.sum::<f64>() / (2.0 * TIRE_RATE_N_PER_MM);
    Quantity::new(at.value - down, at.u.hypot(TIRE_REL_U * down))
}

/// As read at the hub, else free radius less what the car's weight presses in.
pub(crate) fn loaded_radius(file: &CarFile, solution: &Solution, at: &Snapshot, corner: Corner) -> Quantity {
    let stance = solution.snapshots.iter().find(|stance| stance.id == at.id);
    let read = stance.and_then(|stance| told(*stance.loaded_radius.get(corner.code())?));
    read.unwrap_or_else(|| unread_radius(&file.vehicle, corner))
}

/// How far an axle's wheel centres rose since the first snapshot.
fn axle_rise(solution: &Solution, first: &Snapshot, later: Option<&Snapshot>, front: bool) -> Quantity {
    let Some(later) = later else { return Quantity::new(0.0, AXLE_U_MM) };
    if later.id == first.id {
        return Quantity::exact(0.0);
    }
    let hubs = Corner::ALL.into_iter().filter(|corner| corner.is_front() == front).map(|corner| {
        let path = format!("loaded_radius.{}", corner.code());
        told(solution.change(&first.id, &later.id, &path)?)
    });
    let hubs: Option<Vec<Quantity>> = hubs.collect();
    match hubs.as_deref() {
        Some([left, right]) => Quantity::new(f64::midpoint(left.value, right.value), left.u.hypot(right.u) / 2.0),
        _ => Quantity::new(0.0, AXLE_U_MM),
    }
}
