//! Side to side: even, uneven, or can't tell; and the sentences round it.

use crate::wire::Verdict;
use crate::words::{band_mm, known, whole};
use trueground_core::stance::{Figure, Line};

/// Side-to-side tolerance [common practice, no source].
const EVEN_WITHIN_MM: f64 = 6.0;

/// One axle's left less right.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Axle {
    Even,
    Uneven,
    CantTell,
}

/// Whether a line is even side to side, against 6 mm and the doubt of both differences.
pub(crate) fn even(line: &Line) -> Verdict {
    let axles = [("front", &line.front_left_minus_right_mm), ("rear", &line.rear_left_minus_right_mm)];
    let judged = axles.map(|(_, figure)| axle(figure));
    if judged == [Axle::Even; 2] {
        return verdict("even", "Even side to side, front and rear.".to_owned());
    }
    for ((end, figure), judgement) in axles.iter().zip(judged) {
        if judgement == Axle::Uneven {
            return verdict("uneven", format!("Uneven: {}.", leaning(end, figure)));
        }
    }
    let widest = axles.into_iter().max_by(|a, b| u(a.1).total_cmp(&u(b.1)));
    let sentence = match widest.and_then(|(end, figure)| Some((end, known(figure)?))) {
        Some((end, (value, u))) => {
            format!("Can\u{2019}t tell side to side: {} mm at the {end}, ±{}.", whole(value.abs()), whole(band_mm(u)))
        }
        None => "Can\u{2019}t tell left from right here.".to_owned(),
    };
    verdict("cant_tell", sentence)
}

/// "front left 9 mm higher, ±4"
pub(crate) fn leaning(end: &str, figure: &Figure) -> String {
    let Some((value, u)) = known(figure) else { return format!("{end} can\u{2019}t be told") };
    if value.abs() < 0.5 {
        return format!("{end} level across, ±{}", whole(band_mm(u)));
    }
    let side = if value > 0.0 { "left" } else { "right" };
    format!("{end} {side} {} mm higher, ±{}", whole(value.abs()), whole(band_mm(u)))
}

fn axle(figure: &Figure) -> Axle {
    let Some((value, u)) = known(figure) else { return Axle::CantTell };
    if value.abs() > EVEN_WITHIN_MM + 2.0 * u {
        Axle::Uneven
    } else if value.abs() < EVEN_WITHIN_MM - 2.0 * u {
        Axle::Even
    } else {
        Axle::CantTell
    }
}

/// An undetermined figure is the least sure of all.
fn u(figure: &Figure) -> f64 {
    figure.u.unwrap_or(f64::INFINITY)
}

fn verdict(word: &str, sentence: String) -> Verdict {
    Verdict { word: word.to_owned(), sentence }
}

#[cfg(test)]
mod tests {
    use super::*;
    use trueground_core::stance::Known;

    fn line(front: Option<(f64, f64)>, rear: Option<(f64, f64)>) -> Line {
        let figure = |known: Option<(f64, f64)>| Figure {
            value: known.map(|(value, _)| value),
            u: known.map(|(_, u)| u),
            known: if known.is_some() { Known::Measured } else { Known::Undetermined },
            band_if: None,
        };
        let none = figure(None);
        Line {
            front_mean_mm: none,
            rear_mean_mm: none,
            rake_mm: none,
            rake_deg: none,
            front_left_minus_right_mm: figure(front),
            rear_left_minus_right_mm: figure(rear),
            twist_mm: none,
            lean_mm: none,
        }
    }

    #[test]
    fn the_word_follows_the_difference_and_its_doubt() {
        for (front, rear, word, sentence) in [
            (Some((1.0, 1.5)), Some((-2.0, 1.0)), "even", "Even side to side, front and rear."),
            (Some((1.0, 1.5)), Some((-12.0, 2.0)), "uneven", "Uneven: rear right 12 mm higher, ±4."),
            (Some((3.0, 3.5)), Some((1.0, 2.0)), "cant_tell", "Can\u{2019}t tell side to side: 3 mm at the front, ±7."),
            (None, None, "cant_tell", "Can\u{2019}t tell left from right here."),
        ] {
            let found = even(&line(front, rear));
            assert_eq!((found.word.as_str(), found.sentence.as_str()), (word, sentence));
        }
    }
}
