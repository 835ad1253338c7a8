//! Photos as a person meets them: added, seen again after a restart, faint under the next, in the car's file; and what is no photo.

use crate::phone::{Phone, pickup, snapshot};
use serde_json::{Value, json};

/// Base64 (RFC 4648), written anew so that the app's own is not judged by itself.
pub(crate) fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::new();
    for three in bytes.chunks(3) {
        let bits = three.iter().fold(0_u32, |bits, byte| bits << 8 | u32::from(*byte)) << (8 * (3 - three.len()));
        for nth in 0..4 {
            let letter = LETTERS[(bits >> (18 - 6 * nth) & 63) as usize] as char;
            text.push(if nth <= three.len() { letter } else { '=' });
        }
    }
    text
}

/// A PNG's frame; its pixels mean nothing.
pub(crate) fn png(width: u32, height: u32, data: &[u8]) -> Vec<u8> {
    let chunk =
        |kind: &[u8], content: &[u8]| [&(content.len() as u32).to_be_bytes()[..], kind, content, &[0; 4]].concat();
    let head = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, 2, 0, 0, 0]].concat();
    [b"\x89PNG\r\n\x1a\n".to_vec(), chunk(b"IHDR", &head), chunk(b"IDAT", data), chunk(b"IEND", &[])].concat()
}

fn side<'a>(photos: &'a Value, name: &str) -> &'a Value {
    photos["sides"].as_array().unwrap().iter().find(|side| side["side"] == name).unwrap()
}

fn begun(phone: &mut Phone) -> (Value, Value) {
    let car = phone.ask("add_car", pickup());
    let walk = phone.ask("begin_snapshot", snapshot(&car, &Value::Null, json!(["fender_lip"]), 1, 1));
    (car, walk)
}

#[test]
fn a_photo_is_seen_again_after_a_restart_and_faint_under_the_next() {
    let mut phone = Phone::new();
    phone.restless = true;
    let (car, walk) = begun(&mut phone);
    let empty = phone.ask("open_photos", json!({"snapshot": walk["snapshot"]}));
    let order: Vec<_> = empty["sides"].as_array().unwrap().iter().map(|side| side["side"].as_str().unwrap()).collect();
    assert_eq!(order, ["front", "right", "rear", "left"], "as a walk passes them");
    assert!(empty["sides"].as_array().unwrap().iter().all(|side| side["photo"].is_null() && side["before"].is_null()));

    let bytes = png(40, 30, b"left");
    let add = json!({"snapshot": walk["snapshot"], "side": "left", "data": base64(&bytes)});
    phone.ask("add_photo", add.clone());
    let photos = phone.ask("open_photos", json!({"snapshot": walk["snapshot"]}));
    let photo = side(&photos, "left")["photo"].clone();
    assert_eq!((photo["width_px"].as_u64(), photo["height_px"].as_u64()), (Some(40), Some(30)));
    assert!(photo["alt"].as_str().unwrap().starts_with("Left side of the car, "), "{photo}");
    let picture = phone.ask("see_photo", json!({"photo": photo["photo"]}));
    assert_eq!(picture["data_url"], format!("data:image/png;base64,{}", base64(&bytes)));

    phone.take(&walk, "700");
    phone.ask("finish_snapshot", json!({"snapshot": walk["snapshot"]}));
    let next = phone.ask("begin_snapshot", snapshot(&car, &Value::Null, json!(["fender_lip"]), 1, 1));
    let photos = phone.ask("open_photos", json!({"snapshot": next["snapshot"]}));
    assert_eq!(side(&photos, "left")["before"]["photo"], photo["photo"]);
    assert!(side(&photos, "left")["photo"].is_null() && side(&photos, "right")["before"].is_null());

    // Into the finished one too; replaced ones and taken-off ones stay.
    let other = json!({"snapshot": walk["snapshot"], "side": "left", "data": base64(&png(40, 30, b"again"))});
    let photos = phone.ask("add_photo", other);
    assert_eq!(side(&photos, "left")["others"], 1);
    let now = side(&photos, "left")["photo"]["photo"].clone();
    let off = phone.ask("take_off_photo", json!({"photo": now}));
    assert!(side(&off, "left")["photo"].is_null());
    assert_eq!(side(&off, "left")["taken_off"], now);
    let back = phone.ask("put_back_photo", json!({"photo": now}));
    assert_eq!(side(&back, "left")["photo"]["photo"], now);
    assert_eq!(phone.ask("count_photos", json!({"car": car["car"]}))["words"], "2 photos, about 0.1 MB");
}

#[test]
fn the_cars_file_carries_them_and_only_names_them_where_asked() {
    let mut phone = Phone::new();
    let (car, walk) = begun(&mut phone);
    let data = base64(&png(40, 30, b"left"));
    phone.ask("add_photo", json!({"snapshot": walk["snapshot"], "side": "left", "data": data}));
    let whole = phone.ask("export_car", json!({"car": car["car"]}));
    assert!(whole["text"].as_str().unwrap().contains(&data));
    let short = phone.ask("export_car", json!({"car": car["car"], "without_pictures": true}));
    assert!(!short["text"].as_str().unwrap().contains(&data));

    let mut other = Phone::new();
    for _ in 0..2 {
        other.ask("import_file", json!({"name": "car.json", "text": whole["text"]}));
    }
    let photos = other.ask("open_photos", json!({"snapshot": walk["snapshot"]}));
    assert_eq!(side(&photos, "left")["others"], 0);
    let picture = other.ask("see_photo", json!({"photo": side(&photos, "left")["photo"]["photo"]}));
    assert!(picture["data_url"].as_str().unwrap().ends_with(&data));

    let mut third = Phone::new();
    third.ask("import_file", json!({"name": "car.json", "text": short["text"]}));
    let photos = third.ask("open_photos", json!({"snapshot": walk["snapshot"]}));
    let lost = third.refused("see_photo", json!({"photo": side(&photos, "left")["photo"]["photo"]}));
    assert_eq!(lost.code, "picture_lost");
    let said = third.ask("export_car", json!({"car": car["car"]}));
    assert!(said["notices"][0].as_str().unwrap().contains("is missing"), "{said}");
    let wrong = whole["text"].as_str().unwrap().replace(&data, &base64(b"something else"));
    let refused = Phone::new().refused("import_file", json!({"name": "car.json", "text": wrong}));
    assert!(refused.sentence.contains("not the picture that sha256 names"), "{refused:?}");
}

#[test]
fn what_is_no_photo_is_refused_in_words() {
    let mut phone = Phone::new();
    let (_, walk) = begun(&mut phone);
    for (data, says) in [
        (String::new(), "0 bytes"),
        (base64(b"<html>"), "not a JPEG, PNG or WebP"),
        ("no Base64 at all".to_owned(), "not a JPEG, PNG or WebP"),
        (base64(&png(60_000, 60_000, b"bomb")), "60000 × 60000 px"),
        (base64(&png(40, 30, b"half")[..50]), "breaks off"),
        ("A".repeat(80 << 20), "60 MB; at most 25 MB"),
    ] {
        let asked = json!({"snapshot": walk["snapshot"], "side": "rear", "data": data});
        let refused = phone.refused("add_photo", asked);
        assert_eq!(refused.code, "no_picture");
        assert!(refused.sentence.contains(says), "{refused:?}");
    }
    for asked in [
        json!({"snapshot": walk["snapshot"], "side": "roof", "data": base64(&png(4, 3, b"x"))}),
        json!({"snapshot": "nowhere", "side": "rear", "data": base64(&png(4, 3, b"x"))}),
    ] {
        phone.refused("add_photo", asked);
    }
    phone.refused("see_photo", json!({"photo": "../../etc/passwd"}));
    phone.refused("take_off_photo", json!({"photo": walk["snapshot"]}));
    let photos = phone.ask("open_photos", json!({"snapshot": walk["snapshot"]}));
    assert!(photos["sides"].as_array().unwrap().iter().all(|side| side["photo"].is_null()));
}
