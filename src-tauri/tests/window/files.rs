//! Files that the person saves really arrive among the downloads, whole.

use std::fs;

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::window::Window;

/// Waits for the file among the downloads and reads it once it has grown no more.
pub(crate) async fn saved(window: &Window, garage: &Garage, ending: &str) -> String {
    let found = || {
        let files = fs::read_dir(garage.downloads()).expect("a folder").filter_map(Result::ok).map(|file| file.path());
        files.into_iter().find(|path| path.to_string_lossy().ends_with(ending))
    };
    let mut last = 0;
    window
        .until(&format!("a file ending in {ending} is saved"), async || {
            let length = found().and_then(|path| fs::metadata(path).ok()).map_or(0, |file| file.len());
            let rests = length > 0 && length == last;
            last = length;
            rests
        })
        .await;
    fs::read_to_string(found().expect("it was there")).expect("text")
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_car_and_an_empty_sheet_are_saved_as_files() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.find("add-car").await;
    window.ask("open_sample_garage", json!({})).await;
    window.reload().await;
    window.touch_css("[data-label*=\"pickup\"]").await;
    window.find("corner-FL").await;
    window.watch_policy().await;
    window.touch("open-menu").await;

    window.touch("export-car").await;
    window.find("export-text").await;
    window.touch("save-file").await;
    let car: Value = serde_json::from_str(&saved(&window, &garage, ".json").await).expect("an exchange file");
    assert_eq!(car["vehicle"]["wheelbase_mm"], json!(2665.0));
    assert_eq!(car["snapshots"].as_array().map(Vec::len), Some(2));

    window.touch("blank-sheet").await;
    let sheet = saved(&window, &garage, ".html").await;
    assert!(sheet.contains("pickup") && sheet.contains("</html>"), "an empty sheet for the pickup");
    window.kept_policy().await;
    window.close().await;
}
