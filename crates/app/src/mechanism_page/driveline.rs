//! The driveline's page: joints at rest and over the travel, the slip, and what wants to stand level.

use super::{MEASURES, Seen, length, not_described, row};
use crate::wire::{DrivelinePicture, DrivelineView, MechanismWords, ShaftRow, SideLine, SidePoint};
use trueground_core::checks::driveline::{ShaftAt, over_travel, slip_left_mm};
use trueground_core::checks::{AtStance, Finding, Verdict, findings};
use trueground_core::corner::Corner;

/// What the page needs of the car at a stance.
pub(crate) struct Looked {
    shafts: Vec<ShaftAt>,
    slips: Vec<Option<f64>>,
    findings: Vec<Finding>,
    closed: bool,
    hub: [f64; 2],
}

/// Looks.
pub(crate) fn look(car: &AtStance<'_>) -> Looked {
    let shafts = over_travel(car);
    let rest = shafts.iter().find(|at| at.travel_mm == 0.0).map_or(0.0, |at| at.length_mm);
    let line = car.vehicle.driveline.as_ref();
    let slips = shafts.iter().map(|at| slip_left_mm(line?, at.length_mm - rest)).collect();
    let radius = f64::midpoint(car.loaded_radius.at(Corner::RL).value, car.loaded_radius.at(Corner::RR).value);
    Looked {
        slips,
        findings: findings(car, &["driveline", "attitude"]),
        closed: line.is_some_and(|line| line.pinion_deg.is_none()),
        hub: [-car.vehicle.wheelbase_mm, radius],
        shafts,
    }
}

/// The page.
pub(crate) fn page(seen: Seen<Looked>, inches: bool) -> DrivelineView {
    let looked = &seen.found;
    let rest = looked.shafts.iter().find(|at| at.travel_mm == 0.0);
    let words = if rest.is_none() && looked.findings.is_empty() {
        let detail = "Measure the joints and their slopes: what they work at follows, and what the shaft does when the axle moves.";
        not_described("No driveline yet.", detail)
    } else {
        words(&seen, rest, inches)
    };
    DrivelineView {
        words,
        picture: rest.map(|rest| picture(looked, rest)),
        table: rest.map_or_else(Vec::new, |rest| table(looked, rest, inches)),
        car: seen.car,
        choices: seen.choices,
        stance: seen.stance,
        predicted: seen.predicted,
    }
}

fn words(seen: &Seen<Looked>, rest: Option<&ShaftAt>, inches: bool) -> MechanismWords {
    let looked = &seen.found;
    let is = |verdict: Verdict| looked.findings.iter().filter(move |finding| finding.verdict == Some(verdict));
    let bad: Vec<&Finding> = is(Verdict::Outside).chain(is(Verdict::Touches)).collect();
    let unsure = is(Verdict::CantTell).next();
    let headline = match (&bad[..], unsure) {
        ([], None) if rest.is_some() => "Joints and levels lie within.".to_owned(),
        ([], None) => "What wants to stand level does.".to_owned(),
        ([], Some(finding)) => format!("Can\u{2019}t tell: {}.", finding.what),
        ([one], _) => outside(one, inches),
        (many, _) => format!("{} numbers lie outside.", crate::words::capital(&crate::words::count(many.len()))),
    };
    let detail = rest.map_or_else(String::new, |rest| match rest.rear_joint_deg {
        Some(rear) => format!(
            "The front joint works at {:.1}°, the rear one at {:.1}°; the shaft {} {:.1}° to the rear.",
            rest.front_joint_deg.abs(),
            rear.abs(),
            if rest.slope_deg < 0.0 { "rises" } else { "falls" },
            rest.slope_deg.abs()
        ),
        None => format!("The one joint of the torque tube works at {:.1}°.", rest.front_joint_deg.abs()),
    });
    // What only tells of an end of the travel stands in the table.
    let tells = |finding: &&Finding| finding.verdict.is_some() || !finding.what.starts_with("larger joint");
    let rows = looked.findings.iter().filter(tells).map(|finding| row(finding, inches)).collect();
    let text = looked.shafts.iter().map(|at| {
        let rear = at.rear_joint_deg.map_or_else(String::new, |rear| format!(", rear joint {:.1}°", rear.abs()));
        format!("{}: front joint {:.1}°{rear}", travel_words(at.travel_mm, inches), at.front_joint_deg.abs())
    });
    MechanismWords {
        described: true,
        headline,
        text: format!("The shaft from the side. {}.", text.collect::<Vec<_>>().join("; ")),
        detail,
        rows,
        cautions: vec![
            "Re-torque the U-bolts after the first drive, and look that the shaft clears tunnel and exhaust at full bump.".to_owned(),
            MEASURES.to_owned(),
        ],
        notes: vec![
            "1 to 3° a joint and both equal within 1° are common practice, no source. A closed torque tube has one joint only.".to_owned(),
        ],
    }
}

fn outside(finding: &Finding, inches: bool) -> String {
    let name = crate::words::capital(&finding.what);
    match finding.unit {
        "mm" => format!("{name}: {} left.", length(finding.value, inches)),
        _ => format!("{name}: {}.", crate::words::degrees(finding.value)),
    }
}

fn travel_words(travel_mm: f64, inches: bool) -> String {
    match travel_mm {
        0.0 => "at rest".to_owned(),
        down if down < 0.0 => format!("{} down", length(-down, inches)),
        up => format!("{} up", length(up, inches)),
    }
}

fn table(looked: &Looked, rest: &ShaftAt, inches: bool) -> Vec<ShaftRow> {
    let row = |(at, slip): (&ShaftAt, &Option<f64>)| ShaftRow {
        words: travel_words(at.travel_mm, inches),
        travel_mm: at.travel_mm,
        front_joint_deg: at.front_joint_deg,
        rear_joint_deg: at.rear_joint_deg,
        longer_mm: (!looked.closed).then_some(at.length_mm - rest.length_mm),
        slip_left_mm: slip.filter(|_| !looked.closed && at.travel_mm != 0.0),
    };
    looked.shafts.iter().zip(&looked.slips).map(row).collect()
}

/// How long transmission and pinion are drawn, mm.
const STUB_MM: f64 = 260.0;

fn picture(looked: &Looked, rest: &ShaftAt) -> DrivelinePicture {
    let line =
        |of: &str, words: &str, points: Vec<[f64; 2]>| SideLine { of: of.to_owned(), words: words.to_owned(), points };
    // Ahead of its joint a falling transmission lies higher, behind its joint a falling pinion lower.
    let stub = |[x, z]: [f64; 2], slope_deg: f64, ahead: f64| {
        let slope = trueground_core::units::Angle::deg(slope_deg);
        [x + ahead * slope.cos(), z + ahead * slope.sin()]
    };
    let mut lines = vec![
        line("transmission", "transmission", vec![stub(rest.front, rest.transmission_deg, STUB_MM), rest.front]),
        line("shaft", if looked.closed { "torque tube" } else { "shaft" }, vec![rest.front, rest.rear]),
    ];
    if let Some(pinion) = rest.pinion_deg {
        lines.push(line("pinion", "pinion", vec![rest.rear, stub(rest.rear, pinion, -STUB_MM / 2.0)]));
    }
    let point = |of: &str, words: &str, [x_mm, z_mm]: [f64; 2]| SidePoint {
        of: of.to_owned(),
        words: words.to_owned(),
        x_mm,
        z_mm,
    };
    let mut points = vec![point("front_joint", "front joint", rest.front)];
    points.push(if looked.closed {
        point("axle", "axle", rest.rear)
    } else {
        point("rear_joint", "rear joint", rest.rear)
    });
    let moved = looked.shafts.iter().filter(|at| at.travel_mm != 0.0);
    DrivelinePicture {
        points,
        rest: lines,
        moved: moved
            .map(|at| line(if at.travel_mm < 0.0 { "droop" } else { "bump" }, "shaft", vec![at.front, at.rear]))
            .collect(),
        wheel_mm: looked.hub[1],
        hub: looked.hub,
        torque_tube: looked.closed,
    }
}
