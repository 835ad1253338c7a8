//! The sentences round the picture: dates and floors of the title, how the curve was found, and the picture in words.

use super::{Shown, days, end_words, ends, laws, since_day_0};
use crate::floor_page::with_state;
use crate::wire::{SettlingView, SettlingWord};
use crate::words::{band_mm, capital, count, counted, day, kinds, whole};
use std::collections::BTreeSet;
use trueground_core::capture::CarFile;
use trueground_core::trend::{LineSettling, SnapshotHeight};

/// What is called settled, as the core decides it.
const SETTLED_MEANS: &str = "Settled: by the curve less than 2 mm to come, until two months after the last day hardly more than 3 with its doubt, and the last three days lie on it within their ±.";

/// "24 May"
pub(super) fn short_day(date: &str) -> String {
    let long = day(date);
    long.rsplit_once(' ').filter(|(_, year)| year.len() == 4).map_or(long.clone(), |(short, _)| short.to_owned())
}

/// "3 May to 12 July", and the same with its years; both empty without a day.
pub(super) fn dates(heights: &[&SnapshotHeight]) -> (String, String) {
    let (Some(first), Some(last)) = (heights.first(), heights.last()) else { return (String::new(), String::new()) };
    let (from, to) = (day(&first.date), day(&last.date));
    let (short_from, short_to) = (short_day(&first.date), short_day(&last.date));
    if from == to {
        return (short_to, to);
    }
    // "3 to 10 May", "3 May to 12 July"
    let begin = match (first.date.get(..7), last.date.get(..7)) {
        (Some(month), Some(other)) if month == other => short_from.split(' ').next().unwrap_or_default().to_owned(),
        _ => short_from.clone(),
    };
    let same_year = first.date.get(..4) == last.date.get(..4);
    let short = format!("{begin} to {short_to}");
    let long = if same_year { format!("{begin} to {to}") } else { format!("{from} to {to}") };
    (if same_year { short } else { long.clone() }, long)
}

/// "Garage, levelled"; "two floors"
pub(super) fn floors(file: &CarFile, heights: &[&SnapshotHeight]) -> String {
    let names: BTreeSet<Option<&str>> = heights
        .iter()
        .filter_map(|height| file.snapshots.iter().find(|snapshot| snapshot.id == height.snapshot))
        .map(|snapshot| snapshot.floor.as_deref())
        .collect();
    match names.len() {
        0 => String::new(),
        1 => {
            let name = names.first().copied().flatten();
            with_state(name.and_then(|name| file.floors.iter().find(|floor| floor.id == name)))
        }
        many => counted(many, "floor", "floors"),
    }
}

/// "Fender lips. Day 0 is 3 May: rear leaves out."
pub(super) fn about(shown: &Shown<'_>) -> String {
    if shown.lines.is_empty() {
        return String::new();
    }
    let (kind, day_0) = (kinds(shown.kind), shown.day_0());
    let work = shown.about.solved.file.events.iter().rfind(|event| event.resets_settling && event.date == day_0);
    match work.map(|work| work.what.trim()).filter(|what| !what.is_empty()) {
        Some(what) => format!("{kind}. Day 0, {}: {}.", short_day(day_0), what.trim_end_matches('.')),
        None => format!("{kind}. Day 0, {}: the first snapshot. No work on the springs is booked.", short_day(day_0)),
    }
}

/// "9 days"; empty where nothing was read.
pub(super) fn days_read(days: usize) -> String {
    match days {
        0 => String::new(),
        1 => "1 day".to_owned(),
        many => format!("{many} days"),
    }
}

/// "a week", "two weeks", "five days"
pub(super) fn duration(days: f64) -> String {
    match days.round() as usize {
        0 => "the same day".to_owned(),
        1 => "a day".to_owned(),
        7 => "a week".to_owned(),
        weeks if weeks % 7 == 0 && weeks <= 84 => format!("{} weeks", count(weeks / 7)),
        days => format!("{} days", count(days)),
    }
}

/// Why there is no curve at either end; empty where there is one.
pub(super) fn no_curve(shown: &Shown<'_>) -> String {
    let told = shown.lines.iter().any(|line| ends::word(line) != SettlingWord::CantTell);
    if told || shown.lines.is_empty() {
        String::new()
    } else if shown.lines.iter().all(|line| line.answer().model.is_none()) {
        laws::days_needed(shown)
    } else {
        laws::lacking(shown)
    }
}

/// How the curve was found and what it leans on.
pub(super) fn notes(shown: &Shown<'_>) -> Vec<String> {
    let mut notes: Vec<String> = shown.lines.iter().filter_map(|line| work_itself(line)).collect();
    if notes.len() == 2 {
        notes = vec![format!("The work itself: {}, {}.", notes[0], notes[1])];
    } else {
        notes = notes.into_iter().map(|note| format!("The work itself: {note}.")).collect();
    }
    notes.extend(laws::notes(shown));
    if shown.lines.iter().any(|line| ends::word(line) == SettlingWord::Settled) {
        notes.push(SETTLED_MEANS.to_owned());
    }
    if shown.lines.iter().any(|line| since_day_0(line).into_iter().any(ends::is_moved)) {
        let usual = shown.about.solved.file.vehicle.nominal_load.as_deref().unwrap_or("the usual load");
        notes.push(format!(
            "A hollow day stood with another load or other pressures. What that did is taken out, with its doubt; a line leads to where it counts: {usual}."
        ));
    }
    for line in &shown.lines {
        let left_out = since_day_0(line).into_iter().filter(|height| ends::is_left_out(line, height));
        notes.extend(left_out.map(|height| format!("{}: {}", short_day(&height.date), days::left_out(line, height))));
        let far = line.answer().doubtful.iter().filter(|doubt| doubt.used);
        notes.extend(far.map(|doubt| {
            format!(
                "Day {}: the {} lies far off the curve. Look at that day again.",
                whole(doubt.day),
                end_words(line.end)
            )
        }));
    }
    let unbooked = shown.heights().into_iter().filter(|height| shown.axis.of(height).is_none()).count();
    if unbooked > 0 {
        let days = counted(unbooked, "day has", "days have");
        notes.push(format!("{} no kilometre reading: in the list, not in the picture.", capital(&days)));
    }
    let (all, worked_out) = (&shown.about.solved.file.snapshots, shown.about.solution.snapshots.len());
    if all.len() > worked_out + 1 {
        notes.push(format!("Worked out from the last {worked_out} of {} snapshots.", all.len()));
    }
    notes
}

/// "17 mm lower at the front": what the work did at once, from the last reading before it to the first after.
fn work_itself(line: &LineSettling) -> Option<String> {
    let after = *since_day_0(line).first()?;
    let at = line.heights.iter().position(|height| std::ptr::eq(height, after))?;
    let before = line.heights.get(at.checked_sub(1)?)?;
    (after.day <= 7.0).then(|| crate::load::moved(before.height_mm - after.height_mm, end_words(line.end)))
}

/// The picture as sentences with its numbers.
pub(super) fn text(view: &SettlingView, shown: &Shown<'_>) -> String {
    let mut text = format!("{} {} {}", view.headline, view.detail, view.about).trim_end().to_owned();
    for (end, line) in view.ends.iter().zip(&shown.lines) {
        let since = since_day_0(line);
        let (Some(first), Some(last)) = (since.first(), since.last()) else { continue };
        text += &format!(" {}: {} mm on day {}", capital(&end.end), whole(first.height_mm), whole(first.day));
        if first.snapshot != last.snapshot {
            text += &format!(", {} on day {}", whole(last.height_mm), whole(last.day));
        }
        let rest = end.rest_mm.and_then(|rest| Some((rest.value?, rest.u?)));
        let left = end.remaining_mm.and_then(|left| Some((left.value?, left.u?)));
        match rest.zip(left) {
            Some(((rest, u), (left, left_u))) => {
                let rests = if view.rest_by.is_empty() {
                    "comes to rest".to_owned()
                } else {
                    format!("{} it stands", view.rest_by)
                };
                text += &format!(
                    ", {rests} at {} ±{}, {} ±{} to come.",
                    whole(rest),
                    whole(band_mm(u)),
                    whole(left),
                    whole(band_mm(left_u))
                );
            }
            None => text += "; what follows can\u{2019}t be told yet.",
        }
    }
    let hollow: Vec<String> = view
        .days
        .iter()
        .rev()
        .filter(|day| !day.cause.is_empty())
        .map(|day| format!("{}, {}", day.at_words, day.cause))
        .collect();
    if !hollow.is_empty() {
        text += &format!(" Hollow: {}.", hollow.join("; "));
    }
    text
}
