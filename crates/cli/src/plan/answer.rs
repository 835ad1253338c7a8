//! The answer of `trueground plan` as JSON.

use serde::Serialize;
use std::collections::BTreeMap;
use trueground_core::capture::CarFile;
use trueground_core::checks::{Finding, LoadCase, Rule, Which, at_stance, findings};
use trueground_core::compare::{Comparison, Load, PlannedStance, Stance, compare};
use trueground_core::level::{Problem, Solution};
use trueground_core::plan::search::{Answer, Searched};
use trueground_core::plan::{After, Caution, EndAfter, KINDS, Kind, Part, Planned, StepDrop, Takes};
use trueground_core::target::Target;

/// Everything.
#[derive(Serialize)]
pub(super) struct Reply {
    pub basis: &'static str,
    pub from: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub planned: Vec<Row>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub measured: Option<Measured>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub search: Option<Search>,
}

/// One planned stance.
#[derive(Serialize)]
pub(super) struct Row {
    pub id: String,
    pub label: String,
    pub stance: PlannedStance,
    pub drop_by_step: Vec<StepDrop>,
    pub findings: Vec<Finding>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<Caution>,
    /// Predicted less target.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub against_target: Option<Comparison>,
}

/// What was measured after the work.
#[derive(Serialize)]
pub(super) struct Measured {
    pub snapshot: String,
    /// Measured less predicted.
    pub comparison: Comparison,
    pub ends: Vec<EndAfter>,
}

/// What a search found.
#[derive(Serialize)]
pub(super) struct Search {
    pub target: String,
    pub reaches: bool,
    pub proved: bool,
    pub combinations: f64,
    pub now_worst: f64,
    pub answers: Vec<Ranked>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub nearest_but: Option<NearestBut>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub left_out: Vec<LeftOut>,
}

/// A part that cannot be fitted to this car.
#[derive(Serialize)]
pub(super) struct LeftOut {
    pub part: String,
    pub why: String,
}

/// One combination of parts.
#[derive(Serialize)]
pub(super) struct Ranked {
    pub rank: usize,
    pub parts: Vec<String>,
    pub worst: f64,
    pub worst_point: String,
    pub differences_mm: BTreeMap<String, f64>,
    pub jobs: usize,
    pub price: f64,
    pub hours: f64,
    #[serde(flatten)]
    pub planned: Row,
}

/// The nearest without anything to be kept.
#[derive(Serialize)]
pub(super) struct NearestBut {
    pub parts: Vec<String>,
    pub worst: f64,
    pub breaks: String,
}

/// What the checks are asked.
pub(super) struct Checked<'a> {
    pub file: &'a CarFile,
    pub solution: &'a Solution,
    pub load: LoadCase,
    pub rules: Vec<Rule>,
}

impl Row {
    pub(super) fn of(asked: &Checked<'_>, planned: &Planned, target: Option<&Target>) -> Result<Self, Problem> {
        let (file, solution) = (asked.file, asked.solution);
        let against = |target| compare(file, solution, Stance::Planned(planned), Stance::Target(target), Load::Nominal);
        let car = at_stance(file, solution, Which::Planned(planned), asked.load, asked.rules.clone())?;
        Ok(Self {
            id: planned.id.clone(),
            label: planned.label.clone(),
            stance: planned.stance(file, solution),
            drop_by_step: planned.steps.clone(),
            findings: findings(&car, &[]),
            cautions: planned.cautions(),
            against_target: target.map(against).transpose()?,
        })
    }
}

impl Measured {
    pub(super) fn new(snapshot: &str, after: After) -> Self {
        Self { snapshot: snapshot.to_owned(), comparison: after.comparison, ends: after.ends }
    }
}

impl Search {
    pub(super) fn of(asked: &Checked<'_>, found: &Searched, parts: &[Part], target: &Target) -> Result<Self, Problem> {
        let names = |answer: &Answer| answer.parts.iter().map(|i| parts[*i].change.id.clone()).collect::<Vec<_>>();
        let ranked = |(i, answer): (usize, &Answer)| -> Result<Ranked, Problem> {
            Ok(Ranked {
                rank: i + 1,
                parts: names(answer),
                worst: answer.worst,
                worst_point: answer.worst_point.clone(),
                differences_mm: answer.differences_mm.clone(),
                jobs: answer.parts.len(),
                price: answer.price,
                hours: answer.hours,
                planned: Row::of(asked, &answer.planned, Some(target))?,
            })
        };
        Ok(Self {
            target: if target.label.is_empty() { target.id.clone() } else { target.label.clone() },
            reaches: found.reaches,
            proved: found.proved,
            combinations: found.combinations,
            now_worst: found.now,
            answers: found.answers.iter().enumerate().map(ranked).collect::<Result<_, _>>()?,
            left_out: found
                .left_out
                .iter()
                .map(|(number, why)| LeftOut { part: parts[*number].change.id.clone(), why: why.clone() })
                .collect(),
            nearest_but: found.nearest_but.as_ref().map(|(answer, why)| NearestBut {
                parts: names(answer),
                worst: answer.worst,
                breaks: why.clone(),
            }),
        })
    }
}

/// A kind of change for programs.
#[derive(Serialize)]
pub(super) struct KindRow {
    kind: &'static str,
    words: &'static str,
    does: &'static str,
    end: bool,
    fields: Vec<FieldRow>,
    side_effects: &'static [&'static str],
    cautions: Vec<&'static str>,
}

#[derive(Serialize)]
struct FieldRow {
    key: &'static str,
    words: &'static str,
    takes: String,
}

pub(super) fn kinds() -> Vec<KindRow> {
    let row = |kind: &Kind| KindRow {
        kind: kind.code,
        words: kind.words,
        does: kind.does,
        end: kind.has_end(),
        fields: kind
            .fields
            .iter()
            .map(|field| FieldRow { key: field.key, words: field.words, takes: takes(field.takes) })
            .collect(),
        side_effects: kind.side_effects,
        cautions: kind.cautions.iter().map(|caution| caution.words()).collect(),
    };
    KINDS.iter().map(row).collect()
}

pub(super) fn takes(takes: Takes) -> String {
    match takes {
        Takes::Number { low, high, unit } => format!("{low} to {high} {unit}").trim_end().to_owned(),
        Takes::Choice(codes) => codes.join(" or "),
        Takes::Leaves => "numbers of leaves, [3]".to_owned(),
        Takes::Pack => "a pack as trueground spring takes it".to_owned(),
        Takes::Text => "words".to_owned(),
    }
}
