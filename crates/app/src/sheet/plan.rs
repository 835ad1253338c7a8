//! A plan on one page to print: now and predicted from the side, the changes, what follows, what to do. Predicted, never measured.

use super::LONG_NAME;
use super::comparison::overlaid;
use super::findings::words;
use crate::wire::{ChangeRow, CheckRow, CheckWord, PlanHeight, PlanView};
use crate::words::{capital, day};
use maud::{DOCTYPE, Markup, PreEscaped, html};
use trueground_core::wording::shown;

const STYLE: &str = concat!(
    include_str!("sheet.css"),
    include_str!("card.css"),
    include_str!("comparison.css"),
    include_str!("plan.css")
);

/// The page.
pub(crate) fn plan(car: &str, label: &str, view: &PlanView) -> String {
    let car = shown(car);
    let name = if label.trim().is_empty() { "a plan".to_owned() } else { shown(label.trim()) };
    let page = html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { (car) ", " (name) }
                style { (PreEscaped(STYLE)) }
            }
            body.card.comparison.planned {
                main {
                    header {
                        h1 class=[(car.chars().count() > LONG_NAME).then_some("long")] { (car) " " span { "planned" } }
                        p.cell { "From" b { (day(&view.date)) } }
                        p.cell.wide { "Floor" b { (capital(&view.floor)) } }
                    }
                    section { p.said { (name) } p { "Predicted, not measured. " (view.headline) } }
                    @if let Some(overlay) = &view.overlay { (overlaid(overlay, &view.text, [&mean("front", &view.front), &mean("rear", &view.rear)], 5)) }
                    section {
                        h2 { "Changes" span { "mm at the axle" } }
                        table.rows.steps {
                            thead { tr { th scope="col" {} th scope="col" { "front" } th scope="col" { "rear" } th scope="col" { "how" } } }
                            @for row in view.rows.iter().filter(|row| !row.left_out) { (change(row)) }
                        }
                        @if !view.against.is_empty() { p { (view.against) } }
                    }
                    (list("Where the drop comes from, mm", view.drops.iter().map(|place| capital(&place.text))))
                    section { h2 { "What follows" span { (view.counted) } } (follows(&view.follows)) }
                    div.pair {
                        (list("Where the work is", view.cautions.iter().map(|caution| format!("{}. {}", caution.headline, caution.words))))
                        (list("Afterwards", view.tasks.iter().cloned()))
                    }
                    footer { p { "± holds 19 times in 20. " (view.before_driving) } b { "Trueground" } }
                }
            }
        }
    };
    page.into_string()
}

fn mean(place: &str, height: &PlanHeight) -> Markup {
    html! {
        @if height.number.is_empty() { span.label { (place) " can\u{2019}t be told" } } @else {
            span.value { (height.number) } span.band { (height.band) } span.label { (place) ", predicted" }
        }
    }
}

fn change(row: &ChangeRow) -> Markup {
    html! {
        tr {
            th scope="row" { (row.label) }
            td { b { (row.front) } }
            td { b { (row.rear) } }
            td { (row.sum) @if !row.body.is_empty() { "; " (row.body) } @if !row.problem.is_empty() { (row.problem) } }
        }
    }
}

/// A row a finding: what it is now and would be, and what is left before its limit or where it comes from.
fn follows(rows: &[CheckRow]) -> Markup {
    let unread: Vec<&str> =
        rows.iter().filter(|row| row.word == CheckWord::NotRead).map(|row| row.subject.as_str()).collect();
    html! {
        table.rows.follows {
            thead { tr { th scope="col" {} th scope="col" {} th.number scope="col" { "now" } th.number scope="col" { "planned" } th scope="col" {} } }
            tbody {
                @for row in rows.iter().filter(|row| row.word != CheckWord::NotRead) {
                    tr {
                        th scope="row" { b { (shown(&row.subject)) } }
                        td { (words(row.word)) }
                        td.number { (row.now) }
                        td.number { b { (row.number) } " " (row.band) @if row.unit == "mm" { " mm" } }
                        td { @if row.margin.is_empty() { (row.line) } @else { (row.margin) } }
                    }
                }
            }
        }
        @if !unread.is_empty() { p { "Not measured: " (unread.join("; ")) "." } }
    }
}

fn list(title: &str, sentences: impl Iterator<Item = String>) -> Markup {
    let all: Vec<String> = sentences.collect();
    html! { @if !all.is_empty() { section { h2 { (title) } ul { @for sentence in all { li { (sentence) } } } } } }
}
