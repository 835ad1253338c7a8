//! Tapes and gauges that a person owns: worn, checked, read from a mark, and two of them at one car.

use crate::simulator::{Car, Ground, Noise, Simulated, Work, measure, normal, seeded};
use serde_json::{Value, json};
use trueground_core::capture::{CarFile, Reading};
use trueground_core::level::{Options, Solution, solve};
use trueground_core::stance::{DoubtSource, Known};

const WORK: Work = Work {
    passes: 2,
    level_under_marks: false,
    both_facings: false,
    bounces: 2,
    rounds: 2,
    gauge: false,
    roll_share_u: Some(0.06),
};

/// A car measured with a tape that has no zero error; errors of tapes are added by the tests.
fn simulated(seed: u64, work: &Work) -> Simulated {
    let mut rng = seeded(seed);
    let car = Car::random(&mut rng);
    let ground = Ground::random(&mut rng, 25.0);
    measure(&mut rng, &car, &ground, &Noise { tape_zero: 0.0, ..Noise::usual() }, work)
}

fn tape(id: &str, more: Value) -> Value {
    let mut tape =
        json!({"kind": "tape", "id": id, "label": id, "tape": {"unit": "mm", "step_mm": 1.0}, "class": "II"});
    for (key, value) in more.as_object().expect("keys") {
        tape[key] = value.clone();
    }
    tape
}

/// A check at 600 mm of a tape that says `over` too much.
fn check(over: f64) -> Value {
    json!([{"date": "2031-04-10", "against": "steel rule", "read_mm": 600.0 + over, "true_mm": 600.0, "u_mm": 0.3}])
}

/// Every reading names the tape that `which` says, and says so much more as that tape does.
fn read_with(file: &CarFile, instruments: Value, which: impl Fn(&Reading) -> (&'static str, f64)) -> CarFile {
    let mut file = file.clone();
    file.instruments = serde_json::from_value(instruments).expect("instruments");
    for reading in file.snapshots.iter_mut().flat_map(|s| &mut s.bounces).flat_map(|bounce| &mut bounce.readings) {
        let (id, over) = which(reading);
        reading.instrument = Some(id.to_owned());
        reading.value_mm += over;
        reading.text = format!("{}", reading.value_mm);
    }
    file
}

fn solved(file: &CarFile) -> Solution {
    solve(file, &Options::default()).expect("adjustable")
}

/// Errors of the heights over their own u.
fn errors(solution: &Solution, simulated: &Simulated) -> Vec<f64> {
    let heights = &solution.snapshots[0].heights;
    heights
        .iter()
        .map(|(id, figure)| (figure.value.expect("determined") - simulated.heights[id]) / figure.u.expect("determined"))
        .collect()
}

fn inside_two_u(all: &[f64]) -> f64 {
    all.iter().filter(|error| error.abs() < 2.0).count() as f64 / all.len() as f64
}

/// Left with a worn tape that was checked, right with another: 95 % of the heights lie inside ±2u.
#[test]
fn two_tapes_at_one_car_each_have_their_own_zero() {
    let mut all = Vec::new();
    for seed in 0..60 {
        let car = simulated(30_000 + seed, &WORK);
        let mut rng = seeded(31_000 + seed);
        let (worn, other) = (1.5 + normal(&mut rng, 0.2), normal(&mut rng, 0.4));
        let said = worn + normal(&mut rng, 0.3);
        let instruments = json!([tape("worn", json!({"checks": check(said)})), tape("other", json!({}))]);
        let file = read_with(&car.file, instruments, |reading| {
            if reading.point.ends_with('L') { ("worn", worn) } else { ("other", other) }
        });
        all.extend(errors(&solved(&file), &car));
    }
    assert!(inside_two_u(&all) > 0.93, "{} of {} inside", inside_two_u(&all), all.len());
    let rms = (all.iter().map(|error| error * error).sum::<f64>() / all.len() as f64).sqrt();
    assert!((0.75..1.12).contains(&rms), "error over u is {rms} rms");
}

/// A check takes the wear off and narrows the doubt; without one the person's "unknown, to about 2 mm" carries it.
#[test]
fn a_worn_hook_is_taken_off_where_it_was_checked_and_doubted_where_it_was_not() {
    let (mut checked, mut unknown) = (Vec::new(), Vec::new());
    for seed in 0..30 {
        let car = simulated(32_000 + seed, &WORK);
        let worn = |_: &Reading| ("t", 1.5);
        let with_check = solved(&read_with(&car.file, json!([tape("t", json!({"checks": check(1.5)}))]), worn));
        let hook = json!({"hook_mm": {"value": 0.0, "u": 1.0}});
        let without = solved(&read_with(&car.file, json!([tape("t", hook)]), worn));
        checked.extend(errors(&with_check, &car));
        unknown.extend(errors(&without, &car));
        let (a, b) = (&with_check.snapshots[0].heights["lip.FL"], &without.snapshots[0].heights["lip.FL"]);
        assert!(b.u.expect("u") > a.u.expect("u"), "seed {seed}: {b:?} is no wider than {a:?}");
        // Differences do not feel the zero.
        let rake = |s: &Solution| s.snapshots[0].lines["fender_lip"].rake_mm.value.expect("determined");
        assert!((rake(&with_check) - rake(&without)).abs() < 0.05);
    }
    assert!(inside_two_u(&checked) > 0.92, "{} inside with a check", inside_two_u(&checked));
    assert!(inside_two_u(&unknown) > 0.92, "{} inside without", inside_two_u(&unknown));
}

#[test]
fn a_tape_read_from_the_one_inch_mark_gives_an_inch_less() {
    let car = simulated(33_000, &WORK);
    let as_read = |more| solved(&read_with(&car.file, json!([tape("t", more)]), |_| ("t", 25.4)));
    let (inch, end) = (as_read(json!({"read_from_mm": 25.4})), as_read(json!({})));
    for (id, figure) in &inch.snapshots[0].heights {
        let from_end = end.snapshots[0].heights[id];
        let less = from_end.value.expect("a value") - figure.value.expect("a value");
        assert!((less - 25.4).abs() < 1e-4, "{id}: {less}");
        assert!((from_end.u.expect("u") - figure.u.expect("u")).abs() < 1e-9);
    }
    assert!(inside_two_u(&errors(&inch, &car)) > 0.8);
    let (sum, other) = (inch.height_sum("A", "lip.FL").expect("read"), end.height_sum("A", "lip.FL").expect("read"));
    assert!((sum.tape_mm - other.tape_mm).abs() < 1e-9, "the tape says what it says");
    assert!((sum.tape_mm + sum.instrument_mm + sum.floor_mm + sum.car_mm - sum.level_mm).abs() < 1e-9);
    assert!((sum.instrument_mm - other.instrument_mm + 25.4).abs() < 1e-4, "{sum:?}");
}

/// Second round with another tape, an inch off and nobody said so: both tapes are named and no reading is blamed; where one of
/// them was checked, it is believed.
#[test]
fn a_burnt_inch_that_nobody_declared_shows() {
    for seed in 0..20 {
        let car = simulated(34_000 + seed, &WORK);
        let by_round = |reading: &Reading| if reading.repeat == 1 { ("ours", 0.0) } else { ("burnt", 25.4) };
        let neither = json!([tape("ours", json!({})), tape("burnt", json!({}))]);
        let solution = solved(&read_with(&car.file, neither, by_round));
        let stance = &solution.snapshots[0];
        let named: Vec<&str> = stance.doubtful.iter().map(|doubtful| doubtful.point.as_str()).collect();
        assert!(named.contains(&"instrument:ours") && named.contains(&"instrument:burnt"), "seed {seed}: {named:?}");
        let apart = |id: &str| solution.instrument_zero(id).and_then(|zero| zero.value).expect("a zero");
        assert!((apart("burnt") - apart("ours") - 25.4).abs() < 2.0, "seed {seed}");
        assert_eq!(stance.heights["lip.FL"].known, Known::Undetermined, "seed {seed}: an inch either way is no height");
        assert!(stance.lines["fender_lip"].rake_mm.value.is_some(), "seed {seed}: a rake does not feel the zero");

        let one = json!([tape("ours", json!({"checks": check(0.0)})), tape("burnt", json!({}))]);
        let solution = solved(&read_with(&car.file, one, by_round));
        let stance = &solution.snapshots[0];
        let named: Vec<&str> = stance.doubtful.iter().map(|doubtful| doubtful.point.as_str()).collect();
        assert!(named.contains(&"instrument:burnt") && !named.contains(&"instrument:ours"), "seed {seed}: {named:?}");
        let far = errors(&solution, &car).iter().filter(|error| error.abs() > 3.5).count();
        assert_eq!(far, 0, "seed {seed}: {:?}", errors(&solution, &car));
    }
}

/// The gauge is never turned on the car: its zero is known from its own check alone.
#[test]
fn a_gauges_zero_comes_from_its_own_straight_and_turned_check() {
    for seed in 0..20 {
        let mut car = simulated(35_000 + seed, &Work { gauge: true, ..WORK });
        let gauges = &mut car.file.snapshots[0].angle_gauge;
        gauges.retain(|gauge| !gauge.reversed);
        for gauge in gauges.iter_mut() {
            gauge.angle_deg += 0.8;
        }
        let before = solved(&car.file);
        let mut file = car.file.clone();
        file.instruments = serde_json::from_value(json!([{"kind": "angle_gauge", "id": "g", "step_deg": 0.05,
            "checks": [{"date": "2031-04-10", "straight_deg": 1.9, "reversed_deg": -0.3}]}]))
        .expect("a gauge");
        file.snapshots[0].gauge = Some("g".to_owned());
        let solution = solved(&file);
        let zero = solution.instrument_zero("g").expect("named");
        assert_eq!(zero.known, Known::Measured);
        // u of the check alone: √((0.07² + 0.05²/12)/2) = 0.0506.
        assert!(zero.u.expect("u") < 0.0506, "seed {seed}: {zero:?}");
        // Half of 1.9 − 0.3 is 0.8; the simulated gauge has a zero of its own of 0.1 rms besides.
        assert!((zero.value.expect("a value") - 0.8).abs() < 0.35, "seed {seed}: {zero:?}");
        let rake = |s: &Solution| s.snapshots[0].lines["frame_rail"].rake_deg.value.expect("determined");
        let blind = (rake(&before) - rake(&solution)).abs();
        assert!(blind > 0.0 && solution.snapshots[0].doubtful.iter().all(|d| d.used), "seed {seed}");
    }
}

/// One hub, read once. By hand, mm²: reading 1.0² + (25.4/32)²/12 = 1.052 503; hook 0.5² = 0.25; class II at up to a metre
/// (0.3 + 0.2)²/3 = 0.083 333; bump under the hub 0.5² = 0.25. Sum 1.635 837, u = 1.279 00. The reading 14 29/32 in = 378.618 75
/// less 25.4 for the mark; the hook counts for nothing, since the end is not touched.
#[test]
fn the_uncertainty_of_one_reading_by_hand() {
    let file: CarFile = serde_json::from_value(json!({
        "vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400},
        "snapshots": [{"id": "s", "date": "2031-04-12", "tape": "t", "bounces": [{"bounce_id": "b", "readings": [
            {"ref": "hub.FL", "text": "14 29/32", "unit": "in", "value_mm": 378.618_75}]}]}],
        "instruments": [{"kind": "tape", "id": "t", "tape": {"unit": "in", "den": 32}, "class": "II", "reading_u_mm": 1.0,
            "read_from_mm": 25.4, "hook_mm": {"value": 1.5, "u": 0.1}}]}))
    .expect("a file");
    let solution = solved(&file);
    let radius = solution.snapshots[0].loaded_radius["FL"];
    assert!((radius.value.expect("read") - 353.218_75).abs() < 1e-6, "{radius:?}");
    assert!((radius.u.expect("read") - 1.279_00).abs() < 1e-4, "{radius:?}");
    let budget = solution.budget("s", "loaded_radius.FL").expect("a figure");
    let zero = budget.iter().find(|line| line.source == DoubtSource::TapeZero).expect("the tape's part");
    assert_eq!(zero.instrument.as_deref(), Some("t"));
    assert!((zero.u - (0.25_f64 + 0.083_333).sqrt()).abs() < 1e-4, "{zero:?}");
    let reading = budget.iter().find(|line| line.source == DoubtSource::Tape).expect("the reading's part");
    assert!((reading.u - 1.052_503_f64.sqrt()).abs() < 1e-4, "{reading:?}");
}

#[test]
fn instruments_that_no_reading_names_change_nothing() {
    let car = simulated(36_000, &Work { gauge: true, ..WORK });
    let mut file = car.file.clone();
    file.instruments = serde_json::from_value(json!([tape("t", json!({"read_from_mm": 25.4}))])).expect("instruments");
    let plain = solved(&car.file);
    assert_eq!(serde_json::to_value(&plain.snapshots).ok(), serde_json::to_value(&solved(&file).snapshots).ok());
}

/// With own tapes too, the parts add up to the whole, and "another bounce" keeps its promise.
#[test]
fn budgets_add_up_and_promises_hold_with_own_tapes() {
    let half = Work { bounces: 1, ..WORK };
    let instruments = || json!([tape("worn", json!({"checks": check(1.5)})), tape("other", json!({}))]);
    let which = |reading: &Reading| if reading.repeat == 1 { ("worn", 1.5) } else { ("other", 0.0) };
    for seed in 0..6 {
        let one = read_with(&simulated(37_000 + seed, &half).file, instruments(), which);
        let mut two = read_with(&simulated(37_000 + seed, &WORK).file, instruments(), which);
        // The promise is for the snapshot's own tape.
        let mut one = one;
        for file in [&mut one, &mut two] {
            file.snapshots[0].tape = Some("other".to_owned());
        }
        for reading in
            two.snapshots[0].bounces[1].readings.iter_mut().filter(|r| r.instrument.as_deref() == Some("worn"))
        {
            reading.instrument = None;
            reading.value_mm -= 1.5;
            reading.text = format!("{}", reading.value_mm);
        }
        let (now, then) = (solved(&one), solved(&two));
        let next = now.next_readings("A", "heights.lip.FL").expect("a figure");
        let promise = next.iter().find(|n| n.what == "another_bounce").and_then(|n| n.u_then).expect("offered");
        let reached = then.snapshots[0].heights["lip.FL"].u.expect("determined");
        assert!((promise / reached - 1.0).abs() < 0.1, "seed {seed}: promised {promise}, reached {reached}");
        for (id, figure) in &now.snapshots[0].heights {
            let budget = now.budget("A", &format!("heights.{id}")).expect("a figure");
            let sum: f64 = budget.iter().map(|line| line.u * line.u).sum();
            assert!((sum.sqrt() / figure.u.expect("determined") - 1.0).abs() < 1e-6, "{id}");
            let own: Vec<_> = budget.iter().filter_map(|line| line.instrument.as_deref()).collect();
            assert!(own.contains(&"worn") && own.contains(&"other"), "{own:?}");
        }
    }
}
