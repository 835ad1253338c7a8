//! The next day on which measuring helps most: the first whose reading brings the verdict, else the one that brings the rest nearest.

use super::dated::date;
use super::of_car::{End, LineSettling};
use super::settling::{SettleFigure, Settled, TooEarly};
use super::verdict::judged;
use crate::bench::Refusal;
use crate::car::PointKind;
use chrono::{Days, NaiveDate};
use serde::Serialize;

/// After work on the springs it is measured on these days, then every two weeks; common practice, no source.
const FIRST_DAYS: [f64; 4] = [0.0, 3.0, 7.0, 14.0];
const THEN_EVERY_DAYS: f64 = 14.0;
/// Day by day so far ahead, …
const DAY_BY_DAY: u64 = 60;
/// … then week by week; what lies further ahead is no advice.
const FURTHEST_DAYS: u64 = 182;

/// What a reading on that day would bring.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Brings {
    /// One day more of the five that a law needs.
    OneDayMore,
    /// A stretch long enough for its law, or a rest sure enough: the first verdict.
    Verdict,
    /// The word that it has settled.
    Settled,
    /// No verdict yet, but the surest rest of the days to come.
    SurerRest,
}

/// The next useful date to measure.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct NextDate {
    /// `YYYY-MM-DD`, never before the day asked on.
    pub date: String,
    /// Days since the settling began.
    pub day: f64,
    /// Whose line asks for it.
    pub kind: PointKind,
    /// At which end.
    pub end: End,
    /// What the reading would bring.
    pub brings: Brings,
    /// What is lacking until then.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub lacking: Vec<TooEarly>,
    /// Height at rest as it is known now; absent with too few days.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rest_u_now_mm: Option<f64>,
    /// Its standard uncertainty then.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub rest_u_then_mm: Option<f64>,
    /// What would still be to come then, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub remaining_then_mm: Option<SettleFigure>,
}

/// The next useful date for one line, on `today` or later. None where it has settled, or where no day of the next half year helps.
///
/// A coming reading is taken to lie on the curve, as sure as the usual one so far: it changes what is known, not what is thought.
///
/// # Errors
/// `today` is no date, `YYYY-MM-DD`.
pub fn next_date(line: &LineSettling, today: &str) -> Result<Option<NextDate>, Refusal> {
    Ok(on_or_after(line, date(today, "today")?))
}

fn on_or_after(line: &LineSettling, today: NaiveDate) -> Option<NextDate> {
    let day_0: NaiveDate = line.day_0.parse().ok()?;
    let last = line.heights.last().map_or(0.0, |height| height.day);
    let first = ((today - day_0).num_days() as f64).max(last + 1.0).max(0.0);
    let date_of = |day: f64| Some(day_0.checked_add_days(Days::new(day as u64))?.to_string());
    let answer = line.answer();
    let of = |day: f64, brings: Brings, then: Option<(SettleFigure, SettleFigure)>| {
        Some(NextDate {
            date: date_of(day)?,
            day,
            kind: line.kind,
            end: line.end,
            brings,
            lacking: answer.lacking.clone(),
            rest_u_now_mm: answer.final_height_mm.map(|rest| rest.u),
            rest_u_then_mm: then.map(|(rest, _)| rest.u),
            remaining_then_mm: then.map(|(_, remaining)| remaining),
        })
    };
    let Some(law) = line.law.as_ref() else {
        // What is overdue is due at once; else the next of the usual days.
        let usual = FIRST_DAYS.into_iter().find(|day| *day > last).unwrap_or(last + THEN_EVERY_DAYS);
        return of(usual.max(first), Brings::OneDayMore, None);
    };
    if answer.verdict == Settled::Settled {
        return None;
    }
    let coming = (0..=DAY_BY_DAY).chain((DAY_BY_DAY + 7..=FURTHEST_DAYS).step_by(7)).map(|ahead| first + ahead as f64);
    let mut surest: Option<(f64, (SettleFigure, SettleFigure))> = None;
    for day in coming {
        let Some(then) = law.with_a_reading(day) else { continue };
        let judged = judged(&then, answer.other);
        let known = (judged.rest, judged.remaining);
        match (answer.verdict, judged.verdict) {
            (_, Settled::Settled) => return of(day, Brings::Settled, Some(known)),
            (Settled::TooEarly, Settled::Settling) => return of(day, Brings::Verdict, Some(known)),
            _ => {}
        }
        let is_near = day - first <= DAY_BY_DAY as f64;
        if is_near && surest.as_ref().is_none_or(|(_, (rest, _))| judged.rest.u < rest.u) {
            surest = Some((day, known));
        }
    }
    let (day, known) = surest?;
    of(day, Brings::SurerRest, Some(known))
}

/// The next useful date for a car: the latest of what its lines ask for first, so that one day serves both ends. None where every
/// line has settled, or none was read.
///
/// # Errors
/// `today` is no date, `YYYY-MM-DD`.
pub fn next_date_of_car(lines: &[LineSettling], today: &str) -> Result<Option<NextDate>, Refusal> {
    let today = date(today, "today")?;
    let all = lines.iter().filter_map(|line| on_or_after(line, today));
    Ok(all.max_by(|a, b| a.day.total_cmp(&b.day)))
}
