//! The car on its floors: how heights follow from the unknowns.
//!
//! Symbols as in `docs/method.md`: σ = −x/L along the car, s = −X/L along the floor, f the elevations of the four spots,
//! φ cross slopes, λ roll share, γ lean gain, H level heights.

use super::jet::Jet;
use super::unknowns::{Model, Placement};
use crate::car::{PointKind, mark_place};
use crate::corner::Corner;

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
    /// Number of the point called `id`.
    pub(crate) fn point(&self, id: &str) -> Option<usize> {
        self.points.iter().position(|point| point.id == id)
    }

    /// The point of `kind` at `corner` of those that are `there`, one in use before one that is no longer read.
    pub(crate) fn point_at(&self, kind: PointKind, corner: Corner, there: impl Fn(usize) -> bool) -> Option<usize> {
        mark_place(&self.points, kind, corner, |point, _| there(point))
    }

    /// The four points of `kind` that have a height in a stance.
    pub(crate) fn points_of(&self, kind: PointKind, stance: usize) -> [Option<usize>; 4] {
        let heights = &self.stances[stance].heights;
        Corner::ALL.map(|corner| self.point_at(kind, corner, |point| heights.contains_key(&point)))
    }

    /// The rail's point at `corner` on which a gauge's slope rests in a stance: one that has a height there, else any.
    pub(crate) fn rail_at(&self, stance: usize, corner: Corner) -> Option<usize> {
        let with_height = self.points_of(PointKind::FrameRail, stance)[corner.index()];
        with_height.or_else(|| self.point_at(PointKind::FrameRail, corner, |_| true))
    }

    /// Place of a point in the car's axes.
    pub(crate) fn place(&self, point: usize) -> (f64, f64) {
        (self.points[point].x_mm, self.points[point].y_mm)
    }

    /// σ of a place on the car: 0 at the front axle, 1 at the rear.
    pub(crate) fn sigma(&self, x_mm: f64) -> f64 {
        -x_mm / self.wheelbase_mm
    }

    /// Where a place on the car lies on the floor's axes, which are the car's when it stands as first.
    pub(crate) fn on_floor(&self, floor: usize, (x_mm, y_mm): (f64, f64), turned: bool) -> (f64, f64) {
        if turned { (-self.floors[floor].footprint.wheelbase_mm - x_mm, -y_mm) } else { (x_mm, y_mm) }
    }

    /// Places of the wheels in the car's axes.
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
        let spots = &self.floors[floor].footprint;
        let s = -along / spots.wheelbase_mm;
        let (half_front, half_rear) = (across / spots.track_front_mm, across / spots.track_rear_mm);
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
        let spots = &unknowns.footprint;
        let track = (spots.track_front_mm + spots.track_rear_mm) / 2.0;
        let across_part = 1.0 - (2.0 * across / track).powi(2);
        let along_part = 1.0 - (2.0 * (along + spots.wheelbase_mm / 2.0) / spots.wheelbase_mm).powi(2);
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
        let place = self.on_floor(placement.floor, self.wheel_place(corner), placement.turned);
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

    /// How far the floor carries a place of the car that stands so, mm.
    pub(crate) fn carried(&self, x: &[f64], placement: &Placement, (x_mm, y_mm): (f64, f64)) -> Jet {
        self.footing(x, placement).at(self.sigma(x_mm), y_mm)
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
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::capture::CarFile;
    use crate::car::RefPoint;

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
