//! Where the focus goes: to the heading of a new screen, into a sheet and back to what opened it, to the question of a safety
//! screen; and Escape leaves each of them.

use serde_json::json;
use thirtyfour::Key;

use crate::garage::Garage;
use crate::window::Window;

impl Window {
    async fn focused(&self) -> String {
        let script =
            "const on = document.activeElement; return on.dataset.test ?? `${on.tagName} ${on.textContent.trim()}`";
        self.script(script).await.as_str().unwrap_or_default().to_owned()
    }

    async fn escape(&self) {
        let on = self.page.active_element().await.expect("something has the focus");
        on.send_keys(Key::Escape.value().to_string()).await.expect("keys");
    }

    async fn has_focus(&self, what: &str, start: &str) {
        self.until(what, async || self.focused().await.starts_with(start)).await;
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_focus_goes_to_what_is_new_and_comes_back_and_escape_leaves() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.begun(1).await;
    window.reload().await;
    window.find("go-on").await;

    window.touch("open-menu").await;
    window.has_focus("the menu is read from its title", "H2 Menu").await;
    window.escape().await;
    window.until("the menu is closed", async || !window.has("dialog[open]").await).await;
    window.has_focus("what opened the menu has the focus again", "open-menu").await;

    window.touch("open-menu").await;
    window.touch("instruments").await;
    window.has_focus("tapes and gauges are read from their heading", "H1 Tapes and gauges").await;
    window.touch("add-tape").await;
    window.css("[data-screen=\"instrument_form\"]").await;
    window.escape().await;
    window.css("[data-screen=\"instruments\"]").await;
    window.escape().await;
    window.find("go-on").await;

    window.touch("go-on").await;
    window.find("safety").await;
    window.has_focus("the question has the focus", "H2").await;
    let question = window.focused().await;
    window.touch("safety-go-on").await;
    window
        .until("the next question has it", async || {
            let now = window.focused().await;
            !window.has("[data-test=\"safety\"]").await || (now != question && now.starts_with("H2"))
        })
        .await;
    if window.has("[data-test=\"safety\"]").await {
        window.escape().await;
        window.find("go-on").await;
    }
    assert_eq!(window.script("return document.querySelectorAll('h1').length").await, json!(1), "one heading");
    window.close().await;
}
