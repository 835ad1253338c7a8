//! What a person does, asked as a shell asks: the whole first use, mistakes, and a restart between any two steps.

#![expect(clippy::unwrap_used, reason = "a test may panic")]

mod bench_sums;
mod car_form;
mod car_gauge;
mod changing;
mod checking;
mod comparing;
mod conditions;
mod correcting;
mod exchange_file;
mod first_use;
mod fitment;
mod floor_sums;
mod floors;
mod grounds;
mod half_typed;
mod history;
mod instruments;
mod kinds_of_change;
mod levelling;
mod mechanisms;
mod mistakes;
mod order;
mod phone;
mod photos;
mod planned_stances;
mod planning;
mod samples;
mod set_aside;
mod settling;
mod sheets;
mod slips;
mod tapes;
mod targets;
mod two_tapes;
mod walking;
