//! The floor as a picture: how high each spot stands, tilt and twist, and what plates would do.

use super::label;
use crate::wire::{FloorBlock, PlatesView, SlopeView};
use crate::words::whole;
use trueground_core::capture::Floor;
use trueground_core::car::Vehicle;
use trueground_core::corner::Corner;
use trueground_core::floor_block;
use trueground_core::setout::{Plates, plates};
use trueground_core::stance::{Figure, Known};

/// A car is not rolled alone on a floor tilted by more, percent [common practice, no source].
const STEEP_PERCENT: f64 = 5.0;

/// The tilt of a levelled floor.
pub(crate) fn slope(floor: &Floor, vehicle: &Vehicle) -> Option<SlopeView> {
    let tilt_percent = block(floor, vehicle)?.tilt_percent;
    let sentence = format!("This floor is tilted by {tilt_percent:.1} %.");
    Some(SlopeView { steep: tilt_percent > STEEP_PERCENT, sentence })
}

/// The floor as a block, once a pass has all four spots.
pub(crate) fn block(floor: &Floor, vehicle: &Vehicle) -> Option<FloorBlock> {
    let size_mm =
        floor.footprint.map_or([vehicle.wheelbase_mm, vehicle.track_front_mm, vehicle.track_rear_mm], |other| {
            [other.wheelbase_mm, other.track_front_mm, other.track_rear_mm]
        });
    let shape = floor_block::shape(floor.survey.as_ref()?, size_mm)?;
    let above = shape.above_lowest_mm.map(whole);
    let corners = Corner::ALL.map(Corner::words);
    let spots: Vec<String> = above
        .iter()
        .zip(corners)
        .zip(shape.elevation_u_mm)
        .map(|((mm, words), u)| format!("{words} {mm} ±{}", band(u)))
        .collect();
    let open = match (shape.along_read, shape.across_read) {
        (true, true) => "",
        (false, _) => " Front to rear was not read: drawn level.",
        (true, false) => " Left to right was not read: drawn level.",
    };
    let plates = plates(&shape);
    let text = format!(
        "{}, mm above its lowest spot: {}.{open} Tilt {:.1} %, harmless. Twist {} mm ±{}. {}",
        label(floor),
        spots.join(", "),
        shape.tilt_percent,
        whole(shape.twist_mm.abs()),
        band(shape.twist_u_mm),
        plates_in_words(&plates)
    );
    Some(FloorBlock {
        above_lowest_mm: shape.above_lowest_mm,
        elevation_mm: std::array::from_fn(|spot| figure(shape.elevation_mm[spot], shape.elevation_u_mm[spot])),
        size_mm,
        tilt_percent: shape.tilt_percent,
        tilt_u_percent: shape.tilt_u_percent,
        along_read: shape.along_read,
        across_read: shape.across_read,
        plates: plates_view(&plates),
        tilt_mm: shape.tilt_mm,
        twist_mm: figure(shape.twist_mm, shape.twist_u_mm),
        twist_part_mm: shape.twist_part_mm,
        text,
    })
}

fn figure(value: f64, u: f64) -> Figure {
    Figure { value: Some(value), u: Some(u), known: Known::Measured, band_if: None }
}

/// ±2u in whole mm, never below 1.
pub(super) fn band(u_mm: f64) -> String {
    whole((2.0 * u_mm).max(1.0))
}

fn plates_view(plates: &Plates) -> PlatesView {
    PlatesView {
        worth_it: plates.worth_it,
        one_mm: figure(plates.one_mm, plates.one_u_mm),
        one_under: plates.one_under,
        level_mm: plates.level_mm.map(|level| std::array::from_fn(|spot| figure(level[spot], plates.level_u_mm[spot]))),
    }
}

fn plates_in_words(plates: &Plates) -> String {
    if !plates.worth_it {
        return "The twist is below its own ±: no plate is worth it.".to_owned();
    }
    let [one, other] = plates.one_under.map(Corner::words);
    let mm = whole(plates.one_mm);
    format!("A plate of {mm} mm under the wheel at the {one}, or at the {other}, takes the twist out.")
}
