//! Sums of figures over snapshots: what they share (floor, tape, roll share) cancels, so a change is sharper than a height.

use super::Solution;
use super::nominal::ToNominal;
use super::wanted::Wanted;
use crate::car::PointKind;
use crate::corner::Corner;
use crate::stance::Figure;
use nalgebra::DMatrix;
use std::collections::BTreeMap;

/// One term of a sum of figures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Term<'t> {
    /// Name of the snapshot.
    pub snapshot: &'t str,
    /// Path of the figure, as for [`Solution::budget`].
    pub figure: &'t str,
    /// What it is taken times.
    pub weight: f64,
}

impl Solution {
    /// A figure of snapshot `to` less the same of snapshot `from`; paths as for [`Solution::budget`].
    ///
    /// Heights that no reading tells on a floor that is not levelled may still have changed by a known amount on the same spots.
    /// `None` where one of the two has no such figure.
    pub fn change(&self, from: &str, to: &str, figure: &str) -> Option<Figure> {
        let term = |snapshot, weight| Term { snapshot, figure, weight };
        self.sum(&[term(to, 1.0), term(from, -1.0)])
    }

    /// A sum of figures with its uncertainty, from the whole covariance. `None` where a term names none, where lines of one kind rest
    /// on other marks in one snapshot than in another, or where there is no term.
    pub fn sum(&self, terms: &[Term<'_>]) -> Option<Figure> {
        if !self.on_the_same_marks(terms) {
            return None;
        }
        let mut sum: Option<Wanted> = None;
        let mut correction: Vec<(ToNominal, [f64; 3])> = Vec::new();
        for term in terms {
            let number = self.number(term.snapshot)?;
            let (wanted, nominal) = self.find(number, term.figure)?;
            if nominal {
                correction.push((self.to_nominal(number), wanted.nominal.map(|part| part * term.weight)));
            }
            let jet = wanted.jet.times(term.weight);
            sum = Some(match sum {
                None => Wanted { jet, half_width: None, nominal: [1.0; 3], ..wanted },
                Some(sum) => Wanted {
                    jet: sum.jet.plus(1.0, &jet),
                    limit: sum.limit.max(wanted.limit),
                    usual_twist: sum.usual_twist && wanted.usual_twist,
                    ..sum
                },
            });
        }
        let sum = sum.map(|sum| Wanted { jet: sum.jet.merged(), ..sum })?;
        let all = correction.iter().fold(ToNominal::default(), |all, (one, parts)| all.plus(&one.times(*parts)));
        Some(self.doubts().figure_with(&sum, &all))
    }

    /// False where lines of a kind would be mixed that rest on other marks of the same corners: their difference is no movement.
    fn on_the_same_marks(&self, terms: &[Term<'_>]) -> bool {
        let mut known: BTreeMap<(&str, Corner), &str> = BTreeMap::new();
        for term in terms {
            let line = ["lines.", "lines_nominal."].into_iter().find_map(|word| term.figure.strip_prefix(word));
            let Some((code, name)) = line.and_then(|line| line.split_once('.')) else { continue };
            let kind = PointKind::ALL.into_iter().find(|kind| kind.code() == code);
            let stance = self.snapshots.iter().find(|stance| stance.id == term.snapshot);
            let Some((kind, stance)) = kind.zip(stance) else { continue };
            let at = |corner: Corner| match name.split_once('_') {
                Some(("front", _)) => corner.is_front(),
                Some(("rear", _)) => !corner.is_front(),
                _ => true,
            };
            for (corner, mark) in Corner::ALL.into_iter().zip(stance.marks(&self.file.vehicle, kind)) {
                let Some(mark) = mark.filter(|_| at(corner)) else { continue };
                if *known.entry((code, corner)).or_insert(&mark.id) != mark.id {
                    return false;
                }
            }
        }
        true
    }

    /// Covariance of one figure over several snapshots: what they share stands beside the diagonal. `None` where a snapshot has none such.
    pub fn covariance(&self, snapshots: &[&str], figure: &str) -> Option<DMatrix<f64>> {
        let mut all: Vec<(Wanted, ToNominal)> = Vec::new();
        for snapshot in snapshots {
            let number = self.number(snapshot)?;
            let (wanted, nominal) = self.find(number, figure)?;
            all.push((wanted, if nominal { self.to_nominal(number) } else { ToNominal::default() }));
        }
        let mut covariance = self.doubts().covariance(&all.iter().map(|(wanted, _)| wanted).collect::<Vec<_>>());
        for (column, (of, correction)) in all.iter().enumerate() {
            for (row, (other, others)) in all.iter().enumerate() {
                covariance[(row, column)] += others.covariance(other.nominal, correction, of.nominal);
            }
        }
        Some(covariance)
    }
}
