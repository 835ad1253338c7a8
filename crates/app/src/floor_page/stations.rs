//! What can be read on a floor now: the four spots and under the points from a level line, or the lines of a straightedge.

use super::{is_edge, levelling};
use crate::wire::{
    EdgeLine, Levelling, NextSpot, PassView, SpotTakenBack, SpotView, StationGroup, StationView, TapeUnit,
};
use crate::words::on_tape;
use trueground_core::capture::{Floor, Survey};
use trueground_core::car::Vehicle;
use trueground_core::corner::Corner;
use trueground_store::{FloorRecord, NewReading, Reading, Standing};

const LINES: [EdgeLine; 4] = [EdgeLine::FrontAcross, EdgeLine::RearAcross, EdgeLine::LeftAlong, EdgeLine::RightAlong];

/// The two spots under a line, from the end that is higher where the angle is positive.
pub(crate) const fn ends(line: EdgeLine) -> &'static str {
    match line {
        EdgeLine::FrontAcross => "S1/S2",
        EdgeLine::RearAcross => "S3/S4",
        EdgeLine::LeftAlong => "S1/S3",
        EdgeLine::RightAlong => "S2/S4",
    }
}

/// The line over these two spots.
pub(crate) fn line_of(place: &str) -> Option<EdgeLine> {
    LINES.into_iter().find(|line| ends(*line) == place)
}

/// Where a line lies, which end is higher at a positive angle, and which at a negative one.
pub(crate) const fn edge_words(line: EdgeLine) -> (&'static str, &'static str, &'static str) {
    match line {
        EdgeLine::FrontAcross => ("across the front spots", "left end higher", "right end higher"),
        EdgeLine::RearAcross => ("across the rear spots", "left end higher", "right end higher"),
        EdgeLine::LeftAlong => ("along the left side", "front end higher", "rear end higher"),
        EdgeLine::RightAlong => ("along the right side", "front end higher", "rear end higher"),
    }
}

/// How it is being levelled now, in words.
pub(super) fn method(survey: &Survey) -> &str {
    if survey.extra.get("now_with").is_some_and(|with| with == "straightedge") {
        return "straightedge";
    }
    survey.passes.last().and_then(|pass| pass.method.as_deref()).unwrap_or(&survey.method)
}

/// "under the front left fender lip"
pub(super) fn under_words(vehicle: &Vehicle, id: &str) -> String {
    match vehicle.ref_points.iter().find(|point| point.id == id) {
        Some(point) => format!("under the {} {}", point.corner.words(), point.kind.words()),
        None => format!("under {id}"),
    }
}

/// As it is shown: a length on the rule, or an angle with its sense in words.
pub(super) fn printed(taken: &NewReading, tape: TapeUnit) -> String {
    let Some(line) = line_of(&taken.place) else { return on_tape(taken.value, tape) };
    let (_, up, down) = edge_words(line);
    let size = format!("{:.2}", taken.value.abs());
    let size = size.trim_end_matches('0').trim_end_matches('.');
    match taken.value {
        value if value > 0.0 => format!("{size}°, {up}"),
        value if value < 0.0 => format!("{size}°, {down}"),
        _ => "0°, level".to_owned(),
    }
}

/// The pass that is being read: an earlier one comes back while nothing of the later ones counts.
fn pass_now(record: &FloorRecord, passes: &[PassView]) -> u32 {
    let mut now = passes.len().saturating_sub(1);
    let empty = |at: usize| passes[at].spots.iter().all(|spot| spot.text.is_none());
    let whole =
        |at: usize| passes[at].spots.iter().all(|spot| answered(record, passes[at].pass_no, &spot.point, false));
    while now > 0 && empty(now) && !whole(now - 1) {
        now -= 1;
    }
    passes.get(now).map_or(1, |pass| pass.pass_no)
}

/// Read, or struck by the person and not taken back: it is not asked for again.
fn answered(record: &FloorRecord, pass_no: u32, place: &str, reversed: bool) -> bool {
    let here = |reading: &&Reading| {
        let taken = &reading.taken;
        taken.pass_no == pass_no && taken.place == place && taken.reversed == reversed
    };
    record.readings.iter().rfind(here).is_some_and(|reading| !matches!(reading.standing, Standing::TakenBack { .. }))
}

/// What can be read now.
pub(super) fn groups(record: &FloorRecord, floor: &Floor, vehicle: &Vehicle, tape: TapeUnit) -> Vec<StationGroup> {
    match levelling(floor) {
        Levelling::NotLevelled | Levelling::FlatTo => Vec::new(),
        Levelling::Straightedge => {
            let set = record.document["survey"]["set"].as_u64().and_then(|set| u32::try_from(set).ok()).unwrap_or(1);
            let lines = |lines: &[EdgeLine]| {
                let both = lines.iter().flat_map(|line| [(*line, false), (*line, true)]);
                both.map(|(line, reversed)| edge(record, set, line, reversed, tape)).collect()
            };
            vec![
                group("across", "across both axles", "Across both axles alone tells the twist.", lines(&LINES[..2])),
                group(
                    "along",
                    "along the sides",
                    "Along the sides tells front from rear too, so that plates can make it level.",
                    lines(&LINES[2..]),
                ),
            ]
        }
        way @ (Levelling::WaterLevel | Levelling::LaserLine) => {
            let pass_no = pass_now(record, &passes(record, tape));
            let line = if way == Levelling::LaserLine { "laser line" } else { "water line" };
            let spots = Corner::ALL.map(|corner| {
                let number = corner.index() + 1;
                let words = format!("spot {number}, {}", corner.words());
                staff(
                    record,
                    pass_no,
                    format!("S{number}"),
                    words,
                    format!("From the chalk cross up to the {line}."),
                    tape,
                )
            });
            let under = vehicle.ref_points.iter().map(|point| {
                let how = format!("Straight below the mark up to the {line}.");
                staff(record, pass_no, format!("under:{}", point.id), under_words(vehicle, &point.id), how, tape)
            });
            let gain = "Takes a bump or a crown of the floor out of the heights there. Any may be skipped.";
            let under = group("under", "under the marked points", gain, under.collect());
            let spots = group("spots", "the four spots", "The four spots tell the twist.", spots.to_vec());
            if under.stations.is_empty() { vec![spots] } else { vec![spots, under] }
        }
    }
}

fn group(name: &str, words: &str, gain: &str, stations: Vec<StationView>) -> StationGroup {
    StationGroup { group: name.to_owned(), words: words.to_owned(), gain: gain.to_owned(), stations }
}

fn staff(record: &FloorRecord, pass_no: u32, point: String, words: String, how: String, tape: TapeUnit) -> StationView {
    station(record, StationView { line: None, reversed: false, ..blank(point, pass_no, words, how) }, tape)
}

fn edge(record: &FloorRecord, set: u32, line: EdgeLine, reversed: bool, tape: TapeUnit) -> StationView {
    let point = ends(line);
    let spots = point.replace('S', "").replace('/', " and ");
    let (how, way) = if reversed {
        ("Turn only the gauge, end for end.".to_owned(), "gauge turned")
    } else {
        (format!("Straightedge on spots {spots}, the gauge on top."), "gauge straight")
    };
    let words = format!("{}, {way}", edge_words(line).0);
    let blank = blank(point.to_owned(), set, words, how);
    station(record, StationView { line: Some(line), reversed, ..blank }, tape)
}

fn blank(point: String, pass_no: u32, words: String, how: String) -> StationView {
    StationView { point, pass_no, line: None, reversed: false, words, how, text: None, value: None, printed: None }
}

/// Filled in with what was read there.
fn station(record: &FloorRecord, blank: StationView, tape: TapeUnit) -> StationView {
    let here = |reading: &&Reading| {
        let taken = &reading.taken;
        reading.counts()
            && is_edge(reading) == blank.line.is_some()
            && taken.pass_no == blank.pass_no
            && taken.place == blank.point
            && taken.reversed == blank.reversed
    };
    let taken = record.readings.iter().rfind(here).map(|reading| &reading.taken);
    StationView {
        text: taken.map(|taken| taken.text.clone()),
        value: taken.map(|taken| taken.value),
        printed: taken.map(|taken| printed(taken, tape)),
        ..blank
    }
}

/// The passes with their four spots.
pub(super) fn passes(record: &FloorRecord, tape: TapeUnit) -> Vec<PassView> {
    let described = record.document["survey"]["passes"].as_array();
    let mut numbers: Vec<u32> = described
        .into_iter()
        .flatten()
        .filter_map(|pass| u32::try_from(pass["pass_no"].as_u64()?).ok())
        .chain(record.readings.iter().filter(|reading| !is_edge(reading)).map(|reading| reading.taken.pass_no))
        .collect();
    numbers.sort_unstable();
    numbers.dedup();
    let spot = |pass_no: u32, corner: Corner| {
        let point = format!("S{}", corner.index() + 1);
        let here =
            |reading: &&Reading| reading.counts() && reading.taken.pass_no == pass_no && reading.taken.place == point;
        let taken = record.readings.iter().rfind(here).map(|reading| &reading.taken);
        SpotView {
            corner,
            text: taken.map(|taken| taken.text.clone()),
            value_mm: taken.map(|taken| taken.value),
            printed: taken.map(|taken| on_tape(taken.value, tape)),
            point,
        }
    };
    let pass = |pass_no| PassView { pass_no, spots: Corner::ALL.map(|corner| spot(pass_no, corner)).to_vec() };
    numbers.into_iter().map(pass).collect()
}

/// The first of the four spots, or of the lines across, that was neither read nor struck.
pub(super) fn next(record: &FloorRecord, groups: &[StationGroup]) -> Option<NextSpot> {
    let first = groups.first()?;
    let open = |station: &&StationView| !answered(record, station.pass_no, &station.point, station.reversed);
    let mut left = first.stations.iter().filter(open);
    let station = left.next()?;
    let then = match (left.next(), station.line) {
        (Some(later), None) => format!("next: {}", later.words.split(',').next().unwrap_or_default()),
        (Some(later), Some(_)) => format!("next: {}", later.words),
        (None, None) => "last spot of this pass".to_owned(),
        (None, Some(_)) => "last reading across".to_owned(),
    };
    Some(NextSpot { pass_no: station.pass_no, point: station.point.clone(), reversed: station.reversed, then })
}

/// The reading that putting back would bring again.
pub(super) fn taken_back(reading: &Reading, tape: TapeUnit) -> SpotTakenBack {
    let NewReading { pass_no, place, .. } = &reading.taken;
    let shown = printed(&reading.taken, tape);
    let words = match line_of(place) {
        Some(line) => format!("{}, {shown}", edge_words(line).0),
        None => match place.strip_prefix("under:") {
            Some(point) => format!("under {point}, {shown}"),
            None => format!("spot {} of pass {pass_no}, {shown}", place.trim_start_matches('S')),
        },
    };
    SpotTakenBack { pass_no: *pass_no, point: place.clone(), words }
}
