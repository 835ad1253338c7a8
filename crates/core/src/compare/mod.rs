//! Two stances of one car against each other: what is really different, and what is within the doubt.

mod forecast;
mod limits;
mod marks;
mod neighbours;
mod pair;
mod parts;
mod planned;
mod split;
mod stance;
mod taken_out;
mod unequal;
mod verdict;

pub use crate::target::Target;
pub use forecast::Forecast;
pub use limits::LimitFinding;
pub use neighbours::{Changed, Incomparable, Neighbours, Why, in_time, lying_between, neighbours};
pub use parts::{EndParts, Parts};
pub use planned::{PlannedLine, PlannedStance};
pub use split::Split;
pub use stance::{SplitFigure, Stance};
pub use taken_out::{TakenOut, TakenOutOf};
pub use unequal::Unequal;
pub use verdict::{Difference, Verdict};

use crate::capture::{CarFile, Snapshot};
use crate::level::{Problem, Solution};
use crate::wording::shown;
use pair::Pair;
pub(crate) use pair::marks_x_mm;
use serde::Serialize;
use std::collections::BTreeMap;

/// A difference in mm over a line, and the same in degrees.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Angle {
    /// mm: rake over the marks' own distance, lean over the front track.
    pub mm: Difference,
    /// Degrees.
    pub deg: Difference,
}

/// Front and rear of a kind of point: means of left and right, which the floor's twist does not touch.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Means {
    /// mm.
    pub front: Difference,
    /// mm.
    pub rear: Difference,
}

/// Two stances against each other.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Comparison {
    /// By point that both have.
    pub differences: BTreeMap<String, Difference>,
    /// By kind of point that both have at all four corners.
    pub means: BTreeMap<String, Means>,
    /// By kind of point: rear less front; positive is more nose-down.
    pub rake: BTreeMap<String, Angle>,
    /// By kind of point: positive is the left side higher.
    pub lean: BTreeMap<String, Angle>,
    /// By kind of point: front left − front right − rear left + rear right, mm.
    pub twist: BTreeMap<String, Difference>,
    /// The differences as movements of a rigid body, and what is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub split: Option<Split>,
    /// Against a target: each point against each limit that holds for it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub limits: Vec<LimitFinding>,
    /// What was not alike between the two, first what matters most.
    pub unequal: Vec<Unequal>,
    /// What load and pressures made of the differences, largest first: taken out at nominal load, still in it as loaded.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub taken_out: Vec<TakenOut>,
    /// Tire part and spring part of the change as it stood, by point; of two snapshots in which the wheel centres were read.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub parts: BTreeMap<String, Parts>,
    /// The same by kind of point and end.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    pub end_parts: BTreeMap<String, EndParts>,
}

/// Under which load two stances are held against each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Load {
    /// At nominal load and pressures: known effects are taken out.
    Nominal,
    /// As it stood; a target and a forecast are at nominal load all the same.
    AsLoaded,
}

/// Holds one stance against another: differences are `this` less `other`.
///
/// Floors, tape and roll share that two snapshots share cancel in their difference, so a change on the same marks is sharper than
/// a height. Known effects of load and pressures are taken out at [`Load::Nominal`]; what was read stays as it is.
///
/// # Errors
/// A snapshot that is not in the file or stands on stands, or nothing that both have.
pub fn compare(
    file: &CarFile,
    solution: &Solution,
    this: Stance<'_>,
    other: Stance<'_>,
    load: Load,
) -> Result<Comparison, Problem> {
    let (ours, theirs) = (snapshot(file, this)?, snapshot(file, other)?);
    if let (Stance::Measured(one), Stance::Measured(same)) = (this, other)
        && one == same
    {
        let message = format!("snapshot {} is on both sides", shown(one));
        return Err(Problem::new(message, "Name two different snapshots."));
    }
    let pair = Pair { file, solution, this, other, nominal: load == Load::Nominal };
    let differences = pair.differences();
    let (limits, rake) = (limits::findings(&pair), pair.rake());
    if differences.is_empty() && limits.is_empty() && rake.is_empty() {
        let hint = "Read the same points in both, or name another snapshot.";
        return Err(match pair.other_marks() {
            Some(marks) => Problem::new(format!("the two have no point in common. {}", marks.sentence), hint),
            None => Problem::new("the two have no point in common", hint),
        });
    }
    let (parts, end_parts) = match (this, other) {
        (Stance::Measured(later), Stance::Measured(earlier)) => parts::parts(file, solution, later, earlier),
        _ => Default::default(),
    };
    Ok(Comparison {
        means: pair.means(),
        rake,
        lean: pair.lean(),
        twist: pair.twist(),
        split: split::split(&pair, &differences),
        differences,
        limits,
        unequal: pair
            .other_marks()
            .into_iter()
            .chain(pair.of_the_target(|target| unequal::other_tires(file, target)))
            .chain(unequal::unequal(file, theirs, ours, load))
            .collect(),
        taken_out: taken_out::taken_out(solution, this, other),
        parts,
        end_parts,
    })
}

const INSTEAD: &str = "Compare snapshots that stand on their wheels.";

/// The snapshot that a stance is, where it is one; that of a forecast has to be there too.
fn snapshot<'f>(file: &'f CarFile, stance: Stance<'_>) -> Result<Option<&'f Snapshot>, Problem> {
    match stance {
        Stance::Measured(id) => Ok(Some(on_its_wheels(file, id, INSTEAD)?)),
        Stance::Forecast(forecast) => on_its_wheels(file, &forecast.snapshot, INSTEAD).map(|_| None),
        Stance::Planned(planned) => on_its_wheels(file, &planned.from, INSTEAD).map(|_| None),
        Stance::Target(_) => Ok(None),
    }
}

/// The snapshot of that name, if it stands on its wheels; `instead` says what to name where it does not.
pub(crate) fn on_its_wheels<'f>(file: &'f CarFile, id: &str, instead: &str) -> Result<&'f Snapshot, Problem> {
    let Some(snapshot) = file.snapshots.iter().find(|snapshot| snapshot.id == id) else {
        let known: Vec<&str> = file.snapshots.iter().map(|snapshot| snapshot.id.as_str()).collect();
        let hint = format!("Name one of them: {}.", crate::wording::listed(&known));
        return Err(Problem::new(format!("there is no snapshot {}", shown(id)), hint));
    };
    if !snapshot.on_wheels() {
        let message = format!("snapshot {} is a mock-up on rated stands: its heights are no ride heights", shown(id));
        return Err(Problem::new(message, instead));
    }
    Ok(snapshot)
}
