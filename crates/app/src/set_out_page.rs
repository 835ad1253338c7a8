//! Setting out on a floor: what the tape must read, point by point, and what a mock-up on stands needs.

use crate::floor_page::{block, with_state};
use crate::wire::{SetOutAsk, SetOutLength, SetOutMean, SetOutRow, SetOutView, TapeUnit};
use crate::words::{band_mm, capital, kinds, on_tape_with_unit, whole};
use std::collections::BTreeMap;
use trueground_core::capture::{CarFile, Facing, Floor};
use trueground_core::car::PointKind;
use trueground_core::corner::Corner;
use trueground_core::setout::{Length, SetOut};
use trueground_core::target::{End, Target};

/// What is wanted, by point: a target's heights or a snapshot's nominal ones.
pub(crate) struct Wanted {
    pub(crate) label: String,
    pub(crate) heights_mm: BTreeMap<String, f64>,
}

/// The page of a floor on which it could be set out.
pub(crate) fn page(
    file: &CarFile,
    floor: &Floor,
    wanted: &Wanted,
    set_out: &SetOut,
    SetOutAsk { tape, facing, .. }: &SetOutAsk,
) -> SetOutView {
    let (tape, facing) = (*tape, *facing);
    let rows = rows(file, wanted, set_out, tape);
    let told = rows.iter().filter_map(|row| Some((row, row.reads_mm?, row.u_mm?)));
    let spread = |of: &dyn Fn(&SetOutRow, f64) -> f64| {
        let all: Vec<f64> = told.clone().map(|(row, reads, _)| of(row, reads)).collect();
        let (least, most) = all.iter().fold((f64::MAX, f64::MIN), |(a, b), mm| (a.min(*mm), b.max(*mm)));
        (!all.is_empty()).then_some((least, most))
    };
    let from_level = spread(&|row, reads| reads - row.level_mm);
    let detail = match from_level {
        Some((least, most)) if whole(least) != whole(most) => {
            format!("This floor makes the tape read from {} to {} than on level ground.", off(least), off(most))
        }
        Some((least, _)) => format!("This floor makes the tape read {} than on level ground.", off(least)),
        None => String::new(),
    };
    let said: Vec<String> =
        rows.iter().map(|row| format!("{} {} {}", row.corner.words(), row.words.to_lowercase(), row.printed)).collect();
    SetOutView {
        wanted: wanted.label.clone(),
        floor: with_state(Some(floor)),
        headline: "What the tape must read here.".to_owned(),
        detail,
        means: Vec::new(),
        block: block(floor, &file.vehicle),
        spots: Corner::ALL.map(|spot| facing.corner_on(spot).words().to_owned()),
        stands: lengths(file, &set_out.stands, tape),
        wheel_centres: set_out.wheel_centres.iter().map(|(spot, length)| centre(spot, facing, *length, tape)).collect(),
        notes: vec![
            format!(
                "It holds for the car standing {}, at its nominal load and pressures, rolled and bounced.",
                if facing == Facing::B { "turned end for end" } else { "as first" }
            ),
            "Springs stick: come near it, bounce, and read again before anything is cut.".to_owned(),
        ],
        text: format!("What the tape must read for {}: {}.", wanted.label, said.join(", ")),
        rows,
    }
}

/// The page of a floor that is not levelled: what can be set out all the same, and what to do.
pub(crate) fn not_levelled(file: &CarFile, floor: &Floor, wanted: &Wanted, tape: TapeUnit) -> SetOutView {
    let target = Target { heights_mm: wanted.heights_mm.clone(), ..Target::default() };
    let mean = |kind: PointKind, end: End| {
        let mean_mm = target.mean_mm(&file.vehicle, kind, end)?;
        let end = if end == End::Front { "front" } else { "rear" };
        Some(SetOutMean {
            words: format!("{}, {end}", kinds(kind)),
            mean_mm,
            printed: on_tape_with_unit(mean_mm, tape),
        })
    };
    let means: Vec<SetOutMean> = PointKind::ALL
        .into_iter()
        .flat_map(|kind| [End::Front, End::Rear].map(|end| mean(kind, end)))
        .flatten()
        .collect();
    let said: Vec<String> =
        means.iter().map(|mean| format!("{} {}", mean.words.to_lowercase(), mean.printed)).collect();
    SetOutView {
        wanted: wanted.label.clone(),
        floor: with_state(Some(floor)),
        headline: "Can\u{2019}t set out left and right here.".to_owned(),
        detail: "Level its four spots first. Front and rear can be set out without: left and right together must come to these."
            .to_owned(),
        rows: Vec::new(),
        text: format!("Means of left and right for {}: {}.", wanted.label, said.join(", ")),
        means,
        block: None,
        spots: Corner::ALL.map(|corner| corner.words().to_owned()),
        stands: Vec::new(),
        wheel_centres: Vec::new(),
        notes: vec!["A twist of the floor takes as much from one side as it gives to the other; a crown of 3 mm moves a mean by 2.".to_owned()],
    }
}

/// "4 mm less"
fn off(mm: f64) -> String {
    match whole(mm.abs()).as_str() {
        "0" => "as much".to_owned(),
        by => format!("{by} mm {}", if mm < 0.0 { "less" } else { "more" }),
    }
}

fn rows(file: &CarFile, wanted: &Wanted, set_out: &SetOut, tape: TapeUnit) -> Vec<SetOutRow> {
    let other = match tape {
        TapeUnit::In | TapeUnit::In32 => TapeUnit::Mm,
        TapeUnit::Mm | TapeUnit::Cm => TapeUnit::In,
    };
    let mut rows: Vec<SetOutRow> = file
        .vehicle
        .ref_points
        .iter()
        .filter_map(|point| {
            let reading = set_out.readings.get(&point.id)?;
            let told = reading.value.zip(reading.u);
            Some(SetOutRow {
                point: point.id.clone(),
                corner: point.corner,
                kind: point.kind,
                words: capital(point.kind.words()),
                level_mm: *wanted.heights_mm.get(&point.id)?,
                reads_mm: told.map(|(value, _)| value),
                u_mm: told.map(|(_, u)| u),
                printed: told.map_or("can\u{2019}t tell".to_owned(), |(value, _)| on_tape_with_unit(value, tape)),
                other: told.map_or(String::new(), |(value, _)| on_tape_with_unit(value, other)),
            })
        })
        .collect();
    rows.sort_by_key(|row| (row.kind != PointKind::FrameRail, row.kind, row.corner));
    rows
}

fn lengths(file: &CarFile, all: &BTreeMap<String, Length>, tape: TapeUnit) -> Vec<SetOutLength> {
    let points = file.vehicle.ref_points.iter();
    // A stand goes under what carries: the frame and the springs' seats.
    let carries = points.filter(|point| matches!(point.kind, PointKind::FrameRail | PointKind::SpringPerch));
    let lengths = carries.filter_map(|point| {
        let length = all.get(&point.id)?;
        let words = format!("{}, {}", capital(point.corner.words()), point.kind.words());
        Some(length_of(&point.id, words, *length, tape))
    });
    lengths.collect()
}

fn centre(spot: &str, facing: Facing, length: Length, tape: TapeUnit) -> SetOutLength {
    let number: usize = spot.trim_start_matches('S').parse().unwrap_or(1);
    let corner = facing.corner_on(Corner::ALL[number.clamp(1, 4) - 1]);
    length_of(spot, format!("{} wheel centre", capital(corner.words())), length, tape)
}

fn length_of(at: &str, words: String, length: Length, tape: TapeUnit) -> SetOutLength {
    let printed = format!("{} \u{b1}{} mm", on_tape_with_unit(length.value, tape), whole(band_mm(length.u)));
    SetOutLength { at: at.to_owned(), words, length_mm: length.value, u_mm: length.u, printed }
}
