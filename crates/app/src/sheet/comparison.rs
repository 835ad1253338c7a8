//! Two stances against each other on one page to print: both from the side, every difference with its verdict, what was not alike.

use super::LONG_NAME;
use super::side_view::{Over, symbol, with_over};
use crate::compare_page::{Asked, asked_of_file, page};
use crate::wire::{
    CompareAsk, CompareView, ComparisonView, DifferenceView, FindingView, OverlayView, Problem, SideView, StanceChoice,
    StanceLine,
};
use crate::words::{capital, day};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use trueground_core::capture::CarFile;
use trueground_core::corner::Corner;
use trueground_core::stance::Figure;
use trueground_core::wording::shown;

const STYLE: &str = concat!(include_str!("sheet.css"), include_str!("card.css"), include_str!("comparison.css"));
/// A difference of a few mm is seen on paper only if it is drawn larger; so much where nothing else is asked for.
const TIMES: u8 = 5;
const MOST_TIMES: u8 = 10;
/// A number that begins further right runs off the page, px.
const RIGHTMOST: f64 = 500.0;
/// Lower than this above the ground a line would run through it, mm.
const CLEAR_MM: f64 = 30.0;

/// The page of two stances of a file, worked out here: names of snapshots, of targets, `settled` for the end of the settling, or a day to
/// come. Height differences are drawn `times` as large, 1 to 10; 0: five times.
///
/// # Errors
/// No such stance, a stance against itself, or readings that cannot be worked out.
pub fn comparison(file: &CarFile, this: &str, other: &str, times: u8) -> Result<String, Problem> {
    let request =
        CompareAsk { car: String::new(), this: None, other: None, kind: String::new(), as_loaded: false, times };
    of(&asked_of_file(file, [this, other])?, &request)
}

/// The page of what is asked for.
///
/// # Errors
/// There are no two stances yet, or they cannot be compared.
pub(crate) fn of(asked: &Asked, request: &CompareAsk) -> Result<String, Problem> {
    let CompareView { comparison, nothing, .. } = page(asked, request)?;
    let Some(view) = comparison else {
        let (headline, sentence) = nothing.map(|nothing| (nothing.headline, nothing.sentence)).unwrap_or_default();
        return Err(Problem::new("nothing_to_compare", headline, sentence));
    };
    let times = if request.times == 0 { TIMES } else { request.times.min(MOST_TIMES) };
    let label = shown(&asked.solved.file.vehicle.label);
    let html = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (label) ", " (view.this.label) " against " (view.other.label) }
                style { (PreEscaped(STYLE)) }
            }
            body.card.comparison {
                main {
                    header {
                        h1 class=[(label.chars().count() > LONG_NAME).then_some("long")] { (label) " " span { "compared" } }
                        @if !view.date.is_empty() {
                            p.cell { "Date" b { (day(&shown(&view.date))) } }
                            p.cell.wide { "Floor" b { (capital(&view.floor)) } }
                        }
                    }
                    div.legend { (legend(&view.this)) (legend(&view.other)) }
                    @if let Some(overlay) = &view.overlay { (seen(overlay, &view, times)) }
                    (said(&view))
                    (differences(&view))
                    div.lists {
                        (list("Not alike, and taken out", view.unequal.iter().chain(&view.taken_out)))
                        (findings(&view))
                        (list("As one movement", view.split.iter()))
                        (list("Tire or spring, as it stood", view.parts.iter()))
                    }
                    footer {
                        p { "± holds 19 times in 20. " (if view.as_loaded { "Differences are as read." } else { "Differences are at the usual load and pressures." }) " This page measures; it does not say a car is roadworthy." }
                        b { "Trueground" }
                    }
                }
            }
        }
    };
    Ok(html.into_string())
}

const fn class(line: StanceLine) -> &'static str {
    match line {
        StanceLine::Now => "now",
        StanceLine::Earlier => "earlier",
        StanceLine::Target => "target",
        StanceLine::Predicted => "predicted",
    }
}

fn legend(of: &StanceChoice) -> Markup {
    let line = class(of.line);
    html! {
        p {
            svg width="60" height="16" viewBox="0 0 60 16" aria-hidden="true" {
                path class=(format!("over rail {line}")) d="M1,8H59" {}
                @if line == "predicted" { path.between d="M1,8H59" {} }
                (symbol(line, 30.0, 8.0))
            }
            span { b { (of.label) } }
        }
    }
}

/// Both from the side, heights drawn apart, the true differences under their marks.
fn seen(overlay: &OverlayView, view: &ComparisonView, times: u8) -> Markup {
    let mean = |of: &DifferenceView| {
        html! {
            @if of.number.is_empty() { span.label { (of.verdict_words) } } @else {
                span.value { (of.number) } span.band { (of.band) }
                span.label { (of.place) @if !of.word.is_empty() { ", " (of.word) } }
            }
        }
    };
    overlaid(overlay, &view.text, [&mean(&view.front), &mean(&view.rear)], times)
}

/// One stance over the other, with what stands under its front and rear marks.
pub(super) fn overlaid(overlay: &OverlayView, text: &str, under: [&Markup; 2], times: u8) -> Markup {
    let (figure, over) = apart(&overlay.figure, &overlay.over, times.into());
    let lines = Over { side: &over, line: class(overlay.over_line), text };
    let (picture, [front, rear]) = with_over(&figure, Some(&lines));
    html! {
        div.seen {
            (picture)
            div.means {
                p style=(format!("left:{front:.0}px")) { (under[0]) }
                p style=(format!("left:{:.0}px", rear.min(RIGHTMOST))) { (under[1]) }
                p.scale { @if times == 1 { "to scale" } @else { "height differences ×" (times) } }
            }
        }
    }
}

/// The figure true and the other as much further away; the other way round where that would run through the ground.
fn apart(figure: &SideView, over: &SideView, times: f64) -> (SideView, SideView) {
    let moved = further(figure, over, times);
    if moved.rail_front_mm.min(moved.rail_rear_mm) > CLEAR_MM {
        return (figure.clone(), moved);
    }
    (further(over, figure, times), over.clone())
}

fn further(from: &SideView, to: &SideView, times: f64) -> SideView {
    let z = |a: f64, b: f64| a + (b - a) * times;
    let mean = |a: &Figure, b: &Figure| Figure { value: a.value.zip(b.value).map(|(a, b)| z(a, b)), ..*b };
    let lip = |a: Option<f64>, b: Option<f64>| a.zip(b).map(|(a, b)| z(a, b)).or(b);
    SideView {
        front_mm: mean(&from.front_mm, &to.front_mm),
        rear_mm: mean(&from.rear_mm, &to.rear_mm),
        rail_front_mm: z(from.rail_front_mm, to.rail_front_mm),
        rail_rear_mm: z(from.rail_rear_mm, to.rail_rear_mm),
        lip_front_mm: lip(from.lip_front_mm, to.lip_front_mm),
        lip_rear_mm: lip(from.lip_rear_mm, to.lip_rear_mm),
        ..to.clone()
    }
}

fn said(view: &ComparisonView) -> Markup {
    html! {
        section {
            p.said { (view.headline) }
            @if !view.detail.is_empty() { p { (view.detail) } }
        }
    }
}

fn differences(view: &ComparisonView) -> Markup {
    let corners = Corner::ALL.map(|corner| view.corners.at(corner));
    let rows: Vec<&DifferenceView> = corners.into_iter().chain([&view.front, &view.rear]).collect();
    html! {
        section {
            h2 { (view.title) @if !view.tolerance.is_empty() { span { (view.tolerance.replace("shaded ", "tolerance ")) " mm" } } }
            table.rows.differences {
                thead { tr { th scope="col" { "mm" } th scope="col" { (view.this.short) } th scope="col" { (view.other.short) } th scope="col" { "difference" } th scope="col" { "verdict" } th scope="col" {} } }
                @for row in rows {
                    tr {
                        th scope="row" { (row.place) }
                        td { (row.this) }
                        td { (row.other) }
                        td { @if !row.number.is_empty() { b { (row.number) } " " (row.word) " " (row.band.replace(" mm", "")) } }
                        td { (row.verdict_words) }
                        td { (glyph(&row.verdict, row.word == "lower")) }
                    }
                }
            }
        }
    }
}

/// Where the dot stands to the diamond says the verdict; the word beside it says the same.
fn glyph(verdict: &str, below: bool) -> Markup {
    let (diamond, dot) = match (verdict, below) {
        ("not_read", _) => return html! {},
        ("same" | "on" | "even" | "within", _) => ("M15 3.5L26.5 15L15 26.5L3.5 15Z", 15.0),
        ("cant_tell", _) => ("M15 12L22.5 19.5L15 27L7.5 19.5Z", 9.5),
        (_, false) => ("M15 16.5L21 22.5L15 28.5L9 22.5Z", 6.5),
        (_, true) => ("M15 1.5L21 7.5L15 13.5L9 7.5Z", 23.5),
    };
    html! { svg width="22" height="22" viewBox="0 0 30 30" aria-hidden="true" { path.glyph d=(diamond) {} circle.tire cx="15" cy=(dot) r="5" {} } }
}

fn list<'s>(title: &str, sentences: impl Iterator<Item = &'s String>) -> Markup {
    let all: Vec<&String> = sentences.collect();
    html! { @if !all.is_empty() { section { h2 { (title) } ul { @for sentence in all { li { (sentence) } } } } } }
}

fn findings(view: &ComparisonView) -> Markup {
    let all: Vec<&FindingView> = view.findings.iter().chain(&view.limits).collect();
    html! {
        @if !all.is_empty() {
            section { h2 { "Verdicts" } ul { @for finding in all { li { b { (finding.bold) } (finding.rest) } } } }
        }
    }
}
