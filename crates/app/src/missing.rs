//! What it costs that a point was not read, from the engine's own answer.

use crate::wire::CornerResult;
use trueground_core::car::PointKind;
use trueground_core::corner::Corners;
use trueground_core::stance::{Known, Line};

/// "Without the rear left rail: no rake, no twist. The front mean stands."; empty where nothing of this kind is missing.
pub(crate) fn sentence(kind: PointKind, line: Option<&Line>, corners: &Corners<CornerResult>) -> String {
    let missing: Vec<&str> = corners
        .iter()
        .filter(|(_, result)| result.point.is_some() && result.level_mm.is_none())
        .map(|(corner, _)| corner.words())
        .collect();
    if missing.is_empty() {
        return String::new();
    }
    let figures = line.map_or(Vec::new(), |line| {
        vec![
            ("front mean", line.front_mean_mm.known),
            ("rear mean", line.rear_mean_mm.known),
            ("rake", line.rake_deg.known),
            ("lean", line.lean_mm.known),
            ("twist", line.twist_mm.known),
        ]
    });
    let named = |wanted: &dyn Fn(Known) -> bool| -> Vec<&str> {
        figures.iter().filter(|(_, known)| wanted(*known)).map(|(name, _)| *name).collect()
    };
    let (lost, assumed) = (named(&|known| known == Known::Undetermined), named(&|known| known == Known::Assumed));
    let stands = named(&|known| known == Known::Measured);
    let what = format!("the {} {}", listed(&missing, "and"), kind.stem());
    if figures.is_empty() {
        return format!("Without {what}: no front mean, no rear mean, no rake, no lean, no twist.");
    }
    let mut words = format!("Without {what}:");
    if lost.is_empty() {
        words += " nothing is lost, but each \u{00b1} is wider.";
    } else {
        let lost: Vec<String> = lost.iter().map(|name| format!("no {name}")).collect();
        words += &format!(" {}.", lost.join(", "));
    }
    for (names, one, more) in
        [(stands, "stands", "stand"), (assumed, "leans on something assumed", "lean on something assumed")]
    {
        match &names[..] {
            [] => {}
            [name] => words += &format!(" The {name} {one}."),
            _ => words += &format!(" The {} {more}.", listed(&names, "and the")),
        }
    }
    words
}

fn listed(names: &[&str], and: &str) -> String {
    match names {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} {and} {last}", first.join(", ")),
    }
}
