//! Rake and lean over the same days: what settles evenly leaves both alone, and once it has settled a chart says whether they drift.

use super::words::short_day;
use super::{Shown, since_day_0};
use crate::wire::{
    DriftWord, SettlingCurve, SettlingEnd, SettlingLimits, SettlingMark, SettlingStrip, SettlingStripPoint,
};
use crate::words::{band_deg, band_mm, capital, counted, degrees, known, whole};
use std::collections::BTreeSet;
use trueground_core::stance::{Figure, Line};
use trueground_core::trend::{ChartOf, Drift, DriftLimits, DriftUnknown, DriftVerdict, SnapshotHeight};

/// What the two strips show.
struct Asked {
    what: &'static str,
    /// What a positive and a negative number count.
    sides: [&'static str; 2],
    /// Which way a drift goes.
    ways: [&'static str; 2],
    of: fn(&Line) -> &Figure,
    chart: ChartOf,
}

const ASKED: [Asked; 2] = [
    Asked {
        what: "rake",
        sides: ["rear higher than front", "rear lower than front"],
        ways: ["more nose-down", "more nose-up"],
        of: |line| &line.rake_mm,
        chart: ChartOf::RakeMm,
    },
    Asked {
        what: "lean",
        sides: ["left side higher", "right side higher"],
        ways: ["higher on the left", "higher on the right"],
        of: |line| &line.lean_mm,
        chart: ChartOf::LeanMm,
    },
];

/// Those of the two that are known on two days at least.
pub(super) fn strips(shown: &Shown<'_>, ends: &[SettlingEnd], marks: &[SettlingMark]) -> Vec<SettlingStrip> {
    let mut seen = BTreeSet::new();
    let mut heights: Vec<&SnapshotHeight> = shown.lines.iter().flat_map(|line| since_day_0(line)).collect();
    heights.retain(|height| seen.insert(&height.snapshot));
    heights.sort_by(|a, b| a.day.total_cmp(&b.day));
    ASKED.iter().filter_map(|asked| strip(shown, asked, &heights, ends, marks)).collect()
}

fn strip(
    shown: &Shown<'_>,
    asked: &Asked,
    heights: &[&SnapshotHeight],
    ends: &[SettlingEnd],
    marks: &[SettlingMark],
) -> Option<SettlingStrip> {
    let read: Vec<(&SnapshotHeight, f64, f64)> = heights
        .iter()
        .filter_map(|height| {
            let stance = shown.about.solved.stance(&height.snapshot)?;
            let (value, u) = known((asked.of)(stance.lines_nominal.get(shown.kind.code())?))?;
            Some((*height, value, u))
        })
        .collect();
    let ((first, ..), (last, ..)) = (read.first()?, read.last()?);
    if read.len() < 2 {
        return None;
    }
    // Its numbers are counted the way the car stands for the most part, so that they are seldom below zero.
    let sum: f64 = read.iter().map(|(_, value, _)| value).sum();
    let (sign, side) = if sum < 0.0 { (-1.0, asked.sides[1]) } else { (1.0, asked.sides[0]) };
    let drift = shown.about.drifts.iter().find(|drift| drift.kind == shown.kind && drift.figure == asked.chart);
    let limits = |name: &str| {
        let point = drift?.points.iter().find(|point| point.snapshot == name)?;
        point.limits.as_ref().map(|limits| seen_from(sign, limits))
    };
    let points = read.iter().filter_map(|(height, value, u)| {
        Some(SettlingStripPoint {
            snapshot: shown.id_of(&height.snapshot),
            at: shown.axis.of(height)?,
            value_mm: sign * value,
            band_mm: 2.0 * u,
            limits: limits(&height.snapshot),
        })
    });
    Some(SettlingStrip {
        what: asked.what.to_owned(),
        words: format!("{}: {side}, mm", capital(asked.what)),
        points: points.collect(),
        curve: if asked.chart == ChartOf::RakeMm { curve(sign, ends) } else { Vec::new() },
        values: values(sign, &read, marks),
        change: change(shown, asked, first, last),
        word: drift.map_or(DriftWord::CantTell, word),
        drift: drift.map_or(String::new(), |drift| sentence(asked, drift)),
        legend: drift.map_or(String::new(), legend),
    })
}

/// Rear law less front law. Their doubts count as independent: the same tape and floor are in both, so the band is a little too wide.
fn curve(sign: f64, ends: &[SettlingEnd]) -> Vec<SettlingCurve> {
    let of = |end: &str| ends.iter().find(|known| known.end == end).map_or(&[][..], |end| &end.curve);
    let pairs = of("front").iter().zip(of("rear"));
    let alike = of("front").len() == of("rear").len() && pairs.clone().all(|(front, rear)| front.at == rear.at);
    let less = |(front, rear): (&SettlingCurve, &SettlingCurve)| SettlingCurve {
        at: front.at,
        height_mm: sign * (rear.height_mm - front.height_mm),
        band_mm: front.band_mm.hypot(rear.band_mm),
    };
    if alike { pairs.map(less).collect() } else { Vec::new() }
}

/// "Day 0: 27 ±3 mm. Day 7: 26 ±3 mm. 3 May, leaves out."
fn values(sign: f64, read: &[(&SnapshotHeight, f64, f64)], marks: &[SettlingMark]) -> String {
    let day = |(height, value, u): &(&SnapshotHeight, f64, f64)| {
        format!("Day {}: {} \u{b1}{} mm.", whole(height.day), whole(sign * value), whole(band_mm(*u)))
    };
    let work = marks.iter().map(|mark| format!("{}.", mark.words));
    read.iter().map(day).chain(work).collect::<Vec<_>>().join(" ")
}

/// Limits of a number that is counted the other way.
fn seen_from(sign: f64, limits: &DriftLimits) -> SettlingLimits {
    let between = |a: f64, b: f64| if sign < 0.0 { (-b, -a) } else { (a, b) };
    let (lower_mm, upper_mm) = between(limits.lower_mm, limits.upper_mm);
    let (mean_lower_mm, mean_upper_mm) = between(limits.fading_lower_mm, limits.fading_upper_mm);
    SettlingLimits {
        lower_mm,
        upper_mm,
        mean_mm: sign * limits.fading_mean_mm,
        mean_lower_mm,
        mean_upper_mm,
        is_out: limits.is_out,
    }
}

/// "0.9° nose-up on day 0, 0.8° on day 70, ±0.1°: the same."
fn change(shown: &Shown<'_>, asked: &Asked, first: &SnapshotHeight, last: &SnapshotHeight) -> String {
    let rake = asked.chart == ChartOf::RakeMm;
    let of = |height: &SnapshotHeight| {
        let line = shown.about.solved.stance(&height.snapshot)?.lines_nominal.get(shown.kind.code())?;
        known(if rake { &line.rake_deg } else { &line.lean_mm })
    };
    let field = if rake { "rake_deg" } else { "lean_mm" };
    let path = format!("lines_nominal.{}.{field}", shown.kind.code());
    let change = shown.about.solution.change(&first.snapshot, &last.snapshot, &path);
    let Some(((then, _), (now, _), (by, u))) = (|| Some((of(first)?, of(last)?, change.as_ref().and_then(known)?)))()
    else {
        return String::new();
    };
    let word = if by.abs() <= 2.0 * u {
        "the same"
    } else if by.abs() > 3.0 * u {
        "changed"
    } else {
        "can\u{2019}t tell"
    };
    let size = |value: f64| if rake { degrees(value.abs()) } else { format!("{} mm", whole(value.abs())) };
    let sides = if rake { ["nose-down", "nose-up"] } else { ["higher on the left", "higher on the right"] };
    let side = |value: f64| if value < 0.0 { sides[1] } else { sides[0] };
    let of_now = if side(then) == side(now) { size(now) } else { format!("{} {}", size(now), side(now)) };
    let band = if rake { format!("{:.1}°", band_deg(u)) } else { format!("{} mm", whole(band_mm(u))) };
    let (from, to) = (whole(first.day), whole(last.day));
    format!("{} {} on day {from}, {of_now} on day {to}, ±{band}: {word}.", size(then), side(then))
}

const fn word(drift: &Drift) -> DriftWord {
    match drift.verdict {
        DriftVerdict::Steady => DriftWord::Steady,
        DriftVerdict::Drifting => DriftWord::Drifting,
        DriftVerdict::CantTell => DriftWord::CantTell,
    }
}

fn sentence(asked: &Asked, drift: &Drift) -> String {
    let since = drift.since.as_deref().map(short_day).unwrap_or_default();
    let mut said = match (drift.verdict, drift.unknown) {
        (DriftVerdict::Steady, _) => {
            format!("Steady since {since}, {}.", counted(drift.points.len(), "snapshot", "snapshots"))
        }
        (DriftVerdict::Drifting, _) => drifting(asked, drift),
        (_, Some(DriftUnknown::NotSettled)) => {
            "Whether it drifts can\u{2019}t be told before front and rear have settled.".to_owned()
        }
        _ => {
            let more = counted(drift.more_readings, "snapshot", "snapshots");
            format!("Whether it drifts can\u{2019}t be told yet: it takes {more} more.")
        }
    };
    for point in drift.points.iter().filter(|point| point.limits.is_some_and(|limits| limits.is_out)) {
        said += &format!(" {} lies outside of its limits: look at that day again.", short_day(&point.date));
    }
    said
}

/// "Drifting: 7 mm more nose-down than at first, ±3, seen since 3 Sept."
fn drifting(asked: &Asked, drift: &Drift) -> String {
    let began = drift.points.iter().find(|point| Some(&point.snapshot) == drift.moved_since.as_ref());
    let began = began.map_or(String::new(), |point| format!(", seen since {}", short_day(&point.date)));
    match drift.moved_mm {
        Some(moved) => format!(
            "Drifting: {} mm {} than at first, ±{}{began}.",
            whole(moved.value.abs()),
            asked.ways[usize::from(moved.value < 0.0)],
            whole(band_mm(moved.u))
        ),
        None => format!("Drifting{began}."),
    }
}

fn legend(drift: &Drift) -> String {
    if drift.points.iter().all(|point| point.limits.is_none()) {
        return String::new();
    }
    format!(
        "Shaded: where a day should lie. Line: the mean of the last days; outside of the thin lines it drifts. A steady car is called drifting once in {} snapshots at most.",
        thousands(drift.readings_to_a_false_alarm)
    )
}

/// "1,000"
fn thousands(number: f64) -> String {
    let text = whole(number);
    match text.len().checked_sub(3).filter(|at| *at > 0 && text.is_ascii()) {
        Some(at) => format!("{},{}", &text[..at], &text[at..]),
        None => text,
    }
}
