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

/// From one position to the next the rear wheel comes over a few pieces; over more it is looked for afresh.
const MOST_MOVES: usize = 12;

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
            _ if s > to => path.level(&last, s),
            Some(straight) if s >= from => path.level(&straight, s),
            _ => path.level(&first, s).max(path.level(&last, s)),
        };
        if let Some(straight) = straight
            && let Some(crossing) = self.meets_before(&first, &straight)
        {
            self.pieces.pop();
            self.begins.pop();
            self.push(straight, crossing);
            self.push(last, to);
            return;
        }
        while let (Some(top), Some(begin)) = (self.pieces.last().copied(), self.begins.last().copied()) {
            if top == first && begin <= from && straight.is_some() {
                break;
            }
            if new(self, begin) > self.level(&top, begin) {
                self.pieces.pop();
                self.begins.pop();
                continue;
            }
            // The top stays up to where it is overtaken, by the line or by the circle behind it.
            if let Some(straight) = straight.filter(|_| begin < to && new(self, to) > self.level(&top, to)) {
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

    /// In a hollow two lines meet before the wheel comes to the corner between them, and the circle round that corner is never
    /// touched: where they meet. Nothing where the path is another; then it is looked for piece by piece.
    #[inline]
    fn meets_before(&self, corner: &Piece, line: &Piece) -> Option<f64> {
        let [.., before, top] = &self.pieces[..] else { return None };
        let Piece::Straight { from, to, height, slope } = *before else { return None };
        let Piece::Straight { from: from2, to: to2, height: height2, slope: slope2 } = *line else { return None };
        if top != corner || slope2 <= slope {
            return None;
        }
        let crossing = from2 + (height + slope * (from2 - from) - height2) / (slope2 - slope);
        let begin = self.begins[self.begins.len() - 2];
        (crossing > begin && crossing >= from2 && crossing < to && crossing < to2).then_some(crossing)
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
            if self.level(after, middle) > self.level(before, middle) { high = middle } else { low = middle }
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

    /// Height of the centre at `s` on a piece; lower than anything where the piece is not.
    #[inline]
    fn level(&self, piece: &Piece, s: f64) -> f64 {
        match *piece {
            Piece::Straight { from, to, height, slope } if s >= from && s <= to => height + slope * (s - from),
            Piece::Straight { .. } => f64::NEG_INFINITY,
            Piece::Round { t, z } => {
                let square = self.radius * self.radius - (s - t) * (s - t);
                if square < 0.0 { f64::NEG_INFINITY } else { z + square.sqrt() }
            }
        }
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
        match self.pieces[self.at(s, near)] {
            // Inside its stretch: a line may end a rounding before the next piece begins.
            Piece::Straight { from, height, slope, .. } => (height + slope * (s - from), slope),
            round @ Piece::Round { .. } => self.over(&round, s),
        }
    }

    /// The same without how steeply it rises.
    #[inline]
    pub(super) fn height_only(&self, s: f64, near: &mut usize) -> f64 {
        match self.pieces[self.at(s, near)] {
            Piece::Straight { from, height, slope, .. } => height + slope * (s - from),
            round @ Piece::Round { .. } => self.level(&round, s),
        }
    }

    /// The piece over `s`.
    #[inline]
    fn at(&self, s: f64, near: &mut usize) -> usize {
        let mut i = *near;
        while i + 1 < self.begins.len() && self.begins[i + 1] <= s {
            i += 1;
        }
        while i > 0 && self.begins[i] > s {
            i -= 1;
        }
        *near = i;
        i
    }

    /// The place on this path `length` behind a wheel centre at `[s, z]`, by walking from piece to piece from a guess; each
    /// piece is a line or an arc, which the circle round that centre cuts in closed form. `None` where that leads nowhere: over a riser the
    /// path jumps.
    #[inline]
    pub(super) fn behind(&self, [s, z]: [f64; 2], length: f64, guess: f64, near: &mut usize) -> Option<[f64; 2]> {
        let mut i = self.at(guess, near);
        for _ in 0..MOST_MOVES {
            let [at, height] = self.cut(i, [s, z], length)?;
            if at < self.begins[i] {
                i = i.checked_sub(1)?;
            } else if self.begins.get(i + 1).is_some_and(|next| at >= *next) {
                i += 1;
            } else {
                *near = i;
                return (at < s).then_some([at, height]);
            }
        }
        None
    }

    /// Where a circle cuts the whole line or the upper half of the whole arc of a piece, on the side behind its centre.
    #[inline]
    fn cut(&self, i: usize, [s, z]: [f64; 2], length: f64) -> Option<[f64; 2]> {
        match self.pieces[i] {
            Piece::Straight { from, height, slope, .. } => {
                // (a − u)² + (b − slope·u)² = length², u from the line's beginning on.
                let (a, b) = (s - from, z - height);
                let (square, half) = (1.0 + slope * slope, a + slope * b);
                let rest = half * half - square * (a * a + b * b - length * length);
                let u = (half - rest.sqrt()) / square;
                (rest >= 0.0).then_some([from + u, height + slope * u])
            }
            Piece::Round { t, z: centre } => {
                // From the corner toward the wheel centre, then square to that: two circles cut each other.
                let (a, b) = (s - t, z - centre);
                let apart = a * a + b * b;
                let along = (self.radius * self.radius - length * length + apart) / (2.0 * apart);
                let rest = self.radius * self.radius / apart - along * along;
                let aside = rest.sqrt();
                (rest >= 0.0).then_some([t + along * a - aside * b, centre + along * b + aside * a])
            }
        }
    }
}
