//! A law with its clock and with all that makes it unsure: what the heights share, the clock of the days to come, and other answers.

use super::answer::SettleFigure;
use super::fitted::Fitted;
use super::timeline::Timeline;

/// A law laid through one end's heights: a height for any day of the calendar.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidLaw {
    pub(super) fitted: Fitted,
    pub(super) timeline: Timeline,
    pub(super) common: Common,
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
        Self { fitted, timeline, common, beside: Vec::new() }
    }

    /// The law's height so many days after day 0, mm; its doubt has no noise of a reading.
    pub fn on_day(&self, day: f64) -> SettleFigure {
        self.with_others(&|law| {
            let x = law.timeline.at(day);
            let (value, u) = law.fitted.laid.at(x);
            (value, law.common.with(law.with_clock(u, x, day)))
        })
    }

    /// Height at rest, mm.
    pub(super) fn rest(&self) -> SettleFigure {
        self.with_others(&|law| {
            let laid = &law.fitted.laid;
            let (value, u) = laid.rest();
            let u = if laid.law.is_endless() { law.with_clock(u, laid.horizon, super::law::HORIZON_DAY) } else { u };
            (value, law.common.with(u))
        })
    }

    /// What is still to come after a day, mm. What all heights share cancels.
    pub(super) fn left_after(&self, day: f64) -> SettleFigure {
        self.with_others(&|law| law.fitted.laid.left_after(law.timeline.at(day)))
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
