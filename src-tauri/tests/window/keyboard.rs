//! A whole small walk with the keyboard alone: from the field book to the kept result.

use serde_json::json;
use thirtyfour::Key;

use crate::garage::Garage;
use crate::window::Window;

impl Window {
    /// One key, sent to whatever has the focus.
    async fn key(&self, key: Key) {
        self.keys(&key.value().to_string()).await;
    }

    /// Waits for the corner at hand.
    async fn at_corner(&self, corner: &str) {
        self.until(&format!("{corner} is asked for"), async || {
            self.now().await.is_some_and(|now| now.corner == corner)
        })
        .await;
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_small_walk_is_read_undone_skipped_and_kept_without_a_touch() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let car = window.added().await;
    window.begun_with(&car, &json!({})).await;
    window.reload().await;
    window.find("state").await;
    window.tab_to("go-on").await;
    window.find("safety").await;
    window.tab_to("safety-go-on").await;
    window.until("it is to be bounced", async || window.text("safety").await.contains("bounce")).await;
    window.tab_to("safety-go-on").await;
    window.at_corner("FL").await;
    window.keys("600").await;
    window.key(Key::Enter).await;
    window.at_corner("FR").await;
    window.keys("u").await;
    window.at_corner("FL").await;
    window.keys("p").await;
    window.at_corner("FR").await;
    window.keys("s").await;
    window.at_corner("RR").await;
    window.keys("6401").await;
    window.key(Key::Backspace).await;
    assert_eq!(window.typed().await, "640");
    window.key(Key::Enter).await;
    window.at_corner("RL").await;
    window.keys("64").await;
    window.key(Key::Escape).await;
    window.find("draft").await;
    window.tab_to("go-on").await;
    window.at_corner("RL").await;
    assert_eq!(window.typed().await, "64", "Escape lost nothing");
    window.keys("2").await;
    window.key(Key::Enter).await;
    window.find("read-skipped").await;
    window.tab_to("read-skipped").await;
    window.at_corner("FR").await;
    window.keys("601").await;
    window.key(Key::Enter).await;
    window.find("see-result").await;
    window.tab_to("see-result").await;
    window.find("keep").await;
    window.tab_to("keep").await;
    window.until("it is kept", async || window.file().await["snapshots"][0]["finished"] != json!(false)).await;
    let readings = window.file().await["snapshots"][0]["bounces"][0]["readings"].clone();
    let texts: Vec<&str> =
        readings.as_array().expect("readings").iter().filter_map(|each| each["text"].as_str()).collect();
    assert_eq!(texts, ["600", "640", "642", "601"], "{readings}");
    window.close().await;
}
