//! The four heights of a kind against the twist the car is known to have: which slip would explain a departure.

use super::kind::Slip;
use super::noise::ASKED_BEYOND;
use super::{Newest, Then, single};
use crate::Garage;
use crate::step::Step;
use crate::walk_page::{Walk, standing_on};
use crate::wire::{Differs, DiffersFrom, Problem, StepKind};
use crate::words::{capital, whole};
use trueground_core::capture::Floor;
use trueground_core::car::Vehicle;
use trueground_core::corner::{Corner, Corners};
use trueground_core::floor_block;

/// What the ground under a mark departs from the surface through the four spots, mm, k = 1 [common practice, no source].
const GROUND_U_MM: f64 = 1.0;

/// The question, once the last of four is read and they twist more or less than they can by a typical slip.
///
/// # Errors
/// The floor cannot be read.
pub(super) fn question(garage: &Garage, walk: &Walk, newest: &Newest<'_>) -> Result<Option<Differs>, Problem> {
    let Some(kind) = newest.step.point_kind.filter(|_| newest.step.kind == StepKind::Height) else { return Ok(None) };
    let known = walk.vehicle.known_twist_mm.get(&kind).filter(|known| known.until.is_none());
    let Some(known) = known else { return Ok(None) };
    let Some(four) = four(walk, newest.step) else { return Ok(None) };
    // On stands the body may be shimmed any way.
    if walk.snapshot.document["standing"].is_string() {
        return Ok(None);
    }
    let floor = standing_on(garage, walk)?;
    let Some((ground_mm, ground_u)) = floor.and_then(|floor| under_marks(&walk.vehicle, &floor, &four)) else {
        return Ok(None);
    };
    // Where the floor under the marks twists, the tape twists the other way; a bounce moves the body as a whole.
    let should = known.value - ground_mm;
    let departure: f64 = four.iter().map(|(corner, read)| sign(corner) * read.value(walk)).sum::<f64>() - should;
    let u = (4.0 * (walk.noise.reading_mm.powi(2) + GROUND_U_MM.powi(2)) + ground_u.powi(2) + known.u.powi(2)).sqrt();
    if departure.abs() <= ASKED_BEYOND * u {
        return Ok(None);
    }
    Ok(explained(walk, newest, &four, departure, 1.5 * u))
}

/// + at front left and rear right: FL − FR − RL + RR.
fn sign(corner: Corner) -> f64 {
    if corner.is_front() == corner.is_left() { 1.0 } else { -1.0 }
}

/// The four marks of this kind, each read once in this bounce.
fn four<'w>(walk: &'w Walk, step: &Step) -> Option<Corners<Newest<'w>>> {
    let of = |corner: Corner| {
        let mut marks = walk.steps.iter().filter(|mark| {
            mark.bounce == step.bounce
                && mark.kind == step.kind
                && mark.point_kind == step.point_kind
                && mark.corner == corner
                && mark.round == 1
        });
        let mark = marks.next().filter(|_| marks.next().is_none())?;
        single(walk, mark)
    };
    Some(Corners { FL: of(Corner::FL)?, FR: of(Corner::FR)?, RL: of(Corner::RL)?, RR: of(Corner::RR)? })
}

/// Twist of the ground under the four marks, FL − FR − RL + RR, and its u, mm; `None` on a floor that is not levelled. Between the
/// four spots the ground is taken as straight along both ways (bilinear), so that its twist grows with the area between the marks.
fn under_marks(vehicle: &Vehicle, floor: &Floor, four: &Corners<Newest<'_>>) -> Option<(f64, f64)> {
    let own = [vehicle.wheelbase_mm, vehicle.track_front_mm, vehicle.track_rear_mm];
    let size = floor.footprint.map_or(own, |other| [other.wheelbase_mm, other.track_front_mm, other.track_rear_mm]);
    let (twist, u) = match floor.survey.as_ref().and_then(|survey| floor_block::shape(survey, size)) {
        Some(shape) => (shape.twist_mm, shape.twist_u_mm),
        None => (0.0, 2.0 * floor.flat_to_mm?),
    };
    let [wheelbase, front, rear] = size;
    let track = f64::midpoint(front, rear);
    let part = |corner: Corner| {
        let name = &four.at(corner).step.place;
        let point = vehicle.ref_points.iter().find(|point| point.id == *name)?;
        Some(sign(corner) * point.y_mm / track * (0.5 + point.x_mm / wheelbase))
    };
    let share = Corner::ALL.into_iter().map(part).sum::<Option<f64>>()?;
    Some((share * twist, share.abs() * u))
}

/// Names the readings that a typical slip would explain. Swapped digits point at one; a size at two on either side.
fn explained(
    walk: &Walk,
    newest: &Newest<'_>,
    four: &Corners<Newest<'_>>,
    departure: f64,
    within_mm: f64,
) -> Option<Differs> {
    let without = |corner: Corner, read: &Newest<'_>| read.value(walk) - sign(corner) * departure;
    let swapped = four
        .iter()
        .find(|(corner, read)| read.slip(walk, without(*corner, read), within_mm) == Some(Slip::SwappedDigits));
    let kinds = newest.step.point_kind.map_or("Marked points", crate::words::kinds).to_lowercase();
    let more = if departure > 0.0 { "more" } else { "less" };
    let mm = whole(departure.abs());
    let sentence = format!("The four {kinds} twist {mm} mm {more} than this car does.");
    let then = |value| Then { words: String::new(), label: "would fit".to_owned(), value };
    if let Some((corner, read)) = swapped {
        let fits = without(corner, read);
        let pair = format!("{}, {}", read.printed(walk, read.value(walk)), read.printed(walk, fits));
        let hint = format!("{corner}: two digits look swapped: {pair} would fit. Read it again.");
        return Some(read.differs(walk, DiffersFrom::KnownTwist, sentence, hint, &then(fits)));
    }
    let slip = Slip::between(0.0, departure.abs(), walk.plan.tape, within_mm)?;
    let (over, under) = if departure > 0.0 { (["FL", "RR"], ["FR", "RL"]) } else { (["FR", "RL"], ["FL", "RR"]) };
    let hint = format!(
        "{} too much at {}, or too little at {}, would explain it. Read {} again.",
        capital(slip.size()),
        over.join(" or "),
        under.join(" or "),
        newest.step.corner
    );
    let fits = without(newest.step.corner, newest);
    Some(newest.differs(walk, DiffersFrom::KnownTwist, sentence, hint, &then(fits)))
}
