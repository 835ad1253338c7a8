//! The steering's page: the curve of bump steer, the links from the side, and the height of the pitman ball that makes it least.

use super::{MEASURES, Seen, length, not_described, row};
use crate::wire::{CurveAt, MechanismRow, MechanismWords, SideLine, SidePoint, SteeringPicture, SteeringView};
use crate::words::{capital, degrees};
use trueground_core::bench::Refusal;
use trueground_core::checks::bumpsteer::{AtThisStance, CurvePoint, Guide, at_stance, with_pitman_ball};
use trueground_core::checks::{AtStance, Finding, findings};

/// What the page needs of the car at a stance.
pub(crate) struct Looked {
    steering: Option<Result<AtThisStance, Refusal>>,
    findings: Vec<Finding>,
}

/// Looks.
pub(crate) fn look(car: &AtStance<'_>) -> Looked {
    Looked { steering: at_stance(car), findings: findings(car, &["bumpsteer", "caster"]) }
}

/// The page.
pub(crate) fn page(seen: Seen<Looked>, inches: bool) -> SteeringView {
    let (words, picture) = match &seen.found.steering {
        None => {
            let detail = "Measure the balls, the kingpin and what leads the axle: how far the wheels steer by themselves over \
                          bumps follows, and the height of the pitman ball that makes it least.";
            (MechanismWords { rows: caster(&seen.found, inches), ..not_described("No steering yet.", detail) }, None)
        }
        Some(Err(refusal)) => {
            let words = MechanismWords {
                described: true,
                rows: caster(&seen.found, inches),
                cautions: cautions(),
                ..not_described(&refusal.message, &refusal.hint)
            };
            (words, None)
        }
        Some(Ok(at)) => (words(&seen, at, inches), Some(picture(at))),
    };
    let Seen { car, choices, stance, predicted, .. } = seen;
    SteeringView { car, words, choices, stance, predicted, picture }
}

fn caster(looked: &Looked, inches: bool) -> Vec<MechanismRow> {
    let of = looked.findings.iter().filter(|finding| finding.check == "caster");
    of.map(|finding| MechanismRow {
        of: format!("caster_{}", finding.what),
        bold: if finding.what == "change" { "Caster, change".to_owned() } else { capital(&finding.what) },
        ..row(finding, inches)
    })
    .collect()
}

fn cautions() -> Vec<String> {
    vec![
        "Steering work belongs to a licensed alignment shop; local codes may require approval.".to_owned(),
        "Tighten and pin every joint, turn from lock to lock and go from bump to bump before driving.".to_owned(),
        MEASURES.to_owned(),
    ]
}

fn words(seen: &Seen<Looked>, at: &AtThisStance, inches: bool) -> MechanismWords {
    let answer = &at.answer;
    let way = if answer.worst_at_travel_mm < 0.0 { "down" } else { "up" };
    let (worst, best) = (answer.worst_deg, &answer.best_pitman_ball);
    let would = if seen.predicted { "Would steer" } else { "Steers" };
    let flat = best.raise_mm.abs() < 0.5;
    let height = length(best.raise_mm.abs(), inches);
    let raise = if best.raise_mm < 0.0 { "lower" } else { "higher" };
    let detail = format!(
        "Most with the wheel {} {way}.{}",
        length(answer.worst_at_travel_mm.abs(), inches),
        if flat {
            " The pitman ball is at its best height.".to_owned()
        } else {
            format!(" With the pitman ball {height} {raise} it would be least.")
        }
    );
    let per_mm = answer.steer_deg_per_mm_at_rest;
    let mut rows = vec![
        MechanismRow {
            of: "at_rest".to_owned(),
            bold: "At rest".to_owned(),
            line: format!("For each 10 mm up, {}", to(per_mm)),
            value: format!("{:.2}°", 10.0 * per_mm.abs()),
            band: format!("\u{b1}{:.2}°", (2.0 * per_mm.abs()).max(0.01)),
            verdict: String::new(),
            number: per_mm,
            u: 0.1 * per_mm.abs(),
        },
        MechanismRow {
            of: "pitman_ball".to_owned(),
            bold: "Best pitman ball".to_owned(),
            line: if flat {
                "It is there: the box stays where it is on the rail".to_owned()
            } else {
                format!("At {}: the box goes {} the rail by as much", length(best.z_mm, inches), updown(best.raise_mm))
            },
            value: if flat { "0".to_owned() } else { height.clone() },
            band: if flat { String::new() } else { raise.to_owned() },
            verdict: String::new(),
            number: best.raise_mm,
            u: 0.1 * best.raise_mm.abs(),
        },
    ];
    let told = |what: &str| seen.found.findings.iter().find(|finding| finding.what == what);
    rows.extend(told("drag link against its guide").map(|finding| MechanismRow {
        of: "drag_link".to_owned(),
        bold: "Drag link to its guide".to_owned(),
        ..row(finding, inches)
    }));
    rows.extend(caster(&seen.found, inches));
    let notes = vec![
        format!(
            "The drag link slopes {}, what leads its ball {}. Level is not the goal: parallel and as long is.",
            degrees(answer.drag_link_angle_deg),
            degrees(at.guide_angle_deg)
        ),
        "Each number is worth about a tenth of itself. The drag link is taken as cut to fit, wheels straight ahead at rest.".to_owned(),
    ];
    MechanismWords {
        described: true,
        headline: format!("{would} {worst:.1}° by itself over bumps."),
        text: format!(
            "From the side: the drag link slopes {}, what leads its ball {}; best with the pitman ball at {}.",
            degrees(answer.drag_link_angle_deg),
            degrees(at.guide_angle_deg),
            length(best.z_mm, inches)
        ),
        detail,
        rows,
        cautions: cautions(),
        notes,
    }
}

const fn updown(raise_mm: f64) -> &'static str {
    if raise_mm < 0.0 { "down" } else { "up" }
}

/// Which way it steers.
fn to(deg: f64) -> &'static str {
    match deg {
        _ if deg > 0.000_5 => "to the left",
        _ if deg < -0.000_5 => "to the right",
        _ => "hardly either way",
    }
}

fn picture(at: &AtThisStance) -> SteeringPicture {
    let (linkage, answer) = (&at.linkage, &at.answer);
    let best = with_pitman_ball(linkage, answer.best_pitman_ball.z_mm).unwrap_or_default();
    let curve = |points: &[CurvePoint]| -> Vec<CurveAt> {
        points.iter().map(|point| CurveAt { along: point.travel_mm, value: point.steer_deg }).collect()
    };
    // The body stands lower or higher than when its points were measured; the ground goes with the wheel.
    let down = at.risen_mm.value;
    let (pitman, arm, hub) = (linkage.pitman_ball, linkage.arm_ball, linkage.hub);
    let point = |of: &str, words: &str, x_mm: f64, z_mm: f64| SidePoint {
        of: of.to_owned(),
        words: words.to_owned(),
        x_mm,
        z_mm: z_mm - down,
    };
    let line = |of: &str, words: &str, points: &[[f64; 2]]| SideLine {
        of: of.to_owned(),
        words: words.to_owned(),
        points: points.iter().map(|[x, z]| [*x, z - down]).collect(),
    };
    let mut points = vec![
        point("pitman_ball", "pitman ball", pitman.x, pitman.z),
        point("arm_ball", "arm ball", arm.x, arm.z),
        point("hub", "wheel centre", hub.x, hub.z),
    ];
    let mut lines = vec![line("drag_link", "drag link", &[[pitman.x, pitman.z], [arm.x, arm.z]])];
    match &linkage.guide {
        Guide::RadiusRod { pivot } => {
            points.push(point("pivot", "pivot", pivot.x, pivot.z));
            lines.push(line("guide", "radius rod", &[[pivot.x, pivot.z], [hub.x, hub.z]]));
        }
        Guide::Leaf { eye, .. } => {
            points.push(point("eye", "fixed eye", eye.x, eye.z));
            lines.push(line("guide", "spring", &[[eye.x, eye.z], [hub.x, hub.z]]));
        }
        Guide::FourBar { lower, upper } => {
            lines.push(line("guide", "lower bar", &[lower.frame, lower.axle]));
            lines.push(line("guide", "upper bar", &[upper.frame, upper.axle]));
        }
        Guide::Parallel => {}
    }
    let at_end = |points: &[CurvePoint]| {
        let said = |point: &CurvePoint| {
            format!("{:.2}° {} at {:.0} mm", point.steer_deg.abs(), to(point.steer_deg), point.travel_mm)
        };
        [points.first(), points.last()].into_iter().flatten().map(said).collect::<Vec<_>>().join(", ")
    };
    SteeringPicture {
        now: curve(&answer.bump_steer_curve),
        curve_text: format!(
            "Steer over the travel of the wheel: now {}; with the pitman ball at its best height {}.",
            at_end(&answer.bump_steer_curve),
            at_end(&best)
        ),
        best: curve(&best),
        points,
        lines,
        best_link: line(
            "best_drag_link",
            "drag link from the best pitman ball",
            &[[pitman.x, answer.best_pitman_ball.z_mm], [arm.x, arm.z]],
        ),
        wheel_mm: (hub.z - down).max(1.0),
    }
}
