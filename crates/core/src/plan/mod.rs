//! How a stance is reached: what a change of the car does.

pub mod spring;
