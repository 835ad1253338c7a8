//! A body on rated stands: its heights above the floor as it lies under each mark. No springs carry it, so nothing is levelled or
//! brought to nominal, and nothing of it says anything about how the car rides.

use super::HeightSum;
use super::prior::TAPE_ZERO_U_MM;
use super::reply::NOT_READ;
use crate::capture::{CarFile, OwnedInstrument, Reading, Snapshot};
use crate::car::{PointKind, RefPoint};
use crate::corner::{Corner, Corners};
use crate::stance::{BudgetLine, DoubtSource, Figure, FloorUnderCar, Known, Line, SnapshotStance};
use std::collections::BTreeMap;

/// Marks nearer to each other than this along the car make no rake, mm.
const SHORTEST_RUN_MM: f64 = 100.0;

/// The file without its mock-ups, and those.
pub(super) fn apart(file: &CarFile) -> (CarFile, Vec<Snapshot>) {
    let mut file = file.clone();
    let (on_wheels, mock_ups) = std::mem::take(&mut file.snapshots).into_iter().partition(Snapshot::on_wheels);
    file.snapshots = on_wheels;
    (file, mock_ups)
}

/// What one tape's readings say too much, mm, its standard uncertainty, and that of one reading.
#[derive(Clone, Copy)]
struct Held {
    over_mm: f64,
    over_u_mm: f64,
    reading_u_mm: f64,
}

/// The tape that a reading was taken with, by what is known of it beforehand; see the priors on instruments.
fn held(file: &CarFile, snapshot: &Snapshot, reading: &Reading) -> Held {
    let named = reading.instrument.as_deref().or(snapshot.tape.as_deref());
    let owned = file.instruments.iter().find_map(|owned| match owned {
        OwnedInstrument::Tape(tape) if Some(tape.id.as_str()) == named => Some(tape),
        _ => None,
    });
    let Some(tape) = owned else {
        return Held { over_mm: 0.0, over_u_mm: TAPE_ZERO_U_MM, reading_u_mm: file.instrument.reading_u_mm() };
    };
    let (over_mm, zero_u_mm) = match (tape.newest_check(), &tape.hook_mm) {
        (Some(check), _) => (check.read_mm - check.true_mm, check.u_mm),
        (None, Some(hook)) if tape.read_from_mm == 0.0 => (hook.value, hook.u),
        _ => (tape.read_from_mm, TAPE_ZERO_U_MM),
    };
    let within_class_u_mm = tape.class_that_counts().limit_mm(reading.value_mm) / 3.0_f64.sqrt();
    let reading_u_mm = tape.reading_u_mm(file.instrument.tape_reading_u_mm);
    Held { over_mm, over_u_mm: zero_u_mm.hypot(within_class_u_mm), reading_u_mm }
}

/// What was read at one mark, mm: the mean less what the tape says too much, the variances of the readings and of the zero.
struct Mark {
    tape_mm: f64,
    mean_mm: f64,
    variance: f64,
    zero_variance: f64,
    readings: usize,
    bounces: usize,
}

/// `None` where nothing was read there.
fn mark(file: &CarFile, snapshot: &Snapshot, point: &str) -> Option<Mark> {
    let mut read: Vec<(f64, Held)> = Vec::new();
    let mut bounces = 0;
    for bounce in &snapshot.bounces {
        let before = read.len();
        let here = bounce.readings.iter().filter(|reading| reading.point == point && reading.struck.is_none());
        read.extend(here.map(|reading| (reading.value_mm, held(file, snapshot, reading))));
        bounces += usize::from(read.len() > before);
    }
    if read.is_empty() {
        return None;
    }
    let count = read.len() as f64;
    let mean = |of: &dyn Fn(&(f64, Held)) -> f64| read.iter().map(of).sum::<f64>() / count;
    Some(Mark {
        tape_mm: mean(&|(value, _)| *value),
        mean_mm: mean(&|(value, held)| value - held.over_mm),
        variance: mean(&|(_, held)| held.reading_u_mm.powi(2)) / count,
        zero_variance: mean(&|(_, held)| held.over_u_mm.powi(2)),
        readings: read.len(),
        bounces,
    })
}

/// A combination of marks, each with its weight: value, the variance of the readings and that of the zero of one mark; `None` where
/// one was not read.
fn combined(file: &CarFile, snapshot: &Snapshot, terms: &[(&RefPoint, f64)]) -> Option<(f64, f64, f64)> {
    terms.iter().try_fold((0.0, 0.0, 0.0_f64), |(sum, variance, zero), (point, weight)| {
        let mark = mark(file, snapshot, &point.id)?;
        Some((sum + weight * mark.mean_mm, variance + weight * weight * mark.variance, zero.max(mark.zero_variance)))
    })
}

fn measured(value: f64, variance: f64) -> Figure {
    Figure { value: Some(value), u: Some(variance.sqrt()), known: Known::Measured, band_if: None }
}

/// The zero of the hook is in every height and every mean, and falls out of a difference.
fn height(file: &CarFile, snapshot: &Snapshot, terms: &[(&RefPoint, f64)]) -> Option<Figure> {
    combined(file, snapshot, terms).map(|(value, variance, zero)| measured(value, variance + zero))
}

/// The stance of a mock-up: heights, means and rake above the floor as it lies.
pub(super) fn stance(file: &CarFile, snapshot: &Snapshot) -> SnapshotStance {
    let points = &file.vehicle.ref_points;
    let heights: BTreeMap<String, Figure> =
        points.iter().filter_map(|point| Some((point.id.clone(), height(file, snapshot, &[(point, 1.0)])?))).collect();
    let lines: BTreeMap<String, Line> = PointKind::ALL
        .into_iter()
        .filter_map(|kind| Some((kind.code().to_owned(), line(file, snapshot, kind)?)))
        .collect();
    let readings: usize =
        points.iter().filter_map(|point| mark(file, snapshot, &point.id)).map(|mark| mark.readings).sum();
    SnapshotStance {
        id: snapshot.id.clone(),
        degrees_of_freedom: (readings - heights.len()) as f64,
        heights_nominal: heights.clone(),
        heights,
        lines_nominal: lines.clone(),
        lines,
        loaded_radius: BTreeMap::new(),
        floor: FloorUnderCar {
            elevation_mm: Corners::from_fn(|_| NOT_READ),
            twist_mm: NOT_READ,
            long_slope_deg: NOT_READ,
            cross_slope_front_deg: NOT_READ,
            cross_slope_rear_deg: NOT_READ,
        },
        doubtful: Vec::new(),
        next_reading: Vec::new(),
        variance_factor: None,
        fits_stated_uncertainty: None,
    }
}

fn at<'f>(file: &'f CarFile, snapshot: &Snapshot, kind: PointKind, corner: Corner) -> Option<&'f RefPoint> {
    file.vehicle.mark_at(kind, corner, |point| mark(file, snapshot, &point.id).is_some())
}

fn line(file: &CarFile, snapshot: &Snapshot, kind: PointKind) -> Option<Line> {
    let mean = |front: bool| {
        let (left, right) = if front { (Corner::FL, Corner::FR) } else { (Corner::RL, Corner::RR) };
        height(file, snapshot, &[(at(file, snapshot, kind, left)?, 0.5), (at(file, snapshot, kind, right)?, 0.5)])
    };
    let (front, rear) = (mean(true), mean(false));
    front.or(rear)?;
    let (rake_mm, rake_deg) = rake(file, snapshot, kind).unwrap_or((NOT_READ, NOT_READ));
    Some(Line {
        front_mean_mm: front.unwrap_or(NOT_READ),
        rear_mean_mm: rear.unwrap_or(NOT_READ),
        rake_mm,
        rake_deg,
        // Left and right of a body on stands say how the stands and the floor are, not the car.
        front_left_minus_right_mm: NOT_READ,
        rear_left_minus_right_mm: NOT_READ,
        twist_mm: NOT_READ,
        lean_mm: NOT_READ,
    })
}

/// Rear less front, mm, and the angle against the floor, degrees.
fn rake(file: &CarFile, snapshot: &Snapshot, kind: PointKind) -> Option<(Figure, Figure)> {
    let [fl, fr, rl, rr] =
        [Corner::FL, Corner::FR, Corner::RL, Corner::RR].map(|corner| at(file, snapshot, kind, corner));
    let (fl, fr, rl, rr) = (fl?, fr?, rl?, rr?);
    let (rise, variance, _) = combined(file, snapshot, &[(rl, 0.5), (rr, 0.5), (fl, -0.5), (fr, -0.5)])?;
    let run = (fl.x_mm + fr.x_mm - rl.x_mm - rr.x_mm) / 2.0;
    let angle = (run > SHORTEST_RUN_MM).then(|| {
        let slope = rise / run;
        let per_mm = 1.0_f64.to_degrees() / (run * (1.0 + slope * slope));
        measured(libm::atan(slope).to_degrees(), variance * per_mm * per_mm)
    });
    Some((measured(rise, variance), angle.unwrap_or(NOT_READ)))
}

/// Where the doubt of a mock-up's height comes from: the tape and what its end says too much.
pub(super) fn budget(file: &CarFile, snapshot: &Snapshot, figure: &str) -> Option<Vec<BudgetLine>> {
    let (sort, rest) = figure.split_once('.')?;
    let corners = |kind: &str, wanted: &[Corner], weight: f64| -> Option<Vec<(&RefPoint, f64)>> {
        let kind = PointKind::ALL.into_iter().find(|known| known.code() == kind)?;
        wanted.iter().map(|corner| Some((at(file, snapshot, kind, *corner)?, weight))).collect()
    };
    let (terms, with_zero) = match sort {
        "heights" | "heights_nominal" => {
            (vec![(file.vehicle.ref_points.iter().find(|point| point.id == rest)?, 1.0)], true)
        }
        "lines" | "lines_nominal" => {
            let (kind, name) = rest.split_once('.')?;
            match name {
                "front_mean_mm" => (corners(kind, &[Corner::FL, Corner::FR], 0.5)?, true),
                "rear_mean_mm" => (corners(kind, &[Corner::RL, Corner::RR], 0.5)?, true),
                "rake_mm" | "rake_deg" => (corners(kind, &Corner::ALL, 0.5)?, false),
                _ => return None,
            }
        }
        _ => return None,
    };
    let (_, variance, zero) = combined(file, snapshot, &terms)?;
    let mut tape = variance.sqrt();
    if rest.ends_with("rake_deg") {
        let (kind, _) = rest.split_once('.')?;
        let kind = PointKind::ALL.into_iter().find(|known| known.code() == kind)?;
        tape = rake(file, snapshot, kind)?.1.u?;
    }
    let of = |source, u| BudgetLine { source, u, assumed: false, instrument: None };
    let mut lines = vec![of(DoubtSource::Tape, tape)];
    if with_zero {
        lines.push(of(DoubtSource::TapeZero, zero.sqrt()));
    }
    lines.sort_by(|a, b| b.u.total_cmp(&a.u));
    Some(lines)
}

/// A mock-up's height is what the tape said, less what that is known to say too much.
pub(super) fn height_sum(file: &CarFile, snapshot: &Snapshot, point: &str) -> Option<HeightSum> {
    let mark = mark(file, snapshot, point)?;
    Some(HeightSum {
        tape_mm: mark.tape_mm,
        instrument_mm: mark.mean_mm - mark.tape_mm,
        readings: mark.readings,
        bounces: mark.bounces,
        floor_mm: 0.0,
        car_mm: 0.0,
        level_mm: mark.mean_mm,
    })
}

#[cfg(test)]
mod tests {
    use crate::capture::CarFile;
    use crate::level::{Options, solve};
    use crate::stance::Known;
    use serde_json::{Value, json};

    fn snapshot(id: &str, heights: [f64; 4], more: Value) -> Value {
        let corners = ["FL", "FR", "RL", "RR"];
        let read = |(corner, height): (&str, f64)| json!({"ref": format!("rail.{corner}"), "text": height.to_string(), "value_mm": height});
        let readings: Vec<Value> = corners.into_iter().zip(heights).map(read).collect();
        let mut snapshot = json!({"id": id, "date": "2031-04-12", "floor": "f", "bounces": [{"bounce_id": format!("{id}.1"), "readings": readings}]});
        snapshot.as_object_mut().expect("an object").extend(more.as_object().expect("an object").clone());
        snapshot
    }

    fn file(snapshots: Vec<Value>) -> CarFile {
        let points = [("FL", -300.0, 350.0), ("FR", -300.0, -350.0), ("RL", -2300.0, 420.0), ("RR", -2300.0, -420.0)];
        let points: Vec<Value> = points
            .into_iter()
            .map(|(corner, x, y)| json!({"id": format!("rail.{corner}"), "corner": corner, "kind": "frame_rail", "x_mm": x, "y_mm": y}))
            .collect();
        let spots = ["S1", "S2", "S3", "S4"].map(|spot| json!({"point": spot, "text": "900", "value_mm": 900.0}));
        serde_json::from_value(json!({
            "vehicle": {"label": "x", "wheelbase_mm": 2600, "track_front_mm": 1400, "track_rear_mm": 1400, "ref_points": points},
            "floors": [{"id": "f", "survey": {"passes": [{"pass_no": 1, "readings": spots}]}}],
            "snapshots": snapshots,
        }))
        .expect("well-formed")
    }

    const RIDE: [f64; 4] = [400.0, 404.0, 436.0, 438.0];
    const STANDS: [f64; 4] = [560.0, 552.0, 640.0, 608.0];

    /// Hand sums: means 556 and 624; 68 over 2000 is 1.947°; one reading of 1.2 mm with 0.289 for its division and 0.5 of zero.
    #[test]
    fn a_mock_up_is_what_the_tape_said_above_the_floor() {
        let on_stands = file(vec![snapshot("m", STANDS, json!({"standing": "mock_up"}))]);
        let solution = solve(&on_stands, &Options::default()).expect("readings");
        let stance = &solution.snapshots[0];
        let line = &stance.lines["frame_rail"];
        assert_eq!((line.front_mean_mm.value, line.rear_mean_mm.value), (Some(556.0), Some(624.0)));
        assert!((line.rake_deg.value.expect("known") - 1.9473).abs() < 1e-3);
        let height = stance.heights["rail.FL"];
        assert_eq!((height.value, height.known), (Some(560.0), Known::Measured));
        assert!((height.u.expect("known") - (1.2_f64 * 1.2 + 1.0 / 12.0 + 0.25).sqrt()).abs() < 1e-3, "{height:?}");
        assert!(
            line.front_left_minus_right_mm.value.is_none() && line.lean_mm.value.is_none(),
            "says nothing of sides"
        );
        let budget = solution.budget("m", "heights.rail.FL").expect("a height");
        let whole: f64 = budget.iter().map(|line| line.u * line.u).sum();
        assert!((whole.sqrt() - height.u.expect("known")).abs() < 1e-9);
        assert_eq!(solution.height_sum("m", "rail.FL").map(|sum| sum.level_mm), Some(560.0));
    }

    /// Whatever stands on stands, before or after, moves no number of the car on its wheels.
    #[test]
    fn a_mock_up_takes_no_part_in_what_is_known_of_the_car() {
        let alone = file(vec![snapshot("s", RIDE, json!({}))]);
        let mock_up = |id: &str| snapshot(id, STANDS, json!({"standing": "mock_up"}));
        let among = file(vec![mock_up("m1"), snapshot("s", RIDE, json!({})), mock_up("m2")]);
        for options in [Options::default(), Options { carry_twist: true }] {
            let (alone, among) =
                (solve(&alone, &options).expect("readings"), solve(&among, &options).expect("readings"));
            assert_eq!(among.snapshots.iter().map(|stance| stance.id.as_str()).collect::<Vec<_>>(), ["m1", "s", "m2"]);
            assert_eq!(among.snapshots[1], alone.snapshots[0]);
            assert_eq!(among.shared(), alone.shared());
            let path = "heights.rail.RR";
            assert_eq!(among.budget("s", path), alone.budget("s", path));
            assert_eq!(among.height_sum("s", "rail.RR"), alone.height_sum("s", "rail.RR"));
        }
    }
}
