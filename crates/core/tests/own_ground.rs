//! Grounds of one's own: heights from a string by hand sums, what the gap may be off by against grounds drawn at random, and words for
//! grounds that make no sense.
#![expect(clippy::unwrap_used, reason = "a test stops where it stands")]

use serde_json::{Value, json};
use trueground_core::capture::CarFile;
use trueground_core::checks::over_ground::{Facing, drive};
use trueground_core::checks::ramp::{Ramp, place};
use trueground_core::checks::{LoadCase, Verdict, Which, at_stance};
use trueground_core::ground::{OwnGround, Source, check, faults};
use trueground_core::level::{Options, solve};

fn ground(string: Value) -> OwnGround {
    serde_json::from_value(json!({"id": "g", "label": "drive", "kind": "driveway", "string": string})).unwrap()
}

fn stations(rows: &[[f64; 2]]) -> Value {
    json!(rows.iter().map(|[along, down]| json!({"along_mm": along, "down_mm": down})).collect::<Vec<_>>())
}

fn near(what: &str, ours: f64, by_hand: f64) {
    assert!((ours - by_hand).abs() < 1e-6, "{what}: {ours}, by hand {by_hand}");
}

#[test]
fn heights_come_from_the_string_down_less_its_sag() {
    // Level string, 8 mm of sag at its middle: a quarter of the way along it hangs 4·8·¼·¾ = 6 mm.
    let own = ground(
        json!({"slope_deg": 0, "sag_mm": 8, "stations": stations(&[[0.0, 300.0], [1000.0, 300.0], [2000.0, 250.0], [4000.0, 100.0]])}),
    );
    let profile = own.profile(2000.0).unwrap();
    let height = |s: f64| profile.ground.height(s, &mut 0).unwrap();
    near("beginning", height(0.0), -300.0);
    near("a quarter along", height(1000.0), -306.0);
    near("the middle", height(2000.0), -258.0);
    near("the end", height(4000.0), -100.0);
    // Straight on: (−306 + 300)/1000 before, (−100 + 258)/2000 behind.
    near("2 m before", height(-2000.0), -300.0 + 12.0);
    near("2 m behind", height(6000.0), -100.0 + 158.0);
    assert_eq!(profile.known, [0.0, 4000.0]);
}

#[test]
fn a_string_that_rises_lifts_the_far_end() {
    // 30 degrees: cos 0.866025, sin 0.5.
    let own = ground(json!({"slope_deg": 30, "sag_mm": 0, "stations": stations(&[[0.0, 100.0], [2000.0, 100.0]])}));
    let profile = own.profile(1000.0).unwrap();
    near("its end", profile.known[1], 2000.0 * 0.75_f64.sqrt());
    near("its height", profile.ground.height(profile.known[1] - 1e-9, &mut 0).unwrap(), 900.0);
}

#[test]
fn two_stations_at_one_place_make_a_step() {
    let own = ground(
        json!({"sag_mm": 0, "stations": stations(&[[0.0, 300.0], [1000.0, 300.0], [1000.0, 265.0], [3000.0, 265.0]])}),
    );
    check(&own).unwrap();
    let profile = own.profile(1000.0).unwrap();
    near("just before", profile.ground.height(999.999, &mut 0).unwrap(), -300.0);
    near("on it", profile.ground.height(1000.0, &mut 0).unwrap(), -265.0);
}

#[test]
fn between_stations_a_smooth_ground_may_bend_by_an_eighth_of_the_second_difference() {
    // Slopes 0, 0.1, 0.1 over 500 mm: second difference 50 mm, an eighth 6.25 mm at the middle.
    let own = ground(
        json!({"sag_mm": 0, "stations": stations(&[[0.0, 300.0], [500.0, 300.0], [1000.0, 250.0], [1500.0, 200.0]])}),
    );
    near("the middle", own.between_u_mm(750.0), 6.25);
    near("a station", own.between_u_mm(500.0), 0.0);
    near("straight on", own.between_u_mm(1250.0), 0.0);
    near("beyond", own.between_u_mm(9000.0), 0.0);
}

#[test]
fn what_makes_no_sense_is_named_with_its_field_and_what_would_be_next() {
    let fault = |string: Value| {
        let (place, message, hint) = faults(&ground(string)).into_iter().next().unwrap();
        format!("{place}: {message}; {hint}")
    };
    assert_eq!(
        fault(json!({"stations": stations(&[[0.0, 300.0], [400.0, 300.0], [80.0, 250.0]])})),
        "string.stations[2].along_mm: 80 mm lies behind the station before it, at 400 mm: the profile runs backwards; \
         give the stations as they are driven over; 800 mm would be next"
    );
    assert_eq!(
        fault(json!({"stations": stations(&[[0.0, 300.0], [400.0, 300.0], [400.0, 250.0], [400.0, 200.0]])})),
        "string.stations[3].along_mm: a third station stands at 400 mm: two at one place make a step; \
         leave it out, or correct its place; 800 mm would be next"
    );
    assert_eq!(
        fault(json!({"stations": stations(&[[0.0, 1e300], [400.0, 300.0]])})),
        "string.stations[0].down_mm: 1e300 mm is outside -500 to 5000 mm; correct the value; check its unit"
    );
    let refused = |own: &OwnGround| {
        let problem = check(own).unwrap_err();
        format!("{} | {}", problem.message(), problem.hint())
    };
    let one = ground(json!({"stations": stations(&[[0.0, 300.0]])}));
    assert_eq!(
        refused(&one),
        "the ground drive has one station, and two at least make a profile | \
         Read one every 300 to 500 mm along the string; ten tell a driveway."
    );
    let equal = ground(json!({"stations": stations(&[[700.0, 300.0], [700.0, 300.0]])}));
    assert!(refused(&equal).starts_with("the ground drive has no length: all its stations stand at one place | "));
    let neither: OwnGround = serde_json::from_value(json!({"id": "g"})).unwrap();
    assert!(refused(&neither).starts_with("the ground g has neither stations under a string nor a shape | "));
}

fn roadster() -> CarFile {
    serde_json::from_str(include_str!("../../../sample-data/show-roadster.json")).unwrap()
}

#[test]
fn on_level_ground_every_gap_is_the_height_of_the_lowest_point_and_both_ways_are_alike() {
    let file = roadster();
    let solution = solve(&file, &Options::default()).unwrap();
    let car = at_stance(&file, &solution, Which::Snapshot("t02"), LoadCase::Nominal, Vec::new()).unwrap();
    let own = ground(json!({"slope_deg": 0, "sag_mm": 0, "stations": stations(&[[0.0, 200.0], [8000.0, 200.0]])}));
    let lowest = car
        .vehicle
        .clearance_points
        .iter()
        .map(|point| car.height_of(point))
        .min_by(|a, b| a.value.total_cmp(&b.value))
        .unwrap();
    for facing in Facing::ALL {
        let over = drive(&car, &own, facing).unwrap().over().unwrap();
        assert!((over.gap.value - lowest.value).abs() < 1e-6, "{facing:?}: {} of {}", over.gap.value, lowest.value);
        // Height of the point alone: level ground does not care for x, and the rest is the two stations'.
        assert!((over.car_u_mm - lowest.u).abs() < 1e-6);
        assert_eq!(over.verdict, Verdict::Clears);
    }
}

/// The spread of the gap over grounds whose stations are off at random is what is claimed of them.
#[test]
fn the_doubt_of_the_ground_is_that_of_grounds_drawn_at_random() {
    let mut file = roadster();
    let rows = [
        [0.0, 402.0],
        [500.0, 405.0],
        [1000.0, 399.0],
        [1500.0, 330.0],
        [2000.0, 262.0],
        [2500.0, 196.0],
        [3000.0, 152.0],
        [3500.0, 131.0],
        [4000.0, 126.0],
        [5000.0, 126.0],
        [6000.0, 126.0],
    ];
    file.grounds = vec![ground(json!({"slope_deg": 0, "stations": stations(&rows)}))];
    let solution = solve(&file, &Options::default()).unwrap();
    let car = at_stance(&file, &solution, Which::Snapshot("t02"), LoadCase::Nominal, Vec::new()).unwrap();
    let own = &file.grounds[0];
    let drive = drive(&car, own, Facing::NoseFirst).unwrap();
    let over = drive.over().unwrap();
    let between: f64 = {
        let [front, rear] = over.place.wheels;
        let back = (front[0] - over.place.at[0]) / (front[0] - rear[0]);
        let parts = [(over.place.at[0], 1.0), (front[0], 1.0 - back), (rear[0], back)];
        parts.iter().map(|(s, part)| (part * own.between_u_mm(*s)).powi(2)).sum()
    };
    let (mut sum, mut square, draws) = (0.0, 0.0, 4_000);
    let mut state = 7_u64;
    // Sum of twelve even draws less six: spread 1.
    let mut normal = || {
        let mut total = -6.0;
        for _ in 0..12 {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            total += (state >> 11) as f64 / (1_u64 << 53) as f64;
        }
        total
    };
    let lead = -drive.ramp.ground.span().0;
    for _ in 0..draws {
        let mut off = own.clone();
        let string = off.string.as_mut().unwrap();
        for station in &mut string.stations {
            station.down_mm += 1.5 * normal();
        }
        string.slope_deg = Some(0.2 * normal());
        let (sag, u) = string.sag_mm();
        string.sag_mm = Some((sag + u * normal()).max(0.0));
        let ramp = Ramp { ground: off.profile(lead).unwrap().ground, ..drive.ramp.clone() };
        let gap = place(&ramp, &over.run.point, over.run.front_axle_at_mm).unwrap().gap_mm;
        sum += gap;
        square += gap * gap;
    }
    let mean = sum / f64::from(draws);
    let spread = (square / f64::from(draws) - mean * mean).sqrt();
    let claimed = (over.ground_u_mm.powi(2) - between).sqrt();
    assert!((claimed / spread - 1.0).abs() < 0.06, "claimed {claimed}, drawn {spread}");
    assert!(own.sources().iter().any(|(source, _)| *source == Source::Sag));
}
