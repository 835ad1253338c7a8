//! The page of the wheels in their openings: one view a wheel and other wheel, and lists of what can be measured.

mod parts;

use crate::checks_page::Ready;
use crate::compare_page::asked;
use crate::floor_page::typed;
use crate::wire::{
    CompareAsk, FitFact, FitGap, FitScene, FitStateView, FitmentView, OpeningView, Problem, SceneLock, ScenePlace,
    SeeFitment, WheelShape,
};
use crate::words::{band_mm, capital, day, whole};
use crate::{Garage, solved};
use trueground_core::car::{GapSide, OtherWheel, Vehicle};
use trueground_core::checks::fitment::{
    GapBasis, GapIn, InOpening, Standing, WheelSize, WheelState, in_opening, opening_standing,
};
use trueground_core::checks::{LoadCase, Verdict, Which, at_stance};
use trueground_core::corner::{Corner, Corners};

const CAUTIONS: [&str; 3] = [
    "A gap that clears does not make a wheel or a spacer approved.",
    "Full lock and full bump together are only bounded: turn it lock to lock with the wheel up before driving.",
    "The tire is reckoned about an upright kingpin; what bulges, flexes or rubs in a bend is beyond it.",
];

/// The page.
///
/// # Errors
/// No such car or stance, or it cannot be read.
pub(crate) fn page(garage: &mut Garage, request: &SeeFitment, today: &str) -> Result<FitmentView, Problem> {
    let id = garage.find("car", &request.car)?;
    let mut vehicle: Vehicle = typed(garage.store.car(id)?.document["vehicle"].clone())?;
    let asked = asked(garage, &CompareAsk::of(&request.car), today)?;
    let chosen = asked.one(request.stance.as_ref())?;
    let (standing, as_on) = match chosen.as_ref().filter(|_| request.stance.is_some()) {
        None => standing(garage, id)?,
        Some(chosen) => {
            let ready = Ready::of(&asked)?;
            let car = ready.at(chosen.which(), LoadCase::Nominal, &[])?;
            // A plan may have other tires on.
            vehicle.tires.clone_from(&car.vehicle.tires);
            let words = chosen.snapshot().map_or_else(
                || format!("{}, predicted", chosen.choice(&asked).label),
                |snapshot| format!("as on {}", day(&snapshot.date)),
            );
            (Corners::from_fn(|corner| opening_standing(&car, corner)), words)
        }
    };
    let others = vehicle.fitment.as_ref().map(|fitment| &fitment.others[..]).unwrap_or_default();
    let mut openings = Vec::new();
    for corner in Corner::ALL {
        let stands = standing.at(corner);
        // Others first: they are what is asked about.
        let with = others.iter().filter(|other| other.is_for(corner)).map(Some).chain([None]);
        for other in with {
            let Some(found) = in_opening(&vehicle, corner, other, stands) else { continue };
            if (other.is_none() || found.other.is_some()) && !found.gaps.is_empty() {
                openings.push(opening(&vehicle, &found, other, stands));
            }
        }
    }
    Ok(FitmentView {
        car: request.car.clone(),
        as_on,
        choices: asked.choices(),
        predicted: chosen.as_ref().is_some_and(|chosen| chosen.snapshot().is_none()),
        stance: chosen.as_ref().map(|chosen| chosen.choice(&asked)),
        nothing: openings.is_empty().then(|| nothing(&vehicle)),
        openings,
        wheels: parts::wheels(&vehicle),
        others: parts::others(&vehicle),
        parts: parts::further(&vehicle),
        cautions: CAUTIONS.map(str::to_owned).into(),
    })
}

fn nothing(vehicle: &Vehicle) -> String {
    let measured = vehicle.fitment.as_ref().is_some_and(|fitment| !fitment.wheels.is_empty());
    if measured && vehicle.tires.is_none() {
        return "The tires are not known. Type their markings among its measures.".to_owned();
    }
    "No gap is measured yet. Begin with one wheel: a tape, a stack of feelers or a ball of clay in each gap.".to_owned()
}

/// How the car stands in its newest snapshot against the day its gaps count from; as measured where that cannot be told.
///
/// # Errors
/// The garage cannot be read.
pub(crate) fn standing(garage: &mut Garage, id: uuid::Uuid) -> Result<(Corners<Standing>, String), Problem> {
    let as_measured = || (Corners::from_fn(|_| Standing::AS_MEASURED), "as measured".to_owned());
    let listed = garage.store.snapshots(id)?;
    let Some(last) = crate::snapshot_row::last_on_wheels(garage, &listed, true).map(|record| record.name) else {
        return Ok(as_measured());
    };
    let solved = solved::car(garage, id, Some(&last))?;
    let Ok(solution) = &solved.solution else { return Ok(as_measured()) };
    let finished = solved::finished(garage, id, &solved.file)?;
    let Ok(car) = at_stance(&finished, solution, Which::Snapshot(&last), LoadCase::Nominal, Vec::new()) else {
        return Ok(as_measured());
    };
    let date = solved.snapshot(&last).map(|snapshot| day(&snapshot.date)).unwrap_or_default();
    Ok((Corners::from_fn(|corner| opening_standing(&car, corner)), format!("as on {date}")))
}

fn opening(vehicle: &Vehicle, found: &InOpening, other: Option<&OtherWheel>, stands: &Standing) -> OpeningView {
    let states: Vec<FitStateView> =
        WheelState::ALL.into_iter().filter_map(|state| state_view(found, state, other)).collect();
    let rank = |word: &str| ["touches", "cant_tell", "clears"].iter().position(|known| *known == word);
    let worst = states.iter().min_by_key(|state| rank(&state.word)).map_or(WheelState::AtRest, |state| state.state);
    OpeningView {
        corner: found.corner,
        corner_words: capital(found.corner.words()),
        other: other.map(|other| other.label.clone()),
        now_words: size_words(&found.now),
        worst,
        states,
        facts: facts(found),
        scene: scene(vehicle, found, stands.spring_rise.value),
    }
}

/// "185 on 6 inch"
fn size_words(size: &WheelSize) -> String {
    let Some(rim) = size.rim_width_mm else { return size.marking.clone() };
    let inches = (rim / 25.4 * 4.0).round() / 4.0;
    format!("{} on {inches} inch", whole(size.section_width.value))
}

fn word(verdict: Option<Verdict>) -> &'static str {
    match verdict {
        Some(Verdict::Touches) => "touches",
        Some(Verdict::Clears) => "clears",
        _ => "cant_tell",
    }
}

fn state_view(found: &InOpening, state: WheelState, other: Option<&OtherWheel>) -> Option<FitStateView> {
    let mut gaps: Vec<&GapIn> = found.gaps.iter().filter(|gap| gap.state == state).collect();
    if gaps.is_empty() {
        return None;
    }
    let of = |gap: &GapIn| gap.told(other.is_some()).map_or(f64::INFINITY, |told| told.value);
    let rank = |gap: &GapIn| match word(gap.verdict(other.is_some())) {
        "touches" => 0,
        "cant_tell" => 1,
        _ => 2,
    };
    gaps.sort_by(|a, b| rank(a).cmp(&rank(b)).then(of(a).total_cmp(&of(b))));
    let first = gaps[0];
    let overall = word(first.verdict(other.is_some()));
    let at = if state == WheelState::AtRest { "at rest".to_owned() } else { format!("at {}", state.words()) };
    let headline = match overall {
        "touches" => format!("Touches {at}."),
        "clears" => format!("Clears {at}."),
        _ => format!("Can\u{2019}t tell {at}."),
    };
    let from = first.from_deg.map_or_else(String::new, |[from, lock]| format!(", from {from:.0}° of {lock:.0}° on"));
    let nearest = if overall == "clears" { "nearest is " } else { "" };
    let detail = format!("{}: {nearest}the {}{from}.", capital(found.corner.words()), the(first));
    let rows: Vec<FitGap> = gaps.iter().map(|gap| row(gap, other.is_some())).collect();
    let said: Vec<String> = rows.iter().map(spoken).collect();
    Some(FitStateView {
        state,
        words: state.words().to_owned(),
        word: overall.to_owned(),
        text: format!("{headline} {detail} Gaps: {}.", said.join("; ")),
        headline,
        detail,
        gaps: rows,
    })
}

fn the(gap: &GapIn) -> &'static str {
    match gap.place.code() {
        "above" => "room above the tread",
        _ => gap.place.words(),
    }
}

fn spoken(row: &FitGap) -> String {
    let number = row.mm.map_or_else(
        || "can\u{2019}t be told".to_owned(),
        |mm| format!("{} mm ±{}", whole(mm), whole(band_mm(row.u_mm.unwrap_or(0.0)))),
    );
    let now = row.now_mm.map_or_else(String::new, |now| format!(", now {}", whole(now)));
    format!("{} {number}{now}", row.words)
}

fn row(gap: &GapIn, other: bool) -> FitGap {
    let told = gap.told(other);
    let verdict = gap.verdict(other);
    let says = match verdict {
        Some(Verdict::Touches) => "Touches",
        Some(Verdict::Clears) => "Clears",
        Some(_) => "Can\u{2019}t tell",
        None => "Can\u{2019}t tell: rim width and offset of both are needed",
    };
    let from = gap.from_deg.map_or_else(String::new, |[from, lock]| format!(", from {from:.0}° of {lock:.0}° on"));
    let how = match (gap.basis, other, gap.state) {
        (GapBasis::Measured, false, _) => "measured",
        (GapBasis::Measured, true, _) => "measured, and the change reckoned",
        (GapBasis::Reckoned, _, WheelState::FullBump) => "both wheels up",
        (GapBasis::Reckoned, ..) => "about an upright kingpin",
        (GapBasis::AtLeast, _, WheelState::FullLockAndBump) => {
            "that or more: nobody measured it with the wheel up and turned"
        }
        (GapBasis::AtLeast, ..) => "that or more: its height is not known",
    };
    FitGap {
        place: gap.place.code().to_owned(),
        words: gap.place.words().to_owned(),
        mm: told.map(|told| told.value),
        u_mm: told.map(|told| told.u),
        now_mm: other.then_some(gap.now.value),
        word: word(verdict).to_owned(),
        line: format!("{says}{from}. {}", capital(how)),
    }
}

fn facts(found: &InOpening) -> Vec<FitFact> {
    let mm = |value: f64| format!("{} mm", whole(value.abs()));
    let mut facts = Vec::new();
    if let Some([outer, inner]) = found.edges {
        let way = |value: f64, on: &str, back: &str| {
            if whole(value) == "0" {
                "stays".to_owned()
            } else {
                format!("{} {}", mm(value), if value < 0.0 { back } else { on })
            }
        };
        facts.push(FitFact {
            words: "Outer edge".to_owned(),
            value: way(outer.value, "farther out", "farther in"),
            detail: format!("±{} mm: half the width\u{2019}s change less the offset\u{2019}s", whole(band_mm(outer.u))),
        });
        facts.push(FitFact {
            words: "Inner edge".to_owned(),
            value: way(inner.value, "farther in", "farther out"),
            detail: format!("±{} mm: half the width\u{2019}s change and the offset\u{2019}s", whole(band_mm(inner.u))),
        });
    }
    if let Some((now, then)) = found.scrub {
        facts.push(FitFact {
            words: "Scrub radius".to_owned(),
            value: then.map_or_else(
                || format!("{} mm", whole(now.value)),
                |then| format!("{} mm, now {}", whole(then.value), whole(now.value)),
            ),
            detail: format!(
                "±{} mm; positive: the tire\u{2019}s middle outboard of the kingpin\u{2019}s line",
                whole(band_mm(now.u))
            ),
        });
    }
    if let Some(behind) = found.behind_middle {
        let way = if behind.value < 0.0 { "ahead of" } else { "behind" };
        facts.push(FitFact {
            words: "In its opening".to_owned(),
            value: if whole(behind.value) == "0" {
                "in the middle".to_owned()
            } else {
                format!("{} {way} the middle", mm(behind.value))
            },
            detail: format!("±{} mm", whole(band_mm(behind.u))),
        });
    }
    let size = found.other.as_ref().unwrap_or(&found.now);
    if let Some(max) = &size.max_load {
        facts.push(FitFact {
            words: "The tire carries".to_owned(),
            value: format!("{} kg", whole(max.kg)),
            detail: capital(&max.source),
        });
    }
    facts
}

/// As it stands: what is the body's came down with it.
fn scene(vehicle: &Vehicle, found: &InOpening, rise_mm: f64) -> FitScene {
    let fitment = vehicle.fitment.as_ref();
    let wheel = fitment.and_then(|fitment| fitment.wheels.get(&found.corner));
    let places = wheel.into_iter().flat_map(|wheel| &wheel.gaps).map(|(place, gap)| ScenePlace {
        place: place.code().to_owned(),
        gap_mm: gap.at_rest_mm + if place.side() == GapSide::Over { rise_mm } else { 0.0 },
        height_mm: gap.height_mm.map(|height| height + rise_mm),
        along_mm: gap.along_mm,
    });
    let travel =
        vehicle.travel.as_ref().map(|travel| if found.corner.is_front() { &travel.front } else { &travel.rear });
    let steer = fitment.and_then(|fitment| fitment.steer.as_ref()).filter(|_| found.corner.is_front());
    let shift = |other: &WheelSize| Some(found.now.offset?.value - other.offset?.value);
    FitScene {
        now: shape(&found.now, 0.0),
        other: found.other.as_ref().map(|other| shape(other, shift(other).unwrap_or(0.0))),
        places: places.collect(),
        bump_mm: travel.and_then(|travel| travel.bump_mm()).map(|bump| (bump + rise_mm).max(0.0)),
        lock: steer.zip(found.kingpin).map(|(steer, kingpin)| SceneLock {
            inner_deg: steer.lock_inner_deg,
            outer_deg: steer.lock_outer_deg.unwrap_or(steer.lock_inner_deg),
            kingpin_mm: kingpin.value,
        }),
    }
}

fn shape(size: &WheelSize, out_mm: f64) -> WheelShape {
    WheelShape {
        section_mm: size.section_width.value,
        radius_mm: size.free_radius.value,
        loaded_mm: size.loaded_radius.value,
        rim_width_mm: size.rim_width_mm.unwrap_or(0.7 * size.section_width.value),
        rim_diameter_mm: size.rim_diameter_mm,
        offset_mm: size.offset.map_or(0.0, |offset| offset.value),
        out_mm,
    }
}
