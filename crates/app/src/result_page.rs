//! A snapshot's level result: four corners, the sentence that says it, what is not known and why, and what to read next.

use crate::corrections::{CorrectionWords, corrections};
use crate::floor_page::{block, edge_words, line_of, with_state};
use crate::headline::headline;
use crate::load::moved;
use crate::side::{of_stance, shown_kinds};
use crate::snapshot_row::{MOCK_UP, load_words};
use crate::solved::SolvedCar;
use crate::verdicts::even;
use crate::wire::{CornerResult, KindChoice, ResultView, TapeUnit};
use crate::words::{counted, kinds, on_tape_with_unit, whole};
use crate::{next_words, twist_gauge, words};
use trueground_core::capture::{ConditionPart, Floor, OwnedInstrument, Snapshot};
use trueground_core::car::{PointKind, Vehicle};
use trueground_core::corner::{Corner, Corners};
use trueground_core::level::Solution;
use trueground_core::stance::{Doubtful, Figure, Known, Line, SnapshotStance};

/// What the page is about.
#[derive(Debug)]
pub(crate) struct About<'a> {
    pub(crate) solved: &'a SolvedCar,
    pub(crate) solution: &'a Solution,
    pub(crate) stance: &'a SnapshotStance,
    pub(crate) snapshot: &'a Snapshot,
    pub(crate) snapshot_id: String,
    pub(crate) floor_id: Option<String>,
    pub(crate) finished: bool,
    pub(crate) display: TapeUnit,
}

/// The page, of the kind asked for; where it is empty or was not read, the app chooses.
pub(crate) fn page(about: &About<'_>, asked: &str) -> ResultView {
    let vehicle = &about.solved.file.vehicle;
    let kinds_read = kinds_read(vehicle, about.stance);
    let kind = kinds_read.iter().copied().find(|kind| kind.code() == asked).or(kinds_read.first().copied());
    let kind = kind.unwrap_or(PointKind::FrameRail);
    let line = about.stance.lines.get(kind.code());
    let corners = Corners::from_fn(|corner| corner_result(about, kind, corner));
    let floor = floor_of(about);
    let nominal =
        about.stance.lines_nominal.get(kind.code()).filter(|nominal| line.is_some_and(|l| differ(l, nominal)));
    let on_wheels = about.snapshot.on_wheels();
    let even = line.filter(|_| on_wheels).map(even);
    let (headline, detail) = if on_wheels {
        headline(line, &corners, even.as_ref(), floor)
    } else {
        let detail = "Heights above the floor as it lies under each mark. They are compared with nothing else.";
        (format!("{MOCK_UP}."), detail.to_owned())
    };
    ResultView {
        snapshot: about.snapshot_id.clone(),
        car: about.solved.car.to_string(),
        car_label: vehicle.label.clone(),
        date: about.snapshot.date.clone(),
        floor: with_state(floor),
        floor_id: about.floor_id.clone(),
        load: load_words(vehicle, about.snapshot),
        mock_up: !on_wheels,
        condition: if on_wheels { condition(about, line, nominal) } else { Vec::new() },
        facing: about.snapshot.facing,
        finished: about.finished,
        headline,
        detail,
        kinds: kinds_read
            .iter()
            .map(|kind| KindChoice { kind: kind.code().to_owned(), words: kinds(*kind).to_owned() })
            .collect(),
        kind: kind.code().to_owned(),
        kind_words: kinds(kind).to_owned(),
        line: line.cloned(),
        line_nominal: nominal.cloned(),
        side: of_stance(vehicle, about.stance, kind),
        block: floor.and_then(|floor| block(floor, vehicle)),
        even,
        twists: twist_gauge::offers(vehicle, about.snapshot, about.stance, floor),
        twist_used: twist_gauge::used(vehicle, about.snapshot, about.stance, floor),
        missing: crate::missing::sentence(kind, line, &corners),
        not_known: not_known(about, kind, line, &corners, floor),
        doubtful: doubts(about),
        corrections: corrections(&about.solved.file, about.snapshot).iter().map(CorrectionWords::sentence).collect(),
        next: if on_wheels { next(about, kind) } else { Vec::new() },
        corners,
        stance: about.stance.clone(),
    }
}

/// What load and pressures do to the numbers.
fn condition(about: &About<'_>, line: Option<&Line>, nominal: Option<&Line>) -> Vec<String> {
    let (snapshot, vehicle) = (about.snapshot, &about.solved.file.vehicle);
    let mut sentences = Vec::new();
    if !snapshot.says(ConditionPart::Load) {
        sentences.push("What was aboard is not said: the heights count as at the usual load.".to_owned());
    }
    if let Some((line, nominal)) = line.zip(nominal) {
        let drop = |loaded: &Figure, nominal: &Figure| Some(nominal.value? - loaded.value?);
        let parts: Vec<String> = [
            (drop(&line.front_mean_mm, &nominal.front_mean_mm), "front"),
            (drop(&line.rear_mean_mm, &nominal.rear_mean_mm), "rear"),
        ]
        .into_iter()
        .filter_map(|(drop, end)| Some(moved(drop?, end)))
        .collect();
        let usual = vehicle.nominal_load.as_deref().unwrap_or("the usual load");
        if !parts.is_empty() {
            let (parts, load) = (parts.join(", "), load_words(vehicle, snapshot));
            sentences.push(format!("{}: {parts} than with {usual} and the usual pressures.", words::capital(&load)));
        }
    }
    if snapshot.tires_warm {
        sentences.push("Pressures were read warm and count as read. Cold ones compare better.".to_owned());
    }
    if snapshot.confirmed.is_some() && snapshot.tire_pressure_kpa.is_none() && vehicle.tires.is_some() {
        sentences.push("Pressures were not read: the heights count as at the usual ones.".to_owned());
    }
    sentences
}

fn kinds_read(vehicle: &Vehicle, stance: &SnapshotStance) -> Vec<PointKind> {
    let mut read = shown_kinds(stance);
    let has = |kind: PointKind| {
        vehicle.ref_points.iter().any(|point| point.kind == kind && stance.heights.contains_key(&point.id))
    };
    let partly: Vec<_> = PointKind::ALL.into_iter().filter(|kind| !read.contains(kind) && has(*kind)).collect();
    read.extend(partly);
    read
}

/// The mark that was read there; where none was, the one that would be.
fn point_at<'v>(vehicle: &'v Vehicle, stance: &SnapshotStance, kind: PointKind, corner: Corner) -> Option<&'v str> {
    let read = stance.marks(vehicle, kind)[corner.index()];
    read.or_else(|| vehicle.mark_at(kind, corner, |_| true)).map(|point| point.id.as_str())
}

fn corner_result(about: &About<'_>, kind: PointKind, corner: Corner) -> CornerResult {
    let point = point_at(&about.solved.file.vehicle, about.stance, kind, corner);
    let tape_mm = point.and_then(|point| by_tape(about.snapshot, point));
    CornerResult {
        level_mm: point.and_then(|point| about.stance.heights.get(point)).copied(),
        nominal_mm: point.and_then(|point| about.stance.heights_nominal.get(point)).copied(),
        tape_mm,
        tape_printed: tape_mm.map(|mm| on_tape_with_unit(mm, about.display)),
        point: point.map(str::to_owned),
    }
}

/// Mean of what the tape said at a point.
pub(crate) fn by_tape(snapshot: &Snapshot, point: &str) -> Option<f64> {
    let readings = snapshot.bounces.iter().flat_map(|bounce| &bounce.readings);
    let read: Vec<f64> = readings
        .filter(|reading| reading.point == point && reading.struck.is_none())
        .map(|reading| reading.value_mm)
        .collect();
    (!read.is_empty()).then(|| read.iter().sum::<f64>() / read.len() as f64)
}

fn floor_of<'a>(about: &About<'a>) -> Option<&'a Floor> {
    let name = about.snapshot.floor.as_ref()?;
    about.solved.file.floors.iter().find(|floor| floor.id == *name)
}

/// True where the two lines are not printed alike.
fn differ(line: &Line, nominal: &Line) -> bool {
    let pairs = [(&line.front_mean_mm, &nominal.front_mean_mm), (&line.rear_mean_mm, &nominal.rear_mean_mm)];
    pairs.into_iter().any(|(a, b)| match (a.value, b.value) {
        (Some(a), Some(b)) => (a - b).abs() > 0.05,
        _ => false,
    })
}

fn not_known(
    about: &About<'_>,
    kind: PointKind,
    line: Option<&Line>,
    corners: &Corners<CornerResult>,
    floor: Option<&Floor>,
) -> Vec<String> {
    let mut sentences = Vec::new();
    let why = match floor {
        Some(floor) if floor.levelled() => "these readings do not settle it",
        _ => "floor not levelled",
    };
    let missing = crate::missing::sentence(kind, line, corners);
    let complete = missing.is_empty();
    sentences.extend((!complete).then_some(missing));
    let Some(line) = line.filter(|_| about.snapshot.on_wheels()) else { return sentences };
    let unknown = |figure: &Figure| figure.known == Known::Undetermined;
    if corners.iter().any(|(_, result)| result.level_mm.as_ref().is_some_and(unknown)) {
        let band =
            corners.iter().filter_map(|(_, result)| Some(result.level_mm?.band_if?.half_width_mm)).fold(0.0, f64::max);
        let band = if band > 0.0 {
            format!(" A usual twist of 20 mm would move a corner by up to {} mm.", whole(band))
        } else {
            String::new()
        };
        sentences.push(format!("Can\u{2019}t tell left from right here: {why}.{band}"));
    }
    if complete && unknown(&line.twist_mm) {
        sentences.push(format!("Can\u{2019}t tell the twist of the car: {why}."));
    }
    if complete && unknown(&line.rake_deg) {
        sentences.push(format!("Can\u{2019}t tell the rake: {why}."));
    }
    let assumed = |figure: &Figure| figure.known == Known::Assumed;
    if corners.iter().any(|(_, result)| result.level_mm.as_ref().is_some_and(assumed)) {
        sentences.push("The corners lean on something assumed, not read: see where the ± comes from.".to_owned());
    }
    if about.stance.fits_stated_uncertainty == Some(false) {
        sentences.push("The readings fit each other worse than a tape does. Look for a mark that moved.".to_owned());
    }
    sentences
}

/// A sentence for each reading in doubt, and one for all instruments together.
fn doubts(about: &About<'_>) -> Vec<String> {
    let instrument = |doubt: &&Doubtful| doubt.point.starts_with("instrument");
    let first = about.stance.doubtful.iter().find(instrument).map(|doubt| zero_in_doubt(about, doubt));
    let others = about.stance.doubtful.iter().filter(|doubt| !instrument(doubt));
    first.into_iter().chain(others.map(|doubt| doubtful(about, doubt))).collect()
}

fn doubtful(about: &About<'_>, doubt: &Doubtful) -> String {
    let vehicle = &about.solved.file.vehicle;
    let edge = line_of(&doubt.point.replace(" to ", "/"));
    let gauge = doubt.point.starts_with("frame_");
    let off = (doubt.observed - doubt.expected).abs();
    let size = if gauge || edge.is_some() { words::degrees(off) } else { format!("{} mm", whole(off)) };
    let more = if doubt.observed > doubt.expected { "more" } else { "less" };
    let place = match doubt.point.strip_prefix('S') {
        _ if edge.is_some() => format!("straightedge {}", edge.map_or("", |line| edge_words(line).0)),
        Some(spot) if spot.len() == 1 => format!("spot {spot}"),
        _ if gauge => format!("angle gauge, {}", doubt.point.replace('_', " ")),
        _ => next_words::point(&doubt.point, vehicle),
    };
    let which = match &doubt.bounce {
        _ if edge.is_some() => String::new(),
        Some(bounce) => {
            let number = about.snapshot.bounces.iter().position(|known| known.bounce_id == *bounce);
            let bounce = number.map_or_else(|| bounce.clone(), |number| (number + 1).to_string());
            format!(", bounce {bounce}, round {}", doubt.reading)
        }
        None => format!(", pass {}", doubt.reading),
    };
    let fate =
        if doubt.used { "It still counts. Read it once more." } else { "It was left out, and stays in the book." };
    format!("{}{which}: {size} {more} than the others say. {fate}", words::capital(&place))
}

/// A tape or gauge whose zero the others contradict. Where two contradict each other, one sentence names both.
fn zero_in_doubt(about: &About<'_>, doubt: &Doubtful) -> String {
    let named = |doubt: &Doubtful| {
        let id = doubt.point.strip_prefix("instrument:");
        about.solved.file.instruments.iter().find(|owned| Some(owned.id()) == id)
    };
    let name = |doubt: &Doubtful| named(doubt).map_or("the tape without a name", OwnedInstrument::label).to_owned();
    let off = doubt.expected - doubt.observed;
    let gauge = matches!(named(doubt), Some(OwnedInstrument::AngleGauge(_)));
    let size = |off: f64| if gauge { words::degrees(off.abs()) } else { format!("{} mm", whole(off.abs())) };
    let check = if gauge {
        "Turn each end for end on one place"
    } else {
        "Hold each against a steel rule; one may have been read from another mark"
    };
    let also =
        about.stance.doubtful.iter().find(|other| other.point.starts_with("instrument") && other.point != doubt.point);
    let said = match also {
        Some(other) => {
            let apart = size(off - (other.expected - other.observed));
            format!("{} and {} differ by about {apart}. No height relies on either", name(doubt), name(other))
        }
        None => {
            let more = if off > 0.0 { "more" } else { "less" };
            format!("{} says about {} {more} than the others. No height relies on its zero", name(doubt), size(off))
        }
    };
    format!("{}. {check}.", words::capital(&said))
}

/// What would help the least sure corner of this kind most.
fn next(about: &About<'_>, kind: PointKind) -> Vec<crate::wire::NextView> {
    let vehicle = &about.solved.file.vehicle;
    let least_sure = Corner::ALL
        .into_iter()
        .filter_map(|corner| {
            let point = point_at(vehicle, about.stance, kind, corner)?;
            let figure = about.stance.heights.get(point)?;
            Some((figure.u.unwrap_or(f64::INFINITY), point))
        })
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let figure = least_sure.map(|(_, point)| format!("heights.{point}"));
    let next = figure.and_then(|figure| about.solution.next_readings(&about.stance.id, &figure));
    next.unwrap_or_else(|| about.stance.next_reading.clone())
        .iter()
        .map(|reading| next_words::view(reading, vehicle))
        .collect()
}

/// "six readings", for the why sheet.
pub(crate) fn readings(count: usize) -> String {
    counted(count, "reading", "readings")
}
