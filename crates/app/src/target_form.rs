//! The form of a target: from what was typed to what is wanted.

use crate::car_form;
use crate::fields::Fields;
use crate::wire::{FieldProblem, LimitForm, TargetForm, TargetWay};
use crate::words::kinds;
use std::collections::BTreeMap;
use std::ops::RangeInclusive;
use trueground_core::car::{PointKind, Vehicle};
use trueground_core::target::{
    AxleTires, End, Limit, Made, Silhouette, Target, USUAL_TOLERANCE_MM, rake_heights, silhouette,
};
use trueground_core::units::read_angle;
use trueground_core::wording::shown;

const HEIGHT_MM: RangeInclusive<f64> = 10.0..=3_000.0;
const TOLERANCE_MM: RangeInclusive<f64> = 0.5..=300.0;
const RAKE_DEG: RangeInclusive<f64> = -20.0..=20.0;

/// The heights of the snapshot that is chosen and which one it is, or what is wrong with it; none where none is chosen.
pub(crate) type OfSnapshot = Option<Result<(BTreeMap<String, f64>, Made), FieldProblem>>;

/// What the form wants, as far as it can be read; everything that cannot be is said to `fields`.
pub(crate) struct Read {
    pub(crate) target: Target,
    /// With a silhouette: what it comes to.
    pub(crate) silhouette: Option<Silhouette>,
}

pub(crate) fn read(fields: &mut Fields, form: &TargetForm, vehicle: &Vehicle, of_snapshot: OfSnapshot) -> Read {
    let mut target = Target { note: note(fields, &form.note), ..Target::default() };
    if let Some(label) = fields.label("label", "The target", &form.label) {
        target.label = label;
    }
    let tolerance = |fields: &mut Fields, field: &str, typed: &str| {
        fields.optional_length(field, "a tolerance", typed, form.tape, TOLERANCE_MM)
    };
    target.tolerance_mm = tolerance(fields, "tolerance", &form.tolerance).unwrap_or(USUAL_TOLERANCE_MM);
    target.side_to_side_tolerance_mm = tolerance(fields, "side_to_side", &form.side_to_side);
    target.rake_tolerance_deg = angle(fields, "rake_tolerance", "a tolerance", &form.rake_tolerance, &(0.05..=10.0));
    let mut shape = None;
    match form.way {
        TargetWay::Typed => typed(fields, form, vehicle, &mut target),
        TargetWay::Snapshot => match of_snapshot {
            Some(Ok((heights, made))) => (target.heights_mm, target.made) = (heights, Some(made)),
            Some(Err(problem)) => fields.push(problem),
            None => fields.refuse("snapshot", "", "No snapshot is chosen yet.", "Choose one whose heights are wanted."),
        },
        TargetWay::Rake => rake_and_height(fields, form, vehicle, &mut target),
        TargetWay::Silhouette => shape = of_silhouette(fields, form, vehicle, &mut target),
        TargetWay::Limits => target.made = Some(Made::Typed),
    }
    for (point, typed) in &form.tolerances {
        if let Some(mm) = tolerance(fields, &format!("tolerances.{point}"), typed)
            && target.heights_mm.contains_key(point)
        {
            target.tolerances_mm.insert(point.clone(), mm);
        }
    }
    for (number, typed) in form.limits.iter().enumerate() {
        target.limits.extend(limit(fields, number, typed, form, vehicle));
    }
    if form.way == TargetWay::Limits && form.limits.is_empty() {
        fields.refuse("limits", "", "No limit is typed yet.", "Add a limit: the lowest or the highest height.");
    }
    Read { target, silhouette: shape }
}

fn typed(fields: &mut Fields, form: &TargetForm, vehicle: &Vehicle, target: &mut Target) {
    target.made = Some(Made::Typed);
    let mut any = false;
    for (point, typed) in form.heights.iter().filter(|(_, typed)| !typed.trim().is_empty()) {
        any = true;
        let field = format!("heights.{point}");
        if !vehicle.ref_points.iter().any(|known| known.id == *point) {
            fields.refuse(&field, typed, "The car no longer has this point.", "Empty the field.");
        } else if let Some(mm) = fields.length(&field, "a height", typed, form.tape, HEIGHT_MM) {
            target.heights_mm.insert(point.clone(), mm);
        }
    }
    if !any {
        fields.refuse("heights", "", "No height is typed yet.", "Type the heights that are wanted; one is enough.");
    }
}

fn rake_and_height(fields: &mut Fields, form: &TargetForm, vehicle: &Vehicle, target: &mut Target) {
    target.made = Some(Made::RakeAndHeight);
    let height = fields.length("height", "a height", &form.height, form.tape, HEIGHT_MM);
    let rake = angle(fields, "rake", "a rake", &form.rake, &RAKE_DEG);
    if rake.is_none() && form.rake.trim().is_empty() {
        fields.refuse("rake", &form.rake, "No rake is typed yet.", "Type degrees; nose-up has a minus sign.");
    }
    let (Some(height), Some(rake)) = (height, rake) else { return };
    match rake_heights(vehicle, form.kind, rake, form.end, height) {
        Some(heights) => wanted(fields, "rake", &form.rake, heights, target),
        None => no_marks(fields, "kind", form.kind),
    }
    (target.rake_deg, target.rake_kind) = (Some(rake), Some(form.kind));
}

fn of_silhouette(fields: &mut Fields, form: &TargetForm, vehicle: &Vehicle, target: &mut Target) -> Option<Silhouette> {
    target.made = Some(Made::Silhouette);
    let lowest = fields.length("lowest_rail", "a height", &form.lowest_rail, form.tape, HEIGHT_MM);
    let rake = angle(fields, "rake", "a rake", &form.rake, &RAKE_DEG);
    let mut markings = [("tire_front", &form.tire_front), ("tire_rear", &form.tire_rear)].map(|(field, typed)| {
        let marking = typed.trim();
        if marking.is_empty() {
            return None;
        }
        match car_form::marking(field, typed, None) {
            Ok(_) => Some(marking.to_owned()),
            Err(problem) => {
                fields.push(problem);
                None
            }
        }
    });
    if form.rake.trim().is_empty() {
        for (field, typed) in [("tire_front", &form.tire_front), ("tire_rear", &form.tire_rear)] {
            if typed.trim().is_empty() {
                let hint = "Type the marking on the sidewall, or a rake: then it may stay empty.";
                fields.refuse(field, typed, "Without a rake both tires are needed.", hint);
            }
        }
    }
    let [front, rear] = &mut markings;
    let (front, rear) = (front.take().unwrap_or_default(), rear.take().unwrap_or_default());
    let rake_typed = form.rake.trim().is_empty() || rake.is_some();
    let lowest = lowest.filter(|_| rake_typed && (rake.is_some() || (!front.is_empty() && !rear.is_empty())))?;
    let shape = silhouette(vehicle, [&front, &rear], lowest, rake);
    match &shape {
        Some(shape) => {
            wanted(fields, "rake", &form.rake, shape.heights_mm.clone(), target);
            (target.rake_deg, target.rake_kind) = (rake, rake.map(|_| PointKind::FrameRail));
        }
        None => no_marks(fields, "lowest_rail", PointKind::FrameRail),
    }
    if !(front.is_empty() && rear.is_empty()) {
        target.tires = Some(AxleTires { front, rear });
    }
    shape
}

/// Heights that were worked out, in whole tenths; one that no car has is refused where it comes from.
fn wanted(fields: &mut Fields, field: &str, typed: &str, heights: BTreeMap<String, f64>, target: &mut Target) {
    if let Some(mm) = heights.values().find(|mm| !HEIGHT_MM.contains(mm)) {
        let sentence =
            format!("With it a point would be {mm:.0} mm high, outside {HEIGHT_MM:?} mm.").replace("..=", " to ");
        fields.refuse(field, typed, &sentence, "Correct the rake, or the height.");
        return;
    }
    target.heights_mm = heights.into_iter().map(|(point, mm)| (point, (mm * 10.0).round() / 10.0)).collect();
}

fn no_marks(fields: &mut Fields, field: &str, kind: PointKind) {
    let sentence = format!("The car has no {} marked at both ends.", kinds(kind).to_lowercase());
    fields.refuse(field, "", &sentence, "Choose another kind, or mark them in the car\u{2019}s form.");
}

fn limit(fields: &mut Fields, number: usize, typed: &LimitForm, form: &TargetForm, vehicle: &Vehicle) -> Option<Limit> {
    let at = |name: &str| format!("limits.{number}.{name}");
    let lowest = fields.optional_length(&at("lowest"), "a height", &typed.lowest, form.tape, HEIGHT_MM);
    let highest = fields.optional_length(&at("highest"), "a height", &typed.highest, form.tape, HEIGHT_MM);
    if typed.lowest.trim().is_empty() && typed.highest.trim().is_empty() {
        let hint = "Type the lowest height, the highest, or both; or leave the limit out.";
        fields.refuse(&at("lowest"), "", "This limit has no height yet.", hint);
    }
    if let Some((low, high)) = lowest.zip(highest).filter(|(low, high)| low > high) {
        let sentence = format!("The lowest height, {low:.0} mm, is above the highest, {high:.0} mm.");
        fields.refuse(&at("highest"), &typed.highest, &sentence, "Correct one of them.");
        return None;
    }
    let says = match typed.says.trim() {
        "" => String::new(),
        says => fields.label(&at("says"), "Who says so", says).unwrap_or_default(),
    };
    let points = limit_points(typed, vehicle);
    if points.is_empty() {
        no_marks(fields, &at("kind"), typed.kind);
    }
    (!points.is_empty() && (lowest.is_some() || highest.is_some())).then_some(Limit {
        points,
        lowest_mm: lowest,
        highest_mm: highest,
        rule: typed.rule,
        says,
    })
}

fn limit_points(typed: &LimitForm, vehicle: &Vehicle) -> Vec<String> {
    if !typed.points.is_empty() {
        return typed.points.clone();
    }
    let of_kind = vehicle.ref_points.iter().filter(|point| point.kind == typed.kind && !point.retired);
    let at_end = of_kind.filter(|point| typed.end.is_none_or(|end: End| end.has(point.corner)));
    at_end.map(|point| point.id.clone()).collect()
}

fn note(fields: &mut Fields, typed: &str) -> String {
    let note = typed.trim();
    let length = note.chars().count();
    if length > 500 || note.chars().any(|c| c.is_control() && c != '\n') {
        let sentence = format!("{} has {length} characters: a note has up to 500.", shown(note));
        fields.refuse("note", typed, &sentence, "Type a shorter one.");
        return String::new();
    }
    note.to_owned()
}

/// Degrees in a range, or nothing where the field is empty.
fn angle(fields: &mut Fields, field: &str, what: &str, typed: &str, range: &RangeInclusive<f64>) -> Option<f64> {
    if typed.trim().is_empty() {
        return None;
    }
    match read_angle(typed) {
        Ok(entered) if range.contains(&entered.angle.to_deg()) => Some(entered.angle.to_deg()),
        Ok(entered) => {
            let deg = (entered.angle.to_deg() * 1e6).round() / 1e6;
            let sentence =
                format!("{deg}\u{b0} is outside {}\u{b0} to {}\u{b0}, where {what} lies.", range.start(), range.end());
            fields.refuse(field, typed, &sentence, "Correct it.");
            None
        }
        Err(error) => {
            fields.push(FieldProblem::entry(field, typed, error));
            None
        }
    }
}
