//! The search of a car's file: its parts, a snapshot, a target, and what is to be kept.

use super::best::Combination;
use super::keep::Keep;
use super::problem::{Choices, Problem, Slot};
use super::room::{self, Rooms};
use super::solve;
use crate::bench::Refusal;
use crate::capture::CarFile;
use crate::car::{FittedTire, Vehicle};
use crate::checks::{AtStance, LoadCase, Which, at_stance};
use crate::corner::Corners;
use crate::level::{self, Solution};
use crate::plan::after::Taught;
use crate::plan::change::{Change, Part};
use crate::plan::effect::Effect;
use crate::plan::planned::{Planned, plan};
use crate::target::Target;
use crate::wording::shown;
use std::collections::BTreeMap;

/// What is asked.
#[derive(Clone, Debug)]
pub struct Asked<'a> {
    /// The snapshot to set out from.
    pub from: &'a str,
    /// The target to reach.
    pub target: &'a Target,
    /// Parts that there are.
    pub parts: &'a [Part],
    /// What must be kept.
    pub keep: &'a Keep,
    /// How many answers are wanted.
    pub wanted: usize,
    /// What earlier work has shown.
    pub taught: Taught,
}

/// What was found.
#[derive(Clone, Debug)]
pub struct Searched {
    /// Best first; empty where nothing is allowed.
    pub answers: Vec<Answer>,
    /// How many combinations there are.
    pub combinations: f64,
    /// True where nothing better can be left over: every combination was looked at, or cannot be among the best.
    pub proved: bool,
    /// True where the first answer is within every tolerance.
    pub reaches: bool,
    /// How far off the worst point is now, in tolerances.
    pub now: f64,
    /// The nearest without anything to be kept, and what it would break, where that is nearer than the first answer.
    pub nearest_but: Option<(Answer, String)>,
    /// Numbers of parts that cannot be fitted to this car, and why.
    pub left_out: Vec<(usize, String)>,
}

/// One combination of parts.
#[derive(Clone, Debug)]
pub struct Answer {
    /// Numbers of its parts, in the order of the list.
    pub parts: Vec<usize>,
    /// Worst |difference|/tolerance.
    pub worst: f64,
    /// The point that is furthest off.
    pub worst_point: String,
    /// Predicted less target by point, mm.
    pub differences_mm: BTreeMap<String, f64>,
    /// Together.
    pub price: f64,
    /// Together.
    pub hours: f64,
    /// The stance with these parts.
    pub planned: Planned,
}

/// The combinations of parts that come nearest to a target.
///
/// # Errors
/// No parts, a target without heights of points that the snapshot tells, or a snapshot that is not there. A part that cannot be worked out is left out.
pub fn search(
    file: &CarFile,
    solution: &Solution,
    asked: &Asked<'_>,
    progress: &mut dyn FnMut(f64) -> bool,
) -> Result<Searched, level::Problem> {
    let refused = |refusal: Refusal| level::Problem::new(refusal.message, refusal.hint);
    if asked.parts.is_empty() {
        let hint =
            "Add parts: {\"id\", \"slot\", \"steps\": [{\"kind\", \"end\", \"amount_mm\"}], \"price\", \"hours\"}.";
        return Err(level::Problem::new("there are no parts to search", hint));
    }
    let bare = plan(file, solution, asked.from, &[], &asked.taught)?;
    let rows = rows(file, solution, &bare, asked.target).map_err(refused)?;
    let (mut fitted, mut left_out) = (Vec::new(), Vec::new());
    for (number, part) in asked.parts.iter().enumerate() {
        match Fitted::of(file, solution, asked, &part.change) {
            Ok(one) => fitted.push(Some(one)),
            Err(problem) => {
                left_out.push((number, format!("{} {}", problem.message(), problem.hint())));
                fitted.push(None);
            }
        }
    }
    let fits = |number: &usize| fitted[*number].is_some();
    let of = |number: usize| fitted[number].as_ref().unwrap_or(&NOTHING);
    let keep = asked.keep;
    let slots: Vec<Vec<usize>> =
        slots(asked.parts).into_iter().map(|own| own.into_iter().filter(fits).collect()).collect();
    let now = at_stance(file, solution, Which::Snapshot(asked.from), LoadCase::Nominal, Vec::new())?;
    let now = AtStance { wanted_clearance_mm: None, ..now };
    let with_keep = |keep: &Keep| {
        let rooms = Rooms::of(keep, &now, &wheels(file, &slots, &of));
        let room = rooms.after(&Effect::NONE, 0, 0.0);
        let choice = |number: usize| {
            let after = rooms.after(&of(number).effect, 1, asked.parts[number].price);
            let more = after.iter().zip(&room).map(|(after, now)| after - now).collect();
            choice(&rows, file, asked, of(number), number, keep, more)
        };
        Problem {
            now: rows.iter().map(|row| row.off_mm / row.tolerance_mm).collect(),
            slots: slots
                .iter()
                .map(|own| Slot { choices: own.iter().map(|number| choice(*number)).collect() })
                .collect(),
            wanted: asked.wanted,
            room,
        }
    };
    let chosen = |choice: &[Option<usize>]| -> Vec<usize> {
        let mut parts: Vec<usize> = slots.iter().zip(choice).filter_map(|(own, at)| Some(own[(*at)?])).collect();
        parts.sort_unstable();
        parts
    };
    let broken = |keep: &Keep, choice: &[Option<usize>]| -> Option<String> {
        let parts = chosen(choice);
        if let Some(most) = keep.most_jobs.filter(|most| parts.len() > *most) {
            return Some(format!("it takes {} parts, more than {most}", parts.len()));
        }
        let price: f64 = parts.iter().map(|i| asked.parts[*i].price).sum();
        if keep.most_price.is_some_and(|most| price > most) {
            return Some(format!("it costs {price:.0}"));
        }
        let effect = parts.iter().fold(Effect::NONE, |all, i| all.plus(&of(*i).effect));
        let vehicle = parts.iter().fold(file.vehicle.clone(), |vehicle, i| of(*i).on(vehicle, file));
        keep.refused(&now, &vehicle, &effect)
    };
    let problem = with_keep(keep);
    let found = solve(&problem, &mut |choice| broken(keep, choice).is_none(), progress);
    let answer = |one: &Combination| -> Result<Answer, level::Problem> {
        let parts = chosen(&one.choice);
        let changes: Vec<&Change> = parts.iter().map(|i| &asked.parts[*i].change).collect();
        let planned = plan(file, solution, asked.from, &changes, &asked.taught)?;
        let moved = |row: &Row| parts.iter().map(|i| of(*i).moves[&row.point]).sum::<f64>();
        let off = |row: &Row| row.off_mm + moved(row);
        let worst =
            rows.iter().max_by(|a, b| (off(a) / a.tolerance_mm).abs().total_cmp(&(off(b) / b.tolerance_mm).abs()));
        Ok(Answer {
            worst: one.worst,
            worst_point: worst.map(|row| row.point.clone()).unwrap_or_default(),
            differences_mm: rows.iter().map(|row| (row.point.clone(), off(row))).collect(),
            price: one.price,
            hours: parts.iter().map(|i| asked.parts[*i].hours).sum(),
            planned,
            parts,
        })
    };
    let answers = found.best.iter().map(answer).collect::<Result<Vec<_>, _>>()?;
    let nearest_but = match answers.first() {
        Some(first) if first.worst <= 1.0 => None,
        _ if keep.is_empty() => None,
        _ => {
            let free = solve(&Problem { wanted: 1, ..with_keep(&Keep::default()) }, &mut |_| true, &mut |_| true);
            let nearer = free.best.first().filter(|one| answers.first().is_none_or(|first| one.worst < first.worst));
            nearer
                .and_then(|one| Some((one, broken(keep, &one.choice)?)))
                .map(|(one, why)| Ok::<_, level::Problem>((answer(one)?, why)))
                .transpose()?
        }
    };
    Ok(Searched {
        reaches: answers.first().is_some_and(|first| first.worst <= 1.0),
        now: problem.now.iter().fold(0.0, |worst: f64, row| worst.max(row.abs())),
        combinations: problem.combinations(),
        proved: found.proved,
        answers,
        nearest_but,
        left_out,
    })
}

/// A height that is wanted.
struct Row {
    point: String,
    /// Now less target, mm.
    off_mm: f64,
    tolerance_mm: f64,
}

/// Closer than this nobody asks, mm.
const LEAST_TOLERANCE_MM: f64 = 0.1;

fn rows(file: &CarFile, solution: &Solution, bare: &Planned, target: &Target) -> Result<Vec<Row>, Refusal> {
    let heights = bare.stance(file, solution).heights;
    let row = |(point, wanted): (&String, &f64)| {
        let now = heights.get(point)?.value?;
        Some(Row {
            point: point.clone(),
            off_mm: now - wanted,
            tolerance_mm: target.tolerance_of(point).max(LEAST_TOLERANCE_MM),
        })
    };
    let rows: Vec<Row> = target.heights_mm.iter().filter_map(row).collect();
    if rows.is_empty() {
        let message = format!(
            "the target {} names no height of a point that snapshot {} tells",
            shown(&target.label),
            shown(&bare.from)
        );
        return Err(Refusal::new(
            message,
            "Read the same points, or give the target heights of points that were read.",
        ));
    }
    Ok(rows)
}

/// Numbers of parts by slot, in the order in which slots first come.
fn slots(parts: &[Part]) -> Vec<Vec<usize>> {
    let mut slots: Vec<(&str, Vec<usize>)> = Vec::new();
    for (i, part) in parts.iter().enumerate() {
        match slots.iter_mut().find(|(name, _)| *name == part.slot) {
            Some((_, own)) => own.push(i),
            None => slots.push((&part.slot, vec![i])),
        }
    }
    slots.into_iter().map(|(_, own)| own).collect()
}

/// What a part does by itself.
struct Fitted {
    effect: Effect,
    moves: BTreeMap<String, f64>,
    /// The tires that it brings.
    tires: Option<Corners<FittedTire>>,
}

/// What is not fitted.
static NOTHING: Fitted = Fitted { effect: Effect::NONE, moves: BTreeMap::new(), tires: None };

impl Fitted {
    fn of(file: &CarFile, solution: &Solution, asked: &Asked<'_>, change: &Change) -> Result<Self, level::Problem> {
        let planned = plan(file, solution, asked.from, &[change], &asked.taught)?;
        let wheelbase = file.vehicle.wheelbase_mm;
        let points = file.vehicle.ref_points.iter();
        Ok(Self {
            moves: points.map(|point| (point.id.clone(), planned.effect.rise(point, wheelbase).value)).collect(),
            tires: planned.vehicle.tires.clone().filter(|tires| Some(tires) != file.vehicle.tires.as_ref()),
            effect: planned.effect,
        })
    }

    /// True where it changes the wheels.
    fn turns_wheels(&self) -> bool {
        self.tires.is_some() || !room::leaves_wheels(&self.effect)
    }

    /// The car with its tires, those of the other axle as they are.
    fn on(&self, mut vehicle: Vehicle, file: &CarFile) -> Vehicle {
        if let (Some(own), Some(theirs), Some(before)) = (&vehicle.tires, &self.tires, &file.vehicle.tires) {
            let with = |corner| if theirs.at(corner) == before.at(corner) { own.at(corner) } else { theirs.at(corner) };
            vehicle.tires = Some(Corners::from_fn(|corner| with(corner).clone()));
        }
        vehicle
    }
}

/// Every state of the wheels that one part a slot can bring.
fn wheels<'f>(file: &CarFile, slots: &[Vec<usize>], of: &dyn Fn(usize) -> &'f Fitted) -> Vec<(Effect, Vehicle)> {
    let mut all = vec![(Effect::NONE, file.vehicle.clone())];
    for own in slots {
        let other: Vec<&Fitted> = own.iter().map(|number| of(*number)).filter(|part| part.turns_wheels()).collect();
        let more: Vec<_> = all
            .iter()
            .flat_map(|(effect, vehicle)| {
                other.iter().map(|part| (effect.plus(&room::of_wheels(&part.effect)), part.on(vehicle.clone(), file)))
            })
            .collect();
        all.extend(more);
        if all.len() > room::MOST_WHEELS {
            break;
        }
    }
    all
}

fn choice(
    rows: &[Row],
    file: &CarFile,
    asked: &Asked<'_>,
    fitted: &Fitted,
    number: usize,
    keep: &Keep,
    room: Vec<f64>,
) -> Choices {
    let mut alike = Vec::new();
    if !keep.is_empty() {
        let effect = &fitted.effect;
        alike.extend(
            effect
                .frame_mm
                .iter()
                .chain(&effect.hub_mm)
                .chain(&effect.axle_mm)
                .chain(&effect.travel_mm)
                .map(|part| part.value),
        );
        alike.extend(
            [effect.body_over_frame_mm, effect.lean, effect.caster_deg, effect.pinion_deg].map(|part| part.value),
        );
        let rim = |tires: &Corners<FittedTire>| {
            tires.at(crate::corner::Corner::FL).rim_diameter_mm
                + 1e4 * tires.at(crate::corner::Corner::RL).rim_diameter_mm
        };
        alike
            .push(fitted.tires.as_ref().zip(file.vehicle.tires.as_ref()).map_or(0.0, |(new, old)| rim(new) - rim(old)));
        // Where the frame is cut decides what touches, and no sum of numbers says it: each such part is only like itself.
        let own = if effect.bends.is_none() { 0.0 } else { libm::exp2((number % 50) as f64) };
        alike.extend([1.0, asked.parts[number].price, own]);
    }
    Choices {
        moves: rows.iter().map(|row| fitted.moves[&row.point] / row.tolerance_mm).collect(),
        price: asked.parts[number].price,
        alike,
        room,
    }
}
