//! Which points two snapshots have in common, and why they have none.

use super::Why;
use crate::capture::{CarFile, Snapshot};
use crate::car::PointKind;
use crate::corner::Corner;
use std::collections::BTreeSet;

/// Names of points that were read on the car and count.
pub(super) fn points(snapshot: &Snapshot) -> BTreeSet<&str> {
    let tapes = snapshot.bounces.iter().flat_map(|bounce| &bounce.readings).filter(|reading| reading.struck.is_none());
    let tapes = tapes.map(|reading| reading.point.as_str());
    let planes = snapshot.plane_on_car.iter().flat_map(|pass| &pass.readings);
    let planes = planes.filter(|reading| reading.struck.is_none()).map(|reading| reading.point.as_str());
    let bare = |name: &'_ str| ["on:", "hub_to:"].into_iter().find_map(|word| name.strip_prefix(word)).map(str::len);
    tapes.chain(planes).map(|name| &name[name.len() - bare(name).unwrap_or(name.len())..]).collect()
}

/// Kinds of the reference points among these names, in the order in which kinds are shown.
pub(super) fn kinds(file: &CarFile, names: &BTreeSet<&str>) -> Vec<PointKind> {
    let is_there = |kind: &PointKind| {
        file.vehicle.ref_points.iter().any(|point| point.kind == *kind && names.contains(point.id.as_str()))
    };
    PointKind::ALL.into_iter().filter(is_there).collect()
}

/// Why two sets of points have none in common.
pub(super) fn nothing_common(file: &CarFile, before: &BTreeSet<&str>, after: &BTreeSet<&str>) -> (Why, String) {
    let (then, now) = (kinds(file, before), kinds(file, after));
    let words = |kinds: &[PointKind]| {
        let words: Vec<&str> = kinds.iter().map(|kind| kind.words()).collect();
        crate::wording::listed(&words)
    };
    if then.is_empty() || now.is_empty() {
        let which = if now.is_empty() { "In this one" } else { "In the one before it" };
        return (Why::NoCommonPoint, format!("{which} no point of the car was read."));
    }
    if let Some(kind) = then.iter().find(|kind| now.contains(kind)) {
        let corners = |names: &BTreeSet<&str>| -> BTreeSet<Corner> {
            let of_kind = file.vehicle.ref_points.iter().filter(|point| point.kind == *kind);
            of_kind.filter(|point| names.contains(point.id.as_str())).map(|point| point.corner).collect()
        };
        if !corners(before).is_disjoint(&corners(after)) {
            let sentence = format!("Other marks of the {} were read in the one before it.", kind.words());
            return (Why::MarksAnew, sentence);
        }
        let sentence = format!("Both have the {}, but no corner was read in both.", words(&then));
        return (Why::NoCommonPoint, sentence);
    }
    let sentence = format!("Another kind of point: {} now, {} before.", words(&now), words(&then));
    (Why::AnotherKind, sentence)
}
