//! What was not alike between two snapshots: said before any difference, since it may be the difference.

use crate::capture::{CarFile, Facing, LoadChange, Snapshot};
use crate::corner::Corner;
use crate::wording::shown;
use serde::Serialize;

/// One thing that was not alike.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Unequal {
    /// `floor`, `floor_not_levelled`, `load`, `pressures`, `facing`.
    pub what: &'static str,
    /// Whole sentence.
    pub sentence: String,
}

/// Pressures nearer to each other than this are alike, kPa; a gauge is read no better (common practice, no source).
const ALIKE_KPA: f64 = 5.0;

pub(super) fn unequal(file: &CarFile, earlier: &Snapshot, later: &Snapshot) -> Vec<Unequal> {
    let mut all = Vec::new();
    floors(file, earlier, later, &mut all);
    load(earlier, later, &mut all);
    pressures(file, earlier, later, &mut all);
    if earlier.facing != later.facing && earlier.floor == later.floor {
        let turned = if later.facing == Facing::B { "The later one" } else { "The earlier one" };
        let sentence = format!("{turned} stood turned end for end; spots were matched by facing.");
        all.push(Unequal { what: "facing", sentence });
    }
    all
}

fn floors(file: &CarFile, earlier: &Snapshot, later: &Snapshot, all: &mut Vec<Unequal>) {
    let floor = |snapshot: &Snapshot| file.floors.iter().find(|floor| Some(&floor.id) == snapshot.floor.as_ref());
    let levelled = |snapshot: &Snapshot| floor(snapshot).is_some_and(|floor| floor.levelled());
    let same = earlier.floor.is_some() && earlier.floor == later.floor;
    if same && earlier.facing == later.facing {
        return;
    }
    let both = levelled(earlier) && levelled(later);
    if !same {
        let sentence = if both {
            "They stood on different floors, both levelled.".to_owned()
        } else {
            "They stood on different floors, and not both are levelled: front, rear and rake can be compared, corners cannot.".to_owned()
        };
        all.push(Unequal { what: if both { "floor" } else { "floor_not_levelled" }, sentence });
    } else if !both {
        let sentence =
            "The floor is not levelled and the car was turned: front, rear and rake can be compared.".to_owned();
        all.push(Unequal { what: "floor_not_levelled", sentence });
    }
}

fn load(earlier: &Snapshot, later: &Snapshot, all: &mut Vec<Unequal>) {
    if earlier.load_change_from_nominal == later.load_change_from_nominal {
        return;
    }
    let words = |load: &[LoadChange]| {
        if load.is_empty() {
            return "as usual".to_owned();
        }
        let named = load.iter().map(|change| {
            if change.label.is_empty() { format!("{:+} kg", change.mass_kg) } else { shown(&change.label) }
        });
        named.collect::<Vec<_>>().join(", ")
    };
    let (before, after) = (words(&earlier.load_change_from_nominal), words(&later.load_change_from_nominal));
    let sentence = format!("Load was {before} then and {after} now; its effect is taken out.");
    all.push(Unequal { what: "load", sentence });
}

fn pressures(file: &CarFile, earlier: &Snapshot, later: &Snapshot, all: &mut Vec<Unequal>) {
    let nominal = |corner: Corner| file.vehicle.tires.as_ref().map(|tires| tires.at(corner).nominal_pressure_kpa);
    let at = |snapshot: &Snapshot, corner: Corner| {
        snapshot.tire_pressure_kpa.as_ref().map(|pressures| *pressures.at(corner)).or_else(|| nominal(corner))
    };
    let differing: Vec<String> = Corner::ALL
        .into_iter()
        .filter_map(|corner| {
            let (before, after) = (at(earlier, corner)?, at(later, corner)?);
            let by = (after - before).round();
            (by.abs() > ALIKE_KPA).then(|| {
                format!("{} {:.0} kPa {}", corner.words(), by.abs(), if by > 0.0 { "higher" } else { "lower" })
            })
        })
        .collect();
    if !differing.is_empty() {
        let sentence = format!("Tire pressures differ: {} than before; the effect is taken out.", differing.join(", "));
        all.push(Unequal { what: "pressures", sentence });
    }
}
