//! The Compare tab: which two stances, and everything that is said of them.

mod choice;
mod figures;
mod overlay;
mod sentences;

use crate::floor_page::with_state;
use crate::side::{of_design, shown_kinds_of};
use crate::verdicts::even;
use crate::wire::{CompareAsk, CompareView, ComparisonView, DifferenceView, KindChoice, Problem, StanceLine};
use crate::words::kinds;

pub(crate) use choice::{Asked, Chosen, asked, asked_of_file};
use figures::{Judged, not_read};
use overlay::overlay;
use trueground_core::car::PointKind;
use trueground_core::compare::{Comparison, Load, compare};
use trueground_core::corner::{Corner, Corners};

/// Two stances and what the core says of them.
pub(crate) struct Compared<'a> {
    asked: &'a Asked,
    this: &'a Chosen,
    other: &'a Chosen,
    comparison: Comparison,
    load: Load,
    kind: PointKind,
}

/// The page.
///
/// # Errors
/// The two have nothing in common, or the readings cannot be worked out.
pub(crate) fn page(asked: &Asked, request: &CompareAsk) -> Result<CompareView, Problem> {
    let comparison = compared(asked, request)?.map(|compared| view(&compared));
    Ok(CompareView {
        car: request.car.clone(),
        snapshots: asked.snapshots(),
        targets: asked.targets(),
        forecast: asked.forecast(),
        ahead: asked.ahead(),
        planned: asked.planned(),
        missing: asked.missing(),
        nothing: if comparison.is_none() { Some(asked.nothing()) } else { None },
        comparison,
    })
}

/// The headline of two stances against each other; `None` where they cannot be compared.
pub(crate) fn told(asked: &Asked, pair: (Chosen, Chosen), request: &CompareAsk) -> Option<String> {
    let mut pair_asked = asked.clone();
    pair_asked.pair = Some(pair);
    Some(page(&pair_asked, request).ok()?.comparison?.headline)
}

/// The two against each other; `None` where there are no two.
pub(crate) fn compared<'a>(asked: &'a Asked, request: &CompareAsk) -> Result<Option<Compared<'a>>, Problem> {
    let Some((this, other)) = &asked.pair else { return Ok(None) };
    let solution = asked.solved.solution.as_ref().map_err(Clone::clone)?;
    let load = if request.as_loaded { Load::AsLoaded } else { Load::Nominal };
    let comparison = compare(&asked.solved.file, solution, this.stance(), other.stance(), load).map_err(|refused| {
        let sentence = format!("{}.", crate::words::capital(refused.message()));
        Problem::new("cannot_be_compared", sentence, refused.hint())
    })?;
    let kinds = kinds_of(asked, &comparison);
    let kind = kinds.iter().copied().find(|kind| kind.code() == request.kind).or(kinds.first().copied());
    Ok(Some(Compared { asked, this, other, comparison, load, kind: kind.unwrap_or(PointKind::FrameRail) }))
}

/// Kinds that both have: those with a line first, frame rails before all.
fn kinds_of(asked: &Asked, comparison: &Comparison) -> Vec<PointKind> {
    let mut found =
        shown_kinds_of(|kind| comparison.means.contains_key(kind.code()) || comparison.rake.contains_key(kind.code()));
    let points = &asked.solved.file.vehicle.ref_points;
    let has = |kind: PointKind| {
        points.iter().any(|point| point.kind == kind && comparison.differences.contains_key(&point.id))
    };
    let partly: Vec<PointKind> =
        PointKind::ALL.into_iter().filter(|kind| !found.contains(kind) && has(*kind)).collect();
    found.extend(partly);
    found
}

fn view(of: &Compared<'_>) -> ComparisonView {
    let (file, kind) = (&of.asked.solved.file, of.kind);
    let judged = Judged::of(of);
    let corners = Corners::from_fn(|corner| corner_view(of, &judged, corner));
    let means = of.comparison.means.get(kind.code());
    let mean = |end: &str, corners: [Corner; 2]| {
        let difference = means.map(|means| if end == "front" { &means.front } else { &means.rear });
        let tolerance = judged.mean_tolerance_mm(of, corners);
        difference.map_or_else(|| not_read(end), |difference| judged.view(end, difference, tolerance))
    };
    let front = mean("front", [Corner::FL, Corner::FR]);
    let rear = mean("rear", [Corner::RL, Corner::RR]);
    let measured = [of.this, of.other].into_iter().find_map(Chosen::snapshot);
    let floor = measured.and_then(|snapshot| {
        snapshot.floor.as_ref().and_then(|name| file.floors.iter().find(|floor| floor.id == *name))
    });
    let (headline, detail) = sentences::headline(of, &corners, &front, &rear);
    let overlay = overlay(of, &front, &rear);
    let stance = measured.and_then(|snapshot| of.asked.solved.stance(&snapshot.id));
    let sides = stance
        .filter(|_| of.other.line(of.asked) == StanceLine::Target)
        .and_then(|stance| stance.lines_nominal.get(kind.code()))
        .map(even);
    ComparisonView {
        this: of.this.choice(of.asked),
        other: of.other.choice(of.asked),
        date: measured.map(|snapshot| snapshot.date.clone()).unwrap_or_default(),
        floor: if measured.is_some() { with_state(floor) } else { String::new() },
        alike: sentences::alike(of),
        headline,
        detail,
        unequal: of.comparison.unequal.iter().map(|unequal| unequal.sentence.clone()).collect(),
        taken_out: sentences::taken_out(of),
        as_loaded: of.load == Load::AsLoaded,
        kinds: kinds_of(of.asked, &of.comparison)
            .into_iter()
            .map(|kind| KindChoice { kind: kind.code().to_owned(), words: kinds(kind).to_owned() })
            .collect(),
        kind: kind.code().to_owned(),
        title: sentences::title(of),
        tolerance: judged.shaded(&corners),
        findings: sentences::findings(of, sides.as_ref()),
        limits: sentences::limits(of),
        split: sentences::split(of),
        parts: sentences::parts(of),
        text: sentences::side_text(of, &front, &rear),
        plan_text: sentences::plan_text(of, &corners),
        plan: overlay.as_ref().map_or_else(|| of_design(&file.vehicle), |overlay| overlay.figure.clone()),
        overlay,
        corners,
        front,
        rear,
    }
}

fn corner_view(of: &Compared<'_>, judged: &Judged, corner: Corner) -> DifferenceView {
    let vehicle = &of.asked.solved.file.vehicle;
    let point = vehicle.mark_at(of.kind, corner, |point| of.comparison.differences.contains_key(&point.id));
    let difference = point.and_then(|point| Some((point, of.comparison.differences.get(&point.id)?)));
    match difference {
        Some((point, difference)) => {
            let height = |stance: &Chosen| stance.height(of.asked, &point.id, of.load);
            let (this, other) = (height(of.this), height(of.other));
            let view = judged.view(corner.words(), difference, judged.tolerance_mm(of, &point.id));
            DifferenceView { this, other, ..view }
        }
        None => not_read(corner.words()),
    }
}
