//! The moment of a request and where fresh ids come from: both are the shell's.

use std::fmt;
use trueground_store::Stamp;
use uuid::Uuid;

/// When a request was made, and a source of ids that nobody had before (UUIDv7 in a shell).
#[derive(Clone, Copy)]
pub struct Now<'a> {
    /// Milliseconds since 1970-01-01T00:00:00Z.
    pub utc_ms: i64,
    /// Local time less UTC, minutes.
    pub offset_minutes: i32,
    /// A fresh id each time it is asked.
    pub fresh_id: &'a dyn Fn() -> Uuid,
}

impl Now<'_> {
    pub(crate) const fn stamp(&self) -> Stamp {
        Stamp { utc_ms: self.utc_ms, offset_minutes: self.offset_minutes }
    }

    pub(crate) fn id(&self) -> Uuid {
        (self.fresh_id)()
    }
}

impl fmt::Debug for Now<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.stamp().iso())
    }
}
