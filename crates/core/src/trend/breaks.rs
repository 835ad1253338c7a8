//! Work on the car since the settling began: what moved it at once, what may have, and the days on which it was stored.

use super::dated::date;
use super::of_car::End;
use crate::bench::Refusal;
use crate::capture::{CarFile, EventEffect, EventEnd, EventKind};
use chrono::NaiveDate;
use serde::Serialize;

/// What work on the car does to the curve.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum BreakKind {
    /// Heights moved at once: a step is estimated.
    Step,
    /// They may have: a step is estimated where the heights ask for it.
    MayStep,
    /// The car was stored from that day on: days do not count until it is back.
    Stored,
    /// It is back.
    Back,
}

/// Work that breaks the curve without beginning it anew.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Break {
    /// Its day, `YYYY-MM-DD`.
    pub date: String,
    /// Days since the settling began.
    pub day: f64,
    /// In the person's words.
    pub what: String,
    /// What it does.
    pub kind: BreakKind,
    #[serde(skip)]
    end: Option<EventEnd>,
}

impl Break {
    /// True where that end was worked on, or nobody said which.
    pub(super) fn is_at(&self, end: End) -> bool {
        match self.end {
            None | Some(EventEnd::Both) => true,
            Some(EventEnd::Front) => end == End::Front,
            Some(EventEnd::Rear) => end == End::Rear,
        }
    }
}

/// Breaks from day 0 on, in order.
///
/// # Errors
/// A day that is no date.
pub(super) fn breaks(file: &CarFile, day_0: NaiveDate) -> Result<Vec<Break>, Refusal> {
    let mut breaks = Vec::new();
    for (i, event) in file.events.iter().enumerate() {
        let on = date(&event.date, &format!("events[{i}].date"))?;
        let day = (on - day_0).num_days() as f64;
        let kind = match (event.known_kind(), event.effect()) {
            (Some(EventKind::StoredForWinter), _) => BreakKind::Stored,
            (Some(EventKind::BackOnTheRoad), _) => BreakKind::Back,
            (_, EventEffect::Moves) => BreakKind::Step,
            (_, EventEffect::MayMove) => BreakKind::MayStep,
            (_, EventEffect::SettlesAnew | EventEffect::Nothing) => continue,
        };
        breaks.push(Break { date: on.to_string(), day, what: event.what.clone(), kind, end: event.end });
    }
    breaks.sort_by(|a, b| a.day.total_cmp(&b.day));
    let since = breaks.split_off(breaks.partition_point(|work| work.day < 0.0));
    // A car that was worked on while it was stored is stored from day 0 on.
    let of_storage = |work: &Break| matches!(work.kind, BreakKind::Stored | BreakKind::Back);
    let still = breaks.into_iter().rfind(of_storage).filter(|work| work.kind == BreakKind::Stored);
    Ok(still.map(|work| Break { day: 0.0, ..work }).into_iter().chain(since).collect())
}

/// Stretches of days on which the car was stored; the last one may not have ended.
pub(super) fn stored(breaks: &[Break]) -> Vec<(f64, f64)> {
    let mut stretches: Vec<(f64, f64)> = Vec::new();
    let mut since = None;
    for event in breaks {
        match event.kind {
            BreakKind::Stored => since = since.or(Some(event.day)),
            BreakKind::Back => stretches.extend(since.take().map(|from| (from, event.day))),
            BreakKind::Step | BreakKind::MayStep => {}
        }
    }
    stretches.extend(since.map(|from| (from, f64::INFINITY)));
    stretches
}
