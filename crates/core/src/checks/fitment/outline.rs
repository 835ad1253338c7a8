//! The tire seen from above, turned about the kingpin: how far it reaches, and how near a point is to it.
//!
//! The kingpin is taken as upright, at the height of the wheel centre; its lean and caster are left out. The tire is a body of revolution: as
//! wide as its section up to its shoulder, then rounded toward the tread. What is seen is its cut at a height: as long as the chord there, and
//! narrower the nearer the height comes to the tread.

use crate::units::Angle;

/// A cut through a tire from above. Origin on the kingpin, x forward, y outboard, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Outline {
    /// Of the tread.
    radius_mm: f64,
    /// Of the cut over the wheel centre, without sign.
    over_mm: f64,
    /// Half of its length at that height.
    half_length_mm: f64,
    /// Half of the section width.
    pub(super) half_width_mm: f64,
    /// Of the shoulder.
    shoulder_mm: f64,
    /// Its middle outboard of the kingpin.
    pub(super) out_mm: f64,
}

/// Halvings of a search along the outline: 0.618¹⁸ of half a tire is a twentieth of a millimetre.
const TURNS: u32 = 18;
/// 1/φ.
const GOLDEN: f64 = 0.618_033_988_749_894_8;

impl Outline {
    /// At a height over (or under) the wheel centre; `None` where the tire is not there any more.
    pub(super) fn at_height(
        radius_mm: f64,
        width_mm: f64,
        shoulder_mm: f64,
        out_mm: f64,
        over_mm: f64,
    ) -> Option<Self> {
        let square = radius_mm * radius_mm - over_mm * over_mm;
        let half_length_mm = (square > 0.0).then(|| square.sqrt())?;
        let half_width_mm = width_mm / 2.0;
        let shoulder_mm = shoulder_mm.min(radius_mm).min(half_width_mm);
        Some(Self { radius_mm, over_mm: over_mm.abs(), half_length_mm, half_width_mm, shoulder_mm, out_mm })
    }

    /// Half of its width at a place along it, mm.
    fn half_width_at(&self, along_mm: f64) -> f64 {
        let beyond = along_mm.hypot(self.over_mm) - (self.radius_mm - self.shoulder_mm);
        if beyond <= 0.0 {
            return self.half_width_mm;
        }
        let round = (self.shoulder_mm * self.shoulder_mm - beyond * beyond).max(0.0).sqrt();
        self.half_width_mm - self.shoulder_mm + round
    }

    /// How far it reaches along a direction `[x, y]` of length 1, from the kingpin, mm. Steered by so many degrees, its front outward.
    pub(super) fn reach_mm(&self, steered_deg: f64, [dx, dy]: [f64; 2]) -> f64 {
        let (sin, cos) = (Angle::deg(steered_deg).sin(), Angle::deg(steered_deg).cos());
        // Its own axes: forward (cos, sin), outward (−sin, cos).
        let (along, across) = (dx * cos + dy * sin, dy * cos - dx * sin);
        let middle = self.out_mm * across;
        let (along, across) = (along.abs(), across.abs());
        if self.over_mm == 0.0 {
            let round = self.shoulder_mm;
            return middle + (self.half_length_mm - round) * along + (self.half_width_mm - round) * across + round;
        }
        // The outline is convex: farther along it the reach rises to one place and falls from there.
        let reach = |x: f64| x * along + self.half_width_at(x) * across;
        middle - least(0.0, self.half_length_mm, |x| -reach(x))
    }

    /// From a point `[x, y]` to its edge, mm; below 0 inside.
    pub(super) fn distance_mm(&self, steered_deg: f64, [x, y]: [f64; 2]) -> f64 {
        let (sin, cos) = (Angle::deg(steered_deg).sin(), Angle::deg(steered_deg).cos());
        let (along, across) = ((x * cos + y * sin).abs(), (y * cos - x * sin - self.out_mm).abs());
        if self.over_mm == 0.0 {
            let beyond_x = along - (self.half_length_mm - self.shoulder_mm);
            let beyond_y = across - (self.half_width_mm - self.shoulder_mm);
            let outside = beyond_x.max(0.0).hypot(beyond_y.max(0.0));
            return outside + beyond_x.max(beyond_y).min(0.0) - self.shoulder_mm;
        }
        let inside = along < self.half_length_mm && across < self.half_width_at(along);
        let to = |x: f64| (along - x).hypot(across - self.half_width_at(x));
        // At its end the cut is as wide as the tread is flat: that edge is straight.
        let flat = self.half_width_at(self.half_length_mm);
        let to_end = (along - self.half_length_mm).hypot((across - flat).max(0.0));
        let quarters = [0.0, 0.25, 0.5, 0.75].map(|part| part * self.half_length_mm);
        let to_side = quarters.map(|from| least(from, from + 0.25 * self.half_length_mm, to));
        let nearest = to_side.into_iter().fold(to_end, f64::min);
        if inside { -nearest } else { nearest }
    }
}

/// The least value of a function with one valley between two places: golden section.
fn least(mut from: f64, mut to: f64, of: impl Fn(f64) -> f64) -> f64 {
    let (mut left, mut right) = (to - GOLDEN * (to - from), from + GOLDEN * (to - from));
    let (mut at_left, mut at_right) = (of(left), of(right));
    for _ in 0..TURNS {
        if at_left < at_right {
            (to, right, at_right) = (right, left, at_left);
            left = to - GOLDEN * (to - from);
            at_left = of(left);
        } else {
            (from, left, at_left) = (left, right, at_right);
            right = from + GOLDEN * (to - from);
            at_right = of(right);
        }
    }
    at_left.min(at_right).min(of(from)).min(of(to))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tire(over_mm: f64) -> Outline {
        Outline::at_height(300.0, 200.0, 40.0, 60.0, over_mm).unwrap_or_else(|| panic!("there"))
    }

    #[test]
    fn straight_ahead_it_reaches_as_far_as_its_edges() {
        let tire = tire(0.0);
        assert_eq!(tire.reach_mm(0.0, [0.0, 1.0]), 160.0);
        assert_eq!(tire.reach_mm(0.0, [0.0, -1.0]), 40.0);
        assert_eq!(tire.reach_mm(0.0, [1.0, 0.0]), 300.0);
        // A quarter turn: what was forward is outboard.
        assert!((tire.reach_mm(90.0, [0.0, 1.0]) - 300.0).abs() < 1e-9);
        assert!((tire.reach_mm(90.0, [-1.0, 0.0]) - 160.0).abs() < 1e-9);
    }

    #[test]
    fn by_hand_at_thirty_degrees() {
        // Inboard: −60·cos 30 + 260·sin 30 + 60·cos 30 + 40 = 170.
        assert!((tire(0.0).reach_mm(30.0, [0.0, -1.0]) - 170.0).abs() < 1e-9);
        assert!((tire(0.0).reach_mm(-30.0, [0.0, -1.0]) - 170.0).abs() < 1e-9, "left or right lock, a rail is a rail");
    }

    #[test]
    fn a_point_is_as_far_as_a_tape_would_say() {
        let tire = tire(0.0);
        assert_eq!(tire.distance_mm(0.0, [0.0, 200.0]), 40.0);
        assert_eq!(tire.distance_mm(0.0, [330.0, 60.0]), 30.0);
        // Beyond the corner, 3-4-5 from its centre at (260, 120).
        assert_eq!(tire.distance_mm(0.0, [260.0 + 60.0, 120.0 + 80.0]), 60.0);
        assert_eq!(tire.distance_mm(0.0, [0.0, 60.0]), -100.0);
    }

    #[test]
    fn near_its_tread_it_is_shorter_and_narrower() {
        // 3-4-5: 180 over the centre the chord is 240. 284 up, 24 beyond the shoulder's 260: √(40² − 24²) = 32, so 60 + 32 = 92 of 100 wide.
        assert!((tire(180.0).reach_mm(0.0, [1.0, 0.0]) - 240.0).abs() < 0.1);
        assert!((tire(284.0).reach_mm(0.0, [0.0, 1.0]) - (60.0 + 92.0)).abs() < 0.1);
        assert!((tire(-284.0).distance_mm(0.0, [0.0, 60.0 + 192.0]) - 100.0).abs() < 0.1);
        assert!(Outline::at_height(300.0, 200.0, 40.0, 60.0, 300.0).is_none());
    }
}
