//! `trueground sheet` as a person and a script meet it.

use crate::hostile::leaves;
use crate::program::{answered, refused, trueground};
use crate::stance::car;
use serde_json::json;

fn usage(arguments: &[&str]) -> String {
    let output = trueground().arg("sheet").args(arguments).write_stdin(car(true).to_string()).output().unwrap();
    assert_eq!(output.status.code(), Some(2), "{arguments:?}");
    assert!(output.stdout.is_empty() && output.stderr.len() <= 2_000);
    String::from_utf8(output.stderr).unwrap()
}

#[test]
fn a_blank_sheet_is_one_page_of_html_for_this_car() {
    let page = answered(trueground().args(["sheet", "-", "--blank"]).write_stdin(car(true).to_string()));
    assert!(page.starts_with("<!DOCTYPE html>") && page.trim_end().ends_with("</html>"), "{page}");
    assert!(page.contains("<h1>Test car "), "{page}");
    assert!(page.contains("back yard, levelled"), "{page}");
    for corner in ["front left", "front right", "rear right", "rear left"] {
        assert!(page.contains(corner), "{corner}");
    }
    let scenario = json!({"format": "any", "input": car(true), "truth": {"not": "read"}});
    assert_eq!(answered(trueground().args(["sheet", "--blank", "-"]).write_stdin(scenario.to_string())), page);
}

#[test]
fn every_sample_file_has_its_sheet() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../sample-data");
    for name in ["sloping-drive", "settling-coupe", "show-roadster", "blank-starter"] {
        let page = answered(trueground().arg("sheet").arg(folder.join(name).with_extension("json")).arg("--blank"));
        assert!(page.contains("Bounce 2"), "{name}");
    }
}

#[test]
fn which_sheet_has_to_be_said_and_there_is_no_json_of_it() {
    assert!(usage(&["-"]).contains("--blank is the empty booking sheet"));
    assert!(usage(&["-", "--json"]).contains("has no JSON"));
    assert!(usage(&["-", "--blank", "--json"]).contains("has no JSON"));
    assert!(usage(&["-", "--blank", "--snapshot", "first"]).contains("one at a time"));
    assert!(usage(&["-", "--snapshot"]).contains("--snapshot"));
    assert!(usage(&["--blank"]).contains("FILE"));
}

#[test]
fn what_is_wrong_is_said_with_its_place() {
    for (pointer, value, says) in [
        ("/vehicle/wheelbase_mm", json!(0), "vehicle.wheelbase_mm: 0 mm is outside 500 to 10000 mm"),
        ("/vehicle/label", json!(7), "vehicle.label"),
        ("/vehicle", json!(null), "vehicle"),
        ("/floors/0", json!("yard"), "floors[0]"),
    ] {
        let mut wrong = car(true);
        *wrong.pointer_mut(pointer).unwrap() = value;
        let said = refused(trueground().args(["sheet", "-", "--blank"]).write_stdin(wrong.to_string()));
        assert!(said.contains(says), "{pointer}: {said}");
    }
    for text in ["", "{", "[]", "{\"fixed\": {}}", "7"] {
        refused(trueground().args(["sheet", "-", "--blank"]).write_stdin(text));
    }
}

#[test]
fn no_single_value_makes_it_panic() {
    let sound = car(true);
    let mut places = Vec::new();
    leaves(&sound, String::new(), &mut places);
    let strange =
        [json!(0), json!(-1e300), json!(1e300), json!(null), json!("\u{202e}<b>"), json!([]), json!({}), json!(true)];
    for (i, place) in places.iter().enumerate() {
        let mut file = sound.clone();
        *file.pointer_mut(place).unwrap() = strange[i % strange.len()].clone();
        let output = trueground().args(["sheet", "-", "--blank"]).write_stdin(file.to_string()).output().unwrap();
        let (page, said) = (String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
        match output.status.code() {
            Some(0) => assert!(page.starts_with("<!DOCTYPE html>") && !page.contains("NaN"), "{place}"),
            Some(1) => assert!(page.is_empty() && !said.contains("panicked"), "{place}: {said}"),
            code => panic!("{place}: {code:?} {said}"),
        }
    }
}

#[test]
fn it_is_in_the_help() {
    assert!(answered(trueground().arg("--help")).contains("sheet"));
    let help = answered(trueground().args(["sheet", "--help"]));
    assert!(help.contains("--blank") && help.contains("A4 or Letter") && !help.contains("--json"), "{help}");
}

#[test]
fn the_card_of_a_snapshot_is_one_page_of_html_and_an_unknown_snapshot_is_named() {
    let file = car(true);
    let id = file["snapshots"][0]["id"].as_str().unwrap().to_owned();
    let card = answered(trueground().args(["sheet", "-", "--snapshot", &id]).write_stdin(file.to_string()));
    assert!(card.starts_with("<!DOCTYPE html>") && card.contains("stance card") && !card.contains("NaN"), "{card}");
    assert!(!card.contains("<script") && !card.contains("http:"), "it stands alone");
    let said = refused(trueground().args(["sheet", "-", "--snapshot", "nowhere"]).write_stdin(file.to_string()));
    assert!(said.contains("There is no snapshot nowhere") && said.contains(&id), "{said}");
    let mut hostile = file;
    hostile["vehicle"]["label"] = json!("<img src=x onerror=alert(1)>");
    hostile["snapshots"][0]["photos"] = json!([{"side": "left", "sha256": "0".repeat(64), "media_type": "image/png",
        "width_px": 4, "height_px": 3, "size_bytes": 9, "data": "PHN2Zz4="}]);
    let card = answered(trueground().args(["sheet", "-", "--snapshot", &id]).write_stdin(hostile.to_string()));
    assert!(!card.contains("<img"), "neither the name nor what is no picture");
}

#[test]
fn two_stances_against_each_other_are_one_page_and_what_is_not_there_is_named() {
    let roadster = concat!(env!("CARGO_MANIFEST_DIR"), "/../../sample-data/show-roadster.json");
    let page = answered(trueground().args(["sheet", roadster, "--compare", "t02", "target"]));
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("Off: front") && !page.contains("NaN"), "{page}");
    let said = refused(trueground().args(["sheet", roadster, "--compare", "t02", "t99"]));
    assert!(said.contains("t99"), "{said}");
    let said = refused(trueground().args(["sheet", roadster, "--compare", "t02", "t02"]));
    assert!(said.contains("one and the same stance"), "{said}");
    trueground().args(["sheet", roadster, "--compare", "t02"]).assert().code(2);
    trueground().args(["sheet", roadster, "--blank", "--compare", "t02", "t28"]).assert().code(2);
}
