//! Setting out: what to do to this floor so that a car stands on it as on level ground.

mod plates;
mod readings;

pub use plates::*;
pub use readings::*;
