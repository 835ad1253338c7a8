//! The walk: every step in walking order, what it reads, and what comes after.

use crate::wire::{LevelLine, StepKind, TapeUnit};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use trueground_core::car::{PointKind, RefPoint, Vehicle};
use trueground_core::corner::Corner;
use trueground_store::{NewReading, Reading, ReadingKind, SnapshotRecord};

/// Round the car, front left first, as a person walks.
pub(crate) const WALK: [Corner; 4] = [Corner::FL, Corner::FR, Corner::RR, Corner::RL];

/// How a snapshot is walked; stored with it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub(crate) struct Plan {
    pub(crate) kinds: Vec<PointKind>,
    pub(crate) hubs: bool,
    pub(crate) rounds: u32,
    pub(crate) bounces: u32,
    pub(crate) angle_gauge: bool,
    #[serde(default)]
    pub(crate) gauge_across: bool,
    #[serde(default)]
    pub(crate) level_line: Option<LevelLine>,
    pub(crate) tape: TapeUnit,
}

impl Plan {
    /// The plan of a snapshot; one that came without is walked as it was read.
    pub(crate) fn of(snapshot: &SnapshotRecord, vehicle: &Vehicle) -> Self {
        serde_json::from_value(snapshot.plan.clone()).unwrap_or_else(|_| Self::as_read(snapshot, vehicle))
    }

    fn as_read(snapshot: &SnapshotRecord, vehicle: &Vehicle) -> Self {
        let counted = || snapshot.readings.iter().map(|reading| &reading.taken);
        let tapes = || counted().filter(|taken| taken.kind == ReadingKind::Tape);
        let gauges =
            |place: &str| counted().any(|taken| taken.kind == ReadingKind::Gauge && taken.place.starts_with(place));
        let kinds: Vec<_> = PointKind::ALL
            .into_iter()
            .filter(|kind| {
                let mut points = vehicle.ref_points.iter().filter(|point| point.kind == *kind);
                points.any(|point| tapes().next().is_none() || tapes().any(|taken| taken.place == point.id))
            })
            .collect();
        let bounces = snapshot.document["bounces"].as_array().map_or(1, Vec::len).clamp(1, 4);
        Self {
            kinds,
            hubs: tapes().any(|taken| taken.place.starts_with("hub.")),
            rounds: tapes().map(|taken| taken.round).max().unwrap_or(1).clamp(1, 5),
            bounces: u32::try_from(bounces).unwrap_or(1),
            angle_gauge: gauges("frame_rail_"),
            gauge_across: gauges("frame_front") || gauges("frame_rear"),
            level_line: counted()
                .find(|taken| taken.kind == ReadingKind::Plane && !taken.place.starts_with("under:"))
                .map(|taken| if taken.value < 0.0 { LevelLine::Below } else { LevelLine::Above }),
            tape: tape_as_read(tapes()),
        }
    }
}

/// The tape with which these were read: inches if any was, in thirty-seconds if any text says so.
fn tape_as_read<'t>(taken: impl Iterator<Item = &'t NewReading>) -> TapeUnit {
    let mut found = TapeUnit::Mm;
    for reading in taken {
        match reading.unit.as_str() {
            "in" if reading.text.contains("/32") => return TapeUnit::In32,
            "in" => found = TapeUnit::In,
            "cm" if found == TapeUnit::Mm => found = TapeUnit::Cm,
            _ => {}
        }
    }
    found
}

/// One step.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Step {
    pub(crate) kind: StepKind,
    pub(crate) corner: Corner,
    /// `rail.FR`, `hub.FL`, `frame_rail_left`
    pub(crate) place: String,
    pub(crate) point_kind: Option<PointKind>,
    pub(crate) what: Option<String>,
    pub(crate) s_mm: f64,
    pub(crate) bounce: u32,
    /// Name of the bounce in files.
    pub(crate) bounce_id: String,
    pub(crate) round: u32,
    pub(crate) reversed: bool,
}

impl Step {
    /// Names the step whatever its place in the list.
    pub(crate) fn key(&self) -> String {
        let pose = if self.reversed { "/reversed" } else { "" };
        format!("{}/{}/{}{pose}", self.bounce_id, self.round, self.place)
    }

    /// True for a reading taken at this step.
    pub(crate) fn reads(&self, reading: &Reading) -> bool {
        self.same_place(reading) && reading.taken.round == self.round
    }

    /// True for a reading of the same mark in the same bounce, in any round.
    pub(crate) fn same_place(&self, reading: &Reading) -> bool {
        let taken = &reading.taken;
        let mine = match self.kind {
            // A set-up of the level line stands in files by its number: one a bounce.
            StepKind::Plane => taken.kind == ReadingKind::Plane && taken.pass_no == self.bounce,
            StepKind::Gauge => taken.kind == ReadingKind::Gauge && taken.bounce == self.bounce_id,
            StepKind::Height | StepKind::Hub => taken.kind == ReadingKind::Tape && taken.bounce == self.bounce_id,
        };
        mine && taken.place == self.place && taken.reversed == self.reversed
    }

    /// "frame rail, painted mark"
    pub(crate) fn words(&self) -> String {
        match (self.kind, self.point_kind) {
            (StepKind::Gauge, _) if self.across() => {
                let end = if self.corner.is_front() { "front" } else { "rear" };
                let pose = if self.reversed { "gauge turned end for end" } else { "left higher is plus" };
                format!("angle gauge across the frame at the {end}, {pose}")
            }
            (StepKind::Gauge, _) => {
                let side = if self.corner.is_left() { "left" } else { "right" };
                let pose = if self.reversed { "gauge turned end for end" } else { "nose-down is plus" };
                format!("angle gauge on the {side} frame rail, {pose}")
            }
            (_, Some(kind)) => match self.what.as_deref() {
                Some(what) if what.to_lowercase().contains(kind.words()) => what.to_owned(),
                Some(what) => format!("{}, {what}", kind.words()),
                None => kind.words().to_owned(),
            },
            (_, None) => "wheel centre to the floor".to_owned(),
        }
    }

    /// One word for a table.
    pub(crate) fn short(&self) -> &'static str {
        match self.kind {
            StepKind::Gauge => "gauge",
            StepKind::Hub => "hub",
            StepKind::Height => self.point_kind.map_or("point", PointKind::stem),
            StepKind::Plane => "line",
        }
    }

    /// True for the angle gauge laid across the frame.
    pub(crate) fn across(&self) -> bool {
        matches!(self.place.as_str(), "frame_front" | "frame_rear")
    }

    /// "rear right lip"
    pub(crate) fn brief(&self) -> String {
        match self.kind {
            StepKind::Gauge => {
                let pose = if self.reversed { ", gauge turned" } else { "" };
                let rail = match (self.across(), self.corner.is_front(), self.corner.is_left()) {
                    (true, true, _) => "front cross",
                    (true, false, _) => "rear cross",
                    (false, _, true) => "left rail",
                    (false, _, false) => "right rail",
                };
                format!("{rail} gauge{pose}")
            }
            StepKind::Plane => {
                let point = self.point_kind.map_or("point", PointKind::stem);
                format!("{} {point} from the line", self.corner.words())
            }
            _ => format!("{} {}", self.corner.words(), self.short()),
        }
    }

    /// What to say when this comes after `before`.
    pub(crate) fn as_next(&self, before: &Self) -> String {
        if self.bounce != before.bounce {
            return format!("next: bounce {}, roll and bounce the car first", self.bounce);
        }
        if self.kind == StepKind::Gauge {
            return match (before.kind, self.reversed) {
                (StepKind::Gauge, true) if self.across() => "next: same place, gauge turned".to_owned(),
                (StepKind::Gauge, true) => "next: same rail, gauge turned".to_owned(),
                _ => format!("next: {}", self.brief()),
            };
        }
        if self.kind == StepKind::Plane && before.kind != StepKind::Plane {
            return format!("next: the level line, {}", self.corner.words());
        }
        let point = if self.kind == StepKind::Hub { "hub" } else { self.point_kind.map_or("point", PointKind::words) };
        if self.round != before.round {
            return format!("next: round {}, {}, {point}", self.round, self.corner.words());
        }
        if self.corner == before.corner {
            format!("next: {point}, same {}", if self.kind == StepKind::Hub { "wheel" } else { "corner" })
        } else {
            format!("next: {}, {point}", self.corner.words())
        }
    }
}

/// Every step of a snapshot: as planned, and one for each reading taken once more.
pub(crate) fn steps(snapshot: &SnapshotRecord, plan: &Plan, vehicle: &Vehicle) -> Vec<Step> {
    let mut steps = Vec::new();
    for bounce in 1..=plan.bounces {
        let bounce_id = bounce_id(snapshot, bounce);
        for round in 1..=plan.rounds {
            for corner in WALK {
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
        let rails = [(Corner::FL, "frame_rail_left"), (Corner::FR, "frame_rail_right")];
        let across = [(Corner::FL, "frame_front"), (Corner::RL, "frame_rear")];
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
            for point in WALK.into_iter().flat_map(|corner| points_at(snapshot, plan, vehicle, corner)) {
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

/// The first step not read yet, after `after` first and then from the start.
pub(crate) fn next_unread(steps: &[Step], read: impl Fn(&Step) -> bool, after: usize) -> usize {
    let later = (after + 1..steps.len()).find(|at| !read(&steps[*at]));
    later.or_else(|| (0..steps.len()).find(|at| !read(&steps[*at]))).unwrap_or(steps.len())
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
