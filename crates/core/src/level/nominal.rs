//! From the stance as loaded to the stance at nominal load and pressures: three numbers a stance, each with its uncertainty.

use super::adjust::Adjusted;
use super::air;
use super::unknowns::Model;
use crate::capture::{CarFile, LoadChange, Snapshot};
use crate::car::Vehicle;
use crate::corner::Corner;

/// Standard gravity, m/s² (ISO 80000-3).
const GRAVITY: f64 = 9.80665;
/// A tire's vertical rate where the car's is not known, N/mm; common practice, no source.
const TIRE_RATE_N_PER_MM: f64 = 220.0;
/// An axle's ride rate where the car's is not known, N/mm, and its relative uncertainty; common practice, no source.
const AXLE_RATE_N_PER_MM: (f64, f64) = (45.0, 0.3);
/// Tire deflection over free radius where neither hub nor mass is known; common practice, no source.
const DEFLECTION_OF_RADIUS: f64 = 0.045;
/// Relative uncertainty of the pressure part; common practice, no source.
const PRESSURE_REL_U: f64 = 0.2;

/// What has to be added to heights as loaded: front·(1 − σ) + rear·σ + lean·y.
///
/// Its doubts are those of the tires' and springs' rates, which every snapshot of the car shares: they keep their signs, so that
/// what two snapshots have in common cancels between them.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct ToNominal {
    /// At the front axle, mm.
    pub(crate) front_mm: f64,
    /// At the rear axle, mm.
    pub(crate) rear_mm: f64,
    /// Left side up, rad.
    pub(crate) lean_rad: f64,
    /// Standard uncertainty of front and rear from the pressures, signed as the part itself.
    pressure_u: [f64; 2],
    /// Standard uncertainty of front, rear and lean from the load, signed as the part itself.
    load_u: [f64; 3],
    /// The part of `load_u` that comes from a usual rate where the car's own is not known.
    guessed_u: [f64; 3],
}

impl ToNominal {
    /// What it adds to a result that follows its front, rear and lean parts so much.
    pub(crate) fn shift(&self, nominal: [f64; 3]) -> f64 {
        nominal[0] * self.front_mm + nominal[1] * self.rear_mm + nominal[2] * self.lean_rad
    }

    /// The variance it adds to such a result.
    pub(crate) fn variance(&self, nominal: [f64; 3]) -> f64 {
        let [front, rear] = self.pressure_u;
        sum_of_squares(nominal, [front, rear, 0.0]) + sum_of_squares(nominal, self.load_u)
    }

    /// What two corrections have in common, for results that follow their parts so much: the rates are the same ones.
    pub(crate) fn covariance(&self, nominal: [f64; 3], other: &Self, others: [f64; 3]) -> f64 {
        let of = |part: usize, one: f64, another: f64| nominal[part] * one * others[part] * another;
        let pressure: f64 = (0..2).map(|end| of(end, self.pressure_u[end], other.pressure_u[end])).sum();
        pressure + (0..3).map(|part| of(part, self.load_u[part], other.load_u[part])).sum::<f64>()
    }

    /// The part of that variance that rests on a usual rate.
    pub(crate) fn guessed_variance(&self, nominal: [f64; 3]) -> f64 {
        sum_of_squares(nominal, self.guessed_u)
    }

    /// True where nothing differs from nominal.
    pub(crate) fn is_nothing(&self) -> bool {
        *self == Self::default()
    }

    /// With each of its three parts taken times a number.
    pub(crate) fn times(&self, [front, rear, lean]: [f64; 3]) -> Self {
        let three = |of: [f64; 3]| [of[0] * front, of[1] * rear, of[2] * lean];
        Self {
            front_mm: self.front_mm * front,
            rear_mm: self.rear_mm * rear,
            lean_rad: self.lean_rad * lean,
            pressure_u: [self.pressure_u[0] * front, self.pressure_u[1] * rear],
            load_u: three(self.load_u),
            guessed_u: three(self.guessed_u),
        }
    }

    /// What both add together.
    pub(crate) fn plus(&self, other: &Self) -> Self {
        let three = |a: [f64; 3], b: [f64; 3]| std::array::from_fn(|i| a[i] + b[i]);
        Self {
            front_mm: self.front_mm + other.front_mm,
            rear_mm: self.rear_mm + other.rear_mm,
            lean_rad: self.lean_rad + other.lean_rad,
            pressure_u: std::array::from_fn(|end| self.pressure_u[end] + other.pressure_u[end]),
            load_u: three(self.load_u, other.load_u),
            guessed_u: three(self.guessed_u, other.guessed_u),
        }
    }
}

fn sum_of_squares(parts: [f64; 3], u: [f64; 3]) -> f64 {
    parts.into_iter().zip(u).map(|(part, u)| (part * u).powi(2)).sum()
}

/// The correction of one snapshot's stance.
pub(crate) fn to_nominal(file: &CarFile, model: &Model, adjusted: &Adjusted, number: usize) -> ToNominal {
    let loads = file.snapshots[number].load_change_from_nominal.iter();
    loads
        .map(|mass| for_load(file, model, adjusted, mass))
        .fold(for_pressures(file, model, adjusted, number), |all, one| all.plus(&one))
}

/// The part of it that the tires' pressures make.
pub(crate) fn for_pressures(file: &CarFile, model: &Model, adjusted: &Adjusted, number: usize) -> ToNominal {
    let [front_mm, rear_mm] = pressure_part(file, model, adjusted, number, &file.snapshots[number]);
    let u = |(part, known): (f64, f64)| (PRESSURE_REL_U * part).hypot(known).copysign(part);
    ToNominal {
        front_mm: front_mm.0,
        rear_mm: rear_mm.0,
        pressure_u: [u(front_mm), u(rear_mm)],
        ..ToNominal::default()
    }
}

/// The part of it that one mass makes.
pub(crate) fn for_load(file: &CarFile, model: &Model, adjusted: &Adjusted, mass: &LoadChange) -> ToNominal {
    let [front_mm, rear_mm] = load_drop_mm(&file.vehicle, std::slice::from_ref(mass));
    let rates = [true, false].map(|front| axle_rate(&file.vehicle, front));
    let stiffness: f64 = [true, false]
        .into_iter()
        .zip(rates)
        .map(|(front, (rate, _))| 0.5 * (rate / 2.0) * spring_base(file, model, front).powi(2))
        .sum();
    let lean_rad = mass.mass_kg * GRAVITY * mass.y_mm * adjusted.x[model.shared.lean_gain] / stiffness;
    let load_u = [rates[0].1 * front_mm, rates[1].1 * rear_mm, lean_rad * rates[0].1.max(rates[1].1)];
    let known = [true, false].map(|front| has_rate(file, front));
    let guessed = [!known[0], !known[1], !(known[0] && known[1])];
    let guessed_u = std::array::from_fn(|part| if guessed[part] { load_u[part] } else { 0.0 });
    ToNominal { front_mm, rear_mm, lean_rad, pressure_u: [0.0; 2], load_u, guessed_u }
}

impl ToNominal {
    /// What load or pressures did to the car: the correction the other way round, at the front axle and the rear one in mm and to
    /// its lean in degrees, each with its signed standard uncertainty.
    pub(crate) fn done(&self) -> [(f64, f64); 3] {
        let signed = |value: f64, pressure: f64, load: f64| (0.0 - value, 0.0 - (pressure + load));
        let (lean, lean_u) = signed(self.lean_rad, 0.0, self.load_u[2]);
        [
            signed(self.front_mm, self.pressure_u[0], self.load_u[0]),
            signed(self.rear_mm, self.pressure_u[1], self.load_u[1]),
            (lean.to_degrees(), lean_u.to_degrees()),
        ]
    }
}

/// How much lower a change of load makes the car stand at its front and at its rear axle, mm, on its springs and tires in series;
/// a load behind the rear axle lifts the nose. Uncertain by [`RideRate::rel_u`](crate::car::RideRate) of it.
pub fn load_drop_mm(vehicle: &Vehicle, changes: &[LoadChange]) -> [f64; 2] {
    let (wheelbase_mm, rates) = (vehicle.wheelbase_mm, [true, false].map(|front| axle_rate(vehicle, front).0));
    changes.iter().fold([0.0, 0.0], |[front, rear], mass| {
        let weight = mass.mass_kg * GRAVITY;
        [
            front + weight * (wheelbase_mm + mass.x_mm) / wheelbase_mm / rates[0],
            rear + weight * -mass.x_mm / wheelbase_mm / rates[1],
        ]
    })
}

/// How far a mass that does not sit in the middle leans the car, mm for each mm from the middle, positive left side up; uncertain by
/// the same. Distances of the springs that the file does not say are the tracks.
pub fn load_lean(vehicle: &Vehicle, mass: &LoadChange, lean_gain: f64) -> f64 {
    let stiffness = |front: bool| {
        let springs = vehicle.suspension.as_ref().map(|both| if front { &both.front } else { &both.rear });
        let track = if front { vehicle.track_front_mm } else { vehicle.track_rear_mm };
        let apart = springs.and_then(|axle| axle.spring_base_mm).unwrap_or(track);
        0.5 * (axle_rate(vehicle, front).0 / 2.0) * apart.powi(2)
    };
    -mass.mass_kg * GRAVITY * mass.y_mm * lean_gain / (stiffness(true) + stiffness(false))
}

/// Front and rear, mm: soft tires stand lower, so the correction is positive. With what is unsure of the pressures themselves.
fn pressure_part(
    file: &CarFile,
    model: &Model,
    adjusted: &Adjusted,
    number: usize,
    snapshot: &Snapshot,
) -> [(f64, f64); 2] {
    let Some((tires, pressures)) = file.vehicle.tires.as_ref().zip(air::pressures(file, snapshot)) else {
        return [(0.0, 0.0); 2];
    };
    let at_wheel = |corner: Corner| {
        let tire = tires.at(corner);
        let stiffness = 0.3 + 0.7 * pressures.kpa.at(corner) / tire.nominal_pressure_kpa;
        let free_radius = tire.free_diameter_mm / 2.0;
        let radius = model.stances[model.placements[number].stance].radius.get(&corner.index());
        let deflection = match (radius, file.vehicle.mass_kg_approx) {
            (Some(&unknown), _) => free_radius - adjusted.x[unknown],
            (None, Some(mass)) => mass * GRAVITY / 4.0 / (TIRE_RATE_N_PER_MM * stiffness),
            (None, None) => DEFLECTION_OF_RADIUS * free_radius / stiffness,
        };
        (deflection * (1.0 - stiffness), deflection * 0.7 * pressures.u_kpa / tire.nominal_pressure_kpa)
    };
    let mean = |left: Corner, right: Corner| {
        let (left, right) = (at_wheel(left), at_wheel(right));
        (f64::midpoint(left.0, right.0), f64::midpoint(left.1, right.1))
    };
    [mean(Corner::FL, Corner::FR), mean(Corner::RL, Corner::RR)]
}

fn has_rate(file: &CarFile, front: bool) -> bool {
    let springs = file.vehicle.suspension.as_ref().map(|both| if front { &both.front } else { &both.rear });
    springs.is_some_and(|axle| axle.axle_ride_rate_n_per_mm.is_some())
}

/// Ride rate of an axle, N/mm, and its relative standard uncertainty.
fn axle_rate(vehicle: &Vehicle, front: bool) -> (f64, f64) {
    let springs = vehicle.suspension.as_ref().map(|both| if front { &both.front } else { &both.rear });
    springs.and_then(|axle| axle.axle_ride_rate_n_per_mm).map_or(AXLE_RATE_N_PER_MM, |rate| (rate.value, rate.rel_u))
}

/// Distance between the springs of an axle, mm; the track where it is not known.
fn spring_base(file: &CarFile, model: &Model, front: bool) -> f64 {
    let springs = file.vehicle.suspension.as_ref().map(|both| if front { &both.front } else { &both.rear });
    let track = if front { model.track_front_mm } else { model.track_rear_mm };
    springs.and_then(|axle| axle.spring_base_mm).unwrap_or(track)
}
