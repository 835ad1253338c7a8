//! One equation for each kind of reading: what it should say if the unknowns are what they are.

use super::instruments::With;
use super::jet::Jet;
use super::model::Footing;
use super::unknowns::Model;
use crate::car::PointKind;
use crate::corner::Corner;
use crate::stance::DoubtSource;

/// What was read, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Sight {
    /// Tape from a point down to the floor.
    Tape { snapshot: usize, bounce: usize, point: usize },
    /// Tape from the wheel centre down to the floor.
    Hub { snapshot: usize, corner: Corner },
    /// Tape from the wheel centre up to a point over it.
    HubTo { snapshot: usize, bounce: usize, point: usize },
    /// Level plane down to a spot of the floor.
    StaffOnSpot { floor: usize, plane: usize, spot: usize },
    /// Level plane down to the floor straight below a point, car standing as first.
    StaffUnder { floor: usize, plane: usize, point: usize },
    /// Level plane down to a point of the car.
    StaffOnCar { snapshot: usize, bounce: usize, plane: usize, point: usize },
    /// Angle gauge along a rail, positive nose-down.
    Rail { snapshot: usize, bounce: usize, left: bool, reversed: bool },
    /// Angle gauge across the frame, positive left higher.
    FrameAcross { snapshot: usize, bounce: usize, front: bool, reversed: bool },
    /// Angle gauge on a straightedge over two spots, positive when the first is higher.
    Straightedge { floor: usize, from: usize, to: usize, reversed: bool },
    /// The person's word that the four spots lie in one plane.
    FlatFloor { floor: usize },
    /// The person's word on the twist of a kind of point.
    CarTwist { stance: usize, kind: PointKind },
    /// The car's own twist carried from date to date.
    CarriedTwist { stance: usize, kind: PointKind },
}

/// How a reading is named to the person.
#[derive(Clone, Debug, Default)]
pub(crate) struct Label {
    /// Repeat or pass number.
    pub(crate) reading: u32,
    /// Bounce id.
    pub(crate) bounce: Option<String>,
    /// Point, spot or place.
    pub(crate) point: String,
}

/// One observation of the adjustment.
#[derive(Clone, Debug)]
pub(crate) struct Observation {
    pub(crate) sight: Sight,
    /// What it was read with.
    pub(crate) with: With,
    /// mm, or deg for a gauge.
    pub(crate) observed: f64,
    /// Standard uncertainty in the same unit.
    pub(crate) u: f64,
    pub(crate) source: DoubtSource,
    pub(crate) label: Label,
    /// False where it was left out as a blunder.
    pub(crate) used: bool,
}

impl Observation {
    /// True for a statement of the person, which no instrument made.
    pub(crate) fn is_assumption(&self) -> bool {
        matches!(self.sight, Sight::FlatFloor { .. } | Sight::CarTwist { .. } | Sight::CarriedTwist { .. })
    }

    /// The snapshot it was taken in, for readings on the car.
    pub(crate) fn snapshot(&self) -> Option<usize> {
        match self.sight {
            Sight::Tape { snapshot, .. }
            | Sight::Hub { snapshot, .. }
            | Sight::HubTo { snapshot, .. }
            | Sight::StaffOnCar { snapshot, .. }
            | Sight::Rail { snapshot, .. }
            | Sight::FrameAcross { snapshot, .. } => Some(snapshot),
            _ => None,
        }
    }

    /// The stance that a statement about the car's twist belongs to.
    pub(crate) fn stance(&self) -> Option<usize> {
        match self.sight {
            Sight::CarTwist { stance, .. } | Sight::CarriedTwist { stance, .. } => Some(stance),
            _ => None,
        }
    }

    /// The floor it was taken on, for readings of the floor.
    pub(crate) fn floor(&self) -> Option<usize> {
        match self.sight {
            Sight::StaffOnSpot { floor, .. }
            | Sight::StaffUnder { floor, .. }
            | Sight::Straightedge { floor, .. }
            | Sight::FlatFloor { floor } => Some(floor),
            _ => None,
        }
    }
}

/// What the sight should read at the estimate `x` with that instrument, the footings being those of that estimate.
pub(crate) fn equation(model: &Model, footings: &[Footing], sight: Sight, with: With, x: &[f64]) -> Jet {
    let turned = |reversed: bool| if reversed { -1.0 } else { 1.0 };
    let shared = &model.shared;
    match sight {
        Sight::Tape { snapshot, bounce, point } => {
            let placement = &model.placements[snapshot];
            let place = model.on_floor(placement.floor, model.place(point), placement.turned);
            let mut tape = model.height_over_datum(x, footings, (snapshot, bounce), point);
            tape.add(-1.0, &model.elevation(x, placement.floor, place));
            model.add_instrument(&mut tape, with, 1.0, x);
            tape
        }
        Sight::Hub { snapshot, corner } => {
            let placement = &model.placements[snapshot];
            let bump = model.floors[placement.floor].hub_bumps[&(placement.turned, corner.index())];
            let mut tape = Jet::default();
            tape.add_unknown(1.0, model.stances[placement.stance].radius[&corner.index()], x);
            tape.add_unknown(-1.0, bump, x);
            model.add_instrument(&mut tape, with, 1.0, x);
            tape
        }
        Sight::HubTo { snapshot, bounce, point } => {
            let placement = &model.placements[snapshot];
            let corner = model.points[point].corner;
            let mut tape = model.height_over_datum(x, footings, (snapshot, bounce), point);
            tape.add(-1.0, &model.wheel(x, placement, corner));
            tape.add_unknown(-1.0, model.stances[placement.stance].radius[&corner.index()], x);
            model.add_instrument(&mut tape, with, 1.0, x);
            tape
        }
        Sight::StaffOnSpot { floor, plane, spot } => {
            model.at(x, plane).plus(-1.0, &model.at(x, model.floors[floor].spots[spot]))
        }
        Sight::StaffUnder { floor, plane, point } => {
            let place = model.place(point);
            model.at(x, plane).plus(-1.0, &model.elevation(x, floor, place))
        }
        Sight::StaffOnCar { snapshot, bounce, plane, point } => {
            model.at(x, plane).plus(-1.0, &model.height_over_datum(x, footings, (snapshot, bounce), point))
        }
        Sight::Rail { snapshot, bounce, left, reversed } => {
            let (front, rear) = if left { (Corner::FL, Corner::RL) } else { (Corner::FR, Corner::RR) };
            let mut gauge = slope_between(model, footings, x, (snapshot, bounce), (rear, front)).atan_deg();
            model.add_instrument(&mut gauge, with, turned(reversed), x);
            gauge.add_unknown(1.0, shared.rail[usize::from(!left)], x);
            gauge
        }
        Sight::FrameAcross { snapshot, bounce, front, reversed } => {
            let (left, right) = if front { (Corner::FL, Corner::FR) } else { (Corner::RL, Corner::RR) };
            let mut gauge = slope_between(model, footings, x, (snapshot, bounce), (left, right)).atan_deg();
            model.add_instrument(&mut gauge, with, turned(reversed), x);
            gauge
        }
        Sight::Straightedge { floor, from, to, reversed } => {
            let spots = model.floors[floor].spots;
            let ends = [from, to].map(|spot| model.floors[floor].footprint.spot(spot));
            let length = (ends[0].0 - ends[1].0).hypot(ends[0].1 - ends[1].1);
            let rise = model.at(x, spots[from]).plus(-1.0, &model.at(x, spots[to]));
            let mut gauge = rise.times(1.0 / length).atan_deg();
            model.add_instrument(&mut gauge, with, turned(reversed), x);
            gauge
        }
        Sight::FlatFloor { floor } => twist_of(model.floors[floor].spots.map(|spot| model.at(x, spot))),
        Sight::CarTwist { stance, kind } => car_twist(model, x, stance, kind),
        Sight::CarriedTwist { stance, kind } => {
            car_twist(model, x, stance, kind).plus(-1.0, &model.at(x, model.carried_twist[&kind]))
        }
    }
}

/// FL − FR − RL + RR.
pub(crate) fn twist_of([fl, fr, rl, rr]: [Jet; 4]) -> Jet {
    fl.plus(-1.0, &fr).plus(-1.0, &rl).plus(1.0, &rr)
}

fn car_twist(model: &Model, x: &[f64], stance: usize, kind: PointKind) -> Jet {
    twist_of(model.points_of(kind, stance).map(|point| {
        let height = point.and_then(|point| model.stances[stance].heights.get(&point));
        height.map_or_else(Jet::default, |&unknown| model.at(x, unknown))
    }))
}

/// Slope from the second rail mark up to the first, over their distance on the car.
fn slope_between(
    model: &Model,
    footings: &[Footing],
    x: &[f64],
    taken: (usize, usize),
    (high, low): (Corner, Corner),
) -> Jet {
    let [high, low] = [high, low].map(|corner| {
        let point = model.rail_at(model.placements[taken.0].stance, corner).unwrap_or_default();
        let place = model.place(point);
        (model.height_over_datum(x, footings, taken, point), place)
    });
    // Along the rail (front less rear) or across the frame (left less right): the larger of the two runs.
    let (along, across) = (low.1.0 - high.1.0, high.1.1 - low.1.1);
    let run = if along.abs() > across.abs() { along } else { across };
    high.0.plus(-1.0, &low.0).times(1.0 / run)
}
