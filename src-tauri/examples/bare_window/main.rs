//! The least window there is: the yardstick for how long Trueground takes to open.

fn main() -> tauri::Result<()> {
    tauri::Builder::default().run(tauri::generate_context!("examples/bare_window/tauri.conf.json"))
}
