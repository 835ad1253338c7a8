//! A filled booking sheet is entered with the keyboard alone: the battery dies in the middle, one cell is nonsense, one a slip.

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::window::{LAPTOP, Window};

const ENTER: &str = "\u{e007}";
const TAB: &str = "\u{e004}";
const BACKSPACE: &str = "\u{e003}";
/// Rails and lips of both rounds in walking order, as a roadster has them, in mm.
const PAPER: [&str; 16] =
    ["400", "640", "404", "644", "436", "690", "438", "692", "400", "640", "404", "644", "436", "690", "438", "692"];
/// The cell that is nonsense at first, and the one an inch off.
const NONSENSE: usize = 2;
const SLIP: usize = 12;

impl Window {
    async fn active_keys(&self, keys: &str) {
        self.page.active_element().await.expect("something has the focus").send_keys(keys).await.expect("keys");
    }

    /// Moves the focus with the Tab key until it is on what this selector names.
    async fn tab_until(&self, selector: &str) {
        let there = format!("return document.activeElement?.matches({}) ?? false", json!(selector));
        for _ in 0..120 {
            if self.script(&there).await == json!(true) {
                return;
            }
            self.active_keys(TAB).await;
        }
        panic!("{selector} is not reached with the Tab key");
    }

    async fn open_by_key(&self, name: &str) {
        self.find(name).await;
        self.tab_until(&format!("[data-test=\"{name}\"]")).await;
        self.active_keys(ENTER).await;
    }

    async fn cells_taken(&self, many: usize) {
        self.until("so many cells are stored", async || {
            self.script("return document.querySelectorAll('[data-taken=\"true\"]').length").await == json!(many)
        })
        .await;
    }

    /// A car with nothing read, on its readings.
    async fn unread(&self) {
        self.added().await;
        self.reload().await;
        self.touch("tab-readings").await;
        self.find("enter-sheet").await;
    }

    /// The texts that count, in the order they were entered.
    async fn counted(&self) -> Vec<Value> {
        let readings = self.file().await["snapshots"][0]["bounces"][0]["readings"].clone();
        let readings = readings.as_array().cloned().unwrap_or_default();
        readings.into_iter().filter(|reading| reading["struck"].is_null()).collect()
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_whole_sheet_by_keyboard_with_a_death_a_nonsense_and_a_slip() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.unread().await;
    window.open_by_key("enter-sheet").await;
    window.css("[data-screen=\"begin\"]").await;
    window.tab_until("input[name=\"date\"]").await;
    window.active_keys("12 Apr 2199").await;
    window.tab_until("input[name=\"time\"]").await;
    window.active_keys("9:30").await;
    // One bounce and the tape in mm, chosen with the arrow keys or a thumb; what is left is the keyboard's.
    for name in ["bounces-1", "rounds-2", "tape-mm", "hubs"] {
        window.touch(name).await;
    }
    window.tab_until("[data-test=\"begin\"]").await;
    window.active_keys(ENTER).await;
    window.find("problem-date").await;
    assert_eq!(window.file().await["snapshots"].as_array().map_or(0, Vec::len), 0, "nothing was stored");
    window.fill("date", "12 Apr 2023").await;
    window.tab_until("[data-test=\"begin\"]").await;
    window.active_keys(ENTER).await;
    window.css("[data-screen=\"sheet\"]").await;

    window.tab_until("[data-cell]").await;
    for (at, text) in PAPER.iter().enumerate().take(9) {
        window.active_keys(if at == NONSENSE { "4o4x" } else { text }).await;
        window.active_keys(if at % 2 == 0 { ENTER } else { TAB }).await;
    }
    window.cells_taken(8).await;
    window.css("[data-test^=\"problem-cell.\"]").await;
    window.active_keys("64").await;
    tokio::time::sleep(std::time::Duration::from_millis(400)).await;
    assert_eq!(window.axe().await, json!([]), "findings of axe on a sheet with a problem");
    window.picture("sheet-problem").await;
    window.kill().await;

    let window = Window::open(&garage).await;
    window.open_by_key("go-on").await;
    window.css("[data-screen=\"sheet\"]").await;
    window.cells_taken(8).await;
    let typed = "return [...document.querySelectorAll('[data-cell]')].map((cell) => cell.value)";
    let mut cells = window.script(typed).await;
    let cells = cells.as_array_mut().expect("cells");
    assert_eq!((&cells[NONSENSE], &cells[9]), (&json!("4o4x"), &json!("64")), "half typed, and still there");
    window.tab_until("[data-cell]").await;
    for _ in 0..NONSENSE {
        window.active_keys(TAB).await;
    }
    window.active_keys(&BACKSPACE.repeat(6)).await;
    window.active_keys(PAPER[NONSENSE]).await;
    for _ in NONSENSE..9 {
        window.active_keys(ENTER).await;
    }
    window.active_keys(&BACKSPACE.repeat(6)).await;
    for (at, text) in PAPER.iter().enumerate().skip(9) {
        window.active_keys(if at == SLIP { "461.5" } else { text }).await;
        window.active_keys(ENTER).await;
    }
    window.cells_taken(16).await;
    window.active_keys(ENTER).await;
    window.find("slips").await;
    assert!(window.has("[data-test=\"slip-0\"]").await && !window.has("[data-test=\"slip-1\"]").await);
    for (size, name) in [((390, 844), "sheet-slips"), ((844, 390), "sheet-slips-lying"), (LAPTOP, "sheet-slips-wide")] {
        window.size(size).await;
        window.picture(name).await;
        assert_eq!(window.axe().await, json!([]), "{name}: findings of axe");
        let over = window.script("return document.documentElement.scrollWidth - window.innerWidth").await;
        assert_eq!(over, json!(0), "{name} is wider than its window");
    }
    window.open_by_key("slip-change-0").await;
    window.active_keys(PAPER[SLIP]).await;
    window.active_keys(ENTER).await;
    window
        .until("the slip is changed", async || window.counted().await.iter().all(|read| read["text"] != "461.5"))
        .await;
    window.open_by_key("sheet-done").await;
    window.css("[data-screen=\"result\"]").await;
    let counted = window.counted().await;
    assert_eq!(counted.len(), 16);
    assert!(
        counted.iter().all(|read| read["taken_at"].as_str().is_some_and(|at| at.starts_with("2023-04-12T09:30:00")))
    );
    window.close().await;
}
