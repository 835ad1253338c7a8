//! A result in one sentence: even, uneven, what was the floor's, or that it can't be told; and the numbers it rests on.

use crate::verdicts::leaning;
use crate::wire::{CornerResult, Verdict};
use crate::words::{self, known, whole};
use trueground_core::capture::Floor;
use trueground_core::corner::{Corner, Corners};
use trueground_core::stance::{Figure, Line};

/// Left and right by tape apart by more than this, and the floor is named as the reason [common practice, no source].
const LOOKS_CROOKED_MM: f64 = 6.0;

/// The sentence, and the one under it. Numbers add up as they are printed.
pub(crate) fn headline(
    line: Option<&Line>,
    corners: &Corners<CornerResult>,
    even: Option<&Verdict>,
    floor: Option<&Floor>,
) -> (String, String) {
    let (Some(line), Some(even)) = (line, even) else {
        let detail = "Read all four corners of one kind of point: then front, rear and rake are known.";
        return ("Not read at all four corners.".to_owned(), detail.to_owned());
    };
    let axles = [
        ("front", as_printed(&line.front_left_minus_right_mm, corners, Corner::FL, Corner::FR)),
        ("rear", as_printed(&line.rear_left_minus_right_mm, corners, Corner::RL, Corner::RR)),
    ];
    if axles.iter().all(|(_, figure)| figure.value.is_none()) {
        let detail = "A twisted floor would look just like a leaning car.";
        let why = if floor.is_some_and(Floor::levelled) {
            "The floor is not levelled at all four spots."
        } else {
            "The floor is not levelled."
        };
        return ("Can\u{2019}t tell left from right here.".to_owned(), format!("{why} {detail}"));
    }
    // What stands beside the corners is whole, and a difference is that of what stands there.
    let tape = |corner: Corner| corners.at(corner).tape_mm.map(f64::round);
    let by_tape = [(Corner::FL, Corner::FR, 0), (Corner::RL, Corner::RR, 1)]
        .into_iter()
        .filter_map(|(left, right, axle)| Some((tape(left)? - tape(right)?, left, axle)))
        .max_by(|a, b| a.0.abs().total_cmp(&b.0.abs()));
    let level = |axle: usize| leaning(axles[axle].0, &axles[axle].1);
    match (even.word.as_str(), by_tape) {
        ("uneven", _) => {
            let axle = usize::from(!even.sentence.starts_with("Uneven: front "));
            ("Uneven side to side.".to_owned(), format!("{}.", words::capital(&level(axle))))
        }
        // Less than half of it is left on level ground: then it was the floor.
        (word, Some((apart, left, axle)))
            if apart.abs() > LOOKS_CROOKED_MM
                && axles[axle].1.value.is_some_and(|level| level.abs() < apart.abs() / 2.0) =>
        {
            let end = words::capital(left.words());
            let side = if apart < 0.0 { "low" } else { "high" };
            let figure = &axles[axle].1;
            let floor_s = known(figure).is_some_and(|(value, u)| (apart - value).abs() > 2.0 * u);
            let (headline, verdict) = match word {
                "even" => ("The floor made it lean.", "even"),
                _ if known(figure).is_some_and(|(value, u)| value.abs() + 2.0 * u < apart.abs() / 2.0) => {
                    ("Most of its lean is the floor\u{2019}s.", "can\u{2019}t tell")
                }
                _ if floor_s => ("Part of its lean is the floor\u{2019}s.", "can\u{2019}t tell"),
                _ => ("Can\u{2019}t tell side to side.", "can\u{2019}t tell"),
            };
            let detail = format!(
                "{end} by tape: {} mm {side} against the right. On level ground: {}: {verdict}.",
                whole(apart.abs()),
                level(axle)
            );
            (headline.to_owned(), detail)
        }
        ("even", _) => ("Even side to side.".to_owned(), format!("{}; {}.", words::capital(&level(0)), level(1))),
        _ => ("Can\u{2019}t tell side to side.".to_owned(), format!("{}; {}.", words::capital(&level(0)), level(1))),
    }
}

/// Left less right of the whole millimetres that stand at the two corners; the figure itself where one of them is not known.
fn as_printed(figure: &Figure, corners: &Corners<CornerResult>, left: Corner, right: Corner) -> Figure {
    let printed = |corner: Corner| Some(corners.at(corner).level_mm?.value?.round());
    let difference = figure.value.and_then(|_| Some(printed(left)? - printed(right)?));
    Figure { value: difference.or(figure.value), ..*figure }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::verdicts::even;
    use trueground_core::stance::Known;

    fn figure(value: f64, u: f64) -> Figure {
        Figure { value: Some(value), u: Some(u), known: Known::Measured, band_if: None }
    }

    /// Tape and level by corner, and the u of left less right; what is said.
    fn said(tape_mm: [f64; 4], level_mm: [f64; 4], u: f64) -> (String, String) {
        let corners = Corners::from_fn(|corner| CornerResult {
            level_mm: Some(figure(level_mm[corner.index()], u)),
            nominal_mm: None,
            tape_mm: Some(tape_mm[corner.index()]),
            tape_printed: None,
            point: Some(format!("rail.{corner}")),
        });
        let none = figure(0.0, 1.0);
        let line = Line {
            front_mean_mm: none,
            rear_mean_mm: none,
            rake_mm: none,
            rake_deg: none,
            front_left_minus_right_mm: figure(level_mm[0] - level_mm[1], u),
            rear_left_minus_right_mm: figure(level_mm[2] - level_mm[3], u),
            twist_mm: none,
            lean_mm: none,
        };
        headline(Some(&line), &corners, Some(&even(&line)), None)
    }

    #[test]
    fn differences_are_those_of_the_printed_numbers() {
        // Printed 599 and 612 by tape, 606 and 605 level: 13 apart, 1 apart; unrounded 12.1 and 0.2.
        let (headline, detail) = said([599.4, 611.5, 400.0, 400.0], [605.6, 605.4, 400.0, 400.0], 1.0);
        assert_eq!(headline, "The floor made it lean.");
        let expected =
            "Front left by tape: 13 mm low against the right. On level ground: front left 1 mm higher, ±2: even.";
        assert_eq!(detail, expected);
        // Printed 420 and 408: 12 apart; unrounded 11.1.
        let (headline, detail) = said([600.0; 4], [600.0, 600.0, 408.4, 419.5], 1.0);
        assert_eq!((headline.as_str(), detail.as_str()), ("Uneven side to side.", "Rear right 12 mm higher, ±2."));
    }

    #[test]
    fn the_floor_is_named_as_the_reason_only_where_the_car_is_even() {
        let level = [602.0, 600.0, 400.0, 400.0];
        for (u, headline) in [
            (1.0, "The floor made it lean."),
            // By tape -20; level 2 ± 6 leaves less than half of it to the car, ±10 perhaps more, ±30 perhaps all.
            (3.0, "Most of its lean is the floor\u{2019}s."),
            (5.0, "Part of its lean is the floor\u{2019}s."),
            (15.0, "Can\u{2019}t tell side to side."),
        ] {
            assert_eq!(said([590.0, 610.0, 400.0, 400.0], level, u).0, headline, "u {u}");
        }
    }
}
