//! Reads a marking from left to right, character by character, and says where it stops.

use super::marking::{Construction, Marking, Rim, Size};

/// Longest marking that is read, in characters.
const LONGEST: usize = 40;

/// Where reading stopped, in characters, and what was expected there.
pub(super) struct Stop {
    pub(super) at: usize,
    pub(super) expected: &'static str,
}

pub(super) fn parse(text: &str) -> Result<Marking, Stop> {
    if text.chars().take(LONGEST + 1).count() > LONGEST {
        return Err(Stop { at: 0, expected: "a marking of at most 40 characters" });
    }
    let mut reader = Reader::new(text);
    let (mut size, construction) = reader.size()?;
    let from = reader.at;
    reader.service(&size)?;
    let service: String = text.chars().skip(from).collect();
    let service = service.trim().to_owned();
    if let Size::Numeric { low_section, .. } = &mut size {
        *low_section = service.split_whitespace().next().is_some_and(|word| word.eq_ignore_ascii_case("L"));
    }
    Ok(Marking { text: text.to_owned(), size, construction, service })
}

const START: &str = "a size such as 6.00-16, 205/55R16, G78-15 or 30x3 1/2";
const RIM: &str = "a rim diameter such as 15";
const SEPARATOR: &str = "a dash, R, / or x";

struct Reader {
    characters: Vec<char>,
    at: usize,
}

impl Reader {
    /// Upper case, other dashes as `-`, the multiplication sign as `X`: one character for each that was typed.
    fn new(text: &str) -> Self {
        let characters = text.chars().map(|c| match c.to_ascii_uppercase() {
            '×' | '\u{2715}' | '*' => 'X',
            '\u{2010}'..='\u{2014}' | '\u{2212}' => '-',
            '\u{2044}' | '\u{2215}' => '/',
            '\u{a0}' | '\u{2009}' | '\u{202f}' | '\t' => ' ',
            c => c,
        });
        Self { characters: characters.collect(), at: 0 }
    }

    fn size(&mut self) -> Result<(Size, Construction), Stop> {
        self.spaces();
        if let Some(found) = self.letter_size()? {
            return Ok(found);
        }
        if !["LT", "P", "T"].iter().any(|prefix| self.eat_before_digit(prefix)) {
            self.spaces();
        }
        let first_at = self.at;
        let first = self.number().ok_or(Stop { at: first_at, expected: START })?;
        self.spaces();
        if self.eat('/') {
            return self.after_slash(first, first_at);
        }
        if self.eat('X') {
            return self.after_by(first, first_at);
        }
        let construction = self.construction()?;
        let rim = self.rim()?;
        self.by_rim(first, first_at, rim, construction)
    }

    /// A width and a rim with nothing between but dash or letters: `6.00-16`, `600-16`, `155R15`.
    fn by_rim(
        &self,
        width: f64,
        at: usize,
        rim: Rim,
        construction: Construction,
    ) -> Result<(Size, Construction), Stop> {
        if let Some(width_in) = section_in(width) {
            let Rim::Code(_) = rim else { return Err(Stop { at: self.at, expected: RIM }) };
            return Ok((Size::Numeric { width_in: (width_in, width_in), rim, low_section: false }, construction));
        }
        let width_mm = width_mm(width).ok_or(Stop { at, expected: START })?;
        Ok((Size::Metric { width_mm, aspect: None, rim }, construction))
    }

    /// `205/55R16`, `6.00/6.50-16`, `165/400`.
    fn after_slash(&mut self, first: f64, first_at: usize) -> Result<(Size, Construction), Stop> {
        let second_at = self.at;
        let second = self.number().ok_or(Stop { at: second_at, expected: "an aspect ratio such as 75" })?;
        if let (Some(one), Some(other)) = (section_in(first), section_in(second))
            && first < 20.0
        {
            // Two names of one size lie close together; farther apart they are something else.
            if (one - other).abs() > 0.8 {
                return Err(Stop { at: second_at, expected: "the same size in its other name" });
            }
            let construction = self.construction()?;
            let rim = self.rim()?;
            return Ok((
                Size::Numeric { width_in: (one.min(other), one.max(other)), rim, low_section: false },
                construction,
            ));
        }
        let width_mm = width_mm(first).ok_or(Stop { at: first_at, expected: START })?;
        if (300.0..=500.0).contains(&second) {
            return Ok((Size::Metric { width_mm, aspect: None, rim: Rim::Mm(second) }, Construction::Diagonal));
        }
        if !(20.0..=100.0).contains(&second) || second.fract() != 0.0 {
            return Err(Stop { at: second_at, expected: "an aspect ratio of 20 to 100" });
        }
        let construction = self.construction()?;
        let rim = self.rim()?;
        Ok((Size::Metric { width_mm, aspect: Some(second), rim }, construction))
    }

    /// `30x3 1/2`, `31x10.50R15`, `6.00x16`, `135x400`, `880x120`.
    fn after_by(&mut self, first: f64, first_at: usize) -> Result<(Size, Construction), Stop> {
        self.spaces();
        let second_at = self.at;
        let whole = self.number().ok_or(Stop { at: second_at, expected: "a second number" })?;
        let second = whole + self.fraction();
        match (first, second) {
            _ if section_in(first).is_some() && (8.0..=30.0).contains(&second) && !(20.0..100.0).contains(&first) => {
                self.by_rim(first, first_at, Rim::Code(second), Construction::Diagonal)
            }
            (20.0..60.0, 2.0..=20.0) => {
                let before = self.at;
                if let Ok(construction) = self.construction() {
                    let rim = self.rim()?;
                    let Rim::Code(code) = rim else { return Err(Stop { at: before, expected: RIM }) };
                    if code + 2.0 > first {
                        return Err(Stop { at: before, expected: "a rim smaller than the tire" });
                    }
                    return Ok((Size::Flotation { diameter_in: first, width_in: second, rim }, construction));
                }
                self.at = before;
                if second > 8.0 {
                    return Err(Stop { at: self.at, expected: "a dash or R and a rim diameter" });
                }
                Ok((Size::EarlyInch { diameter_in: first, section_in: second }, Construction::Diagonal))
            }
            (75.0..=295.0, 300.0..=500.0) => {
                Ok((Size::Metric { width_mm: first, aspect: None, rim: Rim::Mm(second) }, Construction::Diagonal))
            }
            (500.0..=1300.0, 50.0..=200.0) => {
                Ok((Size::EarlyMetric { diameter_mm: first, section_mm: second }, Construction::Diagonal))
            }
            _ => Err(Stop { at: second_at, expected: "a section that goes with the first number" }),
        }
    }

    /// `G78-15`, `GR78-15`, `E60x15`: a load letter from A to N, with or without R, and a series.
    fn letter_size(&mut self) -> Result<Option<(Size, Construction)>, Stop> {
        let start = self.at;
        let Some(letter) = self.peek().filter(|c| ('A'..='N').contains(c)) else { return Ok(None) };
        self.at += 1;
        let radial = self.eat('R');
        let series_at = self.at;
        let Some(series) = self.number() else {
            self.at = start;
            return Ok(None);
        };
        if !(50.0..=83.0).contains(&series) || series.fract() != 0.0 {
            return Err(Stop { at: series_at, expected: "a series such as 78, 70 or 60" });
        }
        self.spaces();
        let marked = if self.eat('X') { Construction::Diagonal } else { self.construction()? };
        let rim = self.rim()?;
        let construction = if radial { Construction::Radial } else { marked };
        Ok(Some((Size::Letter { letter, series, rim }, construction)))
    }

    /// A dash, or `R`, `D` or `B` with or without a speed letter before it: `SR`, `HR`, `VR`, `ZR`.
    fn construction(&mut self) -> Result<Construction, Stop> {
        self.spaces();
        let at = self.at;
        if self.eat('-') {
            self.spaces();
            // A radial may be marked 205/70-R14 too.
            return Ok(if self.eat('R') { Construction::Radial } else { Construction::Diagonal });
        }
        if self.peek().is_some_and(|c| matches!(c, 'Q' | 'S' | 'T' | 'U' | 'H' | 'V' | 'W' | 'Y' | 'Z')) {
            self.at += 1;
            self.spaces();
        }
        let construction = match self.peek() {
            Some('R') => Construction::Radial,
            Some('D') => Construction::Diagonal,
            Some('B') => Construction::BiasBelted,
            _ => return Err(Stop { at, expected: SEPARATOR }),
        };
        self.at += 1;
        // 205/55R-16
        self.spaces();
        self.eat('-');
        Ok(construction)
    }

    fn rim(&mut self) -> Result<Rim, Stop> {
        self.spaces();
        let at = self.at;
        match self.number() {
            Some(code) if (8.0..=30.0).contains(&code) && (code * 2.0).fract() == 0.0 => Ok(Rim::Code(code)),
            Some(mm) if (300.0..=500.0).contains(&mm) && mm.fract() == 0.0 => Ok(Rim::Mm(mm)),
            _ => Err(Stop { at, expected: RIM }),
        }
    }

    /// What may stand behind the size, in this order: a second name of the same size, `L`, `LT` or `C`, a load range `/C`,
    /// plies, load index and speed letter.
    fn service(&mut self, size: &Size) -> Result<(), Stop> {
        if let Size::Metric { aspect: None, rim: Rim::Code(rim), .. } | Size::Numeric { rim: Rim::Code(rim), .. } = size
            && !self.load_range_follows()
            && self.eat('/')
        {
            let at = self.at;
            let same_rim = self.number().is_some()
                && self.construction().is_ok()
                && self.rim().is_ok_and(|second| second == Rim::Code(*rim));
            if !same_rim {
                return Err(Stop { at, expected: "the same size in its other name" });
            }
        }
        self.spaces();
        if !self.eat_word("LT") && !self.eat_word("C") {
            self.eat_word("L");
        }
        self.spaces();
        if self.load_range_follows() {
            self.at += 2;
        }
        self.spaces();
        let before = self.at;
        let plies = self.number().is_some_and(|n| (2.0..=24.0).contains(&n) && n.fract() == 0.0) && {
            self.spaces();
            self.eat_word("PR") || self.eat_word("PLY")
        };
        if !plies {
            self.at = before;
        }
        self.spaces();
        self.service_description()?;
        self.spaces();
        if self.at < self.characters.len() {
            return Err(Stop { at: self.at, expected: "nothing more than a service description such as 91V" });
        }
        Ok(())
    }

    /// `/C`: the load ranges of light trucks, B to N, each for so many plies; common practice, no source.
    fn load_range_follows(&self) -> bool {
        self.peek() == Some('/')
            && self.characters.get(self.at + 1).is_some_and(|c| ('B'..='N').contains(c))
            && !self.characters.get(self.at + 2).is_some_and(char::is_ascii_alphanumeric)
    }

    fn service_description(&mut self) -> Result<(), Stop> {
        let start = self.at;
        let bracket = self.eat('(');
        if let Some(index) = self.number() {
            let second = if self.eat('/') { self.number() } else { Some(index) };
            self.spaces();
            let speed = self.peek().is_some_and(|c| ('A'..='Y').contains(&c));
            self.at += usize::from(speed);
            let in_range = |index: f64| (20.0..=279.0).contains(&index) && index.fract() == 0.0;
            if !speed || !in_range(index) || !second.is_some_and(in_range) {
                return Err(Stop { at: start, expected: "a service description such as 91V" });
            }
        } else if bracket {
            return Err(Stop { at: start, expected: "a service description such as 91V" });
        }
        if bracket && !self.eat(')') {
            return Err(Stop { at: self.at, expected: "a closing bracket" });
        }
        Ok(())
    }

    /// Digits with at most one decimal mark and two decimals; nothing is consumed when there are none.
    fn number(&mut self) -> Option<f64> {
        let start = self.at;
        let mut text = String::new();
        while let Some(c) = self.peek() {
            let next_is_digit = self.characters.get(self.at + 1).is_some_and(char::is_ascii_digit);
            match c {
                '0'..='9' if text.find('.').is_some_and(|mark| text.len() - mark > 2) => break,
                '0'..='9' => text.push(c),
                '.' | ',' if !text.is_empty() && !text.contains('.') && next_is_digit => text.push('.'),
                _ => break,
            }
            self.at += 1;
        }
        let number = text.parse::<f64>().ok().filter(|n| *n < 10_000.0 && text.len() <= 6);
        if number.is_none() {
            self.at = start;
        }
        number
    }

    /// A fraction behind a whole number: ` 1/2`, `½`; zero and nothing consumed when there is none.
    fn fraction(&mut self) -> f64 {
        let start = self.at;
        self.spaces();
        let one_sign = match self.peek() {
            Some('½') => Some(0.5),
            Some('¼') => Some(0.25),
            Some('¾') => Some(0.75),
            _ => None,
        };
        if let Some(value) = one_sign {
            self.at += 1;
            return value;
        }
        if let Some(top) = self.number()
            && self.eat('/')
            && let Some(bottom) = self.number()
            && [2.0, 4.0, 8.0].contains(&bottom)
            && top < bottom
            && top.fract() == 0.0
        {
            return top / bottom;
        }
        self.at = start;
        0.0
    }

    fn peek(&self) -> Option<char> {
        self.characters.get(self.at).copied()
    }

    fn eat(&mut self, c: char) -> bool {
        let there = self.peek() == Some(c);
        self.at += usize::from(there);
        there
    }

    /// Eats `word` where no letter follows it.
    fn eat_word(&mut self, word: &str) -> bool {
        let end = self.at + word.len();
        let there = self.characters.get(self.at..end).is_some_and(|run| run.iter().copied().eq(word.chars()))
            && !self.characters.get(end).is_some_and(char::is_ascii_alphabetic);
        if there {
            self.at = end;
        }
        there
    }

    fn eat_before_digit(&mut self, word: &str) -> bool {
        let end = self.at + word.len();
        let there = self.characters.get(self.at..end).is_some_and(|run| run.iter().copied().eq(word.chars()))
            && self.characters.get(end).is_some_and(char::is_ascii_digit);
        if there {
            self.at = end;
        }
        there
    }

    fn spaces(&mut self) {
        while self.peek() == Some(' ') {
            self.at += 1;
        }
    }
}

/// A section width in inches, typed as inches (`6.00`) or as its hundredths (`600`).
fn section_in(typed: f64) -> Option<f64> {
    match typed {
        2.0..=14.5 => Some(typed),
        _ if (300.0..=1250.0).contains(&typed) && typed.fract() == 0.0 => Some(typed / 100.0),
        _ => None,
    }
}

/// A section width in mm, in the steps of five they are made in.
fn width_mm(typed: f64) -> Option<f64> {
    ((75.0..=455.0).contains(&typed) && (typed / 5.0).fract() == 0.0).then_some(typed)
}
