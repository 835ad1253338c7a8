//! Two snapshots that follow each other in a car's history: what changed beyond doubt between them, and where they cannot be
//! compared, why.

mod points;
#[cfg(test)]
mod tests;

use super::Load;
use super::marks::{Told, other_marks};
use super::unequal::{Unequal, unequal};
use super::verdict::Difference;
use crate::capture::{CarFile, Event, EventKind, Snapshot};
use crate::car::PointKind;
use crate::level::Solution;
use crate::wording::day;
use points::{kinds, nothing_common, points};
use serde::Serialize;

/// One step of a car's history.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Neighbours {
    /// Name of the earlier snapshot.
    pub earlier: String,
    /// Name of the later one.
    pub later: String,
    /// Why nothing can be compared; then there are no numbers below.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub incomparable: Option<Incomparable>,
    /// What changed, at nominal load and pressures: later less earlier.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub changed: Option<Changed>,
    /// What was not alike, first what matters most.
    pub unequal: Vec<Unequal>,
}

/// What changed at the kind of point that both have.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Changed {
    /// The kind.
    pub kind: PointKind,
    /// Mean of left and right in front, mm; absent where not both have both.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub front: Option<Difference>,
    /// The same behind, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rear: Option<Difference>,
    /// Positive is more nose-down, degrees.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rake_deg: Option<Difference>,
    /// Single points that both have where front and rear cannot be told: id and mm.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub points: Vec<(String, Difference)>,
}

/// Why two snapshots cannot be compared.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Incomparable {
    /// The reason's code.
    pub why: Why,
    /// Whole sentence.
    pub sentence: String,
}

/// Reasons why nothing can be compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Why {
    /// One of the two is not finished.
    Unfinished,
    /// One of the two stands on rated stands.
    MockUp,
    /// The marks were painted anew between the two.
    MarksAnew,
    /// The body was remounted between the two, and only its own points are common.
    BodyRemounted,
    /// Each was read at another kind of point.
    AnotherKind,
    /// The same kind, but no point that both have.
    NoCommonPoint,
    /// One of the two could not be worked out.
    NotWorkedOut,
}

/// Snapshots of a file in the order of their days; those of one day in the order of entry.
pub fn in_time(file: &CarFile) -> Vec<&Snapshot> {
    let mut all: Vec<&Snapshot> = file.snapshots.iter().collect();
    all.sort_by(|a, b| a.date.cmp(&b.date));
    all
}

/// Holds a snapshot against the one before it. `None` where either is not in the file.
pub fn neighbours(file: &CarFile, solution: &Solution, earlier: &str, later: &str) -> Option<Neighbours> {
    let find = |id: &str| file.snapshots.iter().find(|snapshot| snapshot.id == id);
    let (before, after) = (find(earlier)?, find(later)?);
    let (incomparable, changed) = match told(file, solution, before, after) {
        Ok(changed) => (None, Some(changed)),
        Err((why, sentence)) => (Some(Incomparable { why, sentence }), None),
    };
    let solved = |id: &str| solution.snapshots.iter().find(|stance| stance.id == id);
    let marks = || {
        let read = |id: &str| solved(id).map(Told::Snapshot);
        other_marks(&file.vehicle, read(earlier)?, read(later)?)
    };
    let unequal = match changed {
        Some(_) => marks().into_iter().chain(unequal(file, Some(before), Some(after), Load::Nominal)).collect(),
        None => Vec::new(),
    };
    Some(Neighbours { earlier: earlier.to_owned(), later: later.to_owned(), incomparable, changed, unequal })
}

fn told(file: &CarFile, solution: &Solution, before: &Snapshot, after: &Snapshot) -> Result<Changed, (Why, String)> {
    let refuse = |why, sentence: &str| Err((why, sentence.to_owned()));
    let unfinished = |snapshot: &Snapshot| snapshot.extra.contains_key("unfinished");
    match (unfinished(before), unfinished(after)) {
        (_, true) => return refuse(Why::Unfinished, "It is unfinished: compared once it is finished."),
        (true, _) => return refuse(Why::Unfinished, "The one before it is unfinished."),
        _ => {}
    }
    match (before.on_wheels(), after.on_wheels()) {
        (true, true) => {}
        (true, false) => {
            return refuse(Why::MockUp, "It is a mock-up on rated stands: its heights are no ride heights.");
        }
        (false, true) => return refuse(Why::MockUp, "The one before it is a mock-up on rated stands."),
        (false, false) => return refuse(Why::MockUp, "Both are mock-ups on rated stands, not ride heights."),
    }
    let between = |kind: EventKind| lying_between(file, before, after).find(|event| event.known_kind() == Some(kind));
    if let Some(event) = between(EventKind::MarksAnew) {
        let sentence =
            format!("The marks were painted anew on {}: before it other points were read.", day(&event.date));
        return Err((Why::MarksAnew, sentence));
    }
    let (read_before, read_after) = (points(before), points(after));
    let mut common = kinds(file, &read_before.intersection(&read_after).copied().collect());
    if common.is_empty() {
        return Err(nothing_common(file, &read_before, &read_after));
    }
    if let Some(event) = between(EventKind::BodyRemounted) {
        common.retain(|kind| matches!(kind, PointKind::FrameRail | PointKind::SpringPerch));
        if common.is_empty() {
            let sentence = format!(
                "The body was remounted on {}: its points lie elsewhere since. Frame rails could be compared.",
                day(&event.date)
            );
            return Err((Why::BodyRemounted, sentence));
        }
    }
    let solved = |snapshot: &Snapshot| solution.snapshots.iter().any(|stance| stance.id == snapshot.id);
    if !solved(before) || !solved(after) {
        return refuse(Why::NotWorkedOut, "One of the two could not be worked out.");
    }
    let told: Vec<Changed> =
        common.iter().map(|kind| changed(file, solution, [&before.id, &after.id], *kind)).collect();
    let best = told.iter().find(|changed| changed.front.is_some() && changed.rear.is_some());
    match best.or_else(|| told.iter().find(|changed| !changed.is_empty())) {
        Some(changed) => Ok(changed.clone()),
        None => refuse(Why::NotWorkedOut, "Nothing that both have can be told on these floors."),
    }
}

impl Changed {
    fn is_empty(&self) -> bool {
        self.front.is_none() && self.rear.is_none() && self.points.is_empty()
    }
}

fn changed(file: &CarFile, solution: &Solution, [from, to]: [&str; 2], kind: PointKind) -> Changed {
    let change = |figure: &str| {
        let difference = Difference::of(solution.change(from, to, figure)?, None);
        difference.value.map(|_| difference)
    };
    let line = |name: &str| change(&format!("lines_nominal.{}.{name}", kind.code()));
    let (front, rear) = (line("front_mean_mm"), line("rear_mean_mm"));
    let points = if front.is_none() && rear.is_none() {
        let of_kind = file.vehicle.ref_points.iter().filter(|point| point.kind == kind);
        of_kind
            .filter_map(|point| Some((point.id.clone(), change(&format!("heights_nominal.{}", point.id))?)))
            .collect()
    } else {
        Vec::new()
    };
    Changed { kind, front, rear, rake_deg: line("rake_deg"), points }
}

/// Work after the earlier snapshot and up to the later one; of one day, what the clocks say.
pub fn lying_between<'f>(
    file: &'f CarFile,
    before: &'f Snapshot,
    after: &'f Snapshot,
) -> impl Iterator<Item = &'f Event> {
    let later_km = |a: Option<f64>, b: Option<f64>| a.zip(b).map(|(a, b)| a > b);
    file.events.iter().filter(move |event| {
        let after_before = match event.date.as_str().cmp(before.date.as_str()) {
            std::cmp::Ordering::Greater => true,
            // On the day of the earlier one work counts as before it, unless its kilometres say otherwise.
            std::cmp::Ordering::Equal => later_km(event.odometer_km, before.odometer_km).unwrap_or(false),
            std::cmp::Ordering::Less => false,
        };
        let before_after = match event.date.as_str().cmp(after.date.as_str()) {
            std::cmp::Ordering::Less => true,
            std::cmp::Ordering::Equal => !later_km(event.odometer_km, after.odometer_km).unwrap_or(false),
            std::cmp::Ordering::Greater => false,
        };
        after_before && before_after
    })
}
