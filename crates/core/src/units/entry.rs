//! What all entries share: the marks a person types, and how an entry is refused.

use crate::wording::shown;
use std::fmt;

/// Longest entry that is read, in characters.
pub(super) const LONGEST_ENTRY: usize = 40;

/// An entry that could not be read. The typed text stays with whoever asked; nothing is guessed from it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub struct EntryError {
    /// What is wrong with which text.
    pub message: String,
    /// What to do next.
    pub hint: String,
    /// Texts to type instead, likeliest first; may be empty.
    pub proposals: Vec<String>,
}

impl fmt::Display for EntryError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {}", self.message, self.hint)
    }
}

impl EntryError {
    pub(super) fn new(message: impl Into<String>, hint: impl Into<String>) -> Self {
        Self { message: message.into(), hint: hint.into(), proposals: Vec::new() }
    }

    /// With texts to type instead; the hint starts by asking for them.
    pub(super) fn proposing(mut self, proposals: impl IntoIterator<Item = String>) -> Self {
        for text in proposals {
            if !self.proposals.contains(&text) {
                self.proposals.push(text);
            }
        }
        if !self.proposals.is_empty() {
            let asked = format!("Did you mean {}?", self.proposals.join(" or "));
            self.hint = if self.hint.is_empty() { asked } else { format!("{asked} {}", self.hint) };
        }
        self
    }
}

/// A number as typed, before it is known what it counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Typed {
    /// All digits, the decimal mark left out.
    pub digits: u64,
    /// How many of them stand behind the decimal mark.
    pub decimals: u32,
    /// The mark was a comma with three digits behind it and one to three before it: a thousand, to some.
    pub like_a_thousand: bool,
}

impl Typed {
    pub(super) fn to_f64(self) -> f64 {
        self.digits as f64 / 10_u64.pow(self.decimals) as f64
    }

    pub(super) fn is_whole(self) -> bool {
        self.decimals == 0
    }
}

impl fmt::Display for Typed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let scale = 10_u64.pow(self.decimals);
        write!(f, "{}", self.digits / scale)?;
        if self.decimals > 0 {
            write!(f, ".{:0width$}", self.digits % scale, width = self.decimals as usize)?;
        }
        Ok(())
    }
}

/// One mark of an entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Mark {
    Number(Typed),
    /// A fraction written as one character: ⅝.
    Vulgar(u64, u64),
    Slash,
    Dash,
    Plus,
    /// One prime: feet of a length, minutes of an angle.
    Prime,
    /// Two primes: inches of a length, seconds of an angle.
    DoublePrime,
    Degree,
    /// A run of letters, in lower case.
    Word(String),
}

/// The marks of `text`, spaces dropped. `what` names the thing for the refusal ("a length"), `how` the way to type it.
///
/// # Errors
/// Empty, longer than [`LONGEST_ENTRY`], two decimal marks, too many digits, or a character no entry has.
pub(super) fn marks(text: &str, what: &str, how: &str) -> Result<Vec<Mark>, EntryError> {
    if text.trim().is_empty() {
        return Err(EntryError::new("Nothing is typed yet.", how));
    }
    let length = text.chars().take(LONGEST_ENTRY + 1).count();
    if length > LONGEST_ENTRY {
        let message = format!("{} is longer than {what} can be: {LONGEST_ENTRY} characters at most.", shown(text));
        return Err(EntryError::new(message, how));
    }
    let characters: Vec<char> = text.chars().collect();
    let mut marks = Vec::new();
    let mut at = 0;
    while at < characters.len() {
        let c = characters[at];
        let run = |belongs: fn(char) -> bool| characters[at..].iter().take_while(|c| belongs(**c)).count();
        if c.is_ascii_digit() || matches!(c, '.' | ',') {
            let end = at + run(|c| c.is_ascii_digit() || matches!(c, '.' | ','));
            marks.push(Mark::Number(number(&characters[at..end], text, what, how)?));
            at = end;
            continue;
        }
        if c.is_ascii_alphabetic() {
            let end = at + run(|c| c.is_ascii_alphabetic());
            marks.push(Mark::Word(characters[at..end].iter().collect::<String>().to_lowercase()));
            // The point of an abbreviation, `23 5/8 in.`, is no decimal mark.
            let abbreviated =
                characters.get(end) == Some(&'.') && !characters.get(end + 1).is_some_and(char::is_ascii_digit);
            at = end + usize::from(abbreviated);
            continue;
        }
        at += 1;
        match c {
            ' ' | '\t' | '\u{a0}' | '\u{2009}' | '\u{202f}' => {}
            '/' | '\u{2044}' | '\u{2215}' => marks.push(Mark::Slash),
            '-' | '\u{2010}'..='\u{2014}' | '\u{2212}' => marks.push(Mark::Dash),
            '+' => marks.push(Mark::Plus),
            '°' | 'º' => marks.push(Mark::Degree),
            '"' | '\u{201c}' | '\u{201d}' | '\u{2033}' => marks.push(Mark::DoublePrime),
            // Two single primes side by side are a double one: 5 3/8''.
            '\'' | '\u{2018}' | '\u{2019}' | '\u{2032}' => match marks.last_mut() {
                Some(last @ Mark::Prime) if is_prime(characters[at.saturating_sub(2)]) => *last = Mark::DoublePrime,
                _ => marks.push(Mark::Prime),
            },
            _ => match vulgar(c) {
                Some((numerator, denominator)) => marks.push(Mark::Vulgar(numerator, denominator)),
                None => {
                    let message =
                        format!("{} is not {what}: it has the character {}.", shown(text), shown(&c.to_string()));
                    return Err(EntryError::new(message, how));
                }
            },
        }
    }
    Ok(marks)
}

fn is_prime(c: char) -> bool {
    matches!(c, '\'' | '\u{2018}' | '\u{2019}' | '\u{2032}')
}

fn number(run: &[char], text: &str, what: &str, how: &str) -> Result<Typed, EntryError> {
    let places: Vec<usize> = run.iter().enumerate().filter(|(_, c)| !c.is_ascii_digit()).map(|(i, _)| i).collect();
    let digits: String = run.iter().filter(|c| c.is_ascii_digit()).collect();
    if let [.., last] = places[..]
        && places.len() > 1
    {
        let decimal = run.len() - last - 1;
        let joined = if decimal == 0 {
            digits.clone()
        } else {
            format!("{}.{}", &digits[..digits.len() - decimal], &digits[digits.len() - decimal..])
        };
        let message = format!("{} has more than one decimal mark.", shown(text));
        let proposals = (!joined.is_empty() && !joined.starts_with('.')).then_some(joined);
        return Err(EntryError::new(message, "Type the number with one point or comma, or none.").proposing(proposals));
    }
    let decimals = places.first().map_or(0, |at| run.len() - at - 1);
    if digits.is_empty() || (decimals == 0 && !places.is_empty()) {
        let message = format!("{} is not finished: nothing stands behind the decimal mark.", shown(text));
        return Err(EntryError::new(message, how).proposing((!digits.is_empty()).then_some(digits)));
    }
    if digits.len() - decimals > 7 || decimals > 6 {
        let message = format!("{} is not {what}: it has more digits than one has.", shown(text));
        return Err(EntryError::new(message, how));
    }
    let before = digits.len() - decimals;
    let like_a_thousand = places.len() == 1
        && run[places[0]] == ','
        && decimals == 3
        && (1..=3).contains(&before)
        && !digits.starts_with('0');
    let digits = digits.parse().map_err(|_| EntryError::new(format!("{} is not {what}.", shown(text)), how))?;
    #[expect(clippy::cast_possible_truncation, reason = "at most six, checked above")]
    Ok(Typed { digits, decimals: decimals as u32, like_a_thousand })
}

fn vulgar(c: char) -> Option<(u64, u64)> {
    Some(match c {
        '½' => (1, 2),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅐' => (1, 7),
        '⅑' => (1, 9),
        '⅒' => (1, 10),
        _ => return None,
    })
}
