//! The verdict on a law: whether enough is known, and whether what is to come is little enough to be called settled.
//!
//! By its own law less than 2 mm must be left. What a law does not know of counts too: behind an exponential, springs creep on for
//! years. That end is not waited for; settled is held against the two months after the last reading, and what the year may
//! bring is told beside it.

use super::fitted::Fitted;
use super::laid_law::LaidLaw;
use super::settling::{Ahead, Other, SettleFigure, Settled, TooEarly};

/// Less than this to come counts as settled, mm.
const SETTLED_MM: f64 = 2.0;
/// Settled is said only where no more than this is to come at 95 %, one-sided, mm.
const NEVER_SETTLED_MM: f64 = 3.0;
/// One-sided 95 % of a normal distribution.
const ONE_SIDED: f64 = 1.645;
/// A rest less sure than this (k = 1) is no forecast, mm.
const SUREST_NEEDED_MM: f64 = 5.0;
/// An AICc so much above leaves no support for the other law (K. P. Burnham, D. R. Anderson, *Model Selection and Multimodel Inference*).
const CLEAR: f64 = 10.0;

/// Two months are what a builder plans by.
pub(super) const AHEAD_DAYS: f64 = 60.0;

/// What one law says, as far as a verdict needs it.
#[derive(Debug)]
pub(super) struct Judged {
    pub(super) rest: SettleFigure,
    pub(super) remaining: SettleFigure,
    pub(super) ahead: Option<Ahead>,
    /// On the clock.
    pub(super) settled_on: Option<f64>,
    pub(super) verdict: Settled,
    pub(super) lacking: Vec<TooEarly>,
}

/// The verdict of one law.
pub(super) fn judged(laid_law: &LaidLaw, other: Option<Other>) -> Judged {
    let (fitted, laid) = (&laid_law.fitted, &laid_law.fitted.laid);
    let last = fitted.last();
    let last_day = laid_law.timeline.day(last).unwrap_or(last);
    let (rest, remaining) = (laid_law.rest(), laid_law.left_after(last_day));
    let ahead = laid_law.creep.as_ref().map(|_| {
        let timeline = &laid_law.timeline;
        let until_day = timeline.day(last + timeline.usual(AHEAD_DAYS)).unwrap_or(last_day + AHEAD_DAYS);
        Ahead { until_day, to_come_mm: laid_law.down_between(last_day, until_day) }
    });
    let settled_on =
        laid.law.x_with_less_left(laid.of_law(), SETTLED_MM, laid.horizon).filter(|_| fitted.last_three_fit());
    let lacking = lacking(fitted, rest, other);
    let held_against = ahead.map_or(remaining, |ahead| ahead.to_come_mm);
    let may_be_left = held_against.value.abs() + ONE_SIDED * held_against.u;
    let verdict = match settled_on {
        _ if !lacking.is_empty() => Settled::TooEarly,
        Some(x) if x <= last && may_be_left <= NEVER_SETTLED_MM => Settled::Settled,
        _ => Settled::Settling,
    };
    Judged { rest, remaining, ahead, settled_on, verdict, lacking }
}

/// Why it is too early to say; nothing where it is not.
fn lacking(fitted: &Fitted, rest: SettleFigure, other: Option<Other>) -> Vec<TooEarly> {
    let (laid, span) = (&fitted.laid, fitted.last() - fitted.first());
    let own_time = laid.law.tau().is_some_and(|tau| span < 2.0 * laid.parameters[tau]);
    let endless =
        laid.law.is_endless() && span < laid.horizon / 4.0 && other.is_some_and(|other| other.delta_aicc < CLEAR);
    let short = (own_time || endless).then_some(TooEarly::ShortStretch);
    let unsure = (rest.u.is_nan() || rest.u > SUREST_NEEDED_MM).then_some(TooEarly::UnsureRest);
    short.into_iter().chain(unsure).collect()
}
