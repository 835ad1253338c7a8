//! What kind of slip a difference between two readings of one mark looks like.

use crate::wire::TapeUnit;

/// A slip of the eye or of the hand that a tape invites [common practice, no source].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Slip {
    Inch,
    HalfInch,
    HundredMm,
    TenMm,
    /// 574 for 547, or 42 5/8 for 24 5/8.
    SwappedDigits,
}

impl Slip {
    /// The slip that takes `should` to `read`, both mm, if one does to within `within_mm`: a size of the tape's own division before
    /// any other, and of the others the nearest.
    pub(crate) fn between(should: f64, read: f64, tape: TapeUnit, within_mm: f64) -> Option<Self> {
        let off = |size: f64| ((read - should).abs() - size).abs();
        let inches = [(Self::Inch, off(25.4)), (Self::HalfInch, off(12.7))];
        let metric = [(Self::HundredMm, off(100.0)), (Self::TenMm, off(10.0))];
        let (own, other) = if is_inch(tape) { (inches, metric) } else { (metric, inches) };
        // A swap that changes less than the noise explains anything and means nothing.
        let swaps = swaps(read, tape).into_iter().filter(|swapped| (swapped - read).abs() > 2.0 * within_mm);
        let swapped = swaps.map(|swapped| (Self::SwappedDigits, (swapped - should).abs()));
        let nearest = |found: &mut dyn Iterator<Item = (Self, f64)>| {
            let near = found.filter(|(_, off)| *off <= within_mm);
            near.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(slip, _)| slip)
        };
        nearest(&mut own.into_iter()).or_else(|| nearest(&mut swapped.chain(other)))
    }

    /// "an inch"; empty for swapped digits, which have no size of their own.
    pub(crate) const fn size(self) -> &'static str {
        match self {
            Self::Inch => "an inch",
            Self::HalfInch => "half an inch",
            Self::HundredMm => "100 mm",
            Self::TenMm => "10 mm",
            Self::SwappedDigits => "",
        }
    }

    /// True for a slip by `mm` that one corner alone betrays; any other may as well be settling or work on the springs, which the
    /// other side of the axle tells. Digits of nearly any change can be found exchanged, so that it must be a great one.
    pub(crate) fn stands_out(self, mm: f64) -> bool {
        const GREAT_MM: f64 = 60.0;
        match self {
            Self::Inch | Self::HundredMm => true,
            Self::SwappedDigits => mm.abs() > GREAT_MM,
            Self::HalfInch | Self::TenMm => false,
        }
    }
}

pub(crate) const fn is_inch(tape: TapeUnit) -> bool {
    matches!(tape, TapeUnit::In | TapeUnit::In32)
}

/// The readings that `read` would be with two neighbouring digits of its whole number exchanged, mm: of whole millimetres, or of
/// whole inches before the same fraction.
fn swaps(read: f64, tape: TapeUnit) -> Vec<f64> {
    let unit_mm = if is_inch(tape) { 25.4 } else { 1.0 };
    let whole = if is_inch(tape) { (read / unit_mm + 1e-9).floor() } else { read.round() };
    let digits = format!("{whole:.0}").into_bytes();
    let exchanged = |at: usize| {
        let mut other = digits.clone();
        other.swap(at, at + 1);
        let number: f64 = String::from_utf8(other).ok()?.parse().ok()?;
        Some(read + (number - whole) * unit_mm)
    };
    (0..digits.len().saturating_sub(1)).filter(|at| digits[*at] != digits[at + 1]).filter_map(exchanged).collect()
}

#[cfg(test)]
mod tests {
    use super::Slip::{HalfInch, HundredMm, Inch, SwappedDigits, TenMm};
    use super::*;

    #[test]
    fn a_slip_is_named_only_where_it_looks_like_one() {
        for (should, read, tape, slip) in [
            (600.1, 625.475, TapeUnit::In, Some(Inch)),
            (612.7, 600.0, TapeUnit::In32, Some(HalfInch)),
            (600.0, 625.0, TapeUnit::Mm, Some(Inch)),
            (600.0, 700.0, TapeUnit::Mm, Some(HundredMm)),
            (600.0, 610.0, TapeUnit::Cm, Some(TenMm)),
            (574.0, 547.0, TapeUnit::Mm, Some(SwappedDigits)),
            (575.0, 547.0, TapeUnit::Mm, Some(SwappedDigits)),
            // 24 5/8 in = 625.475 mm, 42 5/8 in = 1082.675 mm.
            (625.475, 1082.675, TapeUnit::In, Some(SwappedDigits)),
            (600.0, 617.0, TapeUnit::Mm, None),
            (600.0, 603.0, TapeUnit::Mm, None),
        ] {
            assert_eq!(Slip::between(should, read, tape, 2.6), slip, "{should} {read}");
        }
    }
}
