//! The answers turned round, the other grounds, and the angles on the flat.

use super::{Way, word, words};
use crate::ground_page;
use crate::wire::{CheckWord, RampRow};
use crate::words::{capital, degrees, whole};
use trueground_core::checks::AtStance;
use trueground_core::checks::over_ground::{KEPT_MM, drive};
use trueground_core::checks::ramp::{Plank, Ramp, RampAnswer, Shape, drive as run};
use trueground_core::ground::OwnGround;
use trueground_core::wording::shown;

/// An angle is found to this, degrees.
const FINE_DEG: f64 = 0.02;
const STEEPEST_DEG: f64 = 45.0;

pub(super) fn rows(car: &AtStance<'_>, way: &Way<'_>, answer: &RampAnswer, all: &[Way<'_>]) -> Vec<RampRow> {
    let mut rows = Vec::new();
    rows.extend(steepest(car, way));
    rows.extend(lowest(way, answer));
    rows.extend(plank(way, answer));
    let mut others: Vec<&Way<'_>> = Vec::new();
    for other in all.iter().filter(|other| other.ground.id != way.ground.id) {
        match others.iter_mut().find(|known| known.ground.id == other.ground.id) {
            Some(known) if other.over.gap.value < known.over.gap.value => *known = other,
            Some(_) => {}
            None => others.push(other),
        }
    }
    rows.extend(others.into_iter().map(other_ground));
    rows.extend(angles(way, answer));
    rows
}

fn named(way: &Way<'_>, name: &str) -> String {
    shown(way.drive.called(name))
}

/// How steep a ground of this kind may be; nothing for one that was measured.
fn steepest(car: &AtStance<'_>, way: &Way<'_>) -> Option<RampRow> {
    let found = |kept: f64| steepest_deg(car, way, kept);
    let (bare, spare) = (found(0.0)?, found(KEPT_MM));
    let line = spare.map_or_else(
        || "With 25 spare: not even a slight slope.".to_owned(),
        |spare| format!("With 25 spare: {}", degrees(spare)),
    );
    Some(RampRow {
        row: "steepest".to_owned(),
        word: CheckWord::Clears,
        subject: "Steepest it clears".to_owned(),
        line,
        number: degrees(bare),
        under: "as high as this one".to_owned(),
        ground: None,
    })
}

/// By driving over steeper and steeper ones of the same height.
fn steepest_deg(car: &AtStance<'_>, way: &Way<'_>, kept: f64) -> Option<f64> {
    let at = |deg: f64| -> Option<OwnGround> {
        let shape = match way.ground.shape? {
            Shape::Ramp { rise_mm, .. } => Shape::Ramp { angle_deg: deg, rise_mm },
            Shape::Crest { .. } => Shape::Crest { angle_deg: deg },
            Shape::Hump { .. } => return None,
        };
        Some(OwnGround { shape: Some(shape), ..way.ground.clone() })
    };
    let clears = |deg: f64| -> Option<bool> {
        let ground = at(deg)?;
        let drive = drive(car, &ground, way.drive.facing).ok()?;
        Some(run(&Ramp { step_mm: 10.0, ..drive.ramp }).ok()?.min_gap_mm >= kept)
    };
    let (mut low, mut high) = (0.1, STEEPEST_DEG);
    if !clears(low)? {
        return None;
    }
    if clears(high)? {
        return Some(high);
    }
    while high - low > FINE_DEG {
        let middle = f64::midpoint(low, high);
        if clears(middle)? { low = middle } else { high = middle }
    }
    Some(low)
}

fn lowest(way: &Way<'_>, answer: &RampAnswer) -> Option<RampRow> {
    let lowest = answer.lowest_safe.as_ref()?;
    let raise = lowest.raise_mm;
    let point = named(way, &lowest.point);
    let under = if raise > 0.0 {
        format!("{} mm higher than it stands", whole(raise.ceil()))
    } else {
        format!("{} mm lower than it stands", whole((-raise).floor()))
    };
    let axle = match &lowest.axle_points[..] {
        [] => String::new(),
        [one, ..] => format!(" {} is on the axle: only larger tires help there.", capital(&shown(one))),
    };
    Some(RampRow {
        row: "lowest".to_owned(),
        word: CheckWord::Number,
        subject: "Lowest the body may stand here".to_owned(),
        line: format!("With 25 kept for bounce; {point} decides.{axle}"),
        number: whole(lowest.lowest_body_mm),
        under,
        ground: None,
    })
}

fn plank(way: &Way<'_>, answer: &RampAnswer) -> Option<RampRow> {
    let row = |word: CheckWord, subject: &str, line: String, number: String, under: &str| RampRow {
        row: "plank".to_owned(),
        word,
        subject: subject.to_owned(),
        line,
        number,
        under: under.to_owned(),
        ground: None,
    };
    Some(match answer.plank? {
        Plank::Saves { length_mm, from_mm, to_mm } => {
            let ends = [from_mm, to_mm].map(|s| way.drive.on_ground(s));
            let place = |s: f64| words::at(way.ground, s);
            let line = format!(
                "Stiff, under each wheel line, from {} to {}.",
                place(ends[0].min(ends[1])),
                place(ends[0].max(ends[1]))
            );
            row(CheckWord::Clears, "Shortest plank that saves it", line, whole(length_mm), "mm long")
        }
        Plank::None { longest_tried_mm } => {
            let line = format!("None up to {} mm long, laid straight from ground to ground.", whole(longest_tried_mm));
            row(CheckWord::Touches, "No single plank saves it", line, String::new(), "")
        }
    })
}

fn other_ground(other: &Way<'_>) -> RampRow {
    let gap = other.over.gap.value;
    let (word, point) = (word(&other.over), capital(&named(other, &other.over.run.point)));
    let line = match word {
        CheckWord::Touches => format!("Touches. {point}"),
        CheckWord::Caution => "Caution. 25 kept for bounce".to_owned(),
        CheckWord::Clears => format!("Clears. {point}"),
        _ => format!("Can\u{2019}t tell. {point}"),
    };
    let short = KEPT_MM.round() - gap.round();
    let under = if short > 0.0 { format!("{} mm short", whole(short)) } else { format!("{} mm spare", whole(-short)) };
    RampRow {
        row: format!("ground.{}", other.ground.id),
        word,
        subject: capital(&ground_page::words(other.ground)),
        line,
        number: whole(gap),
        under,
        ground: Some(other.ground.id.clone()),
    }
}

/// On the flat; held against the slope of a ramp.
fn angles(way: &Way<'_>, answer: &RampAnswer) -> Vec<RampRow> {
    let slope = match way.ground.shape {
        Some(Shape::Ramp { angle_deg, .. }) => Some(angle_deg),
        _ => None,
    };
    let limits = &answer.limited_by;
    let all = [
        ("approach", "Front, on the way up", answer.approach_deg, &limits.approach),
        ("departure", "Rear, coming off", answer.departure_deg, &limits.departure),
    ];
    let rows = all.into_iter().filter_map(|(name, subject, deg, point)| {
        let (deg, point) = (deg?, point.as_ref()?);
        let word = match slope {
            Some(slope) if deg > slope => CheckWord::Clears,
            Some(_) => CheckWord::Touches,
            None => CheckWord::Number,
        };
        let said = match word {
            CheckWord::Clears => "Clears. ",
            CheckWord::Touches => "Touches. ",
            _ => "",
        };
        Some(RampRow {
            row: name.to_owned(),
            word,
            subject: subject.to_owned(),
            line: format!("{said}{}", capital(&named(way, point))),
            number: degrees(deg),
            under: name.to_owned(),
            ground: None,
        })
    });
    rows.collect()
}
