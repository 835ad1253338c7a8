//! The targets of a car: each with its picture and what it wants in a sentence, and the form that changes it.

use crate::side::of_lines;
use crate::target_form::OfSnapshot;
use crate::wire::{
    FieldProblem, LimitForm, Problem, SideView, TapeUnit, TargetChoice, TargetForm, TargetPoint, TargetRow, TargetWay,
    TargetsView,
};
use crate::words::{capital, counted, day, whole};
use crate::{Garage, snapshot_row, solved};
use std::collections::BTreeMap;
use trueground_core::capture::CarFile;
use trueground_core::car::{PointKind, Vehicle};
use trueground_core::corner::{Corner, Corners};
use trueground_core::stance::{Figure, Known, Line};
use trueground_core::target::{End, Limit, Made, Target, snapshot_heights};
use trueground_core::tire::{Measured, dimensions, read_marking};
use trueground_core::wording::shown;
use trueground_store::StoreError;
use uuid::Uuid;

/// What a target is called in the car's file.
pub(crate) fn find(file: &CarFile, name: &str) -> Result<Target, Problem> {
    let found = all(file).into_iter().find(|target| target.id == name);
    found.ok_or_else(|| StoreError::NotFound { what: "target", id: shown(name) }.into())
}

/// Every target that is not replaced, put away or not.
fn all(file: &CarFile) -> Vec<Target> {
    let without_marks = CarFile { target_marks: Vec::new(), ..file.clone() };
    Target::offered(&without_marks)
}

/// The page.
///
/// # Errors
/// The car cannot be read.
pub(crate) fn page(
    garage: &mut Garage,
    car: Uuid,
    kept: Option<String>,
    mut said: Vec<String>,
) -> Result<TargetsView, Problem> {
    let file = garage.store.with_targets(car)?;
    if let Some(Err(unreadable)) = Target::only(&file) {
        said.push(format!(
            "The target that came with this car\u{2019}s file cannot be read and is left out. {unreadable}."
        ));
    }
    let offered = Target::offered(&file);
    let is_offered = |target: &Target| offered.iter().any(|known| known.id == target.id);
    let tape = garage.settings()?.tape;
    let row = |target: &Target| row(car, &file.vehicle, target, tape);
    let mut rows: Vec<TargetRow> = offered.iter().map(row).collect();
    rows.reverse();
    let put_away = all(&file).iter().filter(|target| !is_offered(target)).map(row).collect();
    let (points, blank) = (points(&file.vehicle), blank(car, &file.vehicle, tape));
    let own = car;
    let cars = garage.store.cars()?.into_iter().filter(|head| head.id != own);
    let cars = cars.map(|head| TargetChoice { id: head.id.to_string(), words: head.label }).collect();
    Ok(TargetsView {
        car: car.to_string(),
        rows,
        put_away,
        kept,
        said,
        blank,
        points,
        snapshots: snapshots(garage, car)?,
        cars,
    })
}

/// A refusal of the engine, in sentences.
pub(crate) fn refused(error: trueground_core::level::Problem) -> Problem {
    let ended = |text: &str| format!("{}{}", capital(text), if text.ends_with(['.', '?']) { "" } else { "." });
    Problem::new("target_refused", ended(error.message()), ended(error.hint()))
}

fn snapshots(garage: &mut Garage, car: Uuid) -> Result<Vec<TargetChoice>, Problem> {
    let solved = solved::car(garage, car, None)?;
    let mut choices = Vec::new();
    for (id, name, finished) in garage.store.snapshots(car)?.into_iter().rev() {
        let Some(snapshot) = solved.snapshot(&name).filter(|snapshot| finished && snapshot.on_wheels()) else {
            continue;
        };
        let row = snapshot_row::row(&solved, id, snapshot, None);
        choices.push(TargetChoice { id: row.snapshot, words: format!("{}, {}", day(&row.date), row.floor) });
    }
    Ok(choices)
}

/// The nominal heights of a snapshot by its id, or what is wrong at the field `snapshot`; nothing where none is chosen.
///
/// # Errors
/// The garage cannot be read.
pub(crate) fn of_snapshot(garage: &mut Garage, car: Uuid, form: &TargetForm) -> Result<OfSnapshot, Problem> {
    if form.way != TargetWay::Snapshot || form.snapshot.is_empty() {
        return Ok(None);
    }
    let record = garage.store.snapshot(garage.find("snapshot", &form.snapshot)?)?;
    let solved = solved::car(garage, car, Some(&record.name))?;
    let heights = solved.solution.as_ref().map_err(Clone::clone);
    let heights = heights.and_then(|solution| snapshot_heights(&solved.file, solution, &record.name).map_err(refused));
    let date = solved.snapshot(&record.name).map(|snapshot| snapshot.date.clone()).unwrap_or_default();
    Ok(Some(match heights {
        Ok(heights) => Ok((heights, Made::Snapshot { snapshot: record.name, date })),
        Err(Problem { sentence, hint, .. }) => {
            let field = "snapshot".to_owned();
            Err(FieldProblem { field, typed: String::new(), sentence, hint, proposals: Vec::new() })
        }
    }))
}

fn points(vehicle: &Vehicle) -> Vec<TargetPoint> {
    let present = vehicle.ref_points.iter().filter(|point| !point.retired);
    let point = present.map(|point| TargetPoint {
        point: point.id.clone(),
        kind: point.kind,
        corner: point.corner,
        words: capital(point.kind.words()),
    });
    point.collect()
}

fn row(car: Uuid, vehicle: &Vehicle, target: &Target, tape: TapeUnit) -> TargetRow {
    let kind = shown_kind(vehicle, target);
    TargetRow {
        target: target.id.clone(),
        label: if target.label.is_empty() { "Target".to_owned() } else { target.label.clone() },
        what: what(target),
        made: made(target),
        side: kind.and_then(|kind| side(vehicle, target, kind)),
        rake_deg: kind.and_then(|kind| target.rake_of(vehicle, kind)),
        form: form(car, vehicle, target, tape),
    }
}

/// "4 heights, ±6 mm; 1 limit".
pub(crate) fn what(target: &Target) -> String {
    let mut parts = Vec::new();
    if !target.heights_mm.is_empty() {
        let tolerances: Vec<f64> = target.heights_mm.keys().map(|point| target.tolerance_of(point)).collect();
        let (least, most) = tolerances.iter().fold((f64::MAX, 0.0_f64), |(a, b), mm| (a.min(*mm), b.max(*mm)));
        let band =
            if whole(least) == whole(most) { whole(most) } else { format!("{} to {}", whole(least), whole(most)) };
        parts.push(format!("{}, \u{b1}{band} mm", counted(target.heights_mm.len(), "height", "heights")));
    }
    if !target.limits.is_empty() {
        parts.push(counted(target.limits.len(), "limit", "limits"));
    }
    if parts.is_empty() {
        parts.push("a rake".to_owned());
    }
    capital(&parts.join("; "))
}

pub(crate) fn made(target: &Target) -> String {
    let when = target.since.as_deref().map(|date| format!(", {}", day(date))).unwrap_or_default();
    match &target.made {
        Some(Made::Typed) => format!("Typed{when}."),
        Some(Made::Snapshot { date, .. }) => format!("From the snapshot of {}.", day(date)),
        Some(Made::RakeAndHeight) => format!("From a rake and one height{when}."),
        Some(Made::Silhouette) => format!("From tires and the lowest rail{when}."),
        Some(Made::Car { car, .. }) => format!("From {}{when}.", shown(car)),
        None => format!("From the car\u{2019}s file{when}."),
    }
}

/// The kind whose line is drawn: frame rails first, and one that is wanted at both ends.
pub(crate) fn shown_kind(vehicle: &Vehicle, target: &Target) -> Option<PointKind> {
    let both = |kind: PointKind| {
        target.mean_mm(vehicle, kind, End::Front).is_some() && target.mean_mm(vehicle, kind, End::Rear).is_some()
    };
    let first = [PointKind::FrameRail, PointKind::FenderLip];
    first.into_iter().chain(PointKind::ALL).find(|kind| both(*kind))
}

/// The car as the target wants it, on the target's tires where it names some.
pub(crate) fn side(vehicle: &Vehicle, target: &Target, kind: PointKind) -> Option<SideView> {
    let told = |value: Option<f64>| Figure { value, u: None, known: Known::Assumed, band_if: None };
    let lines: BTreeMap<String, Line> = PointKind::ALL
        .into_iter()
        .filter_map(|kind| {
            let front = target.mean_mm(vehicle, kind, End::Front)?;
            let rear = target.mean_mm(vehicle, kind, End::Rear)?;
            let line = Line {
                front_mean_mm: told(Some(front)),
                rear_mean_mm: told(Some(rear)),
                rake_mm: told(Some(rear - front)),
                rake_deg: told(target.rake_of(vehicle, kind)),
                front_left_minus_right_mm: told(None),
                rear_left_minus_right_mm: told(None),
                twist_mm: told(None),
                lean_mm: told(None),
            };
            Some((kind.code().to_owned(), line))
        })
        .collect();
    let mut view = of_lines(&on_its_tires(vehicle, target), &lines, kind)?;
    view.text = format!("Wanted: {}", view.text);
    Some(view)
}

fn on_its_tires(vehicle: &Vehicle, target: &Target) -> Vehicle {
    let mut vehicle = vehicle.clone();
    let (Some(tires), Some(wanted)) = (&vehicle.tires, &target.tires) else { return vehicle };
    vehicle.tires = Some(Corners::from_fn(|corner| {
        let mut tire = tires.at(corner).clone();
        let marking = if corner.is_front() { &wanted.front } else { &wanted.rear };
        if tire.designation.trim() != marking.trim()
            && let Ok(read) = read_marking(marking)
        {
            let sizes = dimensions(&read, &Measured::default());
            tire.designation.clone_from(marking);
            (tire.free_diameter_mm, tire.rim_diameter_mm) = (sizes.diameter_mm.value, sizes.rim_diameter_mm.value);
        }
        tire
    }));
    vehicle
}

/// An empty form.
fn blank(car: Uuid, vehicle: &Vehicle, tape: TapeUnit) -> TargetForm {
    let present: Vec<_> = vehicle.ref_points.iter().filter(|point| !point.retired).collect();
    let rails = present.iter().any(|point| point.kind == PointKind::FrameRail);
    let first = present.first().map_or(PointKind::FrameRail, |point| point.kind);
    let tires = |corner| vehicle.tires.as_ref().map(|tires| tires.at(corner).designation.clone()).unwrap_or_default();
    TargetForm {
        car: car.to_string(),
        target: None,
        label: String::new(),
        way: TargetWay::Typed,
        tape,
        heights: BTreeMap::new(),
        snapshot: String::new(),
        kind: if rails { PointKind::FrameRail } else { first },
        end: End::Front,
        height: String::new(),
        rake: String::new(),
        tire_front: tires(Corner::FL),
        tire_rear: tires(Corner::RL),
        lowest_rail: String::new(),
        tolerance: String::new(),
        tolerances: BTreeMap::new(),
        rake_tolerance: String::new(),
        side_to_side: String::new(),
        limits: Vec::new(),
        note: String::new(),
    }
}

/// The form as it was typed, or one that would make the same target.
fn form(car: Uuid, vehicle: &Vehicle, target: &Target, tape: TapeUnit) -> TargetForm {
    let typed = target.extra.get("form").cloned().and_then(|form| serde_json::from_value::<TargetForm>(form).ok());
    if let Some(typed) = typed {
        return TargetForm { car: car.to_string(), target: Some(target.id.clone()), ..typed };
    }
    let digits = |value: f64| (value * 1e6).round() / 1e6;
    // A bare number is in the tape's unit; mm with their unit are read by every tape.
    let mm = |value: f64| match tape {
        TapeUnit::Mm => format!("{}", digits(value)),
        _ => format!("{} mm", digits(value)),
    };
    let optional = |value: Option<f64>| value.map(mm).unwrap_or_default();
    let degrees = |value: Option<f64>| value.map(|deg| format!("{}", digits(deg))).unwrap_or_default();
    let by_point = |all: &BTreeMap<String, f64>| all.iter().map(|(point, value)| (point.clone(), mm(*value))).collect();
    TargetForm {
        target: Some(target.id.clone()),
        label: target.label.clone(),
        way: if target.heights_mm.is_empty() { TargetWay::Limits } else { TargetWay::Typed },
        heights: by_point(&target.heights_mm),
        tolerance: mm(target.tolerance_mm),
        tolerances: by_point(&target.tolerances_mm),
        rake_tolerance: degrees(target.rake_tolerance_deg),
        side_to_side: optional(target.side_to_side_tolerance_mm),
        limits: target.limits.iter().map(|limit| limit_form(vehicle, limit, &optional)).collect(),
        note: target.note.clone(),
        ..blank(car, vehicle, tape)
    }
}

fn limit_form(vehicle: &Vehicle, limit: &Limit, typed: &impl Fn(Option<f64>) -> String) -> LimitForm {
    let named = vehicle.ref_points.iter().filter(|point| limit.points.contains(&point.id));
    let corners: Vec<_> = named.clone().map(|point| point.corner).collect();
    let kind = named.clone().next().map_or(PointKind::FrameRail, |point| point.kind);
    let end = [End::Front, End::Rear].into_iter().find(|end| corners.iter().all(|corner| end.has(*corner)));
    LimitForm {
        kind,
        end,
        points: limit.points.clone(),
        lowest: typed(limit.lowest_mm),
        highest: typed(limit.highest_mm),
        rule: limit.rule,
        says: limit.says.clone(),
    }
}
