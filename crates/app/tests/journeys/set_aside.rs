//! A garage that an earlier version let something malformed into: that is named with its field, and hides nothing else.

use crate::phone::Phone;
use serde_json::{Value, json};

#[test]
fn a_malformed_part_ground_or_station_is_named_and_hides_nothing_else() {
    let mut file: Value =
        serde_json::from_str(include_str!("../../../../sample-data/show-roadster.json")).expect("an exchange file");
    let (parts, grounds) = (file["parts"].as_array().unwrap().len(), file["grounds"].as_array().unwrap().len());
    file["parts"].as_array_mut().unwrap().push(json!({"id": "p", "label": "Cheap springs", "slot": "front spring",
        "steps": [{"kind": "spring", "end": "front", "amount_mm": -20}], "price": "cheap"}));
    file["plans"] = json!([{"id": "low", "label": "Low", "changes": [{"steps": [{"kind": "spring", "end": "front", "amount_mm": -16}]}]},
        {"id": "older", "label": "Older plan", "changes": [{"steps": [{"kind": "wings", "end": "front"}]}]}]);
    let stations = file["grounds"][0]["string"]["stations"].as_array().unwrap().len();

    let mut phone = Phone::new();
    phone.let_in(file);
    phone.in_store(|store, at| {
        store.keep_ground(&json!({"id": "g", "label": "Back lane", "kind": "tunnel"}), at).unwrap();
        let far = json!({"along_mm": "far", "down_mm": 400});
        store.take_station("driveway", uuid::Uuid::from_u128(9), &far, "once", at).unwrap();
    });
    let garage = phone.ask("open_garage", json!({}));
    let notices: Vec<&str> = garage["notices"].as_array().unwrap().iter().filter_map(Value::as_str).collect();
    for named in [
        "a part Cheap springs (part.price is the text \"cheap\")",
        "a ground Back lane (kind: ",
        "a station of the ground driveway (along_mm: ",
    ] {
        assert_eq!(notices.iter().filter(|notice| notice.contains(named)).count(), 1, "{named}: {notices:#?}");
    }
    let car = garage["cars"][0]["car"].clone();
    let view = phone.ask("open_car", json!({"car": car}));
    assert!(!view["snapshots"].as_array().unwrap().is_empty());
    let list = phone.ask("open_plans", json!({"car": car}));
    assert_eq!(list["parts"].as_array().unwrap().len(), parts);
    assert_eq!(
        list["rows"].as_array().unwrap().len(),
        2,
        "one whose step nobody knows can still be opened and changed"
    );
    assert_eq!(phone.ask("open_grounds", json!({}))["rows"].as_array().unwrap().len(), grounds);
    let ground = phone.ask("open_ground", json!({"ground": "driveway"}));
    assert_eq!(ground["stations"].as_array().unwrap().len(), stations);
    // Said once, whichever page comes across it.
    let again = phone.ask("open_garage", json!({}));
    assert_eq!(again["notices"].as_array().unwrap().len(), notices.len(), "{again:#}");
    let written = phone.ask("export_car", json!({"car": car, "without_pictures": true}));
    assert!(
        written["notices"].as_array().unwrap().iter().any(|notice| notice.as_str().unwrap().contains("Cheap springs"))
    );
}
