//! A length as it is typed: `5 3/8`, `5-3/8"`, `1' 2 1/4"`, `13.7 cm`, `13,7 cm`, `346 mm`, `600`.

use super::entry::{EntryError, Mark, Typed, marks};
use super::{Fraction, Length, LengthUnit};
use crate::wording::shown;
use serde::Serialize;

/// Longest length that is read, mm: longer than any tape in a garage.
pub const LONGEST_MM: f64 = 30_000.0;

/// What a tape divides an inch into.
const TAPE_DENOMINATORS: [u64; 6] = [2, 4, 8, 16, 32, 64];

const WHAT: &str = "a length";

/// A length as it was typed.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct EnteredLength {
    /// The length.
    #[serde(rename = "length_mm", serialize_with = "as_mm")]
    pub length: Length,
    /// The unit it was typed in: the tape's, unless one was written. Feet count as inches, metres as mm.
    pub unit: LengthUnit,
    /// Exactly what was typed, in `unit`.
    pub fraction: Fraction,
    /// The text, untouched.
    pub text: String,
}

impl EnteredLength {
    /// The same, if it lies in `range_mm`; `what` names the thing in the refusal: "a ride height".
    ///
    /// # Errors
    /// Names the value and the range in the unit typed, and proposes the other units where they would fit.
    pub fn within(self, what: &str, range_mm: std::ops::RangeInclusive<f64>) -> Result<Self, EntryError> {
        if range_mm.contains(&self.length.to_mm()) {
            return Ok(self);
        }
        let (low, high) = (Length::mm(*range_mm.start()), Length::mm(*range_mm.end()));
        let range = match self.unit {
            LengthUnit::In => {
                format!(
                    "{} to {} in ({} to {} mm)",
                    low.sixteenths().text,
                    high.sixteenths().text,
                    low.whole_mm(),
                    high.whole_mm()
                )
            }
            unit => format!("{} to {} {unit}", low.on_a_tape(unit), high.on_a_tape(unit)),
        };
        let bare = self.fraction.to_string();
        let others = [LengthUnit::In, LengthUnit::Mm, LengthUnit::Cm]
            .into_iter()
            .filter(|unit| *unit != self.unit && (*unit == LengthUnit::In || !bare.contains('/')))
            .filter(|unit| range_mm.contains(&exact(self.fraction, *unit).to_mm()))
            .map(|unit| format!("{bare} {unit}"));
        let message = format!("{} is {} mm: {what} is {range}.", shown(&self.text), self.length.whole_mm());
        Err(EntryError::new(message, "Read it again, and look at the unit.").proposing(others))
    }
}

/// Reads a length; a bare number is in `tape_unit`.
///
/// # Errors
/// Anything but one length of 0 to [`LONGEST_MM`]: what is wrong, what to do, and texts to type instead.
pub fn read_length(text: &str, tape_unit: LengthUnit) -> Result<EnteredLength, EntryError> {
    let how = example(tape_unit);
    let marks = marks(text, WHAT, how)?;
    let (fraction, unit) = Reader { text, tape_unit, how, marks: &marks }.length()?;
    let length = exact(fraction, unit);
    if length.to_mm() > LONGEST_MM {
        let message = format!("{} is {} mm: no tape here is longer than 30 m.", shown(text), length.whole_mm());
        let others = [LengthUnit::Mm, LengthUnit::Cm]
            .into_iter()
            .filter(|other| *other != unit && exact(fraction, *other).to_mm() <= LONGEST_MM)
            .map(|other| format!("{fraction} {other}"));
        return Err(EntryError::new(message, "Look at the number and its unit.").proposing(others));
    }
    Ok(EnteredLength { length, unit, fraction, text: text.to_owned() })
}

/// Rounded once: the products stay whole numbers until the division.
fn exact(fraction: Fraction, unit: LengthUnit) -> Length {
    let (tenths_of_mm, ten) = match unit {
        LengthUnit::Mm => (10, 10),
        LengthUnit::Cm => (100, 10),
        LengthUnit::In => (254, 10),
    };
    Length::mm((fraction.numerator() * tenths_of_mm) as f64 / (fraction.denominator() * ten) as f64)
}

fn example(tape_unit: LengthUnit) -> &'static str {
    match tape_unit {
        LengthUnit::Mm => "Type it as the tape reads, like 600.",
        LengthUnit::Cm => "Type it as the tape reads, like 60.3.",
        LengthUnit::In => "Type it as the tape reads, like 23 5/8.",
    }
}

fn as_mm<S: serde::Serializer>(length: &Length, out: S) -> Result<S::Ok, S::Error> {
    out.serialize_f64(length.to_mm())
}

struct Reader<'t> {
    text: &'t str,
    tape_unit: LengthUnit,
    how: &'static str,
    marks: &'t [Mark],
}

/// What a written unit stands for.
#[derive(Clone, Copy, PartialEq)]
enum Written {
    Bare,
    Unit(LengthUnit),
    Feet,
    Metres,
}

impl Reader<'_> {
    fn length(&self) -> Result<(Fraction, LengthUnit), EntryError> {
        let mut marks = self.marks;
        if let [Mark::Plus, rest @ ..] = marks {
            marks = rest;
        }
        if let [Mark::Dash, ..] = marks {
            let plain = self.text.trim_start().trim_start_matches(|c: char| !c.is_alphanumeric()).trim();
            let message = format!("{} is below zero: a tape begins at 0.", shown(self.text));
            return Err(EntryError::new(message, self.how).proposing((!plain.is_empty()).then(|| shown(plain))));
        }
        let (first, unit, rest) = self.part(marks)?;
        match unit {
            Written::Feet => self.feet_and_inches(first, rest),
            _ if !rest.is_empty() => Err(self.unreadable(rest)),
            Written::Metres => Ok((scaled(self.decimal(first, "metres")?, 1000, 1), LengthUnit::Mm)),
            Written::Unit(unit @ (LengthUnit::Mm | LengthUnit::Cm)) => {
                Ok((self.decimal(first, if unit == LengthUnit::Mm { "mm" } else { "cm" })?, unit))
            }
            Written::Unit(LengthUnit::In) => Ok((first.inches(self)?, LengthUnit::In)),
            Written::Bare => match self.tape_unit {
                LengthUnit::In => Ok((first.inches(self)?, LengthUnit::In)),
                unit => {
                    if let Some(fraction) = first.fraction {
                        let inches = Part { whole: first.whole, fraction: Some(fraction) }.inches(self)?;
                        let message = format!("{} has a fraction, and this tape reads {unit}.", shown(self.text));
                        return Err(EntryError::new(
                            message,
                            "Type the number as the tape reads, or write the inches.",
                        )
                        .proposing([format!("{inches}\"")]));
                    }
                    Ok((self.decimal(first, if unit == LengthUnit::Mm { "mm" } else { "cm" })?, unit))
                }
            },
        }
    }

    /// One number with its unit, and the marks after it.
    fn part<'m>(&self, marks: &'m [Mark]) -> Result<(Part, Written, &'m [Mark]), EntryError> {
        let (part, rest) = self.number(marks)?;
        let (unit, rest) = match rest {
            [Mark::Word(word), rest @ ..] => (self.unit(word)?, rest),
            [Mark::DoublePrime, rest @ ..] => (Written::Unit(LengthUnit::In), rest),
            [Mark::Prime, rest @ ..] => (Written::Feet, rest),
            rest => (Written::Bare, rest),
        };
        Ok((part, unit, rest))
    }

    fn number<'m>(&self, marks: &'m [Mark]) -> Result<(Part, &'m [Mark]), EntryError> {
        let (whole, rest) = match marks {
            [Mark::Number(_), Mark::Slash, ..] | [Mark::Vulgar(..), ..] => (None, marks),
            [Mark::Number(whole), Mark::Dash, rest @ ..] if starts_fraction(rest) => (Some(*whole), rest),
            [Mark::Number(whole), rest @ ..] => (Some(*whole), rest),
            _ => return Err(self.unreadable(marks)),
        };
        let (fraction, rest) = match rest {
            [Mark::Number(top), Mark::Slash, Mark::Number(bottom), rest @ ..]
                if top.is_whole() && bottom.is_whole() =>
            {
                (Some((top.digits, bottom.digits)), rest)
            }
            [Mark::Number(_), Mark::Slash, ..] => {
                let message = format!("{} is not finished: the fraction has no lower number.", shown(self.text));
                let halves = match (whole, rest) {
                    (whole, [Mark::Number(top), ..]) if top.is_whole() => propose_over(top.digits, [8, 16])
                        .map(|fraction| whole.map_or(fraction.clone(), |w| format!("{w} {fraction}")))
                        .collect(),
                    _ => Vec::new(),
                };
                return Err(EntryError::new(message, self.how).proposing(halves));
            }
            [Mark::Vulgar(top, bottom), rest @ ..] => (Some((*top, *bottom)), rest),
            rest => (None, rest),
        };
        Ok((Part { whole, fraction }, rest))
    }

    fn unit(&self, word: &str) -> Result<Written, EntryError> {
        Ok(match word {
            "mm" | "millimeter" | "millimeters" | "millimetre" | "millimetres" => Written::Unit(LengthUnit::Mm),
            "cm" | "centimeter" | "centimeters" | "centimetre" | "centimetres" => Written::Unit(LengthUnit::Cm),
            "in" | "inch" | "inches" => Written::Unit(LengthUnit::In),
            "ft" | "foot" | "feet" => Written::Feet,
            "m" | "meter" | "meters" | "metre" | "metres" => Written::Metres,
            _ => {
                let message = format!("{} is not a length: {word} is no unit of a tape.", shown(self.text));
                return Err(EntryError::new(message, "The units are mm, cm, m, in and ft."));
            }
        })
    }

    /// Whole feet, then inches below twelve with or without their mark.
    fn feet_and_inches(&self, feet: Part, rest: &[Mark]) -> Result<(Fraction, LengthUnit), EntryError> {
        let feet = feet.inches(self)?;
        let rest = if let [Mark::Dash, rest @ ..] = rest { rest } else { rest };
        if rest.is_empty() {
            return Ok((scaled(feet, 12, 1), LengthUnit::In));
        }
        let (part, unit, rest) = self.part(rest)?;
        if !rest.is_empty() || !matches!(unit, Written::Bare | Written::Unit(LengthUnit::In)) {
            return Err(self.unreadable(rest));
        }
        let inches = part.inches(self)?;
        let refused = format!("{} does not add up: after whole feet come less than 12 inches.", shown(self.text));
        if feet.denominator() != 1 {
            return Err(EntryError::new(refused, self.how));
        }
        let total = sum(scaled(feet, 12, 1), inches);
        if inches.numerator() >= 12 * inches.denominator() {
            let whole_feet = total.numerator() / (12 * total.denominator());
            let left = Fraction::new(total.numerator() - whole_feet * 12 * total.denominator(), total.denominator());
            let proposals = [format!("{whole_feet}' {left}\""), format!("{total}\"")];
            return Err(EntryError::new(refused, self.how).proposing(proposals));
        }
        Ok((total, LengthUnit::In))
    }

    /// A number without a fraction.
    fn decimal(&self, part: Part, unit: &str) -> Result<Fraction, EntryError> {
        match part {
            Part { whole: Some(number), fraction: None } => self.plain(number, unit),
            _ => {
                let message = format!("{} has a fraction, and {unit} are typed as decimals.", shown(self.text));
                let inches = part.inches(self).map(|inches| format!("{inches}\"")).ok();
                Err(EntryError::new(message, "Type a decimal, or write the inches.").proposing(inches))
            }
        }
    }

    fn plain(&self, number: Typed, unit: &str) -> Result<Fraction, EntryError> {
        let thousand = Fraction::new(number.digits, 1);
        let unit_mm = match unit {
            "in" => 25.4,
            "cm" => 10.0,
            "metres" => 1000.0,
            _ => 1.0,
        };
        if number.like_a_thousand && thousand.to_f64() * unit_mm <= LONGEST_MM {
            let message = format!("{} can be read two ways.", shown(self.text));
            return Err(EntryError::new(message, "Type it without the comma, or with a point.")
                .proposing([number.digits.to_string(), number.to_string()]));
        }
        Ok(Fraction::new(number.digits, 10_u64.pow(number.decimals)))
    }

    fn unreadable(&self, rest: &[Mark]) -> EntryError {
        let message = format!("{} cannot be read as one length.", shown(self.text));
        let proposals = match self.marks {
            // The slash was left out, or the space between whole and fraction is one too many.
            [Mark::Number(w), Mark::Number(top), Mark::Number(bottom)]
                if w.is_whole() && top.is_whole() && bottom.is_whole() =>
            {
                (TAPE_DENOMINATORS.contains(&bottom.digits) && top.digits < bottom.digits)
                    .then(|| format!("{w} {}/{}", top.digits, bottom.digits))
                    .into_iter()
                    .collect()
            }
            [Mark::Number(w), Mark::Number(top)]
                if w.is_whole() && top.is_whole() && self.tape_unit == LengthUnit::In =>
            {
                propose_over(top.digits, [8, 16]).map(|fraction| format!("{w} {fraction}")).collect()
            }
            [Mark::Number(a), Mark::Number(b)] if a.is_whole() && b.is_whole() && b.digits > 99 => {
                vec![format!("{}{:03}", a.digits, b.digits)]
            }
            _ => Vec::new(),
        };
        let hint = match rest {
            [Mark::Plus, ..] => "Type one number; sums are not added here.",
            _ => self.how,
        };
        EntryError::new(message, hint).proposing(proposals)
    }
}

/// A number as typed: `23`, `23.625`, `5/8`, `23 5/8`.
#[derive(Clone, Copy)]
struct Part {
    whole: Option<Typed>,
    fraction: Option<(u64, u64)>,
}

impl Part {
    /// As inches: a fraction must be one of a tape's.
    fn inches(self, reader: &Reader<'_>) -> Result<Fraction, EntryError> {
        let text = shown(reader.text);
        let Some((top, bottom)) = self.fraction else {
            return match self.whole {
                Some(number) => reader.plain(number, "in"),
                None => Err(reader.unreadable(&[])),
            };
        };
        let whole = match self.whole {
            Some(number) if !number.is_whole() => {
                let message = format!("{text} has a decimal and a fraction.");
                return Err(EntryError::new(message, "Type one or the other.").proposing([number.to_string()]));
            }
            Some(number) => number.digits,
            None => 0,
        };
        let with_whole = |fraction: Fraction| {
            Fraction::new(whole * fraction.denominator() + fraction.numerator(), fraction.denominator()).to_string()
        };
        if !TAPE_DENOMINATORS.contains(&bottom) {
            let message = format!("{text} is not on a tape.");
            let reason = "A tape divides the inch into 2, 4, 8, 16, 32 or 64 parts.";
            return Err(EntryError::new(message, reason).proposing(near_fractions(top, bottom).map(with_whole)));
        }
        if top >= bottom {
            let message = format!("{text} is not on a tape: {top}/{bottom} is an inch or more.");
            let proposals = [with_whole(Fraction::new(top, bottom))].into_iter().filter(|_| top < 1000);
            return Err(EntryError::new(message, "Type the whole inches, then the fraction.").proposing(proposals));
        }
        Ok(Fraction::new(whole * bottom + top, bottom))
    }
}

fn starts_fraction(marks: &[Mark]) -> bool {
    matches!(marks, [Mark::Number(_), Mark::Slash, ..] | [Mark::Vulgar(..), ..])
}

fn scaled(fraction: Fraction, by: u64, over: u64) -> Fraction {
    Fraction::new(fraction.numerator() * by, fraction.denominator() * over)
}

fn sum(a: Fraction, b: Fraction) -> Fraction {
    Fraction::new(a.numerator() * b.denominator() + b.numerator() * a.denominator(), a.denominator() * b.denominator())
}

/// `top` over each of `bottoms` that is larger and odd to it.
fn propose_over<const N: usize>(top: u64, bottoms: [u64; N]) -> impl Iterator<Item = String> {
    bottoms.into_iter().filter(move |bottom| top > 0 && top < *bottom).map(move |bottom| format!("{top}/{bottom}"))
}

/// Fractions on a tape near the one typed: the same upper number over the nearest division, and the nearest quarter (or
/// sixteenth, where that would be a whole inch).
fn near_fractions(top: u64, bottom: u64) -> impl Iterator<Item = Fraction> {
    let same_top = TAPE_DENOMINATORS
        .into_iter()
        .filter(|division| top < *division && top > 0)
        .min_by_key(|division| (division.abs_diff(bottom), std::cmp::Reverse(*division)))
        .map(|division| Fraction::new(top, division));
    let near_value = |parts: u64| {
        let count = (2 * top * parts + bottom) / (2 * bottom);
        (count > 0 && count < parts).then(|| Fraction::new(count, parts))
    };
    let by_value = (bottom > 0 && top < bottom).then(|| near_value(4).or_else(|| near_value(16))).flatten();
    let finer = (bottom > 0 && top < bottom && by_value == same_top).then(|| near_value(16)).flatten();
    [same_top, by_value, finer].into_iter().flatten()
}

#[cfg(test)]
mod tests {
    use super::*;
    use LengthUnit::{Cm, In, Mm};
    use proptest::prelude::*;

    #[test]
    fn what_a_builder_types_is_read() {
        // Millimetres worked by hand from 1 in = 25.4 mm.
        for (text, tape, mm, unit, fraction) in [
            ("5 3/8", In, 136.525, In, (43, 8)),
            ("5-3/8\"", In, 136.525, In, (43, 8)),
            ("5–3⁄8”", Mm, 136.525, In, (43, 8)),
            ("5⅜", In, 136.525, In, (43, 8)),
            ("5 ⅜ ″", Mm, 136.525, In, (43, 8)),
            ("23.625", In, 600.075, In, (189, 8)),
            ("23,625", In, 600.075, In, (189, 8)),
            ("5/8", In, 15.875, In, (5, 8)),
            ("½", In, 12.7, In, (1, 2)),
            (".5", In, 12.7, In, (1, 2)),
            ("27 10/16", In, 701.675, In, (221, 8)),
            ("1' 2 1/4\"", Mm, 361.95, In, (57, 4)),
            ("1′-2 1/4″", In, 361.95, In, (57, 4)),
            ("1 ft 2 1/4 in", Cm, 361.95, In, (57, 4)),
            ("8'", Mm, 2438.4, In, (96, 1)),
            ("5 3/8''", Mm, 136.525, In, (43, 8)),
            ("13.7 cm", In, 137.0, Cm, (137, 10)),
            ("13,7 cm", In, 137.0, Cm, (137, 10)),
            ("60.0 cm", Mm, 600.0, Cm, (60, 1)),
            ("346 mm", In, 346.0, Mm, (346, 1)),
            ("346mm", In, 346.0, Mm, (346, 1)),
            ("600", Mm, 600.0, Mm, (600, 1)),
            ("600", In, 15240.0, In, (600, 1)),
            ("60.3", Cm, 603.0, Cm, (603, 10)),
            ("2.665 m", Mm, 2665.0, Mm, (2665, 1)),
            ("  23\u{a0}5/8 ", In, 600.075, In, (189, 8)),
            ("0,625", In, 15.875, In, (5, 8)),
            ("0", Mm, 0.0, Mm, (0, 1)),
            ("23 5/8 in.", Mm, 600.075, In, (189, 8)),
            ("1 ft. 2 in.", Mm, 355.6, In, (14, 1)),
        ] {
            let read = read_length(text, tape).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert_eq!(read.length.to_mm(), mm, "{text}");
            assert_eq!((read.unit, read.fraction), (unit, Fraction::new(fraction.0, fraction.1)), "{text}");
            assert_eq!(read.text, text);
        }
    }

    #[test]
    fn what_is_not_on_a_tape_is_refused_in_words_with_something_to_type_instead() {
        for (text, tape, says, proposals) in [
            (
                "23 5/12",
                In,
                "23 5/12 is not on a tape. Did you mean 23 5/16 or 23 1/2? A tape divides",
                &["23 5/16", "23 1/2"][..],
            ),
            ("1/3", In, "1/3 is not on a tape.", &["1/4", "5/16"]),
            ("23⅓", In, "23⅓ is not on a tape.", &["23 1/4", "23 5/16"]),
            ("5/0", In, "5/0 is not on a tape.", &["5/8"]),
            ("23 9/8", In, "9/8 is an inch or more", &["24 1/8"]),
            ("23 5/", In, "the fraction has no lower number", &["23 5/8", "23 5/16"]),
            ("23 5", In, "cannot be read as one length", &["23 5/8", "23 5/16"]),
            ("23 5 8", In, "cannot be read as one length", &["23 5/8"]),
            ("23.5 1/8", In, "a decimal and a fraction", &["23.5"]),
            ("23 5/8", Mm, "has a fraction, and this tape reads mm", &["23 5/8\""]),
            ("23 5/8 mm", In, "mm are typed as decimals", &["23 5/8\""]),
            ("5' 14\"", In, "less than 12 inches", &["6' 2\"", "74\""]),
            ("1.5' 2", In, "after whole feet", &[]),
            ("1234567.123456' 1.123456", In, "after whole feet", &[]),
            ("9999999' 11.999999", In, "no tape here", &[]),
            ("1,234", Mm, "can be read two ways", &["1234", "1.234"]),
            ("1.234,5", Mm, "more than one decimal mark", &["1234.5"]),
            ("1 234", Mm, "cannot be read as one length", &["1234"]),
            ("600.", Mm, "not finished", &["600"]),
            ("-3", Mm, "below zero", &["3"]),
            ("−23 5/8", In, "below zero", &["23 5/8"]),
            ("9999", In, "no tape here is longer than 30 m", &["9999 mm"]),
            ("1e9", In, "e is no unit of a tape", &[]),
            ("NaN", Mm, "cannot be read as one length", &[]),
            ("inf", Mm, "cannot be read as one length", &[]),
            ("", Mm, "Nothing is typed yet. Type it as the tape reads, like 600.", &[]),
            ("   ", In, "Nothing is typed yet.", &[]),
            ("99999999", Mm, "more digits", &[]),
            ("٦٠٠", Mm, "it has the character ٦", &[]),
            ("\u{202e}600", Mm, "it has the character \\u{202e}", &[]),
            ("600\0", Mm, "it has the character \\0", &[]),
            ("12 kg", Mm, "kg is no unit of a tape", &[]),
            ("3+4", Mm, "sums are not added here", &[]),
            ("/", In, "cannot be read", &[]),
            ("'", In, "cannot be read", &[]),
        ] {
            let error = read_length(text, tape).expect_err(text);
            assert!(error.to_string().contains(says), "{text}: {error}");
            assert_eq!(error.proposals, proposals, "{text}");
        }
    }

    #[test]
    fn ten_thousand_characters_are_refused_in_a_short_message() {
        let error = read_length(&"9".repeat(10_000), Mm).unwrap_err();
        assert!(error.to_string().len() < 250, "{error}");
    }

    #[test]
    fn a_range_is_told_in_the_unit_typed_and_the_other_unit_proposed() {
        let range = 20.0..=2000.0;
        let error = read_length("600", In).unwrap().within("a ride height", range.clone()).unwrap_err();
        assert_eq!(error.message, "600 is 15240 mm: a ride height is 13/16 to 78 3/4 in (20 to 2000 mm).");
        assert_eq!(error.proposals, ["600 mm"]);
        assert!(read_length("23 5/8", In).unwrap().within("a ride height", range.clone()).is_ok());
        let error = read_length("23.5", Cm).unwrap().within("a wheelbase", 1000.0..=6000.0).unwrap_err();
        assert_eq!(error.message, "23.5 is 235 mm: a wheelbase is 100.0 to 600.0 cm.");
        assert!(error.proposals.is_empty());
    }

    proptest! {
        #[test]
        fn sixteenths_print_and_read_back(sixteenths in 0_u64..18_000) {
            let length = Length::mm(sixteenths as f64 * 25.4 / 16.0);
            let printed = length.sixteenths();
            prop_assert!(!printed.rounded);
            let read = read_length(&printed.text, In).unwrap();
            prop_assert_eq!(read.fraction, Fraction::new(sixteenths, 16));
            prop_assert!((read.length.to_mm() - length.to_mm()).abs() < 1e-9);
        }

        #[test]
        fn whole_millimetres_print_and_read_back(mm in 0_u32..30_000) {
            let length = Length::mm(f64::from(mm));
            prop_assert_eq!(read_length(&length.whole_mm(), Mm).unwrap().length, length);
        }

        #[test]
        fn the_printed_length_reads_back_from_every_unit(mm in 0_u32..2_000_000, unit in prop_oneof![Just(Mm), Just(Cm), Just(In)]) {
            let text = format!("{} {unit}", f64::from(mm) / 100.0);
            if let Ok(read) = read_length(&text, Mm) {
                prop_assert!((read.length.to_mm() - f64::from(mm) / 100.0 * unit.to_mm()).abs() < 1e-8);
            } else {
                prop_assert!(f64::from(mm) / 100.0 * unit.to_mm() > LONGEST_MM);
            }
        }

        #[test]
        fn no_text_panics_and_nothing_read_is_strange(text in ".{0,60}") {
            for unit in [Mm, Cm, In] {
                match read_length(&text, unit) {
                    Ok(read) => prop_assert!((0.0..=LONGEST_MM).contains(&read.length.to_mm())),
                    Err(error) => prop_assert!(!error.message.is_empty() && !error.hint.is_empty() && error.to_string().len() < 1000),
                }
            }
        }

        #[test]
        fn no_tape_like_text_panics(text in "[-0-9 ,./'\"½⅝a-cfimnt]{0,40}") {
            for unit in [Mm, Cm, In] {
                if let Err(error) = read_length(&text, unit) {
                    for proposal in &error.proposals {
                        prop_assert!(!proposal.is_empty());
                    }
                }
            }
        }
    }
}
