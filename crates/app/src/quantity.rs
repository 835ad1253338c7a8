//! Numbers with a unit other than a length's or a pressure's: rates, masses, litres, shares; and numbers with their ±.

use crate::fields::Fields;
use crate::wire::FieldProblem;
use std::ops::RangeInclusive;
use trueground_core::car::Estimate;
use trueground_core::checks::{pedal, steering_box};
use trueground_core::validate::vehicle::{BAR_NM_PER_DEG, MASS_KG, RATE_N_PER_MM, TANK_LITRES};
use trueground_core::wording::shown;

/// What a field asks for.
#[derive(Clone, Debug)]
pub(crate) struct Quantity {
    /// "a spring rate"
    what: &'static str,
    /// Names without blanks, points and dots, in small letters, with their size in the first one's.
    units: &'static [(&'static str, f64)],
    /// As it is printed.
    unit: &'static str,
    range: RangeInclusive<f64>,
    example: &'static str,
}

const KG_PER_LB: f64 = 0.453_592_37;
/// 1 lbf/in: 4.4482216152605 N over 25.4 mm (exact by definition).
const N_PER_MM_PER_LB_PER_IN: f64 = 4.448_221_615_260_5 / 25.4;

pub(crate) const RATE: Quantity = Quantity {
    what: "a spring rate",
    units: &[("n/mm", 1.0), ("kn/m", 1.0), ("lb/in", N_PER_MM_PER_LB_PER_IN), ("lbf/in", N_PER_MM_PER_LB_PER_IN)],
    unit: "N/mm",
    range: RATE_N_PER_MM,
    example: "25, 25 N/mm or 140 lb/in",
};

pub(crate) const BAR: Quantity = Quantity {
    what: "a bar\u{2019}s stiffness",
    units: &[("nm/deg", 1.0), ("nm/°", 1.0), ("nm", 1.0)],
    unit: "N m/deg",
    range: BAR_NM_PER_DEG,
    example: "120, for 120 N m a degree",
};

pub(crate) const MASS: Quantity = Quantity {
    what: "a mass",
    units: &[("kg", 1.0), ("lb", KG_PER_LB), ("lbs", KG_PER_LB), ("t", 1000.0)],
    unit: "kg",
    range: MASS_KG,
    example: "1060, 1060 kg or 2337 lb",
};

pub(crate) const SHARE: Quantity = Quantity {
    what: "the part on the front axle",
    units: &[("%", 1.0)],
    unit: "%",
    range: 10.0..=90.0,
    example: "48 %",
};

pub(crate) const LITRES: Quantity = Quantity {
    what: "a tank\u{2019}s size",
    units: &[("l", 1.0), ("litres", 1.0), ("liters", 1.0), ("usgal", 3.785_411_784), ("impgal", 4.546_09)],
    unit: "litres",
    range: TANK_LITRES,
    example: "55, 55 l, 14.5 US gal or 12 imp gal",
};

pub(crate) const AXLE_RATIO: Quantity = Quantity {
    what: "an axle ratio",
    units: &[(":1", 1.0), ("to1", 1.0)],
    unit: "to 1",
    range: 0.2..=50.0,
    example: "4.11 or 4.11:1",
};

pub(crate) const GEAR_RATIO: Quantity = Quantity {
    what: "a gear\u{2019}s ratio",
    units: &[(":1", 1.0), ("to1", 1.0)],
    unit: "to 1",
    range: 0.1..=50.0,
    example: "2.82 or 2.82:1",
};

pub(crate) const SLOPE: Quantity = Quantity {
    what: "a slope",
    units: &[("°", 1.0), ("deg", 1.0)],
    unit: "degrees",
    range: 0.0..=45.0,
    example: "3.5, or \u{2212}3.5 for the other way",
};

pub(crate) const TIP: Quantity = Quantity {
    what: "how far it may tip",
    units: &[("°", 1.0), ("deg", 1.0)],
    unit: "degrees",
    range: 0.1..=45.0,
    example: "3, for 3 degrees",
};

pub(crate) const LOAD: Quantity = Quantity {
    what: "a load",
    units: &[("n", 1.0), ("kn", 1000.0), ("kg", 9.806_65), ("lb", 4.448_221_615_260_5), ("lbs", 4.448_221_615_260_5)],
    unit: "N",
    range: 1.0..=500_000.0,
    example: "2600, 2600 N, 265 kg or 585 lb",
};

pub(crate) const BOX_RATIO: Quantity = Quantity {
    what: "a box\u{2019}s ratio",
    units: &[(":1", 1.0), ("to1", 1.0)],
    unit: "to 1",
    range: steering_box::RATIO,
    example: "15 or 15:1",
};

pub(crate) const TURNS: Quantity = Quantity {
    what: "a count of turns",
    units: &[("turns", 1.0), ("turn", 1.0)],
    unit: "turns",
    range: steering_box::TURNS,
    example: "3.75, for three and three quarters",
};

pub(crate) const SWEEP: Quantity = Quantity {
    what: "a wheel\u{2019}s sweep",
    units: &[("°", 1.0), ("deg", 1.0)],
    unit: "degrees",
    range: steering_box::SWEEP_DEG,
    example: "62, for 62 degrees",
};

pub(crate) const FOOT: Quantity = Quantity {
    what: "a push of the foot",
    units: LOAD.units,
    unit: "N",
    range: pedal::FOOT_N,
    example: "300, 300 N, 30 kg or 67 lb",
};

impl Fields {
    /// A number that may lie on the other side of its zero; its range is that of its size.
    pub(crate) fn signed_quantity(&mut self, field: &str, typed: &str, quantity: &Quantity) -> Option<f64> {
        let trimmed = typed.trim_start();
        match trimmed.strip_prefix(['-', '\u{2212}', '\u{2013}']).map(str::trim_start) {
            // Adding zero turns -0 into 0.
            Some(rest) if rest.starts_with(|c: char| c.is_ascii_digit()) => {
                self.quantity(field, rest, quantity).map(|size| 0.0 - size)
            }
            _ => self.quantity(field, typed, quantity),
        }
    }

    /// A number with its unit, in the quantity's own; `None` where nothing is typed or it was refused.
    pub(crate) fn quantity(&mut self, field: &str, typed: &str, quantity: &Quantity) -> Option<f64> {
        if typed.trim().is_empty() {
            return None;
        }
        match read(typed, quantity) {
            Ok(value) => Some(value),
            Err((sentence, proposals)) => {
                let hint = format!("Type it as {}, or leave it empty.", quantity.example);
                self.push(FieldProblem { field: field.to_owned(), typed: typed.to_owned(), sentence, hint, proposals });
                None
            }
        }
    }

    /// "0.36 ± 0.12": a number and twice its standard uncertainty; without one, `usual_u`.
    pub(crate) fn estimate(
        &mut self,
        field: &str,
        what: &str,
        typed: &str,
        range: RangeInclusive<f64>,
        usual_u: f64,
    ) -> Option<Estimate> {
        let text = typed.replace("+/-", "±").replace("+-", "±");
        let (value, band) = text.split_once('±').map_or((text.as_str(), None), |(value, band)| (value, Some(band)));
        let value = plain(value).filter(|value| range.contains(value));
        let u = band.map_or(Some(usual_u), |band| plain(band).map(|band| band / 2.0));
        let u = u.filter(|u| (1e-4..=1.0).contains(u));
        let (Some(value), Some(u)) = (value, u) else {
            let (low, high) = (range.start(), range.end());
            let sentence = format!("{} is not {what}: {low} to {high}, with its ± if you know it.", shown(typed));
            let hint = "Type it as 0.36 or 0.36 ± 0.12, or leave it empty.";
            self.refuse(field, typed, &sentence, hint);
            return None;
        };
        Some(Estimate { value, u, extra: serde_json::Map::new() })
    }
}

/// As a field takes it again.
pub(crate) fn typed(value: f64, unit: &str) -> String {
    let digits = (value * 1e6).round() / 1e6;
    if unit.is_empty() { format!("{digits}") } else { format!("{digits} {unit}") }
}

fn read(typed: &str, quantity: &Quantity) -> Result<f64, (String, Vec<String>)> {
    let text = typed.trim();
    let end = text.find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | ',')).unwrap_or(text.len());
    let (number, unit) = text.split_at(end);
    let unit: String =
        unit.to_lowercase().chars().filter(|c| !c.is_whitespace() && !matches!(c, '.' | '·' | '*')).collect();
    let size = if unit.is_empty() {
        Some(1.0)
    } else {
        quantity.units.iter().find(|(name, _)| *name == unit).map(|unit| unit.1)
    };
    let refused = || (format!("{} is not {}.", shown(typed), quantity.what), Vec::new());
    let (Some(size), Some(number_read)) = (size, plain(number)) else { return Err(refused()) };
    // Three digits behind a comma are thousands to one person and thousandths to another.
    if let Some((before, behind)) = number.split_once(',')
        && behind.len() == 3
    {
        let rest = &text[end..];
        let proposals = vec![format!("{before}{behind}{rest}"), format!("{before}.{behind}{rest}")];
        return Err((format!("{} can be read two ways.", shown(typed)), proposals));
    }
    let value = number_read * size;
    if !quantity.range.contains(&value) {
        let (low, high, unit) = (quantity.range.start(), quantity.range.end(), quantity.unit);
        return Err((format!("{} is outside {low} to {high} {unit} for {}.", shown(typed), quantity.what), Vec::new()));
    }
    Ok(value)
}

/// Digits with one point or comma.
fn plain(text: &str) -> Option<f64> {
    let text = text.trim();
    let digits = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ','));
    digits.then(|| text.replace(',', ".").parse().ok()).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_of_the_trade_are_read() {
        for (typed, quantity, value) in [
            ("25", &RATE, 25.0),
            // 140 lbf/in · 4.4482216/25.4 = 24.518 N/mm.
            ("140 lb/in", &RATE, 24.518),
            ("22,5 N/mm", &RATE, 22.5),
            // 2337 · 0.45359237 = 1060.0454 kg.
            ("2337 lb", &MASS, 1060.0454),
            ("48 %", &SHARE, 48.0),
            // 14.5 · 3.785411784 = 54.888 l.
            ("14.5 US gal", &LITRES, 54.888),
            ("120 N·m/deg", &BAR, 120.0),
        ] {
            let read = Fields::default().quantity("f", typed, quantity).unwrap_or_else(|| panic!("{typed}"));
            assert!((read - value).abs() < 1e-3, "{typed}: {read}");
        }
    }

    #[test]
    fn nonsense_is_refused_in_words_and_never_becomes_nought() {
        for (typed, quantity) in [
            ("soft", &RATE),
            ("0", &RATE),
            ("-25", &RATE),
            ("25 psi", &RATE),
            ("1,060 kg", &MASS),
            ("9e99", &MASS),
            ("NaN", &MASS),
            ("14 gal", &LITRES),
            ("120 %", &SHARE),
            ("1.2.3", &MASS),
            ("\u{0}", &BAR),
            ("inf", &BAR),
        ] {
            let mut fields = Fields::default();
            assert_eq!(fields.quantity("f", typed, quantity), None, "{typed}");
            let problem = fields.done().expect_err("refused");
            assert_eq!((problem.fields.len(), problem.fields[0].typed.as_str()), (1, typed));
        }
        assert!(Fields::default().estimate("f", "a share", "0.36 ± 0.12", 0.0..=1.0, 0.1).is_some_and(|e| e.u == 0.06));
        for typed in ["36", "0.36 ± x", "± 0.1", "0.36 ± 9", "-0.1"] {
            assert_eq!(Fields::default().estimate("f", "a share", typed, 0.0..=1.0, 0.1), None, "{typed}");
        }
    }
}
