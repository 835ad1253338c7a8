//! Grounds: the list, and one of them with its stations and the next.

use crate::Garage;
use crate::floor_page::typed;
use crate::wire::{GroundForm, GroundRow, GroundStation, GroundView, GroundWay, GroundsView, Problem, TapeUnit};
use crate::words::{as_read, capital, counted, day, degrees, on_tape, on_tape_with_unit, whole};
use trueground_core::checks::ramp::{HumpShape, Shape};
use trueground_core::ground::{GroundKind, OwnGround, Station, StringLine, check};
use trueground_core::wording::shown;
use trueground_store::GroundRecord;

/// Between stations where nothing says otherwise, mm [common practice, no source].
const USUAL_STEP_MM: f64 = 400.0;
/// Stations that tell a driveway.
const ENOUGH: usize = 10;
/// A string that hangs through by more is better pulled tighter, mm.
const MOST_SAG_MM: f64 = 4.0;

/// The list.
///
/// # Errors
/// The garage cannot be read.
pub(crate) fn list(garage: &Garage) -> Result<GroundsView, Problem> {
    let tape = garage.settings()?.tape;
    let all: Vec<OwnGround> = own(garage)?;
    let rows = |away: bool| all.iter().filter(|ground| ground.put_away == away).map(row).collect();
    Ok(GroundsView { rows: rows(false), put_away: rows(true), blank: blank(tape) })
}

/// Every ground of the garage.
///
/// # Errors
/// The garage cannot be read.
pub(crate) fn own(garage: &Garage) -> Result<Vec<OwnGround>, Problem> {
    garage.store.grounds()?.iter().map(|record| typed(record.file())).collect()
}

/// "11° ramp", "home driveway"
pub(crate) fn words(ground: &OwnGround) -> String {
    let words = ground.words();
    let words = words.strip_prefix("the ").unwrap_or(&words);
    shown(words)
}

fn row(ground: &OwnGround) -> GroundRow {
    let dated = ground.date.as_deref().map(|date| format!(", {}", day(date))).unwrap_or_default();
    let what = match (&ground.string, &ground.shape) {
        (Some(string), _) => format!("{}{dated}", state(string)),
        (None, Some(shape)) => format!("{}{dated}", shape_words(shape)),
        (None, None) => "nothing measured yet".to_owned(),
    };
    GroundRow {
        ground: ground.id.clone(),
        label: capital(&words(ground)),
        what: capital(&what),
        measured: ground.string.is_some(),
        ready: check(ground).is_ok(),
        profile: profile(ground),
    }
}

fn state(string: &StringLine) -> String {
    match string.counting().count() {
        0 => "no station read yet".to_owned(),
        count => format!("{} over {} mm", counted(count, "station", "stations"), whole(string.length_mm())),
    }
}

/// "11.0° up, 600 mm high"
fn shape_words(shape: &Shape) -> String {
    match shape {
        Shape::Ramp { angle_deg, rise_mm } => format!("{} up, {} mm high", degrees(*angle_deg), whole(*rise_mm)),
        Shape::Crest { angle_deg } => format!("{} up, then level", degrees(*angle_deg)),
        Shape::Hump { length_mm, height_mm, .. } => {
            format!("{} mm long, {} mm high", whole(*length_mm), whole(*height_mm))
        }
    }
}

/// With a little of what lies before and behind.
fn profile(ground: &OwnGround) -> Vec<[f64; 2]> {
    if check(ground).is_err() {
        return Vec::new();
    }
    let Some(profile) = ground.profile(600.0) else { return Vec::new() };
    let [from, to] = [profile.known[0] - 600.0, profile.known[1] + 600.0];
    profile.ground.corners().filter(|[s, _]| *s >= from - 1e-6 && *s <= to + 1e-6).collect()
}

/// An empty form.
pub(crate) fn blank(tape: TapeUnit) -> GroundForm {
    GroundForm {
        ground: None,
        label: String::new(),
        kind: GroundKind::Driveway,
        way: GroundWay::String,
        tape,
        slope: String::new(),
        sag: String::new(),
        angle: String::new(),
        length: String::new(),
        rise: String::new(),
        flat: String::new(),
        hump: HumpShape::Circular,
    }
}

/// The form as it was typed, or one that would make the same ground.
fn form(own: &OwnGround, tape: TapeUnit) -> GroundForm {
    let typed = own.extra.get("form").cloned().and_then(|form| serde_json::from_value::<GroundForm>(form).ok());
    if let Some(typed) = typed {
        return GroundForm { ground: Some(own.id.clone()), ..typed };
    }
    let plain = |value: f64| format!("{}", (value * 1e6).round() / 1e6);
    let mm = |value: f64| format!("{} mm", plain(value));
    let mut form = GroundForm {
        ground: Some(own.id.clone()),
        label: own.label.clone(),
        kind: own.kind,
        way: if own.string.is_some() { GroundWay::String } else { GroundWay::Measures },
        ..blank(tape)
    };
    if let Some(string) = &own.string {
        form.slope = string.slope_deg.map(plain).unwrap_or_default();
        form.sag = string.sag_mm.map(mm).unwrap_or_default();
    }
    match own.shape {
        Some(Shape::Ramp { angle_deg, rise_mm }) => (form.angle, form.rise) = (plain(angle_deg), mm(rise_mm)),
        Some(Shape::Crest { angle_deg }) => form.angle = plain(angle_deg),
        Some(Shape::Hump { length_mm, height_mm, flat_mm, shape }) => {
            (form.length, form.rise, form.flat, form.hump) = (mm(length_mm), mm(height_mm), mm(flat_mm), shape);
        }
        None => {}
    }
    form
}

/// One ground.
///
/// # Errors
/// No such ground, or it cannot be read.
pub(crate) fn page(garage: &Garage, name: &str) -> Result<GroundView, Problem> {
    let record = garage.store.ground(name)?;
    let tape = garage.settings()?.tape;
    let own: OwnGround = typed(record.file())?;
    let form = form(&own, tape);
    let tape = form.tape;
    let string = own.string.as_ref();
    let counting: Vec<&Station> = string.map(|string| string.counting().collect()).unwrap_or_default();
    let next = next_mm(&counting);
    let next_along = on_tape(next, tape);
    Ok(GroundView {
        ground: record.name.clone(),
        label: capital(&words(&own)),
        kind_words: own.kind.words().to_owned(),
        tape,
        stations: stations(&counting, tape),
        state: string.map(state).unwrap_or_default(),
        notes: string.map(|string| notes(string, counting.len())).unwrap_or_default(),
        next_words: format!("station {}, at {}", counting.len() + 1, on_tape_with_unit(next, tape)),
        next_along,
        taken_back: taken_back(&record, tape),
        ready: check(&own).is_ok(),
        profile: profile(&own),
        text: text(&own, &counting),
        measured: own.string.is_some(),
        form,
    })
}

/// Where the next station would be, as it would be typed.
pub(crate) fn next_along(own: &OwnGround, tape: TapeUnit) -> String {
    let counting: Vec<&Station> = own.string.iter().flat_map(StringLine::counting).collect();
    on_tape(next_mm(&counting), tape)
}

/// As far behind the last station as that is behind the one before it.
fn next_mm(counting: &[&Station]) -> f64 {
    let along: Vec<f64> = counting.iter().map(|station| station.along_mm).collect();
    let Some(last) = along.last() else { return 0.0 };
    let step = along.windows(2).rev().map(|pair| pair[1] - pair[0]).find(|step| *step > 0.0);
    last + step.unwrap_or(USUAL_STEP_MM)
}

fn stations(counting: &[&Station], tape: TapeUnit) -> Vec<GroundStation> {
    let rows = counting.iter().enumerate().map(|(i, station)| {
        let before = i.checked_sub(1).map(|before| counting[before]);
        let step = before.filter(|before| before.along_mm == station.along_mm).map(|before| {
            let up = before.down_mm - station.down_mm;
            format!("a step of {} mm {}", whole(up.abs()), if up < 0.0 { "down" } else { "up" })
        });
        GroundStation {
            along_mm: station.along_mm,
            down_mm: station.down_mm,
            along: as_read(station.along_mm, tape),
            down: as_read(station.down_mm, tape),
            step: step.unwrap_or_default(),
        }
    });
    rows.collect()
}

fn notes(string: &StringLine, count: usize) -> Vec<String> {
    let mut notes = Vec::new();
    let sag = string.sag_mm().0;
    if string.sag_mm.is_none() && sag > MOST_SAG_MM {
        notes.push(format!(
            "Pull the string tight, or hold it up at its middle: over {} mm it hangs through about {} mm.",
            whole(string.length_mm()),
            whole(sag)
        ));
    }
    match count {
        0 => notes.push("Begin where the wheels come from: both ends of the string are stations too.".to_owned()),
        1 => notes.push("Two stations make a profile; ten tell a driveway.".to_owned()),
        few if few < ENOUGH && string.length_mm() < 3_000.0 => {
            notes.push("Go on a car\u{2019}s length beyond where it levels out, if the string reaches.".to_owned());
        }
        _ => {}
    }
    notes
}

fn taken_back(record: &GroundRecord, tape: TapeUnit) -> Option<String> {
    let station: Station = serde_json::from_value(record.to_put_back()?.document.clone()).ok()?;
    Some(format!(
        "{} along, {} down",
        on_tape_with_unit(station.along_mm, tape),
        on_tape_with_unit(station.down_mm, tape)
    ))
}

fn text(own: &OwnGround, counting: &[&Station]) -> String {
    let heights = counting.iter().map(|station| format!("{} at {}", whole(station.down_mm), whole(station.along_mm)));
    let heights: Vec<String> = heights.collect();
    match &own.shape {
        _ if !heights.is_empty() => {
            format!("{} under a string, mm down at mm along: {}.", capital(&words(own)), heights.join(", "))
        }
        Some(shape) => format!("{}: {}.", capital(&words(own)), shape_words(shape)),
        None => format!("{}: no station read yet.", capital(&words(own))),
    }
}
