//! The marks of a car: from the pairs of its form to points, and back. A mark keeps its name for good, since readings hang on it.

use crate::car_form::Kept;
use crate::fields::Fields;
use crate::wire::{CarForm, PointForm, PointsForm, TapeUnit};
use serde_json::Map;
use trueground_core::car::{PointKind, RefPoint, Vehicle};
use trueground_core::corner::Corner;

/// Nothing is typed finer than this, mm.
const SAME_MM: f64 = 1e-5;
/// Along the car, from the front axle back.
const ALONG_MM: std::ops::RangeInclusive<f64> = -2_000.0..=12_000.0;
/// Nothing on a road car is farther from its middle, mm.
const ASIDE_MM: f64 = 2_500.0;
const NARROWEST_MM: f64 = 5.0;

/// The points of a form, in the order of the earlier description, new ones last. Kinds that the form does not name and further
/// marks of a kind at a corner stay, and so does whatever of a pair was not typed anew: left and right need not mirror each
/// other then. Marks at the rear go with the rear axle, since that is where they are measured from.
pub(crate) fn of_form(
    fields: &mut Fields,
    form: &CarForm,
    wheelbase: Option<f64>,
    kept: Kept<'_>,
    before: Option<&CarForm>,
) -> Vec<RefPoint> {
    let earlier = kept.vehicle;
    if form.points.iter().all(|pair| pair.retired) && form.further.iter().all(|mark| mark.retired) {
        let hint = "Choose frame rails, fender lips or another point that is marked on both sides, front and rear.";
        fields.refuse("points", "", "No point to measure to is chosen.", hint);
    }
    let mut points = earlier.map(|vehicle| vehicle.ref_points.clone()).unwrap_or_default();
    let grown = earlier.zip(wheelbase).map_or(0.0, |(vehicle, wheelbase)| wheelbase - vehicle.wheelbase_mm);
    let moved = grown.abs() > SAME_MM;
    if moved {
        for point in points.iter_mut().filter(|point| !point.corner.is_front()) {
            point.x_mm -= grown;
        }
    }
    for (number, pair) in form.points.iter().enumerate() {
        if form.points[..number].iter().any(|other| other.kind == pair.kind) {
            let sentence = format!("The {} stands here twice.", pair.kind.words());
            fields.refuse(&format!("points.{number}.kind"), pair.kind.code(), &sentence, "Take one of the two away.");
            continue;
        }
        let was = before.and_then(|form| form.points.iter().find(|was| was.kind == pair.kind));
        if moved || was != Some(pair) {
            place(&mut points, fields, number, pair, was, form.tape, wheelbase);
        }
    }
    for (number, mark) in form.further.iter().enumerate() {
        let was = before.and_then(|form| form.further.iter().find(|was| !was.id.is_empty() && was.id == mark.id));
        if was != Some(mark) {
            alone(&mut points, fields, number, mark, form.tape);
        }
    }
    leave_out(&mut points, form, kept);
    points
}

/// Marks that are no longer read stay where readings hang on them, and go where none does.
fn leave_out(points: &mut Vec<RefPoint>, form: &CarForm, kept: Kept<'_>) {
    let alone = |point: &RefPoint| form.further.iter().find(|mark| mark.id == point.id);
    for point in points.iter_mut() {
        let pair = || form.points.iter().find(|pair| pair.kind == point.kind);
        if let Some(retired) = alone(point).map(|mark| mark.retired).or_else(|| pair().map(|pair| pair.retired)) {
            point.retired = retired;
        }
    }
    let read = |point: &RefPoint| kept.read.is_some_and(|read| read.contains_key(&point.id));
    points.retain(|point| !point.retired || read(point));
}

/// One mark that stands alone, placed anew; a new one gets its name here.
fn alone(points: &mut Vec<RefPoint>, fields: &mut Fields, number: usize, mark: &PointForm, tape: TapeUnit) {
    let name = |field: &str| format!("further.{number}.{field}");
    let along = "the distance of a mark from the front axle";
    let behind = fields.signed_length(&name("behind_front_axle"), along, &mark.behind_front_axle, tape, ALONG_MM);
    let aside = "the distance of a mark from the middle of the car";
    let out = if mark.kind == PointKind::Other {
        fields.signed_length(&name("from_middle"), aside, &mark.from_middle, tape, -ASIDE_MM..=ASIDE_MM)
    } else {
        fields.length(&name("from_middle"), aside, &mark.from_middle, tape, NARROWEST_MM..=ASIDE_MM)
    };
    let what = mark.what.trim();
    let words = if what.is_empty() { None } else { fields.label(&name("what"), "The mark", what) };
    if mark.kind == PointKind::Other && what.is_empty() {
        let hint = "Say where it is: battery tray, front edge.";
        fields.refuse(&name("what"), &mark.what, "A mark of another sort has no name yet.", hint);
    }
    let (Some(behind), Some(out)) = (behind, out) else { return };
    let (x_mm, y_mm) = (0.0 - behind, if mark.corner.is_left() { out } else { 0.0 - out });
    match points.iter_mut().find(|point| point.id == mark.id) {
        Some(point) => (point.x_mm, point.y_mm, point.what) = (x_mm, y_mm, words),
        None => points.push(RefPoint {
            id: new_id(points, mark.kind, mark.corner),
            corner: mark.corner,
            kind: mark.kind,
            x_mm,
            y_mm,
            what: words,
            retired: mark.retired,
            extra: Map::new(),
        }),
    }
}

/// Marks that no pair of the form stands for.
pub(crate) fn further(vehicle: &Vehicle, mm: impl Fn(f64) -> String) -> Vec<PointForm> {
    let paired = pairs(vehicle, &mm);
    let in_pair = |point: &RefPoint| {
        paired.iter().any(|pair| pair.kind == point.kind)
            && first(&vehicle.ref_points, point.kind, point.corner).is_some_and(|first| first.id == point.id)
    };
    let alone = |point: &RefPoint| PointForm {
        id: point.id.clone(),
        corner: point.corner,
        kind: point.kind,
        behind_front_axle: mm(0.0 - point.x_mm),
        from_middle: mm(if point.corner.is_left() { point.y_mm } else { 0.0 - point.y_mm }),
        what: point.what.clone().unwrap_or_default(),
        retired: point.retired,
    };
    vehicle.ref_points.iter().filter(|point| !in_pair(point)).map(alone).collect()
}

/// The form without marks that went, and with the names of those that came.
pub(crate) fn without_gone(form: &CarForm, vehicle: &Vehicle) -> CarForm {
    let there = |kind: PointKind| vehicle.ref_points.iter().any(|point| point.kind == kind);
    let mut form = form.clone();
    form.points.retain(|pair| there(pair.kind));
    let named = |mark: &PointForm| !mark.id.is_empty() && vehicle.ref_points.iter().any(|point| point.id == mark.id);
    let typed: Vec<PointForm> = form.further.into_iter().filter(|mark| named(mark)).collect();
    let known = |point: &PointForm| typed.iter().find(|mark| mark.id == point.id).cloned();
    let mm = |value: f64| format!("{} mm", (value * 1e6).round() / 1e6);
    form.further = further(vehicle, mm).into_iter().map(|mark| known(&mark).unwrap_or(mark)).collect();
    form
}

/// The pairs of a vehicle; a kind that is not marked at all four corners has none.
pub(crate) fn pairs(vehicle: &Vehicle, mm: impl Fn(f64) -> String) -> Vec<PointsForm> {
    let pair = |kind: PointKind| {
        let at = |corner| first(&vehicle.ref_points, kind, corner);
        let (front_left, rear_left) = (at(Corner::FL)?, at(Corner::RL)?);
        Some(PointsForm {
            kind,
            front_behind_axle: mm(0.0 - front_left.x_mm),
            front_apart: mm(front_left.y_mm - at(Corner::FR)?.y_mm),
            rear_ahead_of_axle: mm(rear_left.x_mm + vehicle.wheelbase_mm),
            rear_apart: mm(rear_left.y_mm - at(Corner::RR)?.y_mm),
            what: front_left.what.clone().unwrap_or_default(),
            retired: front_left.retired,
        })
    };
    PointKind::ALL.into_iter().filter_map(pair).collect()
}

fn first(points: &[RefPoint], kind: PointKind, corner: Corner) -> Option<&RefPoint> {
    points.iter().find(|point| point.kind == kind && point.corner == corner)
}

fn place(
    points: &mut Vec<RefPoint>,
    fields: &mut Fields,
    number: usize,
    pair: &PointsForm,
    was: Option<&PointsForm>,
    tape: TapeUnit,
    wheelbase: Option<f64>,
) {
    let along = -2_000.0..=wheelbase.unwrap_or(10_000.0);
    let apart = 100.0..=3_000.0;
    let name = |field: &str| format!("points.{number}.{field}");
    let place = "the distance of a mark from its axle";
    let width = "the distance from left mark to right mark";
    let front_x = fields.signed_length(&name("front_behind_axle"), place, &pair.front_behind_axle, tape, along.clone());
    let front_y = fields.length(&name("front_apart"), width, &pair.front_apart, tape, apart.clone());
    let rear_x = fields.signed_length(&name("rear_ahead_of_axle"), place, &pair.rear_ahead_of_axle, tape, along);
    let rear_y = fields.length(&name("rear_apart"), width, &pair.rear_apart, tape, apart);
    let (Some(front_x), Some(front_y), Some(rear_x), Some(rear_y), Some(wheelbase)) =
        (front_x, front_y, rear_x, rear_y, wheelbase)
    else {
        return;
    };
    if front_x + rear_x >= wheelbase {
        let sentence = "The front marks lie behind the rear marks.";
        let hint = "Measure the front mark back from the front axle, and the rear mark forward from the rear axle.";
        fields.refuse(&name("rear_ahead_of_axle"), &pair.rear_ahead_of_axle, sentence, hint);
        return;
    }
    let what = Some(pair.what.trim().to_owned()).filter(|what| !what.is_empty());
    let what_is_new = was.is_none_or(|was| was.what.trim() != pair.what.trim());
    for [left, right] in [[Corner::FL, Corner::FR], [Corner::RL, Corner::RR]] {
        let (x_mm, width) = if left.is_front() { (0.0 - front_x, front_y) } else { (rear_x - wheelbase, rear_y) };
        let kept = first(points, pair.kind, left).zip(first(points, pair.kind, right));
        let same_x = kept.is_some_and(|(left, _)| (left.x_mm - x_mm).abs() < SAME_MM);
        let same_y = kept.is_some_and(|(left, right)| (left.y_mm - right.y_mm - width).abs() < SAME_MM);
        for corner in [left, right] {
            let y_mm = if corner.is_left() { width / 2.0 } else { -width / 2.0 };
            match points.iter_mut().find(|point| point.kind == pair.kind && point.corner == corner) {
                Some(point) => {
                    if !same_x {
                        point.x_mm = x_mm;
                    }
                    if !same_y {
                        point.y_mm = y_mm;
                    }
                    if what_is_new {
                        point.what.clone_from(&what);
                    }
                }
                None => points.push(RefPoint {
                    id: new_id(points, pair.kind, corner),
                    corner,
                    kind: pair.kind,
                    x_mm,
                    y_mm,
                    what: what.clone(),
                    retired: false,
                    extra: Map::new(),
                }),
            }
        }
    }
}

/// `rail.FL`, or `rail.FL.2` where another mark has that name.
fn new_id(points: &[RefPoint], kind: PointKind, corner: Corner) -> String {
    let id = format!("{}.{corner}", kind.stem());
    let free = |id: &String| points.iter().all(|point| point.id != *id);
    if free(&id) {
        return id;
    }
    (2..).map(|number| format!("{id}.{number}")).find(free).unwrap_or(id)
}
