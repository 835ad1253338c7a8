//! What every screen is held to: no serious or critical finding of axe-core by day or by night, nothing wider than its window from
//! 320 to 1920 px nor with text twice as large, nothing that stands there twice, no offence against the security policy; and its
//! pictures, to look at.

use std::fs;
use std::time::Duration;

use serde_json::{Value, json};

use crate::window::{LAPTOP, PHONE, Window};

/// A phone on its side.
pub(crate) const LYING: (u32, u32) = (844, 390);

/// The narrowest phone and the widest screen: only their widths are looked at.
const EXTREMES: [(u32, u32); 2] = [(320, 640), (1920, 1000)];

/// Looks at a page until it keeps still.
const SETTLES: usize = 60;

/// Rules of WCAG 2.2 A and AA and axe's own good practice. The style sheets are not fetched again: the policy allows it to nobody.
const AXE: &str = "const done = arguments[arguments.length - 1];
    const wanted = ['serious', 'critical'];
    axe.run(document, { resultTypes: ['violations'], preload: false }).then(
        (found) => done(found.violations.filter((one) => wanted.includes(one.impact)).map(
            (one) => `${one.id}: ${one.nodes.map((node) => `${node.target} ${node.failureSummary}`).join('; ')}`)),
        (error) => done([String(error)]));";

/// What sticks out of the window at the right. A table of readings may scroll sideways in its own frame.
const TOO_WIDE: &str = "const wide = window.innerWidth + 1;
    const out = [...document.querySelectorAll('main *, header *, nav *, dialog[open] *')].filter((element) =>
        !element.closest('svg, table, .visually-hidden') && element.getBoundingClientRect().width > 0 &&
        element.getBoundingClientRect().right > wide);
    const names = out.slice(0, 4).map((element) => element.dataset.test ?? `${element.tagName} ${element.textContent.slice(0, 40)}`);
    return document.documentElement.scrollWidth > wide ? ['the page', ...names] : names";

/// Names of what can be touched that stand on the page more than once: a list drawn a second time, a button in two places.
const TWICE: &str =
    "const shown = [...document.querySelectorAll('button[data-test], a[data-test], [role=button][data-test]')]
        .filter((element) => element.getBoundingClientRect().width > 0).map((element) => element.dataset.test);
    return shown.filter((name, at) => shown.indexOf(name) !== at)";

impl Window {
    /// Holds the screen that is shown to all of it, and leaves it the size of a phone by day.
    pub(crate) async fn looked_at(&self, name: &str) {
        for (size, shape) in [(PHONE, ""), (LYING, "-lying"), (LAPTOP, "-wide")] {
            self.size(size).await;
            for theme in ["day", "night"] {
                self.colours(theme).await;
                self.picture(&format!("{name}{shape}-{theme}")).await;
                if size == PHONE {
                    assert_eq!(self.axe().await, json!([]), "{name} by {theme}: findings of axe");
                }
            }
            assert_eq!(self.script(TWICE).await, json!([]), "{name}{shape} shows these twice");
            self.fits(&format!("{name}{shape}")).await;
        }
        self.colours("day").await;
        for size in EXTREMES {
            self.size(size).await;
            self.fits(&format!("{name} at {} px", size.0)).await;
        }
        self.size(PHONE).await;
        self.script("document.documentElement.style.fontSize = '200%'; return 0").await;
        self.picture(&format!("{name}-large-text")).await;
        self.fits(&format!("{name} with text of 200 %")).await;
        self.script("document.documentElement.style.fontSize = ''; return 0").await;
        self.kept_policy().await;
    }

    /// The same on a phone held upright only, for what closes when the page is laid out anew.
    pub(crate) async fn looked_at_upright(&self, name: &str) {
        for theme in ["night", "day"] {
            self.colours(theme).await;
            self.picture(&format!("{name}-{theme}")).await;
            assert_eq!(self.axe().await, json!([]), "{name} by {theme}: findings of axe");
        }
        self.fits(name).await;
        self.kept_policy().await;
    }

    /// Serious and critical findings on the page as it is.
    pub(crate) async fn axe(&self) -> Value {
        if self.script("return typeof window.axe").await == json!("undefined") {
            let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../ui/node_modules/axe-core/axe.min.js");
            let axe = fs::read_to_string(path).expect("axe-core is there (`npm ci` in ui installs it)");
            self.script(&axe).await;
        }
        let found = self.page.execute_async(AXE, Vec::<Value>::new()).await.expect("axe answers");
        found.json().clone()
    }

    async fn fits(&self, what: &str) {
        let mut out = Value::Null;
        // Parts that measure themselves are drawn again in the next frames.
        for _ in 0..SETTLES {
            out = self.script(TOO_WIDE).await;
            if out == json!([]) {
                return;
            }
            tokio::time::sleep(Duration::from_millis(50)).await;
        }
        panic!("{what} is wider than its window: {out}");
    }

    async fn colours(&self, theme: &str) {
        self.script(&format!("document.documentElement.dataset.theme = '{theme}'; return 0")).await;
    }
}
