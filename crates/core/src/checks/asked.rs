//! From a car's file to the stance that is checked: a snapshot or a target, under a load, counted from the first snapshot.

use super::at_stance::{AtStance, BodyMove, Changed, Rule, unread_radius};
use crate::capture::{CarFile, LoadChange, Snapshot};
use crate::car::{PointKind, RefPoint, Vehicle};
use crate::compare::marks_x_mm;
use crate::corner::{Corner, Corners};
use crate::level::{LEAN_GAIN, Problem, ROLL_SHARE, Solution, Term, load_drop_mm};
use crate::plan::Planned;
use crate::stance::Figure;
use crate::target::Target;
use crate::uncertainty::Quantity;
use crate::wording::{listed, shown};

/// Which stance is checked.
#[derive(Clone, Copy, Debug)]
pub enum Which<'a> {
    /// A snapshot, by its name.
    Snapshot(&'a str),
    /// A target.
    Target(&'a Target),
    /// What changes would make of a snapshot.
    Planned(&'a Planned),
}

/// What is aboard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadCase {
    /// The nominal load and pressures.
    Nominal,
    /// As the snapshot was loaded.
    AsLoaded,
    /// One person in the front seat besides.
    Driver,
    /// Two people in the front seat besides.
    TwoUp,
    /// The half of the tank besides that the nominal load leaves empty.
    TankFull,
}

impl LoadCase {
    /// Names as they are asked for.
    pub const ALL: [(&'static str, Self); 5] = [
        ("nominal", Self::Nominal),
        ("as_loaded", Self::AsLoaded),
        ("driver", Self::Driver),
        ("two_up", Self::TwoUp),
        ("tank_full", Self::TankFull),
    ];
}

/// A person with what they wear [common practice, no source].
const PERSON_KG: f64 = 75.0;
/// Of gasoline [common practice, no source].
const FUEL_KG_PER_LITRE: f64 = 0.75;
/// A front seat behind the front axle, in wheelbases, where the file has none [common practice, no source].
const SEAT_WHEELBASES: f64 = 0.55;
/// Of what a load does, relative, where springs are known to a tenth.
const LOAD_REL_U: f64 = 0.1;
/// Axles that were not measured again: tires warm, worn or pumped a little otherwise, mm [common practice, no source].
const AXLE_U_MM: f64 = 1.0;
/// Left against right where a floor that was not levelled does not tell it, mm over the track [common practice, no source].
const LEAN_U_MM: f64 = 6.0;

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
        Which::Target(_) | Which::Planned(_) => None,
    };
    let moved = Moved { file, solution, first };
    let body = match which {
        Which::Snapshot(id) if id == first.id && load != LoadCase::AsLoaded => BodyMove::none(vehicle),
        Which::Snapshot(id) => moved.to_snapshot(id, load == LoadCase::AsLoaded)?,
        Which::Target(target) => moved.to_target(target)?,
        Which::Planned(_) => BodyMove::none(vehicle),
    };
    let body = loaded(vehicle, body, &masses(vehicle, load)?);
    let shared = solution.shared();
    let known = |figure: Figure, otherwise: Quantity| {
        figure.value.zip(figure.u).map_or(otherwise, |(value, u)| Quantity::new(value, u))
    };
    Ok(AtStance {
        vehicle,
        rail: rail(&moved, &body, which),
        body,
        grounds: &file.grounds,
        loaded_radius: Corners::from_fn(|corner| loaded_radius(file, solution, later.unwrap_or(first), corner)),
        axle_rise: [true, false].map(|front| axle_rise(solution, first, later, front)),
        changed: Changed::NOTHING,
        roll_share_front: known(shared.roll_share_front, Quantity::new(ROLL_SHARE.0, ROLL_SHARE.1)),
        lean_gain: known(shared.lean_gain, Quantity::new(LEAN_GAIN.0, LEAN_GAIN.1)),
        ground: file.ground.clone(),
        rules,
        wanted_clearance_mm: match which {
            Which::Target(target) => target.extra.get("min_clearance_mm").and_then(serde_json::Value::as_f64),
            Which::Snapshot(_) | Which::Planned(_) => None,
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

/// How the body moved from the first snapshot on.
struct Moved<'a> {
    file: &'a CarFile,
    solution: &'a Solution,
    first: &'a Snapshot,
}

impl Moved<'_> {
    fn to_snapshot(&self, id: &str, as_loaded: bool) -> Result<BodyMove, Problem> {
        let lines = if as_loaded { "lines" } else { "lines_nominal" };
        self.by_any_kind(|kind, name| {
            let (now, then) =
                (format!("{lines}.{}.{name}", kind.code()), format!("lines_nominal.{}.{name}", kind.code()));
            let sum = self.solution.sum(&[
                Term { snapshot: id, figure: &now, weight: 1.0 },
                Term { snapshot: &self.first.id, figure: &then, weight: -1.0 },
            ]);
            told(sum?)
        })
    }

    fn to_target(&self, target: &Target) -> Result<BodyMove, Problem> {
        let track = self.file.vehicle.track_front_mm;
        self.by_any_kind(|kind, name| {
            let marks = self.marks(kind)?;
            let mark = |corner: Corner| marks[corner.index()];
            let height = |corner| target.heights_mm.get(&mark(corner)?.id).copied();
            let pair = |left, right| Some((height(left)?, height(right)?, mark(left)?.y_mm - mark(right)?.y_mm));
            let (front, rear) = (pair(Corner::FL, Corner::FR)?, pair(Corner::RL, Corner::RR)?);
            let wanted = match name {
                "front_mean_mm" => f64::midpoint(front.0, front.1),
                "rear_mean_mm" => f64::midpoint(rear.0, rear.1),
                _ => track * f64::midpoint((front.0 - front.1) / front.2, (rear.0 - rear.1) / rear.2),
            };
            let path = format!("lines_nominal.{}.{name}", kind.code());
            let then = told(self.solution.sum(&[Term { snapshot: &self.first.id, figure: &path, weight: 1.0 }])?)?;
            Some(Quantity::new(wanted - then.value, then.u))
        })
    }

    /// Those on which the first snapshot's line of a kind rests.
    fn marks(&self, kind: PointKind) -> Option<[Option<&RefPoint>; 4]> {
        let first = self.solution.snapshots.iter().find(|stance| stance.id == self.first.id)?;
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
                "this stance and the first snapshot {} have no kind of point in common in front and behind",
                shown(&self.first.id)
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
        let (then, rise) = (read(&moved.first.id, end)?, body.rise(x, 0.0));
        let here = match which {
            Which::Snapshot(id) => read(id, end),
            Which::Target(_) | Which::Planned(_) => None,
        };
        let u = here.map_or_else(|| then.u.hypot(rise.u), |here| here.u);
        Some((x, Quantity::new(then.value + rise.value, u)))
    };
    Some([end(xs[0], "front")?, end(xs[1], "rear")?])
}

fn told(figure: Figure) -> Option<Quantity> {
    figure.value.zip(figure.u).map(|(value, u)| Quantity::new(value, u))
}

fn masses(vehicle: &Vehicle, load: LoadCase) -> Result<Vec<LoadChange>, Problem> {
    let mass = |mass_kg: f64, x_mm: f64| vec![LoadChange { label: String::new(), mass_kg, x_mm, y_mm: 0.0 }];
    let seat = vehicle.seats.first().map_or(-SEAT_WHEELBASES * vehicle.wheelbase_mm, |seat| seat.x_mm);
    Ok(match load {
        LoadCase::Nominal | LoadCase::AsLoaded => Vec::new(),
        LoadCase::Driver => mass(PERSON_KG, seat),
        LoadCase::TwoUp => mass(2.0 * PERSON_KG, seat),
        LoadCase::TankFull => {
            let Some(tank) = &vehicle.tank else {
                let hint = "Add it to the file: \"tank\": {\"litres\": 60, \"x_mm\": -2900}.";
                return Err(Problem::new(
                    "the car has no tank in the file, so nothing says what a full one weighs",
                    hint,
                ));
            };
            mass(tank.litres / 2.0 * FUEL_KG_PER_LITRE, tank.x_mm)
        }
    })
}

/// The body let down by masses.
fn loaded(vehicle: &Vehicle, body: BodyMove, masses: &[LoadChange]) -> BodyMove {
    if masses.is_empty() {
        return body;
    }
    let [front, rear] = load_drop_mm(vehicle, masses);
    let down = |at: Quantity, x_mm: f64| {
        let back = -x_mm / vehicle.wheelbase_mm;
        let drop = front * (1.0 - back) + rear * back;
        Quantity::new(at.value - drop, at.u.hypot(LOAD_REL_U * drop))
    };
    BodyMove { front: down(body.front, body.front_x_mm), rear: down(body.rear, body.rear_x_mm), ..body }
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
