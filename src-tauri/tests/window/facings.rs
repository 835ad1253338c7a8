//! The car is read as first and then turned end for end on a floor of which nothing is known: each step names the spot under its
//! wheel, and together the two tell how the car stands on level ground.

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::window::Window;

/// The rails' marks lie 101 − 12 − 12 = 77 in apart, 1955.8 mm; 1955.8 · tan 1° = 34.1 mm. The floor falls 0.5° to the front: a
/// gauge on the rail says 1.5° as first and 0.5° turned.
const RAILS: [&str; 4] = ["400", "400", "434", "434"];

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_spots_are_named_both_ways_round_and_the_slope_of_the_floor_drops_out() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let car = window.added().await;
    let floor = json!({ "car": car, "label": "Yard", "levelling": "not_levelled", "flat_to": "", "tape": "mm" });
    let floor = window.ask("add_floor", floor).await["floor"].clone();
    let form = json!({ "floor": floor, "kinds": ["frame_rail"], "angle_gauge": true });
    let walk = window.begun_with(&car, &form).await;
    let walk = window.read(&walk, &[&RAILS[..], &["1.5"; 4]].concat()).await;
    window.ask("finish_snapshot", json!({ "snapshot": walk["snapshot"] })).await;
    window.reload().await;

    window.touch("tab-readings").await;
    window.touch("begin-snapshot").await;
    window.touch("same-floor").await;
    window.touch("change-facing").await;
    window.touch("facing-B").await;
    assert_eq!(window.text("stands-on").await, "Your front left wheel stands on spot 4.");
    window.touch("begin").await;
    window.through_safety().await;
    for (text, (corner, spot)) in RAILS.into_iter().zip([("FL", 4), ("FR", 3), ("RR", 1), ("RL", 2)]) {
        assert_eq!(window.now().await.expect("a step").corner, corner);
        let screen = window.css("main").await.text().await.expect("a text");
        assert!(screen.contains(&format!("on spot {spot}")), "{corner}: {screen}");
        window.press(text).await;
        window.take().await;
        window.through_safety().await;
    }
    while window.now().await.is_some() {
        window.press("0.5").await;
        window.take().await;
    }
    window.touch("see-result").await;
    let rake = window.css("[data-test=\"rake\"][data-known=\"measured\"]").await;
    let value = rake.attr("data-value").await.expect("an attribute").and_then(|text| text.parse::<f64>().ok());
    assert!(value.is_some_and(|value| (value - 1.0).abs() < 0.1), "{value:?}");
    let file: Value = window.file().await;
    assert_eq!(
        (&file["snapshots"][1]["facing"], &file["snapshots"][1]["floor"]),
        (&json!("B"), &file["floors"][0]["id"])
    );
    window.close().await;
}
