//! What the tape must read on a floor, and the plates that would let it read as on level ground.

use super::plates;
use crate::capture::{CarFile, Facing, Floor, Snapshot};
use crate::compare::Target;
use crate::corner::Corner;
use crate::floor_block::shape;
use crate::level::{Options, Problem, Solution, WantedHeight, solve};
use crate::stance::{Figure, Known};
use crate::wording::{listed, shown};
use serde::Serialize;
use std::collections::BTreeMap;

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
}

/// Sets a stance out on a levelled floor, the car standing as first.
///
/// # Errors
/// No such floor or snapshot, a floor that is not levelled, or readings that no stance fits.
pub fn set_out(file: &CarFile, floor: &str, wanted: Wanted<'_>) -> Result<SetOut, Problem> {
    let known: Vec<&str> = file.floors.iter().map(|floor| floor.id.as_str()).collect();
    let Some(place) = file.floors.iter().find(|known| known.id == floor) else {
        let hint = format!("Name one of them: {}.", listed(&known));
        return Err(Problem::new(format!("there is no floor {}", shown(floor)), hint));
    };
    if let Wanted::Snapshot(snapshot) = wanted
        && !file.snapshots.iter().any(|known| known.id == snapshot)
    {
        let known: Vec<&str> = file.snapshots.iter().map(|snapshot| snapshot.id.as_str()).collect();
        let hint = format!("Name one of them: {}.", listed(&known));
        return Err(Problem::new(format!("there is no snapshot {}", shown(snapshot)), hint));
    }
    let mut with_car = file.clone();
    let stands = free_name(file);
    with_car.snapshots.push(standing(&stands, floor));
    let solution = solve(&with_car, &Options::default())?;
    let readings = readings(file, &solution, &stands, wanted);
    let told =
        |(point, figure): (&String, &Figure)| Some((point.clone(), Length { value: figure.value?, u: figure.u? }));
    let sticks: BTreeMap<String, Length> = readings.iter().filter_map(told).collect();
    if !readings.is_empty() && readings.values().all(|figure| figure.known == Known::Undetermined) {
        let hint = "Level its four spots first; until then no reading on it can be set out.";
        return Err(Problem::new(format!("floor {}: it is not levelled", shown(floor)), hint));
    }
    let [shims, shims_instead, shims_level] = shims(file, place);
    Ok(SetOut { readings, shims, shims_instead, shims_level, sticks })
}

fn readings(file: &CarFile, solution: &Solution, stands: &str, wanted: Wanted<'_>) -> BTreeMap<String, Figure> {
    let points = file.vehicle.ref_points.iter();
    let reading = |id: &str| match wanted {
        Wanted::Target(target) => solution.set_out(stands, id, WantedHeight::Typed(*target.heights_mm.get(id)?)),
        Wanted::Snapshot(snapshot) => solution.set_out(stands, id, WantedHeight::As(snapshot)),
    };
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
fn standing(id: &str, floor: &str) -> Snapshot {
    let empty = serde_json::json!({ "id": id, "date": "9999-12-31", "floor": floor, "facing": Facing::A });
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
