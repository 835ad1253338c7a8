//! From a checked file to observations: every reading that is not struck, and every statement of the person.

use super::Problem;
use super::instruments::{With, rule_division_mm};
use super::observe::{Label, Observation, Sight};
use super::unknowns::Model;
use crate::capture::{CarFile, Floor, GAUGE_U_DEG, Pass, STRAIGHTEDGE_U_DEG, StaffReading, with_rounding_mm};
use crate::car::{KnownTwist, PointKind};
use crate::corner::Corner;
use crate::stance::DoubtSource;

/// Division of the rule or staff that is held to a level plane, mm.
pub(crate) const RULE_DIVISION_MM: f64 = 1.0;
/// Squareness of the car from date to date when the person carries it, mm over the four points.
const CARRIED_TWIST_U_MM: f64 = 1.0;

/// Turns a checked file into observations, adding to the model whatever unknowns they need.
pub(crate) fn collect(file: &CarFile, model: &mut Model, carry_twist: bool) -> Result<Vec<Observation>, Problem> {
    let mut observations = Vec::new();

    for (number, floor) in file.floors.iter().enumerate() {
        if let Some(survey) = &floor.survey {
            for (pass, plane) in survey.passes.iter().zip(model.floors[number].planes.clone()) {
                let u_mm = pass.staff_u_mm.unwrap_or(survey.staff_u_mm);
                let u = with_rounding_mm(u_mm, rule_division_mm(file, pass));
                staff_on_floor(model, &mut observations, number, plane, pass, u)?;
            }
            for edge in survey.straightedge.iter().filter(|edge| edge.struck.is_none()) {
                let (from, to) = (spot_number(&edge.from)?, spot_number(&edge.to)?);
                let gauge = model.gauge_of(edge.instrument.as_deref());
                observations.push(Observation {
                    sight: Sight::Straightedge { floor: number, from, to, reversed: edge.reversed },
                    with: With::Gauge(gauge),
                    observed: edge.angle_deg,
                    u: edge.u_deg.unwrap_or_else(|| model.gauge_u_deg(gauge, STRAIGHTEDGE_U_DEG)),
                    source: DoubtSource::AngleGauge,
                    label: Label { reading: 1, bounce: None, point: format!("{} to {}", edge.from, edge.to) },
                    used: true,
                });
            }
        }
        let levelled = |spot: usize| {
            let of_spot = |o: &Observation| matches!(o.sight, Sight::StaffOnSpot { floor, spot: s, .. } if (floor, s) == (number, spot));
            observations.iter().any(of_spot)
        };
        // Once all four spots are levelled, what the person supposed before says nothing more.
        if let Some(flat_to) = floor.flat_to_mm
            && !(0..4).all(levelled)
        {
            // Four spots each within a standard uncertainty of one plane: their twist has twice that.
            observations.push(assumption(
                Sight::FlatFloor { floor: number },
                0.0,
                2.0 * flat_to,
                "flat_to_mm".to_owned(),
            ));
        }
    }
    for number in 0..file.snapshots.len() {
        on_car(file, model, &mut observations, number)?;
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
            model.need_bump(floor, model.place(point));
            (Sight::StaffUnder { floor, plane, point }, DoubtSource::FloorUnderMark)
        } else {
            let spot = spot_number(&reading.point)?;
            (Sight::StaffOnSpot { floor, plane, spot }, DoubtSource::Spots)
        };
        observations.push(Observation {
            sight,
            with: With::Nothing,
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
                model.need_bump(floor, model.on_floor(floor, model.place(point), turned));
                Sight::Tape { snapshot: number, bounce, point }
            };
            let tape = model.tape_of(snapshot, reading.instrument.as_deref());
            observations.push(Observation {
                sight,
                with: model.with_tape(tape, reading.value_mm - model.tapes[tape].from_mm),
                observed: reading.value_mm,
                u: model.tapes[tape].reading_u_mm,
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
            if let Some(point) = model.rail_at(stance, corner) {
                model.need_height(stance, point);
            }
        }
        let used = model.gauge_of(gauge.instrument.as_deref().or(snapshot.gauge.as_deref()));
        observations.push(Observation {
            sight,
            with: With::Gauge(used),
            observed: gauge.angle_deg,
            u: gauge.u_deg.unwrap_or_else(|| model.gauge_u_deg(used, GAUGE_U_DEG)),
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
        let u = with_rounding_mm(pass.staff_u_mm.unwrap_or(survey_u), rule_division_mm(file, pass));
        let bounce = match &pass.bounce_id {
            Some(id) => bounce_number(file, number, id)?,
            None => snapshot.bounces.len().saturating_sub(1),
        };
        let on_floor =
            |reading: &&StaffReading| reading.point.starts_with("under:") || spot_number(&reading.point).is_ok();
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
                with: With::Nothing,
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
        let marks = |stance: &usize| model.points_of(kind, *stance);
        let complete: Vec<usize> =
            (0..model.stances.len()).filter(|stance| marks(stance).iter().all(Option::is_some)).collect();
        // Other marks have another twist.
        let on_its_marks = |stance: &usize, of: Option<usize>| of.is_none_or(|of| marks(stance) == marks(&of));
        if let Some(known) = file.vehicle.known_twist_mm.get(&kind) {
            let found_in = file.snapshots.iter().position(|own| known.snapshot.as_ref() == Some(&own.id));
            let found_in = found_in.map(|number| model.placements[number].stance);
            let holds = |stance: &&usize| on_its_marks(stance, found_in) && leans_on(file, model, known, **stance);
            let holding: Vec<usize> = complete.iter().filter(holds).copied().collect();
            for stance in holding {
                let sight = Sight::CarTwist { stance, kind };
                observations.push(assumption(sight, known.value, known.u, format!("known_twist_mm.{}", kind.code())));
            }
        }
        let last = complete.last().copied();
        let alike: Vec<usize> = complete.into_iter().filter(|stance| on_its_marks(stance, last)).collect();
        if carry_twist && alike.len() > 1 {
            model.need_carried_twist(kind);
            for stance in alike {
                let sight = Sight::CarriedTwist { stance, kind };
                observations.push(assumption(sight, 0.0, CARRIED_TWIST_U_MM, format!("carried_twist.{}", kind.code())));
            }
        }
    }
}

/// What the person states holds everywhere. What was found in a snapshot is a gauge for later ones whose floor nobody levelled:
/// where the spots are levelled the car's twist is read anew, and the statement would count the same readings twice.
fn leans_on(file: &CarFile, model: &Model, known: &KnownTwist, stance: usize) -> bool {
    let mut standing = file.snapshots.iter().zip(&model.placements).filter(|(_, placement)| placement.stance == stance);
    standing.all(|(snapshot, placement)| {
        let levelled = || file.floors.get(placement.floor).is_some_and(Floor::all_spots_levelled);
        known.holds_for(&snapshot.id, &snapshot.date) && (known.snapshot.is_none() || !levelled())
    })
}

fn assumption(sight: Sight, observed: f64, u: f64, point: String) -> Observation {
    let label = Label { reading: 1, bounce: None, point };
    Observation { sight, with: With::Nothing, observed, u, source: DoubtSource::Assumption, label, used: true }
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
