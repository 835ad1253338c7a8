//! Where nothing of the floor is read: the car's own points to one level line tell its twist, and the twist, once kept, tells left
//! from right where there is no line either.

use serde_json::json;

use crate::garage::Garage;
use crate::walk::Now;
use crate::window::Window;

impl Window {
    /// Walks to the end with the reading that belongs to each step, and opens the result.
    async fn walked(&self, reading: impl Fn(&Now) -> &'static str) {
        loop {
            self.through_safety().await;
            let Some(now) = self.now().await else { break };
            self.press(reading(&now)).await;
            self.take().await;
        }
        self.touch("see-result").await;
    }

    async fn known(&self, name: &str) -> String {
        self.find(name).await.attr("data-known").await.expect("an attribute").unwrap_or_default()
    }

    async fn value(&self, name: &str) -> f64 {
        let text = self.find(name).await.attr("data-value").await.expect("an attribute").unwrap_or_default();
        text.parse().unwrap_or_else(|_| panic!("{name} has no number: {text:?}"))
    }
}

fn tape(now: &Now) -> &'static str {
    match now.corner.as_str() {
        "FL" => "291",
        "FR" => "321",
        "RL" => "349",
        _ => "341",
    }
}

fn line(now: &Now) -> &'static str {
    match now.corner.as_str() {
        "FL" => "100",
        "FR" => "112",
        "RL" => "140",
        _ => "150",
    }
}

/// Over a level line the rails stand at 100, 112, 140, 150: twist 100 − 112 − 140 + 150 = −2. The drive is 9 mm up, down, down, up
/// under them, so the tape says 291, 321, 349, 341 where level ground says 300, 312, 340, 350. Half the drive's twist is at either
/// end, so that the car hardly leans on it.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_level_line_tells_the_cars_twist_and_the_car_is_the_gauge_from_then_on() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let tire = json!({ "marking": "6.00-16", "pressure": "210", "measured_diameter": "" });
    let car = window
        .ask(
            "add_car",
            json!({
                "label": "Pickup", "outline": "pickup", "tape": "mm", "wheelbase": "2600", "track_front": "1400", "track_rear": "1400",
                "points": [{ "kind": "frame_rail", "front_behind_axle": "320", "front_apart": "700", "rear_ahead_of_axle": "320", "rear_apart": "700" }],
                "tires": { "FL": tire, "FR": tire, "RL": tire, "RR": tire }
            }),
        )
        .await;
    window.reload().await;
    window.touch("begin-snapshot").await;
    window.touch("floor-none").await;
    if window.has("[data-test=\"hubs\"]:checked").await {
        window.touch("hubs").await;
    }
    window.touch("level-line").await;
    window.touch("line-below").await;
    window.touch("rounds-1").await;
    window.touch("bounces-1").await;
    window.touch("tape-mm").await;
    window.touch("begin").await;
    window.walked(|now| if now.point.starts_with("on:") { line(now) } else { tape(now) }).await;
    assert_eq!(window.known("twist").await, "measured");
    let twist = window.value("twist").await;
    assert!((twist + 2.0).abs() < 0.5, "the frame is twisted by {twist} mm, −2 by hand");
    let levelled = window.value("corner-RL").await;
    window.picture("level-line-result").await;
    window.touch("keep").await;
    window.find("begin-snapshot").await;
    window.touch("tab-readings").await;
    window.touch("snapshot-0").await;
    window.touch("keep-twist-frame_rail").await;
    window.find("twist-kept-frame_rail").await;

    // Another day, the same drive, no line.
    let walk = json!({
        "car": car["car"], "floor": null, "facing": "A", "kinds": ["frame_rail"], "hubs": false, "rounds": 1, "bounces": 1,
        "angle_gauge": false, "tape": "mm", "pressures": { "FL": "", "FR": "", "RL": "", "RR": "" }
    });
    window.ask("begin_snapshot", walk).await;
    window.reload().await;
    window.touch("go-on").await;
    window.walked(tape).await;
    assert!(window.text("twist-used").await.starts_with("The car is the gauge here"));
    for corner in ["FL", "FR", "RL", "RR"] {
        assert_eq!(window.known(&format!("corner-{corner}")).await, "assumed", "{corner}");
    }
    let by_twist = window.value("corner-RL").await;
    assert!(
        (by_twist - levelled).abs() < 1.5,
        "rear left {by_twist} by the kept twist, {levelled} from the level line"
    );
    window.picture("kept-twist-result").await;
    window.close().await;
}
