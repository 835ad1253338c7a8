//! How a snapshot is walked: what is read, how often, in which order, and what was skipped.

use crate::wire::{LevelLine, TapeUnit, WalkOrder};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use trueground_core::car::{PointKind, Vehicle};
use trueground_core::corner::Corner;
use trueground_store::{NewReading, ReadingKind, SnapshotRecord};

/// Round the car, front left first, as a person walks.
pub(crate) const WALK: [Corner; 4] = [Corner::FL, Corner::FR, Corner::RR, Corner::RL];

/// The corners in walking order.
pub(crate) fn corners(order: WalkOrder) -> [Corner; 4] {
    let mut corners = WALK;
    if !order.clockwise {
        corners.reverse();
    }
    let first = corners.iter().position(|corner| *corner == order.start).unwrap_or_default();
    corners.rotate_left(first);
    corners
}

/// Steps that were skipped at one go, or taken up again at one go.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Skip {
    /// Names of the steps.
    pub(crate) steps: Vec<String>,
    /// True where they were taken up again.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub(crate) undone: bool,
    /// How many things had happened to the readings before.
    pub(crate) after: usize,
}

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
    #[serde(default)]
    pub(crate) hub_to_lip: bool,
    #[serde(default)]
    pub(crate) order: WalkOrder,
    pub(crate) tape: TapeUnit,
    /// When the readings of a filled booking sheet were read, `YYYY-MM-DDTHH:MM:SS+HH:MM`; absent: it is walked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub(crate) sheet_read_at: Option<String>,
    /// What was skipped, and what was taken up again, in the order it happened. Only ever added to.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub(crate) skips: Vec<Skip>,
    /// Half-typed text by the name of its step, for steps that were left before it was taken.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub(crate) half_typed: BTreeMap<String, String>,
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
            hub_to_lip: tapes().any(|taken| taken.place.starts_with("hub_to:")),
            order: WalkOrder::default(),
            skips: Vec::new(),
            half_typed: BTreeMap::new(),
            sheet_read_at: None,
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

#[cfg(test)]
mod tests {
    use super::*;
    use Corner::{FL, FR, RL, RR};

    #[test]
    fn a_walk_begins_at_any_corner_and_goes_either_way() {
        for (start, clockwise, expected) in [
            (FL, true, [FL, FR, RR, RL]),
            (RR, true, [RR, RL, FL, FR]),
            (FL, false, [FL, RL, RR, FR]),
            (RR, false, [RR, FR, FL, RL]),
        ] {
            assert_eq!(corners(WalkOrder { start, clockwise }), expected);
        }
    }
}
