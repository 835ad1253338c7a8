//! Every screen, at the size of a phone and of a laptop, by day and by night: pictures to look at, and none offends against the
//! security policy or is wider than its window.

use serde_json::json;

use crate::garage::Garage;
use crate::window::{LAPTOP, PHONE, Window};

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn every_screen_by_day_and_by_night_on_a_phone_and_on_a_laptop() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    let variants = [(PHONE, "day"), (PHONE, "night"), (LAPTOP, "day"), (LAPTOP, "night")];
    for (size, theme) in variants {
        window.dress(size, theme).await;
        window.find("add-car").await;
        window.shot("first", size, theme).await;
    }
    window.ask("open_sample_garage", json!({})).await;
    for (size, theme) in variants {
        window.dress(size, theme).await;
        window.all_of_a_measured_car(size, theme).await;
    }
    window.begun(2).await;
    for (size, theme) in variants {
        window.dress(size, theme).await;
        window.all_of_a_walk(size, theme).await;
    }
    window.close().await;
}

impl Window {
    /// Shows the app anew at this size and in these colours.
    async fn dress(&self, size: (u32, u32), theme: &str) {
        let settings = json!({ "tape": "in", "display": "mm", "theme": theme, "left_hand": false });
        self.ask("set_settings", settings).await;
        self.size(size).await;
        self.reload().await;
        self.watch_policy().await;
    }

    async fn shot(&self, screen: &str, size: (u32, u32), theme: &str) {
        let wide = if size == PHONE { "" } else { "-wide" };
        self.picture(&format!("{screen}{wide}-{theme}")).await;
        let over = self.script("return document.documentElement.scrollWidth - window.innerWidth").await;
        assert_eq!(over, json!(0), "{screen}{wide} is wider than its window");
        self.kept_policy().await;
    }

    async fn all_of_a_measured_car(&self, size: (u32, u32), theme: &str) {
        self.touch_css("[data-label*=\"pickup\"]").await;
        self.find("corner-FL").await;
        self.shot("car", size, theme).await;
        self.touch("corner-RL").await;
        self.find("why").await;
        self.shot("why", size, theme).await;
        self.touch("close").await;
        self.touch("open-menu").await;
        self.find("menu").await;
        self.shot("menu", size, theme).await;
        self.touch("close").await;
        for tab in ["compare", "settling", "plan", "readings"] {
            self.touch(&format!("tab-{tab}")).await;
            self.css(&format!("[data-screen=\"{tab}\"]")).await;
            self.shot(tab, size, theme).await;
        }
        self.touch("snapshot-0").await;
        self.find("headline").await;
        self.shot("result", size, theme).await;
        self.touch("tab-readings").await;
        self.touch("begin-snapshot").await;
        self.find("begin").await;
        self.shot("begin", size, theme).await;
        self.touch("change-floor").await;
        self.touch("add-floor").await;
        self.find("save").await;
        self.shot("floor-form", size, theme).await;
    }

    async fn all_of_a_walk(&self, size: (u32, u32), theme: &str) {
        self.find("go-on").await;
        self.shot("reopened", size, theme).await;
        self.touch("go-on").await;
        self.find("safety").await;
        self.shot("safety", size, theme).await;
        self.through_safety().await;
        self.press("10 7/16").await;
        self.shot("walk-inches", size, theme).await;
        for _ in 0..3 {
            self.touch("erase").await;
        }
        self.touch("leave").await;
        self.find("state").await;
        self.touch("open-garage").await;
        self.css("[data-screen=\"garage\"]").await;
        self.shot("garage", size, theme).await;
        self.touch("go-on").await;
        self.find("state").await;
    }
}
