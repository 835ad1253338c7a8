//! What the heights of one kind of point ask for: which law, by which clock, and whether front and rear share its rate.

use super::answer::{Laid, Model, SettleFigure, Settling, answer};
use super::fit::Points;
use super::fitted::{Fitted, TIE, aicc};
use super::laid_law::{Common, LaidLaw};
use super::law::Law;
use super::shared::{Shared, apart};
use super::timeline::{Clock, Timeline};
use crate::bench::Refusal;
use serde::Serialize;

/// Another clock counts in the doubt where its weight is more than this.
const LEAST_WEIGHT: f64 = 0.02;

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

/// Every law of every end by one clock.
struct ByClock<'t> {
    timeline: &'t Timeline,
    ends: Vec<Laid>,
    apart: f64,
    shared: Option<Shared>,
}

impl<'t> ByClock<'t> {
    /// None with too few days at an end.
    fn of(points: &[&Points], timeline: &'t Timeline, model: Model) -> Result<Option<Self>, Refusal> {
        let mut ends = Vec::new();
        for points in points {
            let Some(laid) = Laid::of(points, timeline, model)? else { return Ok(None) };
            ends.push(laid);
        }
        let best = |end: &Laid| end.fitted[0].clone();
        let (apart, shared) = match &ends[..] {
            [front, rear] => {
                let together = apart(&best(front), &best(rear));
                let of = |law: Law| {
                    let own = |end: &'_ Laid| end.fitted.iter().position(|fitted| fitted.laid.law == law);
                    Shared::of(law, &front.fitted[own(front)?], &rear.fitted[own(rear)?])
                };
                let shared = Law::SIMPLE.into_iter().filter_map(of);
                (together, shared.min_by(|a, b| a.aicc.total_cmp(&b.aicc)))
            }
            [one] => (aicc(best(one).laid.sum, best(one).heights(), best(one).parameters()), None),
            _ => (None, None),
        };
        Ok(apart.map(|apart| Self { timeline, ends, apart, shared }))
    }

    /// In the order in which they win a tie.
    fn ways(&self) -> Vec<Way<'_>> {
        let alone = Way { by: self, is_shared: false, aicc: self.apart };
        let shared = self.shared.as_ref().map(|shared| Way { by: self, is_shared: true, aicc: shared.aicc });
        [Some(alone), shared].into_iter().flatten().collect()
    }

    /// A law of an end by itself.
    fn of_law(&self, place: usize, law: Law) -> Option<&Fitted> {
        self.ends[place].fitted.iter().find(|fitted| fitted.laid.law == law)
    }

    fn rate(&self) -> Option<SharedRate> {
        let shared = self.shared.as_ref()?;
        let laid = &shared.ends[0].laid;
        let place = laid.law.linear();
        Some(SharedRate {
            model: laid.law,
            clock: self.timeline.clock,
            rate: SettleFigure { value: laid.parameters[place], u: laid.u(place) },
            delta_aicc: shared.aicc - self.apart,
        })
    }
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
    let least = ways.iter().map(|way| way.aicc).fold(f64::INFINITY, f64::min);
    let best = ways.iter().position(|way| way.aicc <= least + TIE).unwrap_or(0);
    let told = ends.iter().enumerate().map(|(place, end)| {
        let mut law = LaidLaw::new(ways[best].fitted(place), ways[best].by.timeline.clone(), end.common);
        // The same law by the other clock: which of the two counts is a doubt of its own. A shared rate has the ends' own in its doubt.
        let of_clock = |by: &ByClock<'_>| by.of_law(place, law.fitted.laid.law).cloned();
        let other = [Some(&by_days), by_km.as_ref()].into_iter().flatten().find(|by| !std::ptr::eq(*by, ways[best].by));
        if let (Some(other), Some(by)) = (of_clock(ways[best].by).zip(other.and_then(of_clock)), other) {
            let weight = 1.0 / (1.0 + libm::exp((other.1.aicc() - other.0.aicc()) / 2.0));
            if weight > LEAST_WEIGHT {
                law.beside.push((weight, LaidLaw::new(other.1, by.timeline.clone(), end.common)));
            }
        }
        let way = &ways[best];
        let settling = by_days.ends[place].answer(days, end.days, end.common);
        let chosen = (best > 0 || !law.beside.is_empty()).then(|| Chosen {
            clock: way.by.timeline.clock,
            shared_rate: way.is_shared,
            delta_aicc: way.aicc - by_days.apart,
            settling: answer(&law, end.days, way.by.ends[place].other().filter(|_| !way.is_shared)),
        });
        Told {
            settling,
            candidates: candidates(&[Some(&by_days), by_km.as_ref()], place),
            shared: way.by.rate().or_else(|| by_days.rate()),
            chosen,
            law: Some(law),
        }
    });
    Ok(told.collect())
}

/// One clock, with one rate for both ends or without.
struct Way<'w> {
    by: &'w ByClock<'w>,
    is_shared: bool,
    aicc: f64,
}

impl Way<'_> {
    fn fitted(&self, place: usize) -> Fitted {
        match &self.by.shared {
            Some(shared) if self.is_shared => shared.ends[place].clone(),
            _ => self.by.ends[place].fitted[0].clone(),
        }
    }
}

/// One end by itself over days, where the other has too few.
fn alone(end: &Heights, days: &Timeline, model: Model) -> Result<Told, Refusal> {
    let laid = Laid::of(&end.by_days, days, model)?;
    let settling =
        laid.as_ref().map_or_else(|| Settling::too_early(Clock::Days), |laid| laid.answer(days, end.days, end.common));
    let law = laid.as_ref().map(|laid| LaidLaw::new(laid.fitted[0].clone(), days.clone(), end.common));
    let candidates = laid.map(|laid| ByClock { timeline: days, ends: vec![laid], apart: 0.0, shared: None });
    Ok(Told { settling, candidates: candidates_of(candidates.as_ref()), shared: None, chosen: None, law })
}

fn candidates_of(one: Option<&ByClock<'_>>) -> Vec<Candidate> {
    candidates(&[one], 0)
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
