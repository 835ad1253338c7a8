//! The Compare tab as a thumb meets it: against the target with each exaggeration, one snapshot against another, what cannot be
//! told, and a car that has nothing to compare yet.

use serde_json::json;

use crate::garage::Garage;
use crate::window::Window;

impl Window {
    /// A number that a mark of the overlay carries, px.
    async fn mark(&self, of: &str, axis: &str) -> f64 {
        let script = format!("return Number(document.querySelector('[data-test=\"{of}\"]').dataset.{axis})");
        self.script(&script).await.as_f64().unwrap_or_else(|| panic!("{of} has no {axis}"))
    }

    /// Where the ground line lies, px.
    async fn ground(&self) -> f64 {
        let script = "return Number(document.querySelector('svg[data-ground]').dataset.ground)";
        self.script(script).await.as_f64().expect("a ground line")
    }

    /// Sets the exaggeration and waits until the lines keep still.
    async fn drawn_apart(&self, times: u32) -> [f64; 5] {
        self.touch(&format!("times-{times}")).await;
        self.css(&format!("svg[data-apart=\"{times}\"]")).await;
        [
            self.mark("figure-mark-0", "y").await,
            self.mark("over-mark-0", "y").await,
            self.mark("over-mark-0", "x").await,
            self.mark("figure-mark-1", "x").await,
            self.ground().await,
        ]
    }

    async fn sample_car(&self, name: &str) {
        self.find("add-car").await;
        self.watch_policy().await;
        self.samples().await;
        self.touch_css(&format!("[data-label*=\"{name}\"]")).await;
        self.touch("tab-compare").await;
    }
}

/// The target lies 20 mm lower in front: on the screen as far as the scale says, five and ten times as far, and nothing else moves.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_target_lies_under_the_car_and_heights_alone_are_drawn_apart() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.sample_car("oadster").await;
    window.find("difference-FL").await;
    assert_eq!(
        window.css("[data-test=\"pick-other\"]").await.attr("data-line").await.unwrap().as_deref(),
        Some("target")
    );
    assert!(window.text("headline").await.starts_with("Off: front "));
    for (corner, verdict) in [("FL", "off"), ("FR", "off"), ("RR", "on")] {
        let cell = window.find(&format!("difference-{corner}")).await;
        assert_eq!(cell.attr("data-verdict").await.unwrap().as_deref(), Some(verdict), "{corner}");
    }
    let [once, five, ten] = [window.drawn_apart(1).await, window.drawn_apart(5).await, window.drawn_apart(10).await];
    let apart = |at: [f64; 5]| at[1] - at[0];
    assert!(apart(once) > 0.5, "the target lies lower: {once:?}");
    for (drawn, times) in [(five, 5.0), (ten, 10.0)] {
        assert!((apart(drawn) / apart(once) - times).abs() < 0.2 * times, "×{times}: {drawn:?} against {once:?}");
        assert_eq!(drawn[2..], once[2..], "lengths and the ground stay");
    }
    assert!(window.text("front-difference").await.contains("mm higher"));
    window.looked_at("compare-target").await;
    window.touch("pick-other").await;
    window.find("stance-picker").await;
    window.looked_at("compare-picker").await;
    window.touch("close").await;
    // What was chosen is there again after a look elsewhere.
    window.touch("tab-car").await;
    window.touch("tab-compare").await;
    window.css("svg[data-apart=\"10\"]").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_later_snapshot_against_an_earlier_one_says_first_what_was_not_alike() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.sample_car("oupe").await;
    window.find("difference-FL").await;
    // Day 21, the third but two from the newest, had its tank full; day 14 had not.
    let row = async |label: &str| {
        let script = format!(
            "return [...document.querySelectorAll('[data-test^=stance-snapshot]')]
                .find((row) => row.querySelector('b').textContent === '{label}').dataset.test"
        );
        window.script(&script).await.as_str().unwrap().to_owned()
    };
    for (slot, label) in [("other", "day 14"), ("this", "day 21")] {
        window.touch(&format!("pick-{slot}")).await;
        window.find("stance-picker").await;
        let name = row(label).await;
        window.touch(&name).await;
        window.until("the sheet is gone", async || !window.has("[data-test=\"stance-picker\"]").await).await;
    }
    let fuller = "Load was as usual then";
    window.until("the two are compared", async || window.text("unequal").await.contains(fuller)).await;
    assert!(window.text("taken-out").await.contains("22 kg"));
    assert!(window.text("parts").await.contains("spring"));
    let verdict = async || window.find("difference-RL").await.attr("data-verdict").await.unwrap().unwrap_or_default();
    assert_eq!(verdict().await, "same");
    window.looked_at("compare-snapshots").await;
    window.touch("as-read").await;
    window.until("as read the rear has changed", async || verdict().await == "changed").await;
    window.close().await;
}

/// In the yard and somewhere else, neither levelled: front, rear and rake are compared, corners are not.
#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_cannot_be_told_is_hatched_and_what_is_not_there_says_what_to_do() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.find("add-car").await;
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
    window.watch_policy().await;
    window.touch("tab-compare").await;
    assert_eq!(window.text("headline").await, "Nothing to compare yet.");
    window.looked_at("compare-empty").await;
    let mut file: serde_json::Value =
        serde_json::from_str(window.ask("export_car", json!({ "car": car["car"] })).await["text"].as_str().unwrap())
            .unwrap();
    let taken = |id: &str, date: &str, floor: Option<&str>, by: f64| {
        let heights = [("rail.FL", 300.0), ("rail.FR", 312.0), ("rail.RL", 340.0), ("rail.RR", 350.0)];
        let readings: Vec<_> = heights
            .iter()
            .flat_map(|(point, mm)| [1, 2].map(|repeat| json!({ "ref": point, "repeat": repeat, "value_mm": mm + by })))
            .collect();
        json!({ "id": id, "date": date, "floor": floor, "bounces": [{ "bounce_id": "1", "readings": readings }] })
    };
    file["floors"] = json!([{ "id": "yard", "label": "yard" }]);
    file["snapshots"] = json!([taken("a", "2031-04-12", Some("yard"), 0.0), taken("b", "2031-05-12", None, -20.0)]);
    window.ask("import_file", json!({ "name": "pickup.json", "text": file.to_string() })).await;
    window.reload().await;
    window.watch_policy().await;
    window.touch("tab-compare").await;
    window.find("difference-FL").await;
    for corner in ["FL", "FR", "RL", "RR"] {
        let cell = window.find(&format!("difference-{corner}")).await;
        assert_eq!(cell.attr("data-value").await.unwrap(), None, "{corner}");
        assert!(cell.text().await.unwrap().contains("can’t tell"), "{corner}");
    }
    assert!(window.text("unequal").await.contains("not both are levelled"));
    assert!(window.text("headline").await.starts_with("Changed: front 20 mm lower, rear 20 mm lower"));
    assert!(!window.has("[data-test=\"split\"]").await, "no movement is made of corners that are not known");
    window.looked_at("compare-cannot-tell").await;
    window.close().await;
}
