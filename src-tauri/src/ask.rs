//! The one command of the window.

use std::sync::Arc;

use serde_json::Value;
use tauri::State;
use trueground_app::wire::Problem;

use crate::door::Door;

/// Passes a verb and its request on to the garage, away from the thread that paints.
#[tauri::command(async)]
pub(crate) fn ask(door: State<'_, Arc<Door>>, verb: String, request: Value) -> Result<Value, Problem> {
    door.ask(&verb, request)
}
