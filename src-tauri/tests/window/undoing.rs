//! Undo and put back go on where they were after the battery died.

use serde_json::json;

use crate::garage::Garage;
use crate::window::Window;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn what_was_undone_before_the_battery_died_is_put_back_after_it() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let car = window.added().await;
    window.begun_with(&car, &json!({})).await;
    window.reload().await;
    window.go_on().await;
    for text in ["600", "602"] {
        window.press(text).await;
        window.take().await;
    }
    window.touch("undo").await;
    window.until("the walk is back", async || window.now().await.is_some_and(|now| now.corner == "FR")).await;
    window.kill().await;

    let window = Window::open(&garage).await;
    window.css("[data-test=\"book-1\"]:not([data-text])").await;
    window.touch("put-back").await;
    window.css("[data-test=\"book-1\"][data-text=\"602\"]").await;
    window.go_on().await;
    for corner in ["FR", "FL"] {
        window.touch("undo").await;
        window
            .until("the walk is back", async || {
                // With nothing read in it, a bounce is asked about again.
                window.through_safety().await;
                window.now().await.is_some_and(|now| now.corner == corner)
            })
            .await;
    }
    window.kill().await;

    let window = Window::open(&garage).await;
    for text in ["600", "602"] {
        window.touch("put-back").await;
        window.css(&format!("[data-test^=\"book-\"][data-text=\"{text}\"]")).await;
    }
    assert!(window.text("state").await.starts_with("2 of 4 read"));
    window.close().await;
}
