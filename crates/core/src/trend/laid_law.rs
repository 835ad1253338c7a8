//! A law with its clock and with all that makes it unsure: what the heights share, the clock of the days to come, and other answers.

use super::creep::{Creep, Number, OfCreep, unlikely, year};
use super::fitted::Fitted;
use super::law::{HORIZON_DAY, Law};
use super::settling::SettleFigure;
use super::timeline::Timeline;

/// A law laid through one end's heights: a height for any day of the calendar.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidLaw {
    pub(super) fitted: Fitted,
    pub(super) timeline: Timeline,
    pub(super) common: Common,
    /// What springs may do behind an exponential; none for a bare series, whose laws are taken at their word.
    pub(super) creep: Option<Creep>,
    /// Other answers from the same heights, with the weight that their AICc gives them.
    pub(super) beside: Vec<(f64, LaidLaw)>,
}

/// The error that all heights of a line share: the tape's zero, a floor's levelling. More readings do not make it smaller.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub(super) struct Common {
    /// Its standard uncertainty, mm.
    pub(super) u_mm: f64,
    /// The part of a height's variance that is its own, 0 to 1.
    own: f64,
}

impl Common {
    /// From its variance and the mean variance of the heights, mm².
    pub(super) fn of(common: f64, all: f64) -> Self {
        let common = common.clamp(0.0, all);
        Self { u_mm: common.sqrt(), own: if all > 0.0 { 1.0 - common / all } else { 1.0 } }
    }

    /// The uncertainty of a height of the law: the fit takes every height's error for its own, which is too much of it for few
    /// readings and too little for many. The larger of both accounts stands.
    fn with(self, u: f64) -> f64 {
        u.max((self.own * u * u + self.u_mm * self.u_mm).sqrt())
    }
}

impl LaidLaw {
    /// By itself.
    pub(super) fn new(fitted: Fitted, timeline: Timeline, common: Common) -> Self {
        Self { fitted, timeline, common, creep: None, beside: Vec::new() }
    }

    /// With the creep that springs may have behind it, by each of the clocks.
    pub(super) fn with_creep(self, clocks: &[Timeline]) -> Self {
        Self { creep: Creep::behind(&self.fitted, clocks), ..self }
    }

    /// AICc of its heights as springs are known: with its creep, or with what it would have them do in a year.
    pub(super) fn as_springs_go(&self) -> f64 {
        let laid = &self.fitted.laid;
        let year = year().map(|day| laid.law.value(laid.of_law(), self.timeline.usual(day)));
        let known = self.creep.as_ref().map_or_else(|| unlikely(year[0] - year[1]), |creep| -creep.asked_for);
        self.fitted.aicc() + known
    }

    /// The same laws with one height more; none where a clock stands still.
    pub(super) fn with_a_reading(&self, day: f64) -> Option<Self> {
        let height = self.on_day(day).value;
        let fitted = self.fitted.with_a_reading(self.timeline.at(day), day, height)?;
        let creep = self.creep.as_ref().and_then(|creep| creep.again(&fitted));
        let fits_less = fitted.laid.sum - self.fitted.laid.sum;
        let mut beside = Vec::new();
        let own = 1.0 - self.beside.iter().map(|(weight, _)| weight).sum::<f64>();
        for (weight, other) in &self.beside {
            let Some(then) = other.fitted.with_a_reading(other.timeline.at(day), day, height) else {
                beside.push((*weight, other.clone()));
                continue;
            };
            let less = then.laid.sum - other.fitted.laid.sum - fits_less;
            let creep = other.creep.as_ref().and_then(|creep| creep.again(&then));
            beside.push((weight * libm::exp(-less / 2.0), Self { fitted: then, creep, ..other.clone() }));
        }
        let all = own + beside.iter().map(|(weight, _)| weight).sum::<f64>();
        beside.iter_mut().for_each(|(weight, _)| *weight /= all);
        Some(Self { fitted, creep, timeline: self.timeline.clone(), common: self.common, beside })
    }

    /// The law's height so many days after day 0, mm; its doubt has no noise of a reading.
    pub fn on_day(&self, day: f64) -> SettleFigure {
        self.with_others(&|law| {
            let x = law.timeline.at(day);
            let height = |law: Law, parameters: &[f64]| law.slopes_at(parameters, x);
            let (value, u) = law.sum_of(&height, &|creep| creep(day));
            (value, law.common.with(law.with_clock(u, x, day)))
        })
    }

    /// Height at rest, mm; with creep, or of a law without an end, that of the last day that counts.
    pub(super) fn rest(&self) -> SettleFigure {
        self.with_others(&|law| {
            let laid = &law.fitted.laid;
            let rest = |of: Law, parameters: &[f64]| of.at_rest(parameters, laid.horizon);
            let (value, u) = law.sum_of(&rest, &|creep| creep(law.last_day_that_counts()));
            let u = if laid.law.is_endless() { law.with_clock(u, laid.horizon, HORIZON_DAY) } else { u };
            (value, law.common.with(u))
        })
    }

    /// What is still to come after a day, mm. What all heights share cancels.
    pub(super) fn left_after(&self, day: f64) -> SettleFigure {
        self.with_others(&|law| {
            let (x, horizon) = (law.timeline.at(day), law.fitted.laid.horizon);
            let left = |law: Law, parameters: &[f64]| {
                let (now, rest) = (law.slopes_at(parameters, x), law.at_rest(parameters, horizon));
                std::array::from_fn(|i| now[i] - rest[i])
            };
            law.sum_of(&left, &|creep| creep(day) - creep(law.last_day_that_counts()))
        })
    }

    /// How much it comes down from one day to another, mm.
    pub(super) fn down_between(&self, from: f64, to: f64) -> SettleFigure {
        self.with_others(&|law| {
            let [now, then] = [from, to].map(|day| law.timeline.at(day));
            let down = |law: Law, parameters: &[f64]| {
                let (at_first, at_last) = (law.slopes_at(parameters, now), law.slopes_at(parameters, then));
                std::array::from_fn(|i| at_first[i] - at_last[i])
            };
            law.sum_of(&down, &|creep| creep(from) - creep(to))
        })
    }

    /// The day of the calendar on which the law's own clock shows its horizon.
    fn last_day_that_counts(&self) -> f64 {
        self.timeline.day(self.fitted.laid.horizon).unwrap_or(HORIZON_DAY)
    }

    /// A number of this law alone, with its creep.
    fn sum_of(&self, number: &Number<'_>, creep: &OfCreep<'_>) -> (f64, f64) {
        let laid = &self.fitted.laid;
        match &self.creep {
            Some(behind) => behind.sum_of(laid, number, creep),
            None => laid.sum_of(number),
        }
    }

    /// How much the height rose at each step, in order, mm.
    pub(super) fn steps(&self) -> Vec<SettleFigure> {
        let laid = &self.fitted.laid;
        let places = laid.law.parameters()..laid.parameters.len();
        places.map(|place| SettleFigure { value: laid.parameters[place], u: laid.u(place) }).collect()
    }

    /// Ahead, the doubt of the clock counts with the slope there.
    fn with_clock(&self, u: f64, x: f64, day: f64) -> f64 {
        let by_clock = self.timeline.u(day);
        if by_clock > 0.0 { u.hypot(self.fitted.laid.slope(x) * by_clock) } else { u }
    }

    /// A number of this law; what others say of it makes it less sure.
    ///
    /// # Source
    /// K. P. Burnham, D. R. Anderson, *Model Selection and Multimodel Inference*, 4.3 (unconditional variance), from memory.
    fn with_others(&self, number: &dyn Fn(&Self) -> (f64, f64)) -> SettleFigure {
        let (value, u) = number(self);
        let mut left = 1.0;
        let mut variance = 0.0;
        for (weight, other) in &self.beside {
            let (theirs, u) = number(other);
            left -= weight;
            variance += weight * (u * u + (theirs - value).powi(2));
        }
        SettleFigure { value, u: (variance + left * u * u).sqrt() }
    }
}
