//! What load and pressures did to a car as it stood, one by one: what a comparison takes out, and says that it does.

use super::Solution;
use super::nominal::{ToNominal, for_load, for_pressures};
use crate::capture::LoadChange;

/// Why a car stood higher or lower than at its nominal load and pressures.
#[derive(Clone, Debug, PartialEq)]
pub enum Cause {
    /// A mass aboard, or missing.
    Load(LoadChange),
    /// The tires' pressures.
    Pressures,
}

/// How one cause moved a car; each number with its standard uncertainty (k = 1), signed as the doubt of the rate it hangs on, so
/// that it cancels between two of a kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Moved {
    /// What did it.
    pub cause: Cause,
    /// At the front axle, mm, positive upwards.
    pub front_mm: (f64, f64),
    /// At the rear axle, mm.
    pub rear_mm: (f64, f64),
    /// Left side up, degrees.
    pub lean_deg: (f64, f64),
}

impl Moved {
    fn of(cause: Cause, correction: &ToNominal) -> Self {
        let [front_mm, rear_mm, lean_deg] = correction.done();
        Self { cause, front_mm, rear_mm, lean_deg }
    }

    /// True for the same mass at the same place, whatever it is called.
    pub fn is_the_same_mass(&self, other: &Self) -> bool {
        match (&self.cause, &other.cause) {
            (Cause::Load(a), Cause::Load(b)) => (a.mass_kg, a.x_mm, a.y_mm) == (b.mass_kg, b.x_mm, b.y_mm),
            _ => false,
        }
    }
}

impl Solution {
    /// What load and pressures did in a snapshot, cause by cause; together they are the heights as loaded less the nominal ones.
    /// Empty where there is no such snapshot.
    pub fn moved_by_condition(&self, snapshot: &str) -> Vec<Moved> {
        let Some(number) = self.number(snapshot) else { return Vec::new() };
        let loads = self.file.snapshots[number].load_change_from_nominal.iter().map(|mass| {
            let correction = for_load(&self.file, &self.model, &self.adjusted, mass);
            Moved::of(Cause::Load(mass.clone()), &correction)
        });
        let pressures = for_pressures(&self.file, &self.model, &self.adjusted, number);
        loads.chain([Moved::of(Cause::Pressures, &pressures)]).collect()
    }
}
