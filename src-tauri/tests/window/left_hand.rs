//! The left-hand setting puts under the left thumb what the right one had.

use serde_json::json;

use crate::garage::Garage;
use crate::window::{PHONE, Window};

impl Window {
    /// Left edges of these, px.
    async fn lefts<const N: usize>(&self, names: [&str; N]) -> [f64; N] {
        let mut lefts = [0.0; N];
        for (left, name) in lefts.iter_mut().zip(names) {
            *left = self.find(name).await.rect().await.expect("it has a place").x;
        }
        lefts
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn take_and_erase_undo_and_leave_change_sides() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.begun(1).await;
    window.reload().await;
    window.go_on().await;
    let [erase, take, leave, undo] = window.lefts(["erase", "take", "leave", "undo"]).await;
    assert!(erase < take && leave < undo, "{erase} {take} {leave} {undo}");
    window.touch("leave").await;
    window.find("state").await;
    window.touch("open-menu").await;
    window.touch("hand-left").await;
    window.touch("close").await;
    window.go_on().await;
    let mirrored = window.lefts(["take", "erase", "undo", "leave"]).await;
    assert!(mirrored[0] < mirrored[1] && mirrored[2] < mirrored[3], "{mirrored:?}");
    let width = f64::from(PHONE.0);
    assert!(
        (mirrored[0] - (width - take - window.find("take").await.rect().await.expect("a place").width)).abs() < 2.0
    );
    window.picture("left-hand").await;
    window.press("27 5/8").await;
    window.take().await;
    window.close().await;
    let window = Window::open(&garage).await;
    window.find("state").await;
    let settings = window.ask("open_garage", json!({})).await["settings"].clone();
    assert_eq!(settings["left_hand"], json!(true), "kept");
    window.close().await;
}
