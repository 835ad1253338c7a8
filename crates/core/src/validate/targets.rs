//! The targets of a file: every number in its range. Points that the car does not have are no fault: it may have had them.

use super::Faults;
use super::measured::date;
use crate::capture::CarFile;
use crate::target::{Target, check_limits, check_numbers};
use crate::wording::shown;

const MOST_TARGETS: usize = 500;
const MOST_ENTRIES: usize = 1_000;
const MOST_CHARACTERS: usize = 2_000;

pub(super) fn check(file: &CarFile, found: &mut Faults) {
    found.count("targets", file.targets.len(), MOST_TARGETS);
    found.count("target_marks", file.target_marks.len(), MOST_ENTRIES);
    found.names("targets", file.targets.iter().map(|target| target.id.as_str()));
    for (number, target) in file.targets.iter().enumerate() {
        check_one(&format!("targets[{number}]."), target, found);
    }
    found.names("target_marks", file.target_marks.iter().map(|mark| mark.uuid.as_str()));
    for (number, mark) in file.target_marks.iter().enumerate() {
        let only = file.extra.get("target").map_or("", |target| target["id"].as_str().unwrap_or_default());
        let known = ["target", only].contains(&mark.target.as_str())
            || file.targets.iter().any(|target| target.id == mark.target);
        if !known {
            let message = format!("there is no target {}", shown(&mark.target));
            found.add(format!("target_marks[{number}].target"), message, "name one of the file's targets");
        }
    }
}

/// What is wrong with the only target of a file of version 1. A car that was kept with one is read all the same; a file is not.
pub(super) fn check_only(file: &CarFile, found: &mut Faults) {
    match Target::only(file) {
        None => {}
        Some(Ok(target)) => check_one("target.", &target, found),
        Some(Err(unreadable)) => {
            found.add(unreadable.place, unreadable.what, "correct the value; heights and tolerances are in mm");
        }
    }
}

/// `place` ends in a full stop, or is empty.
pub(super) fn check_one(place: &str, target: &Target, found: &mut Faults) {
    let counts = [
        ("heights_mm", target.heights_mm.len()),
        ("tolerances_mm", target.tolerances_mm.len()),
        ("limits", target.limits.len()),
        ("limits", target.limits.iter().map(|limit| limit.points.len()).sum()),
    ];
    for (name, count) in counts {
        found.count(&format!("{place}{name}"), count, MOST_ENTRIES);
    }
    let mut number = |at: String, message: String| {
        found.add(format!("{place}{at}"), message, "correct the value; heights and tolerances are in mm");
    };
    check_numbers(target, &mut number);
    check_limits(&target.limits, &mut number);
    let says = target.limits.iter().map(|limit| limit.says.as_str());
    let texts = [("label", target.label.as_str(), 200), ("note", target.note.as_str(), MOST_CHARACTERS)];
    for (name, text, most) in texts.into_iter().chain(says.map(|says| ("limits", says, 200))) {
        let length = text.chars().count();
        if length > most || text.chars().any(|c| c.is_control() && c != '\n') {
            let message =
                format!("{} has {length} characters: at most {most}, none of them a control character", shown(text));
            found.add(format!("{place}{name}"), message, "write a shorter one");
        }
    }
    if let Some(since) = &target.since {
        date(&format!("{place}since"), since, found);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::{Value, json};

    fn file(targets: Value, marks: Value) -> Vec<String> {
        let file = json!({"vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400},
            "targets": targets, "target_marks": marks});
        let file: CarFile = serde_json::from_value(file).expect("well-formed");
        let mut found = Faults::default();
        check(&file, &mut found);
        found.faults.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn a_sound_target_has_no_fault_even_for_a_point_the_car_no_longer_has() {
        let target = json!({"id": "t", "label": "low", "heights_mm": {"rail.FL": 246}, "since": "2031-04-12",
            "limits": [{"points": ["rail.FL"], "lowest_mm": 110, "rule": "lowest_safe"}]});
        assert_eq!(file(json!([target]), json!([{"uuid": "m", "target": "t", "what": "put_away"}])), [""; 0]);
    }

    #[test]
    fn the_only_target_of_version_1_can_be_put_away_by_its_own_name() {
        let file: CarFile = serde_json::from_value(json!({
            "vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400},
            "target": {"id": "low", "heights_mm": {"rail.FL": 246}},
            "target_marks": [{"uuid": "m", "target": "low", "what": "put_away"}, {"uuid": "n", "target": "high", "what": "put_away"}],
        }))
        .expect("a file");
        let mut found = Faults::default();
        check(&file, &mut found);
        let said: Vec<String> = found.faults.iter().map(ToString::to_string).collect();
        assert_eq!(said, ["target_marks[1].target: there is no target high"]);
    }

    #[test]
    fn a_malformed_target_of_version_1_is_a_fault_of_a_file_and_none_of_what_is_kept() {
        for (target, expected) in [
            (json!({"heights_mm": {"rail.FL": -5}}), "target.heights_mm.rail.FL: -5 mm is outside 0 to 5000 mm"),
            (json!({"heights_mm": {"rail.FL": null}}), "target.heights_mm.rail.FL: null stands where a number belongs"),
            (json!([246]), "target: a list stands where an object belongs"),
        ] {
            let file: CarFile = serde_json::from_value(json!({
                "vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400}, "target": target,
            }))
            .expect("a file");
            let read_in: Vec<String> = crate::validate::import_faults(&file).iter().map(ToString::to_string).collect();
            assert_eq!(read_in.len(), 1, "{read_in:?}");
            assert!(read_in[0].starts_with(expected), "{read_in:?}");
            assert_eq!(crate::validate::faults(&file), []);
        }
    }

    #[test]
    fn each_fault_is_named_with_place_value_and_range() {
        let rows = [
            (json!({"heights_mm": {"rail.FL": -1}}), "targets[0].heights_mm.rail.FL: -1 mm is outside 0 to 5000 mm"),
            (json!({"tolerance_mm": 0}), "targets[0].tolerance_mm: 0 is outside 0 to 1000"),
            (
                json!({"tolerances_mm": {"rail.FL": 2e6}}),
                "targets[0].tolerances_mm.rail.FL: 2000000 is outside 0 to 1000",
            ),
            (json!({"rake_deg": 80}), "targets[0].rake_deg: 80 is outside -45 to 45"),
            (json!({"limits": [{"points": [], "lowest_mm": 110}]}), "targets[0].limits[0].points: names no point"),
            (json!({"limits": [{"points": ["a"]}]}), "targets[0].limits[0]: has neither lowest_mm nor highest_mm"),
            (
                json!({"limits": [{"points": ["a"], "lowest_mm": 120, "highest_mm": 110}]}),
                "targets[0].limits[0]: the lowest height, 120 mm, is above the highest, 110 mm",
            ),
            (json!({"since": "May"}), "targets[0].since: May is no date"),
        ];
        for (mut target, expected) in rows {
            target["id"] = json!("t");
            assert_eq!(file(json!([target]), json!([])), [expected]);
        }
        let twice = file(json!([{"id": "t"}, {"id": "t"}]), json!([{"uuid": "m", "target": "u", "what": "put_away"}]));
        assert_eq!(twice, ["targets: the name t stands twice", "target_marks[0].target: there is no target u"]);
    }
}
