//! Whether the passes over a floor say the same, in words, and what to read once more.

use super::stations::{edge_words, line_of};
use crate::wire::{Again, Agreement, Levelling, StationGroup};
use crate::words::{degrees, whole};
use trueground_core::capture::{Floor, Survey};
use trueground_core::floor_block::{self, OddPass};
use trueground_core::wording::listed;

/// Passes against each other, or a straightedge's lines: same within 2u, changed beyond 3u.
pub(super) fn agreement(floor: &Floor, levelling: Levelling, groups: &[StationGroup]) -> Option<Agreement> {
    let survey = floor.survey.as_ref()?;
    if levelling == Levelling::Straightedge { zeros(survey, groups) } else { passes(survey, groups) }
}

fn passes(survey: &Survey, groups: &[StationGroup]) -> Option<Agreement> {
    let odd = floor_block::least_agreeing(survey)?;
    let OddPass { pass, other, told, agreement: found } = &odd;
    let (pass_no, other_no) = (survey.passes[*pass].pass_no, survey.passes[*other].pass_no);
    let (spot, worst) = (found.worst_spot + 1, whole(found.worst_mm.max(1.0)));
    if found.worst_mm <= 2.0 * found.u_mm {
        let spots: Vec<String> = found.spots.iter().map(|spot| (spot + 1).to_string()).collect();
        let named = match &spots[..] {
            [first, .., last]
                if found.spots.len() > 2 && found.spots[0] + found.spots.len() - 1 == *found.spots.last()? =>
            {
                format!("Spots {first} to {last}")
            }
            many => format!("Spots {}", listed(many)),
        };
        let sentence = format!("{named}: same as pass {}, within {worst} mm.", pass_no.min(other_no));
        return Some(Agreement { word: "same".to_owned(), sentence, again: None });
    }
    let newest = survey.passes.iter().map(|pass| pass.pass_no).max()?;
    // Only the newest pass can be read on: the line of an earlier one is gone.
    let again = (!*told || pass_no == newest).then(|| again(groups, &format!("S{spot}"), false)).flatten();
    let (word, sentence) = if found.worst_mm <= 3.0 * found.u_mm {
        let sentence = format!(
            "Spot {spot} is {worst} mm off between pass {} and pass {}: can\u{2019}t tell. One more pass would.",
            pass_no.min(other_no),
            pass_no.max(other_no)
        );
        ("cant_tell", sentence)
    } else if *told && again.is_none() {
        let then = format!("Strike spot {spot} of pass {pass_no}.");
        ("changed", format!("Spot {spot} of pass {pass_no} stands {worst} mm off the other passes. {then}"))
    } else {
        ("changed", format!("Spot {spot} differs by {worst} mm between the passes. Read it once more."))
    };
    Some(Agreement { word: word.to_owned(), sentence, again })
}

/// A gauge has one zero: every line that was read both ways round must give the same.
fn zeros(survey: &Survey, groups: &[StationGroup]) -> Option<Agreement> {
    let zeros = floor_block::gauge_zeros(survey);
    let (first, others) = zeros.split_first()?;
    let words = |zero: &(String, String, f64, f64)| {
        line_of(&format!("{}/{}", zero.0, zero.1)).map_or("this line", |line| edge_words(line).0)
    };
    let worst = others.iter().max_by(|a, b| (a.2 - first.2).abs().total_cmp(&(b.2 - first.2).abs()));
    let Some(worst) = worst else {
        let sentence = format!("The gauge\u{2019}s own zero: {}, left out of the angle.", degrees(first.2));
        return Some(Agreement { word: "same".to_owned(), sentence, again: None });
    };
    let (off, u) = ((worst.2 - first.2).abs(), worst.3.hypot(first.3));
    if off <= 3.0 * u {
        let mean = zeros.iter().map(|zero| zero.2).sum::<f64>() / zeros.len() as f64;
        let sentence = format!("The gauge\u{2019}s own zero came out the same on every line: {}.", degrees(mean));
        return Some(Agreement { word: "same".to_owned(), sentence, again: None });
    }
    let sentence = format!(
        "The gauge\u{2019}s own zero came out {} {} and {} {}: it has only one. Read the last line once more.",
        degrees(first.2),
        words(first),
        degrees(worst.2),
        words(worst)
    );
    let again = again(groups, &format!("{}/{}", worst.0, worst.1), false);
    Some(Agreement { word: "changed".to_owned(), sentence, again })
}

fn again(groups: &[StationGroup], point: &str, reversed: bool) -> Option<Again> {
    let mut stations = groups.iter().flat_map(|group| &group.stations);
    let station = stations.find(|station| station.point == point && station.reversed == reversed)?;
    let what = station.words.split(',').next().unwrap_or_default();
    Some(Again { point: point.to_owned(), reversed, words: format!("Read {what} once more") })
}
