//! A second road to the wheel in its opening: the tire from above as a polygon of many corners, turned about the kingpin, and `geo` for
//! the distance to a rail, a post or the edge of the opening.
#![expect(clippy::unwrap_used, reason = "a test stops where it stands")]

use geo::{Contains, Distance, Euclidean, Line, Point, Polygon, Rotate};
use proptest::prelude::*;
use serde_json::json;
use trueground_core::car::{GapPlace, OtherWheel, Vehicle};
use trueground_core::checks::Verdict;
use trueground_core::checks::fitment::{GapBasis, InOpening, Standing, WheelState, in_opening};
use trueground_core::corner::Corner;
use trueground_core::units::Angle;

/// Sizes of a wheel: width, diameter, rim diameter, offset.
#[derive(Clone, Copy, Debug)]
struct Sizes {
    width: f64,
    across: f64,
    rim: f64,
    offset: f64,
}

fn sizes() -> impl Strategy<Value = Sizes> {
    (130.0..290.0, 560.0..780.0, 330.0..410.0, -30.0..50.0).prop_map(|(width, across, rim, offset)| Sizes {
        width,
        across,
        rim,
        offset,
    })
}

fn car(now: Sizes, lock: f64, face: f64, gaps: &serde_json::Value) -> Vehicle {
    let tire = json!({"designation": "6.00-16", "free_diameter_mm": now.across, "rim_diameter_mm": now.rim, "nominal_pressure_kpa": 200});
    serde_json::from_value(json!({"label": "x", "wheelbase_mm": 2700, "track_front_mm": 1400, "track_rear_mm": 1400,
        "tires": {"FL": tire, "FR": tire, "RL": tire, "RR": tire},
        "fitment": {
            "wheels": {"FL": {"rim_width_mm": 150, "offset_mm": now.offset, "section_width_mm": now.width, "gaps": gaps}},
            "steer": {"lock_inner_deg": lock, "lock_outer_deg": lock - 4.0, "kingpin_to_face_mm": face}}}))
    .unwrap()
}

fn other(then: Sizes) -> OtherWheel {
    // A marking whose rim is that of the sizes: 2·section out of the diameter.
    let inches = (then.rim / 25.4 * 100.0).round() / 100.0;
    serde_json::from_value(json!({"label": "other", "marking": format!("6.00-{}", inches.round()), "rim_width_mm": 150,
        "offset_mm": then.offset, "section_width_mm": then.width, "free_diameter_mm": then.across}))
    .unwrap()
}

fn told(found: &InOpening, place: GapPlace, state: WheelState) -> (f64, Option<f64>) {
    let gap = found.gaps.iter().find(|gap| gap.place == place && gap.state == state).unwrap();
    (gap.now.value, gap.then.map(|then| then.value))
}

/// The tire from above, cut at a height over its centre, with its middle at `[0, out]`; its shoulder is round by a third of its section's height.
fn tire(across: f64, width: f64, rim: f64, out: f64, over: f64) -> Polygon {
    let radius = across / 2.0;
    let half = (radius.powi(2) - over * over).sqrt();
    let round = ((across - rim) / 6.0).min(width / 2.0);
    let side = (-400..=400).map(|step| {
        let x = half * Angle::deg(f64::from(step) / 400.0 * 90.0).sin();
        let beyond = (x.hypot(over) - (radius - round)).max(0.0);
        (x, width / 2.0 - round + (round * round - beyond * beyond).max(0.0).sqrt())
    });
    let outline: Vec<(f64, f64)> =
        side.clone().map(|(x, y)| (x, out + y)).chain(side.rev().map(|(x, y)| (x, out - y))).collect();
    Polygon::new(outline.into(), Vec::new())
}

/// The least distance of anything to the tire from lock to lock, below 0 where they overlap only told as that.
fn least(tire: &Polygon, lock: f64, distance: impl Fn(&Polygon) -> f64) -> f64 {
    let steps = 600;
    let (left, right) = (lock, lock - 4.0);
    (0..=steps)
        .map(|i| -right + (left + right) * f64::from(i) / f64::from(steps))
        // geo turns against the clock for x to the right and y up: front outward, as the inner wheel of the turn.
        .map(|angle| distance(&tire.rotate_around_point(angle, Point::new(0.0, 0.0))))
        .fold(f64::INFINITY, f64::min)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn at_full_lock_a_rail_a_post_and_the_opening_are_as_far_as_polygons_say(
        now in sizes(), then in sizes(), lock in 15.0..42.0_f64, kingpin in -20.0..140.0_f64, gap in 60.0..260.0_f64,
        along in -120.0..120.0_f64, high in 120.0..520.0_f64,
    ) {
        let face = kingpin + now.offset;
        let gaps = json!({"frame": {"at_rest_mm": gap}, "fender_outer": {"at_rest_mm": gap, "height_mm": high},
            "rod": {"at_rest_mm": gap, "along_mm": along}, "shock": {"at_rest_mm": gap, "along_mm": along, "height_mm": high}, "ahead": {"at_rest_mm": gap}, "behind": {"at_rest_mm": gap}});
        let car = car(now, lock, face, &gaps);
        let other = other(then);
        let found = in_opening(&car, Corner::FL, Some(&other), &Standing::AS_MEASURED).unwrap();
        let rim = found.other.as_ref().unwrap().rim_diameter_mm;
        let out = kingpin + now.offset - then.offset;
        let high_over = high - found.now.loaded_radius.value;
        let inner = kingpin - now.width / 2.0 - gap;
        let outer = kingpin + now.width / 2.0 + gap;
        let wall = |y: f64| Line::new((-2_000.0, y), (2_000.0, y));
        let across = |x: f64| Line::new((x, -2_000.0), (x, 2_000.0));
        for (mine, tire, place) in [
            (told(&found, GapPlace::Frame, WheelState::FullLock).0, tire(now.across, now.width, now.rim, kingpin, 0.0), wall(inner)),
            (told(&found, GapPlace::Frame, WheelState::FullLock).1.unwrap(), tire(then.across, then.width, rim, out, 0.0), wall(inner)),
            (told(&found, GapPlace::Ahead, WheelState::FullLock).1.unwrap(), tire(then.across, then.width, rim, out, 0.0), across(now.across / 2.0 + gap)),
            (told(&found, GapPlace::Behind, WheelState::FullLock).1.unwrap(), tire(then.across, then.width, rim, out, 0.0), across(-now.across / 2.0 - gap)),
        ] {
            let theirs = least(&tire, lock, |tire| Euclidean.distance(&place, tire));
            // Distance knows no overlap: there both must say so.
            prop_assert!((mine.max(0.0) - theirs).abs() < 0.1, "{mine} {theirs}");
        }
        if high_over.abs() < 0.9 * now.across.min(then.across) / 2.0 {
            let tire = tire(then.across, then.width, rim, out, high_over);
            let theirs = least(&tire, lock, |tire| Euclidean.distance(&wall(outer), tire));
            let mine = told(&found, GapPlace::FenderOuter, WheelState::FullLock).1.unwrap();
            prop_assert!((mine.max(0.0) - theirs).abs() < 0.1, "lip: {mine} {theirs}");
        }
        let post = Point::new(along, inner);
        for (place, over) in [(GapPlace::Rod, 0.0), (GapPlace::Shock, high_over)] {
            if over.abs() >= 0.9 * now.across.min(then.across) / 2.0 {
                continue;
            }
            let turned = tire(then.across, then.width, rim, out, over);
            let theirs = least(&turned, lock, |tire| if tire.contains(&post) { 0.0 } else { Euclidean.distance(&post, tire) });
            let mine = told(&found, place, WheelState::FullLock).1.unwrap();
            prop_assert!((mine.max(0.0) - theirs).abs() < 0.2, "{place:?}: {mine} {theirs}");
        }
    }
}

const NOW: Sizes = Sizes { width: 185.0, across: 640.0, rim: 381.0, offset: 20.0 };

#[test]
fn edges_move_by_half_the_width_and_the_offset_by_hand() {
    let gaps = json!({"fender_outer": {"at_rest_mm": 24}, "spring": {"at_rest_mm": 31}, "ahead": {"at_rest_mm": 60},
        "behind": {"at_rest_mm": 50}, "above": {"at_rest_mm": 90}});
    let car = car(NOW, 33.0, 80.0, &gaps);
    // 205 wide, 8 mm more offset, 646 across: half of 20 is 10; outward 10 − 8 = 2, inward 10 + 8 = 18; 3 mm more all round.
    let then = other(Sizes { width: 205.0, across: 646.0, rim: 381.0, offset: 28.0 });
    let found = in_opening(&car, Corner::FL, Some(&then), &Standing::AS_MEASURED).unwrap();
    let [outer, inner] = found.edges.unwrap();
    assert_eq!((outer.value, inner.value), (2.0, 18.0));
    for (place, now, then) in [
        (GapPlace::FenderOuter, 24.0, 22.0),
        (GapPlace::Spring, 31.0, 13.0),
        (GapPlace::Ahead, 60.0, 57.0),
        (GapPlace::Above, 90.0, 87.0),
    ] {
        assert_eq!(told(&found, place, WheelState::AtRest), (now, Some(then)), "{place:?}");
    }
    // Both widths by caliper (1 mm each), both offsets (1 each), the gap 1.5: √(0.5 + 2 + 2.25) = 2.18, so ±4.
    let lip = found.gaps.iter().find(|gap| gap.place == GapPlace::FenderOuter).unwrap();
    assert!((lip.then.unwrap().u - 4.75_f64.sqrt()).abs() < 1e-9);
    // 60 ahead and 50 behind: 5 mm behind the middle.
    assert_eq!(found.behind_middle.unwrap().value, 5.0);
    // Face 80 from the kingpin, 20 of offset: 60 at the hub; 8 mm more offset makes 8 mm less of scrub, and 3 mm of radius 3·tan 7° = 0.37 more less.
    let (now, then) = found.scrub.unwrap();
    assert!((then.unwrap().value - now.value + 8.37).abs() < 0.05, "{now:?} {then:?}");
}

#[test]
fn what_was_measured_at_bump_and_lock_wins_and_only_the_change_is_reckoned() {
    let gaps = json!({"frame": {"at_rest_mm": 120, "at_lock_mm": 7}, "above": {"at_rest_mm": 90, "at_bump_mm": 20}});
    let car = car(NOW, 33.0, 80.0, &gaps);
    let same = in_opening(&car, Corner::FL, None, &Standing::AS_MEASURED).unwrap();
    assert_eq!(told(&same, GapPlace::Frame, WheelState::FullLock), (7.0, None));
    assert_eq!(told(&same, GapPlace::Above, WheelState::FullBump), (20.0, None));
    let then = other(Sizes { width: 205.0, across: 646.0, rim: 381.0, offset: 28.0 });
    let found = in_opening(&car, Corner::FL, Some(&then), &Standing::AS_MEASURED).unwrap();
    assert_eq!(told(&found, GapPlace::Above, WheelState::FullBump), (20.0, Some(17.0)));
    // Rounding of the present tire 129.5/3 = 43.17, of the other (646 − 380)/6: inward at 33° (sin 0.54464, cos 0.83867):
    // now −60·c + (320 − 43.17)·s + (92.5 − 43.17)·c + 43.17 = 184.99; then −52·c + (323 − ρ)·s + (102.5 − ρ)·c + ρ.
    let rim = found.other.as_ref().unwrap().rim_diameter_mm;
    let (sin, cos) = (Angle::deg(33.0).sin(), Angle::deg(33.0).cos());
    let round = (646.0 - rim) / 6.0;
    let now = -60.0 * cos + (320.0 - 259.0 / 6.0) * sin + (92.5 - 259.0 / 6.0) * cos + 259.0 / 6.0;
    let other = -52.0 * cos + (323.0 - round) * sin + (102.5 - round) * cos + round;
    let (_, then) = told(&found, GapPlace::Frame, WheelState::FullLock);
    assert!((then.unwrap() - (7.0 + now - other)).abs() < 1e-6, "{then:?}");
    assert!(then.unwrap() < 0.0, "it touches before its lock");
    let frame = found.gaps.iter().find(|gap| gap.state == WheelState::FullLock).unwrap();
    let [from, lock] = frame.from_deg.unwrap();
    assert!(lock == 33.0 && from < 33.0 && from > 15.0, "{from}");
}

#[test]
fn without_an_offset_nothing_sideways_is_told_of_another_wheel() {
    let gaps = json!({"fender_outer": {"at_rest_mm": 24}, "above": {"at_rest_mm": 90}});
    let mut car = car(NOW, 33.0, 80.0, &gaps);
    if let Some(wheel) = car.fitment.as_mut().and_then(|fitment| fitment.wheels.get_mut(&Corner::FL)) {
        wheel.rim.offset_mm = None;
    }
    let then = other(Sizes { width: 205.0, across: 646.0, rim: 381.0, offset: 28.0 });
    let found = in_opening(&car, Corner::FL, Some(&then), &Standing::AS_MEASURED).unwrap();
    assert_eq!(found.edges, None);
    assert_eq!(told(&found, GapPlace::FenderOuter, WheelState::AtRest), (24.0, None));
    assert_eq!(told(&found, GapPlace::Above, WheelState::AtRest), (90.0, Some(87.0)));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(30))]

    /// The gap with the wheel up stands as a wall (or a post) beside the longest and widest cut of the tire.
    #[test]
    fn at_full_lock_and_bump_the_bound_is_what_polygons_say(
        now in sizes(), then in sizes(), lock in 15.0..42.0_f64, kingpin in -20.0..140.0_f64, gap in 60.0..260.0_f64,
        closer in -10.0..40.0_f64, along in -120.0..120.0_f64, high in 150.0..450.0_f64,
    ) {
        let face = kingpin + now.offset;
        let up = gap - closer;
        let gaps = json!({"frame": {"at_rest_mm": gap, "at_bump_mm": up, "height_mm": high}, "rod": {"at_rest_mm": gap, "at_bump_mm": up, "along_mm": along},
            "ahead": {"at_rest_mm": gap, "at_bump_mm": up}, "behind": {"at_rest_mm": gap}, "above": {"at_rest_mm": 90, "at_bump_mm": 21}});
        let car = car(now, lock, face, &gaps);
        let other = other(then);
        let found = in_opening(&car, Corner::FL, Some(&other), &Standing::AS_MEASURED).unwrap();
        let rim = found.other.as_ref().unwrap().rim_diameter_mm;
        let out = kingpin + now.offset - then.offset;
        let inner = kingpin - now.width / 2.0 - up;
        let (mine, theirs) = (tire(now.across, now.width, now.rim, kingpin, 0.0), tire(then.across, then.width, rim, out, 0.0));
        let state = WheelState::FullLockAndBump;
        let wall = Line::new((-2_000.0, inner), (2_000.0, inner));
        let edge = now.across / 2.0 + up;
        let edge = Line::new((edge, -2_000.0), (edge, 2_000.0));
        let (frame, frame_then) = told(&found, GapPlace::Frame, state);
        prop_assert!((frame.max(0.0) - least(&mine, lock, |tire| Euclidean.distance(&wall, tire))).abs() < 0.1);
        prop_assert!((frame_then.unwrap().max(0.0) - least(&theirs, lock, |tire| Euclidean.distance(&wall, tire))).abs() < 0.1);
        let ahead = told(&found, GapPlace::Ahead, state).1.unwrap();
        prop_assert!((ahead.max(0.0) - least(&theirs, lock, |tire| Euclidean.distance(&edge, tire))).abs() < 0.1);
        let post = Point::new(along, inner);
        let rod = told(&found, GapPlace::Rod, state).1.unwrap();
        let beside = |tire: &Polygon| if tire.contains(&post) { 0.0 } else { Euclidean.distance(&post, tire) };
        prop_assert!((rod.max(0.0) - least(&theirs, lock, beside)).abs() < 0.2);
        prop_assert_eq!(told(&found, GapPlace::Above, state).0, 21.0);
        for gap in found.gaps.iter().filter(|gap| gap.state == state) {
            // The edge of an opening comes nearer upward: where nobody measured it with the wheel up, nothing is told.
            prop_assert!(gap.place != GapPlace::Behind && gap.basis == GapBasis::AtLeast);
            prop_assert!(gap.verdict(true) != Some(Verdict::Touches) && gap.verdict(false) != Some(Verdict::Touches));
        }
    }
}

#[test]
fn lock_and_bump_together_by_hand_from_both_that_were_measured() {
    // At bump 6 nearer than at rest: 7 at lock become 1 with both, for a wall of which no height is known.
    let gaps = json!({"frame": {"at_rest_mm": 120, "at_bump_mm": 114, "at_lock_mm": 7}, "above": {"at_rest_mm": 90}});
    let car = car(NOW, 33.0, 80.0, &gaps);
    let found = in_opening(&car, Corner::FL, None, &Standing::AS_MEASURED).unwrap();
    assert!((told(&found, GapPlace::Frame, WheelState::FullLockAndBump).0 - 1.0).abs() < 1e-9);
    // Three readings of 1.5 and 2 for the change: √(3·1.5² + 2²) = 3.279.
    let both = found.gaps.iter().find(|gap| gap.state == WheelState::FullLockAndBump).unwrap();
    assert!((both.now.u - 10.75_f64.sqrt()).abs() < 1e-6, "{both:?}");
    // How far it goes up is not known, so nothing is told over the tread; a rear wheel does not steer.
    assert!(!found.gaps.iter().any(|gap| gap.place == GapPlace::Above && gap.state == WheelState::FullLockAndBump));
    assert_eq!(WheelState::FullLockAndBump.words(), "full lock and bump");
}
