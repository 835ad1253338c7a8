//! The Settling tab: hollow days and what was taken out of them, too early to tell, nothing to tell from, and the tab as text.

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::window::Window;

const COUPE: &str = include_str!("../../../sample-data/settling-coupe.json");

impl Window {
    /// Opens the Settling tab of the sample coupe as it was on that day.
    async fn settling(&self, until: &str) {
        self.find("add-car").await;
        let mut file: Value = serde_json::from_str(COUPE).expect("an exchange file");
        let snapshots = file["snapshots"].as_array_mut().expect("a list");
        snapshots.retain(|snapshot| snapshot["date"].as_str().is_some_and(|date| date <= until));
        self.ask("import_file", json!({ "name": "coupe.json", "text": file.to_string() })).await;
        self.reload().await;
        self.watch_policy().await;
        self.find("corner-FL").await;
        self.touch("tab-settling").await;
        self.find("headline").await;
    }

    async fn attribute(&self, test: &str, name: &str) -> String {
        self.find(test).await.attr(name).await.expect("the page answers").unwrap_or_default()
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_settled_car_shows_its_curve_and_a_hollow_day_opens_and_says_what_was_taken_out() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.settling("2031-12-31").await;
    assert!(window.text("headline").await.starts_with("Settled since "), "{}", window.text("headline").await);
    // The simulator's law a year after the work, driven on at the pace so far.
    for (end, truth) in [("to-come-front", 594.4), ("to-come-rear", 549.0)] {
        let number = async |name: &str| window.attribute(end, name).await.parse::<f64>().expect("a number");
        let (rest, u) = (number("data-rest").await, number("data-rest-u").await);
        assert!((rest - truth).abs() <= 2.0 * u, "{end}: {rest} ± {u}");
    }
    let picture = window.attribute("settling-picture", "aria-label").await;
    assert!(picture.contains("Hollow: day 21, full tank; day 56, soft tires."), "{picture}");
    window.looked_at("settling").await;

    let law = window.text("law").await;
    assert!(law.starts_with("The curve: ever slower, to a rest. Runner-up: ever slower, without end."), "{law}");
    window.touch("law").await;
    window.find("law-sheet").await;
    window.looked_at_upright("settling-law").await;
    window.touch("law-logarithmic").await;
    window.until("the other curve is drawn", async || window.text("law").await.starts_with("Asked for: ")).await;
    assert_eq!(window.text("headline").await, "Still settling.");
    window.touch("law").await;
    window.touch("law-best").await;
    window.until("the best is back", async || window.text("law").await.starts_with("The curve: ")).await;

    window.touch("clock-kilometres").await;
    window.until("days say their kilometres", async || window.text("day-0").await.contains("day 70, 1290 km")).await;
    window.looked_at("settling-kilometres").await;
    window.touch("clock-days").await;
    window.until("the days are days again", async || !window.text("day-0").await.contains("km")).await;

    window.touch_css("[data-cause=\"full tank\"]").await;
    let said = window.text("taken-out").await;
    assert!(said.starts_with("Fuel tank full instead of half, 22 kg: it stood "), "{said}");
    window.find("stood-rear").await;
    window.looked_at_upright("settling-day").await;
    window.touch("open-day").await;
    window.css("[data-screen=\"result\"]").await;
    window.touch("tab-settling").await;
    // A finger on the picture opens the nearest day; the left edge is day 0.
    window.find("settling-picture").await;
    window
        .script(
            "const touch = document.querySelector('[data-test=\"settling-touch\"]');
            const box = touch.getBoundingClientRect();
            touch.dispatchEvent(new MouseEvent('click', { bubbles: true, clientX: box.left + 44, clientY: box.top + 80 }));
            return 0",
        )
        .await;
    assert!(window.text("day-sheet").await.contains("day 0"), "{}", window.text("day-sheet").await);
    window.touch("close").await;
    window.touch("begin-snapshot").await;
    window.css("[data-screen=\"begin\"]").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_week_is_too_early_and_the_next_day_to_measure_is_named() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.settling("2031-05-10").await;
    assert_eq!(window.text("headline").await, "Still settling.");
    assert_eq!(window.attribute("next", "data-date").await, "2031-05-17");
    assert!(window.text("next").await.contains("17 May, same marks."), "{}", window.text("next").await);
    assert!(window.text("no-curve").await.starts_with("No curve yet."), "{}", window.text("no-curve").await);
    assert!(!window.has("[data-test=\"to-come-front\"]").await, "nothing is foretold");
    window.looked_at("settling-too-early").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn without_a_snapshot_since_the_work_it_asks_for_one() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.settling("2031-05-02").await;
    assert_eq!(window.text("headline").await, "Can\u{2019}t tell yet.");
    assert!(
        window.text("detail").await.starts_with("No snapshot since the work on 3 May"),
        "{}",
        window.text("detail").await
    );
    window.looked_at("settling-empty").await;
    window.touch("begin-snapshot").await;
    window.css("[data-screen=\"begin\"]").await;
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_tab_reads_as_text_and_by_keyboard_alone() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.settling("2031-12-31").await;
    window.tab_to("day-0").await;
    window.keys("\u{e007}").await;
    assert!(window.text("day-sheet").await.contains("day 70"), "{}", window.text("day-sheet").await);
    window.keys("\u{e00c}").await;
    window.until("the sheet is closed", async || !window.has("[data-test=\"day-sheet\"]").await).await;
    window.touch("open-menu").await;
    window.touch("read-as-text").await;
    let text = window.text("settling-picture").await;
    assert!(
        text.contains(", by 2 May 2032 it stands at ")
            && text.contains("Hollow: day 21, full tank")
            && text.contains("Rear: 571 mm on day 0, 554 on day 70"),
        "{text}"
    );
    assert!(window.text("strip-rake").await.contains("nose-up on day 0"), "{}", window.text("strip-rake").await);
    window.close().await;
}
