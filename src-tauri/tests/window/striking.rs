//! A reading is struck from the field book for a reason of one's own, stays in the book, and is put back.

use serde_json::json;

use crate::garage::Garage;
use crate::window::Window;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_reading_is_struck_for_an_own_reason_and_put_back() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let car = window.added().await;
    let walk = window.begun_with(&car, &json!({ "rounds": 2 })).await;
    window.read(&walk, &["600", "602", "640", "403.5", "600"]).await;
    window.reload().await;
    assert_eq!(window.text("book-3").await, "hidden", "round 2 is read with fresh eyes");
    assert!(!window.has("[data-test=\"book-strike-0\"]").await, "a number is not struck by a stray touch");

    window.touch("strike-one-here").await;
    window.find("book-strike-0").await;
    // Middles of what can be touched: rows and columns at least 56 px apart.
    let apart = window
        .script(
            "const at = [...document.querySelectorAll('[data-test^=\"book-strike-\"]')].map((b) => b.getBoundingClientRect());
            const far = (a, b) => Math.max(Math.abs(a.x + a.width / 2 - b.x - b.width / 2),
                Math.abs(a.y + a.height / 2 - b.y - b.height / 2));
            return Math.min(...at.map((r) => Math.min(r.width, r.height)),
                ...at.flatMap((a, i) => at.slice(i + 1).map((b) => far(a, b))))",
        )
        .await;
    assert!(apart.as_f64().is_some_and(|apart| apart >= 56.0), "{apart}");
    window.picture("strike-in-the-book").await;

    window.touch("book-strike-4").await;
    window.touch("why-another-reason").await;
    window.fill("reason", "x").await;
    window.touch("strike-it").await;
    window.find("problem-reason").await;
    window.fill("reason", "knelt on the hose").await;
    window.touch("strike-it").await;
    let struck = window.text("struck-0").await;
    assert!(
        struck.contains("600") && struck.contains("front left lip") && struck.contains("knelt on the hose"),
        "{struck}"
    );
    window.css("[data-test=\"book-4\"]:not([data-text])").await;
    let file = window.file().await;
    let readings = file["snapshots"][0]["bounces"][0]["readings"].to_string();
    assert!(readings.contains("knelt on the hose"), "{readings}");

    window.touch("unstrike-0").await;
    window.css("[data-test=\"book-4\"][data-text=\"600\"]").await;
    assert!(!window.has("[data-test=\"struck-0\"]").await);
    window.close().await;
}
