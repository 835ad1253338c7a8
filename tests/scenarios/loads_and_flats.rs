//! Flat tires and load cases of simulated cars: what the checks say against where the springs and tires of the model come to rest.

use crate::simulator::{Car, Ground, Noise, Work, measure, seeded};
use serde_json::{Value, json};
use trueground_core::capture::CarFile;
use trueground_core::car::Vehicle;
use trueground_core::checks::{AtStance, BodyMove, Changed, Finding, LoadCase, Which, at_stance, findings};
use trueground_core::corner::Corners;
use trueground_core::level::{Options, solve};
use trueground_core::uncertainty::Quantity;

const RIM_MM: f64 = 406.4;
/// Flange over the bead seat, and rubber left under it; as `data/README.md` has them.
const FLANGE_MM: f64 = 12.7;
const RUBBER_MM: f64 = 18.0;

/// Name, what it goes with, x, y, z.
type Low = (&'static str, &'static str, f64, f64, f64);

fn low_points(car: &Car) -> Vec<Low> {
    let wheelbase = car.wheelbase;
    vec![
        ("pan", "body", -560.0, 40.0, 180.0),
        ("exhaust", "body", -1120.0, 380.0, 140.0),
        ("nose", "body", 450.0, 0.0, 290.0),
        ("tail", "body", -wheelbase - 700.0, -250.0, 320.0),
        ("tie_rod", "front_axle", -95.0, 300.0, 205.0),
        ("diff", "rear_axle", -wheelbase, 60.0, 196.0),
    ]
}

fn vehicle_json(car: &Car) -> Value {
    let tire = |free: f64| json!({"designation": "6.00-16", "free_diameter_mm": free, "rim_diameter_mm": RIM_MM, "nominal_pressure_kpa": 200.0});
    let (front, rear) = (tire(2.0 * car.front.loaded_radius + 24.0), tire(2.0 * car.rear.loaded_radius + 24.0));
    let rate = |spring: f64, tire: f64| json!({"axle_ride_rate_n_per_mm": {"value": 2.0 * spring * tire / (spring + tire), "rel_u": 0.1}});
    let low: Vec<Value> = low_points(car)
        .into_iter()
        .map(|(id, attach, x, y, z)| json!({"id": id, "attach": attach, "x_mm": x, "y_mm": y, "z_mm": z}))
        .collect();
    json!({"tires": {"FL": front, "FR": front, "RL": rear, "RR": rear}, "clearance_points": low,
        "suspension": {"front": rate(car.front.spring_rate, car.front.tire_rate), "rear": rate(car.rear.spring_rate, car.rear.tire_rate)}})
}

fn with_parts(car: &Car, mut vehicle: Value) -> Vehicle {
    for (key, value) in vehicle_json(car).as_object().expect("parts") {
        vehicle[key] = value.clone();
    }
    serde_json::from_value(vehicle).expect("a vehicle")
}

fn found<'f>(found: &'f [Finding], what: &str) -> &'f Finding {
    found.iter().find(|finding| finding.what == what).unwrap_or_else(|| panic!("no {what} in {found:?}"))
}

/// How far a point rises where the model comes to rest so.
fn rise(car: &Car, rest: [f64; 7], (_, attach, x, y, _): Low) -> f64 {
    let behind = -x / car.wheelbase;
    match attach {
        "body" => rest[0] * (1.0 - behind) + rest[1] * behind + rest[2] * y,
        "front_axle" => rest[3] + rest[4] * y,
        _ => rest[5] + rest[6] * y,
    }
}

#[test]
fn flat_tires_of_many_cars_stand_as_the_model_comes_to_rest() {
    let mut rng = seeded(20_310);
    let (mut worst, mut square, mut count) = (0.0_f64, 0.0, 0.0_f64);
    for _ in 0..60 {
        let car = Car::random(&mut rng);
        let (share, gain) = car.roll_share_and_gain();
        let bare = json!({"label": "x", "wheelbase_mm": car.wheelbase, "track_front_mm": car.front.track, "track_rear_mm": car.rear.track});
        let vehicle = with_parts(&car, bare);
        let none = Quantity::exact(0.0);
        let radius = [car.front.loaded_radius, car.rear.loaded_radius].map(Quantity::exact);
        let stance = AtStance {
            vehicle: &vehicle,
            body: BodyMove::none(&vehicle),
            since: Default::default(),
            changed: Changed::NOTHING,
            loaded_radius: Corners { FL: radius[0], FR: radius[0], RL: radius[1], RR: radius[1] },
            axle_rise: [none, none],
            roll_share_front: Quantity::exact(share),
            lean_gain: Quantity::exact(gain),
            aboard: Vec::new(),
            ground: None,
            grounds: &[],
            rail: None,
            rules: Vec::new(),
            wanted_clearance_mm: None,
        };
        let told = findings(&stance, &["flat_tire"]);
        for (case, wheels) in [
            ("FL", [1.0, 0.0, 0.0, 0.0]),
            ("FR", [0.0, 1.0, 0.0, 0.0]),
            ("RL", [0.0, 0.0, 1.0, 0.0]),
            ("RR", [0.0, 0.0, 0.0, 1.0]),
            ("left side", [1.0, 0.0, 1.0, 0.0]),
            ("right side", [0.0, 1.0, 0.0, 1.0]),
        ] {
            let drop = |rubber: f64| {
                let of = |wheel: usize| if wheel < 2 { car.front.loaded_radius } else { car.rear.loaded_radius };
                std::array::from_fn(|wheel| -wheels[wheel] * (of(wheel) - RIM_MM / 2.0 - FLANGE_MM - rubber).max(0.0))
            };
            let flat = car.rest(drop(RUBBER_MM), &[]);
            let rim = car.rest(drop(0.0), &[]);
            let mut lowest = f64::INFINITY;
            for low in low_points(&car) {
                let apart = found(&told, &format!("{}, {case} flat", low.0)).value - (low.4 + rise(&car, flat, low));
                worst = worst.max(apart.abs());
                square += apart * apart;
                count += 1.0;
                lowest = lowest.min(low.4 + rise(&car, rim, low));
            }
            let apart = found(&told, &format!("{case} on the rim")).value - lowest;
            assert!(apart.abs() < 6.0, "{case} on the rim: {apart} off");
        }
    }
    // The handbook promises 3 mm (u): a share and a gain leave out how far springs and tires give on each axle.
    let rms = (square / count).sqrt();
    assert!(rms < 3.0 && worst < 9.0, "root mean square {rms}, worst {worst}");
}

#[test]
fn what_is_aboard_lets_many_cars_down_as_their_springs_and_tires_give() {
    let mut rng = seeded(20_311);
    let work = Work {
        passes: 2,
        level_under_marks: false,
        both_facings: false,
        bounces: 2,
        rounds: 1,
        gauge: false,
        roll_share_u: Some(0.06),
    };
    for _ in 0..12 {
        let car = Car::random(&mut rng);
        let ground = Ground::random(&mut rng, 12.0);
        let mut file: CarFile = measure(&mut rng, &car, &ground, &Noise::usual(), &work).file;
        let mut vehicle = serde_json::to_value(&file.vehicle).expect("writable");
        vehicle["tank"] = json!({"litres": 60.0, "x_mm": -car.wheelbase - 250.0});
        vehicle["luggage"] = json!({"mass_kg": 55.0, "x_mm": -car.wheelbase - 300.0});
        vehicle["tow_ball"] = json!({"mass_kg": 60.0, "x_mm": -car.wheelbase - 900.0});
        vehicle["seats"] = json!([{"label": "front seat", "x_mm": -1_400.0}]);
        file.vehicle = with_parts(&car, vehicle);
        let solution = solve(&file, &Options::default()).expect("adjustable");
        let first = file.snapshots[0].id.clone();
        let heights = |load| {
            let stance = at_stance(&file, &solution, Which::Snapshot(&first), load, Vec::new()).expect("a stance");
            findings(&stance, &["clearance"])
        };
        let nominal = heights(LoadCase::Nominal);
        for (load, kg, x) in [
            (LoadCase::Driver, 75.0, -1_400.0),
            (LoadCase::TwoUp, 150.0, -1_400.0),
            (LoadCase::TankFull, 22.5, -car.wheelbase - 250.0),
            (LoadCase::Luggage, 55.0, -car.wheelbase - 300.0),
            (LoadCase::Towing, 60.0, -car.wheelbase - 900.0),
        ] {
            let (told, rest) = (heights(load), car.rest([0.0; 4], &[(kg, x, 0.0)]));
            for low in low_points(&car) {
                let (with, without) = (found(&told, low.0), found(&nominal, low.0));
                let (ours, truth) = (with.value - without.value, rise(&car, rest, low));
                // Two tenths of it: springs to a tenth, a tire within 180 to 260 N/mm; and where the weight pitches, a little.
                assert!((ours - truth).abs() < 0.2 * truth.abs() + 0.4, "{load:?}, {}: {ours}, true {truth}", low.0);
                assert!(with.u >= without.u, "a load adds doubt");
            }
        }
    }
}
