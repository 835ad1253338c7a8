//! What a side view needs: the line through the chosen kind of point, the rails for the outline, and the wheels.

use crate::wire::{SideView, WheelView};
use crate::words::{capital, kinds, known, rake, whole};
use std::collections::BTreeMap;
use trueground_core::car::{Outline, PointKind, Vehicle};
use trueground_core::corner::Corner;
use trueground_core::stance::{Figure, Known, Line, SnapshotStance};
use trueground_core::tire::{Measured, dimensions, read_marking};

/// Rail below the fender lip, and rail height where nothing was read, as parts of the wheelbase and of the loaded radius: how our
/// own outlines are drawn, not a result.
const LIP_OVER_RAIL: f64 = 0.116;
const RAIL_OF_RADIUS: f64 = 0.95;

/// Kinds that have a line in this stance, frame rails first: a frame is straight where lips are bent.
pub(crate) fn shown_kinds(stance: &SnapshotStance) -> Vec<PointKind> {
    shown_kinds_of(|kind| stance.lines.contains_key(kind.code()))
}

/// The kinds that are had, in that order.
pub(crate) fn shown_kinds_of(has: impl Fn(PointKind) -> bool) -> Vec<PointKind> {
    let order = [
        PointKind::FrameRail,
        PointKind::FenderLip,
        PointKind::Rocker,
        PointKind::BodySeam,
        PointKind::SpringPerch,
        PointKind::Other,
    ];
    order.into_iter().filter(|kind| has(*kind)).collect()
}

/// The side view of a car at a measured stance.
pub(crate) fn of_stance(vehicle: &Vehicle, stance: &SnapshotStance, kind: PointKind) -> Option<SideView> {
    let line = stance.lines.get(kind.code())?;
    Some(view(vehicle, &stance.lines, &stance.loaded_radius, Some((kind, line))))
}

/// The side view of a car as these lines want it.
pub(crate) fn of_lines(vehicle: &Vehicle, lines: &BTreeMap<String, Line>, kind: PointKind) -> Option<SideView> {
    Some(view(vehicle, lines, &BTreeMap::new(), Some((kind, lines.get(kind.code())?))))
}

/// The side view of a car that was not read yet: its measures, rails where the outline has them.
pub(crate) fn of_design(vehicle: &Vehicle) -> SideView {
    view(vehicle, &BTreeMap::new(), &BTreeMap::new(), None)
}

fn view(
    vehicle: &Vehicle,
    lines: &BTreeMap<String, Line>,
    hubs: &BTreeMap<String, Figure>,
    shown: Option<(PointKind, &Line)>,
) -> SideView {
    let kind = shown.map(|(kind, _)| kind).or_else(|| vehicle.ref_points.first().map(|point| point.kind));
    let kind = kind.unwrap_or(PointKind::FrameRail);
    let front_wheel = wheel(vehicle, hubs, true);
    let rear_wheel = wheel(vehicle, hubs, false);
    let mean_mm = |kind: PointKind, front: bool| {
        let line = lines.get(kind.code())?;
        if front { line.front_mean_mm.value } else { line.rear_mean_mm.value }
    };
    let rails = rail_at_axles(vehicle, &mean_mm)
        .unwrap_or((RAIL_OF_RADIUS * front_wheel.loaded_radius_mm, RAIL_OF_RADIUS * rear_wheel.loaded_radius_mm));
    let (front_s_mm, rear_s_mm) = marks(vehicle, kind).unwrap_or((0.0, vehicle.wheelbase_mm));
    let unknown = Figure { value: None, u: None, known: Known::Undetermined, band_if: None };
    let extent = &vehicle.extent;
    let rail_then = extent.rail_height_then_mm.unwrap_or(f64::midpoint(rails.0, rails.1));
    SideView {
        outline: vehicle.outline.unwrap_or(Outline::BareFrame),
        wheelbase_mm: vehicle.wheelbase_mm,
        line_words: kinds(kind).to_lowercase(),
        kind: kind.code().to_owned(),
        front_s_mm,
        rear_s_mm,
        front_mm: shown.map_or(unknown, |(_, line)| line.front_mean_mm),
        rear_mm: shown.map_or(unknown, |(_, line)| line.rear_mean_mm),
        rail_front_mm: rails.0,
        rail_rear_mm: rails.1,
        lip_front_mm: mean_mm(PointKind::FenderLip, true),
        lip_rear_mm: mean_mm(PointKind::FenderLip, false),
        text: text(vehicle, shown),
        overhang_front_mm: extent.overhang_front_mm,
        overhang_rear_mm: extent.overhang_rear_mm,
        roof_over_rail_mm: extent.roof_height_mm.map(|roof| roof - rail_then),
        hood_over_rail_mm: extent.hood_height_mm.map(|hood| hood - rail_then),
        front_wheel,
        rear_wheel,
    }
}

/// Height of the rails at both axles, from the rails themselves or from the lips.
fn rail_at_axles(vehicle: &Vehicle, mean_mm: &impl Fn(PointKind, bool) -> Option<f64>) -> Option<(f64, f64)> {
    let along = |kind: PointKind, drop: f64| {
        let (front, rear) = (mean_mm(kind, true)?, mean_mm(kind, false)?);
        let (front_s, rear_s) = marks(vehicle, kind)?;
        let slope = (rear - front) / (rear_s - front_s);
        Some((front - slope * front_s - drop, front + slope * (vehicle.wheelbase_mm - front_s) - drop))
    };
    along(PointKind::FrameRail, 0.0)
        .or_else(|| along(PointKind::FenderLip, LIP_OVER_RAIL * vehicle.wheelbase_mm))
        .filter(|(front, rear)| *front > 0.0 && *rear > 0.0)
}

/// Where the front and the rear marks of a kind lie behind the front axle.
fn marks(vehicle: &Vehicle, kind: PointKind) -> Option<(f64, f64)> {
    let mean = |front: bool| {
        let of_kind = |corner: Corner| corner.is_front() == front;
        let places: Vec<f64> = vehicle
            .ref_points
            .iter()
            .filter(|point| point.kind == kind && of_kind(point.corner))
            .filter(|point| vehicle.mark_at(kind, point.corner, |_| true) == Some(*point))
            .map(|point| 0.0 - point.x_mm)
            .collect();
        (!places.is_empty()).then(|| places.iter().sum::<f64>() / places.len() as f64)
    };
    Some((mean(true)?, mean(false)?)).filter(|(front, rear)| rear > front)
}

fn wheel(vehicle: &Vehicle, hubs: &BTreeMap<String, Figure>, front: bool) -> WheelView {
    let (corner, other) = if front { (Corner::FL, Corner::FR) } else { (Corner::RL, Corner::RR) };
    let track_mm = if front { vehicle.track_front_mm } else { vehicle.track_rear_mm };
    let Some(tires) = &vehicle.tires else {
        // No tire was named: a wheel in the usual proportion to the car, for the drawing only.
        let free = 0.13 * vehicle.wheelbase_mm;
        let (rim, section) = (0.6 * free, 0.45 * free);
        return WheelView {
            free_radius_mm: free,
            loaded_radius_mm: 0.96 * free,
            rim_radius_mm: rim,
            section_mm: section,
            track_mm,
        };
    };
    let tire = tires.at(corner);
    let free = tire.free_diameter_mm / 2.0;
    let marked = read_marking(&tire.designation).ok().map(|marking| dimensions(&marking, &Measured::default()));
    let part = marked.as_ref().map_or(0.96, |marked| marked.loaded_radius_mm.value / (marked.diameter_mm.value / 2.0));
    let hubs: Vec<f64> = [corner, other]
        .into_iter()
        .filter_map(|corner| known(hubs.get(corner.code())?).map(|(value, _)| value))
        .collect();
    let read = (!hubs.is_empty()).then(|| hubs.iter().sum::<f64>() / hubs.len() as f64);
    WheelView {
        free_radius_mm: free,
        loaded_radius_mm: read.unwrap_or(part * free).min(free),
        rim_radius_mm: tire.rim_diameter_mm / 2.0,
        section_mm: marked
            .map_or((tire.free_diameter_mm - tire.rim_diameter_mm) / 2.0, |marked| marked.section_width_mm.value),
        track_mm,
    }
}

fn text(vehicle: &Vehicle, shown: Option<(PointKind, &Line)>) -> String {
    let Some((kind, line)) = shown else {
        return format!("{} from the left, not read yet.", capital(&vehicle.label));
    };
    let height =
        |figure: &Figure| figure.value.map_or("can\u{2019}t tell".to_owned(), |mm| format!("{} mm", whole(mm)));
    let attitude = line.rake_deg.value.map(|deg| format!(", {}", rake(deg))).unwrap_or_default();
    format!(
        "{} from the left: {} {} at the front, {} at the rear{attitude}.",
        capital(&vehicle.label),
        kinds(kind).to_lowercase(),
        height(&line.front_mean_mm),
        height(&line.rear_mean_mm),
    )
}
