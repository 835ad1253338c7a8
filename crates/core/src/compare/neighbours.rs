//! Two snapshots that follow each other in a car's history: what changed beyond doubt between them, and where they cannot be
//! compared, why.

use super::Load;
use super::unequal::{Unequal, unequal};
use super::verdict::Difference;
use crate::capture::{CarFile, Event, EventKind, Snapshot};
use crate::car::PointKind;
use crate::level::Solution;
use crate::wording::day;
use serde::Serialize;
use std::collections::BTreeSet;

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
    let unequal = if changed.is_some() { unequal(file, Some(before), Some(after), Load::Nominal) } else { Vec::new() };
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

/// Names of points that were read on the car and count.
fn points(snapshot: &Snapshot) -> BTreeSet<&str> {
    let tapes = snapshot.bounces.iter().flat_map(|bounce| &bounce.readings).filter(|reading| reading.struck.is_none());
    let tapes = tapes.map(|reading| reading.point.as_str());
    let planes = snapshot.plane_on_car.iter().flat_map(|pass| &pass.readings);
    let planes = planes.filter(|reading| reading.struck.is_none()).map(|reading| reading.point.as_str());
    let bare = |name: &'_ str| ["on:", "hub_to:"].into_iter().find_map(|word| name.strip_prefix(word)).map(str::len);
    tapes.chain(planes).map(|name| &name[name.len() - bare(name).unwrap_or(name.len())..]).collect()
}

/// Kinds of the reference points among these names, in the order in which kinds are shown.
fn kinds(file: &CarFile, names: &BTreeSet<&str>) -> Vec<PointKind> {
    let is_there = |kind: &PointKind| {
        file.vehicle.ref_points.iter().any(|point| point.kind == *kind && names.contains(point.id.as_str()))
    };
    PointKind::ALL.into_iter().filter(is_there).collect()
}

fn nothing_common(file: &CarFile, before: &BTreeSet<&str>, after: &BTreeSet<&str>) -> (Why, String) {
    let (then, now) = (kinds(file, before), kinds(file, after));
    let words = |kinds: &[PointKind]| {
        let words: Vec<&str> = kinds.iter().map(|kind| kind.words()).collect();
        crate::wording::listed(&words)
    };
    if then.is_empty() || now.is_empty() {
        let which = if now.is_empty() { "In this one" } else { "In the one before it" };
        return (Why::NoCommonPoint, format!("{which} no point of the car was read."));
    }
    if then.iter().any(|kind| now.contains(kind)) {
        let sentence = format!("Both have the {}, but no corner was read in both.", words(&then));
        return (Why::NoCommonPoint, sentence);
    }
    let sentence = format!("Another kind of point: {} now, {} before.", words(&now), words(&then));
    (Why::AnotherKind, sentence)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::compare::Verdict;
    use crate::corner::Corner;
    use crate::level::{Options, solve};
    use serde_json::{Value, json};

    /// Four marks of a kind, read at these heights.
    fn readings(stem: &str, heights: [f64; 4]) -> Value {
        let each = Corner::ALL.into_iter().zip(heights).filter(|(_, mm)| *mm > 0.0);
        each.map(|(corner, mm)| json!({"ref": format!("{stem}.{corner}"), "repeat": 1, "text": format!("{mm}"), "unit": "mm", "value_mm": mm}))
            .collect()
    }

    fn snapshot(id: &str, date: &str, stem: &str, heights: [f64; 4]) -> Value {
        json!({"id": id, "date": date, "floor": "f", "bounces": [{"bounce_id": format!("{id}1"), "readings": readings(stem, heights)}]})
    }

    fn file(snapshots: Vec<Value>, events: Value) -> CarFile {
        let marks = [("lip", "fender_lip", 0.0), ("rail", "frame_rail", 300.0)].into_iter().flat_map(|(stem, kind, in_by)| {
            Corner::ALL.into_iter().map(move |corner| {
                let (x, left) = (if corner.is_front() { -in_by } else { in_by - 2_600.0 }, if corner.is_left() { 1.0 } else { -1.0 });
                json!({"id": format!("{stem}.{corner}"), "corner": corner.code(), "kind": kind, "x_mm": x, "y_mm": left * (700.0 - in_by)})
            })
        });
        let staffs: Vec<Value> = [900.0, 902.0, 905.0, 901.0]
            .into_iter()
            .zip(1..)
            .map(|(mm, spot)| json!({"point": format!("S{spot}"), "text": format!("{mm}"), "unit": "mm", "value_mm": mm}))
            .collect();
        let car = json!({"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "ref_points": marks.collect::<Vec<_>>()});
        serde_json::from_value(json!({"vehicle": car, "snapshots": snapshots, "events": events,
            "floors": [{"id": "f", "label": "Shop", "survey": {"passes": [{"pass_no": 1, "readings": staffs}]}}]}))
        .expect("well-formed")
    }

    fn between(file: &CarFile) -> Neighbours {
        let mut part = file.clone();
        part.snapshots.retain(|snapshot| !snapshot.extra.contains_key("unfinished"));
        let solution = solve(&part, &Options::default()).expect("can be worked out");
        let time = in_time(file);
        neighbours(file, &solution, &time[0].id, &time[1].id).expect("both are there")
    }

    fn why(file: &CarFile) -> (Why, String) {
        let found = between(file);
        assert_eq!(found.changed, None);
        found.incomparable.map(|reason| (reason.why, reason.sentence)).expect("a reason")
    }

    const HIGH: [f64; 4] = [620.0, 621.0, 580.0, 582.0];
    /// Front 12 mm lower, rear as it was.
    const LOW: [f64; 4] = [608.0, 609.0, 580.0, 582.0];

    fn two() -> Vec<Value> {
        vec![snapshot("b", "2031-05-10", "lip", LOW), snapshot("a", "2031-05-03", "lip", HIGH)]
    }

    /// By hand: front mean 620.5 to 608.5 is 12 lower; rear the same; over 2600 mm 12 mm are atan(12/2600) = 0.264 deg.
    #[test]
    fn what_changed_is_later_less_earlier_whatever_the_order_of_entry() {
        let found = between(&file(two(), json!([])));
        assert_eq!((found.earlier.as_str(), found.later.as_str()), ("a", "b"));
        let changed = found.changed.expect("can be compared");
        let (front, rear, rake) =
            (changed.front.expect("front"), changed.rear.expect("rear"), changed.rake_deg.expect("rake"));
        assert!((front.value.expect("told") + 12.0).abs() < 0.01, "{front:?}");
        assert!(rear.value.expect("told").abs() < 0.01, "{rear:?}");
        assert!((rake.value.expect("told") - 0.264).abs() < 0.002, "{rake:?}");
        assert_eq!((front.verdict, rear.verdict), (Verdict::Changed, Verdict::Same));
        assert_eq!(found.unequal, []);
    }

    #[test]
    fn each_reason_is_told_in_words() {
        let with = |change: &dyn Fn(&mut Vec<Value>)| {
            let mut snapshots = two();
            change(&mut snapshots);
            file(snapshots, json!([]))
        };
        let unfinished = with(&|all| all[0]["unfinished"] = json!({}));
        assert_eq!(why(&unfinished).0, Why::Unfinished);
        let mock_up = with(&|all| all[1]["standing"] = json!("mock_up"));
        assert_eq!(why(&mock_up), (Why::MockUp, "The one before it is a mock-up on rated stands.".to_owned()));
        let other = with(&|all| all[0] = snapshot("b", "2031-05-10", "rail", [300.0; 4]));
        assert_eq!(
            why(&other),
            (Why::AnotherKind, "Another kind of point: frame rail now, fender lip before.".to_owned())
        );
        let corners = with(&|all| {
            all[0] = snapshot("b", "2031-05-10", "lip", [600.0, 0.0, 0.0, 0.0]);
            all[1] = snapshot("a", "2031-05-03", "lip", [0.0, 0.0, 580.0, 581.0]);
        });
        assert_eq!(
            why(&corners),
            (Why::NoCommonPoint, "Both have the fender lip, but no corner was read in both.".to_owned())
        );
        let nothing = with(&|all| all[0] = snapshot("b", "2031-05-10", "hub", [330.0; 4]));
        assert_eq!(why(&nothing), (Why::NoCommonPoint, "In this one no point of the car was read.".to_owned()));
    }

    #[test]
    fn work_between_the_two_ends_what_can_be_compared() {
        let event = |kind: &str, date: &str, km: Option<f64>| json!([{"date": date, "what": kind, "kind": kind, "odometer_km": km}]);
        let remounted = file(two(), event("body_remounted", "2031-05-05", None));
        let sentence =
            "The body was remounted on 5 May 2031: its points lie elsewhere since. Frame rails could be compared.";
        assert_eq!(why(&remounted), (Why::BodyRemounted, sentence.to_owned()));
        let painted = file(two(), event("marks_anew", "2031-05-10", None));
        assert_eq!(why(&painted).0, Why::MarksAnew);
        let rails =
            vec![snapshot("b", "2031-05-10", "rail", [300.0; 4]), snapshot("a", "2031-05-03", "rail", [310.0; 4])];
        assert!(between(&file(rails, event("body_remounted", "2031-05-05", None))).changed.is_some());
        for (date, between_them) in
            [("2031-05-02", false), ("2031-05-03", false), ("2031-05-11", false), ("2031-05-04", true)]
        {
            let found = between(&file(two(), event("marks_anew", date, None)));
            assert_eq!(found.incomparable.is_some(), between_them, "{date}");
        }
        let mut clocks = two();
        (clocks[0]["odometer_km"], clocks[1]["odometer_km"]) = (json!(48_300.0), json!(48_200.0));
        let after_it = file(clocks, event("marks_anew", "2031-05-03", Some(48_210.0)));
        assert!(between(&after_it).incomparable.is_some(), "the same day, ten kilometres later");
    }

    #[test]
    fn a_corner_that_both_have_is_compared_where_front_and_rear_cannot_be() {
        let snapshots = vec![
            snapshot("b", "2031-05-10", "lip", [608.0, 0.0, 0.0, 0.0]),
            snapshot("a", "2031-05-03", "lip", [620.0, 0.0, 0.0, 0.0]),
        ];
        let changed = between(&file(snapshots, json!([]))).changed.expect("can be compared");
        assert_eq!((changed.front, changed.rear, changed.points.len()), (None, None, 1));
        let (id, difference) = &changed.points[0];
        assert_eq!(id, "lip.FL");
        assert!((difference.value.expect("told") + 12.0).abs() < 0.01);
    }

    #[test]
    fn an_unlevelled_floor_and_another_load_are_said_beside_the_numbers() {
        let mut snapshots = two();
        snapshots[0]["floor"] = Value::Null;
        snapshots[0]["load_change_from_nominal"] =
            json!([{"label": "tools aboard", "mass_kg": 40.0, "x_mm": -2600.0, "y_mm": 0.0}]);
        let found = between(&file(snapshots, json!([])));
        let said: Vec<&str> = found.unequal.iter().map(|each| each.what).collect();
        assert_eq!(said, ["floor_not_levelled", "load"]);
        assert!(found.changed.expect("front and rear are told all the same").front.is_some());
    }
}
