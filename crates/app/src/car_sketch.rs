//! The picture of a car's form while it is filled in: what can be read is drawn, usual sizes stand in for the rest.

use crate::car_form::{self, Kept};
use crate::fields::Fields;
use crate::side::of_design;
use crate::wire::{CarForm, CarSketch, SideView, SketchMark};
use crate::{car_loads, car_springs};
use trueground_core::car::{RefPoint, Vehicle};

/// The picture; `standing` is how the car stood when it was read last.
pub(crate) fn sketch(form: &CarForm, kept: Kept<'_>, standing: Option<&SideView>) -> CarSketch {
    // What cannot be read is said when the form is sent, not while it is typed.
    let vehicle = car_form::read(&mut Fields::default(), form, kept);
    let mut side = of_design(&vehicle);
    if let Some(standing) = standing {
        let now = side.rail_mm();
        (side.rail_front_mm, side.rail_rear_mm) = (standing.rail_front_mm, standing.rail_rear_mm);
        (side.lip_front_mm, side.lip_rear_mm) = (standing.lip_front_mm, standing.lip_rear_mm);
        if vehicle.extent.rail_height_then_mm.is_none() {
            let moved = now - side.rail_mm();
            side.roof_over_rail_mm = side.roof_over_rail_mm.map(|mm| mm + moved);
            side.hood_over_rail_mm = side.hood_over_rail_mm.map(|mm| mm + moved);
        }
    }
    CarSketch {
        side,
        marks: vehicle
            .ref_points
            .iter()
            .filter(|point| !point.retired)
            .filter_map(|point| mark(form, &vehicle, point))
            .collect(),
        roll_share: car_springs::in_words(&vehicle),
        mass: car_loads::mass_in_words(&vehicle),
    }
}

/// A mark with the beginning of its fields' names.
fn mark(form: &CarForm, vehicle: &Vehicle, point: &RefPoint) -> Option<SketchMark> {
    let alone = form.further.iter().position(|mark| !mark.id.is_empty() && mark.id == point.id);
    let newly = || {
        // A mark that has no name yet is found by what was typed for it: it came last of its kind at its corner.
        let unnamed = |mark: &crate::wire::PointForm| {
            mark.id.is_empty() && (mark.kind, mark.corner) == (point.kind, point.corner)
        };
        let last = vehicle.ref_points.iter().rfind(|other| (other.kind, other.corner) == (point.kind, point.corner));
        last.filter(|last| last.id == point.id).and_then(|_| form.further.iter().rposition(unnamed))
    };
    let pair = || form.points.iter().position(|pair| pair.kind == point.kind);
    let end = if point.corner.is_front() { "front" } else { "rear" };
    let field = match alone.or_else(newly) {
        Some(at) => format!("further.{at}."),
        None => format!("points.{}.{end}", pair()?),
    };
    Some(SketchMark { field, kind: point.kind, corner: point.corner, s_mm: 0.0 - point.x_mm, y_mm: point.y_mm })
}
