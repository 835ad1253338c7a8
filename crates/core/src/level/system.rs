//! Normal equations in bordered block form: what all stances share in one block, each stance's own unknowns in another.
//!
//! A reading touches the shared block and at most one stance, so each stance is eliminated by itself (Schur complement) and
//! years of snapshots cost in proportion to their number. Covariances come out exactly as from the full inverse:
//! with W = N_mm⁻¹·N_mG, q = Q·g has q_G = Q_GG·(g_G − Σ Wᵀ·g_m) and q_m = N_mm⁻¹·g_m − W·q_G.

use super::unknowns::{SHARED, Unknowns};
use nalgebra::{Cholesky, DMatrix, DVector, Dyn};
use std::collections::BTreeMap;

/// Sparse row: unknown and coefficient.
pub(crate) type Row = [(usize, f64)];

/// Normal equations being summed up.
pub(crate) struct System {
    layout: Layout,
    shared: DMatrix<f64>,
    shared_rhs: DVector<f64>,
    own: Vec<DMatrix<f64>>,
    border: Vec<DMatrix<f64>>,
    own_rhs: Vec<DVector<f64>>,
}

/// Normal equations factored: the step is known, covariances are not yet worked out.
pub(crate) struct Factored {
    layout: Layout,
    shared: Cholesky<f64, Dyn>,
    own: Vec<Cholesky<f64, Dyn>>,
    coupling: Vec<DMatrix<f64>>,
    /// Step of the unknowns, by number of the unknown.
    pub(crate) step: Vec<f64>,
    /// dxᵀ·N·dx: the square of the step in units of the unknowns' own uncertainty.
    pub(crate) decrement: f64,
}

/// Normal equations solved: every covariance is to be had.
pub(crate) struct Solved {
    layout: Layout,
    shared_inverse: DMatrix<f64>,
    own_inverse: Vec<DMatrix<f64>>,
    coupling: Vec<DMatrix<f64>>,
}

#[derive(Clone)]
struct Layout {
    /// Block and place in it, by number of the unknown.
    place: Vec<(usize, usize)>,
    /// Sizes of the blocks.
    sizes: Vec<usize>,
}

impl Layout {
    fn new(unknowns: &Unknowns) -> Self {
        let blocks = unknowns.block.iter().max().map_or(1, |last| last + 1);
        let mut sizes = vec![0; blocks];
        let place = unknowns
            .block
            .iter()
            .map(|&block| {
                sizes[block] += 1;
                (block, sizes[block] - 1)
            })
            .collect();
        Self { place, sizes }
    }
}

impl System {
    /// Empty normal equations over these unknowns.
    pub(crate) fn new(unknowns: &Unknowns) -> Self {
        let layout = Layout::new(unknowns);
        let shared = layout.sizes[SHARED];
        let stances = &layout.sizes[1..];
        Self {
            shared: DMatrix::zeros(shared, shared),
            shared_rhs: DVector::zeros(shared),
            own: stances.iter().map(|&n| DMatrix::zeros(n, n)).collect(),
            border: stances.iter().map(|&n| DMatrix::zeros(n, shared)).collect(),
            own_rhs: stances.iter().map(|&n| DVector::zeros(n)).collect(),
            layout,
        }
    }

    /// Adds one observation: its row (each unknown once), its weight, and observed less computed.
    pub(crate) fn add(&mut self, row: &Row, weight: f64, misclosure: f64) {
        for (number, &(a, slope_a)) in row.iter().enumerate() {
            let pull = slope_a * weight;
            self.add_rhs(a, pull * misclosure);
            for &(b, slope_b) in &row[..=number] {
                self.add_product(a, b, pull * slope_b);
            }
        }
    }

    /// Adds a group of correlated observations of single unknowns, with their weight matrix.
    pub(crate) fn add_group(&mut self, unknowns: &[usize], weight: &DMatrix<f64>, misclosure: &DVector<f64>) {
        let pull = weight * misclosure;
        for (i, &a) in unknowns.iter().enumerate() {
            self.add_rhs(a, pull[i]);
            for (j, &b) in unknowns[..=i].iter().enumerate() {
                self.add_product(a, b, weight[(i, j)]);
            }
        }
    }

    fn add_rhs(&mut self, unknown: usize, value: f64) {
        match self.layout.place[unknown] {
            (SHARED, at) => self.shared_rhs[at] += value,
            (block, at) => self.own_rhs[block - 1][at] += value,
        }
    }

    /// One product of each pair of unknowns: the lower triangle of each block is kept, and the border beside it.
    fn add_product(&mut self, a: usize, b: usize, value: f64) {
        match (self.layout.place[a], self.layout.place[b]) {
            ((SHARED, i), (SHARED, j)) => self.shared[(i.max(j), i.min(j))] += value,
            ((block, i), (SHARED, j)) | ((SHARED, j), (block, i)) => self.border[block - 1][(i, j)] += value,
            ((block, i), (other, j)) => {
                debug_assert_eq!(block, other, "a reading touches one stance only");
                self.own[block - 1][(i.max(j), i.min(j))] += value;
            }
        }
    }

    /// Finds the step; `None` where the equations are not positive definite.
    pub(crate) fn factor(self) -> Option<Factored> {
        let mut reduced = self.shared;
        let mut reduced_rhs = self.shared_rhs.clone();
        let (mut own_factors, mut coupling, mut own_step) = (Vec::new(), Vec::new(), Vec::new());
        for ((own, border), rhs) in self.own.into_iter().zip(&self.border).zip(&self.own_rhs) {
            let factor = Cholesky::<f64, Dyn>::new(own)?;
            let coupled = factor.solve(border);
            let step = factor.solve(rhs);
            reduced.gemm_tr(-1.0, border, &coupled, 1.0);
            reduced_rhs.gemv_tr(-1.0, border, &step, 1.0);
            own_factors.push(factor);
            coupling.push(coupled);
            own_step.push(step);
        }
        let factor = Cholesky::<f64, Dyn>::new(reduced)?;
        let shared_step = factor.solve(&reduced_rhs);
        for (step, coupled) in own_step.iter_mut().zip(&coupling) {
            step.gemv(-1.0, coupled, &shared_step, 1.0);
        }
        let own_decrement: f64 = own_step.iter().zip(&self.own_rhs).map(|(step, rhs)| step.dot(rhs)).sum();
        let decrement = shared_step.dot(&self.shared_rhs) + own_decrement;
        let step = self
            .layout
            .place
            .iter()
            .map(|&(block, at)| if block == SHARED { shared_step[at] } else { own_step[block - 1][at] })
            .collect();
        Some(Factored { shared: factor, own: own_factors, coupling, step, decrement, layout: self.layout })
    }
}

impl Factored {
    /// Works out the covariances.
    pub(crate) fn solved(self) -> Solved {
        Solved {
            shared_inverse: self.shared.inverse(),
            own_inverse: self.own.iter().map(Cholesky::inverse).collect(),
            coupling: self.coupling,
            layout: self.layout,
        }
    }
}

impl Solved {
    /// gᵀ·Q·g of a sparse row.
    pub(crate) fn variance(&self, row: &Row) -> f64 {
        let reduced = self.reduced(row);
        let mut sum = reduced.dot(&(&self.shared_inverse * &reduced));
        for &(unknown_a, slope_a) in row {
            let (block_a, i) = self.layout.place[unknown_a];
            if block_a == SHARED {
                continue;
            }
            for &(unknown_b, slope_b) in row {
                let (block_b, j) = self.layout.place[unknown_b];
                if block_a == block_b {
                    sum += slope_a * slope_b * self.own_inverse[block_a - 1][(i, j)];
                }
            }
        }
        sum
    }

    /// gᵀ·Q·h of every pair of sparse rows, each of which touches one stance at most.
    pub(crate) fn covariance(&self, rows: &[&Row]) -> DMatrix<f64> {
        if rows.is_empty() {
            return DMatrix::zeros(0, 0);
        }
        let reduced = DMatrix::from_columns(&rows.iter().map(|row| self.reduced(row)).collect::<Vec<_>>());
        let mut covariance = reduced.tr_mul(&(&self.shared_inverse * &reduced));
        let mut of_block: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (number, row) in rows.iter().enumerate() {
            let own = row.iter().map(|&(unknown, _)| self.layout.place[unknown].0).find(|&block| block != SHARED);
            if let Some(block) = own {
                of_block.entry(block).or_default().push(number);
            }
        }
        for (block, numbers) in of_block {
            let inverse = &self.own_inverse[block - 1];
            let own = |row: &Row| -> Vec<(usize, f64)> {
                let places = row.iter().map(|&(unknown, slope)| (self.layout.place[unknown], slope));
                places.filter(|((of, _), _)| *of == block).map(|((_, at), slope)| (at, slope)).collect()
            };
            for &i in &numbers {
                for &j in &numbers {
                    for (at, slope) in own(rows[i]) {
                        let along =
                            own(rows[j]).into_iter().map(|(other, theirs)| slope * theirs * inverse[(at, other)]);
                        covariance[(i, j)] += along.sum::<f64>();
                    }
                }
            }
        }
        covariance
    }

    /// Q·g, each entry worked out when it is asked for.
    pub(crate) fn product<'a>(&'a self, row: &'a Row) -> Product<'a> {
        Product { solved: self, row, shared: &self.shared_inverse * self.reduced(row), own: None }
    }

    /// g_G − Σ Wᵀ·g_m.
    fn reduced(&self, row: &Row) -> DVector<f64> {
        let mut reduced = DVector::zeros(self.layout.sizes[SHARED]);
        for &(unknown, slope) in row {
            match self.layout.place[unknown] {
                (SHARED, at) => reduced[at] += slope,
                (block, at) => {
                    for (sum, coupled) in reduced.iter_mut().zip(self.coupling[block - 1].row(at).iter()) {
                        *sum -= slope * coupled;
                    }
                }
            }
        }
        reduced
    }
}

/// Q·g of a sparse row g.
pub(crate) struct Product<'a> {
    solved: &'a Solved,
    row: &'a Row,
    shared: DVector<f64>,
    /// The entries of one stance, if they were worked out beforehand.
    own: Option<(usize, DVector<f64>)>,
}

impl Product<'_> {
    /// Works out the entries of the stance that the row touches, where many of them will be asked for.
    pub(crate) fn worked_out(mut self) -> Self {
        let places = || self.row.iter().map(|&(unknown, slope)| (self.solved.layout.place[unknown], slope));
        if let Some(block) = places().map(|((block, _), _)| block).find(|&block| block != SHARED) {
            let mut own = -(&self.solved.coupling[block - 1] * &self.shared);
            for ((_, at), slope) in places().filter(|((other, _), _)| *other == block) {
                own.axpy(slope, &self.solved.own_inverse[block - 1].column(at), 1.0);
            }
            self.own = Some((block, own));
        }
        self
    }

    /// The entry of one unknown.
    pub(crate) fn at(&self, unknown: usize) -> f64 {
        let (block, at) = self.solved.layout.place[unknown];
        if block == SHARED {
            return self.shared[at];
        }
        if let Some((known, own)) = &self.own
            && *known == block
        {
            return own[at];
        }
        let coupled = self.solved.coupling[block - 1].row(at);
        let mut entry: f64 = -coupled.iter().zip(&self.shared).map(|(a, b)| a * b).sum::<f64>();
        for &(other, slope) in self.row {
            let (other_block, other_at) = self.solved.layout.place[other];
            if other_block == block {
                entry += slope * self.solved.own_inverse[block - 1][(at, other_at)];
            }
        }
        entry
    }

    /// aᵀ·Q·g of a sparse row a.
    pub(crate) fn along(&self, row: &Row) -> f64 {
        row.iter().map(|&(unknown, slope)| slope * self.at(unknown)).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Second road: the same normal equations as one dense matrix.
    #[test]
    fn blocks_give_the_dense_inverse() {
        let unknowns = Unknowns { block: vec![0, 1, 2, 0, 1, 2, 2] };
        let rows: [(&Row, f64, f64); 6] = [
            (&[(0, 1.0), (1, 2.0), (4, -1.0)], 2.0, 0.3),
            (&[(0, 0.5), (3, 1.0), (2, 1.0), (6, 0.7)], 1.0, -1.0),
            (&[(5, 1.5), (6, -1.0), (3, 2.0)], 4.0, 0.1),
            (&[(4, 1.0), (3, -0.4)], 1.5, 0.9),
            (&[(2, 1.0), (0, -2.0)], 0.5, 2.0),
            (&[(1, 1.0)], 3.0, -0.5),
        ];
        let mut system = System::new(&unknowns);
        let mut dense = DMatrix::zeros(7, 7);
        let mut rhs = DVector::zeros(7);
        let singles: Vec<[(usize, f64); 1]> = (0..7).map(|i| [(i, 1.0)]).collect();
        let all = rows.iter().copied().chain(singles.iter().map(|row| (&row[..], 0.3, 0.0)));
        for (row, weight, misclosure) in all {
            system.add(row, weight, misclosure);
            for &(i, a) in row {
                rhs[i] += a * weight * misclosure;
                for &(j, b) in row {
                    dense[(i, j)] += a * b * weight;
                }
            }
        }
        let inverse = dense.try_inverse().expect("regular");
        let step = &inverse * rhs;
        let factored = system.factor().expect("positive definite");
        let own_step = factored.step.clone();
        let solved = factored.solved();
        let g: &Row = &[(0, 1.0), (5, -2.0), (1, 0.5)];
        let full = DVector::from_fn(7, |i, _| g.iter().find(|entry| entry.0 == i).map_or(0.0, |entry| entry.1));
        let product = &inverse * &full;
        for i in 0..7 {
            assert!((own_step[i] - step[i]).abs() < 1e-12, "step {i}");
            assert!((solved.product(g).at(i) - product[i]).abs() < 1e-12, "product {i}");
        }
        assert!((solved.variance(g) - full.dot(&product)).abs() < 1e-12);
    }
}
