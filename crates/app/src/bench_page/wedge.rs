//! The wedge for a wanted caster: how thick, which way round, and what to look at.

use super::{refused, row, view, with_band};
use crate::mechanism_page::{MEASURES, length};
use crate::wire::{BenchPicture, BenchSum, BenchSumView, MechanismWords, Problem};
use trueground_core::car::{Vehicle, WantedCaster};
use trueground_core::checks::wedge::{At, Wedge, WedgeAnswer, work_out};

pub(super) fn sum(vehicle: &Vehicle, inches: bool) -> Result<BenchSumView, Problem> {
    let told = match &vehicle.wanted_caster {
        None => None,
        Some(described) => {
            let wedge = Wedge::of_car(described).map_err(refused)?;
            let answer = work_out(&wedge);
            Some((words(&wedge, &answer, inches), picture(&wedge, described, &answer)))
        }
    };
    let empty = [
        "No caster wanted yet.",
        "Say what caster it has and what you want: how thick a shim, or how wide a cut, and which way round.",
    ];
    Ok(view(BenchSum::Wedge, "Wedge for a caster", empty, told))
}

fn words(wedge: &Wedge, answer: &WedgeAnswer, inches: bool) -> MechanismWords {
    let size = with_band(answer.thickness_mm, answer.thickness_u_mm, 1);
    let way = if answer.turn_deg < 0.0 { "less" } else { "more" };
    let turn = answer.turn_deg.abs();
    let shim = matches!(wedge.at, At::Pad(..));
    let headline = if shim {
        format!("{} mm thick at its {}.", size[0], answer.thick_end)
    } else {
        format!("{} mm wide; it {}.", size[0], answer.thick_end)
    };
    let detail = match wedge.at {
        At::Pad(pad, _) => format!("A shim {} long turns the axle {turn:.1}°: {way} caster.", length(pad, inches)),
        At::Cut(depth, _) => {
            format!("Cut through {} of depth, it turns the axle {turn:.1}°: {way} caster.", length(depth, inches))
        }
    };
    let [value, band] = size;
    let mut rows = vec![
        row(
            "thickness",
            if shim { "Thick end" } else { "Base of the wedge" },
            if shim { "Its other end runs out to nothing" } else { "Its point at the far wall" },
            [format!("{value} mm"), band],
            [answer.thickness_mm, answer.thickness_u_mm],
        ),
        row(
            "turn",
            "The axle turns",
            &format!("From {:.1}° to {:.1}°", wedge.caster_deg, wedge.wanted_deg).replace('-', "\u{2212}"),
            [format!("{turn:.1}°"), format!("\u{b1}{:.1}°", 2.0 * answer.turn_u_deg)],
            [answer.turn_deg, answer.turn_u_deg],
        ),
    ];
    if let At::Cut(_, part) = wedge.at
        && part < 1.0
    {
        let (cut, u) = (turn / part, answer.turn_u_deg / part);
        let line = format!("The axle gets {:.0} % of it: the rest turns the rod", 100.0 * part);
        rows.push(row(
            "cut",
            "The cut turns",
            &line,
            [format!("{cut:.1}°"), format!("\u{b1}{:.1}°", 2.0 * u)],
            [cut, u],
        ));
    }
    let mut cautions: Vec<String> = answer.cautions.iter().map(|caution| (*caution).to_owned()).collect();
    cautions.push(MEASURES.to_owned());
    MechanismWords {
        described: true,
        text: format!("From the left, nose left: {headline} {detail}"),
        headline,
        detail,
        rows,
        cautions,
        notes: vec![
            "\u{b1} from a caster read to 0.5° and a length read to 2 mm (common practice, no source).".to_owned(),
            "The caster that is wanted has none: it is a wish. Where a cut lies on its rod is taken as typed."
                .to_owned(),
        ],
    }
}

fn picture(wedge: &Wedge, described: &WantedCaster, answer: &WedgeAnswer) -> BenchPicture {
    match wedge.at {
        At::Pad(length_mm, axle_below) => BenchPicture::Shim {
            length_mm,
            thickness_mm: answer.thickness_mm,
            thick_rear: answer.thick_end == "rear",
            axle_below,
            caster_deg: wedge.caster_deg,
            wanted_deg: wedge.wanted_deg,
        },
        At::Cut(depth_mm, part) => BenchPicture::Cut {
            depth_mm,
            base_mm: answer.thickness_mm,
            cut_deg: answer.turn_deg.abs() / part,
            closes_top: answer.turn_deg > 0.0,
            from_axle_mm: described.cut_from_axle_mm,
            rod_mm: described.rod_mm,
            caster_deg: wedge.caster_deg,
            wanted_deg: wedge.wanted_deg,
        },
    }
}
