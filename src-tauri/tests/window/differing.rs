//! A reading that differs is asked about in place: against the first round, answered in three ways, and against the last snapshot.

use serde_json::json;

use crate::garage::Garage;
use crate::window::Window;

impl Window {
    /// Types and takes a reading that is asked about; the question's words.
    async fn asked(&self, text: &str) -> String {
        self.press(text).await;
        self.touch("take").await;
        self.text("differs").await
    }

    async fn goes_on_at(&self, corner: &str) {
        self.until(&format!("{corner} is asked for"), async || {
            !self.has("[data-test=\"differs\"]").await && self.now().await.is_some_and(|now| now.corner == corner)
        })
        .await;
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn two_rounds_that_differ_are_answered_by_a_third_reading_a_strike_or_both_kept() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let car = window.added().await;
    let walk = window.begun_with(&car, &json!({ "rounds": 2 })).await;
    window.read(&walk, &["600", "602", "640", "642"]).await;
    window.reload().await;
    window.watch_policy().await;
    window.go_on().await;

    let question = window.asked("625").await;
    assert!(question.contains("These two differ by 25 mm.") && question.contains("round 1"), "{question}");
    window.looked_at_upright("disagreement").await;
    window.press("600").await;
    window.touch("take").await;
    window.goes_on_at("FR").await;

    window.asked("627").await;
    window.touch("strike-one").await;
    window.touch("reason-wrong-edge").await;
    window.touch("strike-2").await;
    window.until("it can be read again", async || !window.has("[data-test=\"differs\"]").await).await;
    window.touch("corner-go-FR").await;
    window.goes_on_at("FR").await;
    window.press("602").await;
    window.take().await;

    window.goes_on_at("RR").await;
    window.asked("665").await;
    window.touch("keep-both").await;
    window.goes_on_at("RL").await;
    window.press("642").await;
    window.take().await;
    window.find("see-result").await;
    let readings = window.file().await["snapshots"][0]["bounces"][0]["readings"].clone();
    let of = |text: &str| readings.as_array().expect("readings").iter().filter(|each| each["text"] == text).count();
    assert_eq!([of("600"), of("625"), of("602"), of("627"), of("640"), of("665")], [2, 1, 2, 1, 1, 1], "{readings}");
    assert!(readings.to_string().contains("wrong edge"), "{readings}");
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn an_inch_more_than_in_the_last_snapshot_is_asked_about_and_read_once_more() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let car = window.added().await;
    let floor = json!({ "car": car, "label": "Yard", "levelling": "not_levelled", "flat_to": "", "tape": "mm" });
    let form = json!({ "floor": window.ask("add_floor", floor).await["floor"] });
    let walk = window.begun_with(&car, &form).await;
    let walk = window.read(&walk, &["600", "602", "640", "642"]).await;
    window.ask("finish_snapshot", json!({ "snapshot": walk["snapshot"] })).await;
    window.begun_with(&car, &form).await;
    window.reload().await;
    window.go_on().await;

    let question = window.asked("625").await;
    assert!(question.contains("An inch more than on"), "{question}");
    window.picture("differs-from-last").await;
    window.press("600").await;
    window.take().await;
    window.goes_on_at("FR").await;
    window.press("602").await;
    window.take().await;
    window.goes_on_at("RR").await;
    window.close().await;
}
