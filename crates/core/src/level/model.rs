//! The car on its floors: which unknowns there are, and how heights follow from them.
//!
//! Symbols as in `docs/method.md`: σ = −x/L along the car, s = −X/L along the floor, f the elevations of the four spots,
//! φ cross slopes, λ roll share, γ lean gain, H level heights.

use super::Problem;
use super::jet::Jet;
use crate::capture::{CarFile, Facing, Snapshot};
use crate::car::{PointKind, RefPoint};
use crate::corner::Corner;
use std::collections::BTreeMap;

/// Part of the system an unknown belongs to: shared by all, or one stance's own.
pub(crate) const SHARED: usize = 0;

/// All unknowns with their blocks, and where each stands.
#[derive(Clone, Debug, Default)]
pub(crate) struct Unknowns {
    /// Block of each unknown: [`SHARED`], or 1 + the stance's number.
    pub(crate) block: Vec<usize>,
}

impl Unknowns {
    fn add(&mut self, block: usize) -> usize {
        self.block.push(block);
        self.block.len() - 1
    }

    fn add_many<const N: usize>(&mut self, block: usize) -> [usize; N] {
        std::array::from_fn(|_| self.add(block))
    }

    /// Size of the largest block.
    pub(crate) fn largest_block(&self) -> Option<usize> {
        let mut sizes = BTreeMap::new();
        for &block in &self.block {
            *sizes.entry(block).or_insert(0) += 1;
        }
        sizes.into_values().max()
    }

    /// How many there are.
    pub(crate) fn len(&self) -> usize {
        self.block.len()
    }
}

/// Unknowns that all snapshots share.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SharedUnknowns {
    pub(crate) roll_share: usize,
    pub(crate) lean_gain: usize,
    pub(crate) pitch_gain: usize,
    pub(crate) tape_zero: usize,
    pub(crate) gauge_zero: usize,
    /// Straightness of the left and of the right rail, deg.
    pub(crate) rail: [usize; 2],
}

/// A floor in the system.
#[derive(Clone, Debug)]
pub(crate) struct FloorUnknowns {
    /// Elevations of S1 to S4, mm.
    pub(crate) spots: [usize; 4],
    /// Crown across and dish along, mm.
    pub(crate) crown: usize,
    pub(crate) dish: usize,
    /// Distinct places where the floor itself was touched: (X, Y) and the local bump there.
    pub(crate) bumps: Vec<((f64, f64), usize)>,
    /// Bump under the hub's plumb line, by facing and corner.
    pub(crate) hub_bumps: BTreeMap<(bool, usize), usize>,
    /// One plane constant a pass.
    pub(crate) planes: Vec<usize>,
    block: usize,
}

/// A stance in the system: snapshots of one day and one condition share it.
#[derive(Clone, Debug, Default)]
pub(crate) struct StanceUnknowns {
    /// Level height by number of the point.
    pub(crate) heights: BTreeMap<usize, usize>,
    /// Static loaded radius by corner.
    pub(crate) radius: BTreeMap<usize, usize>,
}

/// A snapshot in the system.
#[derive(Clone, Debug)]
pub(crate) struct Placement {
    /// Number of its stance.
    pub(crate) stance: usize,
    /// Number of its floor.
    pub(crate) floor: usize,
    /// Turned end for end.
    pub(crate) turned: bool,
    /// Residual of each wheel on its spot, mm.
    pub(crate) wheels: [usize; 4],
    /// Plates under the wheels, mm.
    pub(crate) plates_mm: [f64; 4],
    /// Front heave, rear heave, roll of each bounce.
    pub(crate) bounces: Vec<[usize; 3]>,
    /// Plane constants of its own set-ups.
    pub(crate) planes: Vec<usize>,
}

/// The whole system of one car file.
#[derive(Clone, Debug)]
pub(crate) struct Model {
    pub(crate) wheelbase_mm: f64,
    pub(crate) track_front_mm: f64,
    pub(crate) track_rear_mm: f64,
    /// The car's points, then stand-ins for rails that carry a gauge but no mark.
    pub(crate) points: Vec<RefPoint>,
    pub(crate) unknowns: Unknowns,
    pub(crate) shared: SharedUnknowns,
    pub(crate) floors: Vec<FloorUnknowns>,
    pub(crate) stances: Vec<StanceUnknowns>,
    pub(crate) placements: Vec<Placement>,
    /// The car's own twist by kind, where it is carried from date to date.
    pub(crate) carried_twist: BTreeMap<PointKind, usize>,
}

/// What the wheels stand on, in the car's order.
pub(crate) struct Ground {
    pub(crate) front: Jet,
    pub(crate) rear: Jet,
    pub(crate) phi_front: Jet,
    pub(crate) phi_rear: Jet,
}

/// How the body follows the ground of one placement, worked out once for all of its points: the four parts of D.
pub(crate) struct Footing {
    /// e_F, then the factors of σ, of σ − ½ and of y.
    parts: [f64; 4],
    /// Each unknown once, with the slopes of the four parts.
    slopes: Vec<(usize, [f64; 4])>,
}

impl Footing {
    fn of(parts: [Jet; 4]) -> Self {
        let values = [parts[0].value, parts[1].value, parts[2].value, parts[3].value];
        let mut slopes: Vec<(usize, [f64; 4])> = Vec::new();
        for (number, part) in parts.iter().enumerate() {
            for &(unknown, slope) in &part.slopes {
                match slopes.iter_mut().find(|(known, _)| *known == unknown) {
                    Some((_, all)) => all[number] += slope,
                    None => {
                        let mut all = [0.0; 4];
                        all[number] = slope;
                        slopes.push((unknown, all));
                    }
                }
            }
        }
        Self { parts: values, slopes }
    }

    /// D at a place of the car, mm.
    fn at(&self, sigma: f64, y_mm: f64) -> Jet {
        let weights = [1.0, sigma, sigma - 0.5, y_mm];
        let sum = |of: &[f64; 4]| of.iter().zip(weights).map(|(part, weight)| part * weight).sum::<f64>();
        let mut slopes = Vec::with_capacity(self.slopes.len() + 16);
        slopes.extend(self.slopes.iter().map(|(unknown, all)| (*unknown, sum(all))));
        Jet { value: sum(&self.parts), slopes }
    }
}

impl Model {
    /// Lays out the unknowns of a checked file. `names` lists the floors in the file's order, then one for each snapshot
    /// that stands nowhere in particular.
    pub(crate) fn new(file: &CarFile) -> Result<Self, Problem> {
        let vehicle = &file.vehicle;
        let mut unknowns = Unknowns::default();
        let [roll_share, lean_gain, pitch_gain, tape_zero, gauge_zero, left, right] = unknowns.add_many(SHARED);
        let shared = SharedUnknowns { roll_share, lean_gain, pitch_gain, tape_zero, gauge_zero, rail: [left, right] };

        let stance_of = group_stances(&file.snapshots);
        let stance_count = stance_of.iter().max().map_or(0, |last| last + 1);
        let mut model = Self {
            wheelbase_mm: vehicle.wheelbase_mm,
            track_front_mm: vehicle.track_front_mm,
            track_rear_mm: vehicle.track_rear_mm,
            points: vehicle.ref_points.clone(),
            unknowns,
            shared,
            floors: Vec::new(),
            stances: vec![StanceUnknowns::default(); stance_count],
            placements: Vec::new(),
            carried_twist: BTreeMap::new(),
        };
        model.add_stand_in_rails(file);
        model.add_floors(file, &stance_of);
        model.add_placements(file, &stance_of)?;
        Ok(model)
    }

    /// Number of the point called `id`.
    pub(crate) fn point(&self, id: &str) -> Option<usize> {
        self.points.iter().position(|point| point.id == id)
    }

    /// The point of `kind` at `corner`, the first if there are several.
    pub(crate) fn point_at(&self, kind: PointKind, corner: Corner) -> Option<usize> {
        self.points.iter().position(|point| point.kind == kind && point.corner == corner)
    }

    /// σ of a place on the car: 0 at the front axle, 1 at the rear.
    pub(crate) fn sigma(&self, x_mm: f64) -> f64 {
        -x_mm / self.wheelbase_mm
    }

    /// Where a place on the car lies on the floor's axes, which are the car's when it stands as first.
    pub(crate) fn on_floor(&self, x_mm: f64, y_mm: f64, turned: bool) -> (f64, f64) {
        if turned { (-self.wheelbase_mm - x_mm, -y_mm) } else { (x_mm, y_mm) }
    }

    /// Places of the wheels, or spots, in the car's axes.
    pub(crate) fn wheel_place(&self, corner: Corner) -> (f64, f64) {
        let (x, track) =
            if corner.is_front() { (0.0, self.track_front_mm) } else { (-self.wheelbase_mm, self.track_rear_mm) };
        (x, if corner.is_left() { track / 2.0 } else { -track / 2.0 })
    }

    /// An unknown as an expression.
    pub(crate) fn at(&self, x: &[f64], unknown: usize) -> Jet {
        Jet::unknown(unknown, x[unknown])
    }

    /// The floor's twisted plane at a place of its own axes, without crown and bumps, mm.
    pub(crate) fn warp(&self, x: &[f64], floor: usize, (along, across): (f64, f64)) -> Jet {
        let s = -along / self.wheelbase_mm;
        let (half_front, half_rear) = (across / self.track_front_mm, across / self.track_rear_mm);
        let weights = [
            (1.0 - s) * (0.5 + half_front),
            (1.0 - s) * (0.5 - half_front),
            s * (0.5 + half_rear),
            s * (0.5 - half_rear),
        ];
        let mut elevation = Jet::default();
        for (spot, weight) in self.floors[floor].spots.into_iter().zip(weights) {
            elevation.add_unknown(weight, spot, x);
        }
        elevation
    }

    /// The floor's elevation at a place of its own axes, mm.
    pub(crate) fn elevation(&self, x: &[f64], floor: usize, place: (f64, f64)) -> Jet {
        let (along, across) = place;
        let unknowns = &self.floors[floor];
        let track = (self.track_front_mm + self.track_rear_mm) / 2.0;
        let across_part = 1.0 - (2.0 * across / track).powi(2);
        let along_part = 1.0 - (2.0 * (along + self.wheelbase_mm / 2.0) / self.wheelbase_mm).powi(2);
        let mut elevation = self.warp(x, floor, place);
        elevation.add_unknown(across_part, unknowns.crown, x);
        elevation.add_unknown(along_part, unknowns.dish, x);
        if let Some(bump) = unknowns.bump_at(place) {
            elevation.add_unknown(1.0, bump, x);
        }
        elevation
    }

    /// Elevation under one wheel, plate included, mm.
    pub(crate) fn wheel(&self, x: &[f64], placement: &Placement, corner: Corner) -> Jet {
        let (place_x, place_y) = self.wheel_place(corner);
        let place = self.on_floor(place_x, place_y, placement.turned);
        self.warp(x, placement.floor, place)
            .plus(1.0, &self.at(x, placement.wheels[corner.index()]))
            .shifted(placement.plates_mm[corner.index()])
    }

    /// What the car stands on, in its own order.
    pub(crate) fn ground(&self, x: &[f64], placement: &Placement) -> Ground {
        let [fl, fr, rl, rr] = Corner::ALL.map(|corner| self.wheel(x, placement, corner));
        Ground {
            front: fl.clone().plus(1.0, &fr).times(0.5),
            rear: rl.clone().plus(1.0, &rr).times(0.5),
            phi_front: fl.plus(-1.0, &fr).times(1.0 / self.track_front_mm),
            phi_rear: rl.plus(-1.0, &rr).times(1.0 / self.track_rear_mm),
        }
    }

    /// How far the floor carries the body of one placement from where it is over level ground, for [`Footing::at`].
    ///
    /// D = e_F + (e_R − e_F)·σ + (pg − 1)(e_R − e_F)(σ − ½) + y·γ·(λ·φ_f + (1 − λ)·φ_r).
    fn footing(&self, x: &[f64], placement: &Placement) -> Footing {
        let ground = self.ground(x, placement);
        let rise = ground.rear.plus(-1.0, &ground.front);
        let pitch = self.at(x, self.shared.pitch_gain).shifted(-1.0).product(&rise);
        let share = self.at(x, self.shared.roll_share);
        let warp = ground.phi_front.plus(-1.0, &ground.phi_rear);
        let slope = share.product(&warp).plus(1.0, &ground.phi_rear);
        let lean = self.at(x, self.shared.lean_gain).product(&slope);
        Footing::of([ground.front, rise, pitch, lean])
    }

    /// The footing of every placement at the estimate.
    pub(crate) fn footings(&self, x: &[f64]) -> Vec<Footing> {
        self.placements.iter().map(|placement| self.footing(x, placement)).collect()
    }

    /// Height of a point of the car over the datum as it stood in one bounce, mm: z = H + D + a_F·(1 − σ) + a_R·σ + ρ·y.
    pub(crate) fn height_over_datum(
        &self,
        x: &[f64],
        footings: &[Footing],
        (snapshot, bounce): (usize, usize),
        point: usize,
    ) -> Jet {
        let (placement, ref_point) = (&self.placements[snapshot], &self.points[point]);
        let sigma = self.sigma(ref_point.x_mm);
        let [front, rear, roll] = placement.bounces[bounce];
        let mut z = footings[snapshot].at(sigma, ref_point.y_mm);
        z.add_unknown(1.0, self.stances[placement.stance].heights[&point], x);
        z.add_unknown(1.0 - sigma, front, x);
        z.add_unknown(sigma, rear, x);
        z.add_unknown(ref_point.y_mm, roll, x);
        z
    }

    /// Rails that carry a gauge but no mark get two stand-ins, so that the gauge still tells slope and rake.
    fn add_stand_in_rails(&mut self, file: &CarFile) {
        let gauged = |word: &str| file.snapshots.iter().flat_map(|s| &s.angle_gauge).any(|g| g.place.contains(word));
        for corner in Corner::ALL {
            let side = if corner.is_left() { "rail_left" } else { "rail_right" };
            let end = if corner.is_front() { "frame_front" } else { "frame_rear" };
            if (gauged(side) || gauged(end)) && self.point_at(PointKind::FrameRail, corner).is_none() {
                let (x, y) = self.wheel_place(corner);
                let inboard = 0.12 * self.wheelbase_mm;
                self.points.push(RefPoint {
                    id: format!("\u{0}rail.{corner}"),
                    corner,
                    kind: PointKind::FrameRail,
                    x_mm: if corner.is_front() { x - inboard } else { x + inboard },
                    y_mm: y * 0.55,
                    what: None,
                    extra: serde_json::Map::new(),
                });
            }
        }
    }

    fn add_floors(&mut self, file: &CarFile, stance_of: &[usize]) {
        let nowhere = file.snapshots.iter().filter(|snapshot| snapshot.floor.is_none()).count();
        for number in 0..file.floors.len() + nowhere {
            // A floor that only one stance stands on is eliminated with it, so that years of snapshots stay cheap.
            let mut users: Vec<usize> = (0..file.snapshots.len())
                .filter(|&i| floor_number(file, i) == Some(number))
                .map(|i| stance_of[i])
                .collect();
            users.sort_unstable();
            users.dedup();
            let block = if let [only] = users[..] { 1 + only } else { SHARED };
            let passes = file.floors.get(number).and_then(|floor| floor.survey.as_ref()).map_or(0, |s| s.passes.len());
            let spots = self.unknowns.add_many(block);
            let [crown, dish] = self.unknowns.add_many(block);
            let planes = (0..passes).map(|_| self.unknowns.add(block)).collect();
            self.floors.push(FloorUnknowns {
                spots,
                crown,
                dish,
                bumps: Vec::new(),
                hub_bumps: BTreeMap::new(),
                planes,
                block,
            });
        }
    }

    fn add_placements(&mut self, file: &CarFile, stance_of: &[usize]) -> Result<(), Problem> {
        for (number, snapshot) in file.snapshots.iter().enumerate() {
            let stance = stance_of[number];
            let block = 1 + stance;
            let floor = floor_number(file, number).ok_or_else(|| {
                Problem::new(
                    format!("snapshot {}: its floor is not in the file", snapshot.id),
                    "name one of the file's floors, or leave the floor out",
                )
            })?;
            let plates = snapshot.plates_mm.as_ref();
            self.placements.push(Placement {
                stance,
                floor,
                turned: snapshot.facing == Facing::B,
                wheels: self.unknowns.add_many(block),
                plates_mm: Corner::ALL.map(|corner| plates.map_or(0.0, |p| *p.at(corner))),
                bounces: snapshot.bounces.iter().map(|_| self.unknowns.add_many(block)).collect(),
                planes: snapshot.plane_on_car.iter().map(|_| self.unknowns.add(block)).collect(),
            });
        }
        Ok(())
    }

    /// Makes sure the stance has a height for the point.
    pub(crate) fn need_height(&mut self, stance: usize, point: usize) {
        if !self.stances[stance].heights.contains_key(&point) {
            let unknown = self.unknowns.add(1 + stance);
            self.stances[stance].heights.insert(point, unknown);
        }
    }

    /// Makes sure the stance has a loaded radius at the corner.
    pub(crate) fn need_radius(&mut self, stance: usize, corner: Corner) {
        if !self.stances[stance].radius.contains_key(&corner.index()) {
            let unknown = self.unknowns.add(1 + stance);
            self.stances[stance].radius.insert(corner.index(), unknown);
        }
    }

    /// Makes sure there is a local bump at a touched place of the floor.
    pub(crate) fn need_bump(&mut self, floor: usize, place: (f64, f64)) {
        if self.floors[floor].bump_at(place).is_none() {
            let unknown = self.unknowns.add(self.floors[floor].block);
            self.floors[floor].bumps.push((place, unknown));
        }
    }

    /// Makes sure there is a bump under the hub's plumb line.
    pub(crate) fn need_hub_bump(&mut self, floor: usize, turned: bool, corner: Corner) {
        let block = self.floors[floor].block;
        if !self.floors[floor].hub_bumps.contains_key(&(turned, corner.index())) {
            let unknown = self.unknowns.add(block);
            self.floors[floor].hub_bumps.insert((turned, corner.index()), unknown);
        }
    }

    /// Makes sure the car's twist of that kind is an unknown of its own.
    pub(crate) fn need_carried_twist(&mut self, kind: PointKind) {
        if !self.carried_twist.contains_key(&kind) {
            let unknown = self.unknowns.add(SHARED);
            self.carried_twist.insert(kind, unknown);
        }
    }
}

impl FloorUnknowns {
    /// The bump within a millimetre of the place.
    pub(crate) fn bump_at(&self, (along, across): (f64, f64)) -> Option<usize> {
        let near = |&((x, y), _): &((f64, f64), usize)| (x - along).abs() < 1.0 && (y - across).abs() < 1.0;
        self.bumps.iter().find(|bump| near(bump)).map(|&(_, unknown)| unknown)
    }
}

/// Number of the floor that a snapshot stands on: the file's, or one of its own behind them.
pub(crate) fn floor_number(file: &CarFile, snapshot: usize) -> Option<usize> {
    match &file.snapshots[snapshot].floor {
        Some(id) => file.floors.iter().position(|floor| floor.id == *id),
        None => {
            let before = file.snapshots[..snapshot].iter().filter(|other| other.floor.is_none()).count();
            Some(file.floors.len() + before)
        }
    }
}

/// Snapshots of one date with equal loads, pressures and odometer are placements of one stance.
fn group_stances(snapshots: &[Snapshot]) -> Vec<usize> {
    let same = |a: &Snapshot, b: &Snapshot| {
        a.date == b.date
            && a.odometer_km == b.odometer_km
            && a.tire_pressure_kpa == b.tire_pressure_kpa
            && a.load_change_from_nominal == b.load_change_from_nominal
    };
    let mut first_of: Vec<usize> = Vec::new();
    snapshots
        .iter()
        .map(|snapshot| {
            let known = first_of.iter().position(|&first| same(&snapshots[first], snapshot));
            known.unwrap_or_else(|| {
                first_of.push(snapshots.iter().position(|s| std::ptr::eq(s, snapshot)).unwrap_or_default());
                first_of.len() - 1
            })
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Q2 of the trade brief, calculated by hand there: heights from readings on a twisted floor with pitch gain 1.
    #[test]
    fn the_worked_example_of_level_heights() {
        let file: CarFile = serde_json::from_str(
            r#"{"vehicle":{"label":"x","wheelbase_mm":2600,"track_front_mm":1400,"track_rear_mm":1400,"ref_points":[
                {"id":"lip.FL","corner":"FL","kind":"fender_lip","x_mm":0,"y_mm":800},
                {"id":"lip.FR","corner":"FR","kind":"fender_lip","x_mm":0,"y_mm":-800},
                {"id":"lip.RL","corner":"RL","kind":"fender_lip","x_mm":-2600,"y_mm":800},
                {"id":"lip.RR","corner":"RR","kind":"fender_lip","x_mm":-2600,"y_mm":-800}]},
              "floors":[{"id":"f","survey":null}],
              "snapshots":[{"id":"s","date":"2031-01-01","floor":"f","bounces":[]}]}"#,
        )
        .expect("a small file");
        let model = Model::new(&file).expect("a sound file");
        let mut x = vec![0.0; model.unknowns.len()];
        (x[model.shared.roll_share], x[model.shared.lean_gain], x[model.shared.pitch_gain]) = (0.4, 1.05, 1.0);
        for (spot, elevation) in model.floors[0].spots.iter().zip([10.0, -12.0, 40.0, 34.0]) {
            x[*spot] = elevation;
        }
        let footing = model.footing(&x, &model.placements[0]);
        let rows = [(0, 640.0, 645.13), (1, 652.0, 646.87), (2, 668.0, 663.99), (3, 659.0, 663.01)];
        for (point, tape, level) in rows {
            let RefPoint { x_mm, y_mm, .. } = model.points[point];
            let floor = model.warp(&x, 0, (x_mm, y_mm)).value;
            let follows = footing.at(model.sigma(x_mm), y_mm).value;
            assert!((tape + floor - follows - level).abs() < 0.005, "{point}: {}", tape + floor - follows);
        }
    }

    #[test]
    fn turned_end_for_end_the_front_left_wheel_stands_on_the_fourth_spot() {
        let file: CarFile = serde_json::from_str(
            r#"{"vehicle":{"label":"x","wheelbase_mm":2600,"track_front_mm":1400,"track_rear_mm":1400},
              "floors":[{"id":"f"}],"snapshots":[{"id":"s","date":"2031-01-01","floor":"f","facing":"B"}]}"#,
        )
        .expect("a small file");
        let model = Model::new(&file).expect("a sound file");
        let mut x = vec![0.0; model.unknowns.len()];
        x[model.floors[0].spots[3]] = 7.0;
        let wheels = Corner::ALL.map(|corner| model.wheel(&x, &model.placements[0], corner).value);
        assert_eq!(wheels, [7.0, 0.0, 0.0, 0.0]);
    }
}
