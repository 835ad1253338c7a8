//! What was done in an unfinished snapshot and what was undone, replayed from the book: undo goes back one by one, put back
//! comes again, and neither ever changes a reading.

use crate::plan::Skip;
use crate::step::Step;
use std::collections::BTreeSet;
use trueground_store::{Event, Mark, Reading, events};

/// One thing a person did. Numbers are places in the list of readings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Act {
    Take(usize),
    /// With the reason.
    Strike(usize, String),
    /// A struck one counts again; the reason it was struck for.
    Unstrike(usize, String),
    /// Names of the steps.
    Skip(Vec<String>),
}

/// What stands, what was undone since the last new act, and which steps are skipped.
#[derive(Debug, Default)]
pub(crate) struct History {
    pub(crate) done: Vec<Act>,
    pub(crate) undone: Vec<Act>,
    pub(crate) skipped: BTreeSet<String>,
    /// How many things happened to the readings.
    pub(crate) events: usize,
}

impl History {
    /// Replays readings, marks and skips in the order they came.
    pub(crate) fn of(readings: &[Reading], skips: &[Skip], steps: &[Step]) -> Self {
        let all = events(readings);
        let mut history = Self { events: all.len(), ..Self::default() };
        let mut skips = skips.iter().peekable();
        for (number, event) in all.into_iter().enumerate() {
            while let Some(skip) = skips.next_if(|skip| skip.after <= number) {
                history.skip(skip);
            }
            match event {
                // One that came struck with a file never counted here.
                Event::Taken(at) if readings[at].taken.extra.contains_key("struck") => {}
                Event::Taken(at) => history.act(Act::Take(at)),
                Event::Marked(at, mark) => {
                    let before = readings[at].marks[..mark].iter().rev().find(|mark| mark.what == Mark::Struck);
                    let mark = &readings[at].marks[mark];
                    history.mark(at, mark.what, &mark.reason, before.map_or("", |mark| &mark.reason));
                }
            }
        }
        skips.for_each(|skip| history.skip(skip));
        for act in &history.done {
            match act {
                Act::Skip(steps) => history.skipped.extend(steps.iter().cloned()),
                // Who comes back and reads it has taken it up again.
                Act::Take(at) => {
                    if let Some(step) = steps.iter().find(|step| step.reads(&readings[*at])) {
                        history.skipped.remove(&step.key());
                    }
                }
                Act::Strike(..) | Act::Unstrike(..) => {}
            }
        }
        history
    }

    fn mark(&mut self, at: usize, what: Mark, reason: &str, struck_for: &str) {
        match what {
            Mark::TakenBack => self.back(&Act::Take(at)),
            Mark::PutBack if self.undone.contains(&Act::Take(at)) => self.again(&Act::Take(at)),
            Mark::PutBack => {
                let strike = Act::Strike(at, struck_for.to_owned());
                let unstrike = Act::Unstrike(at, struck_for.to_owned());
                if self.done.last() == Some(&strike) {
                    self.back(&strike);
                } else if self.undone.last() == Some(&unstrike) {
                    self.again(&unstrike);
                } else {
                    self.act(unstrike);
                }
            }
            Mark::Struck => {
                let strike = Act::Strike(at, reason.to_owned());
                let unstrike = Act::Unstrike(at, reason.to_owned());
                if self.undone.last() == Some(&strike) {
                    self.again(&strike);
                } else if self.done.last() == Some(&unstrike) {
                    self.back(&unstrike);
                } else {
                    self.act(strike);
                }
            }
        }
    }

    fn skip(&mut self, skip: &Skip) {
        let act = Act::Skip(skip.steps.clone());
        if skip.undone {
            self.back(&act);
        } else if self.undone.last() == Some(&act) {
            self.again(&act);
        } else {
            self.act(act);
        }
    }

    /// Something new: what was undone before cannot come again.
    fn act(&mut self, act: Act) {
        self.undone.clear();
        self.done.push(act);
    }

    fn back(&mut self, act: &Act) {
        if let Some(at) = self.done.iter().rposition(|done| done == act) {
            self.undone.push(self.done.remove(at));
        }
    }

    fn again(&mut self, act: &Act) {
        if let Some(at) = self.undone.iter().rposition(|undone| undone == act) {
            self.done.push(self.undone.remove(at));
        }
    }
}
