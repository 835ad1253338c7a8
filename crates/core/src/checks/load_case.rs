//! What is aboard when a car is checked: the masses of its file, or customary ones, which are named as such.

use super::jacking::{PULL_REL_U, strapped};
use crate::capture::LoadChange;
use crate::car::{Carried, Vehicle};
use crate::level::Problem;

/// What is aboard.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LoadCase {
    /// The nominal load and pressures.
    Nominal,
    /// As the snapshot was loaded.
    AsLoaded,
    /// One person in the front seat besides.
    Driver,
    /// Two people in the front seat besides.
    TwoUp,
    /// The half of the tank besides that the nominal load leaves empty.
    TankFull,
    /// Luggage behind besides.
    Luggage,
    /// What a trailer lays on the ball besides.
    Towing,
    /// Tied down on a trailer: straps pull the body down on its springs.
    Strapped,
}

impl LoadCase {
    /// Names as they are asked for.
    pub const ALL: [(&'static str, Self); 8] = [
        ("nominal", Self::Nominal),
        ("as_loaded", Self::AsLoaded),
        ("driver", Self::Driver),
        ("two_up", Self::TwoUp),
        ("tank_full", Self::TankFull),
        ("luggage", Self::Luggage),
        ("towing", Self::Towing),
        ("strapped", Self::Strapped),
    ];

    /// Those that stand side by side in one table: all but the day's own, which a target has not.
    pub const TABLE: [Self; 7] =
        [Self::Nominal, Self::Driver, Self::TwoUp, Self::TankFull, Self::Luggage, Self::Towing, Self::Strapped];

    /// Name as it is asked for.
    pub fn code(self) -> &'static str {
        Self::ALL.iter().find(|(_, case)| *case == self).map_or("", |(name, _)| name)
    }

    /// The case of that name.
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.iter().find(|(known, _)| *known == name).map(|(_, case)| *case)
    }

    /// In words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Nominal => "nominal load",
            Self::AsLoaded => "as loaded",
            Self::Driver => "driver",
            Self::TwoUp => "two up",
            Self::TankFull => "tank full",
            Self::Luggage => "luggage",
            Self::Towing => "towing",
            Self::Strapped => "tied down",
        }
    }

    /// How well what it does is known, relative: springs to a tenth, the pull of a strap that few people measure to a fifth
    /// [common practice, no source].
    pub const fn rel_u(self) -> f64 {
        match self {
            Self::Strapped => PULL_REL_U,
            _ => LOAD_REL_U,
        }
    }

    /// What can hurt under it, beside the load it is of.
    pub const fn caution(self) -> Option<&'static str> {
        match self {
            Self::Strapped => Some(
                "Straps go slack as the car works on its springs: look at them after a few kilometres. Pulled to the bump stop they load the \
                 frame at every bump (common practice, no source).",
            ),
            _ => None,
        }
    }

    /// What it adds to the nominal load; each label says what it is and where its number comes from.
    ///
    /// # Errors
    /// A full tank of a car whose file has none, or tied down where no strap is described.
    pub fn masses(self, vehicle: &Vehicle) -> Result<Vec<LoadChange>, Problem> {
        let one = |label: String, mass_kg: f64, x_mm: f64| vec![LoadChange { label, mass_kg, x_mm, y_mm: 0.0 }];
        Ok(match self {
            Self::Nominal | Self::AsLoaded => Vec::new(),
            Self::Driver => {
                one(format!("one person of {PERSON_KG} kg{}", seat_words(vehicle)), PERSON_KG, seat(vehicle))
            }
            Self::TwoUp => {
                one(format!("two people of {PERSON_KG} kg{}", seat_words(vehicle)), 2.0 * PERSON_KG, seat(vehicle))
            }
            Self::TankFull => {
                let Some(tank) = &vehicle.tank else {
                    let hint = "Add it to the file: \"tank\": {\"litres\": 60, \"x_mm\": -2900}.";
                    return Err(Problem::new(
                        "the car has no tank in the file, so nothing says what a full one weighs",
                        hint,
                    ));
                };
                let mass_kg = tank.litres / 2.0 * FUEL_KG_PER_LITRE;
                let label = format!("the other half of {} l of fuel, {mass_kg:.0} kg", tank.litres);
                one(label, mass_kg, tank.x_mm)
            }
            Self::Luggage => {
                let usual = (LUGGAGE_KG, -LUGGAGE_WHEELBASES * vehicle.wheelbase_mm);
                carried("luggage", vehicle.luggage.as_ref(), usual, one)
            }
            Self::Towing => {
                let behind = vehicle.extent.overhang_rear_mm.unwrap_or(BALL_WHEELBASES * vehicle.wheelbase_mm);
                let usual = (TONGUE_KG, -vehicle.wheelbase_mm - behind);
                carried("a trailer's load on the ball", vehicle.tow_ball.as_ref(), usual, one)
            }
            Self::Strapped => {
                let straps = vehicle.jacking.as_ref().map(strapped).unwrap_or_default();
                if straps.is_empty() {
                    let hint = "Type each pair of straps: where it holds the body, its pull, and how steeply it goes down. \
                                In a file: \"jacking\": {\"straps\": [{\"label\": \"front pair\", \"x_mm\": 300, \"pull_kg\": 300, \"down_deg\": 35}]}.";
                    return Err(Problem::new("no strap is described, so nothing says how it is tied down", hint));
                }
                let told = |strap: LoadChange| LoadChange {
                    label: format!(
                        "{} pulls the body down by {:.0} kg {:.0} mm {} the front axle",
                        strap.label,
                        strap.mass_kg,
                        strap.x_mm.abs(),
                        if strap.x_mm < 0.0 { "behind" } else { "ahead of" }
                    ),
                    ..strap
                };
                straps.into_iter().map(told).collect()
            }
        })
    }
}

fn carried(
    what: &str,
    stated: Option<&Carried>,
    (usual_kg, usual_x): (f64, f64),
    one: impl Fn(String, f64, f64) -> Vec<LoadChange>,
) -> Vec<LoadChange> {
    let (mass_kg, x_mm, from) = match stated {
        Some(stated) => (stated.mass_kg, stated.x_mm, ""),
        None => (usual_kg, usual_x, ", common practice, no source"),
    };
    one(format!("{what}, {mass_kg} kg {:.0} mm behind the front axle{from}", -x_mm), mass_kg, x_mm)
}

fn seat(vehicle: &Vehicle) -> f64 {
    vehicle.seats.first().map_or(-SEAT_WHEELBASES * vehicle.wheelbase_mm, |seat| seat.x_mm)
}

fn seat_words(vehicle: &Vehicle) -> String {
    let from = if vehicle.seats.is_empty() { "place and mass" } else { "mass" };
    format!(" {:.0} mm behind the front axle, {from} common practice, no source", -seat(vehicle))
}

/// Of what a load does to springs that are known to a tenth.
const LOAD_REL_U: f64 = 0.1;
/// A person with what they wear [common practice, no source].
const PERSON_KG: f64 = 75.0;
/// Of gasoline [common practice, no source].
const FUEL_KG_PER_LITRE: f64 = 0.75;
/// A front seat behind the front axle, in wheelbases, where the file has none [common practice, no source].
const SEAT_WHEELBASES: f64 = 0.55;
/// Bags for two [common practice, no source].
const LUGGAGE_KG: f64 = 40.0;
/// A trunk behind the front axle, in wheelbases [common practice, no source].
const LUGGAGE_WHEELBASES: f64 = 1.1;
/// A light trailer's nose [common practice, no source].
const TONGUE_KG: f64 = 50.0;
/// A ball behind the rear axle, in wheelbases, where no overhang was measured [common practice, no source].
const BALL_WHEELBASES: f64 = 0.35;
