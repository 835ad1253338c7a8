//! The radiator: what its core keeps after height was taken out.

use super::{row, view};
use crate::mechanism_page::length;
use crate::wire::{BenchPicture, BenchSum, BenchSumView, MechanismWords};
use crate::words::whole;
use trueground_core::car::{Radiator, Vehicle};
use trueground_core::checks::cooling::{CoreLeft, work_out};

const MM2_PER_DM2: f64 = 10_000.0;
const MM2_PER_IN2: f64 = 645.16;

pub(super) fn sum(vehicle: &Vehicle, inches: bool) -> BenchSumView {
    let told = vehicle.radiator.as_ref().map(|radiator| {
        let left = work_out(radiator);
        let picture = BenchPicture::Core {
            height_mm: radiator.core_height_mm,
            width_mm: radiator.core_width_mm,
            sectioned_mm: radiator.sectioned_mm,
            left_percent: left.left_percent,
        };
        (words(radiator, &left, inches), picture)
    });
    let empty = [
        "No radiator yet.",
        "Measure the core and what comes out of its height: how much of its area is left for cooling.",
    ];
    view(BenchSum::Radiator, "Radiator", empty, told)
}

fn words(radiator: &Radiator, left: &CoreLeft, inches: bool) -> MechanismWords {
    let area = |mm2: f64| {
        if inches { format!("{} in²", whole(mm2 / MM2_PER_IN2)) } else { format!("{:.1} dm²", mm2 / MM2_PER_DM2) }
    };
    let percent = format!("{} %", whole(left.left_percent));
    let band = format!("\u{b1}{}", whole((2.0 * left.left_u_percent).max(1.0)));
    let headline = format!("{percent} of its core is left.");
    let now = radiator.core_height_mm - radiator.sectioned_mm;
    let detail = format!(
        "{} of {}, {} out of the height.",
        area(left.left_mm2),
        area(left.before_mm2),
        length(radiator.sectioned_mm, inches)
    );
    MechanismWords {
        described: true,
        text: format!(
            "The core from the front: {} wide, {} high before, {} after. {headline}",
            length(radiator.core_width_mm, inches),
            length(radiator.core_height_mm, inches),
            length(now, inches)
        ),
        headline,
        detail,
        rows: vec![row(
            "left",
            "Cooling area left",
            "No limit: what an engine needs is for its maker to say",
            [percent, band],
            [left.left_percent, left.left_u_percent],
        )],
        cautions: vec![
            "Drain it cold: never open a hot radiator.".to_owned(),
            "Look at fan, shroud and hoses too, and at the gauge on the first warm day.".to_owned(),
        ],
        notes: vec!["\u{b1} from height and cut, read to 4 mm (common practice, no source).".to_owned()],
    }
}
