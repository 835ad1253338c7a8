//! What follows from a stance: bench sums that need no car file.

pub mod bumpsteer;
pub mod gearing;
pub mod ramp;
