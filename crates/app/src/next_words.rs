//! What to read next, and figures by their path, in words.

use crate::wire::NextView;
use crate::words::{band_deg, band_mm, kinds, whole};
use trueground_core::car::{PointKind, Vehicle};
use trueground_core::corner::Corner;
use trueground_core::stance::NextReading;

/// A reading that would help, in words.
pub(crate) fn view(next: &NextReading, vehicle: &Vehicle) -> NextView {
    let unit = unit(&next.target);
    NextView {
        what: next.what.clone(),
        words: words(&next.what, vehicle),
        gain: gain(next.u_now, next.u_then, unit),
        target: title(&next.target, vehicle),
    }
}

/// `mm` or `deg`.
pub(crate) fn unit(figure: &str) -> &'static str {
    if figure.ends_with("_deg") { "deg" } else { "mm" }
}

/// "rear left, frame rail"; "frame rails, rake"
pub(crate) fn title(figure: &str, vehicle: &Vehicle) -> String {
    let mut parts = figure.splitn(2, '.');
    let (sort, rest) = (parts.next().unwrap_or_default(), parts.next().unwrap_or_default());
    match sort {
        "heights" | "heights_nominal" => point(rest, vehicle),
        "loaded_radius" => format!("{}, wheel centre", corner_words(rest)),
        "lines" | "lines_nominal" => {
            let (kind, result) = rest.split_once('.').unwrap_or((rest, ""));
            let kind = PointKind::ALL.into_iter().find(|known| known.code() == kind);
            format!("{}, {}", kind.map_or("points", kinds).to_lowercase(), line_words(result))
        }
        _ => format!("floor, {}", line_words(rest)),
    }
}

/// The corner a figure belongs to.
pub(crate) fn corner(figure: &str) -> Option<Corner> {
    let of_corner = ["heights.", "heights_nominal.", "loaded_radius."].iter().any(|sort| figure.starts_with(sort));
    Corner::from_code(figure.rsplit('.').next()?).filter(|_| of_corner)
}

/// "front left, frame rail"
pub(crate) fn point(id: &str, vehicle: &Vehicle) -> String {
    if let Some(corner) = id.strip_prefix("hub.") {
        return format!("{}, wheel centre", corner_words(corner));
    }
    let marked = |id: &str| vehicle.ref_points.iter().find(|point| point.id == id);
    let of = |words: &str| {
        let (corner, kind) = marked(id.split_once(':')?.1).map(|point| (point.corner.words(), point.kind.words()))?;
        Some(words.replace("MARK", &format!("{corner} {kind}")))
    };
    let said = match id.split_once(':').map(|(what, _)| what) {
        Some("under") => of("under the MARK"),
        Some("on") => of("MARK, from the level line"),
        Some("hub_to") => of("MARK, from the wheel centre"),
        _ => marked(id).map(|point| format!("{}, {}", point.corner.words(), point.kind.words())),
    };
    said.unwrap_or_else(|| id.to_owned())
}

fn corner_words(code: &str) -> String {
    Corner::from_code(code).map_or_else(|| code.to_owned(), |corner| corner.words().to_owned())
}

fn line_words(result: &str) -> &'static str {
    match result {
        "front_mean_mm" => "front",
        "rear_mean_mm" => "rear",
        "rake_mm" | "rake_deg" => "rake",
        "front_left_minus_right_mm" => "front, left less right",
        "rear_left_minus_right_mm" => "rear, left less right",
        "twist_mm" => "twist",
        "lean_mm" => "lean",
        "long_slope_deg" => "slope fore and aft",
        "cross_slope_front_deg" => "cross slope at the front",
        "cross_slope_rear_deg" => "cross slope at the rear",
        _ => "a result",
    }
}

fn words(what: &str, vehicle: &Vehicle) -> String {
    if let Some(place) = what.strip_prefix("repeat:") {
        return format!("Read it once more: {}", point(place, vehicle));
    }
    match what {
        "survey_spots" => "Level the four spots",
        "survey_pass" => "Level the four spots once more",
        "survey_under" => "Level under the four marks",
        "another_bounce" => "Roll and bounce it, and read once more",
        "level_rails" => "Angle gauge on both rails",
        "turn_car" => "Turn the car end for end",
        "plane_on_car" => "Read the marks from the level line",
        _ => "Read it once more",
    }
    .to_owned()
}

/// "±5 becomes ±3", "then it can be told, ±4", "no help"
fn gain(u_now: Option<f64>, u_then: Option<f64>, unit: &str) -> String {
    let band =
        |u: f64| if unit == "deg" { format!("±{:.1}°", band_deg(u)) } else { format!("±{}", whole(band_mm(u))) };
    match (u_now.map(band), u_then.map(band)) {
        (_, None) => "no help".to_owned(),
        (None, Some(then)) => format!("then it can be told, {then}"),
        (Some(now), Some(then)) if now == then => format!("stays {now}"),
        (Some(now), Some(then)) => format!("{now} becomes {then}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_gain_is_said_as_it_is_printed() {
        for (now, then, unit, says) in [
            (Some(2.4), Some(1.6), "mm", "±5 becomes ±3"),
            (None, Some(2.1), "mm", "then it can be told, ±4"),
            (None, None, "mm", "no help"),
            (Some(1.4), Some(1.3), "mm", "stays ±3"),
            (Some(0.11), Some(0.06), "deg", "±0.2° becomes ±0.1°"),
        ] {
            assert_eq!(gain(now, then, unit), says);
        }
    }
}
