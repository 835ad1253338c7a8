//! The car as a gauge: its own twist, found on a levelled floor, kept for floors that nobody levelled.

use crate::wire::{TwistOffer, TwistView};
use crate::words::{band_mm, day, kinds, known, whole};
use trueground_core::capture::{Floor, Snapshot};
use trueground_core::car::{KnownTwist, PointKind, Vehicle};
use trueground_core::stance::{Known, SnapshotStance};

/// What of a snapshot may be kept: twists that its own levelled floor tells, or the points from a level line, of marks at all four
/// corners.
pub(crate) fn offers(
    vehicle: &Vehicle,
    snapshot: &Snapshot,
    stance: &SnapshotStance,
    floor: Option<&Floor>,
) -> Vec<TwistOffer> {
    if !floor.is_some_and(Floor::all_spots_levelled) && snapshot.plane_on_car.is_empty() {
        return Vec::new();
    }
    let offer = |kind: PointKind| {
        let twist = stance.lines.get(kind.code())?.twist_mm;
        let (value, u) = known(&twist).filter(|_| twist.known == Known::Measured)?;
        let kept = vehicle.known_twist_mm.get(&kind);
        let here = kept.is_some_and(|kept| kept.snapshot.as_deref() == Some(&snapshot.id) && kept.until.is_none());
        Some(TwistOffer { kind: kind.code().to_owned(), words: size(kind, value, u), kept: here })
    };
    PointKind::ALL.into_iter().filter_map(offer).collect()
}

/// Which kept twists a snapshot leans on, and what they make of its floor; empty where it leans on none.
pub(crate) fn used(vehicle: &Vehicle, snapshot: &Snapshot, stance: &SnapshotStance, floor: Option<&Floor>) -> String {
    let levelled = floor.is_some_and(Floor::all_spots_levelled);
    let leans = |(kind, kept): (&PointKind, &KnownTwist)| {
        let read = stance.lines.get(kind.code()).is_some_and(|line| line.twist_mm.value.is_some());
        let holds = kept.holds_for(&snapshot.id, &snapshot.date) && (kept.snapshot.is_none() || !levelled);
        (read && holds).then(|| format!("{}{}", size(*kind, kept.value, kept.u), since(kept)))
    };
    let sentences: Vec<String> = vehicle.known_twist_mm.iter().filter_map(leans).collect();
    if sentences.is_empty() {
        return String::new();
    }
    let of_floor = known(&stance.floor.twist_mm).map(|(value, u)| {
        format!(" This floor\u{2019}s twist comes out as {} mm, ±{}.", whole(value.abs()), whole(band_mm(u)))
    });
    format!(
        "The car is the gauge here, nobody levelled the floor. {}.{} Left and right hang on it.",
        sentences.join("; "),
        of_floor.unwrap_or_default()
    )
}

/// What is kept, for the car's page.
pub(crate) fn views(vehicle: &Vehicle) -> Vec<TwistView> {
    let view = |(kind, kept): (&PointKind, &KnownTwist)| TwistView {
        kind: kind.code().to_owned(),
        sentence: format!("{}{}.", size(*kind, kept.value, kept.u), since(kept)),
        ended: match (&kept.until, &kept.ended_by) {
            (Some(until), why) => {
                let why = why.as_deref().map(|why| format!(", {why}")).unwrap_or_default();
                format!("Not used since {}{why}. Keep a new one from a levelled floor.", day(until))
            }
            (None, _) => String::new(),
        },
    };
    vehicle.known_twist_mm.iter().map(view).collect()
}

/// "Frame rails: 4 mm ± 3" with its sense in words.
fn size(kind: PointKind, value: f64, u: f64) -> String {
    let band = whole(band_mm(u));
    let size = whole(value.abs());
    if size == "0" {
        return format!("{}: no twist, ±{band}", kinds(kind));
    }
    let high = if value > 0.0 { "front left and rear right high" } else { "front right and rear left high" };
    format!("{}: {size} mm, ±{band}, {high}", kinds(kind))
}

fn since(kept: &KnownTwist) -> String {
    kept.date.as_deref().map(|date| format!(", from {}", day(date))).unwrap_or_default()
}
