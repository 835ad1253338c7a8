//! What follows from a stance: the bench sums that need no car file, and the checks of a car at a stance.
//!
//! A check is a function from the car at a stance to findings: one file, and one line in [`CHECKS`].

mod asked;
mod at_stance;
mod attitude;
mod beside;
pub mod bumpsteer;
mod caster;
mod clearance;
pub mod cooling;
mod doubt;
pub mod driveline;
mod finding;
pub mod fitment;
mod flat_tire;
pub mod gearing;
mod jacking;
pub mod lamps;
mod load_case;
pub mod over_ground;
mod own_grounds;
pub mod pedal;
pub mod ramp;
mod ramp_angles;
mod rolling;
pub mod square;
pub mod steering_box;
mod travel;
mod under_loads;
mod unread;
pub mod wedge;
pub mod weight;

pub(crate) use asked::loaded_radius;
pub use asked::{Which, at_stance};
pub use at_stance::{AtStance, BodyMove, Changed, Rule, Since};
pub use doubt::DoubtOf;
pub use finding::{Finding, Verdict};
pub use load_case::LoadCase;
pub use travel::{shackle_deg, shock_length_mm, track_bar_shift_mm};
pub use under_loads::{LeftOut, LoadTable, UnderLoad, under_loads};
pub use unread::{Unread, unread};

/// A check.
pub type Check = fn(&AtStance<'_>) -> Vec<Finding>;

/// Every check by its name, in the order they are told.
pub const CHECKS: [(&str, Check); 14] = [
    ("clearance", clearance::check),
    ("flat_tire", flat_tire::check),
    ("ramp", ramp_angles::check),
    ("travel", travel::check),
    ("fitment", fitment::check),
    ("square", square::check),
    ("jacking", jacking::check),
    ("caster", caster::check),
    ("bumpsteer", bumpsteer::check),
    ("driveline", driveline::check),
    ("lamps", lamps::check),
    ("attitude", attitude::check),
    ("cooling", cooling::check),
    ("gearing", rolling::check),
];

/// The findings of the named checks, of all where none is named.
pub fn findings(car: &AtStance<'_>, only: &[&str]) -> Vec<Finding> {
    let asked = CHECKS.iter().filter(|(name, _)| only.is_empty() || only.contains(name));
    asked.flat_map(|(_, check)| check(car)).collect()
}
