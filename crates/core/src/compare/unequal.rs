//! What was not alike between two snapshots: said before any difference, since it may be the difference.

use crate::capture::{CarFile, Facing, Floor, Snapshot};
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

/// What was not alike, first what matters most. Of one snapshot against a target or a forecast: what was not nominal.
pub(super) fn unequal(file: &CarFile, earlier: Option<&Snapshot>, later: Option<&Snapshot>) -> Vec<Unequal> {
    let mut all = Vec::new();
    match (earlier, later) {
        (Some(earlier), Some(later)) => {
            floors(file, earlier, later, &mut all);
            load(earlier, later, &mut all);
            pressures(file, Some(earlier), later, &mut all);
            if earlier.facing != later.facing && earlier.floor == later.floor {
                let turned = if later.facing == Facing::B { "The later one" } else { "The earlier one" };
                let sentence = format!("{turned} stood turned end for end; spots were matched by facing.");
                all.push(Unequal { what: "facing", sentence });
            }
        }
        (Some(one), None) | (None, Some(one)) => {
            let floor = one.floor.as_ref().and_then(|id| file.floors.iter().find(|floor| floor.id == *id));
            if !floor.is_some_and(Floor::levelled) {
                let sentence =
                    "The floor is not levelled: front, rear and rake can be compared, corners cannot.".to_owned();
                all.push(Unequal { what: "floor_not_levelled", sentence });
            }
            if !one.load_change_from_nominal.is_empty() {
                let sentence = format!("Load was {}; its effect is taken out.", load_words(one));
                all.push(Unequal { what: "load", sentence });
            }
            pressures(file, None, one, &mut all);
        }
        (None, None) => {}
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
            "The floor is not levelled and the car was turned: its twist is the same either way round, its bumps are not.".to_owned();
        all.push(Unequal { what: "floor_not_levelled", sentence });
    }
}

fn load(earlier: &Snapshot, later: &Snapshot, all: &mut Vec<Unequal>) {
    if earlier.load_change_from_nominal == later.load_change_from_nominal {
        return;
    }
    let (before, after) = (load_words(earlier), load_words(later));
    let sentence = format!("Load was {before} then and {after} now; its effect is taken out.");
    all.push(Unequal { what: "load", sentence });
}

fn load_words(snapshot: &Snapshot) -> String {
    let named = snapshot
        .load_change_from_nominal
        .iter()
        .map(|change| if change.label.is_empty() { format!("{:+} kg", change.mass_kg) } else { shown(&change.label) });
    let named = named.collect::<Vec<_>>().join(", ");
    if named.is_empty() { "as usual".to_owned() } else { named }
}

/// Against an earlier snapshot, or against the usual pressures.
fn pressures(file: &CarFile, earlier: Option<&Snapshot>, later: &Snapshot, all: &mut Vec<Unequal>) {
    let nominal = |corner: Corner| file.vehicle.tires.as_ref().map(|tires| tires.at(corner).nominal_pressure_kpa);
    let at = |snapshot: Option<&Snapshot>, corner: Corner| {
        let pressures = snapshot.and_then(|snapshot| snapshot.tire_pressure_kpa.as_ref());
        pressures.map(|pressures| *pressures.at(corner)).or_else(|| nominal(corner))
    };
    let by = |corner: Corner| {
        let by = (at(Some(later), corner)? - at(earlier, corner)?).round();
        (by.abs() > ALIKE_KPA).then_some(by)
    };
    let each = Corner::ALL.map(by);
    let words =
        |place: &str, by: f64| format!("{place} {:.0} kPa {}", by.abs(), if by > 0.0 { "higher" } else { "lower" });
    let differing: Vec<String> = [("front", [0, 1]), ("rear", [2, 3])]
        .into_iter()
        .flat_map(|(axle, [left, right])| match (each[left], each[right]) {
            (Some(a), Some(b)) if a == b => vec![words(axle, a)],
            (a, b) => [(left, a), (right, b)]
                .into_iter()
                .filter_map(|(corner, by)| Some(words(Corner::ALL[corner].words(), by?)))
                .collect(),
        })
        .collect();
    if !differing.is_empty() {
        let than = if earlier.is_some() { "before" } else { "usual" };
        let sentence = format!("Tire pressures differ: {} than {than}; the effect is taken out.", differing.join(", "));
        all.push(Unequal { what: "pressures", sentence });
    }
}
