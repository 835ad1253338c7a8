//! The real app, driven through its window the way a thumb would.
//!
//! Each test has its own screen, its own folder and its own garage, so they run side by side. Pictures of every screen are left
//! in `target/screens`.

mod ask;
mod car_form;
mod conditions;
mod correcting;
mod files;
mod floors;
mod forms;
mod garage;
mod keypad;
mod no_floor;
mod nonsense;
mod pictures;
mod policy;
mod screen;
mod second_window;
mod sloping_drive;
mod sudden_death;
mod walk;
mod window;
