//! Which unknowns a file's readings need, and which part of the system each belongs to.

use super::Problem;
use super::instruments::{GaugeInUse, TapeInUse};
use crate::capture::{CarFile, Facing, Footprint, Snapshot};
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
    pub(crate) fn add(&mut self, block: usize) -> usize {
        self.block.push(block);
        self.block.len() - 1
    }

    pub(crate) fn add_many<const N: usize>(&mut self, block: usize) -> [usize; N] {
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
    /// Where the four spots lie.
    pub(crate) footprint: Footprint,
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
    /// What names no tape, then every tape that readings name.
    pub(crate) tapes: Vec<TapeInUse>,
    /// The same of angle gauges.
    pub(crate) gauges: Vec<GaugeInUse>,
    /// The car's own twist by kind, where it is carried from date to date.
    pub(crate) carried_twist: BTreeMap<PointKind, usize>,
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
            tapes: Vec::new(),
            gauges: Vec::new(),
            carried_twist: BTreeMap::new(),
        };
        model.add_instruments(file);
        model.add_stand_in_rails(file);
        model.add_floors(file, &stance_of);
        model.add_placements(file, &stance_of)?;
        Ok(model)
    }

    /// Rails that carry a gauge but no mark get two stand-ins, so that the gauge still tells slope and rake.
    fn add_stand_in_rails(&mut self, file: &CarFile) {
        let gauged = |word: &str| file.snapshots.iter().flat_map(|s| &s.angle_gauge).any(|g| g.place.contains(word));
        for corner in Corner::ALL {
            let side = if corner.is_left() { "rail_left" } else { "rail_right" };
            let end = if corner.is_front() { "frame_front" } else { "frame_rear" };
            if (gauged(side) || gauged(end)) && self.point_at(PointKind::FrameRail, corner, |_| true).is_none() {
                let (x, y) = self.wheel_place(corner);
                let inboard = 0.12 * self.wheelbase_mm;
                self.points.push(RefPoint {
                    id: format!("\u{0}rail.{corner}"),
                    corner,
                    kind: PointKind::FrameRail,
                    x_mm: if corner.is_front() { x - inboard } else { x + inboard },
                    y_mm: y * 0.55,
                    what: None,
                    retired: false,
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
            let own = Footprint {
                wheelbase_mm: self.wheelbase_mm,
                track_front_mm: self.track_front_mm,
                track_rear_mm: self.track_rear_mm,
            };
            self.floors.push(FloorUnknowns {
                footprint: file.floors.get(number).and_then(|floor| floor.footprint).unwrap_or(own),
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
            && a.tires_warm == b.tires_warm
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
