//! Every screen is visited once and held to what `looked_at` asks: first screen, garage and car; a snapshot from its begin to its
//! result; tapes and forms. The floor's own pages are visited in `floors`.

use std::time::Duration;

use serde_json::json;

use crate::garage::Garage;
use crate::window::Window;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn first_screen_garage_car_tabs_and_menu() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.find("add-car").await;
    window.watch_policy().await;
    window.looked_at("first").await;
    window.samples().await;
    window.css("[data-label*=\"pickup\"]").await;
    window.looked_at("garage").await;
    window.touch_css("[data-label*=\"pickup\"]").await;
    window.find("corner-FL").await;
    window.looked_at("car").await;
    window.touch("corner-RL").await;
    window.find("why").await;
    window.looked_at("why").await;
    window.touch("close").await;
    window.touch("open-menu").await;
    window.find("menu").await;
    window.looked_at("menu").await;
    window.touch("close").await;
    for tab in ["compare", "settling", "plan", "readings"] {
        window.touch(&format!("tab-{tab}")).await;
        window.css(&format!("[data-screen=\"{tab}\"]")).await;
        window.looked_at(tab).await;
    }
    window.touch("open-garage").await;
    window.touch("add-car").await;
    window.find("save").await;
    window.touch("save").await;
    window.find("problem-wheelbase").await;
    window.looked_at("car-form").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn result_photos_corrections_and_tapes() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.find("add-car").await;
    window.samples().await;
    window.touch_css("[data-label*=\"pickup\"]").await;
    window.touch("tab-readings").await;
    window.touch("snapshot-0").await;
    window.find("headline").await;
    window.looked_at("result").await;
    window.touch("photo-left").await;
    window.find("photo-over").await;
    window.looked_at_upright("photo").await;
    window.touch("close").await;
    window.touch("correct-something").await;
    window.find("book-reading-0").await;
    window.looked_at("book").await;
    window.touch("book-reading-0").await;
    window.find("correct").await;
    window.looked_at("correct").await;
    window.touch("close").await;
    window.touch("back").await;
    window.find("headline").await;
    window.touch("open-menu").await;
    window.touch("instruments").await;
    window.find("add-tape").await;
    window.looked_at("instruments").await;
    window.touch("add-tape").await;
    window.find("save").await;
    window.looked_at("tape-form").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_snapshot_from_how_it_stands_to_cannot_tell() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.find("add-car").await;
    window.begun(2).await;
    window.reload().await;
    window.watch_policy().await;
    window.find("go-on").await;
    window.looked_at("unfinished").await;
    window.touch("how-it-stands").await;
    window.css("[data-screen=\"condition\"]").await;
    window.looked_at("condition").await;
    window.touch("back").await;
    window.touch("go-on").await;
    window.find("safety").await;
    window.looked_at("safety").await;
    window.through_safety().await;
    window.press("10 7/16").await;
    window.looked_at("walk-inches").await;
    window.take().await;
    window.through_safety().await;
    window.touch("what-is-left").await;
    window.find("left-sheet").await;
    window.looked_at("left").await;
    window.touch("close").await;
    window.touch("leave").await;
    window.touch("strike-one-here").await;
    window.touch("book-strike-0").await;
    window.find("strike-sheet").await;
    window.looked_at("strike").await;
    window.touch("close").await;
    window.touch("see-result").await;
    window.find("headline").await;
    window.looked_at("result-cannot-tell").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_snapshot_is_begun_as_last_time_and_with_a_changed_load() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.find("add-car").await;
    window.added().await;
    window.reload().await;
    window.watch_policy().await;
    window.touch("begin-snapshot").await;
    window.find("begin").await;
    window.looked_at("begin-first").await;
    // The app opens again at a form that is open: it is left first, and that goes to the disk.
    window.touch("back").await;
    window.find("begin-snapshot").await;
    tokio::time::sleep(Duration::from_millis(400)).await;
    window.samples().await;
    window.touch_css("[data-label*=\"pickup\"]").await;
    window.touch("tab-readings").await;
    window.touch("begin-snapshot").await;
    window.find("same-all").await;
    window.looked_at("begin").await;
    window.touch("change-load").await;
    window.touch("fuel-4").await;
    window.touch("aboard-driver").await;
    window.looked_at("begin-load").await;
    window.touch("change-pressures").await;
    window.touch("tires-warm").await;
    window.looked_at("begin-pressures").await;
    window.close().await;
}

impl Window {
    /// Opens the sample garage, as a start with it in the garage would show it.
    pub(crate) async fn samples(&self) {
        self.ask("open_sample_garage", json!({})).await;
        self.reload().await;
        self.watch_policy().await;
    }
}
