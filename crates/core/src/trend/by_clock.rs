//! Every law of every end by one clock, and the ways in which they can be told: each end by itself, or both with one rate.

use super::answer::Laid;
use super::choice::SharedRate;
use super::fitted::{Fitted, aicc};
use super::laid_law::{Common, LaidLaw};
use super::law::Law;
use super::points::Points;
use super::settling::{Model, SettleFigure};
use super::shared::{Shared, apart};
use super::timeline::Timeline;
use crate::bench::Refusal;

/// Another law or clock counts in the doubt where its weight is more than this.
const LEAST_WEIGHT: f64 = 0.02;

/// Every law of every end by one clock.
pub(super) struct ByClock<'t> {
    pub(super) timeline: &'t Timeline,
    pub(super) ends: Vec<Laid>,
    /// AICc of the ends, each by itself.
    pub(super) apart: f64,
    /// One rate for both ends, by each simple law that was laid through both.
    shared: Vec<Shared>,
}

impl<'t> ByClock<'t> {
    /// One end alone, where nothing is known of another.
    pub(super) fn of_one(laid: Laid, timeline: &'t Timeline) -> Self {
        Self { timeline, ends: vec![laid], apart: 0.0, shared: Vec::new() }
    }

    /// None with too few days at an end.
    pub(super) fn of(points: &[&Points], timeline: &'t Timeline, model: Model) -> Result<Option<Self>, Refusal> {
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
                (together, Law::SIMPLE.into_iter().filter_map(of).collect())
            }
            [one] => (aicc(best(one).laid.sum, best(one).heights(), best(one).parameters()), Vec::new()),
            _ => (None, Vec::new()),
        };
        Ok(apart.map(|apart| Self { timeline, ends, apart, shared }))
    }

    /// In the order in which they win a tie.
    pub(super) fn ways(&self) -> Vec<Way<'_>> {
        let alone = Way { by: self, shared: None, aicc: self.apart };
        let shared = self.shared.iter().map(|shared| Way { by: self, shared: Some(shared), aicc: shared.aicc });
        [alone].into_iter().chain(shared).collect()
    }

    /// A law of an end with all that makes it unsure: creep behind it, the other simple law, and the same law by the other clock.
    pub(super) fn law(
        &self,
        place: usize,
        fitted: &Fitted,
        common: Common,
        clocks: &[Timeline],
        other_clock: Option<&ByClock<'_>>,
    ) -> LaidLaw {
        let law = fitted.laid.law;
        let of = |by: &ByClock<'_>, fitted: &Fitted| {
            LaidLaw::new(fitted.clone(), by.timeline.clone(), common).with_creep(clocks)
        };
        let mut laid = of(self, fitted);
        // A shared rate has the ends' own in its doubt: what counts here is each law of this end by itself.
        let Some(own) = self.of_law(place, law).map(|own| of(self, own).as_springs_go()) else { return laid };
        let of_other_law = self.ends[place].fitted.iter().filter(|other| other.laid.law != law);
        let of_other_law = of_other_law.filter(|_| law != Law::Both).map(|other| of(self, other));
        let of_other_clock = other_clock.and_then(|by| Some(of(by, by.of_law(place, law)?)));
        let others: Vec<(f64, LaidLaw)> = of_other_law
            .chain(of_other_clock)
            .map(|other| (libm::exp((own - other.as_springs_go()) / 2.0), other))
            .collect();
        let all = 1.0 + others.iter().map(|(weight, _)| weight).sum::<f64>();
        let weighed = others.into_iter().map(|(weight, other)| (weight / all, other));
        laid.beside = weighed.filter(|(weight, _)| *weight > LEAST_WEIGHT).collect();
        laid
    }

    /// A law of an end by itself.
    fn of_law(&self, place: usize, law: Law) -> Option<&Fitted> {
        self.ends[place].fitted.iter().find(|fitted| fitted.laid.law == law)
    }

    /// The rate that fits both ends best.
    pub(super) fn rate(&self) -> Option<SharedRate> {
        let best = self.shared.iter().min_by(|a, b| a.aicc.total_cmp(&b.aicc))?;
        Some(self.rate_of(best))
    }

    fn rate_of(&self, shared: &Shared) -> SharedRate {
        let laid = &shared.ends[0].laid;
        let place = laid.law.linear();
        SharedRate {
            model: laid.law,
            clock: self.timeline.clock,
            rate: SettleFigure { value: laid.parameters[place], u: laid.u(place) },
            delta_aicc: shared.aicc - self.apart,
        }
    }
}

/// One clock, with one rate for both ends or without.
pub(super) struct Way<'w> {
    pub(super) by: &'w ByClock<'w>,
    pub(super) shared: Option<&'w Shared>,
    pub(super) aicc: f64,
}

impl Way<'_> {
    pub(super) fn fitted(&self, place: usize) -> &Fitted {
        self.shared.map_or(&self.by.ends[place].fitted[0], |shared| &shared.ends[place])
    }

    /// The rate that it shares.
    pub(super) fn rate(&self) -> Option<SharedRate> {
        self.shared.map(|shared| self.by.rate_of(shared))
    }

    /// AICc as springs are known to go: of all ends with their creep, or with what their law would have them do in a year.
    pub(super) fn as_springs_go(&self, common: &[Common], clocks: &[Timeline]) -> f64 {
        let of_end = |(place, common): (usize, &Common)| {
            let fitted = self.fitted(place);
            let laid = LaidLaw::new(fitted.clone(), self.by.timeline.clone(), *common).with_creep(clocks);
            laid.as_springs_go() - fitted.aicc()
        };
        self.aicc + common.iter().enumerate().map(of_end).sum::<f64>()
    }
}
