//! What is read on a walk round the car, numbered in walking order: at each corner its points, then the hub.

use super::prose;
use crate::plan::WALK;
use trueground_core::car::{PointKind, RefPoint, Vehicle};
use trueground_core::corner::Corner;

/// One place where the tape goes.
pub(crate) struct Mark {
    /// 1, 2, … in walking order; the same in the picture and in every table.
    pub(crate) number: usize,
    pub(super) corner: Corner,
    /// `rail.FR`, `hub.FL`; of a line to name one, empty.
    pub(crate) place: String,
    /// In a word or two: "fender lip", "hub".
    pub(super) brief: &'static str,
    /// As the person described it: "frame rail, painted mark".
    pub(crate) words: String,
    /// Ahead of the front axle, mm.
    pub(super) x_mm: f64,
    /// Left of the centre plane, mm.
    pub(super) y_mm: f64,
}

/// Every mark of a car. A car without points has a line to name one at each corner.
pub(crate) fn marks(vehicle: &Vehicle) -> Vec<Mark> {
    let mut marks = Vec::new();
    for corner in WALK {
        let (x_mm, y_mm) = hub(vehicle, corner);
        let mut add = |place, brief, words, x_mm, y_mm| {
            marks.push(Mark { number: marks.len() + 1, corner, place, brief, words, x_mm, y_mm });
        };
        for kind in PointKind::ALL {
            let here = |point: &&RefPoint| point.kind == kind && point.corner == corner && !point.retired;
            for point in vehicle.ref_points.iter().filter(here) {
                add(point.id.clone(), kind.words(), in_words(kind, point.what.as_deref()), point.x_mm, point.y_mm);
            }
        }
        if vehicle.ref_points.is_empty() {
            add(String::new(), "your mark", "mark:".to_owned(), x_mm, y_mm * 0.5);
        }
        add(format!("hub.{corner}"), "hub", "hub: wheel centre to the floor".to_owned(), x_mm, y_mm);
    }
    marks
}

/// Middle of a wheel: ahead of the front axle and left of the centre plane, mm.
pub(super) fn hub(vehicle: &Vehicle, corner: Corner) -> (f64, f64) {
    let (x, track) =
        if corner.is_front() { (0.0, vehicle.track_front_mm) } else { (-vehicle.wheelbase_mm, vehicle.track_rear_mm) };
    (x, if corner.is_left() { track / 2.0 } else { -track / 2.0 })
}

fn in_words(kind: PointKind, what: Option<&str>) -> String {
    match what.filter(|what| !what.trim().is_empty()) {
        Some(what) if what.to_lowercase().contains(kind.words()) => prose(what),
        Some(what) => format!("{}, {}", kind.words(), prose(what)),
        None => kind.words().to_owned(),
    }
}
