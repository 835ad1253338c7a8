//! What is said of two stances against each other: the headline, findings, what was taken out, the split and the text twins.

use super::figures::{by, direction, verdict};
use super::{Chosen, Compared};
use crate::wire::{DifferenceView, FindingView, StanceLine, Verdict as EvenVerdict};
use crate::words::{band_deg, band_mm, capital, day, degrees, kinds, whole};
use trueground_core::compare::{
    Difference, EndParts, LimitFinding, Load, Parts, SplitFigure, TakenOut, TakenOutOf, Verdict,
};
use trueground_core::corner::Corners;
use trueground_core::wording::shown;

/// What the other one is called in a sentence.
fn other_words(of: &Compared<'_>) -> String {
    match of.other {
        Chosen::Target(_) => "the target".to_owned(),
        _ => of.other.choice(of.asked).label,
    }
}

/// "Frame rails against the target"
pub(super) fn title(of: &Compared<'_>) -> String {
    let kind = kinds(of.kind);
    match (of.this, of.other) {
        (Chosen::Forecast(forecast), Chosen::Snapshot { .. }) if forecast.date.is_none() => {
            format!("{kind}, still to come")
        }
        (Chosen::Forecast(forecast), Chosen::Snapshot { .. }) => {
            format!("{kind}, to come until {}", day(forecast.date.as_deref().unwrap_or_default()))
        }
        (Chosen::Planned { .. }, Chosen::Snapshot { .. }) => format!("{kind}, as planned"),
        (_, Chosen::Target(_)) => format!("{kind} against the target"),
        _ => format!("{kind} since {}", other_words(of)),
    }
}

/// "Same load and tires", "Load differs".
pub(super) fn alike(of: &Compared<'_>) -> String {
    let unequal = |what: &str| of.comparison.unequal.iter().any(|unequal| unequal.what == what);
    match (unequal("load"), unequal("pressures")) {
        (false, false) if of.this.snapshot().or(of.other.snapshot()).is_none() => "Usual load".to_owned(),
        (false, false) if of.this.snapshot().is_some() && of.other.snapshot().is_some() => {
            "Same load and tires".to_owned()
        }
        (false, false) => "Usual load".to_owned(),
        (true, false) => "Load differs".to_owned(),
        (false, true) => "Pressures differ".to_owned(),
        (true, true) => "Load and pressures differ".to_owned(),
    }
}

/// What a day to come brings, and what its ± is made of.
fn of_a_day(of: &Compared<'_>, date: &str, front: &DifferenceView, rear: &DifferenceView) -> (String, String) {
    let against = if matches!(of.other, Chosen::Target(_)) { " against the target" } else { "" };
    let ends: Vec<String> = [("front", front), ("rear", rear)]
        .into_iter()
        .map(|(name, end)| match end.verdict.as_str() {
            "changed" | "off" => format!("{name} {} mm {}", end.number, end.word),
            "same" | "on" => format!("{name} {}", end.verdict_words),
            _ => format!("can\u{2019}t tell the {name}"),
        })
        .collect();
    let detail =
        "Its \u{b1} takes the settling and the last snapshot as independent: a little too wide, never too narrow.";
    (format!("On {}{against}: {}.", day(date), ends.join(", ")), detail.to_owned())
}

/// The result in one sentence, and the one under it.
pub(super) fn headline(
    of: &Compared<'_>,
    corners: &Corners<DifferenceView>,
    front: &DifferenceView,
    rear: &DifferenceView,
) -> (String, String) {
    let ends = [("front", front), ("rear", rear)];
    let verdicts = ends.map(|(_, end)| end.verdict.as_str());
    let moved: Vec<String> = ends
        .iter()
        .filter(|(_, end)| matches!(end.verdict.as_str(), "off" | "changed"))
        .map(|(name, end)| format!("{name} {} mm {}", end.number, end.word))
        .collect();
    let within = |end: &DifferenceView| end.band.clone();
    let widest = if front.u_mm >= rear.u_mm { within(front) } else { within(rear) };
    let words = match (of.this, of.other) {
        (Chosen::Forecast(forecast), _) if forecast.date.is_some() => {
            return of_a_day(of, forecast.date.as_deref().unwrap_or_default(), front, rear);
        }
        (Chosen::Forecast(_), Chosen::Snapshot { .. }) => {
            ["Still to come", "It stands where its settling ends.", "Can\u{2019}t tell what is still to come."]
        }
        (Chosen::Forecast(_), _) => {
            ["Once settled, off", "Once settled, on target.", "Can\u{2019}t tell where it ends against the target."]
        }
        (Chosen::Planned { .. }, Chosen::Snapshot { .. }) => {
            ["Planned", "The plan leaves it as it stands.", "Can\u{2019}t tell what the plan changes."]
        }
        (Chosen::Planned { .. }, Chosen::Target(_)) => {
            ["As planned, off", "As planned, on target.", "Can\u{2019}t tell whether the plan is on target."]
        }
        (_, Chosen::Target(_)) => ["Off", "On target.", "Can\u{2019}t tell whether it is on target."],
        _ => ["Changed", "Same as before.", "Can\u{2019}t tell whether it changed."],
    };
    if !moved.is_empty() {
        let detail = ends
            .iter()
            .find(|(_, end)| !matches!(end.verdict.as_str(), "off" | "changed"))
            .map(|(name, end)| format!("The {name}: {}.", told(end)))
            .unwrap_or_default();
        return (format!("{}: {}.", words[0], moved.join(", ")), detail);
    }
    // Both ends may be on and a corner off: then it is crooked.
    let corner = corners.iter().find(|(_, corner)| matches!(corner.verdict.as_str(), "off" | "changed"));
    if let Some((corner, view)) = corner {
        let ends = ends.map(|(name, end)| format!("{name} {}", told(end)));
        return (
            format!("{}: {} {} mm {}.", words[0], corner.words(), view.number, view.word),
            format!("{}; {}.", capital(&ends[0]), ends[1]),
        );
    }
    if verdicts.iter().all(|verdict| matches!(*verdict, "on" | "same")) {
        return (words[1].to_owned(), format!("Front and rear, within {widest}."));
    }
    if verdicts == ["not_read"; 2] && !of.comparison.limits.is_empty() {
        return by_limits(of);
    }
    if verdicts == ["not_read"; 2] {
        let detail = format!("{} were not read at all four corners in both.", kinds(of.kind));
        return (words[2].to_owned(), detail);
    }
    let told: Vec<String> = ends.iter().map(|(name, end)| format!("{name} {}", told(end))).collect();
    (words[2].to_owned(), format!("{}.", capital(&told.join("; "))))
}

/// Of a target that limits heights and wants none.
fn by_limits(of: &Compared<'_>) -> (String, String) {
    let limits = &of.comparison.limits;
    let count = |verdict: Verdict| limits.iter().filter(|limit| limit.verdict == verdict).count();
    let headline = match (count(Verdict::Outside), count(Verdict::CantTell)) {
        (0, 0) => "Within every limit.",
        (0, _) => "Can\u{2019}t tell about every limit.",
        _ => "Outside a limit.",
    };
    let detail = format!("{} of {} within.", count(Verdict::Within), limits.len());
    (headline.to_owned(), detail)
}

/// Each point against each limit that holds for it.
pub(super) fn limits(of: &Compared<'_>) -> Vec<FindingView> {
    let vehicle = &of.asked.solved.file.vehicle;
    let one = |limit: &LimitFinding| {
        let (code, words) = verdict(limit.verdict);
        let point = crate::next_words::point(&limit.point, vehicle);
        let margin = limit.margin_mm.zip(limit.u).map_or_else(String::new, |(margin, u)| {
            let side = if margin < 0.0 { "past it" } else { "to spare" };
            format!(", {} mm {side}, ±{}", whole(margin.abs()), whole(band_mm(u)))
        });
        let ends = [("not below", limit.lowest_mm), ("not above", limit.highest_mm)];
        let ends: Vec<String> =
            ends.into_iter().filter_map(|(word, mm)| Some(format!("{word} {} mm", whole(mm?)))).collect();
        FindingView {
            of: format!("limit.{}", limit.point),
            verdict: code.to_owned(),
            bold: capital(words),
            rest: format!(": {point}{margin}; {} ({})", ends.join(", "), limit.says),
            below: limit.margin_mm.is_some_and(|margin| margin < 0.0),
        }
    };
    of.comparison.limits.iter().map(one).collect()
}

/// "2 mm higher, ±5: can't tell"
fn told(end: &DifferenceView) -> String {
    let rest = end.sentence.strip_prefix(end.place.as_str()).unwrap_or(&end.sentence);
    rest.trim_start().to_owned()
}

/// Rake, lean or side to side, and the twist.
pub(super) fn findings(of: &Compared<'_>, sides: Option<&EvenVerdict>) -> Vec<FindingView> {
    let (kind, comparison) = (of.kind.code(), &of.comparison);
    let target = of.other.line(of.asked) == StanceLine::Target;
    let than = if target { " than the target" } else { "" };
    let mut all = Vec::new();
    if let Some(rake) = comparison.rake.get(kind) {
        // A rake without a tolerance of its own is judged by what its height does over the wheelbase.
        let of_verdict = if target && !matches!(rake.deg.verdict, Verdict::On | Verdict::Off) {
            rake.mm.verdict
        } else {
            rake.deg.verdict
        };
        let words = |deg: f64| {
            let more = if deg > 0.0 { "more" } else { "less" };
            let size = degrees(deg.abs());
            if size == "0.0°" { None } else { Some(format!("{size} {more} nose-down{than}")) }
        };
        all.push(finding("rake", of_verdict, &rake.deg, words, |u| format!("±{:.1}°", band_deg(u))));
    }
    if let Some(sides) = sides {
        let (bold, rest) = split_off(&sides.sentence, &sides.word);
        let below = sides.sentence.contains("right");
        all.push(FindingView { of: "sides".to_owned(), verdict: sides.word.clone(), bold, rest, below });
    } else if let Some(lean) = comparison.lean.get(kind).filter(|_| !target) {
        let words = |mm: f64| match direction(mm) {
            "higher" => Some(format!("left {} mm higher against right", whole(mm))),
            "lower" => Some(format!("right {} mm higher against left", whole(mm.abs()))),
            _ => None,
        };
        all.push(finding("lean", lean.mm.verdict, &lean.mm, words, |u| format!("±{} mm", whole(band_mm(u)))));
    }
    all
}

/// A finding; `words` are of a difference that is not 0 as printed.
fn finding(
    what: &str,
    judged: Verdict,
    of: &Difference,
    words: impl Fn(f64) -> Option<String>,
    band: impl Fn(f64) -> String,
) -> FindingView {
    let (code, verdict_words) = verdict(judged);
    let rest = match of.value.zip(of.u).map(|(value, u)| (words(value), band(u))) {
        Some((Some(words), band)) => format!(": {words}, {band}"),
        Some((None, band)) => format!(": no difference in {what}, {band}"),
        None => format!(" the {what}"),
    };
    let below = of.value.is_some_and(|value| value < 0.0);
    FindingView { of: what.to_owned(), verdict: code.to_owned(), bold: capital(verdict_words), rest, below }
}

/// "Even", " side to side, front and rear."
fn split_off(sentence: &str, word: &str) -> (String, String) {
    let bold = match word {
        "even" => "Even",
        "uneven" => "Uneven",
        _ => "Can\u{2019}t tell",
    };
    let rest = sentence.strip_prefix(bold).unwrap_or(sentence);
    (bold.to_owned(), rest.trim_end_matches('.').to_owned())
}

/// One sentence for each known effect, at the marks of the kind shown.
pub(super) fn taken_out(of: &Compared<'_>) -> Vec<String> {
    let points = &of.asked.solved.file.vehicle.ref_points;
    let wheelbase = of.asked.solved.file.vehicle.wheelbase_mm;
    let sigma = |front: bool| {
        let compared = |point: &&trueground_core::car::RefPoint| of.comparison.differences.contains_key(&point.id);
        let of_end = points.iter().filter(|point| point.kind == of.kind && point.corner.is_front() == front);
        let of_end = of_end.filter(compared);
        let places: Vec<f64> = of_end.map(|point| -point.x_mm / wheelbase).collect();
        if places.is_empty() { f64::from(u8::from(!front)) } else { places.iter().sum::<f64>() / places.len() as f64 }
    };
    let done = if of.load == Load::Nominal { "taken out" } else { "still in it" };
    let sentence = |taken: &TakenOut| {
        let what = match &taken.of {
            TakenOutOf::Load { label, mass_kg } => {
                let size = format!("{} kg", whole(mass_kg.abs()));
                let less = if *mass_kg < 0.0 { " less" } else { "" };
                match label.trim() {
                    "" => format!("{size}{}", if less.is_empty() { " more" } else { less }),
                    label if label.contains("kg") => shown(label),
                    label => format!("{}, {size}{less}", shown(label)),
                }
            }
            TakenOutOf::Pressures => "tire pressures".to_owned(),
        };
        let ends: Vec<String> = [("front", taken.at(sigma(true))), ("rear", taken.at(sigma(false)))]
            .into_iter()
            .filter(|(_, figure)| figure.value.abs() >= 0.5)
            .map(|(end, figure)| format!("{} at the {end}", by(figure.value)))
            .collect();
        let ends = if ends.is_empty() { "less than 1 mm".to_owned() } else { ends.join(", ") };
        format!("{}: {ends}, {done}.", capital(&what))
    };
    of.comparison.taken_out.iter().map(sentence).collect()
}

/// What the body did as a whole, and what no shim takes out.
pub(super) fn split(of: &Compared<'_>) -> Vec<String> {
    let Some(split) = of.comparison.split else { return Vec::new() };
    let mm = |figure: SplitFigure| format!("±{} mm", whole(band_mm(figure.u)));
    let deg = |figure: SplitFigure| format!("±{:.1}°", band_deg(figure.u));
    let (heave, pitch, lean, twist) = (split.heave_mm, split.pitch_deg, split.lean_deg, split.twist_mm);
    let turned = |done: &str, figure: SplitFigure, [up, down]: [&str; 2]| match degrees(figure.value.abs()).as_str() {
        "0.0°" => format!("Not {done}, {}.", deg(figure)),
        size => format!("{} {size} {}, {}.", capital(done), if figure.value < 0.0 { down } else { up }, deg(figure)),
    };
    let rest = if twist.value.abs() > 2.0 * twist.u {
        format!("What is left is a twist of {} mm, {}: no shim takes it out.", whole(twist.value.abs()), mm(twist))
    } else {
        format!("No twist is left beyond {}; a twist is what no shim takes out.", mm(twist))
    };
    vec![
        format!("All of it {}, {}.", by(heave.value), mm(heave)),
        turned("turned", pitch, ["nose down", "nose up"]),
        turned("leaned", lean, ["left side up", "right side up"]),
        rest,
    ]
}

/// Tire or spring, by end, as it stood.
pub(super) fn parts(of: &Compared<'_>) -> Vec<String> {
    let Some(EndParts { front, rear }) = of.comparison.end_parts.get(of.kind.code()) else { return Vec::new() };
    let part = |name: &str, part: &Difference| {
        let (_, words) = verdict(part.verdict);
        part.value.zip(part.u).map_or_else(
            || format!("{name} can\u{2019}t be told"),
            |(value, u)| format!("{name} {}, ±{}: {words}", by(value), whole(band_mm(u))),
        )
    };
    let end = |name: &str, parts: &Option<Parts>| {
        let Parts { tire, spring } = parts.as_ref()?;
        Some(format!("{name}: {}; {}.", part("tire", tire), part("spring", spring)))
    };
    [end("Front", front), end("Rear", rear)].into_iter().flatten().collect()
}

/// The side view in words.
pub(super) fn side_text(of: &Compared<'_>, front: &DifferenceView, rear: &DifferenceView) -> String {
    let (this, other) = (of.this.choice(of.asked), of.other.choice(of.asked));
    format!(
        "{} from the left, {} over {}. At the front mark {}; at the rear mark {}.",
        capital(&of.asked.solved.file.vehicle.label),
        this.short,
        other.short,
        told(front),
        told(rear)
    )
}

/// The plan view in words.
pub(super) fn plan_text(of: &Compared<'_>, corners: &Corners<DifferenceView>) -> String {
    let each: Vec<&str> = corners.iter().map(|(_, corner)| corner.sentence.as_str()).collect();
    format!("{}, from above: {}.", title(of), each.join("; "))
}
