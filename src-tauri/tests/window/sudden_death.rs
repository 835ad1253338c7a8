//! The app is killed in the middle of a walk-around, ten times at ten different moments. After each start every reading that the
//! screen had taken is there, what was half typed too, and the screen is at the same corner.

use std::collections::BTreeMap;
use std::time::Duration;

use crate::garage::Garage;
use crate::walk::Now;
use crate::window::Window;

/// A text that can be read at the step at hand; all are of shapes the keys make.
fn reading(now: &Now) -> &'static str {
    match (now.kind.as_str(), now.point.split('.').next()) {
        ("gauge", _) => "1.2",
        ("hub", _) => "13 9/16",
        (_, Some("rail")) => "15 3/4",
        _ => "27 5/8",
    }
}

/// What is done to the walk before the battery dies.
#[derive(Debug, Clone, Copy)]
enum Moment {
    NothingTyped,
    Typed(&'static str),
    Taken,
    TakenThenTyped(&'static str),
    /// The thumb has just left "Take it": the screen has not answered yet.
    BeingTaken,
    Undone,
    AnotherCorner(&'static str, &'static str),
    LeftWhileTyped(&'static str),
}

const MOMENTS: [Moment; 10] = [
    Moment::NothingTyped,
    Moment::Typed("2"),
    Moment::Taken,
    Moment::TakenThenTyped("15"),
    Moment::BeingTaken,
    Moment::Undone,
    Moment::Typed("13 9/16"),
    Moment::AnotherCorner("RL", "27"),
    Moment::BeingTaken,
    Moment::LeftWhileTyped("5/8"),
];

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn ten_deaths_lose_no_reading_no_half_typed_text_and_no_place() {
    let garage = Garage::empty();
    let mut window = Window::open(&garage).await;
    window.begun(2).await;
    window.close().await;

    let mut book = BTreeMap::new();
    let mut window_at = Window::open(&garage).await;
    window_at.go_on().await;
    for moment in MOMENTS {
        let before_death = window_at.live(moment, &mut book).await;
        window_at.kill().await;
        window = Window::open(&garage).await;
        window.holds(&book, &before_death, moment).await;
        window_at = window;
    }
    window_at.picture("sudden-death-reopened").await;
    window_at.close().await;
}

/// Where the walk was when the app died, and what was half typed there.
#[derive(Debug)]
struct BeforeDeath {
    now: Now,
    typed: String,
    /// A reading whose taking the screen had not confirmed: it may have reached the disk or still be half-typed text.
    in_flight: Option<(String, String)>,
}

impl Window {
    async fn present(&self) -> Now {
        self.through_safety().await;
        self.now().await.expect("the walk is not at its end")
    }

    async fn live(&self, moment: Moment, book: &mut BTreeMap<String, String>) -> BeforeDeath {
        let mut typed = String::new();
        let mut in_flight = None;
        match moment {
            Moment::NothingTyped => {}
            Moment::Typed(text) => typed = self.half_type(text).await,
            Moment::Taken => self.take_one(book).await,
            Moment::TakenThenTyped(text) => {
                self.take_one(book).await;
                typed = self.half_type(text).await;
            }
            Moment::BeingTaken => {
                let now = self.present().await;
                self.half_type(reading(&now)).await;
                self.touch("take").await;
                in_flight = Some((now.step.clone(), reading(&now).to_owned()));
                return BeforeDeath { now, typed, in_flight };
            }
            Moment::Undone => {
                let before = self.present().await;
                self.take_one(book).await;
                self.through_safety().await;
                self.touch("undo").await;
                self.until("the walk is back where it was", async || self.present().await == before).await;
                book.remove(&before.step);
                typed = self.typed().await;
            }
            Moment::AnotherCorner(corner, text) => {
                self.touch(&format!("corner-go-{corner}")).await;
                self.until("the walk is at that corner", async || self.present().await.corner == corner).await;
                typed = self.half_type(text).await;
            }
            Moment::LeftWhileTyped(text) => {
                let now = self.present().await;
                typed = self.half_type(text).await;
                self.touch("leave").await;
                self.find("state").await;
                return BeforeDeath { now, typed, in_flight };
            }
        }
        let now = self.present().await;
        BeforeDeath { now, typed, in_flight }
    }

    /// Takes the reading at hand; from then on the screen has promised to keep it.
    async fn take_one(&self, book: &mut BTreeMap<String, String>) {
        let now = self.present().await;
        self.erase().await;
        self.press(reading(&now)).await;
        self.take().await;
        book.insert(now.step.clone(), reading(&now).to_owned());
    }

    /// Presses keys, and stops as somebody who looks up: the screen promises to keep a key within a tenth of a second, and the
    /// machine of a test may be busy.
    async fn half_type(&self, text: &str) -> String {
        self.erase().await;
        self.press(text).await;
        tokio::time::sleep(Duration::from_millis(800)).await;
        text.to_owned()
    }

    /// The reopened app: its field book, its half-typed text, its place.
    async fn holds(&self, book: &BTreeMap<String, String>, before: &BeforeDeath, moment: Moment) {
        self.find("state").await;
        for (step, text) in book {
            let kept =
                self.css(&format!("[data-test=\"book-{step}\"]")).await.attr("data-text").await.expect("an attribute");
            assert_eq!(kept.as_deref(), Some(text.as_str()), "{moment:?}: reading {step} was taken");
        }
        self.go_on().await;
        let now = self.present().await;
        let draft = self.typed().await;
        match &before.in_flight {
            Some((step, text)) if now.step != *step => {
                self.touch("leave").await;
                let kept = self.css(&format!("[data-test=\"book-{step}\"]")).await.attr("data-text").await;
                assert_eq!(
                    kept.expect("an attribute").as_deref(),
                    Some(text.as_str()),
                    "{moment:?}: it moved on, so it is kept"
                );
                self.go_on().await;
            }
            Some((_, text)) => assert_eq!(&draft, text, "{moment:?}: not taken, so it is still half-typed text"),
            None => {
                assert_eq!(now, before.now, "{moment:?}: the same corner, the same point");
                assert_eq!(draft, before.typed, "{moment:?}: what was half typed");
            }
        }
    }
}
