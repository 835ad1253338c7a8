//! The built program as a person and a script meet it.
#![expect(clippy::unwrap_used, reason = "a test stops where it stands")]

mod bumpsteer;
mod check;
mod compare;
mod fit;
mod floor;
mod gearing;
mod history;
mod hostile;
mod plan;
mod program;
mod ramp;
mod readme;
mod settle;
mod sheet;
mod spring;
mod stance;
mod target;
mod tire;
