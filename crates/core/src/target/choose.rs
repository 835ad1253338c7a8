//! The targets of a car's file, and the one that is asked for.

use super::only::ONLY;
use super::{Target, TargetMarkKind, check_limits, check_numbers};
use crate::capture::CarFile;
use crate::level::Problem;
use crate::wording::{listed, nearest, shown};

const HINT: &str = "Correct it there; heights and tolerances are in mm.";

impl Target {
    /// The only target of a car's file.
    ///
    /// # Errors
    /// None in it, several, or one that makes no sense: the place, the value, the range.
    pub fn of(file: &CarFile) -> Result<Self, Problem> {
        Self::named(file, None)
    }

    /// The target of that name or label, or the only one.
    ///
    /// # Errors
    /// As [`Target::of`]; no such target.
    pub fn named(file: &CarFile, name: Option<&str>) -> Result<Self, Problem> {
        let all = Self::offered(file);
        if let Some(Err(unreadable)) = Self::only(file)
            && (name == Some(ONLY) || all.is_empty())
        {
            return Err(Problem::new(unreadable.to_string(), HINT));
        }
        let target = match (name, &all[..]) {
            (_, []) => {
                let hint = "Add one: \"target\": {\"heights_mm\": {\"rail.FL\": 246, …}, \"tolerance_mm\": 6}.";
                return Err(Problem::new("the file has no target", hint));
            }
            (None, [one]) => one,
            (None, many) => {
                let message = format!("the file has {} targets", many.len());
                return Err(Problem::new(message, format!("Name one of them: {}.", listed(&names(many)))));
            }
            (Some(name), all) => match all.iter().find(|target| target.id == name || target.label == name) {
                Some(target) => target,
                None => {
                    let known = names(all);
                    let hint = match nearest(name, &known) {
                        Some(near) => format!("Did you mean {}?", shown(near)),
                        None => format!("Name one of them: {}.", listed(&known)),
                    };
                    return Err(Problem::new(format!("there is no target {}", shown(name)), hint));
                }
            },
        };
        target.check(file).map_err(|message| Problem::new(message, HINT))?;
        Ok(target.clone())
    }

    /// Every target of a file that is neither replaced nor put away, that of version 1 first; one that [`Self::only`] cannot read hides
    /// no other.
    pub fn offered(file: &CarFile) -> Vec<Self> {
        let only = Self::only(file).and_then(Result::ok);
        // Only a later entry takes the place of an earlier one.
        let replaced = |id: &str| {
            let after = file.targets.iter().position(|own| own.id == id).map_or(0, |at| at + 1);
            file.targets[after..].iter().any(|other| other.replaces.as_deref() == Some(id))
        };
        let away = |id: &str| {
            let last = file.target_marks.iter().rev().find(|mark| mark.target == id);
            last.is_some_and(|mark| mark.what == TargetMarkKind::PutAway)
        };
        let all = only.into_iter().chain(file.targets.iter().cloned());
        all.filter(|target| !replaced(&target.id) && !away(&target.id)).collect()
    }

    fn check(&self, file: &CarFile) -> Result<(), String> {
        let place = if self.id == ONLY { ONLY.to_owned() } else { format!("target {}", shown(&self.id)) };
        let mut first = None;
        if self.is_empty() {
            return Err(format!("{place}.heights_mm: names no point"));
        }
        let known = |point: &String| file.vehicle.ref_points.iter().any(|known| known.id == *point);
        let named = self.heights_mm.keys().map(|point| (format!("heights_mm.{}", shown(point)), point));
        let limited = self.limits.iter().enumerate().flat_map(|(number, limit)| {
            limit.points.iter().map(move |point| (format!("limits[{number}].points: {}", shown(point)), point))
        });
        if let Some((at, _)) = named.chain(limited).find(|(_, point)| !known(point)) {
            return Err(format!("{place}.{at}: the car has no such point"));
        }
        let mut note = |at: String, message: String| first = first.take().or(Some(format!("{place}.{at}: {message}")));
        check_numbers(self, &mut note);
        check_limits(&self.limits, &mut note);
        first.map_or(Ok(()), Err)
    }
}

fn names(targets: &[Target]) -> Vec<&str> {
    targets
        .iter()
        .map(|target| if target.label.is_empty() { target.id.as_str() } else { target.label.as_str() })
        .collect()
}
