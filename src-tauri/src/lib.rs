//! The window of Trueground: it passes one question (`ask`) on to the app crate and decides nothing itself.
//!
//! Start-up paints first: the garage is opened beside the window, and its check and backup follow that.

mod arguments;
mod ask;
mod door;
mod moment;

use std::sync::Arc;

use tauri::Manager as _;

pub use arguments::Arguments;
use door::Door;

/// Entry point on a phone, which knows no arguments.
#[cfg(mobile)]
#[tauri::mobile_entry_point]
fn phone() {
    if let Err(error) = open_window(Arguments::default()) {
        tracing::error!("the window could not be opened: {error}");
    }
}

/// Opens the window and stays until it is closed.
///
/// # Errors
/// The window system refused: no display, or no web view.
pub fn open_window(arguments: Arguments) -> tauri::Result<()> {
    tauri::Builder::default()
        .invoke_handler(tauri::generate_handler![ask::ask])
        .setup(move |app| {
            let folder = match arguments.data {
                Some(folder) => folder,
                None => app.path().app_data_dir()?,
            };
            let door = Arc::new(Door::new(folder, arguments.sample));
            app.manage(Arc::clone(&door));
            std::thread::Builder::new().name("tend the garage".into()).spawn(move || door.tend())?;
            Ok(())
        })
        .run(tauri::generate_context!())
}
