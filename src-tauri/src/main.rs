//! Trueground in a window: `trueground-app [--data FOLDER] [--sample]`.
#![cfg_attr(not(debug_assertions), windows_subsystem = "windows")]

use std::process::ExitCode;

use trueground_shell::{Arguments, open_window};

fn main() -> ExitCode {
    let arguments = match Arguments::read(std::env::args_os().skip(1), std::env::var_os("TRUEGROUND_DATA")) {
        Ok(arguments) => arguments,
        Err(words) => {
            eprintln!("{words}");
            return ExitCode::from(2);
        }
    };
    match open_window(arguments) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("The window could not be opened: {error}.");
            ExitCode::FAILURE
        }
    }
}
