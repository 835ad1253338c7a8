//! One equation for each kind of reading: what it should say if the unknowns are what they are.

use super::Problem;
use super::jet::Jet;
use super::model::{Footing, Model};
use crate::capture::{CarFile, Pass};
use crate::car::PointKind;
use crate::corner::Corner;
use crate::stance::DoubtSource;

/// Angle gauge on a rail, one reading, deg; common practice, no source.
const GAUGE_U_DEG: f64 = 0.07;
/// Angle gauge on a straightedge, one reading, deg; common practice, no source.
const STRAIGHTEDGE_U_DEG: f64 = 0.1;
/// Squareness of the car from date to date when the person carries it, mm over the four points.
const CARRIED_TWIST_U_MM: f64 = 1.0;

/// What was read, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Sight {
    /// Tape from a point down to the floor.
    Tape { snapshot: usize, bounce: usize, point: usize },
    /// Tape from the wheel centre down to the floor.
    Hub { snapshot: usize, corner: Corner },
    /// Tape from the wheel centre up to a point over it.
    HubTo { snapshot: usize, bounce: usize, point: usize },
    /// Level plane down to a spot of the floor.
    StaffOnSpot { floor: usize, plane: usize, spot: usize },
    /// Level plane down to the floor straight below a point, car standing as first.
    StaffUnder { floor: usize, plane: usize, point: usize },
    /// Level plane down to a point of the car.
    StaffOnCar { snapshot: usize, bounce: usize, plane: usize, point: usize },
    /// Angle gauge along a rail, positive nose-down.
    Rail { snapshot: usize, bounce: usize, left: bool, reversed: bool },
    /// Angle gauge across the frame, positive left higher.
    FrameAcross { snapshot: usize, bounce: usize, front: bool, reversed: bool },
    /// Angle gauge on a straightedge over two spots, positive when the first is higher.
    Straightedge { floor: usize, from: usize, to: usize, reversed: bool },
    /// The person's word that the four spots lie in one plane.
    FlatFloor { floor: usize },
    /// The person's word on the twist of a kind of point.
    CarTwist { stance: usize, kind: PointKind },
    /// The car's own twist carried from date to date.
    CarriedTwist { stance: usize, kind: PointKind },
}

/// How a reading is named to the person.
#[derive(Clone, Debug, Default)]
pub(crate) struct Label {
    /// Repeat or pass number.
    pub(crate) reading: u32,
    /// Bounce id.
    pub(crate) bounce: Option<String>,
    /// Point, spot or place.
    pub(crate) point: String,
}

/// One observation of the adjustment.
#[derive(Clone, Debug)]
pub(crate) struct Observation {
    pub(crate) sight: Sight,
    /// mm, or deg for a gauge.
    pub(crate) observed: f64,
    /// Standard uncertainty in the same unit.
    pub(crate) u: f64,
    pub(crate) source: DoubtSource,
    pub(crate) label: Label,
    /// False where it was left out as a blunder.
    pub(crate) used: bool,
}

impl Observation {
    /// True for a statement of the person, which no instrument made.
    pub(crate) fn is_assumption(&self) -> bool {
        matches!(self.sight, Sight::FlatFloor { .. } | Sight::CarTwist { .. } | Sight::CarriedTwist { .. })
    }

    /// The snapshot it was taken in, for readings on the car.
    pub(crate) fn snapshot(&self) -> Option<usize> {
        match self.sight {
            Sight::Tape { snapshot, .. }
            | Sight::Hub { snapshot, .. }
            | Sight::HubTo { snapshot, .. }
            | Sight::StaffOnCar { snapshot, .. }
            | Sight::Rail { snapshot, .. }
            | Sight::FrameAcross { snapshot, .. } => Some(snapshot),
            _ => None,
        }
    }

    /// The floor it was taken on, for readings of the floor.
    pub(crate) fn floor(&self) -> Option<usize> {
        match self.sight {
            Sight::StaffOnSpot { floor, .. }
            | Sight::StaffUnder { floor, .. }
            | Sight::Straightedge { floor, .. }
            | Sight::FlatFloor { floor } => Some(floor),
            _ => None,
        }
    }
}

/// What the sight should read at the estimate `x`, the footings being those of that estimate.
pub(crate) fn equation(model: &Model, footings: &[Footing], sight: Sight, x: &[f64]) -> Jet {
    let zero = |reversed: bool| if reversed { -1.0 } else { 1.0 };
    let shared = &model.shared;
    match sight {
        Sight::Tape { snapshot, bounce, point } => {
            let placement = &model.placements[snapshot];
            let place = model.on_floor(model.points[point].x_mm, model.points[point].y_mm, placement.turned);
            let mut tape = model.height_over_datum(x, footings, (snapshot, bounce), point);
            tape.add(-1.0, &model.elevation(x, placement.floor, place));
            tape.add_unknown(1.0, shared.tape_zero, x);
            tape
        }
        Sight::Hub { snapshot, corner } => {
            let placement = &model.placements[snapshot];
            let bump = model.floors[placement.floor].hub_bumps[&(placement.turned, corner.index())];
            let mut tape = Jet::default();
            tape.add_unknown(1.0, model.stances[placement.stance].radius[&corner.index()], x);
            tape.add_unknown(-1.0, bump, x);
            tape.add_unknown(1.0, shared.tape_zero, x);
            tape
        }
        Sight::HubTo { snapshot, bounce, point } => {
            let placement = &model.placements[snapshot];
            let corner = model.points[point].corner;
            let mut tape = model.height_over_datum(x, footings, (snapshot, bounce), point);
            tape.add(-1.0, &model.wheel(x, placement, corner));
            tape.add_unknown(-1.0, model.stances[placement.stance].radius[&corner.index()], x);
            tape.add_unknown(1.0, shared.tape_zero, x);
            tape
        }
        Sight::StaffOnSpot { floor, plane, spot } => {
            model.at(x, plane).plus(-1.0, &model.at(x, model.floors[floor].spots[spot]))
        }
        Sight::StaffUnder { floor, plane, point } => {
            let place = (model.points[point].x_mm, model.points[point].y_mm);
            model.at(x, plane).plus(-1.0, &model.elevation(x, floor, place))
        }
        Sight::StaffOnCar { snapshot, bounce, plane, point } => {
            model.at(x, plane).plus(-1.0, &model.height_over_datum(x, footings, (snapshot, bounce), point))
        }
        Sight::Rail { snapshot, bounce, left, reversed } => {
            let (front, rear) = if left { (Corner::FL, Corner::RL) } else { (Corner::FR, Corner::RR) };
            let mut gauge = slope_between(model, footings, x, (snapshot, bounce), (rear, front)).atan_deg();
            gauge.add_unknown(zero(reversed), shared.gauge_zero, x);
            gauge.add_unknown(1.0, shared.rail[usize::from(!left)], x);
            gauge
        }
        Sight::FrameAcross { snapshot, bounce, front, reversed } => {
            let (left, right) = if front { (Corner::FL, Corner::FR) } else { (Corner::RL, Corner::RR) };
            let mut gauge = slope_between(model, footings, x, (snapshot, bounce), (left, right)).atan_deg();
            gauge.add_unknown(zero(reversed), shared.gauge_zero, x);
            gauge
        }
        Sight::Straightedge { floor, from, to, reversed } => {
            let spots = model.floors[floor].spots;
            let ends = [from, to].map(|spot| model.wheel_place(Corner::ALL[spot]));
            let length = (ends[0].0 - ends[1].0).hypot(ends[0].1 - ends[1].1);
            let rise = model.at(x, spots[from]).plus(-1.0, &model.at(x, spots[to]));
            let mut gauge = rise.times(1.0 / length).atan_deg();
            gauge.add_unknown(zero(reversed), shared.gauge_zero, x);
            gauge
        }
        Sight::FlatFloor { floor } => twist_of(model.floors[floor].spots.map(|spot| model.at(x, spot))),
        Sight::CarTwist { stance, kind } => car_twist(model, x, stance, kind),
        Sight::CarriedTwist { stance, kind } => {
            car_twist(model, x, stance, kind).plus(-1.0, &model.at(x, model.carried_twist[&kind]))
        }
    }
}

/// FL − FR − RL + RR.
pub(crate) fn twist_of([fl, fr, rl, rr]: [Jet; 4]) -> Jet {
    fl.plus(-1.0, &fr).plus(-1.0, &rl).plus(1.0, &rr)
}

fn car_twist(model: &Model, x: &[f64], stance: usize, kind: PointKind) -> Jet {
    twist_of(Corner::ALL.map(|corner| {
        let height = model.point_at(kind, corner).and_then(|point| model.stances[stance].heights.get(&point));
        height.map_or_else(Jet::default, |&unknown| model.at(x, unknown))
    }))
}

/// Slope from the second rail mark up to the first, over their distance on the car.
fn slope_between(
    model: &Model,
    footings: &[Footing],
    x: &[f64],
    taken: (usize, usize),
    (high, low): (Corner, Corner),
) -> Jet {
    let [high, low] = [high, low].map(|corner| {
        let point = model.point_at(PointKind::FrameRail, corner).unwrap_or_default();
        let place = (model.points[point].x_mm, model.points[point].y_mm);
        (model.height_over_datum(x, footings, taken, point), place)
    });
    // Along the rail (front less rear) or across the frame (left less right): the larger of the two runs.
    let (along, across) = (low.1.0 - high.1.0, high.1.1 - low.1.1);
    let run = if along.abs() > across.abs() { along } else { across };
    high.0.plus(-1.0, &low.0).times(1.0 / run)
}

/// Turns a checked file into observations, adding to the model whatever unknowns they need.
pub(crate) fn collect(file: &CarFile, model: &mut Model, carry_twist: bool) -> Result<Vec<Observation>, Problem> {
    let mut observations = Vec::new();
    let step = file.instrument.tape.division_mm();
    let tape_u = (file.instrument.tape_reading_u_mm.powi(2) + step * step / 12.0).sqrt();
    let rounding = 1.0 / 12.0;

    for (number, floor) in file.floors.iter().enumerate() {
        if let Some(survey) = &floor.survey {
            let u = (survey.staff_u_mm.powi(2) + rounding).sqrt();
            for (pass, plane) in survey.passes.iter().zip(model.floors[number].planes.clone()) {
                staff_on_floor(model, &mut observations, number, plane, pass, u)?;
            }
            for edge in &survey.straightedge {
                let (from, to) = (spot_number(&edge.from)?, spot_number(&edge.to)?);
                observations.push(Observation {
                    sight: Sight::Straightedge { floor: number, from, to, reversed: edge.reversed },
                    observed: edge.angle_deg,
                    u: edge.u_deg.unwrap_or(STRAIGHTEDGE_U_DEG),
                    source: DoubtSource::AngleGauge,
                    label: Label { reading: 1, bounce: None, point: format!("{} to {}", edge.from, edge.to) },
                    used: true,
                });
            }
        }
        if let Some(flat_to) = floor.flat_to_mm {
            // Four spots each within a standard uncertainty of one plane: their twist has twice that.
            observations.push(assumption(Sight::FlatFloor { floor: number }, 0.0, 2.0 * flat_to, &floor.id));
        }
    }
    for number in 0..file.snapshots.len() {
        on_car(file, model, &mut observations, number, tape_u)?;
    }
    assumed_twists(file, model, &mut observations, carry_twist);
    Ok(observations)
}

fn staff_on_floor(
    model: &mut Model,
    observations: &mut Vec<Observation>,
    floor: usize,
    plane: usize,
    pass: &Pass,
    u: f64,
) -> Result<(), Problem> {
    for reading in pass.readings.iter().filter(|reading| reading.struck.is_none()) {
        let (sight, source) = if let Some(id) = reading.point.strip_prefix("under:") {
            let point = known_point(model, id)?;
            model.need_bump(floor, (model.points[point].x_mm, model.points[point].y_mm));
            (Sight::StaffUnder { floor, plane, point }, DoubtSource::FloorUnderMark)
        } else {
            let spot = spot_number(&reading.point)?;
            (Sight::StaffOnSpot { floor, plane, spot }, DoubtSource::Spots)
        };
        observations.push(Observation {
            sight,
            observed: reading.value_mm,
            u,
            source,
            label: Label { reading: pass.pass_no, bounce: None, point: reading.point.clone() },
            used: true,
        });
    }
    Ok(())
}

fn on_car(
    file: &CarFile,
    model: &mut Model,
    observations: &mut Vec<Observation>,
    number: usize,
    tape_u: f64,
) -> Result<(), Problem> {
    let snapshot = &file.snapshots[number];
    let (stance, floor, turned) =
        (model.placements[number].stance, model.placements[number].floor, model.placements[number].turned);
    for (bounce, taken) in snapshot.bounces.iter().enumerate() {
        for reading in taken.readings.iter().filter(|reading| reading.struck.is_none()) {
            let sight = if let Some(code) = reading.point.strip_prefix("hub.") {
                let corner = Corner::from_code(code).ok_or_else(|| unknown_point(&reading.point))?;
                model.need_radius(stance, corner);
                model.need_hub_bump(floor, turned, corner);
                Sight::Hub { snapshot: number, corner }
            } else if let Some(id) = reading.point.strip_prefix("hub_to:") {
                let point = known_point(model, id)?;
                model.need_height(stance, point);
                model.need_radius(stance, model.points[point].corner);
                Sight::HubTo { snapshot: number, bounce, point }
            } else {
                let point = known_point(model, &reading.point)?;
                model.need_height(stance, point);
                model.need_bump(floor, model.on_floor(model.points[point].x_mm, model.points[point].y_mm, turned));
                Sight::Tape { snapshot: number, bounce, point }
            };
            observations.push(Observation {
                sight,
                observed: reading.value_mm,
                u: tape_u,
                source: DoubtSource::Tape,
                label: Label {
                    reading: reading.repeat,
                    bounce: Some(taken.bounce_id.clone()),
                    point: reading.point.clone(),
                },
                used: true,
            });
        }
    }
    for gauge in snapshot.angle_gauge.iter().filter(|gauge| gauge.struck.is_none()) {
        let bounce = bounce_number(file, number, &gauge.bounce_id)?;
        let reversed = gauge.reversed;
        let (sight, corners) = match gauge.place.as_str() {
            "frame_rail_left" => {
                (Sight::Rail { snapshot: number, bounce, left: true, reversed }, [Corner::FL, Corner::RL])
            }
            "frame_rail_right" => {
                (Sight::Rail { snapshot: number, bounce, left: false, reversed }, [Corner::FR, Corner::RR])
            }
            "frame_front" => {
                (Sight::FrameAcross { snapshot: number, bounce, front: true, reversed }, [Corner::FL, Corner::FR])
            }
            "frame_rear" => {
                (Sight::FrameAcross { snapshot: number, bounce, front: false, reversed }, [Corner::RL, Corner::RR])
            }
            other => {
                return Err(Problem::new(
                    format!("snapshot {}: an angle gauge on {other:?} is not understood", snapshot.id),
                    "use frame_rail_left, frame_rail_right, frame_front or frame_rear",
                ));
            }
        };
        for corner in corners {
            if let Some(point) = model.point_at(PointKind::FrameRail, corner) {
                model.need_height(stance, point);
            }
        }
        observations.push(Observation {
            sight,
            observed: gauge.angle_deg,
            u: gauge.u_deg.unwrap_or(GAUGE_U_DEG),
            source: DoubtSource::AngleGauge,
            label: Label { reading: 1, bounce: Some(gauge.bounce_id.clone()), point: gauge.place.clone() },
            used: true,
        });
    }
    plane_on_car(file, model, observations, number)
}

fn plane_on_car(
    file: &CarFile,
    model: &mut Model,
    observations: &mut Vec<Observation>,
    number: usize,
) -> Result<(), Problem> {
    let snapshot = &file.snapshots[number];
    let (stance, floor) = (model.placements[number].stance, model.placements[number].floor);
    for (pass, plane) in snapshot.plane_on_car.iter().zip(model.placements[number].planes.clone()) {
        let survey_u = file.floors.get(floor).and_then(|f| f.survey.as_ref()).map_or(1.0, |s| s.staff_u_mm);
        let u = (pass.staff_u_mm.unwrap_or(survey_u).powi(2) + 1.0 / 12.0).sqrt();
        let bounce = match &pass.bounce_id {
            Some(id) => bounce_number(file, number, id)?,
            None => snapshot.bounces.len().saturating_sub(1),
        };
        let on_floor = |reading: &&crate::capture::StaffReading| {
            reading.point.starts_with("under:") || spot_number(&reading.point).is_ok()
        };
        let (floor_part, car_part): (Vec<_>, Vec<_>) =
            pass.readings.iter().filter(|reading| reading.struck.is_none()).partition(on_floor);
        let floor_pass = Pass { readings: floor_part.into_iter().cloned().collect(), ..pass.clone() };
        staff_on_floor(model, observations, floor, plane, &floor_pass, u)?;
        if !car_part.is_empty() && snapshot.bounces.is_empty() {
            return Err(Problem::new(
                format!(
                    "snapshot {}: points of the car were read from a level plane, but no bounce is noted",
                    snapshot.id
                ),
                "note the bounce that came before",
            ));
        }
        for reading in car_part {
            let point = known_point(model, reading.point.strip_prefix("on:").unwrap_or(&reading.point))?;
            model.need_height(stance, point);
            observations.push(Observation {
                sight: Sight::StaffOnCar { snapshot: number, bounce, plane, point },
                observed: reading.value_mm,
                u,
                source: DoubtSource::Spots,
                label: Label {
                    reading: pass.pass_no,
                    bounce: snapshot.bounces.get(bounce).map(|b| b.bounce_id.clone()),
                    point: reading.point.clone(),
                },
                used: true,
            });
        }
    }
    Ok(())
}

/// The person's word on the car's squareness, and its shape carried from date to date where asked.
fn assumed_twists(file: &CarFile, model: &mut Model, observations: &mut Vec<Observation>, carry_twist: bool) {
    for kind in PointKind::ALL {
        let points = Corner::ALL.map(|corner| model.point_at(kind, corner));
        let complete: Vec<usize> = (0..model.stances.len())
            .filter(|&stance| {
                points.iter().all(|point| point.is_some_and(|p| model.stances[stance].heights.contains_key(&p)))
            })
            .collect();
        if let Some(known) = file.vehicle.known_twist_mm.get(&kind) {
            for &stance in &complete {
                let sight = Sight::CarTwist { stance, kind };
                observations.push(assumption(sight, known.value, known.u, kind.code()));
            }
        }
        if carry_twist && complete.len() > 1 {
            model.need_carried_twist(kind);
            for &stance in &complete {
                let sight = Sight::CarriedTwist { stance, kind };
                observations.push(assumption(sight, 0.0, CARRIED_TWIST_U_MM, kind.code()));
            }
        }
    }
}

fn assumption(sight: Sight, observed: f64, u: f64, of: &str) -> Observation {
    let label = Label { reading: 1, bounce: None, point: of.to_owned() };
    Observation { sight, observed, u, source: DoubtSource::Assumption, label, used: true }
}

fn spot_number(name: &str) -> Result<usize, Problem> {
    match name {
        "S1" => Ok(0),
        "S2" => Ok(1),
        "S3" => Ok(2),
        "S4" => Ok(3),
        _ => Err(Problem::new(
            format!("{name:?} is not a place of the floor"),
            "name a spot, S1 to S4, or under: and a reference point",
        )),
    }
}

fn known_point(model: &Model, id: &str) -> Result<usize, Problem> {
    model.point(id).ok_or_else(|| unknown_point(id))
}

fn unknown_point(id: &str) -> Problem {
    Problem::new(
        format!("the car has no reference point {id:?}"),
        "add the point to the car, or correct the name of the reading",
    )
}

fn bounce_number(file: &CarFile, snapshot: usize, id: &str) -> Result<usize, Problem> {
    let snapshot = &file.snapshots[snapshot];
    snapshot.bounces.iter().position(|bounce| bounce.bounce_id == id).ok_or_else(|| {
        Problem::new(
            format!("snapshot {}: there is no bounce {id:?}", snapshot.id),
            "name one of the snapshot's bounces",
        )
    })
}
