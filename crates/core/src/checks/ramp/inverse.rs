//! The questions turned round: how low the body may stand for this ground, and which plank saves it.

use super::{Attach, Ground, Part, Ramp, Run, Scene, drive};
use serde::Serialize;

/// How low the body may stand so that nothing on it comes nearer than the allowance.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LowestSafe {
    /// Body to be raised by this much, mm; below 0 where it may come down.
    pub raise_mm: f64,
    /// Its lowest point then, above level ground, mm.
    pub lowest_body_mm: f64,
    /// The point that decides, or `outline`.
    pub point: String,
    /// Points on the axles that come nearer than the allowance: raising the body does not help those.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub axle_points: Vec<String>,
}

/// A stiff plank, laid straight from ground to ground; its thickness is not counted.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(untagged)]
pub enum Plank {
    /// The shortest that saves it.
    Saves {
        /// Length, mm, a multiple of 50.
        length_mm: f64,
        /// s of its one end …
        from_mm: f64,
        /// … and of its other, mm.
        to_mm: f64,
    },
    /// No single one does.
    None {
        /// Longest that was tried, mm.
        longest_tried_mm: f64,
    },
}

/// Nobody carries a longer one.
const LONGEST_PLANK_MM: f64 = 6_000.0;
const PLANK_STEP_MM: f64 = 250.0;
const PLANK_FINE_MM: f64 = 50.0;
/// Corners a plank is tried at, the nearest to where it touches first.
const MOST_CORNERS: usize = 6;
/// Nobody raises a body by more.
const HIGHEST_MM: f64 = 2_000.0;

pub(super) fn lowest_safe(ramp: &Ramp) -> Option<LowestSafe> {
    let lowest = ramp.body_points().map(|(_, [_, z])| z).min_by(f64::total_cmp)?;
    let scene = Scene::of(ramp);
    let on_axle = |part: &Part<'_>| matches!(part, Part::Point(point) if point.attach != Attach::Body);
    let (axle, body): (Vec<Part<'_>>, Vec<Part<'_>>) = ramp.parts().partition(on_axle);
    // A lift of one millimetre opens a gap by nearly one, so that few turns are needed.
    let (mut raise, mut point) = (0.0_f64, String::new());
    for _ in 0..30 {
        let mut gap = f64::INFINITY;
        for part in &body {
            let least = part.gaps(&scene, raise, gap).least().0;
            if least < gap {
                gap = least;
                part.name().clone_into(&mut point);
            }
        }
        let more = ramp.allowance_mm - gap;
        if !more.is_finite() || raise.abs() > HIGHEST_MM {
            return None;
        }
        raise += more;
        if more.abs() < 0.005 {
            break;
        }
    }
    let near = axle.iter().filter(|part| part.gaps(&scene, 0.0, ramp.allowance_mm).least().0 < ramp.allowance_mm);
    Some(LowestSafe {
        raise_mm: raise,
        lowest_body_mm: lowest + raise,
        point,
        axle_points: near.map(|part| part.name().to_owned()).collect(),
    })
}

/// `None` where nothing touches.
pub(super) fn plank(ramp: &Ramp, run: &Run) -> Option<Plank> {
    let none = Plank::None { longest_tried_mm: LONGEST_PLANK_MM };
    let (first, last) = (run.touches.first()?, run.touches.iter().map(|touch| touch.to_mm).max_by(f64::total_cmp)?);
    let reach = 2.0 * (LONGEST_PLANK_MM + ramp.wheels.wheelbase_mm);
    if last - first.from_mm > reach {
        return Some(none);
    }
    // Only the ground round the trouble is driven again and again; what saves it is driven over all of it once.
    let near = |s: f64| s > first.from_mm - reach && s < last + reach;
    let part = Ramp {
        ground: Ground::new(ramp.ground.corners().filter(|[s, _]| near(*s))),
        step_mm: ramp.step_mm.max(10.0),
        ..ramp.clone()
    };
    if part.ground.len() < 2 {
        return Some(none);
    }
    let mut shortest: Option<(f64, [f64; 2])> = None;
    for place in places(&part.ground, run.front_axle_at_mm - ramp.wheels.wheelbase_mm / 2.0) {
        let longest = shortest.map_or(LONGEST_PLANK_MM, |(length, _)| length - PLANK_FINE_MM);
        if let Some(found) = shortest_at(&part, place, longest) {
            shortest = Some(found);
        }
    }
    let saves = |length_mm: f64, [from_mm, to_mm]: [f64; 2]| {
        let ground = bridged(&ramp.ground, [from_mm, to_mm])?;
        let run = drive(&Ramp { ground, ..ramp.clone() }).ok()?;
        run.touches.is_empty().then_some(Plank::Saves { length_mm, from_mm, to_mm })
    };
    Some(shortest.and_then(|(length, ends)| saves(length, ends)).unwrap_or(none))
}

/// Where a plank lies.
#[derive(Debug, Clone, Copy)]
enum Place {
    /// From a crest down to the ground before (−1) or behind it (+1).
    FromCrest { s: f64, side: f64 },
    /// Over a hollow, both ends equally far.
    OverHollow { s: f64 },
}

/// Corners a plank may help at, the nearest to `s` first.
fn places(ground: &Ground, s: f64) -> Vec<Place> {
    let slope =
        |a: [f64; 2], b: [f64; 2]| if b[0] > a[0] { (b[1] - a[1]) / (b[0] - a[0]) } else { (b[1] - a[1]) * 1e9 };
    let mut found: Vec<(f64, Place)> = Vec::new();
    for i in 1..ground.len() - 1 {
        let corner = ground.corner(i);
        let (before, after) = (slope(ground.corner(i - 1), corner), slope(corner, ground.corner(i + 1)));
        let place = if before < after {
            Place::OverHollow { s: corner[0] }
        } else if before > -after {
            Place::FromCrest { s: corner[0], side: -1.0 }
        } else {
            Place::FromCrest { s: corner[0], side: 1.0 }
        };
        if before != after {
            found.push(((corner[0] - s).abs(), place));
        }
    }
    found.sort_by(|a, b| a.0.total_cmp(&b.0));
    found.into_iter().take(MOST_CORNERS).map(|(_, place)| place).collect()
}

fn shortest_at(ramp: &Ramp, place: Place, longest: f64) -> Option<(f64, [f64; 2])> {
    let saves = |length: f64| {
        let ends = ends(&ramp.ground, place, length)?;
        let ground = bridged(&ramp.ground, ends)?;
        let run = drive(&Ramp { ground, ..ramp.clone() }).ok()?;
        run.touches.is_empty().then_some(ends)
    };
    let mut length = PLANK_STEP_MM;
    while length <= longest {
        if let Some(mut found) = saves(length) {
            let mut shorter = length - PLANK_FINE_MM;
            while shorter > length - PLANK_STEP_MM && shorter > 0.0 {
                let Some(ends) = saves(shorter) else { break };
                found = ends;
                shorter -= PLANK_FINE_MM;
            }
            return Some((shorter + PLANK_FINE_MM, found));
        }
        length += PLANK_STEP_MM;
    }
    None
}

/// Both ends of a plank of that length; `None` where it would reach beyond the ground.
fn ends(ground: &Ground, place: Place, length: f64) -> Option<[f64; 2]> {
    let (begin, end) = ground.span();
    let height = |s: f64| ground.height(s, &mut 0);
    // Grows with `half`: how long the plank is whose free ends lie that far away.
    let both = |far: f64| match place {
        Place::FromCrest { s, side } => [s, s + side * far],
        Place::OverHollow { s } => [s - far, s + far],
    };
    let long = |far: f64| {
        let [a, b] = both(far);
        Some((b - a).hypot(height(b)? - height(a)?))
    };
    let (mut near, mut far) = (0.0, length);
    for _ in 0..50 {
        let middle = f64::midpoint(near, far);
        if long(middle).is_none_or(|long| long > length) {
            far = middle;
        } else {
            near = middle;
        }
    }
    let [a, b] = both(near);
    let (a, b) = (a.min(b), a.max(b));
    let as_long = long(near).is_some_and(|long| (long - length).abs() < 1.0);
    (as_long && a > begin && b < end).then_some([a, b])
}

/// The ground with a plank over it; `None` where the ground between its ends stands higher than the plank.
fn bridged(ground: &Ground, [from, to]: [f64; 2]) -> Option<Ground> {
    let (low, high) = (ground.height(from, &mut 0)?, ground.height(to, &mut 0)?);
    let plank = |s: f64| low + (s - from) / (to - from) * (high - low);
    if ground.corners().any(|[s, z]| s > from && s < to && z > plank(s) + 1.0) {
        return None;
    }
    let before = ground.corners().take_while(|[s, _]| *s < from);
    let behind = ground.corners().skip_while(|[s, _]| *s <= to);
    Some(Ground::new(before.chain([[from, low], [to, high]]).chain(behind)))
}
