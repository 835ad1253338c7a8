//! Where a number comes from: the sum in whole millimetres, and every source of its doubt.

use crate::next_words::{corner, title, unit, view};
use crate::result_page::About;
use crate::wire::{BudgetRow, SumLine, WhyView};
use crate::words::{counted, day};
use trueground_core::capture::{Floor, OwnedInstrument};
use trueground_core::level::HeightSum;
use trueground_core::stance::{BudgetLine, DoubtSource, Figure, Line, SnapshotStance};

/// A source below this part of the whole is not shown: a thousandth of the variance could not be seen in any bar.
const SMALLEST_PART: f64 = 0.03;

/// The sheet; `None` where there is no such figure.
pub(crate) fn page(about: &About<'_>, figure: &str) -> Option<WhyView> {
    let vehicle = &about.solved.file.vehicle;
    let value = find(about.stance, figure)?;
    let sum = figure.strip_prefix("heights.").and_then(|point| about.solution.height_sum(&about.stance.id, point));
    let budget = about.solution.budget(&about.stance.id, figure).unwrap_or_default();
    let next = about.solution.next_readings(&about.stance.id, figure).unwrap_or_default();
    let unit = unit(figure);
    let inside = match unit {
        "deg" => "the true angle is inside",
        _ if figure.starts_with("heights") || figure.ends_with("_mean_mm") => "the true height is inside",
        _ => "the true value is inside",
    };
    Some(WhyView {
        title: title(figure, vehicle),
        corner: corner(figure),
        figure: value,
        unit: unit.to_owned(),
        sum: sum.as_ref().map(lines).unwrap_or_default(),
        budget: budget
            .into_iter()
            .filter(|line| value.u.is_none_or(|u| line.u >= SMALLEST_PART * u))
            .map(|line| row(about, line, sum.as_ref()))
            .collect(),
        adds: format!("They add like the sides of a right angle. Nineteen times in twenty {inside}."),
        next: next.first().map(|reading| view(reading, vehicle)),
    })
}

/// The figure of a path such as `heights.rail.RL` or `lines.frame_rail.rake_deg`.
fn find(stance: &SnapshotStance, path: &str) -> Option<Figure> {
    let (sort, rest) = path.split_once('.')?;
    match sort {
        "heights" => stance.heights.get(rest).copied(),
        "heights_nominal" => stance.heights_nominal.get(rest).copied(),
        "loaded_radius" => stance.loaded_radius.get(rest).copied(),
        "lines" | "lines_nominal" => {
            let (kind, result) = rest.split_once('.')?;
            let lines = if sort == "lines" { &stance.lines } else { &stance.lines_nominal };
            of_line(lines.get(kind)?, result)
        }
        "floor" => match rest {
            "twist_mm" => Some(stance.floor.twist_mm),
            "long_slope_deg" => Some(stance.floor.long_slope_deg),
            "cross_slope_front_deg" => Some(stance.floor.cross_slope_front_deg),
            "cross_slope_rear_deg" => Some(stance.floor.cross_slope_rear_deg),
            _ => None,
        },
        _ => None,
    }
}

fn of_line(line: &Line, result: &str) -> Option<Figure> {
    Some(match result {
        "front_mean_mm" => line.front_mean_mm,
        "rear_mean_mm" => line.rear_mean_mm,
        "rake_mm" => line.rake_mm,
        "rake_deg" => line.rake_deg,
        "front_left_minus_right_mm" => line.front_left_minus_right_mm,
        "rear_left_minus_right_mm" => line.rear_left_minus_right_mm,
        "twist_mm" => line.twist_mm,
        "lean_mm" => line.lean_mm,
        _ => return None,
    })
}

/// The sum in whole mm. What the car did takes up the rounding, so that it adds up as printed.
fn lines(sum: &HeightSum) -> Vec<SumLine> {
    let (tape, floor, level) = (sum.tape_mm.round(), sum.floor_mm.round(), sum.level_mm.round());
    let instrument = sum.instrument_mm.round();
    let tape_words = format!(
        "by tape: {}, {}",
        crate::result_page::readings(sum.readings),
        counted(sum.bounces, "bounce", "bounces")
    );
    let floor_words = if floor < 0.0 {
        "the floor dips under this mark"
    } else if floor > 0.0 {
        "the floor rises under this mark"
    } else {
        "the floor is neither high nor low under this mark"
    };
    let line = |value_mm: f64, words: &str| SumLine { value_mm: value_mm + 0.0, words: words.to_owned() };
    let too = if instrument < 0.0 { "the tape says so much too much" } else { "the tape says so much too little" };
    let own_tape = (instrument != 0.0).then(|| line(instrument, too));
    let car = level - tape - instrument - floor;
    let rest = [line(floor, floor_words), line(car, "the car leans with the floor"), line(level, "on level ground")];
    [line(tape, &tape_words)].into_iter().chain(own_tape).chain(rest).collect()
}

/// What is known of a tape's or gauge's zero, in a few words.
fn zero_of(owned: &OwnedInstrument) -> String {
    match owned {
        OwnedInstrument::Tape(tape) => match (tape.newest_check(), &tape.hook_mm) {
            (Some(check), _) => format!("checked on {}", day(&check.date)),
            (None, _) if tape.read_from_mm > 0.0 => "read from a mark, not checked".to_owned(),
            (None, Some(_)) => "hook as you said".to_owned(),
            (None, None) => "hook not checked".to_owned(),
        },
        OwnedInstrument::AngleGauge(gauge) => match gauge.checks.iter().map(|check| &check.date).max() {
            Some(date) => format!("turned end for end on {}", day(date)),
            None => "never turned end for end".to_owned(),
        },
    }
}

fn row(about: &About<'_>, line: BudgetLine, sum: Option<&HeightSum>) -> BudgetRow {
    let floor =
        about.snapshot.floor.as_ref().and_then(|name| about.solved.file.floors.iter().find(|floor| floor.id == *name));
    let vehicle = &about.solved.file.vehicle;
    let from_rates = |known: bool| if known { "from spring rates" } else { "not known, a usual value taken" };
    let readings =
        sum.map_or_else(|| "all readings of this kind".to_owned(), |sum| crate::result_page::readings(sum.readings));
    let bounces = sum.map_or(about.snapshot.bounces.len(), |sum| sum.bounces);
    let owned =
        line.instrument.as_ref().and_then(|id| about.solved.file.instruments.iter().find(|owned| owned.id() == id));
    if let Some(owned) = owned {
        let words = format!("Zero of {}", owned.label());
        return BudgetRow { words, detail: zero_of(owned), band: 2.0 * line.u, not_measured: line.assumed, line };
    }
    let (words, detail) = match line.source {
        DoubtSource::Tape => ("Tape", readings),
        DoubtSource::TapeZero => ("Zero of the tape", "hook not checked".to_owned()),
        DoubtSource::Bounces => ("Bounces", format!("{} of them", crate::words::count(bounces))),
        DoubtSource::Spots => ("Four spots", levelling(floor)),
        DoubtSource::FloorUnderMark => {
            ("Floor under the mark", if line.assumed { "not levelled" } else { "levelled too" }.to_owned())
        }
        DoubtSource::Placement => ("Wheels on their spots", "rolled back onto the marks".to_owned()),
        DoubtSource::RollShare => ("Share of the twist", from_rates(vehicle.roll_share_front.is_some()).to_owned()),
        DoubtSource::LeanGain => ("Leaning with the floor", from_rates(vehicle.lean_gain.is_some()).to_owned()),
        DoubtSource::AngleGauge => ("Angle gauge", "its readings and its zero".to_owned()),
        DoubtSource::RailStraightness => ("Straight rails", "not checked".to_owned()),
        DoubtSource::Assumption => ("Your own statement", "not read".to_owned()),
        DoubtSource::Slope => ("Tilt of the floor", "nearly harmless".to_owned()),
        DoubtSource::LoadAndPressure => ("Load and pressures", "corrected to the usual ones".to_owned()),
    };
    BudgetRow { words: words.to_owned(), detail, band: 2.0 * line.u, not_measured: line.assumed, line }
}

fn levelling(floor: Option<&Floor>) -> String {
    match floor.and_then(|floor| floor.survey.as_ref()) {
        Some(survey) if !survey.passes.is_empty() => {
            let method = if survey.method.trim().is_empty() { "levelled" } else { survey.method.as_str() };
            format!("{method}, {}", counted(survey.passes.len(), "pass", "passes"))
        }
        _ => "not levelled".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_sum_adds_up_as_printed() {
        // 329.4 − 8.4 + 7.4 = 328.4 would print as 329 − 8 + 7 = 328.
        for (tape_mm, floor_mm, level_mm) in [(329.4, -8.4, 328.4), (329.6, -8.6, 327.4), (600.5, 0.4, 601.5)] {
            let sum = HeightSum {
                tape_mm,
                readings: 6,
                bounces: 2,
                instrument_mm: 0.0,
                floor_mm,
                car_mm: level_mm - tape_mm - floor_mm,
                level_mm,
            };
            let lines = lines(&sum);
            let printed: f64 = lines[..3].iter().map(|line| line.value_mm).sum();
            assert_eq!(printed, lines[3].value_mm);
            assert_eq!(lines[0].words, "by tape: six readings, two bounces");
        }
        let sum = HeightSum {
            tape_mm: 680.4,
            readings: 2,
            bounces: 1,
            instrument_mm: -25.4,
            floor_mm: 3.0,
            car_mm: -2.4,
            level_mm: 655.6,
        };
        let lines = lines(&sum);
        assert_eq!((lines.len(), lines[1].value_mm, lines[4].value_mm), (5, -25.0, 656.0));
        assert_eq!(lines[..4].iter().map(|line| line.value_mm).sum::<f64>(), 656.0);
    }
}
