//! Whole cars that settle, read by tape: with one rate for both ends, with two, by kilometres, and with a logarithm behind an
//! exponential. The answer that the heights ask for is as sure as it says.

use crate::simulator::seeded;
use rand::Rng;
use rand_distr::{Distribution, Normal};
use serde_json::{Value, json};
use trueground_core::capture::CarFile;
use trueground_core::level::{Options, solve};
use trueground_core::trend::{Clock, DriftVerdict, End, Law, LineSettling, Model, Settled, drifts_of_car, settle_car};

/// The days on which builders are told to measure, then every two weeks.
const DAYS: [u64; 14] = [0, 3, 7, 14, 21, 30, 42, 56, 70, 84, 98, 112, 126, 140];

/// Height of an end by day and kilometres.
type Truth<'t> = &'t dyn Fn(End, f64, f64) -> f64;

/// One car, measured on some days with so many kilometres on the clock, from day 0 on; two bounces, one round.
fn car(rng: &mut impl Rng, days: &[u64], km: &[f64], truth: Truth<'_>) -> CarFile {
    let normal = |u: f64| Normal::new(0.0, u).expect("a spread");
    let (tape, friction) = (normal(1.2), normal(0.95 * 1.5));
    let (zero, roll) = (normal(0.5).sample(rng), normal(0.55e-3 * 1.5));
    let offsets: [f64; 4] = std::array::from_fn(|_| normal(3.0).sample(rng));
    let day_0 = date(0);
    let snapshots: Vec<Value> = days
        .iter()
        .zip(km)
        .enumerate()
        .map(|(number, (day, km))| {
            let bounces: Vec<Value> = (0..2)
                .map(|bounce| {
                    let (front, rear, lean) = (friction.sample(rng), friction.sample(rng), roll.sample(rng));
                    let corners = [
                        ("FL", End::Front, front, 700.0),
                        ("FR", End::Front, front, -700.0),
                        ("RL", End::Rear, rear, 700.0),
                        ("RR", End::Rear, rear, -700.0),
                    ];
                    let readings: Vec<Value> = corners
                        .iter()
                        .enumerate()
                        .map(|(at, (corner, end, off, y))| {
                            let side = if at % 2 == 0 { offsets[at] } else { -offsets[at - 1] };
                            let height = truth(*end, *day as f64, *km) + side + off + y * lean + zero;
                            let mm = (height + tape.sample(rng)).round();
                            json!({"ref": format!("lip.{corner}"), "repeat": 1, "text": format!("{mm}"), "unit": "mm", "value_mm": mm})
                        })
                        .collect();
                    json!({"bounce_id": format!("{number}.{bounce}"), "readings": readings})
                })
                .collect();
            json!({"id": format!("s{number}"), "date": date(*day), "odometer_km": 1_000.0 + km.round(), "bounces": bounces})
        })
        .collect();
    let points: Vec<Value> = [("FL", 0, 700), ("FR", 0, -700), ("RL", -2600, 700), ("RR", -2600, -700)]
        .iter()
        .map(|(corner, x, y)| json!({"id": format!("lip.{corner}"), "corner": corner, "kind": "fender_lip", "x_mm": x, "y_mm": y}))
        .collect();
    let file = json!({
        "vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "ref_points": points},
        "instrument": {"tape": {"unit": "mm", "step_mm": 1.0}, "tape_reading_u_mm": 1.2, "bounce_repeat_u_mm": 1.5},
        "snapshots": snapshots,
        "events": [{"date": day_0, "odometer_km": 1_000, "what": "leaves out", "resets_settling": true}],
    });
    serde_json::from_value(file).expect("a car")
}

/// So many days after 1 January 2031, at most to the end of the next year.
fn date(day: u64) -> String {
    let (year, mut day) = if day < 365 { (2031, day) } else { (2032, day - 365) };
    let february = if year == 2032 { 29 } else { 28 };
    for (month, length) in [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31].into_iter().enumerate() {
        if day < length {
            return format!("{year}-{:02}-{:02}", month + 1, day + 1);
        }
        day -= length;
    }
    panic!("too far ahead")
}

/// What was said of many cars.
#[derive(Debug, Default)]
struct Count {
    told: usize,
    inside: usize,
    settled: usize,
    wrong: usize,
    shared: usize,
    km: usize,
}

impl Count {
    fn add(&mut self, line: &LineSettling, rest_mm: f64, left_mm: f64) {
        let answer = line.answer();
        if answer.verdict == Settled::TooEarly {
            return;
        }
        self.told += 1;
        let rest = answer.final_height_mm.expect("a rest");
        self.inside += usize::from((rest.value - rest_mm).abs() < 1.96 * rest.u);
        self.shared += usize::from(line.chosen.as_ref().is_some_and(|chosen| chosen.shared_rate));
        self.km += usize::from(answer.clock == Clock::Km);
        if answer.verdict == Settled::Settled {
            self.settled += 1;
            self.wrong += usize::from(left_mm > 3.0);
        }
    }

    fn holds(&self, what: &str) {
        assert!((920..=980).contains(&(self.inside * 1_000 / self.told)), "{what}: {self:?}");
        assert!(self.wrong * 100 <= 5 * self.settled, "{what}: {self:?}");
    }
}

fn settled(file: &CarFile) -> Vec<LineSettling> {
    let solution = solve(file, &Options::default()).expect("adjustable");
    settle_car(file, &solution, Model::Best).expect("laws")
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
            count.add(&line, 600.0, left(line.end, days[readings - 1] as f64));
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
            count.add(&line, 600.0, left(line.end, km[readings - 1]));
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
            let (rest, left) = (height(line.end, 365.0), height(line.end, 357.0) - height(line.end, 365.0));
            if line.answer().model == Some(Law::Both) {
                count.add(&line, rest, left);
            } else {
                simple += 1;
                let off = line.answer().final_height_mm.expect("a rest").value - rest;
                furthest_mm = furthest_mm.max(off.abs());
            }
        }
    }
    println!("{simple} by one law, at most {furthest_mm:.1} mm off");
    count.holds("both laws");
    assert!(simple < 200 && furthest_mm < 3.0, "{simple} by one law, {furthest_mm} mm off");
}

/// With work on the car besides: kind, day, and what the file says of it.
fn with_events(file: CarFile, events: &[(&str, u64)]) -> CarFile {
    let mut value = serde_json::to_value(file).expect("writable");
    for (kind, day) in events {
        let event = json!({"date": date(*day), "what": kind, "kind": kind, "resets_settling": false});
        value["events"].as_array_mut().expect("events").push(event);
    }
    serde_json::from_value(value).expect("a car")
}

/// Two exponential ends with 12 mm to come down in 12 days, and something that moves both at some day.
fn moved(rng: &mut impl Rng, step: impl Fn(f64) -> f64, clock: impl Fn(f64) -> f64) -> CarFile {
    let height = |day: f64| 600.0 + 12.0 * libm::exp(-clock(day) / 12.0) + step(day);
    car(rng, &DAYS, &DAYS.map(|day| 15.0 * day as f64), &|_, day, _| height(day))
}

#[test]
fn other_tires_are_a_step_and_no_sag() {
    let mut rng = seeded(65_000);
    let (mut inside, mut rests, mut all) = (0, 0, 0);
    for _ in 0..50 {
        // Nine millimetres higher from day 35 on, between two snapshots.
        let file = moved(&mut rng, |day| if day < 35.0 { -9.0 } else { 0.0 }, |day| day);
        for line in settled(&with_events(file, &[("tires", 35)])) {
            all += 1;
            let [step] = &line.steps[..] else { panic!("{:?}", line.steps) };
            inside += usize::from((step.step_mm.value - 9.0).abs() < 2.0 * step.step_mm.u);
            let rest = line.answer().final_height_mm.expect("a rest");
            rests += usize::from((rest.value - 600.0).abs() < 2.0 * rest.u);
            let first = &line.heights[0];
            assert!((first.on_curve_mm.expect("moved") - first.height_mm - step.step_mm.value).abs() < 1e-9);
            assert_eq!(line.heights.last().expect("heights").on_curve_mm, None);
        }
    }
    assert!(inside * 100 >= 90 * all && rests * 100 >= 90 * all, "{inside} steps and {rests} rests of {all}");
}

#[test]
fn a_torque_check_is_a_step_only_where_it_moved_the_car() {
    let mut rng = seeded(66_000);
    let (mut idle, mut found) = (0, 0);
    for _ in 0..50 {
        let still = with_events(moved(&mut rng, |_| 0.0, |day| day), &[("torque_check", 35)]);
        idle += settled(&still).iter().filter(|line| !line.steps.is_empty()).count();
        let lower = moved(&mut rng, |day| if day < 35.0 { 8.0 } else { 0.0 }, |day| day);
        let lower = settled(&with_events(lower, &[("torque_check", 35)]));
        found += lower.iter().filter(|line| !line.steps.is_empty()).count();
    }
    assert!(idle <= 10 && found >= 80, "{idle} steps of 100 where nothing moved, {found} of 100 where it did");
}

/// From day 28 to day 90 the car is stored: it goes on settling where it stopped.
#[test]
fn stored_days_do_not_count() {
    let mut rng = seeded(67_000);
    let clock = |day: f64| if day < 28.0 { day } else { 28.0 + (day - 90.0).max(0.0) };
    let (mut inside, mut all) = (0, 0);
    for _ in 0..50 {
        let file = with_events(moved(&mut rng, |_| 0.0, clock), &[("stored_for_winter", 28), ("back_on_the_road", 90)]);
        for line in settled(&file) {
            assert_eq!(line.stored, [(28.0, Some(90.0))]);
            let tau = line.settling.parameters.get("tau_days").filter(|_| line.settling.verdict != Settled::TooEarly);
            let Some(tau) = tau else { continue };
            all += 1;
            inside += usize::from((tau.value - 12.0).abs() < 2.0 * tau.u.max(1.0));
        }
    }
    assert!(all >= 90 && inside * 100 >= 88 * all, "{inside} of {all} rates");
}

/// Springs are mostly worked on in winter: the car was put away before, and is back on the road on day 30.
#[test]
fn a_winter_that_began_before_the_work_counts_from_day_0() {
    let mut rng = seeded(68_000);
    for _ in 0..10 {
        let file = with_events(moved(&mut rng, |_| 0.0, |day| (day - 30.0).max(0.0)), &[("back_on_the_road", 30)]);
        let mut value = serde_json::to_value(file).expect("writable");
        let event =
            json!({"date": "2030-11-01", "what": "put away", "kind": "stored_for_winter", "resets_settling": false});
        value["events"].as_array_mut().expect("events").push(event);
        for line in settled(&serde_json::from_value(value).expect("a car")) {
            assert_eq!(line.stored, [(0.0, Some(30.0))]);
        }
    }
}

/// Other tires at one end after the settling are no drift of the rake: its chart begins anew with them.
#[test]
fn other_tires_are_no_drift() {
    let mut rng = seeded(69_000);
    let days: [u64; 22] =
        [0, 3, 7, 14, 21, 30, 42, 56, 70, 84, 98, 112, 126, 140, 154, 168, 182, 196, 210, 224, 238, 252];
    let height = |end: End, day: f64| {
        let higher = if end == End::Rear && day >= 175.0 { 10.0 } else { 0.0 };
        600.0 + 12.0 * libm::exp(-day / 12.0) + higher
    };
    let mut anew = 0;
    for _ in 0..10 {
        let file = car(&mut rng, &days, &days.map(|day| 15.0 * day as f64), &|end, day, _| height(end, day));
        let file = with_events(file, &[("tires", 175)]);
        let solution = solve(&file, &Options::default()).expect("adjustable");
        let lines = settle_car(&file, &solution, Model::Best).expect("laws");
        for drift in drifts_of_car(&file, &solution, &lines).expect("charts") {
            assert_ne!(drift.verdict, DriftVerdict::Drifting, "{:?} since {:?}", drift.figure, drift.moved_since);
            anew += usize::from(drift.since.as_deref() == Some(date(175).as_str()));
        }
    }
    assert!(anew > 0, "no chart began with the tires");
}
