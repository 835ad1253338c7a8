//! What is on the page: each mark once a bounce with room for both rounds, nothing that a hostile name can do, and words for
//! everything that is drawn.

use super::*;
use serde_json::{Value, json};

const SAMPLES: [&str; 4] = [
    include_str!("../../../../sample-data/sloping-drive.json"),
    include_str!("../../../../sample-data/settling-coupe.json"),
    include_str!("../../../../sample-data/show-roadster.json"),
    include_str!("../../../../sample-data/blank-starter.json"),
];

fn car(sample: &str) -> CarFile {
    serde_json::from_str(sample).expect("a sample is a car")
}

fn bare() -> CarFile {
    let vehicle = json!({"label": "Bare", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400});
    serde_json::from_value(json!({ "vehicle": vehicle })).expect("a car")
}

/// The rows under a bounce's heading that have a number, as (number, words, empty cells).
fn rows(page: &str, bounce: usize) -> Vec<(usize, String, usize)> {
    let section = page.split("<section class=\"bounce").nth(bounce).expect("the bounce is there");
    let heights = section.split("</table>").next().expect("a table");
    let row = |row: &str| {
        let number = row.split("<td class=\"number\">").nth(1)?.split('<').next()?.parse().ok()?;
        let words = row.split("<th scope=\"row\">").nth(1)?.split('<').next()?.to_owned();
        Some((number, words, row.matches("<td></td>").count()))
    };
    heights.split("<tr>").filter_map(row).collect()
}

#[test]
fn every_point_and_every_hub_stands_once_a_bounce_with_room_for_two_rounds() {
    for sample in SAMPLES {
        let file = car(sample);
        let page = blank(&file);
        assert_eq!(page.matches("<section class=\"bounce").count(), 2);
        for bounce in [1, 2] {
            let rows = rows(&page, bounce);
            assert_eq!(rows.len(), file.vehicle.ref_points.len() + 4);
            for (nth, (number, _, empty)) in rows.iter().enumerate() {
                // Round 1, round 2, and what was struck.
                assert_eq!((*number, *empty), (nth + 1, 3));
            }
            assert_eq!(rows.iter().filter(|(_, words, _)| words.starts_with("Hub")).count(), 4);
            for point in &file.vehicle.ref_points {
                let what = point.what.as_deref().expect("samples describe their points").to_lowercase();
                let same = |words: &&str| words.to_lowercase().contains(&what);
                let told = file.vehicle.ref_points.iter().filter(|other| other.what == point.what).count();
                assert_eq!(rows.iter().map(|(_, words, _)| words.as_str()).filter(same).count(), told, "{what}");
            }
        }
        assert_eq!(page.matches("<th class=\"write\" scope=\"col\">Round 1</th>").count(), 2);
    }
}

#[test]
fn the_walk_goes_front_left_front_right_rear_right_rear_left() {
    let file = car(SAMPLES[0]);
    let numbered: Vec<_> = marks(&file.vehicle).iter().map(|mark| (mark.corner.code(), mark.brief)).collect();
    let expected: Vec<_> = ["FL", "FR", "RR", "RL"]
        .iter()
        .flat_map(|corner| ["fender lip", "frame rail", "hub"].map(|brief| (*corner, brief)))
        .collect();
    assert_eq!(numbered, expected);
    let page = blank(&file);
    let table = page.split("<section class=\"bounce").nth(1).expect("bounce 1");
    let at = |corner: &str| table.find(&format!(">{corner}</th>")).expect("a corner");
    let places = ["front left", "front right", "rear right", "rear left"].map(at);
    assert!(places.is_sorted(), "{places:?}");
    let picture = "1 fender lip, 2 frame rail, 3 hub; front right: 4 fender lip, 5 frame rail, 6 hub; rear right: 7";
    assert!(page.contains(picture), "the picture says its numbers");
}

/// Every text of a file replaced.
fn retold(value: &mut Value, text: &str) {
    match value {
        Value::Object(fields) => {
            // What is not told by a person but chosen from a list stays.
            let told = |key: &str| !["corner", "kind", "outline", "facing"].contains(&key);
            fields.iter_mut().filter(|(key, _)| told(key)).for_each(|(_, value)| retold(value, text));
        }
        Value::Array(list) => list.iter_mut().for_each(|value| retold(value, text)),
        Value::String(old) => text.clone_into(old),
        _ => {}
    }
}

#[test]
fn a_hostile_name_is_only_text() {
    let page = |text: &str| {
        let mut file: Value = serde_json::from_str(SAMPLES[0]).expect("JSON");
        retold(&mut file, text);
        blank(&serde_json::from_value(file).expect("still a car"))
    };
    let plain = page("words");
    for hostile in [
        "<script>alert(1)</script>",
        "</style></title><img src=x onerror=alert(1)>",
        "\"><b onclick='x'>&lt;",
        "\u{202e}turned\u{0}\u{7}\n<!--",
    ] {
        let attacked = page(hostile);
        assert_eq!(attacked.matches('<').count(), plain.matches('<').count(), "{hostile}");
        assert!(!attacked.contains("<script") && !attacked.contains("\"><b"), "{hostile}");
        assert!(!attacked.contains(['\u{202e}', '\u{0}', '\u{7}']), "{hostile}");
    }
    assert!(page("A & B <C>").contains("<h1>A &amp; B &lt;C&gt; "));
    assert!(page(&"9".repeat(100_000)).len() < 40_000, "a page stays a page");
}

#[test]
fn the_page_stands_alone_in_black_on_white_and_no_text_is_too_small() {
    let page = blank(&car(SAMPLES[0]));
    for outside in ["<script", "<link", "<img", "src=", "http", "url(", "@import", "@font-face", "on="] {
        assert!(!page.contains(outside), "{outside}");
    }
    let colours: std::collections::BTreeSet<&str> =
        STYLE.match_indices('#').map(|(at, _)| &STYLE[at..at + 4]).collect();
    assert_eq!(Vec::from_iter(colours), ["#000", "#fff"]);
    for size in STYLE.split("font-size: ").skip(1).chain(STYLE.split("font: 400 ").skip(1)) {
        let px: f64 = size.split("px").next().expect("px").parse().expect("a number");
        assert!(px >= 13.0, "{px} px");
    }
}

#[test]
fn it_can_be_read_aloud() {
    let page = blank(&car(SAMPLES[0]));
    assert!(page.starts_with("<!DOCTYPE html><html lang=\"en\">"));
    assert!(page.contains("<title>Sample pickup, booking sheet</title>"));
    for table in page.split("<table").skip(1).map(|rest| rest.split("</table>").next().unwrap_or_default()) {
        assert!(table.contains("scope=\"row\""), "rows have heads: {table}");
        for row in table.split("<tbody>").skip(1).flat_map(|body| body.split("<tr").skip(1)) {
            assert!(row.contains("<th scope=\"row\""), "{row}");
        }
    }
    for svg in page.split("<svg").skip(1) {
        let head = svg.split('>').next().unwrap_or_default();
        assert!(head.contains("aria-hidden") || head.contains("role=\"img\"") && svg.contains("<title"), "{head}");
    }
}

#[test]
fn a_car_without_points_is_told_what_to_mark_first() {
    let page = blank(&bare());
    assert!(page.contains("No points are marked yet."));
    let words: Vec<_> = rows(&page, 1).into_iter().map(|(_, words, _)| words).collect();
    assert_eq!(words, ["Mark:", "Hub: wheel centre to the floor"].repeat(4));
    assert!(!blank(&car(SAMPLES[3])).contains("No points are marked yet."));
}

#[test]
fn a_corner_with_many_points_is_cut_in_the_picture_and_whole_in_the_tables() {
    let mut file = car(SAMPLES[0]);
    let first = file.vehicle.ref_points[0].clone();
    file.vehicle.ref_points.extend((0..40).map(|_| first.clone()));
    let page = blank(&file);
    assert_eq!(rows(&page, 2).len(), 8 + 40 + 4);
    assert!(page.contains("and 37 more, in the table"));
}

#[test]
fn whatever_the_measures_are_the_picture_stays_on_the_page() {
    for (wheelbase_mm, track_mm, place_mm) in
        [(500.0, 4000.0, 0.0), (10_000.0, 300.0, 20_000.0), (1e300, 1e-300, -1e300)]
    {
        let mut file = car(SAMPLES[1]);
        let vehicle = &mut file.vehicle;
        (vehicle.wheelbase_mm, vehicle.track_front_mm, vehicle.track_rear_mm) = (wheelbase_mm, track_mm, track_mm);
        (vehicle.ref_points[0].x_mm, vehicle.ref_points[0].y_mm) = (place_mm, place_mm);
        let page = blank(&file);
        assert!(!page.contains("NaN") && !page.contains("inf"), "{wheelbase_mm}");
        for circle in page.split("<circle class=\"mark\" ").skip(1) {
            let number = |name: &str| -> f64 {
                let value = circle.split(&format!("{name}=\"")).nth(1).and_then(|rest| rest.split('"').next());
                value.and_then(|value| value.parse().ok()).expect("a number")
            };
            assert!((0.0..=680.0).contains(&number("cx")) && (0.0..=300.0).contains(&number("cy")), "{wheelbase_mm}");
        }
    }
}
