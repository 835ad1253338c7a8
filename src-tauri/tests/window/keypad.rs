//! The keypad: thirty-seconds by thumb, every notation from a hardware keyboard, a proposal for what is on no tape, and the
//! question after a likely slip.

use serde_json::json;
use thirtyfour::Key;

use crate::garage::Garage;
use crate::window::Window;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn thirty_seconds_by_thumb_and_every_notation_by_keyboard() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let car = window.added().await;
    let form = json!({
        "car": car, "floor": null, "facing": "A", "kinds": ["frame_rail"], "hubs": false, "rounds": 5, "bounces": 1,
        "angle_gauge": false, "tape": "in32", "pressures": {"FL": "", "FR": "", "RL": "", "RR": ""},
    });
    window.ask("begin_snapshot", form).await;
    window.reload().await;
    window.touch("go-on").await;
    window.through_safety().await;

    // 10 and 7 sixteenths, and a thirty-second more.
    for key in ["key-1", "key-0", "strip-7", "key-32nd"] {
        window.touch(key).await;
    }
    assert_eq!(window.typed().await, "10 15/32");
    window.take().await;

    for text in ["10-15/32\"", "10 1/2 in", "26.6 cm", "26,6 cm", "266 mm", "10.47"] {
        window.keys(text).await;
        assert_eq!(window.typed().await, text);
        let before = window.now().await;
        window.keys(&Key::Enter.value().to_string()).await;
        window
            .until("the reading is taken", async || {
                if window.has("[data-test=\"differs\"]").await {
                    window.touch("keep-both").await;
                }
                window.now().await != before
            })
            .await;
    }

    window.keys("10 5/12").await;
    window.keys(&Key::Enter.value().to_string()).await;
    let proposal = window.css("[data-test=\"entry-problem\"] [data-test=\"proposal\"]").await;
    assert_eq!(proposal.text().await.expect("a text"), "10 5/16");
    window.touch("proposal").await;
    assert_eq!(window.typed().await, "10 5/16");
    window.erase().await;

    // An inch more than the first round.
    window.keys("11 15/32").await;
    window.keys(&Key::Enter.value().to_string()).await;
    assert!(window.text("differs").await.contains("an inch more than the"), "{}", window.text("differs").await);
    window.picture("slip").await;
    window.close().await;
}
