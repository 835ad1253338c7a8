//! A reading that was acknowledged is never lost: sudden death, a full disk, a damaged file, a newer file, two processes.

#![expect(clippy::unwrap_used, reason = "a test may panic")]

mod child;
mod correcting;
mod damaged_file;
mod full_disk;
mod model;
mod picture;
mod sudden_death;
mod synced_before_said;
mod thousand_kills;
mod wrong_file;
