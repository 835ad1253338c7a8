//! The adjustment of a network: Gauss-Markov model, every reading weighted with 1/u².
//!
//! Unknowns are the heights of all points that are not held exactly and the height of each set-up's plane. Heights are
//! solved as small corrections to approximate heights, so that a net at 450 m keeps its digits. With a free datum the
//! first point is held, and result and covariance are carried over to the mean (S-transformation).
//!
//! # Source
//! W. Baarda, *S-transformations and Criterion Matrices* (1973), and *A Testing Procedure for Use in Geodetic Networks*
//! (1968) for redundancy numbers and standardised residuals; P. R. Wolf, C. D. Ghilani, *Adjustment Computations*, ch. 12.

use super::check::{Points, check};
use super::result::{AdjustedNetwork, Datum, Elevation, ReadingOf, ResidualRow};
use super::{FixedPoint, Network};
use crate::bench::Refusal;
use crate::least_squares::{NormalEquations, NormalSolution};
use nalgebra::DVector;

/// |standardised residual| above which a reading is named: two-sided 0.1 % of a normal distribution.
const DOUBTFUL: f64 = 3.29;

/// Redundancy below which nothing is said to check a reading.
const UNCHECKED: f64 = 1e-9;

/// Adjusts a network.
///
/// # Errors
/// Numbers out of range, points tied to nothing, given points without a reading, or more than is adjusted together; see
/// the limits of this module.
pub fn adjust(network: &Network) -> Result<AdjustedNetwork, Refusal> {
    let points = check(network)?;
    let net = Net::new(network, &points);
    let mut normal = NormalEquations::new(net.unknowns);
    for reading in &net.readings {
        normal.add(&net.partials(reading), reading.observed - net.approximate(reading), reading.u);
    }
    let solution = normal.solve().ok_or_else(|| {
        Refusal::new(
            "The uncertainties of this network differ too much to be adjusted together.",
            "Hold the points exactly that are known far better than the rest: give them without a u.",
        )
    })?;
    let datum = net.datum(&solution);
    let elevations =
        points.names.iter().enumerate().map(|(i, name)| ((*name).to_owned(), datum.elevation(&net, i))).collect();

    let rows: Vec<ResidualRow> = net
        .readings
        .iter()
        .filter_map(|reading| Some(row(&net, &solution, reading, of(network, reading.of)?)))
        .collect();
    let sum_weighted_squares =
        net.readings.iter().map(|reading| (net.residual(&solution, reading) / reading.u).powi(2)).sum();
    let mut doubtful: Vec<ResidualRow> =
        rows.iter().filter(|row| row.standardised.is_some_and(|w| w.abs() > DOUBTFUL)).cloned().collect();
    let size = |row: &ResidualRow| row.standardised.map_or(0.0, f64::abs);
    doubtful.sort_by(|a, b| size(b).total_cmp(&size(a)));
    Ok(AdjustedNetwork {
        datum: if !network.fixed.is_empty() {
            Datum::Fixed
        } else if network.datum_points.is_empty() {
            Datum::MeanZero
        } else {
            Datum::DatumPoints
        },
        elevations,
        residuals: rows,
        // Every unknown is determined: the check saw to it that all hangs together.
        degrees_of_freedom: net.readings.len() - net.unknowns,
        sum_weighted_squares,
        doubtful,
    })
}

/// Where an observation comes from.
#[derive(Clone, Copy)]
enum Origin {
    Difference(usize),
    Staff(usize, usize),
    Given,
}

/// An observation as difference of two nodes (points, then planes); one node only for a given height.
struct Reading {
    plus: usize,
    minus: Option<usize>,
    observed: f64,
    u: f64,
    of: Origin,
}

/// The network by number: nodes are the points, then the planes.
struct Net {
    readings: Vec<Reading>,
    /// Approximate height of each node.
    heights: Vec<f64>,
    /// Place among the unknowns; none for a node that is held.
    column: Vec<Option<usize>>,
    unknowns: usize,
    /// With a free datum: the points whose mean is zero.
    mean_of: Vec<usize>,
}

impl Net {
    fn new(network: &Network, points: &Points<'_>) -> Self {
        let count = points.names.len();
        let node = |name: &str| points.index[name];
        let mut readings = Vec::new();
        for (i, difference) in network.differences.iter().enumerate() {
            let (plus, minus) = (node(&difference.to), Some(node(&difference.from)));
            readings.push(Reading {
                plus,
                minus,
                observed: difference.rise_mm,
                u: difference.u_mm,
                of: Origin::Difference(i),
            });
        }
        for (i, setup) in network.setups.iter().enumerate() {
            for (j, staff) in setup.readings.iter().enumerate() {
                let (plus, minus) = (count + i, Some(node(&staff.point)));
                readings.push(Reading {
                    plus,
                    minus,
                    observed: staff.staff_mm,
                    u: staff.u_mm,
                    of: Origin::Staff(i, j),
                });
            }
        }
        for FixedPoint { point, value_mm, u_mm } in &network.fixed {
            if let Some(u) = *u_mm {
                readings.push(Reading { plus: node(point), minus: None, observed: *value_mm, u, of: Origin::Given });
            }
        }
        let nodes = count + network.setups.len();
        let heights = approximate_heights(nodes, &readings, network, points);
        let free = network.fixed.is_empty();
        let mut held = vec![false; nodes];
        for fixed in network.fixed.iter().filter(|fixed| fixed.u_mm.is_none()) {
            held[node(&fixed.point)] = true;
        }
        held[0] |= free;
        let mut unknowns = 0;
        let column = held
            .iter()
            .map(|held| {
                (!held).then(|| {
                    unknowns += 1;
                    unknowns - 1
                })
            })
            .collect();
        let mean_of = match (free, network.datum_points.is_empty()) {
            (false, _) => Vec::new(),
            (true, true) => (0..count).collect(),
            (true, false) => network.datum_points.iter().map(|name| node(name)).collect(),
        };
        Self { readings, heights, column, unknowns, mean_of }
    }

    fn partials(&self, reading: &Reading) -> Vec<(usize, f64)> {
        let plus = self.column[reading.plus].map(|column| (column, 1.0));
        let minus = reading.minus.and_then(|node| self.column[node]).map(|column| (column, -1.0));
        plus.into_iter().chain(minus).collect()
    }

    fn approximate(&self, reading: &Reading) -> f64 {
        self.heights[reading.plus] - reading.minus.map_or(0.0, |node| self.heights[node])
    }

    fn correction(&self, solution: &NormalSolution, node: usize) -> f64 {
        self.column[node].map_or(0.0, |column| solution.parameters[column])
    }

    /// Adjusted less observed.
    fn residual(&self, solution: &NormalSolution, reading: &Reading) -> f64 {
        let minus = reading.minus.map_or(0.0, |node| self.correction(solution, node));
        self.correction(solution, reading.plus) - minus - (reading.observed - self.approximate(reading))
    }

    /// The datum of the answer: nothing to do where a height is given.
    fn datum<'s>(&self, solution: &'s NormalSolution) -> DatumShift<'s> {
        let part = 1.0 / self.mean_of.len().max(1) as f64;
        let mean_row: Vec<(usize, f64)> =
            self.mean_of.iter().filter_map(|node| Some((self.column[*node]?, part))).collect();
        DatumShift {
            solution,
            mean_whitened: solution.whitened(&mean_row),
            mean_height: self.mean_of.iter().map(|node| self.heights[*node] * part).sum(),
            mean_correction: self.mean_of.iter().map(|node| self.correction(solution, *node) * part).sum(),
        }
    }
}

/// Carries heights and their uncertainty over to the mean of the datum points; where heights are given, the mean is
/// nothing and stays so.
struct DatumShift<'s> {
    solution: &'s NormalSolution,
    mean_whitened: DVector<f64>,
    mean_height: f64,
    mean_correction: f64,
}

impl DatumShift<'_> {
    fn elevation(&self, net: &Net, point: usize) -> Elevation {
        let correction = net.correction(self.solution, point) - self.mean_correction;
        let column: Vec<(usize, f64)> = net.column[point].map(|column| (column, 1.0)).into_iter().collect();
        let u = (self.solution.whitened(&column) - &self.mean_whitened).norm();
        Elevation { value: net.heights[point] - self.mean_height + correction, u }
    }
}

fn row(net: &Net, solution: &NormalSolution, reading: &Reading, of: ReadingOf) -> ResidualRow {
    let residual = net.residual(solution, reading);
    let adjusted_u = solution.u_of(&net.partials(reading)) / reading.u;
    let redundancy = (1.0 - adjusted_u * adjusted_u).clamp(0.0, 1.0);
    ResidualRow {
        of,
        observed_mm: reading.observed,
        adjusted_mm: reading.observed + residual,
        residual_mm: residual,
        redundancy,
        standardised: (redundancy >= UNCHECKED).then(|| residual / (reading.u * redundancy.sqrt())),
    }
}

fn of(network: &Network, origin: Origin) -> Option<ReadingOf> {
    match origin {
        Origin::Difference(i) => {
            let difference = &network.differences[i];
            Some(ReadingOf::Difference { from: difference.from.clone(), to: difference.to.clone() })
        }
        Origin::Staff(i, j) => {
            let setup = &network.setups[i];
            Some(ReadingOf::Staff { setup: setup.id.clone(), point: setup.readings[j].point.clone() })
        }
        Origin::Given => None,
    }
}

/// A height for every node, carried along the readings from the given points (or from the first point at zero).
fn approximate_heights(nodes: usize, readings: &[Reading], network: &Network, points: &Points<'_>) -> Vec<f64> {
    let mut neighbours: Vec<Vec<(usize, f64)>> = vec![Vec::new(); nodes];
    for reading in readings {
        if let Some(minus) = reading.minus {
            neighbours[minus].push((reading.plus, reading.observed));
            neighbours[reading.plus].push((minus, -reading.observed));
        }
    }
    let mut heights: Vec<Option<f64>> = vec![None; nodes];
    for fixed in &network.fixed {
        heights[points.index[fixed.point.as_str()]] = Some(fixed.value_mm);
    }
    if network.fixed.is_empty() {
        heights[0] = Some(0.0);
    }
    let mut open: Vec<usize> = (0..nodes).filter(|node| heights[*node].is_some()).collect();
    let mut next = 0;
    while let Some(node) = open.get(next).copied() {
        next += 1;
        let height = heights[node].unwrap_or_default();
        for (other, rise) in &neighbours[node] {
            if heights[*other].is_none() {
                heights[*other] = Some(height + rise);
                open.push(*other);
            }
        }
    }
    heights.into_iter().map(Option::unwrap_or_default).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn refused(text: &str) -> String {
        Network::read(text).and_then(|network| adjust(&network)).unwrap_err().to_string()
    }

    #[test]
    fn two_set_ups_by_hand() {
        // Plane 1 reads A 1000, B 1100; plane 2 reads A 900, B 1004: B is -100 and -104, mean -102, u = sqrt(2)/sqrt(2) = 1.
        let network = Network::read(
            r#"{"fixed": {"A": 10}, "setups": [
                {"id": "one", "readings": [{"point": "A", "staff_mm": 1000, "u_mm": 1}, {"point": "B", "staff_mm": 1100, "u_mm": 1}]},
                {"id": "two", "readings": [{"point": "A", "staff_mm": 900, "u_mm": 1}, {"point": "B", "staff_mm": 1004, "u_mm": 1}]}]}"#,
        )
        .unwrap();
        let adjusted = adjust(&network).unwrap();
        let b = adjusted.elevation("B").unwrap();
        assert!((b.value + 92.0).abs() < 1e-10 && (b.u - 1.0).abs() < 1e-12, "{b:?}");
        assert_eq!(adjusted.elevation("A").unwrap(), Elevation { value: 10.0, u: 0.0 });
        assert_eq!((adjusted.datum, adjusted.degrees_of_freedom), (Datum::Fixed, 1));
        // Each reading takes a quarter of the 4 mm; redundancy 1/4 each, so |w| = 1 / sqrt(1/4) = 2.
        for row in &adjusted.residuals {
            assert!((row.residual_mm.abs() - 1.0).abs() < 1e-10 && (row.redundancy - 0.25).abs() < 1e-12);
            assert!((row.standardised.unwrap().abs() - 2.0).abs() < 1e-9);
        }
        assert!((adjusted.sum_weighted_squares - 4.0).abs() < 1e-9);
        assert!(adjusted.doubtful.is_empty());
        let json = serde_json::to_string(&adjusted.residuals[0]).unwrap();
        assert!(json.starts_with(r#"{"setup":"one","point":"A","observed_mm":1000.0"#), "{json}");
    }

    #[test]
    fn a_point_that_nothing_checks_has_no_standardised_residual() {
        let network = Network::read(r#"{"differences": [{"from": "A", "to": "B", "rise_mm": 4, "u_mm": 2}]}"#).unwrap();
        let adjusted = adjust(&network).unwrap();
        assert_eq!((adjusted.datum, adjusted.degrees_of_freedom), (Datum::MeanZero, 0));
        assert_eq!(adjusted.residuals[0].standardised, None);
        // Mean zero: A -2, B 2, each with half of the difference's u.
        assert_eq!(adjusted.elevation("B").unwrap(), Elevation { value: 2.0, u: 1.0 });
    }

    #[test]
    fn heights_fixed_with_a_u_give_way() {
        // A 0 ± 1, B 10 ± 1, rise 13 ± 1: the 3 mm are shared by three equal readings.
        let network = Network::read(
            r#"{"fixed": {"A": {"value": 0, "u": 1}, "B": {"value": 10, "u": 1}},
                "differences": [{"from": "A", "to": "B", "rise_mm": 13, "u_mm": 1}]}"#,
        )
        .unwrap();
        let adjusted = adjust(&network).unwrap();
        assert!((adjusted.elevation("A").unwrap().value + 1.0).abs() < 1e-12);
        assert!((adjusted.elevation("B").unwrap().value - 11.0).abs() < 1e-12);
        assert!((adjusted.sum_weighted_squares - 3.0).abs() < 1e-12);
        assert_eq!((adjusted.degrees_of_freedom, adjusted.residuals.len()), (1, 1));
    }

    #[test]
    fn a_gross_error_is_named_and_not_left_out() {
        let row =
            |from: &str, to: &str, rise: f64| format!(r#"{{"from":"{from}","to":"{to}","rise_mm":{rise},"u_mm":1}}"#);
        let rows = [row("A", "B", 10.0), row("A", "B", 11.0), row("A", "B", 10.0), row("A", "B", 35.0)].join(",");
        let adjusted =
            adjust(&Network::read(&format!(r#"{{"fixed":{{"A":0}},"differences":[{rows}]}}"#)).unwrap()).unwrap();
        assert_eq!(adjusted.doubtful[0].observed_mm, 35.0);
        assert!(adjusted.doubtful[0].standardised.unwrap() < -20.0);
        assert!((adjusted.elevation("B").unwrap().value - 16.5).abs() < 1e-12);
    }

    #[test]
    fn what_cannot_be_adjusted_is_refused_in_words() {
        let ab = r#"{"from":"A","to":"B","rise_mm":1,"u_mm":1}"#;
        for (text, says) in [
            ("{}".to_owned(), "The network has no reading."),
            (format!(r#"{{"fixed":{{"C":0}},"differences":[{ab}]}}"#), "No reading touches the fixed point C."),
            (
                format!(r#"{{"datum_points":["C","D"],"differences":[{ab}]}}"#),
                "No reading touches the datum points C and D.",
            ),
            (format!(r#"{{"fixed":{{"A":0}},"datum_points":["B"],"differences":[{ab}]}}"#), "one or the other"),
            (
                format!(r#"{{"fixed":{{"A":0}},"differences":[{ab},{{"from":"C","to":"D","rise_mm":1,"u_mm":1}}]}}"#),
                "Points C and D are not tied to a fixed point.",
            ),
            (
                format!(r#"{{"differences":[{ab},{ab},{{"from":"C","to":"D","rise_mm":1,"u_mm":1}}]}}"#),
                "Points C and D are not tied to the other points.",
            ),
            (
                r#"{"differences":[{"from":"A","to":"B","rise_mm":1,"u_mm":0}]}"#.to_owned(),
                "differences[0].u_mm is 0 mm: a standard uncertainty is 0.001 to 10000 mm.",
            ),
            (r#"{"differences":[{"from":"A","to":"B","rise_mm":1,"u_mm":-1}]}"#.to_owned(), "u_mm is -1 mm"),
            (r#"{"differences":[{"from":"A","to":"B","rise_mm":1e300,"u_mm":1}]}"#.to_owned(), "is taken"),
            (
                r#"{"differences":[{"from":"A","to":"A","rise_mm":1,"u_mm":1}]}"#.to_owned(),
                "differences[0] goes from A to A.",
            ),
            (r#"{"setups":[{"id":"s","readings":[]}]}"#.to_owned(), "setups[0] (s) has no reading."),
        ] {
            let said = refused(&text);
            assert!(said.contains(says), "{said}");
        }
    }

    #[test]
    fn twenty_thousand_loose_points_are_refused_in_a_short_message() {
        let mut rows = vec![r#"{"from":"A","to":"B","rise_mm":1,"u_mm":1}"#.to_owned()];
        rows.extend((0..10_000).map(|i| format!(r#"{{"from":"P{i}","to":"Q{i}","rise_mm":1,"u_mm":1}}"#)));
        let said = refused(&format!(r#"{{"fixed":{{"A":0}},"differences":[{}]}}"#, rows.join(",")));
        assert!(said.contains("Points P0, Q0, P1 and 19,997 more are not tied to a fixed point."), "{said}");
        let chain: Vec<String> =
            (0..3000).map(|i| format!(r#"{{"from":"{i}","to":"{}","rise_mm":1,"u_mm":1}}"#, i + 1)).collect();
        let said = refused(&format!(r#"{{"differences":[{}]}}"#, chain.join(",")));
        assert!(said.contains("3,001 unknown heights and planes: at most 2,000"), "{said}");
    }

    proptest! {
        /// A true net is read without error: the adjusted heights are the true ones, whatever the datum; and the free net's
        /// differences are those of the fixed one, with the same residuals and redundancy.
        #[test]
        fn the_datum_moves_heights_and_nothing_else(
            heights in proptest::collection::vec(-500.0..500.0_f64, 6),
            noise in proptest::collection::vec(-3.0..3.0_f64, 12),
            u in proptest::collection::vec(0.5..4.0_f64, 12),
        ) {
            let name = |i: usize| format!("P{i}");
            let mut network = Network::default();
            for k in 0..12 {
                let (from, to) = (k % 6, (k * 5 + 1 + k / 6) % 6);
                if from != to {
                    network.differences.push(super::super::Difference {
                        from: name(from), to: name(to), rise_mm: heights[to] - heights[from] + noise[k], u_mm: u[k],
                    });
                }
            }
            // A ring ties all of them.
            for i in 0..6 {
                let to = (i + 1) % 6;
                network.differences.push(super::super::Difference { from: name(i), to: name(to), rise_mm: heights[to] - heights[i], u_mm: 2.0 });
            }
            let free = adjust(&network).unwrap();
            network.datum_points = vec![name(2), name(4)];
            let datum = adjust(&network).unwrap();
            network.datum_points.clear();
            network.fixed.push(FixedPoint { point: name(3), value_mm: heights[3], u_mm: None });
            let fixed = adjust(&network).unwrap();
            let mean: f64 = (0..6).map(|i| free.elevation(&name(i)).unwrap().value).sum::<f64>();
            prop_assert!(mean.abs() < 1e-9);
            for other in [&datum, &fixed] {
                for i in 1..6 {
                    let rise = |net: &AdjustedNetwork| net.elevation(&name(i)).unwrap().value - net.elevation(&name(0)).unwrap().value;
                    prop_assert!((rise(&free) - rise(other)).abs() < 1e-9);
                }
                for (a, b) in free.residuals.iter().zip(&other.residuals) {
                    prop_assert!((a.residual_mm - b.residual_mm).abs() < 1e-9);
                    prop_assert!((a.redundancy - b.redundancy).abs() < 1e-9);
                }
                prop_assert_eq!(free.degrees_of_freedom, other.degrees_of_freedom);
            }
        }
    }
}
