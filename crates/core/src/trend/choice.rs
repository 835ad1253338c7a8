//! What the heights of one kind of point ask for: which law, by which clock, and whether front and rear share its rate.

use super::answer::{Laid, answer, days_needed};
use super::by_clock::ByClock;
use super::fitted::TIE;
use super::laid_law::{Common, LaidLaw};
use super::law::Law;
use super::points::Points;
use super::settling::{Model, SettleFigure, Settling};
use super::timeline::{Clock, Timeline};
use crate::bench::Refusal;
use serde::Serialize;

/// One law by one clock, laid through a line by itself.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Candidate {
    /// The law.
    pub model: Law,
    /// By what it counts.
    pub clock: Clock,
    /// Its AICc less that of the best.
    pub delta_aicc: f64,
}

/// One rate for front and rear.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct SharedRate {
    /// The law.
    pub model: Law,
    /// By what it counts.
    pub clock: Clock,
    /// tau of the exponential, x0 of the logarithm, in days or kilometres.
    pub rate: SettleFigure,
    /// AICc of both ends with one rate, less that of each by itself by the same clock; below −2 the heights ask for one.
    pub delta_aicc: f64,
}

/// The answer that the heights ask for, where it is another than each end by itself over days.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Chosen {
    /// By what it counts.
    pub clock: Clock,
    /// Whether front and rear share the rate.
    pub shared_rate: bool,
    /// AICc of both ends less that of each by itself over days.
    pub delta_aicc: f64,
    /// What it says.
    #[serde(flatten)]
    pub settling: Settling,
}

/// One end's heights, by each clock that was booked on all of them.
#[derive(Debug, Clone)]
pub(super) struct Heights {
    pub(super) by_days: Points,
    pub(super) by_km: Option<Points>,
    /// First and last day.
    pub(super) days: (f64, f64),
    pub(super) common: Common,
}

/// What one end says.
#[derive(Debug)]
pub(super) struct Told {
    pub(super) settling: Settling,
    pub(super) candidates: Vec<Candidate>,
    pub(super) shared: Option<SharedRate>,
    pub(super) chosen: Option<Chosen>,
    /// Of the answer that counts.
    pub(super) law: Option<LaidLaw>,
}

/// Answers for the ends of one kind of point. `ends` are front and rear, or one of them.
///
/// # Errors
/// Heights that no law can be laid through.
pub(super) fn told(
    ends: &[Heights],
    days: &Timeline,
    km: Option<&Timeline>,
    model: Model,
) -> Result<Vec<Told>, Refusal> {
    let by_days = ByClock::of(&ends.iter().map(|end| &end.by_days).collect::<Vec<_>>(), days, model)?;
    let Some(by_days) = by_days else { return ends.iter().map(|end| alone(end, days, model)).collect() };
    let of_km: Option<Vec<&Points>> = ends.iter().map(|end| end.by_km.as_ref()).collect();
    let by_km = match (km, of_km) {
        // Heights that no law by kilometres can be laid through are no fault of the file.
        (Some(km), Some(points)) => ByClock::of(&points, km, model).unwrap_or_default(),
        _ => None,
    };
    let mut ways = by_days.ways();
    ways.extend(by_km.iter().flat_map(ByClock::ways));
    let clocks: Vec<Timeline> =
        [Some(days), by_km.as_ref().map(|by| by.timeline)].into_iter().flatten().cloned().collect();
    let common: Vec<Common> = ends.iter().map(|end| end.common).collect();
    let known: Vec<f64> = ways.iter().map(|way| way.as_springs_go(&common, &clocks)).collect();
    let least = known.iter().copied().fold(f64::INFINITY, f64::min);
    let best = known.iter().position(|known| *known <= least + TIE).unwrap_or(0);
    let way = &ways[best];
    let other_clock = [Some(&by_days), by_km.as_ref()].into_iter().flatten().find(|by| !std::ptr::eq(*by, way.by));
    let told = ends.iter().enumerate().map(|(place, end)| {
        let itself = by_days.law(place, &by_days.ends[place].fitted[0], end.common, &clocks, None);
        let law = way.by.law(place, way.fitted(place), end.common, &clocks, other_clock);
        // The other clock counts in the doubt: an answer of its own.
        let is_another = best > 0 || law.beside.iter().any(|(_, other)| other.timeline.clock != way.by.timeline.clock);
        let chosen = is_another.then(|| Chosen {
            clock: way.by.timeline.clock,
            shared_rate: way.shared.is_some(),
            delta_aicc: way.aicc - by_days.apart,
            settling: answer(&law, end.days, way.by.ends[place].other().filter(|_| way.shared.is_none())),
        });
        Told {
            settling: answer(&itself, end.days, by_days.ends[place].other()),
            candidates: candidates(&[Some(&by_days), by_km.as_ref()], place),
            shared: way.rate().or_else(|| way.by.rate()).or_else(|| by_days.rate()),
            chosen,
            law: Some(law),
        }
    });
    Ok(told.collect())
}

/// One end by itself over days, where the other has too few.
fn alone(end: &Heights, days: &Timeline, model: Model) -> Result<Told, Refusal> {
    let Some(laid) = Laid::of(&end.by_days, days, model)? else {
        let settling = Settling::too_few(Clock::Days, days_needed(model, end.by_days.steps.len()));
        return Ok(Told { settling, candidates: Vec::new(), shared: None, chosen: None, law: None });
    };
    let by = ByClock::of_one(laid, days);
    let law = by.law(0, &by.ends[0].fitted[0], end.common, std::slice::from_ref(days), None);
    let settling = answer(&law, end.days, by.ends[0].other());
    Ok(Told { settling, candidates: candidates(&[Some(&by)], 0), shared: None, chosen: None, law: Some(law) })
}

/// Every law by every clock, the best first.
fn candidates(clocks: &[Option<&ByClock<'_>>], place: usize) -> Vec<Candidate> {
    let of_clock = |by: &&ByClock<'_>| {
        let clock = by.timeline.clock;
        let fitted = by.ends[place].fitted.iter();
        fitted.map(|fitted| (fitted.laid.law, clock, fitted.aicc())).collect::<Vec<_>>()
    };
    let mut all: Vec<(Law, Clock, f64)> = clocks.iter().flatten().flat_map(of_clock).collect();
    all.sort_by(|a, b| a.2.total_cmp(&b.2));
    let best = all.first().map_or(0.0, |first| first.2);
    all.into_iter().map(|(model, clock, aicc)| Candidate { model, clock, delta_aicc: aicc - best }).collect()
}
