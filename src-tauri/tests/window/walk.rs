//! The walk-around as a thumb does it: our own keys, one reading after the other.

use serde::Deserialize;

use crate::window::Window;

/// What the screen asks to be read now.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
pub(crate) struct Now {
    pub(crate) step: String,
    #[serde(rename = "ref")]
    pub(crate) point: String,
    pub(crate) corner: String,
    pub(crate) kind: String,
    pub(crate) bounce: usize,
    pub(crate) round: usize,
    pub(crate) reversed: bool,
}

impl Window {
    /// What is to be read now; `None` once all is read and the field book is shown.
    pub(crate) async fn now(&self) -> Option<Now> {
        let now = self
            .script(
                "const now = document.querySelector('[data-test=\"now-step\"]')?.dataset;
                return now ? { ...now, bounce: +now.bounce, round: +now.round, reversed: now.reversed === 'true' } : null",
            )
            .await;
        serde_json::from_value(now).expect("the step names itself")
    }

    /// Goes on with an unfinished snapshot.
    pub(crate) async fn go_on(&self) {
        self.touch("go-on").await;
        self.through_safety().await;
    }

    /// Says that the car is chocked, and that nobody is under it, where the screen asks.
    pub(crate) async fn through_safety(&self) {
        self.css("[data-test=\"safety\"], [data-test=\"take\"], [data-test=\"see-result\"]").await;
        self.until("nothing more is asked about safety", async || {
            let asks = self.has("[data-test=\"safety\"]").await;
            if asks {
                self.touch("safety-go-on").await;
            }
            !asks
        })
        .await;
    }

    /// Presses the keys that make `text` ("27 5/8", "704", "-0.5"), without taking it.
    pub(crate) async fn press(&self, text: &str) {
        if let Some(now) = self.now().await
            && now.kind == "gauge"
        {
            self.touch(if text.starts_with('-') { "sign-up" } else { "sign-down" }).await;
        }
        for word in text.trim_start_matches('-').split(' ') {
            match word.split_once('/') {
                Some((numerator, denominator)) => {
                    let number = |text: &str| text.parse::<u32>().expect("a fraction of whole numbers");
                    self.touch(&format!("strip-{}", number(numerator) * 16 / number(denominator))).await;
                }
                None => {
                    for key in word.chars() {
                        self.touch(&if key == '.' { "key-point".to_owned() } else { format!("key-{key}") }).await;
                    }
                }
            }
        }
        assert_eq!(self.typed().await, text, "the read-out shows what was pressed");
    }

    /// What stands in the read-out.
    pub(crate) async fn typed(&self) -> String {
        self.find("read-out").await.attr("data-text").await.expect("an attribute").unwrap_or_default()
    }

    /// Erases what is typed.
    pub(crate) async fn erase(&self) {
        self.until("the read-out is empty", async || {
            let empty = self.typed().await.is_empty();
            if !empty {
                self.touch("erase").await;
            }
            empty
        })
        .await;
    }

    /// Takes what is typed and waits for the next step, which the screen shows once the reading is on the disk.
    pub(crate) async fn take(&self) {
        let before = self.now().await;
        self.touch("take").await;
        self.until("the reading is taken", async || {
            if self.has("[data-test=\"differs\"]").await {
                self.touch("keep-both").await;
            }
            self.now().await != before
        })
        .await;
    }
}
