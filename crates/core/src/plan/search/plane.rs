//! Two rows decide most of the others: where in their plane a combination must lie to be within a limit and to keep what it must.
//!
//! What moves front and rear moves every height by a share of both, so a row, or a room to be kept, is a strip or a half of the plane
//! of two rows. Those together are a convex piece of it; its width and height are how far a search has to look.

use super::problem::{Problem, SAME};

/// The plane of two rows.
pub(super) struct Plane {
    /// Which rows.
    pub(super) rows: [usize; 2],
    /// How far all slots together can bring each of the two.
    reach: [[f64; 2]; 2],
    lines: Vec<Line>,
    /// Numbers of the rooms that these two rows do not decide.
    pub(super) other_rooms: Vec<usize>,
}

/// a·x + b·y + c stays below the limit, or below 0 where it is a room's.
struct Line {
    of: [f64; 2],
    from: f64,
    limited: bool,
}

/// Halvings of a limit.
const HALVINGS: usize = 60;

impl Plane {
    pub(super) fn of(problem: &Problem) -> Self {
        let rows = leaders(problem);
        let column = |row: usize| column(problem, |choice| choice.moves[row]);
        let two = rows.map(column);
        let now = rows.map(|row| problem.now[row]);
        let mut lines = Vec::new();
        for (row, at) in problem.now.iter().enumerate() {
            let Some(of) = shares(&two, &column(row)) else { continue };
            let from = at - of[0] * now[0] - of[1] * now[1];
            lines.push(Line { of, from, limited: true });
            lines.push(Line { of: of.map(|share| -share), from: -from, limited: true });
        }
        let mut other_rooms = Vec::new();
        for (room, at) in problem.room.iter().enumerate() {
            match shares(&two, &self::column(problem, |choice| choice.room[room])) {
                Some(of) => {
                    let from = at - of[0] * now[0] - of[1] * now[1];
                    lines.push(Line { of: of.map(|share| -share), from: -from, limited: false });
                }
                None => other_rooms.push(room),
            }
        }
        let all = &problem.reaches()[0];
        let reach = [0, 1].map(|i| all[rows[i]].map(|by| now[i] + by));
        Self { rows, reach, lines, other_rooms }
    }

    /// True where both rows keep every room that they decide.
    pub(super) fn keeps(&self, at: [f64; 2]) -> bool {
        self.lines.iter().all(|line| line.limited || line.over(at, 0.0) <= SAME)
    }

    /// From … to … of both rows for whatever is within a limit; `None` where nothing is.
    pub(super) fn window(&self, limit: f64) -> Option<[[f64; 2]; 2]> {
        let [[x0, x1], [y0, y1]] = self.reach;
        let mut corners =
            vec![[x0 - SAME, y0 - SAME], [x1 + SAME, y0 - SAME], [x1 + SAME, y1 + SAME], [x0 - SAME, y1 + SAME]];
        for line in &self.lines {
            corners = line.cut(&corners, if line.limited { limit } else { 0.0 });
        }
        let span = |i: usize| {
            let at = corners.iter().map(|corner| corner[i]);
            at.fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], at| [low.min(at), high.max(at)])
        };
        (!corners.is_empty()).then(|| [span(0), span(1)])
    }

    /// Where the worst row would be least if parts could do anything between their ends; `None` where nothing keeps what it must.
    pub(super) fn nearest(&self) -> Option<[f64; 2]> {
        let most = self.lines.iter().map(|line| line.highest(self.reach)).fold(1.0, f64::max);
        let mut window = self.window(most)?;
        let (mut low, mut high) = (0.0, most);
        for _ in 0..HALVINGS {
            let limit = f64::midpoint(low, high);
            match self.window(limit) {
                Some(nearer) => (window, high) = (nearer, limit),
                None => low = limit,
            }
        }
        Some(window.map(|[low, high]| f64::midpoint(low, high)))
    }
}

impl Line {
    fn over(&self, [x, y]: [f64; 2], limit: f64) -> f64 {
        self.of[0] * x + self.of[1] * y + self.from - limit
    }

    fn highest(&self, [xs, ys]: [[f64; 2]; 2]) -> f64 {
        xs.into_iter().flat_map(|x| ys.map(|y| self.over([x, y], 0.0))).fold(0.0, f64::max)
    }

    /// What is left of a convex piece [Sutherland and Hodgman's clipping].
    fn cut(&self, corners: &[[f64; 2]], limit: f64) -> Vec<[f64; 2]> {
        let mut left = Vec::with_capacity(corners.len() + 1);
        let limit = limit + SAME;
        for (i, here) in corners.iter().enumerate() {
            let next = corners[(i + 1) % corners.len()];
            let (at, then) = (self.over(*here, limit), self.over(next, limit));
            if at <= 0.0 {
                left.push(*here);
            }
            if (at < 0.0 && then > 0.0) || (at > 0.0 && then < 0.0) {
                let part = at / (at - then);
                left.push([0, 1].map(|i| here[i] + part * (next[i] - here[i])));
            }
        }
        left
    }
}

/// What every choice does to one row.
fn column(problem: &Problem, of: impl Fn(&super::Choices) -> f64) -> Vec<f64> {
    problem.slots.iter().flat_map(|slot| slot.choices.iter().map(&of)).collect()
}

fn product(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// The row that moves most, and the one that most goes its own way beside it.
fn leaders(problem: &Problem) -> [usize; 2] {
    let columns: Vec<Vec<f64>> =
        (0..problem.now.len()).map(|row| column(problem, |choice| choice.moves[row])).collect();
    let most = |of: &dyn Fn(&Vec<f64>) -> f64| {
        (0..columns.len()).max_by(|a, b| of(&columns[*a]).total_cmp(&of(&columns[*b]))).unwrap_or(0)
    };
    let first = most(&|own| product(own, own));
    let square = product(&columns[first], &columns[first]).max(f64::MIN_POSITIVE);
    let second = most(&|own| product(own, own) - product(own, &columns[first]).powi(2) / square);
    [first, second]
}

/// Shares of two columns that make up a third for every choice; `None` where they do not.
fn shares(two: &[Vec<f64>; 2], third: &[f64]) -> Option<[f64; 2]> {
    let [a, b] = two;
    let (aa, ab, bb) = (product(a, a), product(a, b), product(b, b));
    let (at, bt) = (product(a, third), product(b, third));
    let det = aa * bb - ab * ab;
    let of = if det > 1e-9 * aa * bb {
        [(at * bb - bt * ab) / det, (bt * aa - at * ab) / det]
    } else if aa > 0.0 {
        [at / aa, 0.0]
    } else {
        [0.0; 2]
    };
    let largest = third.iter().fold(0.0_f64, |most, by| most.max(by.abs()));
    let made = third.iter().enumerate().all(|(i, by)| (of[0] * a[i] + of[1] * b[i] - by).abs() <= 1e-12 * largest);
    made.then_some(of)
}

#[cfg(test)]
mod tests {
    use super::super::{Choices, Slot};
    use super::*;

    fn choice(moves: [f64; 3], room: f64) -> Choices {
        Choices { moves: moves.to_vec(), price: 0.0, alike: Vec::new(), room: vec![room] }
    }

    #[test]
    fn rows_that_move_together_leave_a_window_between_them() {
        // x from −4 to 4 and y from −2 to 2; the third row is x once more, 1 tolerance higher: within 2, x lies from −2 to 1.
        let slots = vec![
            Slot { choices: vec![choice([4.0, 0.0, 4.0], -4.0), choice([-4.0, 0.0, -4.0], 4.0)] },
            Slot { choices: vec![choice([0.0, 2.0, 0.0], 0.0), choice([0.0, -2.0, 0.0], 0.0)] },
        ];
        let problem = Problem { now: vec![0.0, 0.0, 1.0], slots, wanted: 1, room: vec![0.5] };
        let plane = Plane::of(&problem);
        let x = usize::from(plane.rows[0] == 1);
        // The leader is row 0 or row 2, which are the same but for the 1; counted in row 0.
        let shift = if plane.rows[x] == 2 { 1.0 } else { 0.0 };
        let span = |limit: f64| plane.window(limit).map(|window| window[x].map(|at| at - shift));
        // The room asks for x ≤ 0.5.
        assert!(span(2.0).is_some_and(|[low, high]| (low + 2.0).abs() < 1e-8 && (high - 0.5).abs() < 1e-8));
        assert!(plane.window(0.49).is_none(), "half a tolerance is the least: x = −0.5");
        assert!(plane.nearest().is_some_and(|at| (at[x] - shift + 0.5).abs() < 1e-6));
        assert!(plane.other_rooms.is_empty());
    }
}
