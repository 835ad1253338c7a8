//! A car, a floor and a person with a tape, simulated: an independent road to the truth.
//!
//! Not the engine's formulas: a rigid body on two axles with seven degrees of freedom, at rest where its energy is least
//! (springs, anti-roll bars, tires, and the weights that lean downhill), on a plane with twist, crown and bumps. The model is the
//! one described in `data/README.md`.

use nalgebra::{SMatrix, SVector};
use rand::rngs::StdRng;
use rand::{Rng, SeedableRng};
use rand_distr::{Distribution, StandardNormal};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use trueground_core::capture::CarFile;

const GRAVITY: f64 = 9.80665;
pub(crate) const CORNERS: [&str; 4] = ["FL", "FR", "RL", "RR"];

/// Springs, tires and masses of one axle; N, mm, kg.
#[derive(Clone, Debug)]
pub(crate) struct Axle {
    pub(crate) spring_rate: f64,
    pub(crate) spring_base: f64,
    pub(crate) bar_n_mm_per_rad: f64,
    pub(crate) tire_rate: f64,
    pub(crate) track: f64,
    pub(crate) roll_centre: f64,
    pub(crate) unsprung_kg: f64,
    pub(crate) loaded_radius: f64,
}

/// A car with its true level heights.
#[derive(Clone, Debug)]
pub(crate) struct Car {
    pub(crate) wheelbase: f64,
    pub(crate) sprung_kg: f64,
    pub(crate) cg_behind_front: f64,
    pub(crate) cg_height: f64,
    pub(crate) front: Axle,
    pub(crate) rear: Axle,
    /// Name, corner, kind, x, y, true level height.
    pub(crate) points: Vec<(String, &'static str, &'static str, f64, f64, f64)>,
}

/// A floor: slopes as fractions, mm.
#[derive(Clone, Debug)]
pub(crate) struct Ground {
    pub(crate) long_slope: f64,
    pub(crate) cross_slope: f64,
    pub(crate) twist: f64,
    pub(crate) crown: f64,
    pub(crate) dish: f64,
    /// Waves of the bumps: amplitude, wave numbers, phase.
    pub(crate) bumps: Vec<(f64, f64, f64, f64)>,
    /// Wheelbase and mean track of the car whose floor it is, where another one stands on it.
    pub(crate) marked_by: Option<(f64, f64)>,
}

/// Where the body stands: front height, rear height, roll, over the level state.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Attitude {
    pub(crate) front: f64,
    pub(crate) rear: f64,
    pub(crate) roll: f64,
}

/// Standard deviations of everything that is random.
#[derive(Clone, Debug)]
pub(crate) struct Noise {
    pub(crate) tape: f64,
    pub(crate) tape_zero: f64,
    pub(crate) heave: f64,
    pub(crate) roll: f64,
    pub(crate) staff: f64,
    pub(crate) gauge: f64,
    pub(crate) gauge_zero: f64,
    pub(crate) rail: f64,
    pub(crate) placement: f64,
}

impl Noise {
    /// The noise of the demo cars, with rails as straight as the engine supposes.
    pub(crate) fn usual() -> Self {
        Self {
            tape: 1.2,
            tape_zero: 0.3,
            heave: 1.5,
            roll: 0.87e-3,
            staff: 0.8,
            gauge: 0.05,
            gauge_zero: 0.1,
            rail: 0.05,
            placement: 0.2,
        }
    }
}

/// What the person does.
#[derive(Clone, Debug)]
pub(crate) struct Work {
    pub(crate) passes: usize,
    pub(crate) level_under_marks: bool,
    pub(crate) both_facings: bool,
    pub(crate) bounces: usize,
    pub(crate) rounds: usize,
    pub(crate) gauge: bool,
    /// Standard uncertainty of the stated roll share; `None`: not stated.
    pub(crate) roll_share_u: Option<f64>,
}

pub(crate) fn normal(rng: &mut StdRng, sd: f64) -> f64 {
    let z: f64 = StandardNormal.sample(rng);
    z * sd
}

impl Car {
    /// A car of the kind that this trade builds; its lean gain lies where such cars have it (1.05 to 1.14, common practice, no
    /// source), and a little beyond.
    pub(crate) fn random(rng: &mut StdRng) -> Self {
        loop {
            let car = Self::any(rng);
            if (1.03..1.18).contains(&car.roll_share_and_gain().1) {
                return car;
            }
        }
    }

    fn any(rng: &mut StdRng) -> Self {
        let mut axle = |bar: f64| Axle {
            spring_rate: rng.random_range(18.0..35.0),
            spring_base: rng.random_range(720.0..1150.0),
            bar_n_mm_per_rad: bar,
            tire_rate: rng.random_range(180.0..260.0),
            track: rng.random_range(1280.0..1560.0),
            roll_centre: rng.random_range(80.0..420.0),
            unsprung_kg: rng.random_range(80.0..140.0),
            loaded_radius: rng.random_range(300.0..370.0),
        };
        let front = axle(0.0);
        let rear = axle(0.0);
        let bar = if rng.random_bool(0.3) { rng.random_range(3.0e6..1.0e7) } else { 0.0 };
        let wheelbase: f64 = rng.random_range(2250.0..3000.0);
        let mut car = Self {
            wheelbase,
            sprung_kg: rng.random_range(650.0..1300.0),
            cg_behind_front: wheelbase * rng.random_range(0.42..0.55),
            cg_height: rng.random_range(480.0..640.0),
            front: Axle { bar_n_mm_per_rad: bar, ..front },
            rear,
            points: Vec::new(),
        };
        let (lip_front, lip_rear) = (rng.random_range(560.0..720.0), rng.random_range(550.0..750.0));
        let (rail_front, rail_rear) = (rng.random_range(220.0..400.0), rng.random_range(230.0..440.0));
        for corner in CORNERS {
            let side = if corner.ends_with('L') { 1.0 } else { -1.0 };
            let is_front = corner.starts_with('F');
            let track = if is_front { car.front.track } else { car.rear.track };
            let height = if is_front { lip_front } else { lip_rear } + normal(rng, 3.0);
            let x = if is_front { 0.0 } else { -wheelbase };
            car.points.push((format!("lip.{corner}"), corner, "fender_lip", x, side * (track / 2.0 + 90.0), height));
            let height = if is_front { rail_front } else { rail_rear } + normal(rng, 2.0);
            let x = if is_front { -330.0 } else { 420.0 - wheelbase };
            let y = side * if is_front { 350.0 } else { 460.0 };
            car.points.push((format!("rail.{corner}"), corner, "frame_rail", x, y, height));
        }
        car
    }

    /// At rest on four elevations under the tires, in the car's order.
    pub(crate) fn stand(&self, elevation: [f64; 4]) -> Attitude {
        let rest = self.rest(elevation, &[]);
        Attitude { front: rest[0], rear: rest[1], roll: rest[2] }
    }

    /// At rest on four elevations, carrying masses more `(kg, x, y)`: body front and rear up and roll, then each axle's middle up and roll.
    pub(crate) fn rest(&self, elevation: [f64; 4], masses: &[(f64, f64, f64)]) -> [f64; 7] {
        // Unknowns: body front, body rear, body roll, front axle heave and roll, rear axle heave and roll.
        let mut stiffness = SMatrix::<f64, 7, 7>::zeros();
        let mut load = SVector::<f64, 7>::zeros();
        let mut spring = |i: usize, j: usize, rate: f64| {
            stiffness[(i, i)] += rate;
            stiffness[(j, j)] += rate;
            stiffness[(i, j)] -= rate;
            stiffness[(j, i)] -= rate;
        };
        for (axle, body, heave) in [(&self.front, 0, 3), (&self.rear, 1, 5)] {
            spring(body, heave, 2.0 * axle.spring_rate);
            spring(2, heave + 1, 0.5 * axle.spring_rate * axle.spring_base.powi(2) + axle.bar_n_mm_per_rad);
        }
        let rear_share = self.cg_behind_front / self.wheelbase;
        let mean_roll_centre = self.front.roll_centre * (1.0 - rear_share) + self.rear.roll_centre * rear_share;
        let weight = self.sprung_kg * GRAVITY;
        stiffness[(2, 2)] -= weight * (self.cg_height - mean_roll_centre);
        for (axle, heave, left, right, share) in
            [(&self.front, 3, 0, 1, 1.0 - rear_share), (&self.rear, 5, 2, 3, rear_share)]
        {
            let lift = 2.0 * axle.tire_rate;
            let tilt = 0.5 * axle.tire_rate * axle.track.powi(2);
            stiffness[(heave, heave)] += lift;
            load[heave] += lift * (elevation[left] + elevation[right]) / 2.0;
            stiffness[(heave + 1, heave + 1)] += tilt;
            load[heave + 1] += tilt * (elevation[left] - elevation[right]) / axle.track;
            let leaning = share * weight * axle.roll_centre + axle.unsprung_kg * GRAVITY * axle.loaded_radius;
            stiffness[(heave + 1, heave + 1)] -= leaning;
        }
        // The body's weight, high up, pitches a little further downhill.
        let pitching = weight * self.cg_height / self.wheelbase.powi(2);
        for (i, j, sign) in [(0, 0, 1.0), (1, 1, 1.0), (0, 1, -1.0), (1, 0, -1.0)] {
            stiffness[(i, j)] -= sign * pitching;
        }
        for (kg, x, y) in masses {
            let behind = -x / self.wheelbase;
            for (unknown, part) in [(0, 1.0 - behind), (1, behind), (2, *y)] {
                load[unknown] -= kg * GRAVITY * part;
            }
        }
        stiffness.lu().solve(&load).expect("a car that stands").into()
    }

    /// True roll share and lean gain: the answer to a unit cross slope under one axle.
    pub(crate) fn roll_share_and_gain(&self) -> (f64, f64) {
        let front = self.stand([self.front.track / 2.0, -self.front.track / 2.0, 0.0, 0.0]).roll;
        let rear = self.stand([0.0, 0.0, self.rear.track / 2.0, -self.rear.track / 2.0]).roll;
        (front / (front + rear), front + rear)
    }

    fn rise(&self, attitude: Attitude, x: f64, y: f64) -> f64 {
        let sigma = -x / self.wheelbase;
        attitude.front * (1.0 - sigma) + attitude.rear * sigma + attitude.roll * y
    }
}

impl Ground {
    /// A home drive or slab.
    pub(crate) fn random(rng: &mut StdRng, twist: f64) -> Self {
        let bumps = (0..8)
            .map(|_| {
                let wave = || 2.0 * std::f64::consts::PI;
                let length = rng.random_range(900.0..2600.0);
                let (kx, ky) = (normal(rng, 1.0), normal(rng, 1.0));
                let norm = (kx * kx + ky * ky).sqrt() * length / wave();
                (normal(rng, 0.25), kx / norm, ky / norm, rng.random_range(0.0..wave()))
            })
            .collect();
        Self {
            long_slope: rng.random_range(-0.03..0.03),
            cross_slope: rng.random_range(-0.02..0.02),
            twist,
            crown: normal(rng, 1.5),
            dish: normal(rng, 1.5),
            bumps,
            marked_by: None,
        }
    }

    /// The same ground, marked out by `owner`, for another car to stand on.
    pub(crate) fn of(&self, owner: &Car) -> Self {
        let track = (owner.front.track + owner.rear.track) / 2.0;
        Self { marked_by: Some((owner.wheelbase, track)), ..self.clone() }
    }

    /// Elevation at a place of the floor's axes for a car of these measures, mm.
    pub(crate) fn elevation(&self, car: &Car, x: f64, y: f64) -> f64 {
        let own = (car.wheelbase, (car.front.track + car.rear.track) / 2.0);
        let (wheelbase, track) = self.marked_by.unwrap_or(own);
        let s = -x / wheelbase;
        let bump: f64 = self.bumps.iter().map(|&(a, kx, ky, phase)| a * libm::sin(kx * x + ky * y + phase)).sum();
        -self.long_slope * x
            + self.cross_slope * y
            + self.twist * (y / track) * (0.5 - s)
            + self.crown * (1.0 - (2.0 * y / track).powi(2))
            + self.dish * (1.0 - (2.0 * (x + wheelbase / 2.0) / wheelbase).powi(2))
            + bump
    }
}

/// A file as the person would have it, and the true level heights by point.
pub(crate) struct Simulated {
    pub(crate) file: CarFile,
    pub(crate) heights: BTreeMap<String, f64>,
    pub(crate) twist: f64,
}

/// One day's work on one floor.
pub(crate) fn measure(rng: &mut StdRng, car: &Car, ground: &Ground, noise: &Noise, work: &Work) -> Simulated {
    let (share, gain) = car.roll_share_and_gain();
    let tape_zero = normal(rng, noise.tape_zero);
    let gauge_zero = normal(rng, noise.gauge_zero);
    let rails = [normal(rng, noise.rail), normal(rng, noise.rail)];
    let wheel = |corner: usize| {
        let (x, track) = if corner < 2 { (0.0, car.front.track) } else { (-car.wheelbase, car.rear.track) };
        (x, if corner.is_multiple_of(2) { track / 2.0 } else { -track / 2.0 })
    };
    let on_floor = |(x, y): (f64, f64), turned: bool| if turned { (-car.wheelbase - x, -y) } else { (x, y) };

    let mut snapshots = Vec::new();
    let facings: &[bool] = if work.both_facings { &[false, true] } else { &[false] };
    let mut twist = 0.0;
    for &turned in facings {
        let under: [f64; 4] = std::array::from_fn(|corner| {
            let (x, y) = on_floor(wheel(corner), turned);
            ground.elevation(car, x, y) + normal(rng, noise.placement)
        });
        if !turned {
            twist = under[0] - under[1] - under[2] + under[3];
        }
        let at_rest = car.stand(under);
        let mut bounces = Vec::new();
        let mut gauges = Vec::new();
        for number in 1..=work.bounces {
            let bounce = Attitude {
                front: at_rest.front + normal(rng, noise.heave),
                rear: at_rest.rear + normal(rng, noise.heave),
                roll: at_rest.roll + normal(rng, noise.roll),
            };
            let id = format!("{}.bounce{number}", if turned { "b" } else { "a" });
            let readings: Vec<Value> = (1..=work.rounds)
                .flat_map(|round| car.points.iter().map(move |point| (round, point)))
                .map(|(round, (name, _, _, x, y, level))| {
                    let (floor_x, floor_y) = on_floor((*x, *y), turned);
                    let true_height = level + car.rise(bounce, *x, *y) - ground.elevation(car, floor_x, floor_y);
                    let read = (true_height + tape_zero + normal(rng, noise.tape)).round();
                    json!({"ref": name, "repeat": round, "text": format!("{read}"), "unit": "mm", "value_mm": read})
                })
                .collect();
            bounces.push(json!({"bounce_id": id, "readings": readings}));
            if work.gauge {
                for (side, word) in [(0, "left"), (1, "right")] {
                    let point = |front: bool| {
                        let corner = CORNERS[if front { side } else { side + 2 }];
                        car.points.iter().find(|p| p.1 == corner && p.2 == "frame_rail").expect("rails")
                    };
                    let (front, rear) = (point(true), point(false));
                    let z = |p: &(String, &str, &str, f64, f64, f64)| p.5 + car.rise(bounce, p.3, p.4);
                    let true_deg = libm::atan((z(rear) - z(front)) / (front.3 - rear.3)).to_degrees() + rails[side];
                    for reversed in [false, true] {
                        let zero = if reversed { -gauge_zero } else { gauge_zero };
                        let read = ((true_deg + zero + normal(rng, noise.gauge)) * 100.0).round() / 100.0;
                        gauges.push(json!({"bounce_id": id, "where": format!("frame_rail_{word}"), "reversed": reversed, "angle_deg": read}));
                    }
                }
            }
        }
        let facing = if turned { "B" } else { "A" };
        snapshots.push(json!({"id": facing, "date": "2031-04-12", "floor": "f", "facing": facing, "bounces": bounces, "angle_gauge": gauges}));
    }

    let passes: Vec<Value> = (1..=work.passes)
        .map(|number| {
            let plane = rng.random_range(850.0..1100.0);
            let mut staff = |name: String, x: f64, y: f64| {
                let read = (plane - ground.elevation(car, x, y) + normal(rng, noise.staff)).round();
                json!({"point": name, "text": format!("{read}"), "unit": "mm", "value_mm": read})
            };
            let mut readings: Vec<Value> =
                (0..4).map(|k| staff(format!("S{}", k + 1), wheel(k).0, wheel(k).1)).collect();
            if work.level_under_marks {
                readings.extend(car.points.iter().map(|p| staff(format!("under:{}", p.0), p.3, p.4)));
            }
            json!({"pass_no": number, "readings": readings})
        })
        .collect();
    let survey = if work.passes > 0 {
        json!({"method": "water level", "staff_u_mm": noise.staff, "passes": passes})
    } else {
        Value::Null
    };
    let stated =
        |truth: f64, u: f64, rng: &mut StdRng| json!({"value": (truth + normal(rng, u)).clamp(0.01, 1.6), "u": u});
    let points: Vec<Value> = car
        .points
        .iter()
        .map(|(name, corner, kind, x, y, _)| json!({"id": name, "corner": corner, "kind": kind, "x_mm": x, "y_mm": y}))
        .collect();
    let mut vehicle = json!({"label": "simulated", "wheelbase_mm": car.wheelbase, "track_front_mm": car.front.track,
        "track_rear_mm": car.rear.track, "ref_points": points});
    if let Some(u) = work.roll_share_u {
        vehicle["roll_share_front"] = stated(share, u, rng);
        vehicle["lean_gain"] = stated(gain, 0.03, rng);
    }
    let file = json!({"vehicle": vehicle, "floors": [{"id": "f", "survey": survey}], "snapshots": snapshots,
        "instrument": {"tape": {"unit": "mm", "step_mm": 1.0}, "tape_reading_u_mm": noise.tape, "bounce_repeat_u_mm": 1.58}});
    Simulated {
        file: serde_json::from_value(file).expect("a file"),
        heights: car.points.iter().map(|p| (p.0.clone(), p.5)).collect(),
        twist,
    }
}

/// The same every time.
pub(crate) fn seeded(seed: u64) -> StdRng {
    StdRng::seed_from_u64(seed)
}
