//! The real app, driven through its window the way a thumb would.
//!
//! Each test has its own screen, its own folder and its own garage, so they run side by side. Pictures of every screen are left
//! in `target/screens`.

mod ask;
mod bench_sums;
mod car_form;
mod checking;
mod comparing;
mod conditions;
mod correcting;
mod differing;
mod facings;
mod files;
mod fitment;
mod floors;
mod focus;
mod forms;
mod garage;
mod grounds;
mod history;
mod keyboard;
mod keypad;
mod kills;
mod kills_forms;
mod kills_walk;
mod leaving;
mod left_hand;
mod looked_at;
mod mechanisms;
mod missing_corner;
mod no_floor;
mod nonsense;
mod order;
mod pads;
mod photos;
mod pictures;
mod planning;
mod policy;
mod screen;
mod second_window;
mod settling;
mod sheets;
mod sloping_drive;
mod striking;
mod sudden_death;
mod tapes;
mod targets;
mod undoing;
mod walk;
mod window;
