//! The ground under a wheel line: corners joined by straight lines, with risers where two corners stand over each other.

/// Ground seen from the side; s never runs backwards.
#[derive(Debug, Clone, PartialEq)]
pub struct Ground {
    s_mm: Vec<f64>,
    z_mm: Vec<f64>,
}

impl Ground {
    /// From corners `[s, z]` in the order they are driven over, mm. At least two, none behind the one before it.
    pub fn new(corners: impl IntoIterator<Item = [f64; 2]>) -> Self {
        let (s_mm, z_mm) = corners.into_iter().map(|[s, z]| (s, z)).unzip();
        Self { s_mm, z_mm }
    }

    /// How many corners.
    pub fn len(&self) -> usize {
        self.s_mm.len()
    }

    /// True without a corner.
    pub fn is_empty(&self) -> bool {
        self.s_mm.is_empty()
    }

    /// A corner `[s, z]`.
    pub fn corner(&self, i: usize) -> [f64; 2] {
        [self.s_mm[i], self.z_mm[i]]
    }

    /// All corners.
    pub fn corners(&self) -> impl Iterator<Item = [f64; 2]> + '_ {
        self.s_mm.iter().zip(&self.z_mm).map(|(s, z)| [*s, *z])
    }

    /// Where it begins and ends, mm.
    pub fn span(&self) -> (f64, f64) {
        (self.s_mm[0], self.s_mm[self.len() - 1])
    }

    /// Height at `s`, the upper one of a riser; `None` beyond the ends. `near` is where the last answer was found, so that
    /// asking along a run costs nothing.
    #[inline]
    pub fn height(&self, s: f64, near: &mut usize) -> Option<f64> {
        let last = self.len() - 1;
        if !(s >= self.s_mm[0] && s <= self.s_mm[last]) {
            return None;
        }
        let mut i = (*near).min(last);
        while i < last && self.s_mm[i + 1] <= s {
            i += 1;
        }
        while self.s_mm[i] > s {
            i -= 1;
        }
        *near = i;
        if self.s_mm[i] == s {
            let level = (0..=i).rev().take_while(|j| self.s_mm[*j] == s);
            return Some(level.map(|j| self.z_mm[j]).fold(f64::MIN, f64::max));
        }
        let part = (s - self.s_mm[i]) / (self.s_mm[i + 1] - self.s_mm[i]);
        Some(self.z_mm[i] + part * (self.z_mm[i + 1] - self.z_mm[i]))
    }

    /// The corners with `from < s < to`, as a range of indices; `near` as in [`Ground::height`].
    #[inline]
    pub(super) fn between(&self, from: f64, to: f64, near: &mut usize) -> std::ops::Range<usize> {
        let mut i = (*near).min(self.len());
        while i > 0 && self.s_mm[i - 1] > from {
            i -= 1;
        }
        while i < self.len() && self.s_mm[i] <= from {
            i += 1;
        }
        *near = i;
        let mut end = i;
        while end < self.len() && self.s_mm[end] < to {
            end += 1;
        }
        i..end
    }
}
