//! Where a day lies on the line of time: by days, or by the kilometres driven until then.

use crate::wire::SettlingClock;
use trueground_core::trend::SnapshotHeight;

/// Days since the work, or kilometres since: between two readings the car is driven evenly, after the last one at the pace so far.
#[derive(Debug)]
pub(super) struct Axis {
    pub(super) clock: SettlingClock,
    /// Day and kilometres, both from 0 on and rising; by days there are none.
    knots: Vec<(f64, f64)>,
}

impl Axis {
    /// By days, or by kilometres where they were booked, given each day with its kilometres; by days where they were not.
    pub(super) fn new(clock: SettlingClock, booked: &[(f64, Option<f64>)]) -> Self {
        let knots = driven(booked).filter(|_| clock == SettlingClock::Kilometres);
        match knots {
            Some(knots) => Self { clock, knots },
            None => Self { clock: SettlingClock::Days, knots: Vec::new() },
        }
    }

    /// What it can be.
    pub(super) fn clocks(booked: &[(f64, Option<f64>)]) -> Vec<SettlingClock> {
        let km = driven(booked).map(|_| SettlingClock::Kilometres);
        [SettlingClock::Days].into_iter().chain(km).collect()
    }

    /// "days", "km"
    pub(super) const fn words(&self) -> &'static str {
        match self.clock {
            SettlingClock::Days => "days",
            SettlingClock::Kilometres => "km",
        }
    }

    /// Where a height lies; none where its kilometres were not booked.
    pub(super) fn of(&self, height: &SnapshotHeight) -> Option<f64> {
        match self.clock {
            SettlingClock::Days => Some(height.day),
            SettlingClock::Kilometres => height.km.filter(|km| *km >= 0.0),
        }
    }

    /// Where a day lies.
    pub(super) fn at(&self, day: f64) -> f64 {
        let after = self.knots.partition_point(|knot| knot.0 <= day);
        let Some(before) = after.checked_sub(1) else { return day };
        let (from, km) = self.knots[before];
        match self.knots.get(after) {
            Some((to, next)) => km + (next - km) * (day - from) / (to - from),
            None => {
                let (days, all) = self.knots[self.knots.len() - 1];
                km + all / days * (day - from)
            }
        }
    }

    /// The end of the picture, rounded up to a week or to a round number of kilometres.
    pub(super) fn round_up(&self, day: f64) -> f64 {
        match self.clock {
            SettlingClock::Days => (day / 7.0).ceil() * 7.0,
            SettlingClock::Kilometres => {
                let km = self.at(day);
                let step = if km > 10_000.0 { 1_000.0 } else { 100.0 };
                (km / step).ceil() * step
            }
        }
    }
}

/// Day and kilometres of every reading that has them, from the work on; none where the car was hardly driven or a clock went back.
fn driven(booked: &[(f64, Option<f64>)]) -> Option<Vec<(f64, f64)>> {
    let mut knots = vec![(0.0, 0.0)];
    for (day, km) in booked.iter().filter_map(|(day, km)| Some((*day, (*km)?))) {
        let (last_day, last_km) = knots[knots.len() - 1];
        if km < last_km {
            return None;
        }
        if day > last_day {
            knots.push((day, km));
        }
    }
    let (days, km) = knots[knots.len() - 1];
    (days > 0.0 && km >= 1.0).then_some(knots)
}

#[cfg(test)]
mod tests {
    use super::*;

    const BOOKED: [(f64, Option<f64>); 4] = [(0.0, Some(0.0)), (10.0, Some(100.0)), (15.0, None), (20.0, Some(400.0))];

    #[test]
    fn kilometres_go_evenly_between_readings_and_on_at_the_pace_so_far() {
        let axis = Axis::new(SettlingClock::Kilometres, &BOOKED);
        for (day, km) in [(5.0, 50.0), (10.0, 100.0), (15.0, 250.0), (20.0, 400.0), (30.0, 600.0)] {
            assert!((axis.at(day) - km).abs() < 1e-9, "day {day}");
        }
        assert_eq!((axis.words(), axis.round_up(21.0)), ("km", 500.0));
    }

    #[test]
    fn it_is_by_days_where_kilometres_were_not_booked_or_the_clock_went_back() {
        assert_eq!(Axis::clocks(&BOOKED), [SettlingClock::Days, SettlingClock::Kilometres]);
        for booked in [vec![(0.0, None), (7.0, None)], vec![(0.0, Some(0.0)), (7.0, Some(90.0)), (14.0, Some(50.0))]] {
            assert_eq!(Axis::clocks(&booked), [SettlingClock::Days]);
            let axis = Axis::new(SettlingClock::Kilometres, &booked);
            assert_eq!((axis.clock, axis.at(9.0), axis.round_up(9.0)), (SettlingClock::Days, 9.0, 14.0));
        }
    }
}
