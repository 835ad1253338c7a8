//! From start to a window that can be used, on a garage of ten years, against the least window there is.
//!
//! Both are opened through the same driver, turn about. `cargo xtask bench` builds the bare window first.

#[path = "../tests/window/garage.rs"]
mod garage;
#[path = "../tests/window/screen.rs"]
mod screen;
#[path = "../tests/window/window.rs"]
#[expect(dead_code, reason = "a benchmark only opens and closes what the tests drive")]
mod window;

use std::path::Path;
use std::time::{Duration, Instant};

use garage::Garage;
use serde_json::{Value, json};
use trueground_app::{Now, dispatch};
use uuid::Uuid;
use window::Ready;

const TURNS: usize = 9;

/// Cars of a garage of ten years, each with the ten snapshots of the sample coupe.
const CARS: usize = 20;

#[expect(clippy::print_stdout, reason = "the line is what a benchmark is run for")]
#[tokio::main(flavor = "multi_thread", worker_threads = 2)]
async fn main() {
    let ours = Path::new(env!("CARGO_BIN_EXE_trueground-app"));
    let bare = ours.with_file_name("examples").join("bare_window");
    assert!(bare.exists(), "{} is not built; `cargo xtask bench` builds it", bare.display());
    let (full, empty) = (Garage::empty(), Garage::empty());
    fill(&full);
    let (mut app, mut least) = (Vec::new(), Vec::new());
    for _ in 0..TURNS {
        app.push(opened(&full, ours, "[data-test=\"car-0\"]").await);
        least.push(opened(&empty, &bare, "main").await);
    }
    app.sort();
    least.sort();
    let (app, least) = (app[TURNS / 2], least[TURNS / 2]);
    println!(
        "ratio  start to usable window, {CARS} cars: {:.0} ms against a bare window {:.0} ms: {:.2} ×   (goal ≤ 1.3 ×)",
        app.as_secs_f64() * 1e3,
        least.as_secs_f64() * 1e3,
        app.as_secs_f64() / least.as_secs_f64()
    );
}

/// How long it takes until what this selector names is shown.
async fn opened(garage: &Garage, program: &Path, selector: &str) -> Duration {
    let ready = Ready::new(garage);
    let start = Instant::now();
    let window = ready.open(program).await;
    window.css(selector).await;
    let time = start.elapsed();
    window.close().await;
    time
}

fn fill(garage: &Garage) {
    let sample = Path::new(env!("CARGO_MANIFEST_DIR")).with_file_name("sample-data").join("settling-coupe.json");
    let text = std::fs::read_to_string(sample).expect("the sample is there");
    let mut file: Value = serde_json::from_str(&text).expect("it is JSON");
    let fresh_id = Uuid::now_v7;
    let now = Now { utc_ms: 1_934_000_000_000, offset_minutes: 0, fresh_id: &fresh_id };
    let folder = garage.data();
    std::fs::create_dir_all(&folder).expect("a folder can be made");
    let mut open = trueground_app::Garage::open(&folder.join("garage.db"), &now).expect("a garage can be made");
    for number in 1..=CARS {
        file["vehicle"]["label"] = json!(format!("Coupe {number}"));
        let request = json!({ "name": "coupe.json", "text": file.to_string() });
        dispatch(&mut open, "import_file", request, &now).expect("the file is read in");
    }
    open.tend(&now).expect("the garage is looked after");
}
