//! Numbers of the stance: pure functions from what was observed to what is known.
//!
//! Every result depends only on the arguments: no file, clock, database, locale, thread or random seed is known here.
//! Lengths are millimetres, angles degrees, at every boundary and in every field name; uncertainties are standard
//! uncertainties (k = 1).

pub mod bench;
pub mod capture;
pub mod car;
pub mod checks;
pub mod compare;
pub mod corner;
pub mod curve_fit;
pub mod floor_block;
pub mod ground;
pub mod least_squares;
pub mod level;
pub mod misread;
pub mod network;
pub mod picture;
pub mod plan;
pub mod plane;
pub mod roll_share;
pub mod setout;
pub mod stance;
pub mod target;
pub mod tire;
pub mod trend;
pub mod uncertainty;
pub mod units;
pub mod validate;
pub mod wording;
