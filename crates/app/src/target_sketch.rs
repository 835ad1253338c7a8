//! The picture of a target's form while it is filled in: what can be read is drawn beside the car as it stands now.

use crate::fields::Fields;
use crate::side::of_design;
use crate::target_form::{OfSnapshot, Read, read};
use crate::target_page::{shown_kind, side};
use crate::wire::{LimitLine, SideView, TargetForm, TargetSketch, WantedHeightView};
use crate::words::{capital, kinds, on_tape_with_unit, rake, whole};
use trueground_core::car::Vehicle;
use trueground_core::target::{End, Limit, Silhouette, Target};

/// The picture; `now` is how the car stood when it was read last.
pub(crate) fn sketch(form: &TargetForm, vehicle: &Vehicle, of: OfSnapshot, now: Option<SideView>) -> TargetSketch {
    // What cannot be read is said when the form is sent, not while it is typed.
    let Read { target, silhouette } = read(&mut Fields::default(), form, vehicle, of);
    let kind = shown_kind(vehicle, &target);
    let wanted = kind.and_then(|kind| side(vehicle, &target, kind));
    let stands = now.filter(|now| kind.is_none_or(|kind| now.kind == kind.code()));
    let drawn = wanted.or_else(|| if stands.is_none() { Some(of_design(vehicle)) } else { None });
    TargetSketch {
        side: drawn,
        now: stands,
        heights: heights(form, vehicle, &target),
        limits: target.limits.iter().filter_map(|limit| line(vehicle, limit)).collect(),
        follows: follows(vehicle, &target, silhouette.as_ref()),
    }
}

fn heights(form: &TargetForm, vehicle: &Vehicle, target: &Target) -> Vec<WantedHeightView> {
    let points = vehicle.ref_points.iter();
    let wanted = points.filter_map(|point| {
        let height_mm = *target.heights_mm.get(&point.id)?;
        Some(WantedHeightView {
            point: point.id.clone(),
            corner: point.corner,
            words: capital(point.kind.words()),
            s_mm: 0.0 - point.x_mm,
            height_mm,
            tolerance_mm: target.tolerance_of(&point.id),
            printed: on_tape_with_unit(height_mm, form.tape),
        })
    });
    wanted.collect()
}

fn line(vehicle: &Vehicle, limit: &Limit) -> Option<LimitLine> {
    let points: Vec<_> = vehicle.ref_points.iter().filter(|point| limit.points.contains(&point.id)).collect();
    let places = points.iter().map(|point| 0.0 - point.x_mm);
    let (from, to) = places.fold((f64::MAX, f64::MIN), |(from, to), s| (from.min(s), to.max(s)));
    let first = points.first()?;
    let ends = [("not below", limit.lowest_mm), ("not above", limit.highest_mm)];
    let ends: Vec<String> =
        ends.into_iter().filter_map(|(words, mm)| Some(format!("{words} {} mm", whole(mm?)))).collect();
    Some(LimitLine {
        from_s_mm: from,
        to_s_mm: to,
        lowest_mm: limit.lowest_mm,
        highest_mm: limit.highest_mm,
        words: format!("{}: {} {}", capital(&limit.words()), kinds(first.kind).to_lowercase(), ends.join(", ")),
    })
}

/// What follows from what was typed, a sentence each.
fn follows(vehicle: &Vehicle, target: &Target, silhouette: Option<&Silhouette>) -> Vec<String> {
    let mut said = Vec::new();
    let lines = trueground_core::car::PointKind::ALL.into_iter().filter_map(|kind| {
        let front = target.mean_mm(vehicle, kind, End::Front)?;
        let rear = target.mean_mm(vehicle, kind, End::Rear)?;
        let rake = rake(target.rake_of(vehicle, kind)?);
        let (front, rear) = (whole(front), whole(rear));
        Some(format!("{}: {front} mm at the front, {rear} mm at the rear, {rake}.", kinds(kind)))
    });
    said.extend(lines);
    let Some(shape) = silhouette else { return said };
    for (at, end) in ["front", "rear"].into_iter().enumerate() {
        if let (Some(radius), Some(edge)) = (shape.loaded_radius_mm[at], shape.rim_edge_mm[at]) {
            let (radius, edge) = (whole(radius), whole(edge));
            said.push(format!(
                "The {end} wheel centre stands at {radius} mm, the rim\u{2019}s lowest edge at {edge} mm."
            ));
        }
    }
    let lowest = shape.heights_mm.values().copied().min_by(f64::total_cmp);
    let edge = shape.rim_edge_mm.into_iter().flatten().max_by(f64::total_cmp);
    if let Some((lowest, edge)) = lowest.zip(edge).filter(|(lowest, edge)| lowest < edge) {
        let (lowest, edge) = (whole(lowest), whole(edge));
        said.push(format!("The rail, {lowest} mm, lies below the rim line, {edge} mm: with a flat tire it may touch."));
    }
    said
}
