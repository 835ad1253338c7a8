//! What follows from a stance: bench sums that need no car file.

pub mod gearing;
