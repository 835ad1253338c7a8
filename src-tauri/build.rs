//! Declares the window's own commands, so that each needs a permission of its own like any other.

use tauri_build::{AppManifest, Attributes, try_build};

fn main() {
    let commands = AppManifest::new().commands(&["ask"]);
    if let Err(error) = try_build(Attributes::new().app_manifest(commands)) {
        panic!("the window cannot be built: {error:#}");
    }
}
