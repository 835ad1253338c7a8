//! Where readings are kept: one SQLite database, one transaction a reading, nothing ever changed or deleted.
//!
//! A reading counts as taken when [`Store::take`] has returned: by then it has been committed and flushed to the disk. What
//! was taken back or struck stays in the book beside a row that says so. Finished snapshots are frozen by the database itself.
//!
//! Times and ids are arguments; order comes from row ids, never from the clock.

mod backup;
mod car;
mod car_event;
mod checksum;
mod correction;
mod derived;
#[cfg(not(target_arch = "wasm32"))]
mod disk;
mod draft;
mod entry;
mod error;
mod exchange;
mod floor;
mod form_draft;
mod ground;
mod instrument;
mod migration;
mod open;
mod photo;
mod plan;
mod readable;
mod reading;
mod recover;
mod setting;
mod snapshot;
mod stamp;
mod target;

pub use backup::Tending;
pub use car::{CarHead, CarRecord};
pub use car_event::EventRecord;
pub use derived::Derived;
pub use draft::Draft;
pub use error::StoreError;
pub use exchange::{Imported, Loaded, car_id, named_id, written_value};
pub use floor::FloorRecord;
pub use ground::{GroundRecord, StationRecord};
pub use instrument::InstrumentRecord;
pub use migration::{latest_version, migrations_hash};
pub use open::{Opened, Store};
pub use photo::{PhotoRecord, Photos};
pub use reading::{Event, Mark, Marked, NewReading, Parent, Reading, ReadingKind, Standing, Taken, events};
pub use snapshot::SnapshotRecord;
pub use stamp::Stamp;

/// Everything here ends in this.
pub type Result<T> = std::result::Result<T, StoreError>;
