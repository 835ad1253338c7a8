//! The exchange file, version 1: what stands in it does not change unasked, and what it does not know comes back.

use serde_json::{Map, Value, json};
use trueground_core::capture::{
    Bounce, CarFile, ConditionPart, Corrected, Correction, Event, Facing, Floor, Footprint, GaugeReading, Instrument,
    LoadChange, Pass, Photo, PhotoSide, Reading, Snapshot, StaffReading, Standing, StraightedgeReading, Struck, Survey,
    Tape,
};
use trueground_core::car::{
    AxleSprings, Estimate, Extent, FittedTire, KnownTwist, Outline, PointKind, RefPoint, RideRate, Suspension, Vehicle,
};
use trueground_core::corner::{Corner, Corners};

/// The file as it is meant to be for ever; a change here is a new version of the format.
const GOLDEN: &str = include_str!("version-1.json");

/// Every field of every type, so that a new one does not compile without being thought of.
fn everything() -> CarFile {
    let unknown = || Map::from_iter([("from_later".to_owned(), json!({"kept": true}))]);
    let struck = || Some(Struck { reason: "wrong edge".into(), at: Some("2031-04-12T14:24:00+02:00".into()) });
    let estimate = |value, u| Estimate { value, u, extra: unknown() };
    let known_twist = || KnownTwist {
        value: -3.6,
        u: 1.8,
        snapshot: None,
        date: None,
        until: None,
        ended_by: None,
        extra: unknown(),
    };
    let axle = || AxleSprings {
        kind: Some("beam, one transverse leaf".into()),
        spring_base_mm: Some(770.0),
        axle_ride_rate_n_per_mm: Some(RideRate { value: 45.8, rel_u: 0.1 }),
        spring: None,
        side_rate_n_per_mm: None,
        bar_nm_per_deg: None,
        extra: unknown(),
    };
    let staff = |point: &str| StaffReading {
        point: point.into(),
        text: "882".into(),
        unit: "mm".into(),
        value_mm: 882.0,
        struck: struck(),
        extra: unknown(),
    };
    let pass = |point: &str| Pass {
        method: None,
        pass_no: 1,
        readings: vec![staff(point)],
        bounce_id: Some("s.bounce1".into()),
        staff_u_mm: Some(0.8),
        instrument: None,
    };
    CarFile {
        vehicle: Vehicle {
            label: "Golden".into(),
            wheelbase_mm: 2665.0,
            track_front_mm: 1392.0,
            track_rear_mm: 1418.0,
            ref_points: vec![RefPoint {
                id: "lip.FL".into(),
                corner: Corner::FL,
                kind: PointKind::FenderLip,
                x_mm: 0.0,
                y_mm: 791.0,
                what: Some("lower edge over the wheel centre".into()),
                retired: false,
                extra: unknown(),
            }],
            tires: Some(Corners::from_fn(|_| FittedTire {
                designation: "6.00-16".into(),
                free_diameter_mm: 714.0,
                rim_diameter_mm: 406.4,
                nominal_pressure_kpa: 210.0,
                extra: unknown(),
            })),
            suspension: Some(Suspension { front: axle(), rear: axle() }),
            nominal_load: Some("fuel tank half full".into()),
            mass_kg_approx: Some(1060.0),
            front_mass_share: None,
            weighed: None,
            tank: None,
            seats: Vec::new(),
            luggage: None,
            tow_ball: None,
            roll_share_front: Some(estimate(0.406, 0.06)),
            lean_gain: Some(estimate(1.102, 0.03)),
            known_twist_mm: [(PointKind::FrameRail, known_twist())].into(),
            outline: Some(Outline::Pickup),
            extent: Extent::default(),
            clearance_points: Vec::new(),
            lamps: Vec::new(),
            lamp: None,
            radius_rod: None,
            drive: None,
            driveline: None,
            attitude: Vec::new(),
            steering: None,
            leaf_packs: trueground_core::car::LeafPacks::default(),
            fitment: None,
            travel: None,
            square: None,
            jacking: None,
            radiator: None,
            steering_box: None,
            pedal: None,
            wanted_caster: None,
            extra: unknown(),
        },
        floors: vec![Floor {
            id: "drive".into(),
            label: "home driveway".into(),
            survey: Some(Survey {
                method: "water level".into(),
                staff_u_mm: 0.8,
                passes: vec![pass("S1")],
                straightedge: vec![StraightedgeReading {
                    from: "S1".into(),
                    to: "S2".into(),
                    angle_deg: 1.4,
                    reversed: true,
                    text: None,
                    u_deg: Some(0.1),
                    struck: None,
                    extra: Map::new(),
                    instrument: None,
                }],
                extra: unknown(),
            }),
            flat_to_mm: Some(10.0),
            footprint: Some(Footprint { wheelbase_mm: 2600.0, track_front_mm: 1400.0, track_rear_mm: 1410.0 }),
            extra: unknown(),
        }],
        snapshots: vec![Snapshot {
            id: "s".into(),
            label: "nose to the street".into(),
            date: "2031-04-12".into(),
            floor: Some("drive".into()),
            facing: Facing::B,
            wheel_on_spot: Some(Corners { FL: "S4".into(), FR: "S3".into(), RL: "S2".into(), RR: "S1".into() }),
            bounces: vec![Bounce {
                bounce_id: "s.bounce1".into(),
                how: Some("rolled and bounced".into()),
                readings: vec![Reading {
                    point: "lip.FL".into(),
                    repeat: 2,
                    text: "27 5/8".into(),
                    unit: "in".into(),
                    value_mm: 701.675,
                    taken_at: Some("2031-04-12T14:20:00+02:00".into()),
                    struck: struck(),
                    instrument: None,
                    extra: unknown(),
                }],
            }],
            odometer_km: Some(48_210.0),
            tire_pressure_kpa: Some(Corners { FL: 210.0, FR: 210.0, RL: 220.0, RR: 220.0 }),
            tires_warm: true,
            air_c: None,
            standing: Standing::MockUp,
            confirmed: Some(vec![ConditionPart::Floor, ConditionPart::Load]),
            load_change_from_nominal: vec![LoadChange {
                label: "tank full".into(),
                mass_kg: 22.0,
                x_mm: -3400.0,
                y_mm: 0.0,
            }],
            angle_gauge: vec![GaugeReading {
                bounce_id: "s.bounce1".into(),
                place: "frame_rail_left".into(),
                reversed: true,
                angle_deg: 2.69,
                text: Some("2.69".into()),
                u_deg: Some(0.07),
                struck: struck(),
                instrument: None,
                extra: unknown(),
            }],
            plane_on_car: vec![pass("on:lip.FL")],
            plates_mm: Some(Corners { FL: 0.0, FR: 16.0, RL: 0.0, RR: 0.0 }),
            corrections: vec![Correction {
                uuid: "01968000-0000-7000-8000-000000000001".into(),
                at: Some("2031-05-03T10:00:00+02:00".into()),
                what: Corrected::Condition,
                reason: "read the wrong line".into(),
                reading: Some("01968000-0000-7000-8000-000000000002".into()),
                field: Some("odometer_km".into()),
                of: Some("01968000-0000-7000-8000-000000000003".into()),
                old: Some(json!(48_120.0)),
                new: Some(json!(48_210.0)),
                text: Some("48210 km".into()),
                extra: unknown(),
            }],
            photos: vec![Photo {
                side: PhotoSide::Left,
                sha256: "b1c73ddc4efd0c0c0ae1d6d0c9e4e0f8c4a43dd0a5d2c9d6bf9a7dbd0fb4a011".into(),
                media_type: "image/jpeg".into(),
                width_px: 2048,
                height_px: 1536,
                size_bytes: 312_004,
                added_at: Some("2031-04-12T14:31:00+02:00".into()),
                taken_off: struck(),
                data: Some("/9j/".into()),
                extra: unknown(),
            }],
            tape: None,
            gauge: None,
            extra: unknown(),
        }],
        instrument: Instrument {
            tape: Tape { unit: "in".into(), den: Some(16), step_mm: None },
            tape_reading_u_mm: 1.2,
            bounce_repeat_u_mm: 1.58,
            extra: unknown(),
        },
        instruments: Vec::new(),
        events: vec![Event {
            date: "2031-05-03".into(),
            odometer_km: Some(48_215.0),
            what: "leaves out".into(),
            resets_settling: true,
            extra: unknown(),
            ..Event::default()
        }],
        event_changes: Vec::new(),
        targets: Vec::new(),
        target_marks: Vec::new(),
        grounds: Vec::new(),
        plans: Vec::new(),
        parts: Vec::new(),
        plan_marks: Vec::new(),
        ticks: Vec::new(),
        ground: None,
        extra: unknown(),
    }
}

#[test]
fn the_format_does_not_change_unasked() {
    let written = serde_json::to_value(everything()).expect("writable");
    let golden: Value = serde_json::from_str(GOLDEN).expect("JSON");
    assert!(
        written == golden,
        "the exchange file has changed; if that is meant, it is a new version of the format. It would now be\n{}",
        serde_json::to_string_pretty(&written).expect("writable")
    );
}

#[test]
fn what_was_written_reads_back() {
    let read: CarFile = serde_json::from_str(GOLDEN).expect("readable");
    assert_eq!(read, everything());
}

/// Tapes and gauges and the readings that name them, as they are meant to be for ever.
#[test]
fn instruments_and_what_names_them_come_back() {
    let said = json!({"vehicle": {"label": "x", "wheelbase_mm": 2600.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0,
            "ref_points": []},
        "floors": [{"id": "f", "label": "", "survey": {"method": "", "staff_u_mm": 1.0,
            "passes": [{"pass_no": 1, "readings": [], "instrument": "t"}],
            "straightedge": [{"from": "S1", "to": "S2", "angle_deg": 0.5, "reversed": false, "instrument": "g"}]}}],
        "snapshots": [{"id": "s", "label": "", "date": "2031-04-12", "floor": "f", "facing": "A",
            "bounces": [{"bounce_id": "b", "readings": [
                {"ref": "hub.FL", "repeat": 1, "text": "14 29/32", "unit": "in", "value_mm": 378.61875, "instrument": "t"}]}],
            "load_change_from_nominal": [],
            "angle_gauge": [{"bounce_id": "b", "where": "frame_front", "reversed": false, "angle_deg": 0.2, "instrument": "g"}],
            "tape": "t", "gauge": "g"}],
        "instrument": {"tape": {"unit": "mm", "step_mm": 1.0}, "tape_reading_u_mm": 1.2, "bounce_repeat_u_mm": 1.6},
        "instruments": [
            {"kind": "tape", "id": "t", "label": "Shop tape", "tape": {"unit": "in", "den": 32}, "length_mm": 3000.0, "class": "II",
                "reading_u_mm": 1.0, "hook_mm": {"value": 1.5, "u": 0.3}, "read_from_mm": 25.4, "checks": [{"date": "2031-04-01",
                "against": "steel rule", "read_mm": 526.0, "true_mm": 500.0, "u_mm": 0.3}], "since": "2031-04-02",
                "replaces": "t0", "from_later": 1},
            {"kind": "angle_gauge", "id": "g", "label": "Gauge", "step_deg": 0.05, "reading_u_deg": 0.05, "checks": [{"date":
                "2031-04-01", "straight_deg": 0.9, "reversed_deg": -0.5, "u_deg": 0.04}], "from_later": 1}]});
    let read: CarFile = serde_json::from_value(said.clone()).expect("readable");
    assert_kept("", &said, &serde_json::to_value(&read).expect("writable"));
    let again: CarFile = serde_json::from_value(serde_json::to_value(&read).expect("writable")).expect("readable");
    assert_eq!(read, again);
}

/// Stances that are wanted, as they are meant to be for ever.
#[test]
fn targets_come_back() {
    let said = json!({"vehicle": {"label": "x", "wheelbase_mm": 2600.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0,
            "ref_points": []}, "floors": [], "snapshots": [],
        "instrument": {"tape": {"unit": "mm", "step_mm": 1.0}, "tape_reading_u_mm": 1.2, "bounce_repeat_u_mm": 1.6},
        "target": {"label": "of version 1", "heights_mm": {"rail.FL": 246.0}, "from_later": 1},
        "targets": [{"id": "t", "label": "low", "heights_mm": {"rail.FL": 246.0}, "tolerance_mm": 6.0,
            "tolerances_mm": {"rail.FL": 3.0}, "limits": [{"points": ["rail.FL"], "lowest_mm": 110.0, "highest_mm": 300.0,
                "rule": "show_class", "says": "open roadsters"}],
            "rake_deg": 2.52, "rake_kind": "frame_rail", "rake_tolerance_deg": 0.25, "side_to_side_tolerance_mm": 6.0,
            "tires": {"front": "5.00-16", "rear": "7.00-16"}, "made": {"from": "snapshot", "snapshot": "s", "date": "2031-04-12"},
            "note": "for the spring show", "since": "2031-04-12", "replaces": "t0", "from_later": 1}],
        "target_marks": [{"uuid": "m", "target": "t", "what": "put_away", "at": "2031-05-01T10:00:00+02:00"}]});
    let read: CarFile = serde_json::from_value(said.clone()).expect("readable");
    assert_kept("", &said, &serde_json::to_value(&read).expect("writable"));
    let again: CarFile = serde_json::from_value(serde_json::to_value(&read).expect("writable")).expect("readable");
    assert_eq!(read, again);
}

/// What is under the car and the ground it meets, as they are meant to be for ever.
#[test]
fn low_points_lamps_links_and_ground_come_back() {
    let said = json!({"vehicle": {"label": "x", "wheelbase_mm": 2600.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0,
            "ref_points": [],
            "clearance_points": [
                {"id": "pan", "label": "oil pan", "attach": "body", "x_mm": -560.0, "y_mm": 30.0, "z_mm": 178.0, "from_later": 1},
                {"id": "tie_rod", "attach": "front_axle", "x_mm": -95.0, "y_mm": 0.0, "z_mm": 205.0}],
            "lamps": [{"id": "low", "kind": "lower beam headlamp", "attach": "body", "x_mm": 240.0, "y_mm": 600.0, "z_mm": 688.0,
                "beam_drop_percent": 1.2, "from_later": 1}],
            "lamp": {"x_mm": 240.0, "z_mm": 688.0, "from_later": 1},
            "radius_rod": {"axle_end_x_mm": 0.0, "frame_pivot_x_mm": -980.0, "length_mm": 980.0, "static_caster_deg": 6.4},
            "drive": {"axle_ratio": 4.11, "top_gear_ratio": 1.0, "from_later": 1},
            "driveline": {"transmission_deg": 3.0, "pinion_deg": 2.5, "front_joint": [-900.0, 420.0],
                "rear_joint": [-2400.0, 395.0], "from_later": 1},
            "attitude": [{"label": "carburetor flange", "nose_down_deg": 1.0, "limit_deg": 3.0, "from_later": 1}]},
        "floors": [], "snapshots": [],
        "instrument": {"tape": {"unit": "mm", "step_mm": 1.0}, "tape_reading_u_mm": 1.2, "bounce_repeat_u_mm": 1.6},
        "ground": {"apron_angle_deg": 9.0, "trailer_ramp_angle_deg": 11.0, "from_later": 1}});
    let read: CarFile = serde_json::from_value(said.clone()).expect("readable");
    let written = serde_json::to_value(&read).expect("writable");
    assert_kept("", &said, &written);
    assert_eq!(read.vehicle.all_lamps().len(), 1, "the list comes before the one lamp of an older file");
    let again: CarFile = serde_json::from_value(written).expect("readable");
    assert_eq!(read, again);
    // What is not said is not written.
    let bare = json!({"label": "x", "wheelbase_mm": 2600.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0, "ref_points": []});
    let vehicle: Vehicle = serde_json::from_value(bare.clone()).expect("readable");
    assert_eq!(serde_json::to_value(vehicle).expect("writable"), bare);
}

/// The demo cars' own files, read and written again: nothing is lost, and what is added are this version's explicit defaults.
#[test]
fn wheels_travel_squareness_jacks_and_radiator_come_back() {
    let later = json!({"kept": true});
    let gap = json!({"at_rest_mm": 24.0, "at_bump_mm": 5.0, "at_lock_mm": 7.0, "height_mm": 590.0, "along_mm": -20.0, "u_mm": 1.0, "from_later": later});
    let axle = json!({"frame_gap_mm": 80.0, "stop_gap_mm": 45.0, "stop_gives_mm": 15.0, "droop_mm": 60.0,
        "shackle": {"length_mm": 75.0, "angle_deg": 45.0, "spring_length_mm": 900.0, "arch_mm": 60.0, "both_ends": true, "from_later": later},
        "shock": {"length_mm": 350.0, "shortest_mm": 290.0, "longest_mm": 440.0, "lean_deg": 15.0, "from_later": later},
        "hose": {"length_mm": 330.0, "span_mm": 240.0, "from_later": later},
        "track_bar": {"length_mm": 800.0, "rise_mm": 10.0, "frame_end": "left", "from_later": later}, "from_later": later});
    let mut file: Value = serde_json::from_str(GOLDEN).expect("JSON");
    for (key, value) in [
        (
            "fitment",
            json!({"wheels": {"FL": {"rim_width_mm": 152.4, "offset_mm": 20.0, "section_width_mm": 185.0, "max_load_kg": 560.0,
                    "gaps": {"fender_outer": gap, "above": {"at_rest_mm": 78.0}}, "from_later": later},
                "RR": {"rim_width_mm": 152.4, "backspacing_mm": 110.0}},
                "steer": {"lock_inner_deg": 33.0, "lock_outer_deg": 28.0, "kingpin_to_face_mm": 78.0, "kingpin_lean_deg": 8.0, "from_later": later},
                "others": [{"label": "205", "axle": "front", "marking": "205/70R15 96T", "rim_width_mm": 177.8, "offset_mm": 28.0,
                    "spacer_mm": 5.0, "free_diameter_mm": 668.0, "from_later": later}], "from_later": later}),
        ),
        ("travel", json!({"front": axle, "from_later": later})),
        (
            "square",
            json!({"wheelbase_left_mm": 2665.0, "wheelbase_right_mm": 2663.0,
                "diagonals": [{"label": "rails", "left_front_to_right_rear_mm": 2500.0, "right_front_to_left_rear_mm": 2502.0, "apart_mm": 2400.0, "from_later": later}],
                "toe_front": {"front_mm": 1400.0, "rear_mm": 1402.5, "apart_mm": 700.0, "from_later": later},
                "toe_rear": {"front_mm": 1420.0, "rear_mm": 1420.0},
                "camber_deg": {"FL": 0.5, "FR": 0.25},
                "caster": {"FL": {"gauge_deg": 6.0, "from_later": later}, "FR": {"steered_deg": 20.0, "camber_out_deg": 2.0, "camber_in_deg": -2.0}},
                "floor": {"rear_higher_deg": 0.5, "left_higher_front_deg": 0.25, "left_higher_rear_deg": 0.0, "u_deg": 0.1, "from_later": later},
                "from_later": later}),
        ),
        (
            "jacking",
            json!({"jacks": [{"label": "trolley", "saddle_low_mm": 85.0, "saddle_high_mm": 450.0, "from_later": later}],
                "points": [{"label": "axle", "attach": "front_axle", "x_mm": 0.0, "y_mm": 300.0, "z_mm": 180.0, "from_later": later}],
                "straps": [{"label": "front pair", "x_mm": 300.0, "pull_kg": 400.0, "down_deg": 40.0, "from_later": later}], "from_later": later}),
        ),
        (
            "radiator",
            json!({"core_height_mm": 500.0, "core_width_mm": 440.0, "sectioned_mm": 75.0, "from_later": later}),
        ),
    ] {
        file["vehicle"][key] = value;
    }
    let read: CarFile = serde_json::from_value(file.clone()).expect("read");
    assert_eq!(trueground_core::validate::vehicle_faults(&read.vehicle), []);
    let fitment = read.vehicle.fitment.as_ref().expect("typed");
    assert_eq!(fitment.wheels[&Corner::FL].gaps.len(), 2);
    assert_kept("", &file, &serde_json::to_value(&read).expect("written"));
}

#[test]
fn the_demo_files_come_back_whole() {
    for text in [
        include_str!("../scenarios/data/demo-01-sloping-drive.json"),
        include_str!("../scenarios/data/demo-02-settling.json"),
        include_str!("../scenarios/data/demo-03-show-target.json"),
    ] {
        let mut scenario: Value = serde_json::from_str(text).expect("JSON");
        let input = scenario["input"].take();
        let file: CarFile = serde_json::from_value(input.clone()).expect("readable");
        assert_kept("", &input, &serde_json::to_value(file).expect("writable"));
    }
}

/// A program that writes `null` for what it does not know means the same as one that leaves it out.
#[test]
fn null_is_not_said() {
    let said = json!({"vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400,
            "ref_points": null, "tires": null, "suspension": null, "roll_share_front": null},
        "floors": null, "instrument": null, "events": null, "snapshots": [{"id": "s", "date": "2031-04-12", "label": null,
            "floor": null, "facing": null, "wheel_on_spot": null, "bounces": null, "odometer_km": null,
            "tire_pressure_kpa": null, "load_change_from_nominal": null, "angle_gauge": null, "plane_on_car": null}]});
    let silent = json!({"vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400},
        "snapshots": [{"id": "s", "date": "2031-04-12"}]});
    let read = |value: Value| serde_json::from_value::<CarFile>(value).expect("readable");
    assert_eq!(read(said), read(silent));
}

fn assert_kept(place: &str, before: &Value, after: &Value) {
    match (before, after) {
        (Value::Object(before), Value::Object(after)) => {
            for (key, value) in before {
                let place = format!("{place}/{key}");
                assert_kept(&place, value, after.get(key).unwrap_or_else(|| panic!("{place} is lost")));
            }
        }
        (Value::Array(before), Value::Array(after)) => {
            assert_eq!(before.len(), after.len(), "{place}");
            for (number, (before, after)) in before.iter().zip(after).enumerate() {
                assert_kept(&format!("{place}/{number}"), before, after);
            }
        }
        (Value::Number(before), Value::Number(after)) => assert_eq!(before.as_f64(), after.as_f64(), "{place}"),
        _ => assert_eq!(before, after, "{place}"),
    }
}
