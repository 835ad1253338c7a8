//! A wheel's sizes from its marking and rim, and where its edges move when another takes its place.
//!
//! # Source
//! Section width on another rim: S = S₁ + 0.4·(A − x·S₁), A the rim's width [UN Regulation 30, 6.1], x 0.70 down to a series of 50, 0.85 for 45
//! and 40, 0.90 below [from memory]. Backspacing = half of the rim's outer width + offset, the outer width one inch more than that
//! between the bead seats [common practice, no source].

use crate::car::{OtherWheel, RimFit, Vehicle};
use crate::corner::Corner;
use crate::tire::{Measured, MeasuredLength, Size, dimensions, load_index, load_index_kg, read_marking};
use crate::uncertainty::Quantity;

/// Flanges of a rim outside of its bead seats, together, mm [common practice, no source].
const FLANGES_MM: f64 = 25.4;
/// A caliper over the mounted tire [common practice, no source].
const SECTION_U_MM: f64 = 1.0;
/// An offset or a backspacing, stamped or read with a straightedge and a rule [common practice, no source].
const OFFSET_U_MM: f64 = 1.0;
/// A tape round the tire [common practice, no source].
const DIAMETER_U_MM: f64 = 2.0;

/// Sizes of a mounted wheel.
#[derive(Clone, Debug, PartialEq)]
pub struct WheelSize {
    /// The tire's marking.
    pub marking: String,
    /// Between the bead seats, mm.
    pub rim_width_mm: Option<f64>,
    /// Bead seat diameter, mm.
    pub rim_diameter_mm: f64,
    /// Widest part of the tire, mm.
    pub section_width: Quantity,
    /// True where the width was typed.
    pub width_measured: bool,
    /// Radius without load, mm.
    pub free_radius: Quantity,
    /// Wheel centre to floor, mm.
    pub loaded_radius: Quantity,
    /// Mounting face outboard of the tire's middle, less a spacer, mm.
    pub offset: Option<Quantity>,
    /// What it carries, kg, and where that stands.
    pub max_load: Option<MaxLoad>,
}

/// What a tire carries.
#[derive(Clone, Debug, PartialEq)]
pub struct MaxLoad {
    /// kg.
    pub kg: f64,
    /// Where it stands.
    pub source: String,
}

impl WheelSize {
    /// From rim to tread, mm.
    pub fn section_height_mm(&self) -> f64 {
        (self.free_radius.value - self.rim_diameter_mm / 2.0).max(10.0)
    }

    /// The wheel that is on the car; `None` without tires, or where their width is neither typed nor in the marking.
    pub fn fitted(vehicle: &Vehicle, corner: Corner, loaded: Option<Quantity>) -> Option<Self> {
        let tire = vehicle.tires.as_ref()?.at(corner);
        let rim = vehicle.fitment.as_ref().and_then(|fitment| fitment.wheels.get(&corner)).map(|wheel| &wheel.rim);
        let rim = rim.cloned().unwrap_or_default();
        let u = tire
            .extra
            .get("free_diameter_u_mm")
            .and_then(serde_json::Value::as_f64)
            .filter(|u| (0.01..100.0).contains(u));
        let diameter = Quantity::new(tire.free_diameter_mm, u.unwrap_or(DIAMETER_U_MM));
        let mut size = sized(&tire.designation, &rim, Some(diameter), 0.0)?;
        size.rim_diameter_mm = tire.rim_diameter_mm;
        if let Some(loaded) = loaded {
            size.loaded_radius = loaded;
        }
        Some(size)
    }

    /// One that is thought of. Its loaded radius is pressed in as much as that of the wheel it replaces.
    pub fn of(other: &OtherWheel, replaced: &Self) -> Option<Self> {
        let diameter = other.free_diameter_mm.map(|mm| Quantity::new(mm, DIAMETER_U_MM));
        let mut size = sized(&other.marking, &other.rim, diameter, other.spacer_mm.unwrap_or(0.0))?;
        let pressed = replaced.free_radius.value - replaced.loaded_radius.value;
        size.loaded_radius = Quantity::new(size.free_radius.value - pressed, size.free_radius.u.hypot(0.2 * pressed));
        Some(size)
    }
}

/// Offset of a rim, mm: as stamped, else from its backspacing and width.
pub fn offset_mm(rim: &RimFit) -> Option<f64> {
    let from_back = || Some(rim.backspacing_mm? - (rim.rim_width_mm? + FLANGES_MM) / 2.0);
    rim.offset_mm.or_else(from_back)
}

/// Section width of a marked width on a rim, mm.
pub fn width_on_rim_mm(marked_mm: f64, series: Option<f64>, rim_width_mm: f64) -> f64 {
    let theoretical = match series {
        Some(series) if series < 40.0 => 0.90,
        Some(series) if series < 50.0 => 0.85,
        _ => 0.70,
    };
    marked_mm + 0.4 * (rim_width_mm - theoretical * marked_mm)
}

fn sized(marking: &str, rim: &RimFit, diameter: Option<Quantity>, spacer_mm: f64) -> Option<WheelSize> {
    let read = read_marking(marking).ok();
    let measured = Measured {
        diameter: diameter.map(|q| MeasuredLength { value_mm: q.value, u_mm: q.u.max(0.1) }),
        ..Measured::default()
    };
    let figures = read.as_ref().map(|read| dimensions(read, &measured));
    let series = read.as_ref().and_then(|read| match read.size {
        Size::Metric { aspect, .. } => aspect,
        Size::Letter { series, .. } => Some(series),
        _ => None,
    });
    let by_marking = || {
        let width = figures.as_ref()?.section_width_mm;
        let on_rim = rim.rim_width_mm.map_or(width.value, |rim| width_on_rim_mm(width.value, series, rim));
        Some(Quantity::new(on_rim, width.u))
    };
    let section_width = rim.section_width_mm.map(|mm| Quantity::new(mm, SECTION_U_MM)).or_else(by_marking)?;
    let across = diameter.or_else(|| figures.as_ref().map(|f| Quantity::new(f.diameter_mm.value, f.diameter_mm.u)))?;
    let loaded = figures.as_ref().map_or(Quantity::new(0.48 * across.value, 0.01 * across.value), |figures| {
        Quantity::new(figures.loaded_radius_mm.value, figures.loaded_radius_mm.u)
    });
    let typed = || Some(MaxLoad { kg: rim.max_load_kg?, source: "as the sidewall says".to_owned() });
    let by_index = || {
        let index = load_index(&read.as_ref()?.service)?;
        let source = format!("load index {index}, list of UN Regulation 30, Annex 4");
        Some(MaxLoad { kg: load_index_kg(index)?, source })
    };
    Some(WheelSize {
        marking: marking.to_owned(),
        rim_width_mm: rim.rim_width_mm,
        rim_diameter_mm: figures.as_ref().map_or(0.6 * across.value, |figures| figures.rim_diameter_mm.value),
        width_measured: rim.section_width_mm.is_some(),
        section_width,
        free_radius: Quantity::new(across.value / 2.0, across.u / 2.0),
        loaded_radius: loaded,
        offset: offset_mm(rim).map(|mm| Quantity::new(mm - spacer_mm, OFFSET_U_MM)),
        max_load: typed().or_else(by_index),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn backspacing_and_offset_are_two_names_of_one_place() {
        // A 7-inch rim is 8 inches over its flanges: without offset the face lies 4 inches in.
        let rim = |width: f64, back: f64| RimFit {
            rim_width_mm: Some(width * 25.4),
            backspacing_mm: Some(back * 25.4),
            ..RimFit::default()
        };
        assert!(offset_mm(&rim(7.0, 4.0)).is_some_and(|mm| mm.abs() < 1e-9));
        // Half an inch more of it brings the face half an inch outboard.
        assert!(offset_mm(&rim(7.0, 4.5)).is_some_and(|mm| (mm - 12.7).abs() < 1e-9));
        assert_eq!(offset_mm(&RimFit::default()), None);
    }

    #[test]
    fn a_wider_rim_spreads_the_tire() {
        // 205 on its own theoretical rim, 0.7 · 205 = 143.5 mm, is 205; half an inch more adds 5 mm, the trade's own rule.
        assert_eq!(width_on_rim_mm(205.0, Some(55.0), 143.5), 205.0);
        assert!((width_on_rim_mm(205.0, Some(55.0), 143.5 + 12.7) - 210.08).abs() < 1e-9);
        // 225/45 on 0.85 · 225 = 191.25.
        assert_eq!(width_on_rim_mm(225.0, Some(45.0), 191.25), 225.0);
    }
}
