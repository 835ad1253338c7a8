//! The search among parts: what is asked as it is typed, and its ranked answers.

use super::view::lower;
use super::{Base, not_read, refused};
use crate::fields::Fields;
use crate::plan_form::step_form;
use crate::wire::{ChangeForm, PlanForm, Problem, SearchAnswer, SearchAsk, SearchView, TapeUnit};
use crate::words::{capital, counted, whole};
use crate::{Garage, target_page};
use trueground_core::capture::CarFile;
use trueground_core::checks::{LoadCase, Verdict, Which, at_stance, findings};
use trueground_core::plan::search::{Answer, Asked, Keep, Searched, search as search_parts};
use trueground_core::plan::{Part, parts};
use trueground_core::target::Target;

/// So many answers are shown.
const WANTED: usize = 8;
/// Reports of progress before a search stands still for the person, at effort 1.
const REPORTS: u32 = 400;

/// Searches; where it would take long it stops, says how far it is, and goes further when it is asked with more effort.
///
/// # Errors
/// No such car or target, no parts, or fields that cannot be read.
pub(crate) fn search(garage: &mut Garage, request: &SearchAsk) -> Result<SearchView, Problem> {
    let tape = garage.settings()?.tape;
    let keep = keep(request, tape)?;
    let Some(base) = Base::of(garage, &request.car, &request.from)? else {
        return Err(Problem::new(
            "nothing_to_plan",
            "No snapshot to set out from yet.",
            "Walk round the car with the tape first.",
        ));
    };
    let file = &base.solved.file;
    let target = match garage
        .store
        .targets(base.car)?
        .into_iter()
        .rev()
        .find(|target| request.target.is_empty() || target.id == request.target)
    {
        Some(target) => target,
        None if request.target.is_empty() => {
            return Err(Problem::new(
                "nothing_to_plan",
                "No target to reach yet.",
                "Save a snapshot as a target, or type four heights.",
            ));
        }
        None => target_page::find(file, &request.target)?,
    };
    let parts = parts(file).map_err(|refusal| not_read(&refusal))?;
    let asked =
        Asked { from: &base.from.0, target: &target, parts: &parts, keep: &keep, wanted: WANTED, taught: base.taught };
    let (mut left, mut done) = (REPORTS.saturating_mul(request.effort.max(1)), 0.0);
    let found = search_parts(file, base.solution()?, &asked, &mut |at| {
        done = at;
        left = left.saturating_sub(1);
        left > 0
    });
    let found = found.map_err(|problem| refused(&problem))?;
    let about = About { request, base: &base, parts: &parts, target: &target, tape };
    let (headline, detail) = words(&found, &target);
    Ok(SearchView {
        headline,
        detail,
        done: if found.proved { 1.0 } else { done },
        proved: found.proved,
        reaches: found.reaches,
        left_out: found
            .left_out
            .iter()
            .map(|(number, why)| {
                format!(
                    "Left out: {}. {}",
                    parts[*number].change.label,
                    capital(&crate::plan_refusal::without_place(why))
                )
            })
            .collect(),
        nearest_but: found.nearest_but.as_ref().map_or_else(String::new, |(answer, why)| {
            format!(
                "Nearer with {}: {:.1} times the tolerance. But {}.",
                lower(&about.label(answer)),
                answer.worst,
                lower(why)
            )
        }),
        answers: found.answers.iter().map(|answer| about.answer(answer)).collect::<Result<_, _>>()?,
    })
}

fn keep(request: &SearchAsk, tape: TapeUnit) -> Result<Keep, Problem> {
    let mut fields = Fields::default();
    let mut number = |field: &str, typed: &str, low: f64, high: f64| -> Option<f64> {
        if typed.trim().is_empty() {
            return None;
        }
        let read: Option<f64> = typed.trim().replace(',', ".").parse().ok();
        let read = read.filter(|number| (low..=high).contains(number));
        if read.is_none() {
            fields.refuse(
                field,
                typed,
                &format!("A number from {low} to {high} is taken here."),
                "Look at the number.",
            );
        }
        read
    };
    let low = number("caster_low", &request.caster_low, -30.0, 30.0);
    let high = number("caster_high", &request.caster_high, -30.0, 30.0);
    let most_jobs = number("most_parts", &request.most_parts, 0.0, 1_000.0);
    let most_price = number("most_price", &request.most_price, 0.0, 1e7);
    if low.zip(high).is_some_and(|(low, high)| low > high) {
        fields.refuse(
            "caster_high",
            &request.caster_high,
            "The upper end lies below the lower one.",
            "Type the lower end first.",
        );
    }
    let keep = Keep {
        no_touch: request.no_touch,
        clearance_mm: fields.optional_length("clearance", "a clearance", &request.clearance, tape, 0.0..=1_000.0),
        travel_lost_mm: fields.optional_length("travel_lost", "a travel", &request.travel_lost, tape, 0.0..=500.0),
        caster_deg: (low.is_some() || high.is_some()).then(|| [low.unwrap_or(-30.0), high.unwrap_or(30.0)]),
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 1000")]
        most_jobs: most_jobs.map(|most| most as usize),
        most_price,
    };
    fields.done()?;
    Ok(keep)
}

fn words(found: &Searched, target: &Target) -> (String, String) {
    let label = if target.label.trim().is_empty() { "the target" } else { target.label.trim() };
    let all = if found.combinations < 1e12 {
        trueground_core::wording::grouped(found.combinations as usize)
    } else {
        format!("{:.0e}", found.combinations)
    };
    let looked = if found.proved {
        format!("{all} combinations, all of them looked at or ruled out.")
    } else {
        format!("{all} combinations; not all of them looked at yet.")
    };
    let mut nearest = String::new();
    let headline = match found.answers.first() {
        None if found.proved => "Nothing is left that keeps what you ask for.".to_owned(),
        None => "Nothing found yet.".to_owned(),
        Some(_) if found.reaches => {
            let count = found.answers.iter().filter(|answer| answer.worst <= 1.0).count();
            if count == 1 { format!("One combination reaches {label}.") } else { format!("These reach {label}.") }
        }
        Some(best) if found.proved => {
            nearest = format!("The nearest is off by {:.1} times its tolerance. ", best.worst);
            format!("None reaches {label}.")
        }
        Some(best) => {
            nearest = format!("The nearest so far is off by {:.1} times its tolerance. ", best.worst);
            "Nothing reaches it yet.".to_owned()
        }
    };
    (headline, nearest + &capital(&looked))
}

struct About<'a> {
    request: &'a SearchAsk,
    base: &'a Base,
    parts: &'a [Part],
    target: &'a Target,
    tape: TapeUnit,
}

impl About<'_> {
    fn file(&self) -> &CarFile {
        &self.base.solved.file
    }

    fn label(&self, answer: &Answer) -> String {
        if answer.parts.is_empty() {
            return "Nothing changed".to_owned();
        }
        let labels: Vec<&str> = answer.parts.iter().map(|i| self.parts[*i].change.label.as_str()).collect();
        capital(&labels.join(", "))
    }

    fn answer(&self, answer: &Answer) -> Result<SearchAnswer, Problem> {
        let mut detail = counted(answer.parts.len(), "part", "parts");
        if answer.price > 0.0 {
            detail += &format!(", price {}", whole(answer.price));
        }
        if answer.hours > 0.0 {
            detail += &format!(", {} hours", answer.hours);
        }
        let off = answer.differences_mm.get(&answer.worst_point).copied().unwrap_or_default();
        let way = if off < 0.0 { "lower" } else { "higher" };
        let point = self.file().vehicle.ref_points.iter().find(|point| point.id == answer.worst_point);
        let place = point.map_or(answer.worst_point.as_str(), |point| point.corner.words());
        let now = self.base.solution()?;
        let car = at_stance(self.file(), now, Which::Planned(&answer.planned), LoadCase::Nominal, Vec::new());
        let car = car.map_err(|problem| refused(&problem))?;
        let bad = |verdict| matches!(verdict, Some(Verdict::Touches | Verdict::Outside));
        let found = findings(&car, &[]);
        Ok(SearchAnswer {
            label: self.label(answer),
            detail: capital(&detail),
            worst: answer.worst,
            fit: format!("{} {} mm {way}, {:.1} of its tolerance", capital(place), whole(off.abs()), answer.worst),
            reaches: answer.worst <= 1.0,
            breaks: found.into_iter().filter(|finding| bad(finding.verdict)).map(|finding| finding.sentence).collect(),
            plan: PlanForm {
                car: self.request.car.clone(),
                from: self.base.from.1.clone(),
                target: self.target.id.clone(),
                label: self.label(answer),
                changes: answer.parts.iter().map(|i| self.change(&self.parts[*i])).collect(),
                ..PlanForm::default()
            },
        })
    }

    fn change(&self, part: &Part) -> ChangeForm {
        let kept = self.file().parts.iter().find(|own| own.id == part.change.id);
        let steps = kept.and_then(|own| own.says.get("steps")?.as_array().cloned()).unwrap_or_default();
        ChangeForm {
            label: part.change.label.clone(),
            left_out: false,
            steps: steps.iter().map(|step| step_form(step, self.tape)).collect(),
        }
    }
}
