//! A flat battery at any state of entry: what stood on the screen before, and what stands there after the next start.

use std::path::Path;
use std::sync::Mutex;

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::window::{PHONE, Ready, Window};

/// The longest from the first paint to the question, ms. A second is promised; a machine that runs many windows at once is slow.
const LONGEST_MS: f64 = 5000.0;

/// How long each start took, ms, in all tests together.
static STARTS: Mutex<Vec<f64>> = Mutex::new(Vec::new());

/// What is asked on the screen and what is typed there: the screen, the step or spot, the read-out, whether repeats are in question, and
/// every field that has something in it.
const QUESTION: &str = "
    const data = (name) => ({ ...document.querySelector(`[data-test=\"${name}\"]`)?.dataset });
    const fields = [...document.querySelectorAll('input[name]')].filter((input) => input.type === 'text' && input.value !== '');
    return {
        screen: document.querySelector('[data-screen]')?.dataset.screen,
        step: data('now-step'),
        spot: data('now-spot'),
        typed: data('read-out').text ?? '',
        differs: document.querySelector('[data-test=\"differs\"]') !== null,
        fields: Object.fromEntries(fields.map((input) => [input.name, input.value])),
    }";

impl Window {
    pub(crate) async fn question(&self) -> Value {
        self.script(QUESTION).await
    }

    /// Waits until the garage has what is typed: a key is promised to be kept within a tenth of a second, and the machine of a test may
    /// be busy.
    pub(crate) async fn looked_up(&self) {
        tokio::time::sleep(std::time::Duration::from_millis(600)).await;
    }

    /// Kills the app and starts it again; the new window says what was recovered, soon, on the right car.
    pub(crate) async fn dies_and_comes_back(self, garage: &Garage, car: &str, state: &str) -> Self {
        self.kill().await;
        let window = Ready::new(garage).open(Path::new(env!("CARGO_BIN_EXE_trueground-app"))).await;
        window.css("[data-test=\"state\"], [data-test=\"recovered\"]").await;
        let took = window
            .script(
                "const [paint] = performance.getEntriesByType('paint');
                return performance.now() - (paint?.startTime ?? 0)",
            )
            .await;
        let took = took.as_f64().expect("a time");
        assert!(took < LONGEST_MS, "{state}: back after {took:.0} ms");
        STARTS.lock().expect("no test has failed").push(took);
        window.size(PHONE).await;
        let cars = window.ask("open_garage", json!({})).await["cars"].clone();
        assert_eq!(cars[0]["label"], car, "{state}: never another car");
        window
    }

    /// After a death on the walk-around: the book says how much is read and when, and one touch leads to the same question.
    pub(crate) async fn goes_on_as(&self, before: &Value, state: &str) {
        let said = self.text("state").await;
        let (read, rest) = said.split_once(" of ").unwrap_or_else(|| panic!("{state}: {said}"));
        assert!(read.parse::<u32>().is_ok() && rest.contains(" read"), "{state}: {said}");
        self.touch("go-on").await;
        self.through_safety().await;
        assert_eq!(&self.question().await, before, "{state}: the same question and what was half typed");
    }

    /// After a death on another screen: that screen, with what was typed.
    pub(crate) async fn stands_as(&self, before: &Value, state: &str) {
        let said = self.text("recovered").await;
        assert!(said.starts_with("Nothing was lost."), "{state}: {said}");
        self.until(&format!("{state}: it is as before: {before}"), async || self.question().await == *before).await;
    }
}

/// Prints how long the starts of this test program took so far.
pub(crate) fn say_times(kills: usize) {
    let mut starts = STARTS.lock().expect("no test has failed").clone();
    starts.sort_by(f64::total_cmp);
    if let (Some(median), Some(longest)) = (starts.get(starts.len() / 2), starts.last()) {
        eprintln!(
            "{kills} kills here, {} in all: back at the question {median:.0} ms after the first paint (median), {longest:.0} ms at most",
            starts.len()
        );
    }
}
