//! The clock and the source of fresh ids, which the app crate gets as arguments.

use chrono::{Local, Offset as _};
use trueground_app::Now;
use uuid::Uuid;

/// This moment, as the device's clock says.
pub(crate) fn now() -> Now<'static> {
    let clock = Local::now();
    Now {
        utc_ms: clock.timestamp_millis(),
        offset_minutes: clock.offset().fix().local_minus_utc() / 60,
        fresh_id: &Uuid::now_v7,
    }
}
