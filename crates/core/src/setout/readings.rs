//! What the tape must read on a floor, and the plates that would let it read as on level ground.

use super::plates;
use crate::capture::{CarFile, Facing, Floor, Snapshot};
use crate::car::RefPoint;
use crate::compare::{Target, on_its_wheels};
use crate::corner::Corner;
use crate::floor_block::shape;
use crate::level::{Options, Problem, Solution, WantedHeight, solve};
use crate::stance::{Figure, Known};
use crate::tire::{Measured, MeasuredLength, dimensions, read_marking};
use crate::wording::{listed, shown};
use serde::Serialize;
use std::collections::BTreeMap;

/// Diameter of a fitted tire as a car's file states it, mm; common practice, no source.
const FREE_DIAMETER_U_MM: f64 = 2.0;

/// The stance that is to be set out.
#[derive(Clone, Copy, Debug)]
pub enum Wanted<'w> {
    /// A target's heights.
    Target(&'w Target),
    /// Every height of a snapshot, at nominal load and pressures.
    Snapshot(&'w str),
}

/// A plate under a wheel.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Shim {
    /// `S1` to `S4`.
    pub spot: String,
    /// mm.
    pub thickness_mm: f64,
    /// Its standard uncertainty (k = 1), mm.
    pub u: f64,
}

/// A length with its standard uncertainty (k = 1), mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Length {
    /// mm.
    pub value: f64,
    /// mm.
    pub u: f64,
}

/// A stance set out on a floor.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SetOut {
    /// What the tape must read here, by point.
    pub readings: BTreeMap<String, Figure>,
    /// The fewest plates that take the floor's twist out; none where it is within its own doubt.
    pub shims: Vec<Shim>,
    /// The other spot that the same plate may lie under instead.
    pub shims_instead: Vec<Shim>,
    /// Four plates that make the spots level.
    pub shims_level: Vec<Shim>,
    /// Length of a gauge stick that just stands between floor and point.
    pub sticks: BTreeMap<String, Length>,
    /// For a mock-up on rated stands: how high a stand holds each point of the body, level over the floor's highest spot. Never a
    /// ride height.
    pub stands: BTreeMap<String, Length>,
    /// For a mock-up: how high a block holds each wheel's centre over its spot, `S1` to `S4`. Absent where the tires say no radius.
    pub wheel_centres: BTreeMap<String, Length>,
}

/// Sets a stance out on a levelled floor, the car standing as first or turned end for end.
///
/// # Errors
/// No such floor or snapshot, a floor that is not levelled, or readings that no stance fits.
pub fn set_out(file: &CarFile, floor: &str, facing: Facing, wanted: Wanted<'_>) -> Result<SetOut, Problem> {
    let known: Vec<&str> = file.floors.iter().map(|floor| floor.id.as_str()).collect();
    let Some(place) = file.floors.iter().find(|known| known.id == floor) else {
        let hint = format!("Name one of them: {}.", listed(&known));
        return Err(Problem::new(format!("there is no floor {}", shown(floor)), hint));
    };
    if let Wanted::Snapshot(snapshot) = wanted {
        on_its_wheels(file, snapshot, "Set out a snapshot that stands on its wheels, or a target.")?;
    }
    if let Wanted::Target(target) = wanted
        && target.heights_mm.is_empty()
    {
        let message = format!("target {} wants no height: there is nothing to set out", shown(&target.label));
        return Err(Problem::new(message, "Type the heights that are wanted, or set a snapshot out."));
    }
    let mut with_car = file.clone();
    let stands = free_name(file);
    with_car.snapshots.push(standing(&stands, floor, facing));
    let solution = solve(&with_car, &Options::default())?;
    let readings = readings(file, &solution, &stands, wanted);
    if let (true, Wanted::Snapshot(snapshot)) = (readings.is_empty(), wanted) {
        let message = format!("snapshot {} has no height: there is nothing to set out", shown(snapshot));
        return Err(Problem::new(message, "Name a snapshot with readings of the marks, or a target."));
    }
    let told =
        |(point, figure): (&String, &Figure)| Some((point.clone(), Length { value: figure.value?, u: figure.u? }));
    let sticks: BTreeMap<String, Length> = readings.iter().filter_map(told).collect();
    if !readings.is_empty() && readings.values().all(|figure| figure.known == Known::Undetermined) {
        let hint = "Level its four spots first; until then no reading on it can be set out.";
        return Err(Problem::new(format!("floor {}: it is not levelled", shown(floor)), hint));
    }
    let [shims, shims_instead, shims_level] = shims(file, place);
    let stands_on = |id: &str| solution.stand(&stands, id, wanted_height(id, wanted)?);
    let stands_told = |point: &RefPoint| {
        let figure = stands_on(&point.id)?;
        Some((point.id.clone(), Length { value: figure.value?, u: figure.u? }))
    };
    Ok(SetOut {
        readings,
        shims,
        shims_instead,
        shims_level,
        sticks,
        stands: file.vehicle.ref_points.iter().filter_map(stands_told).collect(),
        wheel_centres: wheel_centres(file, &solution, &stands, facing, wanted),
    })
}

/// Wheel centre over its spot: the loaded radius and what the spot lies below the highest.
fn wheel_centres(
    file: &CarFile,
    solution: &Solution,
    stands: &str,
    facing: Facing,
    wanted: Wanted<'_>,
) -> BTreeMap<String, Length> {
    let Some(below) = solution.below_highest(stands) else { return BTreeMap::new() };
    let centre = |on: Corner| {
        let corner = facing.corner_on(on);
        let fitted = file.vehicle.tires.as_ref().map(|tires| tires.at(corner));
        let named = match wanted {
            Wanted::Target(Target { tires: Some(tires), .. }) => {
                Some(if corner.is_front() { tires.front.as_str() } else { tires.rear.as_str() })
            }
            _ => None,
        };
        let marking = named.filter(|marking| !marking.trim().is_empty()).or_else(|| Some(&fitted?.designation))?;
        // The tire that is on it was measured; another one is known by its marking.
        let diameter = fitted
            .filter(|tire| tire.designation.trim() == marking.trim())
            .map(|tire| MeasuredLength { value_mm: tire.free_diameter_mm, u_mm: FREE_DIAMETER_U_MM });
        let radius =
            dimensions(&read_marking(marking).ok()?, &Measured { diameter, ..Measured::default() }).loaded_radius_mm;
        let spot = below[on.index()];
        let (value, u) = (radius.value + spot.value?, libm::hypot(radius.u, spot.u?));
        Some((format!("S{}", on.index() + 1), Length { value, u }))
    };
    Corner::ALL.into_iter().filter_map(centre).collect()
}

fn wanted_height<'w>(id: &str, wanted: Wanted<'w>) -> Option<WantedHeight<'w>> {
    match wanted {
        Wanted::Target(target) => Some(WantedHeight::Typed(*target.heights_mm.get(id)?)),
        Wanted::Snapshot(snapshot) => Some(WantedHeight::As(snapshot)),
    }
}

fn readings(file: &CarFile, solution: &Solution, stands: &str, wanted: Wanted<'_>) -> BTreeMap<String, Figure> {
    let points = file.vehicle.ref_points.iter();
    let reading = |id: &str| solution.set_out(stands, id, wanted_height(id, wanted)?);
    points.filter_map(|point| Some((point.id.clone(), reading(&point.id)?))).collect()
}

/// A name that no snapshot of the file has.
fn free_name(file: &CarFile) -> String {
    let mut name = "set out".to_owned();
    while file.snapshots.iter().any(|snapshot| snapshot.id == name) {
        name.push('+');
    }
    name
}

/// A snapshot without readings, on a day of its own.
fn standing(id: &str, floor: &str, facing: Facing) -> Snapshot {
    let empty = serde_json::json!({ "id": id, "date": "9999-12-31", "floor": floor, "facing": facing });
    serde_json::from_value(empty).unwrap_or_else(|_| unreachable!("a snapshot needs no more"))
}

/// Fewest, the other choice, and all four.
fn shims(file: &CarFile, floor: &Floor) -> [Vec<Shim>; 3] {
    let vehicle = &file.vehicle;
    let own = [vehicle.wheelbase_mm, vehicle.track_front_mm, vehicle.track_rear_mm];
    let size = floor.footprint.map_or(own, |spots| [spots.wheelbase_mm, spots.track_front_mm, spots.track_rear_mm]);
    let Some(shape) = floor.survey.as_ref().and_then(|survey| shape(survey, size)) else { return Default::default() };
    let plates = plates(&shape);
    let shim =
        |corner: Corner, thickness_mm: f64, u: f64| Shim { spot: format!("S{}", corner.index() + 1), thickness_mm, u };
    let [one, other] = if plates.worth_it {
        plates.one_under.map(|corner| vec![shim(corner, plates.one_mm, plates.one_u_mm)])
    } else {
        Default::default()
    };
    let level = plates.level_mm.map(|thickness| {
        let each = Corner::ALL.into_iter().zip(thickness).zip(plates.level_u_mm);
        each.map(|((corner, mm), u)| shim(corner, mm, u)).collect()
    });
    [one, other, level.unwrap_or_default()]
}
