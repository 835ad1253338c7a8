//! The results a person asks for, each as an expression over the unknowns, found by its path in the reply.

use super::jet::Jet;
use super::observe::twist_of;
use super::unknowns::Model;
use crate::car::PointKind;
use crate::corner::Corner;

/// Standard uncertainty above which a height or mean is undetermined, mm.
const HEIGHT_LIMIT_MM: f64 = 10.0;
/// The same for a twist and for left less right, mm.
const DIFFERENCE_LIMIT_MM: f64 = 20.0;
/// The same for an angle, deg.
const ANGLE_LIMIT_DEG: f64 = 0.5;
/// Marks nearer to each other than this along the car make no rake, mm.
const SHORTEST_RUN_MM: f64 = 100.0;
/// Marks nearer to each other than this across the car make no lean, mm.
const NARROWEST_PAIR_MM: f64 = 5.0;
/// The floor twist supposed where a bound is given for what cannot be told, mm; common practice, no source.
pub(crate) const USUAL_TWIST_MM: f64 = 20.0;

/// One result: what it is made of, and how unsure it may be.
#[derive(Clone, Debug)]
pub(crate) struct Wanted {
    /// Path in the reply: `heights.lip.FL`, `lines.frame_rail.rake_deg`, `floor.twist_mm`.
    pub(crate) path: String,
    /// Value and slopes at the estimate.
    pub(crate) jet: Jet,
    /// Standard uncertainty above which it has no value.
    pub(crate) limit: f64,
    /// Half width if the floor is twisted by [`USUAL_TWIST_MM`].
    pub(crate) half_width: Option<f64>,
    /// True where the floor's twist enters only times a small gain: it is then supposed to be a usual one, not any.
    pub(crate) usual_twist: bool,
    /// How it follows the correction to nominal: front, rear, lean.
    pub(crate) nominal: [f64; 3],
}

impl Wanted {
    fn new(path: String, jet: Jet, limit: f64) -> Self {
        Self { path, jet: jet.merged(), limit, half_width: None, usual_twist: false, nominal: [0.0; 3] }
    }
}

/// Heights of every point read in the snapshot, and radii, lines and floor.
pub(crate) fn wanted(model: &Model, x: &[f64], snapshot: usize, read: &[usize]) -> Vec<Wanted> {
    let mut all: Vec<Wanted> = read.iter().map(|&point| height(model, x, snapshot, point)).collect();
    let stance = model.placements[snapshot].stance;
    for (&corner, &unknown) in &model.stances[stance].radius {
        let path = format!("loaded_radius.{}", Corner::ALL[corner]);
        all.push(Wanted::new(path, model.at(x, unknown), HEIGHT_LIMIT_MM));
    }
    for kind in PointKind::ALL {
        let at = |corner| model.point_at(kind, corner, |point| read.contains(&point));
        let [fl, fr, rl, rr] = Corner::ALL.map(at);
        if let (Some(left), Some(right)) = (fl, fr) {
            pair(model, x, snapshot, kind, ["front_mean_mm", "front_left_minus_right_mm"], (left, right), &mut all);
        }
        if let (Some(left), Some(right)) = (rl, rr) {
            pair(model, x, snapshot, kind, ["rear_mean_mm", "rear_left_minus_right_mm"], (left, right), &mut all);
        }
        if let [Some(fl), Some(fr), Some(rl), Some(rr)] = [fl, fr, rl, rr] {
            line(model, x, snapshot, kind, [fl, fr, rl, rr], &mut all);
        }
    }
    floor(model, x, snapshot, &mut all);
    all
}

fn height(model: &Model, x: &[f64], snapshot: usize, point: usize) -> Wanted {
    let stance = &model.stances[model.placements[snapshot].stance];
    let jet = model.at(x, stance.heights[&point]);
    let ref_point = &model.points[point];
    let mut wanted = Wanted::new(format!("heights.{}", ref_point.id), jet, HEIGHT_LIMIT_MM);
    wanted.half_width = Some(half_width(model, x, ref_point.x_mm, ref_point.y_mm));
    wanted.nominal = nominal_of(model, point);
    wanted
}

/// |y|·|(1 − λ) − σ|·20/t: what the floor's twist does to a point that follows its own share of it.
fn half_width(model: &Model, x: &[f64], x_mm: f64, y_mm: f64) -> f64 {
    let share = x[model.shared.roll_share];
    let sigma = model.sigma(x_mm);
    let track = if sigma < 0.5 { model.track_front_mm } else { model.track_rear_mm };
    y_mm.abs() * ((1.0 - share) - sigma).abs() * USUAL_TWIST_MM / track
}

fn nominal_of(model: &Model, point: usize) -> [f64; 3] {
    let ref_point = &model.points[point];
    let sigma = model.sigma(ref_point.x_mm);
    [1.0 - sigma, sigma, ref_point.y_mm]
}

/// Sum over points with weights, for heights and for the correction alike.
fn combination(model: &Model, x: &[f64], snapshot: usize, terms: &[(usize, f64)]) -> (Jet, [f64; 3]) {
    let stance = &model.stances[model.placements[snapshot].stance];
    let (mut jet, mut nominal) = (Jet::default(), [0.0; 3]);
    for &(point, weight) in terms {
        jet.add(weight, &model.at(x, stance.heights[&point]));
        for (sum, part) in nominal.iter_mut().zip(nominal_of(model, point)) {
            *sum += weight * part;
        }
    }
    (jet, nominal)
}

/// Mean and difference of one end's two points.
fn pair(
    model: &Model,
    x: &[f64],
    snapshot: usize,
    kind: PointKind,
    [mean, difference]: [&str; 2],
    (left, right): (usize, usize),
    all: &mut Vec<Wanted>,
) {
    let path = |name: &str| format!("lines.{}.{name}", kind.code());
    let (jet, nominal) = combination(model, x, snapshot, &[(left, 0.5), (right, 0.5)]);
    all.push(Wanted { nominal, ..Wanted::new(path(mean), jet, HEIGHT_LIMIT_MM) });
    let (jet, nominal) = combination(model, x, snapshot, &[(left, 1.0), (right, -1.0)]);
    let half_width = Some(pair_half_width(model, x, left, right));
    all.push(Wanted { half_width, nominal, ..Wanted::new(path(difference), jet, DIFFERENCE_LIMIT_MM) });
}

fn pair_half_width(model: &Model, x: &[f64], left: usize, right: usize) -> f64 {
    [left, right].iter().map(|&point| half_width(model, x, model.points[point].x_mm, model.points[point].y_mm)).sum()
}

/// What takes all four points.
fn line(model: &Model, x: &[f64], snapshot: usize, kind: PointKind, points: [usize; 4], all: &mut Vec<Wanted>) {
    let [fl, fr, rl, rr] = points;
    let mut add = |name: &str, terms: &[(usize, f64)], limit: f64, half_width: Option<f64>| {
        let (jet, nominal) = combination(model, x, snapshot, terms);
        let path = format!("lines.{}.{name}", kind.code());
        all.push(Wanted { half_width, nominal, ..Wanted::new(path, jet, limit) });
    };
    add("rake_mm", &[(rl, 0.5), (rr, 0.5), (fl, -0.5), (fr, -0.5)], HEIGHT_LIMIT_MM, None);
    let both = pair_half_width(model, x, fl, fr) + pair_half_width(model, x, rl, rr);
    add("twist_mm", &[(fl, 1.0), (fr, -1.0), (rl, -1.0), (rr, 1.0)], DIFFERENCE_LIMIT_MM, Some(both));
    let along = |front: usize, rear: usize| model.points[front].x_mm - model.points[rear].x_mm;
    let across = |left: usize, right: usize| model.points[left].y_mm - model.points[right].y_mm;
    // Marks of another sort may lie anywhere; four that make no rectangle have no rake and no lean.
    let run = along(fl, rl).min(along(fr, rr));
    if run > SHORTEST_RUN_MM {
        all.push(rake_deg(model, x, snapshot, kind, points));
        if across(fl, fr).min(across(rl, rr)) > NARROWEST_PAIR_MM {
            all.push(lean(model, x, snapshot, kind, points));
        }
    }
}

fn rake_deg(model: &Model, x: &[f64], snapshot: usize, kind: PointKind, [fl, fr, rl, rr]: [usize; 4]) -> Wanted {
    let along = |point: usize| model.points[point].x_mm;
    let run = (along(fl) + along(fr) - along(rl) - along(rr)) / 2.0;
    let (rise, nominal) = combination(model, x, snapshot, &[(rl, 0.5), (rr, 0.5), (fl, -0.5), (fr, -0.5)]);
    let slope = rise.value / run;
    let jet = rise.times(1.0 / run).atan_deg();
    let per_mm = 1.0_f64.to_degrees() / (run * (1.0 + slope * slope));
    let path = format!("lines.{}.rake_deg", kind.code());
    Wanted { nominal: nominal.map(|part| part * per_mm), ..Wanted::new(path, jet, ANGLE_LIMIT_DEG) }
}

/// Roll of the body over the front track: α·a_F + (1 − α)·a_R with α = (λ − 1 + σ_R)/(σ_R − σ_F), free of the floor's twist.
fn lean(model: &Model, x: &[f64], snapshot: usize, kind: PointKind, [fl, fr, rl, rr]: [usize; 4]) -> Wanted {
    let apart = |left: usize, right: usize| model.points[left].y_mm - model.points[right].y_mm;
    let sigma = |left: usize, right: usize| model.sigma((model.points[left].x_mm + model.points[right].x_mm) / 2.0);
    let (front, front_nominal) =
        combination(model, x, snapshot, &[(fl, 1.0 / apart(fl, fr)), (fr, -1.0 / apart(fl, fr))]);
    let (rear, rear_nominal) =
        combination(model, x, snapshot, &[(rl, 1.0 / apart(rl, rr)), (rr, -1.0 / apart(rl, rr))]);
    let (sigma_front, sigma_rear) = (sigma(fl, fr), sigma(rl, rr));
    let alpha = model.at(x, model.shared.roll_share).shifted(sigma_rear - 1.0).times(1.0 / (sigma_rear - sigma_front));
    let difference = front.plus(-1.0, &rear);
    let track = model.track_front_mm;
    let jet = alpha.product(&difference).plus(1.0, &rear).times(track);
    let nominal =
        std::array::from_fn(|i| track * (alpha.value * front_nominal[i] + (1.0 - alpha.value) * rear_nominal[i]));
    let path = format!("lines.{}.lean_mm", kind.code());
    Wanted { nominal, usual_twist: true, ..Wanted::new(path, jet, DIFFERENCE_LIMIT_MM) }
}

fn floor(model: &Model, x: &[f64], snapshot: usize, all: &mut Vec<Wanted>) {
    let placement = &model.placements[snapshot];
    let wheels = Corner::ALL.map(|corner| model.wheel(x, placement, corner));
    let mut mean = Jet::default();
    for wheel in &wheels {
        mean.add(0.25, wheel);
    }
    for (corner, wheel) in Corner::ALL.into_iter().zip(&wheels) {
        let path = format!("floor.elevation_mm.{corner}");
        all.push(Wanted::new(path, wheel.clone().plus(-1.0, &mean), HEIGHT_LIMIT_MM));
    }
    let ground = model.ground(x, placement);
    let long = ground.rear.clone().plus(-1.0, &ground.front).times(1.0 / model.wheelbase_mm);
    let mut twist = Wanted::new("floor.twist_mm".into(), twist_of(wheels), DIFFERENCE_LIMIT_MM);
    twist.half_width = Some(USUAL_TWIST_MM);
    all.push(twist);
    for (name, slope) in [
        ("long_slope_deg", long),
        ("cross_slope_front_deg", ground.phi_front),
        ("cross_slope_rear_deg", ground.phi_rear),
    ] {
        all.push(Wanted::new(format!("floor.{name}"), slope.atan_deg(), ANGLE_LIMIT_DEG));
    }
}
