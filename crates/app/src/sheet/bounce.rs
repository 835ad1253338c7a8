//! The table of one bounce: every mark in the order of the walk, with room for two rounds.

use super::division;
use super::marks::Mark;
use crate::words::capital;
use maud::{Markup, html};
use trueground_core::capture::Tape;

/// One bounce: every mark in walking order, two rounds, then the angle gauge.
pub(super) fn bounce(number: usize, label: &str, marks: &[Mark], tape: &Tape) -> Markup {
    let corners = marks.chunk_by(|one, next| one.corner == next.corner);
    html! {
        section.bounce.new-page[number == 1] {
            h2 { "Bounce " (number) span.at { "begun at" } " " span { (label) } }
            p {
                @if number == 1 {
                    "Roll one length and back, bounce each end three times, let it rest. Cover round 1 while you read round 2. Erase nothing: \
                     strike it through, and write the new number beside it."
                } @else {
                    "Roll and bounce it again, then the same walk."
                }
            }
            table.book {
                caption { "Bounce " (number) ": heights above the floor straight below, in walking order" }
                thead {
                    tr {
                        th.corner scope="col" { "Corner" }
                        th.number scope="col" { "No." }
                        th scope="col" { "Point, read in " (division(tape)) }
                        th.write scope="col" { "Round 1" }
                        th.write scope="col" { "Round 2" }
                        th.why scope="col" { "Struck, why" }
                    }
                }
                @for marks in corners {
                    tbody {
                        @for (nth, mark) in marks.iter().enumerate() {
                            tr {
                                @if nth == 0 { th.corner scope="rowgroup" rowspan=(marks.len()) { (mark.corner.words()) } }
                                td.number { (mark.number) }
                                th scope="row" { (capital(&mark.words)) }
                                td {}
                                td {}
                                td {}
                            }
                        }
                    }
                }
            }
            table.book.gauge {
                caption { "Bounce " (number) ": angle gauge on the frame rails, degrees" }
                thead {
                    tr {
                        td {}
                        th scope="col" { "Left, straight" }
                        th scope="col" { "Left, reversed" }
                        th scope="col" { "Right, straight" }
                        th scope="col" { "Right, reversed" }
                        th.why scope="col" { "Struck, why" }
                    }
                }
                tbody {
                    tr { th scope="row" { "Gauge, °, nose-down plus" } td {} td {} td {} td {} td {} }
                }
            }
        }
    }
}
