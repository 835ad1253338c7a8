//! How the curve was found, in sentences: which law, along which clock, the runner-up, and what work did at once.

use super::words::short_day;
use super::{Shown, end_words, ends};
use crate::wire::SettlingWord;
use crate::words::{band_mm, capital, count, whole};
use trueground_core::trend::{Brings, Candidate, Clock, Law, LineSettling, NextDate, Step, TooEarly};

/// Days of measuring that the simplest curve takes.
const FEWEST_DAYS: usize = 5;
/// An AICc within this of the other's is a tie.
const TIE: f64 = 2.0;

/// What stands behind an exponential.
const CREEP: &str =
    "Behind that curve springs creep on, 0 to 3 mm a year as a rule. What these days leave of it is counted in.";

/// The laws of both ends, what they share, and the steps and stored days in them.
pub(super) fn notes(shown: &Shown<'_>) -> Vec<String> {
    let told = || shown.lines.iter().filter(|line| ends::word(line) != SettlingWord::CantTell);
    let mut notes: Vec<String> = told().filter_map(|line| found(line)).collect();
    notes.extend(told().find_map(|line| shared(line)));
    if told().any(|line| line.answer().ahead.is_some()) {
        notes.push(CREEP.to_owned());
    }
    for line in &shown.lines {
        notes.extend(line.steps.iter().map(|step| worked(line, step)));
    }
    for (from, to) in shown.lines.first().map_or(&[][..], |line| &line.stored) {
        let day = |day: f64| short_day(&shown.date_of(day));
        let until = to.map_or(String::new(), |to| format!(" to {}", day(to)));
        notes.push(format!("Stored from {}{until}: those days do not count.", day(*from)));
    }
    notes.extend(shown.next().map(brings));
    notes
}

/// "Measuring on 16 June: the first day that can tell where it ends."
fn brings(next: &NextDate) -> String {
    let what = match next.brings {
        Brings::OneDayMore => "one day more of those that a curve needs",
        Brings::Verdict => "the first day that can tell where it ends",
        Brings::Settled => "the first day that can tell that it has settled",
        Brings::SurerRest => "no verdict yet, but the surest rest of the days to come",
    };
    format!("Measuring on {}: {what}.", short_day(&next.date))
}

/// Why there is no curve though there are days enough.
pub(super) fn lacking(shown: &Shown<'_>) -> String {
    let lacking = |what: TooEarly| shown.lines.iter().any(|line| line.answer().lacking.contains(&what));
    if lacking(TooEarly::FewDays) {
        days_needed(shown)
    } else if lacking(TooEarly::ShortStretch) {
        "The days so far do not tell how fast it slows down.".to_owned()
    } else {
        "Where it comes to rest is not known to 10 mm yet.".to_owned()
    }
}

/// How many days a curve takes: five, more with work in between or for the richest law.
pub(super) fn days_needed(shown: &Shown<'_>) -> String {
    let needed = shown.lines.iter().filter_map(|line| line.answer().days_needed).max().unwrap_or(FEWEST_DAYS);
    let read = shown.heights().len();
    if needed > FEWEST_DAYS && read >= FEWEST_DAYS {
        format!("This curve takes {} days of measuring; {} are read.", count(needed), count(read))
    } else {
        "It takes five days of measuring over about three weeks.".to_owned()
    }
}

/// "Front: ever slower, to a rest (exponential), by days. Runner-up: a logarithm by days fits as well, AICc +1.2."
fn found(line: &LineSettling) -> Option<String> {
    let answer = line.answer();
    let law = answer.model?;
    let chosen = match law {
        Law::Exponential => "ever slower, to a rest (exponential)",
        Law::Logarithmic => "ever slower, without end (logarithm)",
        Law::Both => "fast, then ever slower without end (exponential and logarithm)",
    };
    let own = |candidate: &&Candidate| (candidate.model, candidate.clock) != (law, answer.clock);
    let other = line.candidates.iter().find(own).map(|other| {
        let mine = line.candidates.iter().find(|candidate| !own(candidate)).map_or(0.0, |mine| mine.delta_aicc);
        (other.model, Some(other.clock), other.delta_aicc - mine)
    });
    let other = other.or_else(|| answer.other.map(|other| (other.model, None, other.delta_aicc)));
    let runner_up = other.map_or(String::new(), |(model, clock, by)| {
        let name = match model {
            Law::Exponential => "an exponential",
            Law::Logarithmic => "a logarithm",
            Law::Both => "an exponential with a logarithm",
        };
        let clock = clock.map_or(String::new(), |clock| format!(" by {}", along(clock)));
        let fits = if by.abs() < TIE {
            "as well"
        } else if by > 0.0 {
            "less well"
        } else {
            "better by itself"
        };
        let sign = if by <= -0.05 { "\u{2212}" } else { "+" };
        format!(" Runner-up: {name}{clock} fits {fits}, AICc {sign}{:.1}.", by.abs())
    });
    Some(format!("{}: {chosen}, by {}.{runner_up}", capital(end_words(line.end)), along(answer.clock)))
}

const fn along(clock: Clock) -> &'static str {
    match clock {
        Clock::Days => "days",
        Clock::Km => "kilometres",
    }
}

/// "Front and rear share one rate: 20 days, ±6."
fn shared(line: &LineSettling) -> Option<String> {
    line.chosen.as_ref().filter(|chosen| chosen.shared_rate)?;
    let rate = line.shared?;
    let unit = if rate.clock == Clock::Km { "km" } else { "days" };
    Some(format!("Front and rear share one rate: {} {unit}, ±{}.", whole(rate.rate.value), whole(band_mm(rate.rate.u))))
}

/// "18 May, torque check: 3 mm lower at the rear, ±2. What was read before is drawn as if it had been done."
fn worked(line: &LineSettling, step: &Step) -> String {
    let what = step.what.trim();
    let what = if what.is_empty() { String::new() } else { format!(", {what}") };
    let moved = crate::load::moved(0.0 - step.step_mm.value, end_words(line.end));
    format!(
        "{}{what}: {moved}, ±{}. What was read before is drawn as if it had been done.",
        short_day(&step.date),
        whole(band_mm(step.step_mm.u))
    )
}
