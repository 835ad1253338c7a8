//! Tapes and gauges in the system: each has a zero of its own, and a tape the error that its class allows.
//!
//! Number 0 is what names no instrument: the file's one tape, and a gauge that nothing is known of.

use super::Solution;
use super::jet::Jet;
use super::prior::{GAUGE_ZERO_U_DEG, Prior, Priors, TAPE_ZERO_U_MM};
use super::unknowns::{Model, SHARED};
use crate::capture::{CarFile, LengthClass, OwnedGauge, OwnedInstrument, OwnedTape, Pass, Snapshot};
use crate::stance::{DoubtSource, Figure, Known};
use std::collections::BTreeSet;

/// A tape in the system.
#[derive(Clone, Debug)]
pub(crate) struct TapeInUse {
    /// Its id; `None` for the file's one tape.
    pub(crate) id: Option<String>,
    /// What a reading says too much, mm.
    pub(crate) zero: usize,
    /// Its error as a part of what its class allows, −1 to 1.
    pub(crate) class: Option<(usize, LengthClass)>,
    /// The mark that is held where the end should be, mm: what a reading says too much for certain.
    pub(crate) from_mm: f64,
    /// Standard uncertainty of one reading with its rounding, mm.
    pub(crate) reading_u_mm: f64,
}

/// An angle gauge in the system.
#[derive(Clone, Debug)]
pub(crate) struct GaugeInUse {
    /// Its id; `None` for one that nothing is known of.
    pub(crate) id: Option<String>,
    /// What a straight reading says too much, deg.
    pub(crate) zero: usize,
    /// What is known of it.
    owned: Option<OwnedGauge>,
}

/// What a reading was taken with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum With {
    /// A level plane or a statement, which has no zero.
    Nothing,
    /// Number of the tape, and the largest error that its class allows at that length, mm.
    Tape { tape: usize, limit_mm: f64 },
    /// Number of the gauge.
    Gauge(usize),
}

/// A prior on an instrument's zero, which readings may contradict.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Zero {
    /// Its place among the single priors.
    pub(crate) place: usize,
    /// Standard uncertainty once it is let go: about an inch, or what no gauge is off by.
    pub(crate) let_go_u: f64,
    /// True where it stands on a check.
    pub(crate) checked: bool,
    /// Whose it is.
    pub(crate) with: With,
}

const LET_GO_TAPE_U_MM: f64 = 30.0;
const LET_GO_GAUGE_U_DEG: f64 = 5.0;

impl Model {
    /// Adds the unknowns of every instrument that the file's readings name.
    pub(crate) fn add_instruments(&mut self, file: &CarFile) {
        let (tape, gauge) = (self.shared.tape_zero, self.shared.gauge_zero);
        let reading_u_mm = file.instrument.reading_u_mm();
        self.tapes.push(TapeInUse { id: None, zero: tape, class: None, from_mm: 0.0, reading_u_mm });
        self.gauges.push(GaugeInUse { id: None, zero: gauge, owned: None });
        let named = named(file);
        for owned in file.instruments.iter().filter(|owned| named.contains(owned.id())) {
            let id = Some(owned.id().to_owned());
            match owned {
                OwnedInstrument::Tape(tape) => {
                    let [zero, class] = self.unknowns.add_many(SHARED);
                    let from_mm = tape.read_from_mm;
                    let reading_u_mm = tape.reading_u_mm(file.instrument.tape_reading_u_mm);
                    let class = Some((class, tape.class_that_counts()));
                    self.tapes.push(TapeInUse { id, zero, class, from_mm, reading_u_mm });
                }
                OwnedInstrument::AngleGauge(gauge) => {
                    let zero = self.unknowns.add(SHARED);
                    self.gauges.push(GaugeInUse { id, zero, owned: Some(gauge.clone()) });
                }
            }
        }
    }

    /// Number of the tape that a reading names, or else its snapshot.
    pub(crate) fn tape_of(&self, snapshot: &Snapshot, named: Option<&str>) -> usize {
        let named = named.or(snapshot.tape.as_deref());
        named.and_then(|id| self.tapes.iter().position(|tape| tape.id.as_deref() == Some(id))).unwrap_or(0)
    }

    /// Number of the gauge of that name.
    pub(crate) fn gauge_of(&self, named: Option<&str>) -> usize {
        named.and_then(|id| self.gauges.iter().position(|gauge| gauge.id.as_deref() == Some(id))).unwrap_or(0)
    }

    /// A reading of this length with that tape.
    pub(crate) fn with_tape(&self, tape: usize, read_mm: f64) -> With {
        let limit_mm = self.tapes[tape].class.map_or(0.0, |(_, class)| class.limit_mm(read_mm));
        With::Tape { tape, limit_mm }
    }

    /// Standard uncertainty of one reading of that gauge, deg, where `otherwise_deg` is that of a gauge nothing is known of.
    pub(crate) fn gauge_u_deg(&self, gauge: usize, otherwise_deg: f64) -> f64 {
        self.gauges[gauge].owned.as_ref().map_or(otherwise_deg, |owned| owned.reading_u_deg(otherwise_deg))
    }

    /// Adds what the instrument says too much; `turned` is −1 for a gauge turned end for end, else 1.
    pub(crate) fn add_instrument(&self, reading: &mut Jet, with: With, turned: f64, x: &[f64]) {
        match with {
            With::Nothing => {}
            With::Tape { tape, limit_mm } => {
                let tape = &self.tapes[tape];
                reading.add_unknown(1.0, tape.zero, x);
                if let Some((class, _)) = tape.class {
                    reading.add_unknown(limit_mm, class, x);
                    reading.value += tape.from_mm;
                }
            }
            With::Gauge(gauge) => reading.add_unknown(turned, self.gauges[gauge].zero, x),
        }
    }

    /// Id of what a reading was taken with; `None` where it names nothing.
    pub(crate) fn instrument_id(&self, with: With) -> Option<&str> {
        match with {
            With::Nothing => None,
            With::Tape { tape, .. } => self.tapes[tape].id.as_deref(),
            With::Gauge(gauge) => self.gauges[gauge].id.as_deref(),
        }
    }
}

impl Priors {
    /// The zeros of all instruments, and the errors that the tapes' classes allow.
    pub(crate) fn instruments(&mut self, file: &CarFile, model: &Model, tape_default: usize) {
        for owned in &file.instruments {
            let id = Some(owned.id());
            match owned {
                OwnedInstrument::Tape(owned) => {
                    if let Some(tape) = model.tapes.iter().position(|tape| tape.id.as_deref() == id) {
                        self.tape(model, tape, owned);
                    }
                }
                OwnedInstrument::AngleGauge(owned) => {
                    if let Some(gauge) = model.gauges.iter().position(|gauge| gauge.id.as_deref() == id) {
                        self.gauge(model, gauge, owned);
                    }
                }
            }
        }
        // Of two tapes that contradict each other one may be the file's own.
        if model.tapes.len() > 1 {
            let with = With::Tape { tape: 0, limit_mm: 0.0 };
            self.zeros.push(Zero { place: tape_default, let_go_u: LET_GO_TAPE_U_MM, checked: false, with });
        }
    }

    fn tape(&mut self, model: &Model, number: usize, owned: &OwnedTape) {
        let tape = &model.tapes[number];
        let Some((class, allowed)) = tape.class else { return };
        let of = |row, value, u, checked| Prior {
            row,
            value,
            u,
            source: DoubtSource::TapeZero,
            instrument: tape.id.clone(),
            read: checked,
        };
        // Anywhere within what the class allows, equally likely, and the same for every reading of this tape.
        self.single.push(of(vec![(class, 1.0)], 0.0, 1.0 / 3.0_f64.sqrt(), false));
        let zero = match (owned.newest_check(), &owned.hook_mm) {
            (Some(check), _) => {
                let limit = allowed.limit_mm(check.true_mm);
                let over = check.read_mm - check.true_mm - owned.read_from_mm;
                of(vec![(tape.zero, 1.0), (class, limit)], over, check.u_mm, true)
            }
            // The end is not touched where a mark is held in its place.
            (None, Some(hook)) if owned.read_from_mm == 0.0 => of(vec![(tape.zero, 1.0)], hook.value, hook.u, false),
            _ => of(vec![(tape.zero, 1.0)], 0.0, TAPE_ZERO_U_MM, false),
        };
        let with = With::Tape { tape: number, limit_mm: 0.0 };
        let checked = zero.read;
        self.zeros.push(Zero { place: self.single.len(), let_go_u: LET_GO_TAPE_U_MM, checked, with });
        self.single.push(zero);
    }

    fn gauge(&mut self, model: &Model, number: usize, owned: &OwnedGauge) {
        let gauge = &model.gauges[number];
        let checked = owned.zero_deg();
        let (value, u) = checked.unwrap_or((0.0, GAUGE_ZERO_U_DEG));
        let (let_go_u, with) = (LET_GO_GAUGE_U_DEG, With::Gauge(number));
        self.zeros.push(Zero { place: self.single.len(), let_go_u, checked: checked.is_some(), with });
        self.single.push(Prior {
            row: vec![(gauge.zero, 1.0)],
            value,
            u,
            source: DoubtSource::AngleGauge,
            instrument: gauge.id.clone(),
            read: checked.is_some(),
        });
    }
}

impl Solution {
    /// What a tape that a reading names says too much, mm; 0 where it names none.
    pub(super) fn too_much(&self, with: With) -> f64 {
        let mut jet = Jet::default();
        if self.model.instrument_id(with).is_some() {
            self.model.add_instrument(&mut jet, with, 1.0, &self.adjusted.x);
        }
        jet.value
    }

    /// What a tape or gauge that readings name says too much, mm or deg, without the mark that a tape is read from; `None` where
    /// no reading names it.
    pub fn instrument_zero(&self, id: &str) -> Option<Figure> {
        let tape = self.model.tapes.iter().find(|tape| tape.id.as_deref() == Some(id)).map(|tape| tape.zero);
        let gauge = || self.model.gauges.iter().find(|gauge| gauge.id.as_deref() == Some(id)).map(|gauge| gauge.zero);
        let unknown = tape.or_else(gauge)?;
        let u = self.adjusted.solved.variance(&[(unknown, 1.0)]).max(0.0).sqrt();
        let prior = self.priors.single.iter().find(|prior| prior.row.iter().any(|&(of, _)| of == unknown));
        let prior_only = prior.is_some_and(|prior| !prior.read && u * u > 0.5 * prior.u * prior.u);
        let known = if prior_only { Known::Assumed } else { Known::Measured };
        Some(Figure { value: Some(self.adjusted.x[unknown]), u: Some(u), known, band_if: None })
    }
}

/// Ids that any reading names.
fn named(file: &CarFile) -> BTreeSet<&str> {
    let surveys = file.floors.iter().filter_map(|floor| floor.survey.as_ref());
    let edges = surveys.flat_map(|survey| &survey.straightedge).filter_map(|edge| edge.instrument.as_deref());
    let on_cars = file.snapshots.iter().flat_map(|snapshot| {
        let tapes = snapshot.bounces.iter().flat_map(|bounce| &bounce.readings).map(|reading| &reading.instrument);
        let gauges = snapshot.angle_gauge.iter().map(|gauge| &gauge.instrument);
        tapes.chain(gauges).chain([&snapshot.tape, &snapshot.gauge]).filter_map(|named| named.as_deref())
    });
    edges.chain(on_cars).collect()
}

/// Division of the rule that a pass was read with, mm. What it says too much is the same at every place and goes into the plane.
pub(crate) fn rule_division_mm(file: &CarFile, pass: &Pass) -> f64 {
    let named = |owned: &&OwnedInstrument| Some(owned.id()) == pass.instrument.as_deref();
    match file.instruments.iter().find(named) {
        Some(OwnedInstrument::Tape(tape)) => tape.tape.division_mm(),
        _ => super::collect::RULE_DIVISION_MM,
    }
}
