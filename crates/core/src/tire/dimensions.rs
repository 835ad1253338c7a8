//! From a marking, and from what was measured, to diameter, radius and rolling.

use super::load_letter;
use super::marking::{Construction, Marking, Rim, Size};
use crate::uncertainty::{Propagated, Quantity, propagate};
use crate::units::MM_PER_INCH;
use serde::{Deserialize, Serialize};

/// Where a figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Basis {
    /// The size standard's rule or table.
    Standard,
    /// Computed from what the marking states.
    Formula,
    /// The usual proportions of tires of that kind.
    Estimate,
    /// Read off this very tire.
    Measured,
}

/// A figure of a tire: value, standard uncertainty (k = 1), both in the unit of its field, and basis.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct TireFigure {
    /// The value.
    pub value: f64,
    /// Standard uncertainty, k = 1.
    pub u: f64,
    /// Where it comes from.
    pub basis: Basis,
}

/// What follows from a marking and from what was measured.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TireDimensions {
    /// As typed.
    pub marking: String,
    /// How the cords run.
    pub construction: Construction,
    /// Outer diameter without load, mm.
    pub diameter_mm: TireFigure,
    /// Section width, mm.
    pub section_width_mm: TireFigure,
    /// Rim diameter at the bead seat, mm.
    pub rim_diameter_mm: TireFigure,
    /// Wheel centre to floor at rest under a usual load, mm.
    pub loaded_radius_mm: TireFigure,
    /// Turns of the wheel in one kilometre.
    pub revs_per_km: TireFigure,
}

/// A length read off a tire, mm, with its standard uncertainty (k = 1). Both finite and above zero.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuredLength {
    /// mm.
    pub value_mm: f64,
    /// mm.
    pub u_mm: f64,
}

impl From<MeasuredLength> for TireFigure {
    fn from(read: MeasuredLength) -> Self {
        Self { value: read.value_mm, u: read.u_mm, basis: Basis::Measured }
    }
}

/// What was read off this very tire; each wins over the marking.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Measured {
    /// Outer diameter without load.
    pub diameter: Option<MeasuredLength>,
    /// Section width.
    pub section_width: Option<MeasuredLength>,
    /// Wheel centre to floor at rest.
    pub loaded_radius: Option<MeasuredLength>,
    /// Load on the tire, N, and its vertical rate, N/mm, both above zero; together they give the loaded radius.
    pub load_n_and_rate_n_per_mm: Option<(f64, f64)>,
}

/// Bead seat diameters the metric standards give for the rim codes 10 to 20 [UN Regulation 30, from memory].
const RIM_TABLE_MM: [f64; 11] = [254.0, 279.0, 305.0, 330.0, 356.0, 381.0, 406.0, 432.0, 457.0, 483.0, 508.0];

/// Standard uncertainty of a bead seat against its code, mm: made up to 1 mm smaller, with a tolerance of 0.4 mm [from memory].
const RIM_U_MM: f64 = 0.5;

/// The dimensions of a tire with this marking; where something was `measured`, that is taken instead.
///
/// # Sources
/// Metric sizes: diameter = rim table + 2 × section height rounded to the mm, section height up to +4 % (radial) or +8 %
/// (diagonal), section width ±4 % or ±6 % [UN Regulation 30, 6.1, from memory]. Section height over width of the early
/// sizes, loaded radius and rolling [common practice, no source].
pub fn dimensions(marking: &Marking, measured: &Measured) -> TireDimensions {
    let radial = marking.construction == Construction::Radial;
    let nominal = nominal(&marking.size, radial);
    let diameter = measured.diameter.map_or(nominal.diameter, TireFigure::from);
    let loaded_radius =
        measured.loaded_radius.map_or_else(|| loaded_radius(diameter, radial, measured), TireFigure::from);
    TireDimensions {
        marking: marking.text.clone(),
        construction: marking.construction,
        diameter_mm: diameter,
        section_width_mm: measured.section_width.map_or(nominal.section_width, TireFigure::from),
        rim_diameter_mm: nominal.rim,
        loaded_radius_mm: loaded_radius,
        revs_per_km: revs_per_km(diameter, loaded_radius, radial),
    }
}

struct Nominal {
    diameter: TireFigure,
    section_width: TireFigure,
    rim: TireFigure,
}

fn nominal(size: &Size, radial: bool) -> Nominal {
    let width_tolerance = if radial { 0.04 } else { 0.06 };
    let figure = |value: f64, half_width: f64, basis: Basis| TireFigure { value, u: rectangular(half_width), basis };
    match *size {
        Size::Metric { width_mm, aspect, rim } => {
            let rim = table_rim(rim);
            let (height, basis, spread) = match aspect {
                Some(percent) => ((width_mm * percent / 100.0).round(), Basis::Standard, 0.0),
                // Without a marked ratio: 0.80 by European texts, 0.82 by others [reference figures].
                None => ((width_mm * 0.80).round(), Basis::Formula, 0.02 * width_mm),
            };
            let height_tolerance = height * if radial { 0.04 } else { 0.08 };
            let u = 2.0 * rectangular(height_tolerance).hypot(rectangular(spread));
            Nominal {
                diameter: TireFigure { value: rim.value + 2.0 * height, u, basis },
                section_width: figure(width_mm, width_tolerance * width_mm, Basis::Standard),
                rim,
            }
        }
        Size::Numeric { width_in, rim, low_section } => {
            let rim = code_rim(rim);
            let width_mm = f64::midpoint(width_in.0, width_in.1) * MM_PER_INCH;
            let between = (width_in.1 - width_in.0) / 2.0 * MM_PER_INCH;
            let (ratio, spread) = early_section_ratio(width_in.0, rim.value / MM_PER_INCH, low_section);
            let height = ratio * width_mm;
            let maker = rectangular(0.08 * height);
            let u = 2.0 * maker.hypot(rectangular(spread * width_mm)).hypot(rectangular(between));
            Nominal {
                diameter: TireFigure { value: rim.value + 2.0 * height, u, basis: Basis::Estimate },
                section_width: figure(width_mm, (width_tolerance * width_mm).hypot(between), Basis::Formula),
                rim,
            }
        }
        Size::Letter { letter, series, rim } => {
            let rim = code_rim(rim);
            // `I` is read as the letter before it would be: between H and J.
            let width = load_letter::section_width_mm(letter, series).unwrap_or(227.5);
            let height = width * series / 100.0;
            let u = 2.0 * rectangular(0.08 * height);
            Nominal {
                diameter: TireFigure { value: rim.value + 2.0 * height, u, basis: Basis::Estimate },
                section_width: figure(width, 0.08 * width, Basis::Estimate),
                rim,
            }
        }
        Size::Flotation { diameter_in, width_in, rim } => Nominal {
            // Tires so marked run up to 2 % under the marked diameter [common practice, no source].
            diameter: figure(diameter_in * MM_PER_INCH, 0.02 * diameter_in * MM_PER_INCH, Basis::Formula),
            section_width: figure(width_in * MM_PER_INCH, width_tolerance * width_in * MM_PER_INCH, Basis::Formula),
            rim: code_rim(rim),
        },
        Size::EarlyInch { diameter_in, section_in } => by_section(diameter_in * MM_PER_INCH, section_in * MM_PER_INCH),
        Size::EarlyMetric { diameter_mm, section_mm } => by_section(diameter_mm, section_mm),
    }
}

/// Outer diameter by section: the rim is the diameter less two sections.
fn by_section(diameter: f64, section: f64) -> Nominal {
    let figure = |value: f64, half_width: f64| TireFigure { value, u: rectangular(half_width), basis: Basis::Formula };
    Nominal {
        diameter: figure(diameter, 0.02 * diameter),
        section_width: figure(section, 0.06 * section),
        rim: figure(diameter - 2.0 * section, 3.0),
    }
}

/// Section height over width of the early numeric sizes: middle and half width of what the size tables show.
///
/// 16-inch and larger pre-war rims 1.02 at 5 in falling to 0.97 at 7 in; wide sections of the early 1950s (5.60, 6.40,
/// 6.70) 0.94 to 0.97; low sections (7.00-14, and `L`) 0.85 to 0.88; the sizes ending in 5 of the 1960s (6.95-14) 0.79 to
/// 0.83. Whole and half inches on a 15-inch rim may be of either time [reference figures, computed from size tables that
/// are from memory].
fn early_section_ratio(width_in: f64, rim_code: f64, low_section: bool) -> (f64, f64) {
    let hundredths = (width_in * 100.0).round() % 50.0;
    if low_section {
        (0.865, 0.02)
    } else if rim_code > 15.6 {
        ((1.02 - 0.025 * (width_in - 5.0)).clamp(0.97, 1.02), 0.025)
    } else if hundredths == 0.0 && rim_code > 14.6 {
        (0.935, 0.085)
    } else if hundredths == 0.0 {
        (0.865, 0.02)
    } else if hundredths % 10.0 == 5.0 {
        (0.81, 0.02)
    } else {
        (0.955, 0.015)
    }
}

fn table_rim(rim: Rim) -> TireFigure {
    match rim {
        Rim::Code(code) if code.fract() == 0.0 && (10.0..=20.0).contains(&code) => {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "10 to 20, checked above")]
            let row = code as usize - 10;
            TireFigure { value: RIM_TABLE_MM[row], u: RIM_U_MM, basis: Basis::Standard }
        }
        rim => code_rim(rim),
    }
}

fn code_rim(rim: Rim) -> TireFigure {
    let value = match rim {
        Rim::Code(code) => code * MM_PER_INCH,
        Rim::Mm(mm) => mm,
    };
    TireFigure { value, u: RIM_U_MM, basis: Basis::Formula }
}

/// Free radius less load over rate where both are known, else 0.95 (radial) or 0.96 (diagonal) of the free radius ± 1.5 %.
fn loaded_radius(diameter: TireFigure, radial: bool, measured: &Measured) -> TireFigure {
    let across = Quantity::new(diameter.value, diameter.u);
    if let Some((load_n, rate_n_per_mm)) = measured.load_n_and_rate_n_per_mm {
        // A rate of a tire is known to a tenth at best [common practice, no source].
        let rate = Quantity::new(rate_n_per_mm, 0.1 * rate_n_per_mm);
        return figure(propagate([across, rate], |[across, rate]| across / 2.0 - load_n / rate), Basis::Formula);
    }
    let part = if radial { 0.95 } else { 0.96 };
    figure(
        propagate([across, Quantity::new(part, 0.015 * part)], |[across, part]| part * across / 2.0),
        Basis::Estimate,
    )
}

/// Rolling circumference 3.05 × diameter (radial, 1 %), else 2π (0.35 loaded + 0.65 free radius) (2 %).
fn revs_per_km(diameter: TireFigure, loaded: TireFigure, radial: bool) -> TireFigure {
    let across = Quantity::new(diameter.value, diameter.u);
    let rolled = if radial {
        propagate([across, Quantity::new(1.0, 0.01)], |[across, rule]| 1e6 / (3.05 * across * rule))
    } else {
        // The loaded radius moves with the free one: its own u is part of the rule's 2 %.
        let flat = loaded.value / diameter.value;
        let radius = |across: f64| across * (0.35 * flat + 0.65 / 2.0);
        propagate([across, Quantity::new(1.0, 0.02)], |[across, rule]| {
            1e6 / (2.0 * std::f64::consts::PI * radius(across) * rule)
        })
    };
    figure(rolled, Basis::Estimate)
}

fn figure(result: Propagated, basis: Basis) -> TireFigure {
    TireFigure { value: result.value, u: result.u, basis }
}

/// Standard uncertainty of a rectangular distribution [JCGM 100:2008, 4.3.7].
fn rectangular(half_width: f64) -> f64 {
    half_width / 3_f64.sqrt()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::tire::read_marking;

    fn tire(marking: &str) -> TireDimensions {
        dimensions(&read_marking(marking).unwrap(), &Measured::default())
    }

    #[test]
    fn measured_wins_and_carries_on() {
        let marking = read_marking("6.00-16").unwrap();
        let measured = Measured {
            diameter: Some(MeasuredLength { value_mm: 714.0, u_mm: 2.0 }),
            load_n_and_rate_n_per_mm: Some((3000.0, 200.0)),
            ..Measured::default()
        };
        let tire = dimensions(&marking, &measured);
        assert_eq!(tire.diameter_mm, TireFigure { value: 714.0, u: 2.0, basis: Basis::Measured });
        // 714/2 - 3000/200
        assert_eq!(tire.loaded_radius_mm.value, 342.0);
        let hub = Measured { loaded_radius: Some(MeasuredLength { value_mm: 344.5, u_mm: 1.0 }), ..measured };
        assert_eq!(dimensions(&marking, &hub).loaded_radius_mm.basis, Basis::Measured);
    }

    #[test]
    fn the_rim_comes_from_the_table_in_metric_sizes_and_from_the_code_in_others() {
        assert_eq!(tire("205/55R16").rim_diameter_mm.value, 406.0);
        assert_eq!(tire("205/55R16").rim_diameter_mm.basis, Basis::Standard);
        assert!((tire("6.00-16").rim_diameter_mm.value - 406.4).abs() < 1e-9);
        assert_eq!(tire("220/55R390").rim_diameter_mm.value, 390.0);
        // 30 - 2 × 3.5 in, and 880 - 2 × 120 mm.
        assert!((tire("30x3 1/2").rim_diameter_mm.value - 23.0 * 25.4).abs() < 1e-9);
        assert_eq!(tire("880x120").rim_diameter_mm.value, 640.0);
    }

    #[test]
    fn rolling_follows_the_construction() {
        let radial = tire("205/55R16");
        assert!((radial.revs_per_km.value - 1e6 / (3.05 * 632.0)).abs() < 1e-9);
        assert_eq!(radial.loaded_radius_mm.value, 0.95 * 316.0);
        let diagonal = tire("6.00-16");
        let free = diagonal.diameter_mm.value / 2.0;
        assert_eq!(diagonal.loaded_radius_mm.value, 0.96 * free);
        let rolled = 2.0 * std::f64::consts::PI * free * (0.35 * 0.96 + 0.65);
        assert!((diagonal.revs_per_km.value - 1e6 / rolled).abs() < 1e-9);
    }
}
