//! One function for each thing a person can ask for.
//!
//! Shells (the Tauri window, the command line, later a browser worker) only translate: they open a [`Garage`], and hand each
//! request to [`dispatch`], or call the function of a verb with its [`wire`] types. Time and ids come in with [`Now`].

mod again;
mod begin_form;
mod book_page;
mod car_form;
mod car_loads;
mod car_log;
mod car_marks;
mod car_page;
mod car_sketch;
mod car_springs;
mod compare_page;
mod condition;
pub mod corrections;
mod dispatch;
mod event;
mod fields;
mod floor_page;
mod garage;
mod garage_row;
mod half_typed;
mod headline;
mod history;
mod instrument_form;
mod instrument_page;
mod load;
mod mechanism;
mod mechanism_page;
mod missing;
mod moment;
mod next_words;
mod now;
mod photo_page;
mod plan;
mod plan_form;
mod plan_page;
mod problems;
mod quantity;
mod result_page;
mod set_out_page;
mod settled;
mod settling_page;
pub mod sheet;
mod sheet_page;
mod side;
mod slip;
mod snapshot_row;
mod solved;
mod step;
mod steps;
mod target_form;
mod target_page;
mod target_sketch;
mod twist_gauge;
pub mod verb;
mod verdicts;
mod walk_page;
mod why_page;
pub mod wire;
mod words;

pub use dispatch::dispatch;
pub use garage::{Garage, Tended};
pub use now::Now;
