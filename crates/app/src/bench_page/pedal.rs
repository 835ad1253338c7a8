//! The pedal: its ratio, and the push, pressure and travel that follow.

use super::{refused, row, view, with_band};
use crate::mechanism_page::{MEASURES, length};
use crate::wire::{BenchPicture, BenchSum, BenchSumView, MechanismWords, Problem};
use crate::words::{band_mm, whole};
use trueground_core::car::Vehicle;
use trueground_core::checks::pedal::{Pedal, PedalAnswer, work_out};

/// lbf/in² for one MPa (1 lbf = 4.4482216152605 N, 1 in = 25.4 mm, exact by definition).
const PSI_PER_MPA: f64 = 145.037_738;
/// Newtons for a kilogram of push.
const N_PER_KG: f64 = 9.806_65;

pub(super) fn sum(vehicle: &Vehicle, inches: bool) -> Result<BenchSumView, Problem> {
    let told = match &vehicle.pedal {
        None => None,
        Some(described) => {
            let pedal = Pedal::of_car(described).map_err(refused)?;
            let answer = work_out(&pedal);
            let picture = BenchPicture::Pedal {
                pad_mm: pedal.pad_mm,
                rod_mm: pedal.rod_mm,
                travel_mm: answer.pad_travel_mm,
                stroke_mm: pedal.stroke_mm,
            };
            Some((words(&pedal, described.foot_n.is_some(), &answer, inches), picture))
        }
    };
    let empty = [
        "No pedal yet.",
        "Measure its two arms from the pivot: the ratio follows, and with the cylinder the pressure in the line and how far the pad goes.",
    ];
    Ok(view(BenchSum::Pedal, "Pedal ratio", empty, told))
}

fn words(pedal: &Pedal, foot_typed: bool, answer: &PedalAnswer, inches: bool) -> MechanismWords {
    let headline = format!("{:.1} to 1.", answer.ratio);
    let foot = format!("{} N", whole(pedal.foot_n));
    let detail = format!("{foot} of the foot make {} N at the rod.", whole(answer.push_n));
    let mut rows = vec![
        row(
            "ratio",
            "Pedal ratio",
            "Pivot to pad over pivot to rod",
            with_band(answer.ratio, answer.ratio_u, 2),
            [answer.ratio, answer.ratio_u],
        ),
        row(
            "push",
            "Push at the rod",
            &format!("{} kg, from {foot} of the foot", whole(answer.push_n / N_PER_KG)),
            newtons(answer.push_n, answer.push_u_n),
            [answer.push_n, answer.push_u_n],
        ),
    ];
    if let Some((mpa, u)) = answer.pressure_mpa.zip(answer.pressure_u_mpa) {
        let [value, band] = with_band(mpa, u, 2);
        let line = format!("{} psi, in the line", whole(mpa * PSI_PER_MPA));
        rows.push(row("pressure", "Pressure", &line, [format!("{value} MPa"), band], [mpa, u]));
    }
    if let Some((travel, u)) = answer.pad_travel_mm.zip(answer.pad_travel_u_mm) {
        let band = format!("\u{b1}{} mm", whole(band_mm(u)));
        let line = "For that stroke, free play apart";
        rows.push(row("travel", "The pad goes", line, [length(travel, inches), band], [travel, u]));
    }
    let as_typed = match (foot_typed, pedal.bore_mm.is_some() || pedal.stroke_mm.is_some()) {
        (true, true) => "Foot, bore and stroke are taken as typed, without a \u{b1}.",
        (true, false) => "The push of the foot is taken as typed, without a \u{b1}.",
        (false, true) => {
            "A firm 300 N stands for the foot (common practice, no source); bore and stroke are taken as typed, without a \u{b1}."
        }
        (false, false) => "A firm 300 N stands for the foot (common practice, no source), without a \u{b1}.",
    };
    MechanismWords {
        described: true,
        text: format!(
            "The pedal from the side: the pad {} from its pivot, the push rod {}.",
            length(pedal.pad_mm, inches),
            length(pedal.rod_mm, inches)
        ),
        headline,
        detail,
        rows,
        cautions: vec![
            "Brake work belongs to a qualified person.".to_owned(),
            "Try it standing, then slowly where nothing is ahead: the pedal must be firm well above the floor."
                .to_owned(),
            MEASURES.to_owned(),
        ],
        notes: vec![
            "\u{b1} from both arms, read to 2 mm between two middles (common practice, no source).".to_owned(),
            as_typed.to_owned(),
        ],
    }
}

fn newtons(value: f64, u: f64) -> [String; 2] {
    [format!("{} N", whole(value)), format!("\u{b1}{}", whole((2.0 * u).max(1.0)))]
}
