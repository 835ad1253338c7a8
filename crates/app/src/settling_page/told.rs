//! What the days tell: settled, still settling, or that it can't be told yet; and when to measure next.

use super::words::{duration, short_day};
use super::{Shown, end_words, ends, since_day_0};
use crate::wire::SettlingWord;
use crate::words::{band_mm, capital, known, whole};
use trueground_core::stance::Figure;
use trueground_core::trend::{Ahead, LineSettling, SettleFigure};

/// The sentences over the picture, and the one under it.
#[derive(Debug)]
pub(super) struct Told {
    pub(super) word: SettlingWord,
    pub(super) headline: String,
    pub(super) detail: String,
    pub(super) next: String,
    pub(super) next_date: String,
}

/// What can be said of both ends together.
pub(super) fn told(shown: &Shown<'_>) -> Told {
    let words: Vec<SettlingWord> = shown.lines.iter().map(|line| ends::word(line)).collect();
    let all = |word: SettlingWord| !words.is_empty() && words.iter().all(|one| *one == word);
    if all(SettlingWord::Settled) {
        return settled(shown);
    }
    let seen: Vec<Moved> = shown.lines.iter().filter_map(|line| Moved::of(shown, line)).collect();
    let going = words.contains(&SettlingWord::StillSettling) || seen.iter().any(Moved::beyond_doubt);
    let (word, headline) = if going {
        (SettlingWord::StillSettling, "Still settling.")
    } else {
        (SettlingWord::CantTell, "Can\u{2019}t tell yet.")
    };
    let to_come: Vec<_> = shown.lines.iter().filter_map(|line| to_come(line)).collect();
    let detail = if shown.lines.is_empty() {
        nothing_read(shown)
    } else if to_come.is_empty() {
        moved_words(&seen)
    } else {
        forecast(shown, &to_come)
    };
    let next_date = shown.next().map_or(String::new(), |next| next.date.clone());
    let next = match &next_date {
        _ if shown.lines.is_empty() => "measure round the car, on the same marks each time.".to_owned(),
        date if date.is_empty() => "the same marks again.".to_owned(),
        date => format!("{}, same marks. Align later.", short_day(date)),
    };
    Told { word, headline: headline.to_owned(), detail, next, next_date }
}

fn settled(shown: &Shown<'_>) -> Told {
    let day = shown.settled_on_day().unwrap_or_default().ceil();
    let since = day_of(shown, day);
    Told {
        word: SettlingWord::Settled,
        headline: format!("Settled since {since}."),
        detail: held_against(shown).unwrap_or_else(|| "Less than 2 mm to come at each end.".to_owned()),
        next: "caster, toe and headlights.".to_owned(),
        next_date: String::new(),
    }
}

/// "Until 10 Sept, two months on: 1 mm to come down at the front, ±2, 2 mm at the rear, ±1."
fn held_against(shown: &Shown<'_>) -> Option<String> {
    let ahead: Option<Vec<Ahead>> = shown.lines.iter().map(|line| line.answer().ahead).collect();
    let ahead = ahead.filter(|ahead| !ahead.is_empty())?;
    let until = ahead.iter().map(|ahead| ahead.until_day).fold(0.0, f64::max);
    let each: Vec<_> = shown.lines.iter().zip(&ahead).map(|(line, ahead)| (*line, ahead.to_come_mm)).collect();
    Some(format!("Until {}, two months on: {}.", day_of(shown, until), at_ends(&each)))
}

/// A year is said where the last reading is not of the same.
fn day_of(shown: &Shown<'_>, day: f64) -> String {
    let date = shown.date_of(day.ceil());
    let same_year = shown.date_of(shown.last_day()).get(..4) == date.get(..4);
    if same_year { short_day(&date) } else { crate::words::day(&date) }
}

fn nothing_read(shown: &Shown<'_>) -> String {
    let work = shown.about.solved.file.events.iter().rfind(|event| event.resets_settling);
    match work {
        Some(work) => format!("No snapshot since the work on {}: {}.", short_day(&work.date), work.what.trim()),
        None => "No snapshot yet: settling is seen from five days of reading on.".to_owned(),
    }
}

/// "About 2 mm to come down at the front, ±3, 6 mm at the rear, ±5, by 2 May 2032. By the curve less than 2 mm from about 20 June."
fn forecast(shown: &Shown<'_>, to_come: &[(&LineSettling, SettleFigure)]) -> String {
    let by = rest_by(shown);
    let by = if by.is_empty() { by } else { format!(", {by}") };
    let mut sentence = format!("About {}{by}.", at_ends(to_come));
    let all_told = to_come.len() == shown.lines.len();
    if let Some(day) = shown.settled_on_day().filter(|day| all_told && *day > shown.last_day()) {
        sentence += &format!(" By the curve less than 2 mm from about {}.", short_day(&shown.date_of(day.ceil())));
    }
    if !all_told {
        let untold = shown.lines.iter().filter(|line| ends::word(line) == SettlingWord::CantTell);
        let untold: Vec<&str> = untold.map(|line| end_words(line.end)).collect();
        sentence += &format!(" The {} can\u{2019}t be told yet.", untold.join(" and "));
    }
    sentence
}

fn to_come(line: &LineSettling) -> Option<(&LineSettling, SettleFigure)> {
    let left = line.answer().remaining_mm.filter(|_| ends::word(line) != SettlingWord::CantTell)?;
    Some((line, left))
}

/// "6 mm to come down at the front, ±5, 2 mm at the rear, ±3"
fn at_ends(each: &[(&LineSettling, SettleFigure)]) -> String {
    let mut said = "";
    let one = |(line, left): &(&LineSettling, SettleFigure)| {
        let way = if left.value < -0.5 { " to come up" } else { " to come down" };
        let new_way = if way == said { "" } else { way };
        said = way;
        let (size, end, band) = (whole(left.value.abs()), end_words(line.end), whole(band_mm(left.u)));
        format!("{size} mm{new_way} at the {end}, ±{band}")
    };
    each.iter().map(one).collect::<Vec<_>>().join(", ")
}

/// "by 2 May 2032": the day of which the height at rest is told; empty where the curves end by themselves.
pub(super) fn rest_by(shown: &Shown<'_>) -> String {
    let days = shown.lines.iter().filter(|line| ends::word(line) != SettlingWord::CantTell);
    let last = days.filter_map(|line| line.answer().horizon_day).fold(0.0, f64::max);
    if last > 0.0 { format!("by {}", crate::words::day(&shown.date_of(last))) } else { String::new() }
}

/// How far an end has come down since the first of its days.
#[derive(Debug)]
struct Moved {
    end: &'static str,
    /// Positive downwards.
    down_mm: f64,
    u_mm: f64,
    days: f64,
}

impl Moved {
    /// From the whole covariance: the same marks on the same floor change more surely than they stand.
    fn of(shown: &Shown<'_>, line: &LineSettling) -> Option<Self> {
        let since = since_day_0(line);
        let (first, last) = (since.first()?, since.last()?);
        if first.snapshot == last.snapshot {
            return None;
        }
        let end = end_words(line.end);
        let path = format!("lines_nominal.{}.{end}_mean_mm", line.kind.code());
        let change: Figure = shown.about.solution.change(&first.snapshot, &last.snapshot, &path)?;
        let (change, u_mm) = known(&change)?;
        Some(Self { end, down_mm: -change, u_mm, days: last.day - first.day })
    }

    fn beyond_doubt(&self) -> bool {
        self.down_mm.abs() > 2.0 * self.u_mm
    }
}

/// "Front 6 mm down in a week, rear 4."
fn moved_words(seen: &[Moved]) -> String {
    let Some(first) = seen.first() else {
        return "One day is read: nothing to compare it with yet.".to_owned();
    };
    let way = |moved: &Moved| if moved.down_mm < -0.5 { "up" } else { "down" };
    let others: Vec<String> = seen[1..]
        .iter()
        .map(|moved| {
            let size = whole(moved.down_mm.abs());
            if way(moved) == way(first) {
                format!(", {} {size}", moved.end)
            } else {
                format!(", {} {size} mm {}", moved.end, way(moved))
            }
        })
        .collect();
    let doubt = if seen.iter().any(Moved::beyond_doubt) {
        String::new()
    } else {
        let u = seen.iter().map(|moved| moved.u_mm).fold(0.0, f64::max);
        format!(", ±{}: too little to tell", whole(band_mm(u)))
    };
    let (size, time) = (whole(first.down_mm.abs()), duration(first.days));
    format!("{} {size} mm {} in {time}{}{doubt}.", capital(first.end), way(first), others.concat())
}
