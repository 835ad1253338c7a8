//! Whole cars that settle, read by tape: with one rate for both ends, with two, by kilometres, and with slow creep behind an
//! exponential, of which a year of weeks tells and few days do not. The answer that the heights ask for is as sure as it says.

use crate::settling_car::{DAYS, car, settled};
use crate::simulator::seeded;
use rand::Rng;
use rand_distr::{Distribution, Normal};
use trueground_core::trend::{Clock, End, Law, LineSettling, Settled};

/// What was said of many cars.
#[derive(Debug, Default)]
struct Count {
    told: usize,
    inside: usize,
    settled: usize,
    /// Called settled with more than 3 mm to come in the time that it is held against.
    wrong: usize,
    /// Called settled with more than 3 mm to come until day 365: no word is broken by it, but the band must know.
    in_a_year: usize,
    shared: usize,
    km: usize,
}

impl Count {
    /// The truth is an end's height by day, the days to come at the pace so far.
    fn add(&mut self, line: &LineSettling, truth: impl Fn(f64) -> f64) {
        let answer = line.answer();
        if answer.verdict == Settled::TooEarly {
            return;
        }
        self.told += 1;
        let rest = answer.final_height_mm.expect("a rest");
        self.inside += usize::from((rest.value - truth(365.0)).abs() < 1.96 * rest.u);
        self.shared += usize::from(line.chosen.as_ref().is_some_and(|chosen| chosen.shared_rate));
        self.km += usize::from(answer.clock == Clock::Km);
        if answer.verdict == Settled::Settled {
            self.settled += 1;
            let last = line.heights.last().expect("heights").day;
            let until = answer.ahead.map_or(365.0, |ahead| ahead.until_day);
            self.wrong += usize::from(truth(last) - truth(until) > 3.0);
            self.in_a_year += usize::from(truth(last) - truth(365.0) > 3.0);
        }
    }

    fn holds(&self, what: &str) {
        assert!((920..=980).contains(&(self.inside * 1_000 / self.told)), "{what}: {self:?}");
        assert!(self.wrong * 100 <= 5 * self.settled, "{what}: {self:?}");
    }
}

/// Exponential ends, `apart` the spread of the logarithm of their rates' ratio.
fn by_days(seed: u64, apart: f64) -> Count {
    let mut rng = seeded(seed);
    let mut count = Count::default();
    while count.told < 500 {
        let tau = rng.random_range(7.0..22.0);
        let ratio = libm::exp(Normal::new(0.0, apart.max(1e-9)).expect("a spread").sample(&mut rng));
        let ends = [(tau, rng.random_range(6.0..22.0)), (tau * ratio, rng.random_range(6.0..22.0))];
        let left = |end: End, day: f64| {
            let (tau, amplitude) = ends[usize::from(end == End::Rear)];
            amplitude * libm::exp(-day / tau)
        };
        let readings = rng.random_range(7..=DAYS.len());
        let days = &DAYS[..readings];
        let pace = rng.random_range(5.0..40.0);
        let km: Vec<f64> = days.iter().map(|day| pace * *day as f64).collect();
        let file = car(&mut rng, days, &km, &|end, day, _| 600.0 + left(end, day));
        for line in settled(&file) {
            count.add(&line, |day| 600.0 + left(line.end, day));
        }
    }
    count
}

#[test]
fn ends_with_one_rate_are_as_sure_as_they_say() {
    let count = by_days(61_000, 0.0);
    count.holds("one rate");
    assert!(count.shared * 2 > count.told, "most of them ask for one rate: {count:?}");
}

#[test]
fn ends_with_rates_of_their_own_are_as_sure_as_they_say() {
    by_days(62_000, 0.35).holds("two rates");
}

/// Driven one week and not the next: the kilometres tell what the days do not.
#[test]
fn a_car_that_settles_by_kilometres_is_as_sure_as_it_says() {
    let mut rng = seeded(63_000);
    let mut count = Count::default();
    while count.told < 500 {
        let ends = [0, 1].map(|_| (rng.random_range(150.0..600.0), rng.random_range(6.0..22.0)));
        let left = |end: End, km: f64| {
            let (tau, amplitude): (f64, f64) = ends[usize::from(end == End::Rear)];
            amplitude * libm::exp(-km / tau)
        };
        let readings = rng.random_range(8..=DAYS.len());
        let days = &DAYS[..readings];
        let mut km = vec![0.0];
        for pair in days.windows(2) {
            // A third of the stretches the car stands.
            let pace = if rng.random_bool(0.35) { 0.0 } else { rng.random_range(5.0..60.0) };
            km.push(km[km.len() - 1] + pace * (pair[1] - pair[0]) as f64);
        }
        let file = car(&mut rng, days, &km, &|end, _, km| 600.0 + left(end, km));
        for line in settled(&file) {
            let (last, driven) = (days[readings - 1] as f64, km[readings - 1]);
            count.add(&line, |day| 600.0 + left(line.end, driven * day / last));
        }
    }
    count.holds("kilometres");
    assert!(count.km * 2 > count.told, "most of them ask for kilometres: {count:?}");
}

/// A year of weeks: an exponential with a logarithm behind it. Where both are told, they are as sure as they say; where the exponential
/// was enough, the creep behind it that it does not know of is small.
#[test]
fn a_year_of_weeks_carries_both_laws() {
    let mut rng = seeded(64_000);
    let (mut count, mut simple, mut furthest_mm) = (Count::default(), 0, 0.0_f64);
    let days: Vec<u64> = [0, 2, 4, 7, 10].into_iter().chain((2..52).map(|week| 7 * week)).collect();
    let km: Vec<f64> = days.iter().map(|day| 20.0 * *day as f64).collect();
    while count.told < 300 {
        let ends =
            [0, 1].map(|_| (rng.random_range(10.0..25.0), rng.random_range(8.0..20.0), rng.random_range(1.0..3.0)));
        let height = |end: End, day: f64| {
            let (tau, amplitude, b): (f64, f64, f64) = ends[usize::from(end == End::Rear)];
            600.0 + amplitude * libm::exp(-day / tau) - b * libm::log1p(day / 6.0)
        };
        let file = car(&mut rng, &days, &km, &|end, day, _| height(end, day));
        for line in settled(&file) {
            if line.answer().model == Some(Law::Both) {
                count.add(&line, |day| height(line.end, day));
            } else {
                simple += 1;
                let off = line.answer().final_height_mm.expect("a rest").value - height(line.end, 365.0);
                furthest_mm = furthest_mm.max(off.abs());
            }
        }
    }
    println!("{simple} by one law, at most {furthest_mm:.1} mm off");
    count.holds("both laws");
    assert!(simple < 200 && furthest_mm < 3.0, "{simple} by one law, {furthest_mm} mm off");
}

/// Eight to fourteen days over ten to twenty weeks: days bed the springs in, the road makes them creep on, and the heights alone cannot
/// say how much of that is to come.
#[test]
fn creep_that_the_days_cannot_show_is_in_the_band() {
    let mut rng = seeded(64_500);
    let mut count = Count::default();
    while count.told < 500 {
        let ends =
            [0, 1].map(|_| (rng.random_range(5.0..22.0), rng.random_range(6.0..24.0), rng.random_range(0.0..3.0)));
        let (km0, pace) = (libm::exp(rng.random_range(3.0..5.7)), rng.random_range(5.0..40.0));
        let height = |end: End, day: f64, km: f64| {
            let (amplitude, tau, b): (f64, f64, f64) = ends[usize::from(end == End::Rear)];
            600.0 + amplitude * libm::exp(-day / tau) - b * libm::log1p(km / km0)
        };
        let (readings, weeks) = (rng.random_range(8..=DAYS.len()), rng.random_range(10.0..20.0));
        let stretch = 7.0 * weeks / DAYS[readings - 1] as f64;
        let days: Vec<u64> = DAYS[..readings].iter().map(|day| (*day as f64 * stretch).round() as u64).collect();
        let km: Vec<f64> = days.iter().map(|day| pace * *day as f64).collect();
        let file = car(&mut rng, &days, &km, &height);
        for line in settled(&file) {
            count.add(&line, |day| height(line.end, day, pace * day));
        }
    }
    count.holds("creep by the road");
}
