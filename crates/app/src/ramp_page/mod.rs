//! Ramp and driveway: a stance on a ground, the picture of it, the gap along the way, and the answers turned round.

mod curve;
mod rows;
mod words;

use crate::checks_page::{Ready, is_predicted, side};
use crate::compare_page::{Asked, Chosen, asked};
use crate::wire::{
    CheckWord, CompareAsk, DrivenView, GroundChoice, NothingToCompare, NothingToDrive, Problem, RampPicture, RampView,
    SeeRamp,
};
use crate::words::{capital, whole};
use crate::{Garage, ground_page};
use trueground_core::checks::over_ground::{Drive, Facing, KEPT_MM, OverGround, drive};
use trueground_core::checks::ramp::work_out;
use trueground_core::checks::{AtStance, LoadCase, Verdict};
use trueground_core::ground::{GroundKind, OwnGround, check};
use trueground_core::wording::shown;
use trueground_store::StoreError;

/// A stance driven over one ground, one way in.
pub(crate) struct Way<'a> {
    pub(crate) ground: &'a OwnGround,
    pub(crate) drive: Drive<'a>,
    pub(crate) over: OverGround,
}

/// The page.
///
/// # Errors
/// No such car, stance or ground, or readings that cannot be worked out.
pub(crate) fn page(garage: &mut Garage, request: &SeeRamp, today: &str) -> Result<RampView, Problem> {
    let asked = asked(garage, &CompareAsk::of(&request.car), today)?;
    let chosen = asked.one(request.stance.as_ref())?;
    let all = ground_page::own(garage)?;
    let grounds: Vec<&OwnGround> = all.iter().filter(|ground| !ground.put_away && check(ground).is_ok()).collect();
    let (nothing, driven) = match &chosen {
        None => (Some(nothing("snapshot")), None),
        Some(_) if grounds.is_empty() => (Some(nothing("ground")), None),
        Some(chosen) => match driven(&asked, chosen, &grounds, request)? {
            Some(driven) => (None, Some(driven)),
            None => (Some(nothing("points")), None),
        },
    };
    Ok(RampView {
        car: request.car.clone(),
        snapshots: asked.snapshots(),
        targets: asked.targets(),
        forecast: asked.forecast(),
        ahead: asked.ahead(),
        planned: asked.planned(),
        missing: asked.missing(),
        grounds: grounds
            .iter()
            .map(|ground| GroundChoice { ground: ground.id.clone(), words: capital(&ground_page::words(ground)) })
            .collect(),
        nothing,
        driven,
    })
}

fn nothing(wants: &str) -> NothingToDrive {
    let (headline, sentence) = match wants {
        "snapshot" => {
            ("No stance yet.", "Walk round the car with the tape first: how it stands decides where it touches.")
        }
        "ground" => ("No ground yet.", "Measure your driveway with a string and a rule, or type the angle of a ramp."),
        _ => (
            "Nothing is known that could touch.",
            "Add the low points of the car, or mark its frame rails and read them.",
        ),
    };
    let said = NothingToCompare { headline: headline.to_owned(), sentence: sentence.to_owned() };
    NothingToDrive { said, wants: wants.to_owned() }
}

/// Every ground both ways in; `None` where nothing of the car is known that could touch.
fn ways<'a>(car: &'a AtStance<'a>, grounds: &[&'a OwnGround]) -> Vec<Way<'a>> {
    let both = grounds.iter().flat_map(|ground| Facing::ALL.map(|facing| (*ground, facing)));
    both.filter_map(|(ground, facing)| {
        let drive = drive(car, ground, facing).ok()?;
        let over = drive.over().ok()?;
        Some(Way { ground, drive, over })
    })
    .collect()
}

fn driven(
    asked: &Asked,
    chosen: &Chosen,
    grounds: &[&OwnGround],
    request: &SeeRamp,
) -> Result<Option<DrivenView>, Problem> {
    let ready = Ready::of(asked)?;
    let car = ready.at(chosen.which(), LoadCase::Nominal, &[])?;
    let ways = ways(&car, grounds);
    let nearest = |ways: &mut dyn Iterator<Item = usize>, all: &[Way<'_>]| {
        ways.min_by(|a, b| all[*a].over.gap.value.total_cmp(&all[*b].over.gap.value))
    };
    if !request.ground.is_empty() && !grounds.iter().any(|ground| ground.id == request.ground) {
        return Err(StoreError::NotFound { what: "ground", id: shown(&request.ground) }.into());
    }
    let mut asked_for = (0..ways.len()).filter(|i| {
        let way = &ways[*i];
        (request.ground.is_empty() || way.ground.id == request.ground)
            && request.facing.is_none_or(|facing| way.drive.facing == facing)
    });
    let Some(at) = nearest(&mut asked_for, &ways) else { return Ok(None) };
    let way = &ways[at];
    let other = ways.iter().find(|other| other.ground.id == way.ground.id && other.drive.facing != way.drive.facing);
    let answer =
        work_out(&way.drive.ramp).map_err(|refusal| Problem::new("cannot_be_driven", refusal.message, refusal.hint))?;
    let stance = chosen.choice(asked);
    let predicted = is_predicted(&stance);
    let newest = asked.newest().filter(|newest| chosen.snapshot().is_none_or(|shown| shown.id != newest.id));
    let beside = match newest {
        Some(newest) => Some(ready.at(trueground_core::checks::Which::Snapshot(&newest.id), LoadCase::Nominal, &[])?),
        None => None,
    };
    let beside = beside.as_ref().and_then(|car| drive(car, way.ground, way.drive.facing).ok());
    let curve = curve::curve(asked, &stance, way, beside.as_ref());
    let rows = rows::rows(&car, way, &answer, &ways);
    let (headline, detail) = words::headline(way, curve.touching);
    let picture = picture(asked, &ready, &car, way, &headline);
    let mut text = vec![headline.clone(), detail.clone()];
    let other_way = other.map(|other| words::other_way(way, other)).unwrap_or_default();
    text.extend(
        [other_way.clone(), picture.text.clone(), curve.text.clone()].into_iter().filter(|line| !line.is_empty()),
    );
    text.extend(rows.iter().map(words::row));
    Ok(Some(DrivenView {
        predicted,
        ground: way.ground.id.clone(),
        ground_words: capital(&ground_page::words(way.ground)),
        facing: way.drive.facing,
        word: word(&way.over),
        headline,
        detail,
        other_way,
        gap_mm: way.over.gap.value,
        u_mm: way.over.gap.u,
        point: way.drive.called(&way.over.run.point).to_owned(),
        doubt: words::doubt(way),
        picture,
        curve,
        cautions: words::cautions(way, &answer),
        rows,
        text,
        stance,
    }))
}

/// Against touching, and what is kept for bounce.
pub(crate) fn word(over: &OverGround) -> CheckWord {
    match over.verdict {
        Verdict::Touches => CheckWord::Touches,
        Verdict::Clears if over.gap.value < KEPT_MM => CheckWord::Caution,
        Verdict::Clears => CheckWord::Clears,
        _ => CheckWord::CantTell,
    }
}

fn picture(asked: &Asked, ready: &Ready<'_>, car: &AtStance<'_>, way: &Way<'_>, headline: &str) -> RampPicture {
    let place = &way.over.place;
    let points = car.vehicle.clearance_points.iter();
    let number = format!("{} mm", whole(way.over.gap.value.abs()));
    let point = shown(way.drive.called(&way.over.run.point));
    let how = if way.over.gap.value < 0.0 { "in the ground" } else { "over the ground" };
    RampPicture {
        side: side(asked, ready, car),
        ground: way.drive.ramp.ground.corners().collect(),
        known: way.drive.known,
        wheels: place.wheels,
        nose_up_deg: place.nose_up_deg,
        at: place.at,
        points: points.map(|point| [-point.x_mm, car.height_of(point).value]).collect(),
        words: if way.ground.kind == GroundKind::TrailerRamp { "deck" } else { "" }.to_owned(),
        text: format!(
            "The car from the left on {}, to scale: {point} is {number} {how}, the front axle {}. {headline}",
            way.ground.words(),
            words::at(way.ground, way.over.front_axle_at_mm)
        ),
        number,
    }
}
