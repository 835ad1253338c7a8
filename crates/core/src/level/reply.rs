//! Puts one snapshot's results into the form that everything else consumes.

use super::Solution;
use super::doubt::Doubts;
use super::wanted::{Wanted, wanted};
use crate::car::PointKind;
use crate::corner::Corners;
use crate::stance::{Figure, FloorUnderCar, Known, Line, NextReading, SnapshotStance};
use std::collections::BTreeMap;

/// What nobody read has no value.
pub(crate) const NOT_READ: Figure = Figure { value: None, u: None, known: Known::Undetermined, band_if: None };

/// The stance of snapshot `number`.
pub(crate) fn stance(solution: &Solution, doubts: &Doubts<'_>, number: usize) -> SnapshotStance {
    let read = solution.read(number);
    let all = wanted(&solution.model, &solution.adjusted.x, number, &read);
    let correction = solution.to_nominal(number);
    let loaded = figures(&all, |wanted| doubts.figure(wanted));
    let nominal = if correction.is_nothing() {
        loaded.clone()
    } else {
        figures(&all, |wanted| doubts.figure_with(wanted, &correction))
    };
    SnapshotStance {
        id: solution.file.snapshots[number].id.clone(),
        heights: under(&loaded, "heights."),
        heights_nominal: under(&nominal, "heights."),
        lines: lines(&loaded),
        lines_nominal: lines(&nominal),
        loaded_radius: under(&loaded, "loaded_radius."),
        floor: FloorUnderCar {
            elevation_mm: Corners::from_fn(|corner| loaded[format!("floor.elevation_mm.{corner}").as_str()]),
            twist_mm: loaded["floor.twist_mm"],
            long_slope_deg: loaded["floor.long_slope_deg"],
            cross_slope_front_deg: loaded["floor.cross_slope_front_deg"],
            cross_slope_rear_deg: loaded["floor.cross_slope_rear_deg"],
        },
        doubtful: doubts.doubtful(&solution.model, number, &solution.model.placements[number]),
        next_reading: next(solution, number, &all, &loaded),
        degrees_of_freedom: solution.adjusted.degrees_of_freedom,
        variance_factor: solution.adjusted.variance_factor(),
        fits_stated_uncertainty: solution.adjusted.fits(),
    }
}

/// Every figure by its path. Where the floor's twist was not measured, nothing that would follow it was.
fn figures(all: &[Wanted], figure: impl Fn(&Wanted) -> Figure) -> BTreeMap<&str, Figure> {
    let mut figures: BTreeMap<&str, Figure> = all.iter().map(|wanted| (wanted.path.as_str(), figure(wanted))).collect();
    if figures["floor.twist_mm"].known != Known::Measured {
        for wanted in all.iter().filter(|wanted| wanted.half_width.is_some()) {
            if let Some(figure) = figures.get_mut(wanted.path.as_str())
                && figure.known == Known::Measured
            {
                figure.known = Known::Assumed;
            }
        }
    }
    figures
}

fn under(figures: &BTreeMap<&str, Figure>, prefix: &str) -> BTreeMap<String, Figure> {
    let named = |(path, figure): (&&str, &Figure)| path.strip_prefix(prefix).map(|name| (name.to_owned(), *figure));
    figures.iter().filter_map(named).collect()
}

fn lines(figures: &BTreeMap<&str, Figure>) -> BTreeMap<String, Line> {
    PointKind::ALL
        .into_iter()
        .filter_map(|kind| {
            let found = |name: &str| figures.get(format!("lines.{}.{name}", kind.code()).as_str()).copied();
            // One end read is a mean worth having; what takes the other end as well is not known.
            found("front_mean_mm").or_else(|| found("rear_mean_mm"))?;
            let at = |name: &str| found(name).unwrap_or(NOT_READ);
            let line = Line {
                front_mean_mm: at("front_mean_mm"),
                rear_mean_mm: at("rear_mean_mm"),
                rake_mm: at("rake_mm"),
                rake_deg: at("rake_deg"),
                front_left_minus_right_mm: at("front_left_minus_right_mm"),
                rear_left_minus_right_mm: at("rear_left_minus_right_mm"),
                twist_mm: at("twist_mm"),
                lean_mm: at("lean_mm"),
            };
            Some((kind.code().to_owned(), line))
        })
        .collect()
}

/// For the height that is least known: what would help it most.
fn next(solution: &Solution, number: usize, all: &[Wanted], figures: &BTreeMap<&str, Figure>) -> Vec<NextReading> {
    let doubt = |wanted: &Wanted| {
        let figure = figures[wanted.path.as_str()];
        match figure.known {
            Known::Undetermined => figure.band_if.map_or(f64::MAX, |band| 1e6 + band.half_width_mm),
            _ => figure.u.unwrap_or(0.0),
        }
    };
    all.iter()
        .filter(|wanted| wanted.path.starts_with("heights."))
        .max_by(|a, b| doubt(a).total_cmp(&doubt(b)))
        .map(|target| solution.next_for(number, target))
        .unwrap_or_default()
}
