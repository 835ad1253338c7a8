//! Heights that must not be left: whether the car keeps them.

use super::pair::Pair;
use super::stance::{Quantity, Stance, Sum};
use super::verdict::Verdict;
use crate::car::RefPoint;
use crate::stance::{Figure, Known};
use serde::Serialize;

/// One point against one limit.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LimitFinding {
    /// The point.
    pub point: String,
    /// Its height, mm; absent where nothing tells it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub value: Option<f64>,
    /// Standard uncertainty (k = 1), mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub u: Option<f64>,
    /// Of every number here: `mm`.
    pub unit: &'static str,
    /// Where the height comes from.
    pub known: Known,
    /// Not below, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub lowest_mm: Option<f64>,
    /// Not above, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub highest_mm: Option<f64>,
    /// To the nearer end, mm; below 0 where the limit is left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub margin_mm: Option<f64>,
    /// `within`, `outside`, `can't_tell`.
    pub verdict: Verdict,
    /// "show class, …": the sort of rule, and who says so.
    pub says: String,
}

/// Within where the margin is more than 2u, outside where it is less than −2u; none where neither of the two is a target.
pub(super) fn findings(pair: &Pair<'_>) -> Vec<LimitFinding> {
    let (stance, target) = match (pair.this, pair.other) {
        (stance, Stance::Target(target)) | (Stance::Target(target), stance) => (stance, target),
        _ => return Vec::new(),
    };
    let points = &pair.file.vehicle.ref_points;
    let mut found = Vec::new();
    for limit in &target.limits {
        for point in limit.points.iter().filter_map(|id| points.iter().find(|known| known.id == *id)) {
            let figure = height(pair, stance, point);
            let margin_mm = figure.value.and_then(|height| {
                let below = limit.lowest_mm.map(|lowest| height - lowest);
                let above = limit.highest_mm.map(|highest| highest - height);
                below.into_iter().chain(above).min_by(f64::total_cmp)
            });
            found.push(LimitFinding {
                point: point.id.clone(),
                value: figure.value,
                u: figure.u,
                unit: "mm",
                known: figure.known,
                lowest_mm: limit.lowest_mm,
                highest_mm: limit.highest_mm,
                margin_mm,
                verdict: verdict(margin_mm, figure.u),
                says: limit.words(),
            });
        }
    }
    found
}

fn height(pair: &Pair<'_>, stance: Stance<'_>, point: &RefPoint) -> Figure {
    let mut sum = Sum::new(pair.nominal);
    let quantity = Quantity {
        terms: vec![("heights", point.id.clone(), 1.0)],
        follows: vec![(point, 1.0)],
        leans: 0.0,
        of_target: Box::new(|target| target.heights_mm.get(&point.id).copied()),
    };
    let told = sum.add(stance, 1.0, &quantity).and_then(|()| sum.figure(pair.solution));
    told.unwrap_or(Figure { value: None, u: None, known: Known::Undetermined, band_if: None })
}

fn verdict(margin_mm: Option<f64>, u: Option<f64>) -> Verdict {
    match margin_mm.zip(u) {
        Some((margin, u)) if margin > 2.0 * u => Verdict::Within,
        Some((margin, u)) if margin < -2.0 * u => Verdict::Outside,
        _ => Verdict::CantTell,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_margin_within_its_own_doubt_cannot_be_told() {
        assert_eq!(
            [2.1, 2.0, 0.0, -2.0, -2.1].map(|margin| verdict(Some(margin), Some(1.0))),
            [Verdict::Within, Verdict::CantTell, Verdict::CantTell, Verdict::CantTell, Verdict::Outside]
        );
        assert_eq!(verdict(None, None), Verdict::CantTell);
    }
}
