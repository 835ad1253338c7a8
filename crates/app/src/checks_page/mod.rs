//! What follows from a stance: which stance and load, the rows of findings, the table of loads, the pictures.

mod headline;
mod rows;
mod scene;
mod table;
mod why;
mod wording;

use crate::Garage;
use crate::compare_page::{Asked, Chosen, asked};
use crate::floor_page::with_state;
use crate::wire::{
    CheckRow, CheckScene, CheckedView, ChecksView, CompareAsk, LoadChoice, NothingToCompare, Problem, RuleChoice,
    SeeChecks, StanceLine,
};
use crate::words::capital;
use rows::{Row, rows};
pub(crate) use scene::side;
use trueground_core::capture::CarFile;
use trueground_core::checks::{AtStance, LoadCase, Rule, Which, at_stance, findings, unread};
use trueground_core::level::Solution;
use trueground_core::wording::shown;

/// The page.
///
/// # Errors
/// No such car, stance, load or rule, or readings that cannot be worked out.
pub(crate) fn page(garage: &mut Garage, request: &SeeChecks, today: &str) -> Result<ChecksView, Problem> {
    let asked = asked(garage, &CompareAsk::of(&request.car), today)?;
    let chosen = asked.one(request.stance.as_ref())?;
    let checked = match &chosen {
        Some(chosen) => Some(checked(&asked, chosen, request)?),
        None => None,
    };
    Ok(ChecksView {
        car: request.car.clone(),
        snapshots: asked.snapshots(),
        targets: asked.targets(),
        forecast: asked.forecast(),
        ahead: asked.ahead(),
        planned: asked.planned(),
        missing: asked.missing(),
        nothing: checked.is_none().then(|| NothingToCompare {
            headline: "Nothing to check yet.".to_owned(),
            sentence: "Take a snapshot first: what follows is worked out from how the car stands.".to_owned(),
        }),
        checked,
    })
}

/// A car whose stances can be checked: without what is half read, which says nothing yet.
pub(crate) struct Ready<'a> {
    pub(crate) file: CarFile,
    pub(crate) solution: &'a Solution,
}

impl<'a> Ready<'a> {
    pub(crate) fn of(asked: &'a Asked) -> Result<Self, Problem> {
        let solution = asked.solved.solution.as_ref().map_err(Clone::clone)?;
        let mut file = asked.solved.file.clone();
        file.snapshots.retain(|snapshot| solution.snapshots.iter().any(|stance| stance.id == snapshot.id));
        Ok(Self { file, solution })
    }

    pub(crate) fn at<'s>(&'s self, which: Which<'s>, load: LoadCase, rules: &[Rule]) -> Result<AtStance<'s>, Problem> {
        at_stance(&self.file, self.solution, which, load, rules.to_vec()).map_err(refused)
    }
}

/// The rows of a snapshot at nominal load, held against no rule; none where it cannot be checked.
pub(crate) fn of_snapshot(file: &CarFile, solution: &Solution, snapshot: &str) -> Vec<CheckRow> {
    let mut file = file.clone();
    file.snapshots.retain(|snapshot| solution.snapshots.iter().any(|stance| stance.id == snapshot.id));
    let car = at_stance(&file, solution, Which::Snapshot(snapshot), LoadCase::Nominal, Vec::new());
    let told = car.map(|car| rows(&car, &findings(&car, &[]), &[]));
    told.unwrap_or_default().into_iter().map(|row| row.view).collect()
}

fn refused(refused: trueground_core::level::Problem) -> Problem {
    Problem::new("cannot_be_checked", format!("{}.", capital(refused.message())), refused.hint())
}

fn checked(asked: &Asked, chosen: &Chosen, request: &SeeChecks) -> Result<CheckedView, Problem> {
    let ready = Ready::of(asked)?;
    let (load, rules) = (load(&request.load)?, rules(&request.rules)?);
    let (rows, scene) = found(asked, &ready, chosen, load, &rules)?;
    let stance = chosen.choice(asked);
    let predicted = chosen.snapshot().is_none();
    let (headline, detail) = headline::headline(&rows, &stance, load);
    let floor = chosen.snapshot().map(|snapshot| {
        let named = snapshot.floor.as_ref();
        with_state(named.and_then(|name| ready.file.floors.iter().find(|floor| floor.id == *name)))
    });
    Ok(CheckedView {
        date: chosen.snapshot().map(|snapshot| snapshot.date.clone()).unwrap_or_default(),
        floor: floor.unwrap_or_default(),
        predicted,
        load: load.code().to_owned(),
        loads: LoadCase::ALL
            .into_iter()
            .filter(|(_, case)| *case != LoadCase::AsLoaded || !predicted)
            .map(|(name, case)| load_choice(&ready.file, chosen, name, case))
            .collect(),
        rules: RULES.into_iter().map(|choice| choice.view(&rules)).collect(),
        counted: headline::counted(&rows),
        cautions: headline::cautions(&rows),
        table: table::table(&ready, chosen, &rules)?,
        text: rows.iter().map(|row| row.view.sentence.clone()).collect(),
        headline,
        detail,
        stance,
        scene,
        rows: rows.into_iter().map(|row| row.view).collect(),
    })
}

/// Every row of a stance with its picture and what it is now, and the car with its low points.
fn found(
    asked: &Asked,
    ready: &Ready<'_>,
    chosen: &Chosen,
    load: LoadCase,
    rules: &[Rule],
) -> Result<(Vec<Row>, Option<CheckScene>), Problem> {
    let car = ready.at(chosen.which(), load, rules)?;
    let mut rows = rows(&car, &findings(&car, &[]), &unread(&car));
    // A plan stands beside what it sets out from, any other stance that was not measured beside the newest.
    let now = match chosen.which() {
        Which::Snapshot(_) => None,
        Which::Planned(planned) => Some(planned.from.as_str()),
        _ => asked.newest().map(|newest| newest.id.as_str()),
    };
    if let Some(now) = now {
        let now = ready.at(Which::Snapshot(now), load, rules)?;
        rows::beside(&mut rows, &self::rows(&now, &findings(&now, &[]), &[]));
    }
    let scene = scene::scene(asked, ready, &car);
    for row in &mut rows {
        row.view.picture = scene::picture(&car, row, scene.as_ref());
        row.view.sum = why::sum(&car, row);
        row.view.doubts = why::doubts(&car, row);
    }
    Ok((rows, scene))
}

/// What follows from a stance at nominal load, held against no rule: its rows, and how many there are in words.
///
/// # Errors
/// The stance cannot be checked.
pub(crate) fn follows(asked: &Asked, chosen: &Chosen) -> Result<(Vec<CheckRow>, String), Problem> {
    let (rows, _) = found(asked, &Ready::of(asked)?, chosen, LoadCase::Nominal, &[])?;
    let counted = headline::counted(&rows);
    Ok((rows.into_iter().map(|row| row.view).collect(), counted))
}

fn load(name: &str) -> Result<LoadCase, Problem> {
    if name.is_empty() {
        return Ok(LoadCase::Nominal);
    }
    LoadCase::named(name).ok_or_else(|| {
        Problem::new("not_found", format!("There is no load called {}.", shown(name)), "Choose another one.")
    })
}

fn rules(names: &[String]) -> Result<Vec<Rule>, Problem> {
    let rule = |name: &String| {
        let known = Rule::ALL.iter().find(|(known, _)| known == name).map(|(_, rule)| *rule);
        known.ok_or_else(|| {
            Problem::new("not_found", format!("There is no rule called {}.", shown(name)), "Choose another one.")
        })
    };
    names.iter().map(rule).collect()
}

fn load_choice(file: &CarFile, chosen: &Chosen, name: &str, case: LoadCase) -> LoadChoice {
    let (aboard, missing) = match case.masses(&file.vehicle) {
        Err(refused) => {
            let hint = if case == LoadCase::Strapped { STRAPS_HINT } else { TANK_HINT };
            (String::new(), format!("{}. {hint}", capital(refused.message())))
        }
        Ok(masses) if !masses.is_empty() => {
            let labels: Vec<String> = masses.into_iter().map(|mass| mass.label).collect();
            let caution = case.caution().map_or_else(String::new, |caution| format!(". {caution}"));
            (capital(&labels.join("; ")) + &caution, String::new())
        }
        Ok(_) if case == LoadCase::AsLoaded => {
            let load = chosen.snapshot().map(|snapshot| crate::snapshot_row::load_words(&file.vehicle, snapshot));
            (capital(&load.unwrap_or_default()), String::new())
        }
        Ok(_) => (capital(file.vehicle.nominal_load.as_deref().unwrap_or("as it is always measured")), String::new()),
    };
    LoadChoice { load: name.to_owned(), words: capital(case.words()), aboard, missing }
}

const TANK_HINT: &str = "Add the tank to its measures.";
const STRAPS_HINT: &str =
    "Add straps under Wheels in their openings: where each pair holds, its pull, how steeply it goes down.";

/// A rule as it is offered.
struct Offered {
    rule: Rule,
    words: &'static str,
    detail: &'static str,
}

const RULES: [Offered; 4] = [
    Offered {
        rule: Rule::RimLine,
        words: "Rim line",
        detail: "Nothing but wheels below the lowest rim edge; a common form of local rules",
    },
    Offered {
        rule: Rule::ScrubLine,
        words: "Scrub line",
        detail: "Nothing below crossed strings from a rim edge to the bottom of the opposite tire; a common form of local rules",
    },
    Offered { rule: Rule::Fmvss108, words: "49 CFR 571.108", detail: "Lamp heights, table I-a" },
    Offered { rule: Rule::UnR48, words: "UN Regulation 48", detail: "Dipped beam, 500 to 1200 mm; from memory" },
];

impl Offered {
    fn view(&self, on: &[Rule]) -> RuleChoice {
        let name = Rule::ALL.iter().find(|(_, rule)| *rule == self.rule).map_or("", |(name, _)| name);
        RuleChoice {
            rule: name.to_owned(),
            words: self.words.to_owned(),
            detail: self.detail.to_owned(),
            on: on.contains(&self.rule),
        }
    }
}

/// True for a stance that was not measured.
pub(crate) fn is_predicted(stance: &crate::wire::StanceChoice) -> bool {
    matches!(stance.line, StanceLine::Target | StanceLine::Predicted)
}
