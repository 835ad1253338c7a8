//! Levelling a floor: staff readings taken back and put back, with a restart before every request.

use crate::phone::{Phone, pickup};
use serde_json::{Value, json};

fn spots_read(floor: &Value) -> usize {
    let passes = floor["passes"].as_array().unwrap();
    passes.iter().flat_map(|pass| pass["spots"].as_array().unwrap()).filter(|spot| !spot["text"].is_null()).count()
}

#[test]
fn undo_goes_back_to_the_first_spot_and_put_back_comes_all_the_way() {
    let mut phone = Phone::new();
    phone.restless = true;
    let car = phone.ask("add_car", pickup());
    let form = json!({"car": car["car"], "label": "Drive", "levelling": "laser_line", "tape": "mm"});
    let mut floor = phone.ask("add_floor", form);
    let reference = json!({"floor": floor["floor"]});
    assert_eq!(phone.refused("put_back_floor_reading", reference.clone()).code, "nothing_to_put_back");
    for text in ["980", "1016", "1000", "1000"] {
        floor = phone.staff(&floor, text);
    }
    floor = phone.ask("add_pass", reference.clone());
    floor = phone.staff(&floor, "1080");
    assert_eq!(floor["taken_back"], Value::Null);
    let whole = floor.clone();

    floor = phone.ask("undo_floor_reading", reference.clone());
    let back = json!({"pass_no": 2, "point": "S1", "words": "spot 1 of pass 2, 1080"});
    assert_eq!((&floor["taken_back"], spots_read(&floor)), (&back, 4));
    for left in [3, 2, 1, 0] {
        floor = phone.ask("undo_floor_reading", reference.clone());
        assert_eq!(spots_read(&floor), left);
    }
    assert_eq!(floor["taken_back"]["words"], "spot 1 of pass 1, 980");
    assert_eq!(phone.refused("undo_floor_reading", reference.clone()).code, "nothing_to_undo");
    for read in 1..=5 {
        assert_eq!(phone.ask("open_floor", reference.clone())["taken_back"], floor["taken_back"]);
        floor = phone.ask("put_back_floor_reading", reference.clone());
        assert_eq!(spots_read(&floor), read);
    }
    assert_eq!(floor, whole);
    assert_eq!(phone.refused("put_back_floor_reading", reference.clone()).code, "nothing_to_put_back");

    phone.ask("undo_floor_reading", reference.clone());
    floor = phone.ask("undo_floor_reading", reference.clone());
    floor = phone.staff(&floor, "999");
    assert_eq!((&floor["taken_back"], spots_read(&floor)), (&Value::Null, 4), "another was taken since");
    assert_eq!(phone.refused("put_back_floor_reading", reference).code, "nothing_to_put_back");
}
