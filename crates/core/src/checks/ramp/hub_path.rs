//! Where the centre of a wheel goes: a circle rolled on the ground, corners and risers included, exactly.
//!
//! The centre stands at the largest of z + √(R² − (s − t)²) over the ground's points (t, z): on the upper edge of a circle round
//! each convex corner and of a parallel to each line. Taken along the ground, each of these pieces overtakes those before it
//! once and for good, so one walk over the ground with a stack of pieces finds the path, in as many steps as there are corners.

use super::ground::Ground;

/// The path of one wheel's centre: pieces, each from its beginning to that of the next.
#[derive(Debug)]
pub(super) struct HubPath {
    radius: f64,
    pieces: Vec<Piece>,
    begins: Vec<f64>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Piece {
    /// Round a corner.
    Round { t: f64, z: f64 },
    /// Along a line: height at s = `from`, and as far as `to`.
    Straight { from: f64, to: f64, height: f64, slope: f64 },
}

impl HubPath {
    /// For a wheel of this radius.
    pub(super) fn new(ground: &Ground, radius: f64) -> Self {
        let room = 2 * ground.len();
        let mut path = Self { radius, pieces: Vec::with_capacity(room), begins: Vec::with_capacity(room) };
        let mut a = ground.corner(0);
        path.push(Piece::Round { t: a[0], z: a[1] }, a[0] - radius);
        for i in 1..ground.len() {
            let b = ground.corner(i);
            path.add(a, b);
            a = b;
        }
        path
    }

    fn push(&mut self, piece: Piece, begin: f64) {
        self.pieces.push(piece);
        self.begins.push(begin);
    }

    /// Adds the line from a to b and the circle round b; the circle round a is there already.
    fn add(&mut self, a: [f64; 2], b: [f64; 2]) {
        let (first, last) = (Piece::Round { t: a[0], z: a[1] }, Piece::Round { t: b[0], z: b[1] });
        let (run, rise) = (b[0] - a[0], b[1] - a[1]);
        // A riser has no line that a wheel could touch: only its corners.
        let straight = (run > 0.0).then(|| {
            let length = (run * run + rise * rise).sqrt();
            let shift = -self.radius * rise / length;
            let height = a[1] + self.radius * run / length;
            Piece::Straight { from: a[0] + shift, to: b[0] + shift, height, slope: rise / run }
        });
        let [from, to] = match straight {
            Some(Piece::Straight { from, to, .. }) => [from, to],
            _ => [b[0] - self.radius; 2],
        };
        let new = |path: &Self, s: f64| match straight {
            _ if s > to => path.over(&last, s).0,
            Some(straight) if s >= from => path.over(&straight, s).0,
            _ => path.over(&first, s).0.max(path.over(&last, s).0),
        };
        while let (Some(top), Some(begin)) = (self.pieces.last().copied(), self.begins.last().copied()) {
            if top == first && begin <= from && straight.is_some() {
                break;
            }
            if new(self, begin) > self.over(&top, begin).0 {
                self.pieces.pop();
                self.begins.pop();
                continue;
            }
            // The top stays up to where it is overtaken, by the line or by the circle behind it.
            if let Some(straight) = straight.filter(|_| begin < to && new(self, to) > self.over(&top, to).0) {
                let crossing = self.crossing(&top, &straight, [begin.max(from), to]);
                self.push(straight, crossing);
                self.push(last, to);
            } else {
                let end = b[0] + self.radius;
                let crossing = self.crossing(&top, &last, [begin.max(to), end]);
                if crossing < end {
                    self.push(last, crossing);
                }
            }
            return;
        }
        if let Some(straight) = straight {
            self.push(straight, from);
        }
        self.push(last, to);
    }

    /// Where `after` overtakes `before`, between two places.
    fn crossing(&self, before: &Piece, after: &Piece, [low, high]: [f64; 2]) -> f64 {
        let found = match (*before, *after) {
            (Piece::Round { t, z }, Piece::Round { t: t2, z: z2 }) => self.rounds([t, z], [t2, z2]),
            (Piece::Straight { .. }, Piece::Round { t, z }) => self.round_and_straight([t, z], before, -1.0),
            (Piece::Round { t, z }, Piece::Straight { .. }) => self.round_and_straight([t, z], after, 1.0),
            (
                Piece::Straight { from, height, slope, .. },
                Piece::Straight { from: from2, height: height2, slope: slope2, .. },
            ) => {
                let higher = height + slope * (from2 - from) - height2;
                (slope2 != slope).then(|| from2 + higher / (slope2 - slope))
            }
        };
        if let Some(found) = found.filter(|found| (low..=high).contains(found)) {
            return found;
        }
        // One of them ends before they cross.
        let (mut low, mut high) = (low, high);
        for _ in 0..60 {
            let middle = f64::midpoint(low, high);
            if self.over(after, middle).0 > self.over(before, middle).0 { high = middle } else { low = middle }
        }
        high
    }

    /// Two equal circles cross on the line square to their centres' middle; the upper crossing counts.
    fn rounds(&self, a: [f64; 2], b: [f64; 2]) -> Option<f64> {
        let (across, up) = (b[0] - a[0], b[1] - a[1]);
        let square = across * across + up * up;
        let rest = self.radius * self.radius / square - 0.25;
        (rest >= 0.0 && square > 0.0).then(|| f64::midpoint(a[0], b[0]) - up * rest.sqrt())
    }

    /// Where a circle crosses a line: the first place with side −1, the second with 1.
    fn round_and_straight(&self, [t, z]: [f64; 2], straight: &Piece, side: f64) -> Option<f64> {
        let Piece::Straight { from, height, slope, .. } = *straight else { return None };
        // With w = s − t: (low + slope·w)² = R² − w², low the line over the circle's centre.
        let low = height + slope * (t - from) - z;
        let (square, linear) = (1.0 + slope * slope, slope * low);
        let rest = linear * linear - square * (low * low - self.radius * self.radius);
        (rest >= 0.0).then(|| t + (side * rest.sqrt() - linear) / square)
    }

    /// Height of the centre at `s` on a piece, and how steeply it rises there; lower than anything where the piece is not.
    #[inline]
    fn over(&self, piece: &Piece, s: f64) -> (f64, f64) {
        match *piece {
            Piece::Straight { from, to, height, slope } => {
                let there = s >= from && s <= to;
                (if there { height + slope * (s - from) } else { f64::NEG_INFINITY }, slope)
            }
            Piece::Round { t, z } => {
                let beside = s - t;
                let square = self.radius * self.radius - beside * beside;
                if square < 0.0 {
                    return (f64::NEG_INFINITY, 0.0);
                }
                let above = square.sqrt();
                (z + above, -beside / above.max(1e-9))
            }
        }
    }

    /// Height of the centre with the wheel over `s`, which lies on the ground, and how steeply it rises there; `near` is where the last
    /// answer was found, so that asking along the ground costs nothing.
    #[inline]
    pub(super) fn height(&self, s: f64, near: &mut usize) -> (f64, f64) {
        let mut i = *near;
        while i + 1 < self.begins.len() && self.begins[i + 1] <= s {
            i += 1;
        }
        while i > 0 && self.begins[i] > s {
            i -= 1;
        }
        *near = i;
        match self.pieces[i] {
            // Inside its stretch: a line may end a rounding before the next piece begins.
            Piece::Straight { from, height, slope, .. } => (height + slope * (s - from), slope),
            Piece::Round { .. } => self.over(&self.pieces[i], s),
        }
    }
}
