//! The built program as a person and a script meet it.
#![expect(clippy::unwrap_used, reason = "a test stops where it stands")]

mod compare;
mod floor;
mod gearing;
mod history;
mod hostile;
mod program;
mod readme;
mod settle;
mod sheet;
mod spring;
mod stance;
mod tire;
