//! What was not alike between two snapshots: said before any difference, since it may be the difference.

use super::Load;
use crate::capture::{CarFile, Facing, Floor, Snapshot};
use crate::corner::Corner;
use crate::target::Target;
use crate::wording::shown;
use serde::Serialize;

/// One thing that was not alike.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Unequal {
    /// `marks`, `floor`, `floor_not_levelled`, `load`, `pressures`, `facing`, `tires`.
    pub what: &'static str,
    /// Whole sentence.
    pub sentence: String,
}

/// Pressures nearer to each other than this are alike, kPa; a gauge is read no better (common practice, no source).
const ALIKE_KPA: f64 = 5.0;

/// What was not alike, first what matters most. Of one snapshot against a target or a forecast: what was not nominal.
pub(super) fn unequal(
    file: &CarFile,
    earlier: Option<&Snapshot>,
    later: Option<&Snapshot>,
    compared: Load,
) -> Vec<Unequal> {
    let mut all = Vec::new();
    let effect = if compared == Load::Nominal { "effect is taken out" } else { "effect is in the differences" };
    match (earlier, later) {
        (Some(earlier), Some(later)) => {
            floors(file, earlier, later, &mut all);
            load(earlier, later, effect, &mut all);
            pressures(file, Some(earlier), later, effect, &mut all);
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
                let sentence = format!("Load was {}; its {effect}.", load_words(one));
                all.push(Unequal { what: "load", sentence });
            }
            pressures(file, None, one, effect, &mut all);
        }
        (None, None) => {}
    }
    all
}

/// A target that is meant with other tires than the car has: half the difference of their diameters is in every height.
pub(super) fn other_tires(file: &CarFile, target: &Target) -> Option<Unequal> {
    let (meant, fitted) = (target.tires.as_ref()?, file.vehicle.tires.as_ref()?);
    let plain = |marking: &str| marking.split_whitespace().collect::<String>().to_lowercase();
    let differs = |front: bool, meant: &str| {
        let corners = Corner::ALL.into_iter().filter(|corner| corner.is_front() == front);
        let other = corners.map(|corner| &fitted.at(corner).designation).find(|own| plain(own) != plain(meant));
        (!meant.trim().is_empty())
            .then_some(other)
            .flatten()
            .map(|own| format!("{} {} and not {}", if front { "front" } else { "rear" }, shown(meant), shown(own)))
    };
    let differing: Vec<String> = differs(true, &meant.front).into_iter().chain(differs(false, &meant.rear)).collect();
    (!differing.is_empty()).then(|| Unequal {
        what: "tires",
        sentence: format!("The target is meant with other tires: {}.", differing.join(", ")),
    })
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

fn load(earlier: &Snapshot, later: &Snapshot, effect: &str, all: &mut Vec<Unequal>) {
    if earlier.load_change_from_nominal == later.load_change_from_nominal {
        return;
    }
    let (before, after) = (load_words(earlier), load_words(later));
    let sentence = format!("Load was {before} then and {after} now; its {effect}.");
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
fn pressures(file: &CarFile, earlier: Option<&Snapshot>, later: &Snapshot, effect: &str, all: &mut Vec<Unequal>) {
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
        let sentence = format!("Tire pressures differ: {} than {than}; the {effect}.", differing.join(", "));
        all.push(Unequal { what: "pressures", sentence });
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_target_for_other_tires_is_named_with_both() {
        let tire = |marking: &str| json!({"designation": marking, "free_diameter_mm": 660, "rim_diameter_mm": 406.4, "nominal_pressure_kpa": 180});
        let file: CarFile = serde_json::from_value(json!({"vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400,
            "track_rear_mm": 1400, "tires": {"FL": tire("5.00-16"), "FR": tire("5.00-16"), "RL": tire("7.00-16"), "RR": tire("7.00-16")}}}))
        .expect("a file");
        let target = |front: &str, rear: &str| -> Target {
            serde_json::from_value(json!({"tires": {"front": front, "rear": rear}})).expect("a target")
        };
        let said = |front: &str, rear: &str| other_tires(&file, &target(front, rear)).map(|unequal| unequal.sentence);
        assert_eq!(said("5.00-16", "7.00 - 16"), None);
        assert_eq!(said("", "7.00-16"), None);
        assert_eq!(
            said("5.00-16", "6.50-16").as_deref(),
            Some("The target is meant with other tires: rear 6.50-16 and not 7.00-16.")
        );
    }
}
