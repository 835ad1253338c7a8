//! Stances in words: a small table a builder understands, then rake, lean and twist, what is not known, what to read next.

use crate::table::{Column, Table, plus_minus, whole};
use std::fmt::Write as _;
use trueground_app::corrections::corrections;
use trueground_core::capture::{CarFile, Facing, Floor, Snapshot, Survey};
use trueground_core::car::PointKind;
use trueground_core::level::Solution;
use trueground_core::stance::{Doubtful, Figure, Known, Line, NextReading, SnapshotStance, kinds_in};
use trueground_core::units::{Length, LengthUnit};
use trueground_core::wording::shown;

const UNKNOWN: &str = "can't tell";

/// How many next readings are named.
const NEXT: usize = 3;

pub(super) fn readable(file: &CarFile, solution: &Solution) -> String {
    let mut out = format!("{}\n", shown(&file.vehicle.label));
    if solution.snapshots.is_empty() {
        out.push_str("Nothing is read yet. Take a snapshot: walk round the car with the tape.\n");
        return out;
    }
    for (snapshot, stance) in file.snapshots.iter().zip(&solution.snapshots) {
        out.push('\n');
        out.push_str(&one(file, solution, snapshot, stance));
    }
    out.push_str("\n± is two standard uncertainties: 95 in 100 lie within it.\n");
    out
}

fn one(file: &CarFile, solution: &Solution, snapshot: &Snapshot, stance: &SnapshotStance) -> String {
    let mut out = heading(file, snapshot);
    if !snapshot.on_wheels() {
        out.push_str("Mock-up on rated stands, not a ride height: heights above the floor as it lies.\n\n");
    }
    if snapshot.tires_warm {
        out.push_str("Pressures were read warm. They count as read; cold ones compare better.\n\n");
    }
    let kind_of = |id: &str| file.vehicle.ref_points.iter().find(|point| point.id == id).map(|point| point.kind);
    let kinds = kinds_in(&stance.heights, kind_of);
    if kinds.is_empty() {
        out.push_str("No height was read in this snapshot.\n");
        return out;
    }
    out.push_str(&heights(file, solution, snapshot, stance, &kinds));
    for kind in &kinds {
        if let Some(line) = stance.lines.get(kind.code()) {
            let mock_up = !snapshot.on_wheels();
            let words = line_words(*kind, line, stance.lines_nominal.get(kind.code()));
            out.push_str(&if mock_up {
                words.replace("s, as loaded, on level ground:", "s, above the floor:")
            } else {
                words
            });
        }
    }
    if !snapshot.on_wheels() {
        return out;
    }
    out.push_str(&floor(stance));
    out.push_str(&unknown(file, snapshot, stance));
    for doubtful in &stance.doubtful {
        out.push_str(&doubt(doubtful));
    }
    out.push_str(&next(&stance.next_reading));
    for correction in corrections(file, snapshot) {
        let _ = writeln!(out, "{}", correction.sentence());
    }
    out
}

fn heading(file: &CarFile, snapshot: &Snapshot) -> String {
    let name = if snapshot.label.is_empty() { &snapshot.id } else { &snapshot.label };
    let floor = match floor_of(file, snapshot) {
        None => "floor not named, not levelled".to_owned(),
        Some(floor) => {
            let label = if floor.label.is_empty() { &floor.id } else { &floor.label };
            match spots_read(floor) {
                0 => format!("{}, not levelled", shown(label)),
                4 => format!("{}, levelled", shown(label)),
                spots => format!("{}, levelled at {spots} of the four spots", shown(label)),
            }
        }
    };
    let facing = match snapshot.facing {
        Facing::A => "",
        Facing::B => ", turned end for end",
    };
    format!("{}: {}, {floor}{facing}\n\n", shown(name), shown(&snapshot.date))
}

fn floor_of<'f>(file: &'f CarFile, snapshot: &Snapshot) -> Option<&'f Floor> {
    file.floors.iter().find(|floor| Some(floor.id.as_str()) == snapshot.floor.as_deref())
}

fn spots_read(floor: &Floor) -> usize {
    floor.survey.as_ref().map_or(0, Survey::spots_read)
}

/// Corner, as read, level, ±; and the inches where the tape has them.
fn heights(
    file: &CarFile,
    solution: &Solution,
    snapshot: &Snapshot,
    stance: &SnapshotStance,
    kinds: &[PointKind],
) -> String {
    let inches = file.instrument.tape.unit == "in";
    let mut head = vec![
        (Column::Words, "point"),
        (Column::Words, "corner"),
        (Column::Numbers, "as read"),
        (Column::Numbers, if snapshot.on_wheels() { "level mm" } else { "mm" }),
        (Column::Numbers, "±"),
    ];
    if inches {
        head.push((Column::Numbers, if snapshot.on_wheels() { "level in" } else { "in" }));
    }
    head.push((Column::Words, ""));
    let mut table = Table::new(&head);
    for kind in kinds {
        for point in file.vehicle.ref_points.iter().filter(|point| point.kind == *kind) {
            let Some(figure) = stance.heights.get(&point.id) else { continue };
            let read = solution
                .height_sum(&stance.id, &point.id)
                .map(|sum| sum.tape_mm)
                .or_else(|| mean(snapshot, &point.id))
                .map_or_else(String::new, whole);
            let mut cells = vec![kind.words().to_owned(), point.corner.words().to_owned(), read];
            match (figure.value, figure.u) {
                (Some(value), Some(u)) => {
                    cells.extend([whole(value), plus_minus(u)]);
                    if inches {
                        cells.push(Length::mm(value).on_a_tape(LengthUnit::In));
                    }
                    cells.push(if figure.known == Known::Assumed { "assumed" } else { "" }.to_owned());
                }
                _ => {
                    cells.extend([UNKNOWN.to_owned(), String::new()]);
                    if inches {
                        cells.push(String::new());
                    }
                    cells.push(figure.band_if.map_or_else(String::new, |band| {
                        let (half, twist) = (whole(band.half_width_mm), whole(band.floor_twist_mm));
                        format!("± {half} on a floor twisted by {twist}")
                    }));
                }
            }
            table.row(cells);
        }
    }
    table.lines() + "\n"
}

/// Mean of what was read at a point and not struck.
fn mean(snapshot: &Snapshot, point: &str) -> Option<f64> {
    let read: Vec<f64> = snapshot
        .bounces
        .iter()
        .flat_map(|bounce| &bounce.readings)
        .filter(|reading| reading.point == point && reading.struck.is_none())
        .map(|reading| reading.value_mm)
        .collect();
    (!read.is_empty()).then(|| read.iter().sum::<f64>() / read.len() as f64)
}

fn line_words(kind: PointKind, line: &Line, nominal: Option<&Line>) -> String {
    let mut out = String::new();
    let mut said = |what: &str, figure: &Figure, words: &dyn Fn(f64, f64) -> String| {
        let text = match (figure.value, figure.u) {
            (Some(value), Some(u)) => words(value, u) + if figure.known == Known::Assumed { ", assumed" } else { "" },
            _ => UNKNOWN.to_owned(),
        };
        let _ = writeln!(out, "  {what:<6} {text}");
    };
    let mm = |value: f64, u: f64| format!("{} mm ± {}", whole(value), plus_minus(u));
    said("front", &line.front_mean_mm, &mm);
    said("rear", &line.rear_mean_mm, &mm);
    said("rake", &line.rake_deg, &|deg, u| {
        let (size, band) = (tenths(deg.abs()) + "°", tenths((2.0 * u).max(0.1)));
        match way(deg, u, "nose-down", "nose-up") {
            Some(way) => format!("{size} {way} ± {band}"),
            None => format!("{size} ± {band}, {UNKNOWN} which way"),
        }
    });
    said("lean", &line.lean_mm, &|value, u| {
        let (size, band) = (whole(value.abs()) + " mm", plus_minus(u));
        match way(value, u, "left side higher", "right side higher") {
            Some(side) => format!("{size} {side} ± {band}"),
            None => format!("{size} ± {band}, {UNKNOWN} which side"),
        }
    });
    said("twist", &line.twist_mm, &mm);
    if let Some(nominal) = nominal
        && [(&nominal.front_mean_mm, &line.front_mean_mm), (&nominal.rear_mean_mm, &line.rear_mean_mm)]
            .iter()
            .any(differ)
    {
        let mean = |figure: &Figure| figure.value.map_or_else(|| UNKNOWN.to_owned(), whole);
        let (front, rear) = (mean(&nominal.front_mean_mm), mean(&nominal.rear_mean_mm));
        let _ = writeln!(out, "  At nominal load and pressures: front {front} mm, rear {rear} mm.");
    }
    let name = kind.words();
    format!("{}{}s, as loaded, on level ground:\n{out}\n", name[..1].to_uppercase(), &name[1..])
}

/// Whether two figures print as different whole mm.
fn differ((one, other): &(&Figure, &Figure)) -> bool {
    matches!((one.value, other.value), (Some(one), Some(other)) if whole(one) != whole(other))
}

/// The word for the direction of a signed value, where its sign is outside the ±.
fn way<'w>(value: f64, u: f64, plus: &'w str, minus: &'w str) -> Option<&'w str> {
    (value.abs() > 2.0 * u).then_some(if value > 0.0 { plus } else { minus })
}

fn tenths(value: f64) -> String {
    format!("{value:.1}")
}

fn floor(stance: &SnapshotStance) -> String {
    let floor = &stance.floor;
    let slope = |figure: &Figure, plus: &str, minus: &str| match (figure.value, figure.u) {
        (Some(deg), _) if deg.abs() < 0.05 => "level".to_owned(),
        (Some(deg), Some(u)) => match way(deg, u, plus, minus) {
            Some(way) => format!("{}° {way}", tenths(deg.abs())),
            None => format!("{}° ± {}, {UNKNOWN} which way", tenths(deg.abs()), tenths((2.0 * u).max(0.1))),
        },
        _ => UNKNOWN.to_owned(),
    };
    let twist = match (floor.twist_mm.value, floor.twist_mm.u) {
        (Some(value), Some(u)) => format!("{} mm ± {}", whole(value), plus_minus(u)),
        _ => UNKNOWN.to_owned(),
    };
    format!(
        "The floor here\n  twist  {twist}\n  along  {}\n  across {} at the front, {} at the rear\n\n",
        slope(&floor.long_slope_deg, "higher at the rear", "higher at the front"),
        slope(&floor.cross_slope_front_deg, "higher on the left", "higher on the right"),
        slope(&floor.cross_slope_rear_deg, "higher on the left", "higher on the right"),
    )
}

/// What these readings cannot tell, and why.
fn unknown(file: &CarFile, snapshot: &Snapshot, stance: &SnapshotStance) -> String {
    let mut gaps = Vec::new();
    if stance.heights.values().any(|figure| figure.known == Known::Undetermined) {
        gaps.push("the corners");
    }
    let lines = || stance.lines.values();
    let sides =
        |line: &Line| [line.front_left_minus_right_mm, line.rear_left_minus_right_mm].map(|figure| figure.known);
    if lines().any(|line| sides(line).contains(&Known::Undetermined)) {
        gaps.push("left from right");
    }
    if lines().any(|line| line.twist_mm.known == Known::Undetermined) {
        gaps.push("twist");
    }
    if lines().any(|line| line.lean_mm.known == Known::Undetermined) {
        gaps.push("lean");
    }
    if gaps.is_empty() {
        return String::new();
    }
    let why = if floor_of(file, snapshot).is_some_and(|floor| spots_read(floor) > 0) {
        "Too few of the four spots or points were read."
    } else {
        "The floor is not levelled: a twist of the floor and a twist of the car look the same to the tape."
    };
    format!("Can't tell here: {}. {why}\n", gaps.join(", "))
}

fn doubt(doubtful: &Doubtful) -> String {
    if doubtful.point == "instrument" || doubtful.point.starts_with("instrument:") {
        let name = doubtful.point.strip_prefix("instrument:").unwrap_or("the tape without a name");
        let (known, found) = (tenths(doubtful.observed), tenths(doubtful.expected));
        return format!("Doubtful: {} has a zero of {known}, the readings say {found}. Check it.\n", shown(name));
    }
    let place = match &doubtful.bounce {
        Some(bounce) => format!("{}, round {} of {}", shown(&doubtful.point), doubtful.reading, shown(bounce)),
        None => format!("{}, pass {}", shown(&doubtful.point), doubtful.reading),
    };
    let used = if doubtful.used { "It was kept" } else { "It was left out of the result" };
    let (read, others) = (tenths(doubtful.observed), tenths(doubtful.expected));
    let (read, others) = if doubtful.observed.abs() > 60.0 {
        (whole(doubtful.observed), whole(doubtful.expected))
    } else {
        (read, others)
    };
    format!("Doubtful: {place} reads {read}, the others say {others}. {used}. Read it again.\n")
}

fn next(readings: &[NextReading]) -> String {
    let mut out = String::new();
    for reading in readings {
        let band = |u: f64| {
            if reading.target.ends_with("_deg") { format!("{}°", tenths((2.0 * u).max(0.1))) } else { plus_minus(u) }
        };
        let brings = match (reading.u_now.map(band), reading.u_then.map(band)) {
            (Some(now), Some(then)) if now != then => format!("± {now} becomes ± {then}"),
            (None, Some(then)) => format!("{UNKNOWN} becomes ± {then}"),
            _ => continue,
        };
        let start = if out.is_empty() { "Next:" } else { "  or:" };
        let _ = writeln!(out, "{start} {}. {}: {brings}.", job(&reading.what), target(&reading.target));
        if out.lines().count() == NEXT {
            break;
        }
    }
    if out.is_empty() {
        out.push_str("Next: nothing. No further reading narrows this by a whole millimetre.\n");
    }
    out
}

/// A reading that could be taken, as a thing to do.
fn job(what: &str) -> String {
    match what {
        "survey_pass" => "level the four spots once more".to_owned(),
        "survey_spots" => "level the four spots".to_owned(),
        "survey_under" => "level the floor under the marks too".to_owned(),
        "another_bounce" => "roll and bounce the car, and read the points again".to_owned(),
        "level_rails" => "lay the angle gauge on both rails, both ways round".to_owned(),
        "turn_car" => "turn the car end for end and read the points again".to_owned(),
        "plane_on_car" => "read the points of the car from a level line".to_owned(),
        other => match other.strip_prefix("repeat:") {
            Some(point) => format!("read {} once more", shown(point)),
            None => shown(other),
        },
    }
}

/// `heights.lip.FL` as `lip.FL`, `lines.frame_rail.rake_deg` as `frame rail rake`.
fn target(path: &str) -> String {
    let path = path.trim_start_matches("heights_nominal.").trim_start_matches("heights.");
    let path = path.trim_start_matches("lines_nominal.").trim_start_matches("lines.");
    let plain = path.trim_end_matches("_mm").trim_end_matches("_deg");
    if path == plain { shown(plain) } else { shown(&plain.replace(['_', '.'], " ")) }
}
