//! One step of a walk: what it reads, which readings are its own, and its words.

use crate::plan::Plan;
use crate::wire::StepKind;
use trueground_core::car::PointKind;
use trueground_core::corner::Corner;
use trueground_store::{Reading, ReadingKind};

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
            StepKind::Height | StepKind::Hub | StepKind::HubToLip => {
                taken.kind == ReadingKind::Tape && taken.bounce == self.bounce_id
            }
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
            (StepKind::HubToLip, None) => "wheel centre up to the lip".to_owned(),
            (_, None) => "wheel centre to the floor".to_owned(),
        }
    }

    /// One word for a table.
    pub(crate) fn short(&self) -> &'static str {
        match self.kind {
            StepKind::Gauge => "gauge",
            StepKind::Hub => "hub",
            StepKind::HubToLip => "hub to lip",
            StepKind::Height => self.point_kind.map_or("point", PointKind::stem),
            StepKind::Plane => "line",
        }
    }

    /// True for the angle gauge laid across the frame.
    pub(crate) fn across(&self) -> bool {
        matches!(self.place.as_str(), "frame_front" | "frame_rear")
    }

    /// "frame rail", "hub", "hub to lip", "angle gauge"
    pub(crate) fn plain(&self) -> &'static str {
        match self.kind {
            StepKind::Hub => "hub",
            StepKind::HubToLip => "hub to lip",
            StepKind::Gauge => "angle gauge",
            StepKind::Height | StepKind::Plane => self.point_kind.map_or("point", PointKind::words),
        }
    }

    /// "front left, frame rail, round 1 of 2, bounce 1 of 2"
    pub(crate) fn in_one_line(&self, plan: &Plan) -> String {
        let of = |number: u32, of: u32| if of > 1 { format!("{number} of {of}") } else { number.to_string() };
        let bounce = of(self.bounce, plan.bounces);
        if matches!(self.kind, StepKind::Gauge | StepKind::Plane) {
            return format!("{}, bounce {bounce}", self.brief());
        }
        let round = if self.round > plan.rounds { self.round.to_string() } else { of(self.round, plan.rounds) };
        format!("{}, {}, round {round}, bounce {bounce}", self.corner.words(), self.plain())
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
        let wheel = matches!(self.kind, StepKind::Hub | StepKind::HubToLip);
        let point = self.plain();
        if self.round != before.round {
            return format!("next: round {}, {}, {point}", self.round, self.corner.words());
        }
        if self.corner == before.corner {
            format!("next: {point}, same {}", if wheel { "wheel" } else { "corner" })
        } else {
            format!("next: {}, {point}", self.corner.words())
        }
    }
}
