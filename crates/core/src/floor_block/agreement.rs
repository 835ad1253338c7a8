//! Whether passes over a floor's spots say the same, and which one is off.

use super::spots;
use crate::capture::{Pass, STRAIGHTEDGE_U_DEG, StraightedgeReading, Survey};

/// Whether a later pass says the same as the first, where both have readings.
#[derive(Clone, Debug, PartialEq)]
pub struct PassAgreement {
    /// Places of the spots in both, 0 to 3.
    pub spots: Vec<usize>,
    /// How far the spot that departs most has moved against the others, mm.
    pub worst_mm: f64,
    /// Place of that spot, 0 to 3.
    pub worst_spot: usize,
    /// Standard uncertainty of such a departure, k = 1, mm.
    pub u_mm: f64,
}

/// The pass that stands apart from the others at one spot, of all that were read twice.
#[derive(Clone, Debug, PartialEq)]
pub struct OddPass {
    /// Place in the survey of the later of the two passes compared, or of the one that differs from all others.
    pub pass: usize,
    /// Place in the survey of the pass it is compared with.
    pub other: usize,
    /// True where a third pass shows which one is off.
    pub told: bool,
    /// The comparison.
    pub agreement: PassAgreement,
}

/// The two passes that agree least; with three or more, which of them is off.
pub fn least_agreeing(survey: &Survey) -> Option<OddPass> {
    let mut pairs = Vec::new();
    for later in 1..survey.passes.len() {
        for first in 0..later {
            let (one, two) = (&survey.passes[first], &survey.passes[later]);
            let u = [one, two].map(|pass| pass.staff_u_mm.unwrap_or(survey.staff_u_mm));
            if let Some(found) = agreement(one, two, (u[0].hypot(u[1])) / 2.0_f64.sqrt()) {
                pairs.push((first, later, found));
            }
        }
    }
    let off = |found: &PassAgreement| found.worst_mm / found.u_mm;
    let (first, later, worst) = pairs.iter().max_by(|a, b| off(&a.2).total_cmp(&off(&b.2)))?.clone();
    // Of the two, the one that also stands apart from a third.
    let apart = |pass: usize| {
        let others = pairs.iter().filter(|pair| (pair.0 == pass) != (pair.1 == pass));
        let others = others.filter(|pair| (pair.0, pair.1) != (first, later));
        others.map(|pair| off(&pair.2)).fold(0.0, f64::max)
    };
    let (of_first, of_later) = (apart(first), apart(later));
    let told = pairs.len() > 1 && (of_first > 3.0) != (of_later > 3.0);
    let (pass, other) = if told && of_first > of_later { (first, later) } else { (later, first) };
    Some(OddPass { pass, other, told, agreement: worst })
}

/// How two passes agree; their planes may differ by any constant. `None` with fewer than two spots in both.
pub fn agreement(first: &Pass, later: &Pass, staff_u_mm: f64) -> Option<PassAgreement> {
    let (first, later) = (spots(first), spots(later));
    let differences: Vec<(usize, f64)> = (0..4).filter_map(|spot| Some((spot, later[spot]? - first[spot]?))).collect();
    if differences.len() < 2 {
        return None;
    }
    let n = differences.len() as f64;
    let mean = differences.iter().map(|(_, difference)| difference).sum::<f64>() / n;
    // Against the mean of the others, which is what a person sees: a slip at one spot shows whole.
    let off = |(_, difference): &&(usize, f64)| (difference - mean).abs() * n / (n - 1.0);
    let worst = differences.iter().max_by(|a, b| off(a).total_cmp(&off(b)))?;
    Some(PassAgreement {
        spots: differences.iter().map(|(spot, _)| *spot).collect(),
        worst_mm: off(&worst),
        worst_spot: worst.0,
        // A difference of two readings, less the mean of n − 1 such.
        u_mm: staff_u_mm * (2.0 * n / (n - 1.0)).sqrt(),
    })
}

/// The gauge's zero by each line that was read both ways round: its two ends and (straight − turned)/2, degrees, with u.
pub fn gauge_zeros(survey: &Survey) -> Vec<(String, String, f64, f64)> {
    let standing = || survey.straightedge.iter().filter(|edge| edge.struck.is_none());
    let mut zeros: Vec<(String, String, f64, f64)> = Vec::new();
    for straight in standing().filter(|edge| !edge.reversed) {
        let same =
            |edge: &&StraightedgeReading| edge.reversed && (&edge.from, &edge.to) == (&straight.from, &straight.to);
        let known = zeros.iter().any(|zero| (&zero.0, &zero.1) == (&straight.from, &straight.to));
        if let Some(turned) = standing().find(same).filter(|_| !known) {
            let u = |edge: &StraightedgeReading| edge.u_deg.unwrap_or(STRAIGHTEDGE_U_DEG);
            let zero = (straight.angle_deg - turned.angle_deg) / 2.0;
            zeros.push((straight.from.clone(), straight.to.clone(), zero, u(straight).hypot(u(turned)) / 2.0));
        }
    }
    zeros
}
