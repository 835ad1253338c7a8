//! What every printed page has: the car, what the page is, when and where it stood and in which units, and the sentence on ±.

use super::LONG_NAME;
use maud::{DOCTYPE, Markup, PreEscaped, html};
use trueground_core::wording::shown;

/// A page to print.
pub(super) struct Printed<'a> {
    /// The car.
    pub(super) label: &'a str,
    /// What the page is: "what follows".
    pub(super) what: &'a str,
    /// Cells of the head: what is named, and its words. Those without words are left out.
    pub(super) cells: &'a [(&'a str, String)],
    /// Classes of the page.
    pub(super) class: &'a str,
    /// Its style.
    pub(super) style: &'a str,
    /// Over the name of the app.
    pub(super) foot: &'a str,
}

impl Printed<'_> {
    /// The whole page round its content.
    pub(super) fn page(&self, content: &Markup) -> String {
        let label = shown(self.label);
        let page = html! {
            (DOCTYPE)
            html lang="en" {
                head {
                    meta charset="utf-8";
                    meta name="viewport" content="width=device-width, initial-scale=1";
                    title { (label) ", " (self.what) }
                    style { (PreEscaped(self.style)) "@page { margin: 8mm 15mm; }" }
                }
                body class=(format!("card printed {}", self.class)) {
                    main {
                        header {
                            h1 class=[(label.chars().count() > LONG_NAME).then_some("long")] { (label) " " span { (self.what) } }
                            @for (name, words) in self.cells.iter().filter(|(_, words)| !words.is_empty()) {
                                p.cell { (name) b { (shown(words)) } }
                            }
                        }
                        (content)
                        footer { p { (self.foot) } b { "Trueground" } }
                    }
                }
            }
        };
        page.into_string()
    }
}
