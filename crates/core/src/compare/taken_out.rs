//! What was not alike and is known: how much of a difference load and pressures make, which is taken out of it.

use super::stance::{SplitFigure, Stance};
use crate::capture::LoadChange;
use crate::level::{Cause, Moved, Solution};
use serde::Serialize;

/// One known effect, and how much of the difference it was.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TakenOut {
    /// A mass, or the tires' pressures.
    #[serde(flatten)]
    pub of: TakenOutOf,
    /// What it made the difference at the front axle larger by, mm: this is taken off.
    pub front_mm: SplitFigure,
    /// The same at the rear axle.
    pub rear_mm: SplitFigure,
    /// Left side up by it, degrees.
    pub lean_deg: SplitFigure,
}

/// What it was.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(tag = "of", rename_all = "snake_case")]
pub enum TakenOutOf {
    /// A mass that was aboard in one of the two, or in both with unlike weight or place.
    Load {
        /// What the person calls it.
        label: String,
        /// In this stance less in the other, kg.
        mass_kg: f64,
    },
    /// Tire pressures other than the usual ones.
    Pressures,
}

/// Half a tenth of a millimetre shows nowhere.
const NOTHING_MM: f64 = 0.05;

impl TakenOut {
    /// At a place between the axles or beyond, 0 at the front axle and 1 at the rear one, mm.
    pub fn at(&self, sigma: f64) -> SplitFigure {
        let (front, rear) = (self.front_mm, self.rear_mm);
        // Each axle has a rate of its own, and each its own doubt.
        SplitFigure {
            value: front.value * (1.0 - sigma) + rear.value * sigma,
            u: (front.u * (1.0 - sigma)).hypot(rear.u * sigma),
        }
    }
}

/// What is taken out of the difference between two stances, largest first; what is not measured is at nominal load.
pub(super) fn taken_out(solution: &Solution, this: Stance<'_>, other: Stance<'_>) -> Vec<TakenOut> {
    let of = |stance: Stance<'_>| match stance {
        Stance::Measured(snapshot) => solution.moved_by_condition(snapshot),
        Stance::Target(_) | Stance::Forecast(_) | Stance::Planned(_) => Vec::new(),
    };
    let (mut ours, mut theirs) = (of(this), of(other));
    // What was aboard in both alike made no difference.
    ours.retain(|moved| match theirs.iter().position(|known| moved.is_the_same_mass(known)) {
        Some(place) => {
            theirs.remove(place);
            false
        }
        None => true,
    });
    let all: Vec<(&Moved, f64)> =
        ours.iter().map(|moved| (moved, 1.0)).chain(theirs.iter().map(|moved| (moved, -1.0))).collect();
    let loads = all.iter().filter_map(|(moved, sign)| match &moved.cause {
        Cause::Load(LoadChange { label, mass_kg, .. }) => {
            Some(one(TakenOutOf::Load { label: label.clone(), mass_kg: sign * mass_kg }, &[(moved, *sign)]))
        }
        Cause::Pressures => None,
    });
    let pressures: Vec<(&Moved, f64)> =
        all.iter().filter(|(moved, _)| moved.cause == Cause::Pressures).copied().collect();
    let size = |of: &TakenOut| of.front_mm.value.abs().max(of.rear_mm.value.abs());
    let mut found: Vec<TakenOut> = loads.chain([one(TakenOutOf::Pressures, &pressures)]).collect();
    found.retain(|of| size(of) > NOTHING_MM);
    found.sort_by(|a, b| size(b).total_cmp(&size(a)));
    found
}

fn one(of: TakenOutOf, parts: &[(&Moved, f64)]) -> TakenOut {
    let sum = |part: fn(&Moved) -> (f64, f64)| {
        let [value, u] = parts.iter().fold([0.0, 0.0], |[value, u], (moved, sign)| {
            let (mm, doubt) = part(moved);
            [value + sign * mm, u + sign * doubt]
        });
        SplitFigure { value, u: u.abs() }
    };
    TakenOut {
        of,
        front_mm: sum(|moved| moved.front_mm),
        rear_mm: sum(|moved| moved.rear_mm),
        lean_deg: sum(|moved| moved.lean_deg),
    }
}
