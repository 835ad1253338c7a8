//! The walk: every step in walking order, and which comes after which.

use crate::plan::{Plan, corners};
use crate::step::Step;
use crate::wire::StepKind;
use serde_json::Value;
use trueground_core::car::{PointKind, RefPoint, Vehicle};
use trueground_core::corner::Corner;
use trueground_store::SnapshotRecord;

/// Every step of a snapshot: as planned, and one for each reading taken once more.
pub(crate) fn steps(snapshot: &SnapshotRecord, plan: &Plan, vehicle: &Vehicle) -> Vec<Step> {
    let mut steps = Vec::new();
    for bounce in 1..=plan.bounces {
        let bounce_id = bounce_id(snapshot, bounce);
        for round in 1..=plan.rounds {
            for corner in corners(plan.order) {
                for step in at_corner(snapshot, plan, vehicle, corner) {
                    let step = Step { bounce, round, bounce_id: bounce_id.clone(), ..step };
                    let last_round = round == plan.rounds;
                    let again = again(snapshot, &step).filter(|_| last_round);
                    let more: Vec<_> = again.map(|round| Step { round, ..step.clone() }).collect();
                    steps.push(step);
                    steps.extend(more);
                }
            }
        }
        let mut rails = [(Corner::FL, "frame_rail_left"), (Corner::FR, "frame_rail_right")];
        let mut across = [(Corner::FL, "frame_front"), (Corner::RL, "frame_rear")];
        if !plan.order.start.is_left() {
            rails.reverse();
        }
        if !plan.order.start.is_front() {
            across.reverse();
        }
        let laid = [(plan.angle_gauge, rails), (plan.gauge_across, across)];
        for (corner, place) in laid.into_iter().filter(|(planned, _)| *planned).flat_map(|(_, places)| places) {
            for reversed in [false, true] {
                let step = Step { kind: StepKind::Gauge, place: place.to_owned(), reversed, ..blank(corner) };
                let step = Step { bounce, bounce_id: bounce_id.clone(), ..step };
                let more: Vec<_> = again(snapshot, &step).map(|round| Step { round, ..step.clone() }).collect();
                steps.push(step);
                steps.extend(more);
            }
        }
        if plan.level_line.is_some() {
            for point in corners(plan.order).into_iter().flat_map(|corner| points_at(snapshot, plan, vehicle, corner)) {
                let step = Step { kind: StepKind::Plane, place: format!("on:{}", point.place), ..point };
                let step = Step { bounce, bounce_id: bounce_id.clone(), ..step };
                let more: Vec<_> = again(snapshot, &step).map(|round| Step { round, ..step.clone() }).collect();
                steps.push(step);
                steps.extend(more);
            }
        }
    }
    steps
}

/// Rounds beyond the planned ones in which this mark was read once more.
fn again<'a>(snapshot: &'a SnapshotRecord, step: &'a Step) -> impl Iterator<Item = u32> + 'a {
    let beyond = snapshot.readings.iter().filter(|reading| reading.counts() && step.same_place(reading));
    let rounds: std::collections::BTreeSet<u32> =
        beyond.map(|reading| reading.taken.round).filter(|round| *round > step.round).collect();
    rounds.into_iter()
}

fn at_corner(snapshot: &SnapshotRecord, plan: &Plan, vehicle: &Vehicle, corner: Corner) -> Vec<Step> {
    let mut steps = points_at(snapshot, plan, vehicle, corner);
    if plan.hubs {
        let s_mm = if corner.is_front() { 0.0 } else { vehicle.wheelbase_mm };
        steps.push(Step { kind: StepKind::Hub, place: format!("hub.{corner}"), s_mm, ..blank(corner) });
    }
    if plan.hub_to_lip {
        let lip = |point: &&RefPoint| point.kind == PointKind::FenderLip && point.corner == corner && !point.retired;
        steps.extend(vehicle.ref_points.iter().find(lip).map(|lip| Step {
            kind: StepKind::HubToLip,
            place: format!("hub_to:{}", lip.id),
            s_mm: 0.0 - lip.x_mm,
            ..blank(corner)
        }));
    }
    steps
}

/// The marks that are read at a corner: those of the planned kinds, without what is no longer read unless it was in this walk.
fn points_at(snapshot: &SnapshotRecord, plan: &Plan, vehicle: &Vehicle, corner: Corner) -> Vec<Step> {
    let in_use = |point: &&RefPoint| {
        !point.retired || snapshot.readings.iter().any(|reading| reading.taken.place.ends_with(&point.id))
    };
    let of_kind = |kind: PointKind| {
        vehicle.ref_points.iter().filter(move |point| point.kind == kind && point.corner == corner).filter(in_use)
    };
    let step = |point: &RefPoint| Step {
        place: point.id.clone(),
        point_kind: Some(point.kind),
        what: point.what.clone(),
        s_mm: 0.0 - point.x_mm,
        ..blank(corner)
    };
    plan.kinds.iter().flat_map(|kind| of_kind(*kind).map(step)).collect()
}

fn blank(corner: Corner) -> Step {
    Step {
        kind: StepKind::Height,
        corner,
        place: String::new(),
        point_kind: None,
        what: None,
        s_mm: 0.0,
        bounce: 1,
        bounce_id: String::new(),
        round: 1,
        reversed: false,
    }
}

/// Name of a bounce in files, by its number.
fn bounce_id(snapshot: &SnapshotRecord, bounce: u32) -> String {
    let named = snapshot.document["bounces"].get(bounce as usize - 1).and_then(|entry| entry["bounce_id"].as_str());
    named.map_or_else(|| new_bounce_id(&snapshot.name, bounce), str::to_owned)
}

/// Name of a new bounce.
pub(crate) fn new_bounce_id(snapshot: &str, bounce: u32) -> String {
    format!("{snapshot}.bounce{bounce}")
}

/// The open step that comes after `after`; the number of steps where none is open. A round is read to its end before the next,
/// and a bounce before the car is bounced again, whichever corner the person went to in between.
pub(crate) fn next_open(steps: &[Step], open: impl Fn(&Step) -> bool, after: usize) -> usize {
    let here = steps.get(after);
    let near = |step: &Step| match here {
        Some(here) if part(here) == part(step) => 0,
        Some(here) if here.bounce == step.bounce => 1,
        _ => 2,
    };
    let around = (after + 1..steps.len()).chain(0..steps.len().min(after + 1));
    around.filter(|at| open(&steps[*at])).min_by_key(|at| near(&steps[*at])).unwrap_or(steps.len())
}

/// What is read at one go: a round of the tape, the gauge of a bounce, or its level line.
pub(crate) fn part(step: &Step) -> (u32, u32, Option<StepKind>) {
    match step.kind {
        StepKind::Gauge | StepKind::Plane => (step.bounce, 1, Some(step.kind)),
        StepKind::Height | StepKind::Hub | StepKind::HubToLip => (step.bounce, step.round, None),
    }
}

/// The bounces of a new snapshot, empty.
pub(crate) fn new_bounces(snapshot: &str, bounces: u32) -> Value {
    let bounce = |number| {
        serde_json::json!({
            "bounce_id": new_bounce_id(snapshot, number),
            "how": "rolled one car length and back, bounced each end three times",
            "readings": [],
        })
    };
    Value::Array((1..=bounces).map(bounce).collect())
}

/// The set-ups of the level line of a new snapshot, one a bounce, empty.
pub(crate) fn new_set_ups(snapshot: &str, bounces: u32) -> Value {
    let set_up =
        |number| serde_json::json!({ "pass_no": number, "bounce_id": new_bounce_id(snapshot, number), "readings": [] });
    Value::Array((1..=bounces).map(set_up).collect())
}
