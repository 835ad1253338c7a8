//! Weights: where the middle of the weight lies along, across and above the ground, from what scales said.

use super::{row, view, with_band};
use crate::mechanism_page::{MEASURES, length};
use crate::wire::{BenchPicture, BenchSum, BenchSumView, MechanismRow, MechanismWords};
use crate::words::{band_mm, whole};
use trueground_core::car::Vehicle;
use trueground_core::checks::weight::{Told, Weight, WeightAnswer, across, work_out};
use trueground_core::corner::Corner;

pub(super) fn sum(vehicle: &Vehicle, inches: bool) -> BenchSumView {
    let told = vehicle.weighed.as_ref().zip(Weight::of_car(vehicle)).map(|(weighed, weight)| {
        let answer = work_out(&weight);
        let sides = weighed.wheels_kg.as_ref().map(|wheels| across(wheels, tracks(vehicle), weighed.scale_u_kg()));
        let words = words(&answer, sides.as_ref().map(|sides| [sides.left_mm, sides.diagonal_share]), inches);
        let picture = BenchPicture::Weights {
            wheelbase_mm: weight.wheelbase_mm,
            track_front_mm: vehicle.track_front_mm,
            track_rear_mm: vehicle.track_rear_mm,
            wheels_kg: weighed.wheels_kg.as_ref().map(|wheels| Corner::ALL.map(|corner| *wheels.at(corner))),
            axles_kg: weight.level_kg,
            behind_mm: answer.behind_front_axle_mm.value,
            behind_u_mm: answer.behind_front_axle_mm.u,
            left_mm: sides.as_ref().map(|sides| sides.left_mm.value),
            left_u_mm: sides.as_ref().map(|sides| sides.left_mm.u),
        };
        (words, picture)
    });
    let empty = [
        "Not weighed yet.",
        "Type a scale ticket, or what stands on each wheel: where the weight has its middle follows, and the tires are held against it.",
    ];
    view(BenchSum::Weight, "Weights", empty, told)
}

const fn tracks(vehicle: &Vehicle) -> [f64; 2] {
    [vehicle.track_front_mm, vehicle.track_rear_mm]
}

fn words(answer: &WeightAnswer, sides: Option<[Told; 2]>, inches: bool) -> MechanismWords {
    let place = |of: &str, bold: &str, line: &str, told: Told, mm: f64| -> MechanismRow {
        let band = format!("\u{b1}{} mm", whole(band_mm(told.u)));
        row(of, bold, line, [length(mm, inches), band], [told.value, told.u])
    };
    let percent = |told: Told| {
        let [value, band] = with_band(100.0 * told.value, 100.0 * told.u, 1);
        [format!("{value} %"), band]
    };
    let share = Told { value: answer.front_share, u: answer.front_share_u };
    let headline = format!("{} kg, {:.0} % of it in front.", whole(answer.total_kg), 100.0 * share.value);
    let behind = answer.behind_front_axle_mm;
    let mut detail = format!("Its middle lies {} behind the front axle", length(behind.value, inches));
    let mut rows = vec![
        row("front_share", "On the front axle", "Of all the weight", percent(share), [share.value, share.u]),
        place("behind", "Middle of the weight", "Behind the front axle", behind, behind.value),
    ];
    if let Some([left, diagonal]) = sides {
        let (line, said) = match (whole(left.value.abs()).as_str(), left.value < 0.0) {
            ("0", _) => ("In the middle plane", "in the middle".to_owned()),
            (_, true) => ("Right of the middle plane", format!("{} right of the middle", length(-left.value, inches))),
            (_, false) => ("Left of the middle plane", format!("{} left of the middle", length(left.value, inches))),
        };
        rows.push(place("aside", "Aside", line, left, left.value.abs()));
        let line = "On front left and rear right: half is even";
        rows.push(row("diagonal", "Across the corners", line, percent(diagonal), [diagonal.value, diagonal.u]));
        detail.push_str(&format!(", {said}"));
    }
    if let Some(height) = answer.height_mm {
        rows.push(place("height", "Height", "Above level ground", height, height.value));
        detail.push_str(&format!(", {} above the ground", length(height.value, inches)));
    }
    detail.push('.');
    let mut notes = vec![
        "\u{b1} from the scale, 10 kg a reading where nobody says, and a tape read to 6 mm (common practice, no source)."
            .to_owned(),
    ];
    if answer.height_mm.is_none() {
        notes
            .push("How high it sits takes a second weighing, with the rear raised and the springs blocked.".to_owned());
    }
    MechanismWords {
        described: true,
        text: format!("The car from above, nose up. {headline} {detail}"),
        headline,
        detail,
        rows,
        cautions: vec![
            "A car that is raised for weighing stands on rated stands, chocked, never on a jack.".to_owned(),
            MEASURES.to_owned(),
        ],
        notes,
    }
}
