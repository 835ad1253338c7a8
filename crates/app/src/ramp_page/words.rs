//! What the screen of ramp and driveway says.

use super::Way;
use crate::wire::RampRow;
use crate::words::{band_mm, capital, whole};
use trueground_core::checks::Verdict;
use trueground_core::checks::over_ground::KEPT_MM;
use trueground_core::checks::ramp::{Plank, RampAnswer};
use trueground_core::ground::OwnGround;
use trueground_core::wording::shown;

/// "1100 mm past the edge"
pub(super) fn at(ground: &OwnGround, s: f64) -> String {
    let (size, side) = if s < 0.0 { (-s, "before") } else { (s, "past") };
    if size.round() < 1.0 {
        return format!("at {}", ground.counted_from());
    }
    format!("{} mm {side} {}", whole(size), ground.counted_from())
}

/// The result, and the sentence under it.
pub(super) fn headline(way: &Way<'_>, touching: Option<[f64; 2]>) -> (String, String) {
    let (gap, ground) = (way.over.gap, way.ground.words());
    let point = shown(way.drive.called(&way.over.run.point));
    let band = whole(band_mm(gap.u));
    let place = at(way.ground, way.over.front_axle_at_mm);
    let beyond = if way.over.beyond_measured {
        " There the ground is taken to go straight on beyond what was measured."
    } else {
        ""
    };
    match way.over.verdict {
        Verdict::Touches => {
            let from_to = touching.map_or_else(
                || format!("with the front axle {place}"),
                |[from, to]| format!("from {} to {}", whole(from), at(way.ground, to)),
            );
            let detail = format!(
                "By {} mm \u{b1}{band} at {point}, {from_to}. Standing still; bounce needs {} more.{beyond}",
                whole(-gap.value),
                whole(KEPT_MM)
            );
            (format!("Touches {ground}."), detail)
        }
        Verdict::Clears if gap.value < KEPT_MM => {
            let detail = format!(
                "{} comes to {} mm \u{b1}{band}, with the front axle {place}: {} less than the {} kept for bounce.{beyond}",
                capital(&point),
                whole(gap.value),
                whole(KEPT_MM.round() - gap.value.round()),
                whole(KEPT_MM)
            );
            (format!("Clears {ground} standing still."), detail)
        }
        Verdict::Clears => {
            let detail = format!(
                "{} comes nearest: {} mm \u{b1}{band}, with the front axle {place}.{beyond}",
                capital(&point),
                whole(gap.value)
            );
            (format!("Clears {ground}."), detail)
        }
        _ => {
            let side = if gap.value < 0.0 { "in" } else { "over" };
            let detail = format!(
                "{} is {} mm {side} the ground, and that is \u{b1}{band}; the front axle {place}.{beyond}",
                capital(&point),
                whole(gap.value.abs())
            );
            (format!("Can\u{2019}t tell whether it touches {ground}."), detail)
        }
    }
}

/// The other way in, where it says something else.
pub(super) fn other_way(way: &Way<'_>, other: &Way<'_>) -> String {
    let point = |way: &Way<'_>| shown(way.drive.called(&way.over.run.point));
    let gap = other.over.gap.value;
    let matters = other.over.verdict != way.over.verdict
        || (gap - way.over.gap.value).abs() > 2.0 * way.over.gap.u
        || point(way) != point(other);
    if !matters {
        return format!("The same {}. Backing out it stands in the same places.", other.drive.facing.words());
    }
    let how = match other.over.verdict {
        Verdict::Touches => format!("it touches by {} mm", whole(-gap)),
        Verdict::Clears => format!("it clears by {} mm", whole(gap)),
        _ => format!("it can\u{2019}t be told: {} mm \u{b1}{}", whole(gap), whole(band_mm(other.over.gap.u))),
    };
    format!("{} {how}, at {}.", capital(other.drive.facing.words()), point(other))
}

/// "±5: the car 4, the ground 2"
pub(super) fn doubt(way: &Way<'_>) -> String {
    let part = |u: f64| whole((2.0 * u).round());
    format!(
        "\u{b1}{}: \u{b1}{} from the car, \u{b1}{} from the ground.",
        whole(band_mm(way.over.gap.u)),
        part(way.over.car_u_mm),
        part(way.over.ground_u_mm)
    )
}

/// What to look after.
pub(super) fn cautions(way: &Way<'_>, answer: &RampAnswer) -> Vec<String> {
    let mut cautions = Vec::new();
    if way.over.gap.value < KEPT_MM {
        cautions.push(
            "Drive it at walking pace; whoever watches stands beside the car, never under it or behind it.".to_owned(),
        );
    }
    if matches!(answer.plank, Some(Plank::Saves { .. })) {
        cautions.push(
            "A plank is wider than the tire, carries the axle, and is tied so that it cannot slip; its own thickness is not counted."
                .to_owned(),
        );
    }
    cautions
}

/// A row as one sentence.
pub(super) fn row(row: &RampRow) -> String {
    let number = [row.number.as_str(), row.under.as_str()].into_iter().filter(|text| !text.is_empty());
    let number: Vec<&str> = number.collect();
    let number = if number.is_empty() { String::new() } else { format!(" {}.", number.join(" ")) };
    format!("{}:{number} {}", row.subject, row.line)
}
