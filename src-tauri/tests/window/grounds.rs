//! A driveway captured with one thumb under its string, killed in the middle; a ramp from two numbers; and the car on both of them.

use serde_json::json;

use crate::garage::Garage;
use crate::window::Window;

/// To the ramp of the show roadster, whose file brought its own grounds.
async fn at_ramp(window: &Window) {
    window.find("add-car").await;
    window.samples().await;
    window.touch_css("[data-label*=\"roadster\"]").await;
    window.find("corner-FL").await;
    window.touch("to-ramp").await;
}

impl Window {
    /// Presses the keys of a number.
    async fn press_keys(&self, digits: &str) {
        for key in digits.chars() {
            self.touch(&format!("key-{key}")).await;
        }
    }

    /// Reads a station once so many are read: its height, and its way where that is not the proposed one.
    async fn station(&self, read: usize, along: Option<&str>, down: &str) {
        self.css(&format!("[data-test=\"now-station\"][data-read=\"{read}\"]")).await;
        if let Some(along) = along {
            self.touch("part-along").await;
            self.press_keys(along).await;
            self.touch("way-done").await;
        }
        self.press_keys(down).await;
        self.touch("take").await;
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_driveway_is_captured_with_one_thumb_and_a_kill_between_loses_nothing() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    at_ramp(&window).await;
    window.touch("to-grounds").await;
    window.touch("add-ground").await;
    // Without a name nothing is stored, and the problem stands at its field.
    window.touch("save").await;
    window.find("problem-label").await;
    window.fill("label", "Steep one").await;
    window.fill("slope", "0").await;
    window.touch("tape-mm").await;
    window.touch("save").await;
    window.station(0, None, "400").await;
    window.station(1, None, "402").await;
    window.station(2, None, "404").await;
    window.looked_at("ground-reading").await;
    // A way that would run backwards is asked about; what was typed stays.
    window.css("[data-test=\"now-station\"][data-read=\"3\"]").await;
    window.touch("part-along").await;
    window.press_keys("120").await;
    window.touch("way-done").await;
    window.press_keys("39").await;
    window.touch("take").await;
    window.find("entry-problem").await;
    window.touch("proposal").await;
    window.css("[data-test=\"part-along\"][data-text=\"1200\"]").await;
    window
        .until("what is half typed is on the disk", async || {
            let kept = window.ask("kept_forms", json!({})).await.to_string();
            kept.contains("\\\"39\\\"") && kept.contains("\\\"1200\\\"")
        })
        .await;
    window.kill().await;

    let window = Window::open(&garage).await;
    assert_eq!(window.text("recovered").await, "Nothing was lost. Go on where you were.");
    window.css("[data-test=\"now-station\"][data-read=\"3\"]").await;
    assert_eq!(window.typed().await, "39", "what was half typed");
    window.erase().await;
    window.station(3, None, "300").await;
    window.station(4, None, "190").await;
    window.station(5, None, "100").await;
    window.station(6, None, "95").await;
    window.css("[data-test=\"now-station\"][data-read=\"7\"]").await;
    window.touch("undo").await;
    window.css("[data-test=\"now-station\"][data-read=\"6\"]").await;
    window.touch("put-back").await;
    window.css("[data-test=\"now-station\"][data-read=\"7\"]").await;
    window.touch("drive-over").await;
    window.css("[data-test=\"headline\"][data-word]").await;
    let said = window.text("headline").await;
    assert!(said.to_lowercase().contains("steep one"), "{said}");
    window.find("ramp-point").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_lowered_roadster_touches_the_ramp_and_the_screen_shows_where() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    at_ramp(&window).await;
    window.touch_css("[data-test^=\"ground-\"][data-ground=\"trailer\"]").await;
    window.touch("pick-stance").await;
    window.touch("stance-target-0").await;
    // Truth of the simulated car at its target: breakover 10.31 degrees, and the ramp has 11.
    window.css("[data-test=\"headline\"][data-word=\"touches\"]").await;
    assert_eq!(window.text("headline").await, "Touches the 11\u{b0} ramp.");
    window.find("touching").await;
    window.find("ramp-plank").await;
    window.looked_at("ramp").await;
    // On a ramp of its own, typed: two of three measures, and three that do not agree are refused.
    window.touch("own-angle").await;
    window.touch("add-ground").await;
    window.touch("kind-trailer_ramp").await;
    window.touch("way-measures").await;
    window.touch("tape-mm").await;
    window.fill("angle", "11").await;
    window.fill("length", "2400").await;
    window.fill("rise", "600").await;
    window.touch("save").await;
    window.find("problem-rise").await;
    window.looked_at("ground-form").await;
    window.fill("angle", "5").await;
    window.fill("length", "").await;
    window.touch("save").await;
    window.touch_css("[data-test^=\"own-ground-\"][data-label*=\"5\u{b0} ramp\"]").await;
    window.touch("drive-over").await;
    window.css("[data-test=\"headline\"][data-word=\"clears\"]").await;
    window.close().await;
}
