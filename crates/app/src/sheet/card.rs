//! The card of a stance: one page to print with how a car stood on level ground, how sure that is, and how it was read.

use super::side_view::side_view;
use super::{LONG_NAME, division, findings, outline, pressure, prose};
use crate::checks_page;
use crate::result_page::{About, page};
use crate::wire::{CheckRow, CheckWord, CornerResult, Problem, ResultView, TapeUnit};
use crate::words::{band_deg, band_mm, capital, counted, day, degrees, facing, kinds, known, on_tape, rake, whole};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use std::collections::BTreeMap;
use trueground_core::capture::{CarFile, Photo, PhotoSide, Snapshot};
use trueground_core::corner::Corner;
use trueground_core::stance::{Figure, Line};
use trueground_core::wording::shown;

const STYLE: &str = concat!(include_str!("sheet.css"), include_str!("card.css"), include_str!("findings.css"));
/// Most readings that are named as doubtful or struck; the rest are counted.
const MOST_NAMED: usize = 4;
/// Most findings on a card; the page of findings has all.
const MOST_FOLLOWS: usize = 8;
const NOTE_LINES: usize = 5;

/// Pictures by side, as an image takes them.
pub(crate) type Pictures = BTreeMap<PhotoSide, String>;

/// The card of one snapshot of a file, worked out here; photos are those whose pictures the file carries.
///
/// # Errors
/// No such snapshot, or its readings cannot be worked out.
pub fn card(file: &CarFile, snapshot: &str) -> Result<String, Problem> {
    let solved = crate::solved::of_file(file, snapshot);
    let gone = || {
        let names: Vec<String> = file.snapshots.iter().take(12).map(|one| shown(&one.id)).collect();
        let hint = match &names[..] {
            [] => "The file has no snapshot: read one first.".to_owned(),
            names => format!("Name one of these: {}.", names.join(", ")),
        };
        Problem::new("not_found", format!("There is no snapshot {} in the file.", shown(snapshot)), hint)
    };
    let found = solved.snapshot(snapshot).ok_or_else(gone)?;
    let solution = solved.solution.as_ref().map_err(Clone::clone)?;
    let about = About {
        solved: &solved,
        solution,
        stance: solved.stance(snapshot).ok_or_else(gone)?,
        snapshot: found,
        snapshot_id: String::new(),
        floor_id: None,
        finished: true,
        display: TapeUnit::Mm,
    };
    Ok(of(&about, &carried(&found.photos)))
}

/// The newest picture of each side that was not taken off and that the file carries.
fn carried(photos: &[Photo]) -> Pictures {
    let mut pictures = Pictures::new();
    for photo in photos {
        pictures.remove(&photo.side);
        let data = photo.data.as_ref().filter(|_| photo.taken_off.is_none());
        // Only what is a picture by its content, under the name of what it is.
        if let Some(url) = data.and_then(|data| crate::photo_page::checked_data_url(data)) {
            pictures.insert(photo.side, url);
        }
    }
    pictures
}

/// The card of a result.
pub(crate) fn of(about: &About<'_>, pictures: &Pictures) -> String {
    let result = page(about, "");
    let (file, snapshot) = (&about.solved.file, about.snapshot);
    let label = shown(&file.vehicle.label);
    let html = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (label) ", stance card, " (day(&result.date)) }
                style { (PreEscaped(STYLE)) }
            }
            body.card {
                main {
                    header {
                        h1 class=[(label.chars().count() > LONG_NAME).then_some("long")] { (label) " " span { "stance card" } }
                        p.cell { "Date" b { (day(&shown(&result.date))) } }
                        p.cell.wide { "Floor" b { (prose(&result.floor)) } }
                    }
                    (seen(&result))
                    div.pair {
                        (corners(&result, file))
                        (lines(&result))
                    }
                    div.pair {
                        (stood(file, snapshot, &result))
                        section.notes { h2 { "Notes" } @for _ in 0..NOTE_LINES { div {} } }
                    }
                    (doubts(&result, snapshot))
                    (follows(about))
                    (photos(pictures))
                    footer {
                        p { "± holds 19 times in 20. Heights are above level ground, as loaded. This card measures; it does not say a car is roadworthy." }
                        b { "Trueground" }
                    }
                }
            }
        }
    };
    html.into_string()
}

/// "266 ±3", or the hatch that says that it cannot be told.
fn figure(figure: Option<&Figure>, show: impl Fn(f64) -> String, band: impl Fn(f64) -> f64) -> Markup {
    html! {
        @if let Some((value, u)) = figure.and_then(known) {
            span.value { (show(value)) } span.band { "±" (band(u)) }
        } @else {
            span.hatched { span { "can\u{2019}t tell" } }
        }
    }
}

fn mm(of: Option<&Figure>) -> Markup {
    figure(of, whole, band_mm)
}

/// The side view with the rake, and the two means under their marks.
fn seen(result: &ResultView) -> Markup {
    let line = result.line.as_ref();
    let rake_deg = line.map(|line| &line.rake_deg);
    let word =
        rake_deg.and_then(known).map(|(deg, _)| if rake(deg).starts_with("nose-up") { "nose-up" } else { "nose-down" });
    html! {
        div.seen {
            p.rake {
                (figure(rake_deg, |deg| degrees(deg.abs()), band_deg))
                span.label { @if let Some(word) = word { (word) } @else { "rake" } }
            }
            @if let Some(side) = &result.side {
                @let (picture, [front, rear]) = side_view(side);
                (picture)
                div.means {
                    p style=(format!("left:{front:.0}px")) { (mm(line.map(|line| &line.front_mean_mm))) span.label { "front" } }
                    p style=(format!("left:{rear:.0}px")) { (mm(line.map(|line| &line.rear_mean_mm))) span.label { "rear" } }
                    p.scale { "to scale, ticks 100 mm" }
                }
            }
        }
    }
}

fn corners(result: &ResultView, file: &CarFile) -> Markup {
    let shape = file.vehicle.outline.unwrap_or(trueground_core::car::Outline::BareFrame);
    let (before, behind) = outline::reach(shape);
    let k = 150.0 / (behind + before);
    let plan = outline::path(shape, |(s, y)| (45.0 + y * k, 5.0 + (s + before) * k));
    let cell = |corner: Corner, of: &CornerResult| {
        html! {
            div.corner-cell {
                p.label { (corner.words()) }
                p.number-line { (mm(of.level_mm.as_ref())) }
                @if let Some((value, _)) = of.level_mm.as_ref().and_then(known) { p.inches { (inches(value)) } }
            }
        }
    };
    html! {
        section.block {
            h2 { (result.kind_words) ", mm above level ground" }
            div.around {
                div { (cell(Corner::FL, &result.corners.FL)) (cell(Corner::RL, &result.corners.RL)) }
                svg width="90" height="160" viewBox="0 0 90 160" role="img" aria-label="The car from above, nose up" { path.body d=(plan) {} }
                div { (cell(Corner::FR, &result.corners.FR)) (cell(Corner::RR, &result.corners.RR)) }
            }
        }
    }
}

/// Inches on a tape of sixteenths, the fraction built up.
fn inches(mm: f64) -> Markup {
    let text = on_tape(mm, TapeUnit::In);
    let (whole, fraction) = text.split_once(' ').map_or_else(
        || if text.contains('/') { ("", text.as_str()) } else { (text.as_str(), "") },
        |(whole, fraction)| (whole, fraction),
    );
    html! {
        (whole)
        @if let Some((over, under)) = fraction.split_once('/') {
            span.fraction aria-label=(fraction) { span { (over) } span { (under) } }
        }
        " in"
    }
}

/// Rake, side to side, twist.
fn lines(result: &ResultView) -> Markup {
    let row = |what: &str, of: Option<&Figure>, words: &dyn Fn(f64) -> String, band: &dyn Fn(f64) -> f64| {
        html! { tr { th scope="row" { (what) } td { (figure(of, words, band)) } } }
    };
    let higher = |mm: f64| match whole(mm.abs()).as_str() {
        "0" => "same".to_owned(),
        size => format!("{size} mm, {} higher", if mm > 0.0 { "left" } else { "right" }),
    };
    let line: Option<&Line> = result.line.as_ref();
    html! {
        section.lines {
            h2 { "Its line" }
            table.rows {
                (row("Rake", line.map(|line| &line.rake_mm), &|mm| format!("{} mm, {} lower", whole(mm.abs()), if mm >= 0.0 { "nose" } else { "tail" }), &band_mm))
                (row("Rake", line.map(|line| &line.rake_deg), &rake, &band_deg))
                (row("Front, side to side", line.map(|line| &line.front_left_minus_right_mm), &higher, &band_mm))
                (row("Rear, side to side", line.map(|line| &line.rear_left_minus_right_mm), &higher, &band_mm))
                (row("Lean", line.map(|line| &line.lean_mm), &higher, &band_mm))
                (row("Twist", line.map(|line| &line.twist_mm), &|mm| format!("{} mm", whole(mm)), &band_mm))
            }
            @if let Some(even) = &result.even { p { b { (even.sentence) } } }
        }
    }
}

fn stood(file: &CarFile, snapshot: &Snapshot, result: &ResultView) -> Markup {
    let vehicle = &file.vehicle;
    let what = vehicle
        .ref_points
        .iter()
        .find(|point| point.kind.code() == result.kind)
        .and_then(|point| point.what.as_deref());
    let kind = trueground_core::car::PointKind::ALL.into_iter().find(|kind| kind.code() == result.kind);
    let points = what.map(prose).or(kind.map(|kind| kinds(kind).to_lowercase())).unwrap_or_default();
    let tires = vehicle.tires.as_ref().map(|tires| {
        let of = |corner| shown(&tires.at(corner).designation);
        let (front, rear) = (of(Corner::FL), of(Corner::RL));
        if front == rear { front } else { format!("{front} front, {rear} rear") }
    });
    let pressures = snapshot.tire_pressure_kpa.as_ref().map(|pressures| {
        let all: Vec<f64> = Corner::ALL.iter().map(|corner| *pressures.at(*corner)).collect();
        match all[..] {
            [first, ..] if all.iter().all(|one| (one - first).abs() < 0.5) => pressure(first),
            [fl, fr, rl, rr] if (fl - fr).abs() < 0.5 && (rl - rr).abs() < 0.5 => {
                format!("{fl:.0} kPa front, {rl:.0} kPa rear")
            }
            [fl, fr, rl, rr] => format!("{fl:.0}, {fr:.0}, {rl:.0}, {rr:.0} kPa (FL FR RL RR)"),
            _ => String::new(),
        }
    });
    let readings: usize = snapshot
        .bounces
        .iter()
        .map(|bounce| bounce.readings.iter().filter(|reading| reading.struck.is_none()).count())
        .sum();
    let bounces = format!(
        "{}, {}",
        counted(snapshot.bounces.len(), "bounce", "bounces"),
        counted(readings, "reading", "readings")
    );
    let rows = [
        ("Points", Some(points)),
        ("Tires", tires),
        ("Pressures", pressures),
        ("Load", Some(prose(&result.load))),
        ("Bounces", Some(bounces)),
        ("Facing", Some(facing(snapshot).to_owned())),
        ("Tape", Some(division(&file.instrument.tape))),
        ("Air", snapshot.air_c.map(crate::corrections::air_words)),
        ("Odometer", snapshot.odometer_km.map(|km| format!("{km:.0} km"))),
    ];
    html! {
        section.stood {
            h2 { "How it stood" }
            table.rows { @for (what, words) in rows { @if let Some(words) = words.filter(|words| !words.is_empty()) { tr { th scope="row" { (what) } td { (words) } } } } }
        }
    }
}

/// Readings that do not fit, and those that were struck.
fn doubts(result: &ResultView, snapshot: &Snapshot) -> Markup {
    let all = snapshot.bounces.iter().flat_map(|bounce| &bounce.readings);
    let struck = all.filter_map(|reading| {
        let struck = reading.struck.as_ref()?;
        let text = if reading.text.is_empty() { whole(reading.value_mm) } else { reading.text.clone() };
        Some(format!("Struck: {} at {}, {}.", shown(&text), shown(&reading.point), prose(&struck.reason)))
    });
    let sentences: Vec<String> = result.not_known.iter().chain(&result.doubtful).cloned().chain(struck).collect();
    html! {
        @if !sentences.is_empty() {
            section.doubts {
                h2 { "Not known, doubtful, struck" }
                ul {
                    @for sentence in sentences.iter().take(MOST_NAMED) { li { (prose(sentence)) } }
                    @if sentences.len() > MOST_NAMED { li { "And " (sentences.len() - MOST_NAMED) " more in the app." } }
                }
            }
        }
    }
}

/// What follows from it at nominal load: what was judged, and of the rest the lowest point and the lamps.
fn follows(about: &About<'_>) -> Markup {
    let told = checks_page::of_snapshot(&about.solved.file, about.solution, &about.snapshot.id);
    let judged = |row: &CheckRow| !matches!(row.word, CheckWord::Number | CheckWord::Same | CheckWord::NotRead);
    let lowest = told.iter().filter(|row| row.check == "clearance" && row.unit == "mm").filter_map(|row| row.value);
    let lowest = lowest.fold(f64::INFINITY, f64::min);
    let named = |row: &CheckRow| {
        row.word != CheckWord::NotRead
            && (row.check == "lamps" || (row.check == "clearance" && row.value.is_some_and(|value| value <= lowest)))
    };
    let shown: Vec<CheckRow> = told
        .into_iter()
        .filter(|row| judged(row) || named(row))
        .take(MOST_FOLLOWS)
        .map(|row| CheckRow { parts: Vec::new(), ..row })
        .collect();
    html! { @if !shown.is_empty() { section { h2 { "What follows " span { "at nominal load" } } (findings::rows(&shown)) } } }
}

fn photos(pictures: &Pictures) -> Markup {
    html! {
        @if !pictures.is_empty() {
            section.photos {
                h2 { "Photos " span { "to look at, never measured from" } }
                div {
                    @for (side, picture) in pictures {
                        figure { img src=(picture) alt=(format!("{} of the car", capital(side.words()))); figcaption { (side.words()) } }
                    }
                }
            }
        }
    }
}
