//! The walk begins at the rear right and goes anticlockwise; a corner is skipped with half a number typed, and come back to.

use serde_json::json;

use crate::garage::Garage;
use crate::window::Window;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn it_begins_at_the_rear_right_and_what_was_half_typed_waits_at_the_skipped_corner() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let car = window.added().await;
    window.begun_with(&car, &json!({})).await;
    window.reload().await;
    window.go_on().await;
    assert!(window.text("what-is-left").await.starts_with("4 left"));
    window.touch("what-is-left").await;
    window.touch("start-RR").await;
    window.touch("anticlockwise").await;
    window
        .until("the sentence says the order", async || {
            window.text("order-words").await == "rear right, front right, front left, rear left"
        })
        .await;
    window.picture("order").await;
    window.touch("close").await;
    for (corner, text) in [("RR", "640"), ("FR", "602"), ("FL", "60"), ("RL", "642")] {
        window.until("that corner comes", async || window.now().await.is_some_and(|now| now.corner == corner)).await;
        assert!(window.text("where").await.starts_with(words(corner)));
        window.press(text).await;
        if corner == "FL" {
            window.touch("what-is-left").await;
            window.touch("skip-corner-FL").await;
        } else {
            window.take().await;
        }
    }
    window.touch("read-skipped").await;
    window.until("it is back", async || window.now().await.is_some_and(|now| now.corner == "FL")).await;
    assert_eq!(window.typed().await, "60");
    window.touch("key-0").await;
    window.take().await;
    window.css("[data-test=\"see-result\"]").await;
    assert!(window.text("state").await.starts_with("4 of 4 read"));
    window.close().await;
}

/// The corner as the screen says it.
fn words(corner: &str) -> &'static str {
    match corner {
        "FL" => "front left",
        "FR" => "front right",
        "RL" => "rear left",
        _ => "rear right",
    }
}
