//! How the car stands, through the window: same as last time, a changed load, a mock-up, a jack, a change before the end, and a
//! form half filled in when the battery dies.

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::window::{LAPTOP, PHONE, Window};

const CORNERS: [&str; 4] = ["FL", "FR", "RL", "RR"];

impl Window {
    /// A car with one finished snapshot of its rails, on the screen that lists its snapshots.
    async fn read_once(&self) {
        let car = self.added().await;
        let form = json!({
            "car": car, "facing": "A", "label": "nose to the street", "kinds": ["frame_rail"], "hubs": false, "rounds": 1,
            "bounces": 1, "angle_gauge": false, "tape": "mm", "confirmed": ["floor", "facing", "tires", "load", "pressures"],
            "pressures": { "FL": "210", "FR": "210", "RL": "220", "RR": "220" }
        });
        let mut walk = self.ask("begin_snapshot", form).await;
        for (step, text) in ["400", "404", "438", "436"].into_iter().enumerate() {
            let take =
                json!({ "snapshot": walk["snapshot"], "step": step, "text": text, "request_id": format!("r{step}") });
            walk = self.ask("take_reading", take).await;
        }
        self.ask("finish_snapshot", json!({ "snapshot": walk["snapshot"] })).await;
        self.reload().await;
        self.begin_another().await;
    }

    async fn begin_another(&self) {
        self.touch("tab-readings").await;
        self.css("[data-screen=\"readings\"]").await;
        self.touch("begin-snapshot").await;
        self.find("begin").await;
    }

    /// The snapshot begun last, as the exchange file has it.
    async fn newest(&self) -> Value {
        self.file().await["snapshots"].as_array().and_then(|all| all.last()).expect("a snapshot").clone()
    }

    /// Moves the focus with the Tab key until it is on the element of this name, and presses Enter there.
    pub(crate) async fn tab_to(&self, name: &str) {
        for _ in 0..80 {
            if self.script("return document.activeElement?.dataset.test ?? null").await == json!(name) {
                self.page
                    .active_element()
                    .await
                    .expect("something has the focus")
                    .send_keys("\u{e007}")
                    .await
                    .expect("keys");
                return;
            }
            self.page
                .active_element()
                .await
                .expect("something has the focus")
                .send_keys("\u{e004}")
                .await
                .expect("keys");
        }
        panic!("{name} is not reached with the Tab key");
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_condition_is_as_last_time_with_one_tap_and_the_load_is_changed_in_place() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.read_once().await;
    let last = window.text("last-pressures").await;
    assert_eq!(last.split_whitespace().collect::<Vec<_>>().join(" "), "Pressures 210 kPa front, 220 rear, cold");
    for (size, name) in [(PHONE, "begin-again"), ((844, 390), "begin-again-lying"), (LAPTOP, "begin-again-wide")] {
        window.size(size).await;
        window.picture(name).await;
        let over = window.script("return document.documentElement.scrollWidth - window.innerWidth").await;
        assert_eq!(over, json!(0), "{name} is wider than its window");
    }
    window.size(PHONE).await;
    window.touch("same-all").await;
    window.touch("change-load").await;
    window.touch("fuel-4").await;
    window.fill("load.fuel.tank", "60").await;
    window.touch("aboard-driver").await;
    window.fill("load.aboard.0.mass", "eighty").await;
    window.touch("begin").await;
    window.find("problem-load.aboard.0.mass").await;
    assert_eq!(window.file().await["snapshots"].as_array().map(Vec::len), Some(1), "nothing was stored");
    window.fill("load.aboard.0.mass", "80").await;
    // 22.5 kg of fuel over the half, and the driver: 102.5 kg.
    window
        .until("the backend says what it comes to", async || {
            let said = window.find("load-read").await.text().await.unwrap_or_default();
            ["102 kg more", "103 kg more"].iter().any(|start| said.starts_with(start))
        })
        .await;
    window.picture("begin-load").await;
    window.touch("begin").await;
    window.through_safety().await;
    let newest = window.newest().await;
    assert_eq!(newest["confirmed"], json!(["floor", "facing", "tires", "load", "pressures"]));
    assert_eq!(newest["load_change_from_nominal"][0]["mass_kg"], 22.5);
    assert_eq!(newest["load_change_from_nominal"][1]["label"], "driver 80 kg");
    assert_eq!(newest["tire_pressure_kpa"]["RL"], 220.0);
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn with_the_keyboard_alone_the_same_is_said_and_a_walk_is_begun() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.read_once().await;
    window.tab_to("same-floor").await;
    window.tab_to("same-facing").await;
    window.tab_to("begin").await;
    window.find("safety").await;
    assert_eq!(window.newest().await["confirmed"], json!(["floor", "facing"]), "what was not said is not claimed");
    assert_eq!(window.newest().await["tire_pressure_kpa"], Value::Null);
    window.tab_to("safety-go-on").await;
    window
        .until("it is to be rolled and bounced", async || window.text("safety").await.contains("bounce each end"))
        .await;
    window.picture("bounce").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn on_a_jack_nothing_is_begun_and_on_stands_it_is_a_mock_up_wherever_it_is_shown() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.read_once().await;
    window.touch("stands-jack").await;
    assert!(window.text("on-a-jack").await.contains("not ride heights"));
    window.touch("begin").await;
    window.find("problem-stands_on").await;
    assert_eq!(window.file().await["snapshots"].as_array().map(Vec::len), Some(1));
    window.picture("begin-jack").await;
    window.touch("stands-rated").await;
    window.touch("begin").await;
    window.find("safety").await;
    assert!(window.text("safety").await.contains("rated stands"));
    window.through_safety().await;
    window.press("560").await;
    window.take().await;
    window.touch("leave").await;
    assert!(window.text("state").await.starts_with("1 of 4 read"));
    window.touch("see-result").await;
    assert_eq!(window.text("headline").await, "Mock-up on rated stands, not a ride height.");
    window.picture("result-mock-up").await;
    window.touch("keep").await;
    window.css("[data-screen=\"car\"]").await;
    window.touch("tab-readings").await;
    let row = window.find("snapshot-0").await.text().await.expect("a text");
    assert!(row.contains("Mock-up on rated stands, not a ride height."), "{row}");
    assert_eq!(window.newest().await["standing"], "mock_up");
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn how_it_stands_is_corrected_before_the_end_and_what_was_read_stays() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.begun(1).await;
    window.reload().await;
    window.touch("go-on").await;
    window.through_safety().await;
    window.press("24").await;
    window.take().await;
    window.through_safety().await;
    window.touch("leave").await;
    window.touch("how-it-stands").await;
    window.touch("facing-B").await;
    for corner in CORNERS {
        window.fill(&format!("pressures.{corner}"), if corner == "RR" { "soft" } else { "200" }).await;
    }
    window.touch("change-condition").await;
    window.find("problem-pressures.RR").await;
    assert_eq!(window.newest().await["facing"], "A", "nothing was stored");
    window.picture("how-it-stands").await;
    window.fill("pressures.RR", "30 psi").await;
    window.touch("change-condition").await;
    window.find("state").await;
    let newest = window.newest().await;
    assert_eq!((&newest["facing"], &newest["tire_pressure_kpa"]["FL"]), (&json!("B"), &json!(200.0)));
    assert_eq!(newest["bounces"][0]["readings"][0]["text"], "24");
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_form_half_filled_in_outlives_a_dead_battery() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.read_once().await;
    window.touch("same-floor").await;
    window.touch("change-pressures").await;
    window.fill("pressures.FL", "2.4 <b>").await;
    window
        .until("the form is on the disk", async || {
            window.ask("kept_forms", json!({})).await["forms"].to_string().contains("2.4 <b>")
        })
        .await;
    window.kill().await;
    let window = Window::open(&garage).await;
    window.find("recovered").await;
    window.find("begin").await;
    let field = window.css("input[name=\"pressures.FL\"]").await;
    assert_eq!(field.prop("value").await.expect("a field has a value").as_deref(), Some("2.4 <b>"));
    let said = window.find("same-floor").await.attr("aria-pressed").await.expect("an attribute");
    assert_eq!(said.as_deref(), Some("true"));
    window.close().await;
}
