//! The car along the run: both wheels on the ground, their centres one wheelbase apart.

use super::ground::Ground;
use super::hub_path::HubPath;

/// Wheelbase and loaded radii.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wheels {
    /// Between the wheel centres along the car, mm.
    pub wheelbase_mm: f64,
    /// Loaded radius, mm.
    pub front_radius_mm: f64,
    /// Loaded radius, mm.
    pub rear_radius_mm: f64,
}

/// The car with its front wheel centre at one place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Pose {
    pub front_s: f64,
    pub front_z: f64,
    pub cos: f64,
    pub sin: f64,
}

/// How the line of the wheel centres lies on level ground: cosine and sine.
#[derive(Debug, Clone, Copy)]
struct Level {
    length: f64,
    along: (f64, f64),
}

impl Level {
    fn of(wheels: &Wheels) -> Self {
        let length = wheels.wheelbase_mm;
        let higher = wheels.front_radius_mm - wheels.rear_radius_mm;
        Self { length, along: ((length * length - higher * higher).sqrt() / length, higher / length) }
    }
}

impl Pose {
    /// From both wheel centres.
    #[inline]
    fn of([front_s, front_z]: [f64; 2], [rear_s, rear_z]: [f64; 2], level: &Level) -> Self {
        let along = ((front_s - rear_s) / level.length, (front_z - rear_z) / level.length);
        let level = level.along;
        Self {
            front_s,
            front_z,
            cos: along.0 * level.0 + along.1 * level.1,
            sin: along.1 * level.0 - along.0 * level.1,
        }
    }

    /// Where a point of the car stands that on level ground is at x, and above the front wheel centre by `up`.
    #[inline]
    pub(super) fn carry(&self, x: f64, up: f64) -> (f64, f64) {
        (self.front_s + x * self.cos - up * self.sin, self.front_z + x * self.sin + up * self.cos)
    }
}

/// The car with its front wheel centre at `s`; `None` where both wheels have no place.
pub(super) fn pose_at(ground: &Ground, wheels: &Wheels, s: f64) -> Option<Pose> {
    let (begin, end) = ground.span();
    if !(s > begin && s <= end) {
        return None;
    }
    let (front, rear) = (HubPath::new(ground, wheels.front_radius_mm), HubPath::new(ground, wheels.rear_radius_mm));
    let z = front.height_only(s, &mut 0);
    let mut wheel = RearWheel { path: &rear, length: wheels.wheelbase_mm, begin, near: 0, last: None };
    let place = wheel.place([s, z])?;
    Some(Pose::of([s, z], place, &Level::of(wheels)))
}

/// Every position with both wheels on the ground, and how many in between had no place for both.
pub(super) fn poses(ground: &Ground, wheels: &Wheels, step: f64) -> (Vec<Pose>, usize) {
    let front = HubPath::new(ground, wheels.front_radius_mm);
    let other;
    let rear = if wheels.rear_radius_mm == wheels.front_radius_mm {
        &front
    } else {
        other = HubPath::new(ground, wheels.rear_radius_mm);
        &other
    };
    let length = wheels.wheelbase_mm;
    let level = Level::of(wheels);
    let (begin, end) = ground.span();
    let rear_at_begin = rear.height_only(begin, &mut 0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bounded by the input's check")]
    let (mut poses, mut without) = (Vec::with_capacity(((end - begin) / step) as usize + 1), 0);
    let mut front_near = 0;
    let mut wheel = RearWheel { path: rear, length, begin, near: 0, last: None };
    for i in 0_u32.. {
        let s = begin + step * f64::from(i);
        if s > end {
            break;
        }
        let z = front.height_only(s, &mut front_near);
        let square = (s - begin).powi(2) + (z - rear_at_begin).powi(2);
        if square < length * length {
            continue;
        }
        match wheel.place([s, z]) {
            Some(rear) => poses.push(Pose::of([s, z], rear, &level)),
            None => without += 1,
        }
    }
    (poses, without)
}

/// The rear wheel, followed along the ground.
struct RearWheel<'p> {
    path: &'p HubPath,
    length: f64,
    begin: f64,
    /// Where the path was asked last.
    near: usize,
    /// How far it stood behind the front wheel at the last two positions.
    last: Option<(f64, f64)>,
}

impl RearWheel<'_> {
    /// Its centre, one wheelbase from the front wheel's; `None` where no place is that far.
    #[inline]
    fn place(&mut self, [s, z]: [f64; 2]) -> Option<[f64; 2]> {
        if let Some((behind, _)) = self.last
            && let Some(found) =
                self.path.behind([s, z], self.length, s - behind, &mut self.near).filter(|[at, _]| *at >= self.begin)
        {
            self.last = Some((s - found[0], s - found[0]));
            return Some(found);
        }
        let guess = match self.last {
            Some((behind, before)) => s - (2.0 * behind - before),
            None => s - self.length,
        };
        let found = self.search([s, z], guess);
        self.last = found.map(|[rear_s, _]| (s - rear_s, self.last.map_or(s - rear_s, |(behind, _)| behind)));
        found
    }

    fn search(&mut self, [s, z]: [f64; 2], guess: f64) -> Option<[f64; 2]> {
        let (mut far, mut near) = ((s - self.length).max(self.begin), s);
        // Near enough where the path jumps: a ten-thousandth of a millimetre of wheelbase.
        let enough = 2e-4 * self.length;
        let mut at = guess.clamp(far, near);
        for turn in 0..200 {
            let (height, slope) = self.path.height(at, &mut self.near);
            // Squared distance less the wheelbase's, and how fast it grows with the rear wheel's place.
            let off = (s - at).powi(2) + (z - height).powi(2) - self.length * self.length;
            let grows = -2.0 * ((s - at) + (z - height) * slope);
            // Newton gets there in two turns: the place is then right to a ten-millionth of a millimetre.
            if off.abs() <= 1e-7 * self.length {
                return Some([at, height]);
            }
            if off > 0.0 {
                far = at;
            } else {
                near = at;
            }
            if near - far < 1e-10 {
                // Over a riser higher than the wheel's radius the path jumps: no place is one wheelbase away.
                return (off.abs() <= enough).then_some([at, height]);
            }
            let newton = at - off / grows;
            at = if turn < 20 && newton > far && newton < near { newton } else { f64::midpoint(far, near) };
        }
        None
    }
}
