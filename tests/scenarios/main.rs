//! Simulated cars with known truth: error over stated uncertainty must look like a standard normal.

mod comparing;
mod demo_cars;
mod drift;
mod edge_floor;
mod instruments;
mod loads_and_flats;
mod many_cars;
mod observable;
mod other_floor;
mod planning;
mod roll_share;
mod setting_out;
mod settling;
mod settling_car;
mod settling_ways;
mod settling_work;
mod show_target;
mod simulator;
mod slip_prompts;
mod slips;
mod what_follows;
mod what_next;
