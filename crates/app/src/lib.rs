//! One function for each thing a person can ask for.
//!
//! Shells (the Tauri window, the command line, later a browser worker) only translate: they call [`wire`] types in and out.

pub mod wire;
