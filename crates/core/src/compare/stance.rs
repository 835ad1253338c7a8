//! The stances that can be held against each other, and how a number is summed over them with one uncertainty.

use super::forecast::Forecast;
use super::planned;
use crate::car::RefPoint;
use crate::level::{Solution, Term};
use crate::plan::Planned;
use crate::stance::{Figure, Known};
use crate::target::Target;
use serde::Serialize;

/// A number with its standard uncertainty (k = 1).
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct SplitFigure {
    /// mm or degrees.
    pub value: f64,
    /// In the same unit.
    pub u: f64,
}

/// One side of a comparison. A kind of stance that is added later says in [`Sum::add`] what its numbers are made of, and no more.
#[derive(Clone, Copy, Debug)]
pub enum Stance<'a> {
    /// A snapshot, by its name in the file.
    Measured(&'a str),
    /// What is wanted.
    Target(&'a Target),
    /// Where a snapshot's settling will end.
    Forecast(&'a Forecast),
    /// What a list of changes would make of a snapshot.
    Planned(&'a Planned),
}

/// What a target says of a number.
pub(super) type OfTarget<'q> = Box<dyn Fn(&Target) -> Option<f64> + 'q>;

/// A number of a stance: how it is summed from a snapshot's figures, how it follows the heights, and what a target says of it.
pub(super) struct Quantity<'q> {
    /// `heights` or `lines`, and the rest of the path as for [`Solution::budget`].
    pub(super) terms: Vec<(&'static str, String, f64)>,
    /// Per mm of each point.
    pub(super) follows: Vec<(&'q RefPoint, f64)>,
    /// Per mm that the left side rises for each mm from the middle, where the points do not say it.
    pub(super) leans: f64,
    /// What a target says.
    pub(super) of_target: OfTarget<'q>,
}

/// A sum over stances: terms over snapshots, which share floor, tape and roll share, and what is stated beside them.
pub(super) struct Sum {
    /// At nominal load and pressures, or as it stood.
    nominal: bool,
    /// Snapshot, path, weight.
    terms: Vec<(String, String, f64)>,
    stated: f64,
    variance: f64,
}

impl Sum {
    pub(super) const fn new(nominal: bool) -> Self {
        Self { nominal, terms: Vec::new(), stated: 0.0, variance: 0.0 }
    }

    /// Adds a stance's number. `None` where the stance does not tell it.
    pub(super) fn add(&mut self, stance: Stance<'_>, weight: f64, of: &Quantity<'_>) -> Option<()> {
        match stance {
            Stance::Measured(snapshot) => self.add_snapshot(snapshot, self.nominal, weight, of),
            Stance::Target(target) => self.stated += weight * (of.of_target)(target)?,
            Stance::Planned(planned) => {
                self.add_snapshot(&planned.from, true, weight, of);
                let moved = planned::moved(planned, of);
                self.stated += weight * moved.value;
                self.variance += (weight * moved.u).powi(2);
            }
            Stance::Forecast(forecast) => {
                // A settling is one of heights at nominal load.
                self.add_snapshot(&forecast.snapshot, true, weight, of);
                // How much of the front's and of the rear's way it goes.
                let ways = of.follows.iter().map(|(point, follows)| {
                    let along = (forecast.front_x_mm - point.x_mm) / (forecast.front_x_mm - forecast.rear_x_mm);
                    [follows * (1.0 - along), follows * along]
                });
                let way = ways.fold([0.0, 0.0], |all, one| [all[0] + one[0], all[1] + one[1]]);
                for (way, end, rest) in [(way[0], "front", forecast.front_mm), (way[1], "rear", forecast.rear_mm)] {
                    let path = format!("lines_nominal.{}.{end}_mean_mm", forecast.kind.code());
                    self.terms.push((forecast.snapshot.clone(), path, -weight * way));
                    self.stated += weight * way * rest.value;
                    self.variance += (way * rest.u).powi(2);
                }
            }
        }
        Some(())
    }

    fn add_snapshot(&mut self, snapshot: &str, nominal: bool, weight: f64, of: &Quantity<'_>) {
        let load = if nominal { "_nominal" } else { "" };
        let named = |(group, name, part): &(&str, String, f64)| {
            (snapshot.to_owned(), format!("{group}{load}.{name}"), weight * part)
        };
        self.terms.extend(of.terms.iter().map(named));
    }

    /// The sum with its uncertainty. `None` where a snapshot does not have one of its figures.
    pub(super) fn figure(self, solution: &Solution) -> Option<Figure> {
        let mut merged: Vec<(String, String, f64)> = Vec::new();
        for (snapshot, path, weight) in self.terms {
            match merged.iter_mut().find(|known| known.0 == snapshot && known.1 == path) {
                Some(known) => known.2 += weight,
                None => merged.push((snapshot, path, weight)),
            }
        }
        let terms: Vec<Term<'_>> =
            merged.iter().map(|(snapshot, figure, weight)| Term { snapshot, figure, weight: *weight }).collect();
        if terms.is_empty() {
            // Nobody read anything of it.
            let u = Some(self.variance.sqrt());
            return Some(Figure { value: Some(self.stated), u, known: Known::Assumed, band_if: None });
        }
        let read = solution.sum(&terms)?;
        let Some((value, u)) = read.value.zip(read.u) else { return Some(read) };
        let all = u * u + self.variance;
        let known = if self.variance > 0.5 * all { Known::Assumed } else { read.known };
        Some(Figure { value: Some(value + self.stated), u: Some(all.sqrt()), known, band_if: None })
    }
}
