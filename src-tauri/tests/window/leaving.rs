//! Who leaves the walk and at once goes to the garage is in the garage.

use serde_json::json;
use std::time::Duration;

use crate::garage::Garage;
use crate::window::{LAPTOP, Window};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn leave_and_at_once_the_cars_name_ends_in_the_garage() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let car = window.added().await;
    window.begun_with(&car, &json!({})).await;
    window.size(LAPTOP).await;
    window.reload().await;
    window.go_on().await;
    window.press("60").await;
    window
        .script(
            "for (const name of ['leave', 'open-garage']) document.querySelector(`[data-test=\"${name}\"]`).click();
            return 0",
        )
        .await;
    window.css("[data-screen=\"garage\"]").await;
    // Long enough for a late reply to the first touch to lead away from here.
    tokio::time::sleep(Duration::from_millis(700)).await;
    assert!(window.has("[data-screen=\"garage\"]").await, "it stays there");
    window.touch("go-on").await;
    assert_eq!(window.text("draft").await, "Typed so far: 60");
    window.close().await;
}
