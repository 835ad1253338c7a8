//! The stances of a car that can be compared, which two are meant, and which of them is held against the other.

use crate::solved::{self, SolvedCar};
use crate::wire::{
    CompareAsk, NothingToCompare, Problem, StanceChoice, StanceChoices, StanceLine, StanceOf, StanceRef,
};
use crate::words::{band_mm, capital, day, known, whole};
use crate::{Garage, moment, snapshot_row, target_page};
use std::sync::Arc;
use trueground_core::capture::{CarFile, Snapshot, day_after};
use trueground_core::checks::Which;
use trueground_core::compare::{Forecast, Load, Stance, Target};
use trueground_core::plan::{Change, KeptPlan, Planned, plan, taught};
use trueground_core::wording::shown;

/// One of the stances.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Chosen {
    /// A finished snapshot on its wheels.
    Snapshot {
        /// Id in the garage.
        id: String,
        /// As it was read.
        snapshot: Box<Snapshot>,
    },
    /// A target.
    Target(Box<Target>),
    /// The end of the settling, or a day before it.
    Forecast(Box<Forecast>),
    /// What a plan would make of a snapshot.
    Planned {
        /// The kept plan's id; empty for one that is not kept.
        id: String,
        /// What the person calls it.
        label: String,
        /// The stance.
        planned: Box<Planned>,
    },
}

/// A car's stances, and the two that are asked for.
#[derive(Clone)]
pub(crate) struct Asked {
    pub(crate) solved: Arc<SolvedCar>,
    /// Oldest first: by day, then in the order of entry.
    snapshots: Vec<Chosen>,
    /// The newest first, which is the main one.
    targets: Vec<Chosen>,
    forecast: Result<Chosen, String>,
    /// `YYYY-MM-DD`; days to come are counted from it. Empty where there is no clock.
    today: String,
    /// The newest first; what cannot be worked out is left out.
    planned: Vec<Chosen>,
    /// What is held against what.
    pub(crate) pair: Option<(Chosen, Chosen)>,
}

/// Finds out which two are meant.
///
/// # Errors
/// No such car, snapshot or target, a day that is none or has been, or a stance against itself.
pub(crate) fn asked(garage: &mut Garage, request: &CompareAsk, today: &str) -> Result<Asked, Problem> {
    let car = garage.find("car", &request.car)?;
    let listed = garage.store.snapshots(car)?;
    let given = [&request.this, &request.other];
    let named: Vec<&str> = given
        .into_iter()
        .flatten()
        .filter(|stance| stance.of == StanceOf::Snapshot)
        .filter_map(|stance| listed.iter().find(|(id, ..)| id.to_string() == stance.id))
        .map(|(_, name, _)| name.as_str())
        .collect();
    let newest = snapshot_row::last_on_wheels(garage, &listed, true).map(|record| record.name);
    let names: Vec<&str> = if named.is_empty() { newest.as_deref().into_iter().collect() } else { named };
    let solved = solved::with(garage, car, &names)?;
    let of = |name: &str| solved.snapshot(name).filter(|snapshot| snapshot.on_wheels()).cloned();
    let finished = listed.iter().filter(|(.., finished)| *finished);
    let snapshots = finished
        .filter_map(|(id, name, _)| Some(Chosen::Snapshot { id: id.to_string(), snapshot: Box::new(of(name)?) }))
        .collect();
    let targets = garage.store.targets(car)?.into_iter().rev();
    let targets = targets.map(|target| Chosen::Target(Box::new(target))).collect();
    let mut asked = Asked::of(solved, snapshots, targets, today);
    if let Some(draft) = crate::plan_page::draft(garage, car, &asked)? {
        asked.planned.insert(0, draft);
    }
    asked.pair = asked.two(&request.this, &request.other)?;
    Ok(asked)
}

/// Two stances of a file, by the names of snapshots and targets in it, `settled`, or a day to come.
///
/// # Errors
/// No such stance, or a stance against itself.
pub(crate) fn asked_of_file(file: &CarFile, names: [&str; 2]) -> Result<Asked, Problem> {
    let solved = Arc::new(solved::of_file(file, names[0]));
    let on_wheels = file.snapshots.iter().filter(|snapshot| snapshot.on_wheels());
    let snapshots = on_wheels
        .map(|snapshot| Chosen::Snapshot { id: snapshot.id.clone(), snapshot: Box::new(snapshot.clone()) })
        .collect();
    let targets = Target::offered(file).into_iter().rev().map(|target| Chosen::Target(Box::new(target))).collect();
    let mut asked = Asked::of(solved, snapshots, targets, "");
    let named = |name: &str| {
        let is_snapshot = asked.snapshots.iter().any(|snapshot| snapshot.id() == name);
        let of = match name {
            "settled" => return StanceRef { of: StanceOf::Forecast, id: String::new() },
            _ if !is_snapshot && moment::any_day(name).is_ok() => StanceOf::Forecast,
            _ if asked.targets.iter().any(|target| target.id() == name) => StanceOf::Target,
            _ => StanceOf::Snapshot,
        };
        StanceRef { of, id: name.to_owned() }
    };
    let [this, other] = names.map(|name| Some(named(name)));
    asked.pair = asked.two(&this, &other)?;
    Ok(asked)
}

impl Asked {
    fn of(solved: Arc<SolvedCar>, mut snapshots: Vec<Chosen>, targets: Vec<Chosen>, today: &str) -> Self {
        snapshots.sort_by(|a, b| a.date().cmp(b.date()));
        let forecast = match &solved.solution {
            Ok(solution) => Forecast::of(&solved.file, solution)
                .map(|forecast| Chosen::Forecast(Box::new(forecast)))
                .map_err(|refused| format!("{}. {}", capital(refused.message()), refused.hint())),
            Err(problem) => Err(problem.sentence.clone()),
        };
        let planned = kept_plans(&solved);
        Self { solved, snapshots, targets, forecast, today: today.to_owned(), planned, pair: None }
    }

    pub(crate) fn find(&self, wanted: &StanceRef) -> Result<Chosen, Problem> {
        let known = match wanted.of {
            StanceOf::Snapshot => self.snapshots.iter().find(|known| known.id() == wanted.id),
            StanceOf::Target => self.targets.iter().find(|known| known.id() == wanted.id),
            StanceOf::Forecast if !wanted.id.trim().is_empty() => return self.on(&wanted.id),
            StanceOf::Planned => self.planned.iter().find(|known| known.id() == wanted.id),
            StanceOf::Forecast => {
                return self.forecast.clone().map_err(|why| Problem::new("not_found", why, "Choose another stance."));
            }
        };
        known.cloned().ok_or_else(|| {
            let what = match wanted.of {
                StanceOf::Snapshot => "finished snapshot",
                StanceOf::Planned => "plan",
                StanceOf::Target | StanceOf::Forecast => "target",
            };
            let sentence = match wanted.of {
                StanceOf::Planned if wanted.id.is_empty() => "No plan is being drawn up.".to_owned(),
                _ => format!("This car has no {what} {}.", shown(&wanted.id)),
            };
            Problem::new("not_found", sentence, "Choose another stance.")
        })
    }

    /// How it will stand on a day to come, as typed.
    fn on(&self, typed: &str) -> Result<Chosen, Problem> {
        let refused = |sentence: String, hint: &str| Problem::new("no_such_day", sentence, hint);
        let day = moment::any_day(typed).map_err(|(sentence, hint)| refused(sentence, hint))?;
        let solution = self.solved.solution.as_ref().map_err(Clone::clone)?;
        Forecast::on(&self.solved.file, solution, &day)
            .map(|forecast| Chosen::Forecast(Box::new(forecast)))
            .map_err(|problem| refused(format!("{}.", capital(problem.message())), problem.hint()))
    }

    /// The two in the order in which one is held against the other; `None` where there are no two.
    fn two(&self, this: &Option<StanceRef>, other: &Option<StanceRef>) -> Result<Option<(Chosen, Chosen)>, Problem> {
        let this = this.as_ref().map(|wanted| self.find(wanted)).transpose()?;
        let other = other.as_ref().map(|wanted| self.find(wanted)).transpose()?;
        let first = this.clone().or_else(|| other.clone()).or_else(|| self.snapshots.last().cloned());
        let second = if this.is_some() { other } else { None };
        let Some(first) = first else { return Ok(None) };
        let Some(second) = second.or_else(|| self.beside(&first)) else { return Ok(None) };
        if first == second {
            let sentence = "That is one and the same stance.".to_owned();
            return Err(Problem::new("same_stance", sentence, "Choose another one to hold it against."));
        }
        Ok(Some(if self.rank(&first) <= self.rank(&second) { (first, second) } else { (second, first) }))
    }

    /// What a stance is held against where nothing is said: the main target, else the snapshot before it.
    fn beside(&self, first: &Chosen) -> Option<Chosen> {
        let newest = || self.snapshots.last().cloned();
        match first {
            Chosen::Target(_) => newest(),
            Chosen::Forecast(_) | Chosen::Planned { .. } => self.targets.first().cloned().or_else(newest),
            Chosen::Snapshot { .. } => {
                let place = self.snapshots.iter().position(|known| known == first)?;
                let before = place.checked_sub(1).or_else(|| (place + 1 < self.snapshots.len()).then_some(place + 1));
                self.targets.first().cloned().or_else(|| Some(self.snapshots[before?].clone()))
            }
        }
    }

    /// Differences are the lower rank less the higher: a forecast less what was measured, the newer less the older, all less a target.
    fn rank(&self, of: &Chosen) -> (u8, usize) {
        match of {
            Chosen::Forecast(_) => (0, 0),
            Chosen::Planned { .. } => (0, 1 + self.planned.iter().position(|known| known == of).unwrap_or_default()),
            Chosen::Snapshot { .. } => {
                let place = self.snapshots.iter().position(|known| known == of).unwrap_or_default();
                (1, self.snapshots.len() - place)
            }
            Chosen::Target(_) => (2, self.targets.iter().position(|known| known == of).unwrap_or_default()),
        }
    }

    /// One stance by itself: the one asked for, else the newest snapshot.
    pub(crate) fn one(&self, wanted: Option<&StanceRef>) -> Result<Option<Chosen>, Problem> {
        wanted.map_or_else(|| Ok(self.snapshots.last().cloned()), |wanted| self.find(wanted).map(Some))
    }

    /// The newest snapshot.
    pub(crate) fn newest(&self) -> Option<&Snapshot> {
        self.snapshots.last().and_then(Chosen::snapshot)
    }

    pub(crate) fn snapshots(&self) -> Vec<StanceChoice> {
        self.snapshots.iter().rev().map(|one| one.choice(self)).collect()
    }

    pub(crate) fn targets(&self) -> Vec<StanceChoice> {
        self.targets.iter().map(|one| one.choice(self)).collect()
    }

    pub(crate) fn forecast(&self) -> Option<StanceChoice> {
        self.forecast.as_ref().ok().map(|one| one.choice(self))
    }

    /// Days to come that are offered, and the one that was asked for beside them.
    pub(crate) fn ahead(&self) -> Vec<StanceChoice> {
        if self.forecast.is_err() {
            return Vec::new();
        }
        let last = self.snapshots.last().map_or("", Chosen::date);
        let from = if self.today.as_str() > last { self.today.as_str() } else { last };
        let offered = [(14, "in two weeks"), (30, "in a month")].into_iter().filter_map(|(days, label)| {
            let date = day_after(from, days)?;
            Some(StanceChoice {
                label: label.to_owned(),
                short: label.to_owned(),
                detail: format!("{}, as it settles", day(&date)),
                line: StanceLine::Predicted,
                stance: StanceRef { of: StanceOf::Forecast, id: date },
            })
        });
        let mut all: Vec<StanceChoice> = offered.collect();
        let asked = self.pair.iter().flat_map(|(this, other)| [this, other]).map(|chosen| chosen.choice(self));
        let dated = asked.filter(|choice| choice.stance.of == StanceOf::Forecast && !choice.stance.id.is_empty());
        for choice in dated {
            if all.iter().all(|known| known.stance != choice.stance) {
                all.push(choice);
            }
        }
        all
    }

    pub(crate) fn planned(&self) -> Vec<StanceChoice> {
        self.planned.iter().map(|one| one.choice(self)).collect()
    }

    /// All of them, to choose one.
    pub(crate) fn choices(&self) -> StanceChoices {
        StanceChoices {
            snapshots: self.snapshots(),
            targets: self.targets(),
            forecast: self.forecast(),
            ahead: self.ahead(),
            planned: self.planned(),
            missing: self.missing(),
        }
    }

    /// Why a sort of stance cannot be chosen.
    pub(crate) fn missing(&self) -> Vec<String> {
        let no_target = "No target: save a snapshot as one or type four heights.".to_owned();
        let target = self.targets.is_empty().then_some(no_target);
        target.into_iter().chain(self.forecast.as_ref().err().cloned()).collect()
    }

    pub(crate) fn nothing(&self) -> NothingToCompare {
        let sentence = if self.snapshots.is_empty() {
            "Walk round the car with the tape first, and again after a week\u{2019}s driving."
        } else {
            "Measure again after a week\u{2019}s driving."
        };
        NothingToCompare { headline: "Nothing to compare yet.".to_owned(), sentence: sentence.to_owned() }
    }
}

impl Chosen {
    fn id(&self) -> &str {
        match self {
            Self::Snapshot { id, .. } | Self::Planned { id, .. } => id,
            Self::Target(target) => &target.id,
            Self::Forecast(forecast) => forecast.date.as_deref().unwrap_or_default(),
        }
    }

    fn date(&self) -> &str {
        self.snapshot().map_or("", |snapshot| &snapshot.date)
    }

    /// As the core takes it.
    pub(crate) fn stance(&self) -> Stance<'_> {
        match self {
            Self::Snapshot { snapshot, .. } => Stance::Measured(&snapshot.id),
            Self::Target(target) => Stance::Target(target),
            Self::Forecast(forecast) => Stance::Forecast(forecast),
            Self::Planned { planned, .. } => Stance::Planned(planned),
        }
    }

    /// As the checks take it.
    pub(crate) fn which(&self) -> Which<'_> {
        match self {
            Self::Snapshot { snapshot, .. } => Which::Snapshot(&snapshot.id),
            Self::Target(target) => Which::Target(target),
            Self::Forecast(forecast) => Which::Forecast(forecast),
            Self::Planned { planned, .. } => Which::Planned(planned),
        }
    }

    /// The snapshot, where it is one.
    pub(crate) fn snapshot(&self) -> Option<&Snapshot> {
        match self {
            Self::Snapshot { snapshot, .. } => Some(snapshot),
            Self::Target(_) | Self::Forecast(_) | Self::Planned { .. } => None,
        }
    }

    /// The target, where it is one.
    pub(crate) fn target(&self) -> Option<&Target> {
        match self {
            Self::Target(target) => Some(target),
            Self::Snapshot { .. } | Self::Forecast(_) | Self::Planned { .. } => None,
        }
    }

    /// Its height at a point, "267 ±4", at nominal load or as it stood; empty where it does not tell it.
    pub(crate) fn height(&self, asked: &Asked, point: &str, load: Load) -> String {
        let figure = match self {
            Self::Snapshot { snapshot, .. } => asked.solved.stance(&snapshot.id).and_then(|stance| {
                if load == Load::Nominal { stance.heights_nominal.get(point) } else { stance.heights.get(point) }
                    .copied()
            }),
            Self::Target(target) => return target.heights_mm.get(point).map(|mm| whole(*mm)).unwrap_or_default(),
            Self::Planned { planned, .. } => {
                let solution = asked.solved.solution.as_ref().ok();
                solution.and_then(|solution| planned.stance(&asked.solved.file, solution).heights.remove(point))
            }
            Self::Forecast(forecast) => asked
                .solved
                .solution
                .as_ref()
                .ok()
                .and_then(|solution| forecast.heights(&asked.solved.file, solution).get(point).copied()),
        };
        let known = figure.as_ref().and_then(known);
        known.map(|(value, u)| format!("{} ±{}", whole(value), whole(band_mm(u)))).unwrap_or_default()
    }

    /// How it is drawn: of two snapshots the newer one is now.
    pub(crate) fn line(&self, asked: &Asked) -> StanceLine {
        match self {
            Self::Target(_) => StanceLine::Target,
            Self::Forecast(_) | Self::Planned { .. } => StanceLine::Predicted,
            Self::Snapshot { .. } => match &asked.pair {
                Some((Self::Snapshot { .. }, older)) if self == older => StanceLine::Earlier,
                Some((this, other)) if self == this || self == other => StanceLine::Now,
                _ => StanceLine::Earlier,
            },
        }
    }

    pub(crate) fn choice(&self, asked: &Asked) -> StanceChoice {
        let (of, label, detail) = match self {
            Self::Snapshot { snapshot, .. } => {
                let file = &asked.solved.file;
                let floor = snapshot.floor.as_ref().and_then(|name| file.floors.iter().find(|floor| floor.id == *name));
                let stood = format!(
                    "{}; {}",
                    capital(&crate::floor_page::with_state(floor)),
                    snapshot_row::load_words(&file.vehicle, snapshot)
                );
                let dated =
                    if snapshot.label.trim().is_empty() { stood } else { format!("{}. {stood}", day(&snapshot.date)) };
                (StanceOf::Snapshot, snapshot_row::label(snapshot), dated)
            }
            Self::Target(target) => {
                let label = if target.label.trim().is_empty() { "the target".to_owned() } else { shown(&target.label) };
                (StanceOf::Target, label, format!("{}. {}", target_page::what(target), target_page::made(target)))
            }
            Self::Planned { label, planned, .. } => {
                let called = if label.trim().is_empty() { "a plan".to_owned() } else { shown(label) };
                let steps = crate::words::counted(planned.steps.len(), "step", "steps");
                let kept = if self.id().is_empty() { ", not kept yet" } else { "" };
                (StanceOf::Planned, called, format!("A plan of {steps}{kept}. Predicted, not measured"))
            }
            Self::Forecast(forecast) => match &forecast.date {
                None => (StanceOf::Forecast, "settled".to_owned(), "Where its settling will end".to_owned()),
                Some(date) => (StanceOf::Forecast, day(date), "How it will stand that day, as it settles".to_owned()),
            },
        };
        let newest = asked.snapshots.last() == Some(self);
        StanceChoice {
            stance: StanceRef { of, id: self.id().to_owned() },
            short: if newest { "now".to_owned() } else { label.clone() },
            label,
            detail,
            line: self.line(asked),
        }
    }
}

/// What kept plans would make of the car, the newest first.
fn kept_plans(solved: &SolvedCar) -> Vec<Chosen> {
    let Ok(solution) = &solved.solution else { return Vec::new() };
    let file = &solved.file;
    let (taught, _) = taught(file, solution);
    let newest = file.snapshots.iter().rfind(|snapshot| snapshot.on_wheels()).map(|snapshot| snapshot.id.as_str());
    let offered = file.plans.iter().rev().filter(|kept| kept.is_offered(file));
    let stance = |kept: &KeptPlan| {
        let changes = kept.done_changes().ok()?;
        let changes: Vec<&Change> = changes.iter().collect();
        let planned = plan(file, solution, kept.from.as_deref().or(newest)?, &changes, &taught).ok()?;
        Some(Chosen::Planned { id: kept.id.clone(), label: kept.label.clone(), planned: Box::new(planned) })
    };
    offered.filter_map(stance).collect()
}
