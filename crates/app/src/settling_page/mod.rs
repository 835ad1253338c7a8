//! The Settling tab: front and rear over time, what was taken out of which day, and what can be said of it.

mod axis;
mod cause;
mod days;
mod ends;
mod law_choice;
mod laws;
mod strips;
mod told;
mod words;

use crate::solved::SolvedCar;
use crate::wire::{KindChoice, SeeSettling, SettlingMark, SettlingModel, SettlingStretch, SettlingView, SettlingWord};
use crate::words::kinds;
use axis::Axis;
use trueground_core::capture::{Snapshot, days_between};
use trueground_core::car::PointKind;
use trueground_core::level::Solution;
use trueground_core::trend::{Drift, End, Law, LineSettling, Model, NextDate, SnapshotHeight};
use uuid::Uuid;

/// What the page is made from.
#[derive(Debug)]
pub(crate) struct About<'a> {
    pub(crate) solved: &'a SolvedCar,
    pub(crate) solution: &'a Solution,
    /// Every line of the car.
    pub(crate) lines: &'a [LineSettling],
    /// The next useful day of each line.
    pub(crate) next: &'a [Option<NextDate>],
    /// Its charts.
    pub(crate) drifts: &'a [Drift],
    /// Id, name, and whether it is finished.
    pub(crate) listed: &'a [(Uuid, String, bool)],
}

/// The law asked for.
pub(crate) const fn model(asked: SettlingModel) -> Model {
    match asked {
        SettlingModel::Best => Model::Best,
        SettlingModel::Exponential => Model::Law(Law::Exponential),
        SettlingModel::Logarithmic => Model::Law(Law::Logarithmic),
        SettlingModel::Both => Model::Law(Law::Both),
    }
}

/// One kind of point, front and rear.
#[derive(Debug)]
struct Shown<'a> {
    about: &'a About<'a>,
    kind: PointKind,
    lines: Vec<&'a LineSettling>,
    axis: Axis,
}

/// The page; of the kind asked for, where that was read since day 0.
pub(crate) fn page(about: &About<'_>, asked: &SeeSettling) -> SettlingView {
    let read = kinds_read(about);
    let kind = read.iter().copied().find(|kind| kind.code() == asked.kind).or_else(|| most_days(about, &read));
    let kind = kind.unwrap_or(PointKind::FrameRail);
    let lines: Vec<&LineSettling> = about.lines.iter().filter(|line| line.kind == kind).collect();
    let booked = booked(&lines);
    let shown = Shown { about, kind, lines, axis: Axis::new(asked.clock, &booked) };
    let heights = shown.heights();
    let ends: Vec<_> = shown.lines.iter().map(|line| ends::end(&shown, line)).collect();
    let until = shown.until();
    let said = told::told(&shown);
    let (dates, dates_long) = words::dates(&heights);
    let settled = (said.word == SettlingWord::Settled).then(|| shown.settled_on_day()).flatten();
    let settled = settled.map(|day| {
        let date = shown.date_of(day.ceil());
        SettlingMark { at: shown.axis.at(day), words: format!("settled, {}", words::short_day(&date)), date }
    });
    let mut view = SettlingView {
        car: about.solved.car.to_string(),
        dates,
        dates_long,
        floor: words::floors(&about.solved.file, &heights),
        counted: words::days_read(heights.len()),
        word: said.word,
        headline: said.headline,
        detail: said.detail,
        about: words::about(&shown),
        kind: kind.code().to_owned(),
        kinds: read
            .iter()
            .map(|kind| KindChoice { kind: kind.code().to_owned(), words: kinds(*kind).to_owned() })
            .collect(),
        clock: shown.axis.clock,
        clocks: Axis::clocks(&booked),
        clock_words: shown.axis.words().to_owned(),
        day_0: shown.day_0().to_owned(),
        until,
        last: shown.axis.at(shown.last_day()),
        marks: marks(&shown, until),
        stored: stored(&shown, until),
        settled,
        rest_by: told::rest_by(&shown),
        law: law_choice::line(&shown, asked.model),
        laws: law_choice::choices(&shown),
        model: asked.model,
        strips: Vec::new(),
        days: days::days(&shown),
        notes: words::notes(&shown),
        no_curve: words::no_curve(&shown),
        next: said.next,
        next_date: said.next_date,
        text: String::new(),
        ends,
    };
    for end in &mut view.ends {
        ends::clip(end, until);
    }
    view.strips = strips::strips(&shown, &view.ends, &view.marks);
    view.text = words::text(&view, &shown);
    view
}

impl Shown<'_> {
    fn day_0(&self) -> &str {
        self.lines.first().map_or("", |line| &line.day_0)
    }

    /// The day so many days after day 0, `YYYY-MM-DD`.
    fn date_of(&self, day: f64) -> String {
        trueground_core::capture::day_after(self.day_0(), day as i64).unwrap_or_default()
    }

    /// The next useful day: the latest of what its lines ask for, so that one day serves both ends.
    fn next(&self) -> Option<&NextDate> {
        let of_kind = self.about.lines.iter().zip(self.about.next).filter(|(line, _)| line.kind == self.kind);
        of_kind.filter_map(|(_, next)| next.as_ref()).max_by(|a, b| a.day.total_cmp(&b.day))
    }

    fn snapshot(&self, name: &str) -> Option<&Snapshot> {
        self.about.solved.snapshot(name)
    }

    /// Id of a snapshot in the store.
    fn id_of(&self, name: &str) -> String {
        let mut listed = self.about.listed.iter();
        listed.find(|(_, known, _)| known == name).map_or(String::new(), |(id, ..)| id.to_string())
    }

    /// The heights since day 0 of whichever end was read on more days.
    fn heights(&self) -> Vec<&SnapshotHeight> {
        self.lines.iter().map(|line| since_day_0(line)).max_by_key(Vec::len).unwrap_or_default()
    }

    fn last_day(&self) -> f64 {
        self.lines.iter().filter_map(|line| since_day_0(line).last().map(|height| height.day)).fold(0.0, f64::max)
    }

    /// The day on which less than 2 mm was left at both ends.
    fn settled_on_day(&self) -> Option<f64> {
        let days: Option<Vec<f64>> = self.lines.iter().map(|line| line.answer().settled_on_day).collect();
        days?.into_iter().reduce(f64::max)
    }

    /// Where the picture ends, in the unit of the clock: a fifth of the stretch ahead; as much again, at least four weeks, where it can't be told.
    fn until(&self) -> f64 {
        const AHEAD: f64 = 0.2;
        const MOST_AHEAD_DAYS: f64 = 60.0;
        const AT_LEAST_DAYS: f64 = 28.0;
        let last = self.last_day();
        let by_end = self.lines.iter().map(|line| match line.answer().settled_on_day {
            _ if ends::word(line) == SettlingWord::CantTell => {
                (2.0 * last).min(last + MOST_AHEAD_DAYS).max(AT_LEAST_DAYS)
            }
            Some(day) if day > last => day.min(2.0 * last),
            _ => last + (AHEAD * last).min(MOST_AHEAD_DAYS),
        });
        self.axis.round_up(by_end.fold(last, f64::max))
    }
}

/// Heights that take part: what was read before the work does not, nor on its day with fewer kilometres on the clock.
fn since_day_0(line: &LineSettling) -> Vec<&SnapshotHeight> {
    let since =
        |height: &&SnapshotHeight| height.day > 0.0 || (height.day == 0.0 && height.km.is_none_or(|km| km >= 0.0));
    line.heights.iter().filter(since).collect()
}

/// Every day with its kilometres, of the end that was read more often.
fn booked(lines: &[&LineSettling]) -> Vec<(f64, Option<f64>)> {
    let heights = lines.iter().map(|line| since_day_0(line)).max_by_key(Vec::len).unwrap_or_default();
    heights.into_iter().map(|height| (height.day, height.km)).collect()
}

fn kinds_read(about: &About<'_>) -> Vec<PointKind> {
    let read = |kind: &PointKind| about.lines.iter().any(|line| line.kind == *kind);
    PointKind::ALL.into_iter().filter(read).collect()
}

/// The kind with the most heights; among equals the first.
fn most_days(about: &About<'_>, read: &[PointKind]) -> Option<PointKind> {
    let heights = |kind: PointKind| -> usize {
        about.lines.iter().filter(|line| line.kind == kind).map(|line| since_day_0(line).len()).sum()
    };
    read.iter().copied().rev().max_by_key(|kind| heights(*kind))
}

/// Work on the car since day 0, as far as the picture goes.
fn marks(shown: &Shown<'_>, until: f64) -> Vec<SettlingMark> {
    let mut marks: Vec<SettlingMark> = shown
        .about
        .solved
        .file
        .events
        .iter()
        .filter_map(|event| {
            let day = days_between(shown.day_0(), &event.date).filter(|day| *day >= 0)? as f64;
            Some(SettlingMark {
                at: shown.axis.at(day),
                date: event.date.clone(),
                words: format!("{}, {}", words::short_day(&event.date), event.what.trim()),
            })
        })
        .filter(|mark| mark.at <= until)
        .collect();
    marks.sort_by(|a, b| a.at.total_cmp(&b.at));
    marks
}

/// Stretches on which the car was stored, as far as the picture goes.
fn stored(shown: &Shown<'_>, until: f64) -> Vec<SettlingStretch> {
    let stretches = shown.lines.first().map_or(&[][..], |line| &line.stored);
    let at = |day: f64| shown.axis.at(day).min(until);
    let drawn = stretches.iter().map(|(from, to)| SettlingStretch { from: at(*from), to: to.map_or(until, at) });
    drawn.filter(|stretch| stretch.to > stretch.from).collect()
}

/// "front", "rear"
const fn end_words(end: End) -> &'static str {
    match end {
        End::Front => "front",
        End::Rear => "rear",
    }
}
