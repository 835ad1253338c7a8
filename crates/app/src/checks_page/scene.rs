//! Pictures of what follows: the car from its left with its low points, a flat tire, a beam, the lean of a kingpin.

use super::Ready;
use super::rows::Row;
use crate::compare_page::Asked;
use crate::side::{of_design, of_lines, shown_kinds_of};
use crate::wire::{CheckPicture, CheckScene, SceneLine, ScenePoint, SideView};
use crate::words::{capital, whole};
use trueground_core::checks::AtStance;
use trueground_core::corner::Corner;
use trueground_core::stance::Figure;
use trueground_core::units::Angle;

/// The car at the stance, with its low points, the rim line and the strings; `None` where no low point is known.
pub(super) fn scene(asked: &Asked, ready: &Ready<'_>, car: &AtStance<'_>) -> Option<CheckScene> {
    if car.vehicle.clearance_points.is_empty() {
        return None;
    }
    let side = side(asked, ready, car);
    let points = points(car, |_, z| z);
    let text = text(&points);
    Some(CheckScene { lines: lines(car), points, side, text })
}

fn text(points: &[ScenePoint]) -> String {
    let told: Vec<String> = points.iter().map(|point| format!("{} {} mm", point.words, point.number)).collect();
    format!("The car from the left, to scale. Above level ground: {}.", told.join(", "))
}

/// The side view of the first snapshot at nominal load, moved as the body and the wheels moved since.
pub(crate) fn side(asked: &Asked, ready: &Ready<'_>, car: &AtStance<'_>) -> SideView {
    let first = ready.file.snapshots.iter().filter(|snapshot| snapshot.on_wheels()).min_by(|a, b| a.date.cmp(&b.date));
    let stance = first.and_then(|first| asked.solved.stance(&first.id));
    let drawn = stance.and_then(|stance| {
        let kind = *shown_kinds_of(|kind| stance.lines_nominal.contains_key(kind.code())).first()?;
        of_lines(car.vehicle, &stance.lines_nominal, kind)
    });
    let mut side = drawn.unwrap_or_else(|| of_design(car.vehicle));
    let up = |s_mm: f64| car.frame_rise(&car.since(None), [-s_mm, 0.0]).value;
    let figure = |figure: &Figure, by: f64| Figure { value: figure.value.map(|value| value + by), ..*figure };
    (side.front_mm, side.rear_mm) =
        (figure(&side.front_mm, up(side.front_s_mm)), figure(&side.rear_mm, up(side.rear_s_mm)));
    side.rail_front_mm += up(0.0);
    side.rail_rear_mm += up(side.wheelbase_mm);
    side.lip_front_mm = side.lip_front_mm.map(|mm| mm + up(0.0));
    side.lip_rear_mm = side.lip_rear_mm.map(|mm| mm + up(side.wheelbase_mm));
    let mean = |left, right| f64::midpoint(car.loaded_radius.at(left).value, car.loaded_radius.at(right).value);
    side.front_wheel.loaded_radius_mm = mean(Corner::FL, Corner::FR).min(side.front_wheel.free_radius_mm);
    side.rear_wheel.loaded_radius_mm = mean(Corner::RL, Corner::RR).min(side.rear_wheel.free_radius_mm);
    side
}

fn points(car: &AtStance<'_>, now: impl Fn(&str, f64) -> f64) -> Vec<ScenePoint> {
    let all = car.vehicle.clearance_points.iter();
    let mut points: Vec<ScenePoint> = all
        .map(|point| {
            let z_mm = now(&point.id, car.height_of(point).value);
            ScenePoint {
                words: point.called().to_owned(),
                s_mm: -point.x_mm,
                z_mm,
                number: whole(z_mm),
                lowest: false,
                axle: point.attach.is_axle(),
            }
        })
        .collect();
    let lowest = points.iter().map(|point| point.z_mm).fold(f64::INFINITY, f64::min);
    for point in &mut points {
        point.lowest = point.z_mm <= lowest;
    }
    points
}

/// The rim line from wheel to wheel, and the two strings from a rim to the bottom of the tire at the other end.
fn lines(car: &AtStance<'_>) -> Vec<SceneLine> {
    let edge = |front: bool| {
        let wheels = Corner::ALL.into_iter().filter(|corner| corner.is_front() == front);
        let edges: Option<Vec<f64>> = wheels.map(|corner| Some(car.rim_edge_mm(corner)?.value)).collect();
        edges.map(|edges| edges.into_iter().fold(f64::INFINITY, f64::min))
    };
    let Some((front, rear)) = edge(true).zip(edge(false)) else { return Vec::new() };
    let (rim, wheelbase) = (front.min(rear), car.vehicle.wheelbase_mm);
    let line = |words: &str, from_mm, to_mm| SceneLine { words: words.to_owned(), from_mm, to_mm };
    vec![
        line("rim line", [0.0, rim], [wheelbase, rim]),
        line("scrub line", [0.0, front], [wheelbase, 0.0]),
        line("scrub line", [0.0, 0.0], [wheelbase, rear]),
    ]
}

/// The picture of a row.
pub(super) fn picture(car: &AtStance<'_>, row: &Row, scene: Option<&CheckScene>) -> Option<CheckPicture> {
    let finding = row.finding.as_ref()?;
    match row.view.check.as_str() {
        "clearance" | "ramp" => Some(CheckPicture::Side { scene: Box::new(scene?.clone()) }),
        "flat_tire" => Some(CheckPicture::Side { scene: Box::new(flat(car, &finding.sentence, scene?)) }),
        "lamps" => beam(car, &row.view.what),
        "caster" => {
            let rod = car.vehicle.radius_rod.as_ref()?;
            let then_deg = rod.static_caster_deg?;
            let now_deg = if finding.what == "change" { then_deg + finding.value } else { finding.value };
            let text = format!("Caster was {then_deg:.1}°, now {now_deg:.1}°.");
            Some(CheckPicture::Caster { then_deg, now_deg, text })
        }
        _ => None,
    }
}

fn beam(car: &AtStance<'_>, what: &str) -> Option<CheckPicture> {
    let lamp = car.vehicle.all_lamps().iter().find(|lamp| lamp.id == what.trim_end_matches(", beam"))?;
    let then_percent = lamp.beam_drop_percent?;
    let since = car.since(lamp.measured_in.as_deref());
    let height_mm = car.height_since([lamp.x_mm, lamp.y_mm, lamp.z_mm], lamp.attach, lamp.measured_in.as_deref()).value;
    let now_percent = then_percent + 100.0 * Angle::deg(car.nose_down_deg(&since, lamp.x_mm).value).tan();
    let text = format!(
        "Over 10 m the beam fell {} mm as it was aimed, and falls {} mm now, from a lamp {} mm high.",
        whole(then_percent * 100.0),
        whole(now_percent * 100.0),
        whole(height_mm)
    );
    Some(CheckPicture::Beam { height_mm, then_percent, now_percent, text })
}

/// The same car with the wheels of a case down, and its points as they stand then.
fn flat(car: &AtStance<'_>, sentence: &str, scene: &CheckScene) -> CheckScene {
    let case = sentence.split(": ").next().unwrap_or_default();
    let down = |corner: Corner| {
        let named = case.starts_with(corner.code())
            || case.starts_with(if corner.is_left() { "left side" } else { "right side" });
        named
            .then(|| {
                if case.ends_with("rim") {
                    car.rim_edge_mm(corner).map(|edge| edge.value.max(0.0))
                } else {
                    car.flat_drop_mm(corner).map(|drop| drop.value)
                }
            })
            .flatten()
            .unwrap_or(0.0)
    };
    let mut flat = scene.clone();
    let (front, rear) = (down(Corner::FL) + down(Corner::FR), down(Corner::RL) + down(Corner::RR));
    // Seen from the side the body comes down by the mean of an axle's wheels; the flat wheel itself by all of it.
    flat.side.rail_front_mm -= front / 2.0;
    flat.side.rail_rear_mm -= rear / 2.0;
    flat.side.lip_front_mm = flat.side.lip_front_mm.map(|mm| mm - front / 2.0);
    flat.side.lip_rear_mm = flat.side.lip_rear_mm.map(|mm| mm - rear / 2.0);
    flat.side.front_wheel.loaded_radius_mm -= front;
    flat.side.rear_wheel.loaded_radius_mm -= rear;
    let found = trueground_core::checks::findings(car, &["flat_tire"]);
    let height = |id: &str, otherwise: f64| {
        let what = format!("{id}, {case}");
        found.iter().find(|finding| finding.what == what).map_or(otherwise, |finding| finding.value)
    };
    if !case.ends_with("rim") {
        flat.points = points(car, height);
    } else {
        flat.points.clear();
    }
    flat.lines.clear();
    flat.text = format!("{}. {}", capital(sentence.trim_end_matches('.')), text(&flat.points));
    flat
}
