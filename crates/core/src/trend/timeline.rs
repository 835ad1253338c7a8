//! What springs settle by: days on which the car was not stored, or kilometres; and the way from one to the other.

use serde::{Deserialize, Serialize};

/// By what settling is counted.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Clock {
    /// Days since the work, without those on which the car was stored.
    #[default]
    Days,
    /// Kilometres since the work.
    Km,
}

/// A clock laid along the calendar: between two knots it goes evenly, after the last one at the pace so far.
///
/// Stored days do not count: a stored car is not driven, and is often on stands or on over-inflated tires; what creep of a standing
/// car leaves out is taken up by the law (common practice, no source).
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Timeline {
    pub(super) clock: Clock,
    /// Day and clock, both from 0 on and never falling.
    knots: Vec<(f64, f64)>,
    /// Clock a day after the last knot.
    pace: f64,
    /// Its standard uncertainty over a stretch ahead.
    pace_u: f64,
    /// The clock at which a law without an end is called final.
    pub(super) horizon: f64,
}

/// Relative standard uncertainty of the kilometres of the days to come, where few stretches tell; common practice, no source.
const PACE_REL_U: f64 = 0.3;

impl Timeline {
    /// Plain days.
    pub(super) fn days() -> Self {
        Self::without(&[])
    }

    /// Days without those between each pair, in order. A stretch that has not ended is endless.
    pub(super) fn without(stored: &[(f64, f64)]) -> Self {
        let mut knots = vec![(0.0, 0.0)];
        let mut pace = 1.0;
        for (from, to) in stored {
            let (day, clock) = knots[knots.len() - 1];
            let from = from.max(day);
            let counted = clock + from - day;
            if from > day {
                knots.push((from, counted));
            }
            if to.is_finite() && *to > from {
                knots.push((*to, counted));
            } else if !to.is_finite() {
                pace = 0.0;
            }
        }
        Self { clock: Clock::Days, knots, pace, pace_u: 0.0, horizon: super::law::HORIZON_DAY }
    }

    /// Kilometres by day, both since the work. None where the car has not moved, or an odometer went back.
    pub(super) fn km(booked: &[(f64, f64)]) -> Option<Self> {
        let mut knots = vec![(0.0, 0.0)];
        for (day, km) in booked {
            let (last_day, last_km) = knots[knots.len() - 1];
            if *km < last_km {
                return None;
            }
            if *day > last_day {
                knots.push((*day, *km));
            } else if *km > last_km {
                // Driven on the day of the last reading.
                let last = knots.len() - 1;
                knots[last].1 = *km;
            }
        }
        let (days, all) = knots[knots.len() - 1];
        if all <= 0.0 || days <= 0.0 {
            return None;
        }
        let pace = all / days;
        let stretches: Vec<(f64, f64)> = knots
            .windows(2)
            .map(|pair| {
                let days = pair[1].0 - pair[0].0;
                (days, (pair[1].1 - pair[0].1) / days)
            })
            .collect();
        // Each stretch counts with its days.
        let spread = stretches.iter().map(|(days, of)| days * (of - pace).powi(2)).sum::<f64>() / days;
        let mut timeline =
            Self { clock: Clock::Km, knots, pace, pace_u: spread.sqrt().max(PACE_REL_U * pace), horizon: 0.0 };
        timeline.horizon = timeline.at(super::law::HORIZON_DAY);
        Some(timeline)
    }

    /// The clock on a day of the calendar.
    pub(super) fn at(&self, day: f64) -> f64 {
        let after = self.knots.partition_point(|knot| knot.0 <= day);
        let Some(before) = after.checked_sub(1) else { return day };
        let (from, clock) = self.knots[before];
        match self.knots.get(after) {
            Some((to, next)) => clock + (next - clock) * (day - from) / (to - from),
            None => clock + self.pace * (day - from),
        }
    }

    /// Its standard uncertainty on a day: none up to the last knot.
    pub(super) fn u(&self, day: f64) -> f64 {
        let ahead = day - self.knots[self.knots.len() - 1].0;
        self.pace_u * ahead.max(0.0)
    }

    /// What the clock shows after so many days at its usual pace, none of them stored.
    pub(super) fn usual(&self, days: f64) -> f64 {
        match self.clock {
            Clock::Days => days,
            Clock::Km => self.pace * days,
        }
    }

    /// The first day on which the clock shows so much; none where it stands still before.
    pub(super) fn day(&self, clock: f64) -> Option<f64> {
        if clock <= 0.0 {
            return Some(0.0);
        }
        let after = self.knots.partition_point(|knot| knot.1 < clock);
        let before = after.saturating_sub(1);
        let (from, at) = self.knots[before];
        match self.knots.get(after) {
            Some((to, next)) => Some(from + (to - from) * (clock - at) / (next - at)),
            None if self.pace > 0.0 => Some(from + (clock - at) / self.pace),
            None => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stored_days_do_not_count() {
        let winter = Timeline::without(&[(20.0, 120.0)]);
        for (day, counted) in [(10.0, 10.0), (20.0, 20.0), (70.0, 20.0), (120.0, 20.0), (130.0, 30.0)] {
            assert!((winter.at(day) - counted).abs() < 1e-12, "day {day}");
        }
        assert_eq!(winter.day(30.0), Some(130.0));
        assert_eq!(winter.day(20.0), Some(20.0));
        let still = Timeline::without(&[(20.0, f64::INFINITY)]);
        assert_eq!((still.at(400.0), still.day(21.0)), (20.0, None));
        assert_eq!(Timeline::days().day(33.5), Some(33.5));
    }

    #[test]
    fn kilometres_go_evenly_between_readings_and_on_at_their_pace() {
        let driven = Timeline::km(&[(0.0, 0.0), (10.0, 100.0), (20.0, 400.0)]).expect("it moved");
        for (day, km) in [(5.0, 50.0), (15.0, 250.0), (20.0, 400.0), (30.0, 600.0)] {
            assert!((driven.at(day) - km).abs() < 1e-9, "day {day}");
        }
        assert_eq!(driven.day(600.0), Some(30.0));
        // Paces 10 and 30 about 20: ± 10 a day.
        assert!((driven.u(25.0) - 50.0).abs() < 1e-9 && driven.u(12.0) == 0.0);
        assert!(Timeline::km(&[(0.0, 0.0), (10.0, 0.0)]).is_none());
        assert!(Timeline::km(&[(5.0, 100.0), (10.0, 90.0)]).is_none());
    }
}
