//! Every kind of change that a plan knows: one row each, with its fields, what it does and what to look at afterwards.

mod air;
mod block;
mod c_notch;
mod channel;
mod coil;
mod coil_cut;
mod coil_over;
mod crossmember;
mod dropped_axle;
mod dropped_spindle;
mod flipped_axle;
mod hanger;
mod kick_up;
mod leaf_out;
mod load;
mod perch;
mod pie_cut;
mod pressure;
mod rearched_leaf;
mod reversed_eyes;
mod section;
mod shackle;
mod shim;
mod spring;
mod tire;
mod wedge;
mod wheel;

use super::caution::Caution;
use super::effect::{Effect, End};
use super::given::{Field, Given, Takes};
use crate::bench::Refusal;
use crate::capture::EventKind;
use crate::car::{AxleSprings, FittedTire, SpringKind, Vehicle};
use crate::corner::Corners;
use crate::uncertainty::Quantity;

/// A kind of change.
#[derive(Clone, Copy, Debug)]
pub struct Kind {
    /// In files; for ever.
    pub code: &'static str,
    /// As it stands in a list: "lowering block".
    pub words: &'static str,
    /// What it does, with its sign and where that comes from.
    pub does: &'static str,
    /// Fields of its own; every kind takes `amount_mm` and `u_mm` in their place, see [`Moves`].
    pub fields: &'static [Field],
    /// What `amount_mm` moves.
    pub moves: Moves,
    /// What to look at again.
    pub side_effects: &'static [&'static str],
    /// Where the work is dangerous or belongs to somebody qualified.
    pub cautions: &'static [Caution],
    /// The work as it is entered in the history.
    pub event: EventKind,
    /// From what a step says.
    pub(super) work: fn(&Given, &Car<'_>, Option<End>) -> Result<Worked, Refusal>,
}

/// What an amount that is given moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Moves {
    /// Frame and body on the spring of an end; the axle's room with them.
    Spring,
    /// Frame and body over an axle; the axle's room stays.
    Frame,
    /// The wheels of an end, and all on them.
    Wheels,
    /// The body over the frame; no end is named.
    Body,
    /// Frame and body where a mass is; no end is named.
    Mass,
    /// Nothing: an amount makes no sense.
    Nothing,
}

/// The car that a step finds: earlier steps have been done.
#[derive(Clone, Copy, Debug)]
pub(super) struct Car<'a> {
    pub(super) vehicle: &'a Vehicle,
    /// Wheel centre to ground, mean of the axle, mm.
    pub(super) loaded_radius_mm: [f64; 2],
    /// Cold, mean of the axle, kPa; 0 where there are no tires in the file.
    pub(super) pressure_kpa: [f64; 2],
    pub(super) roll_share_front: f64,
    pub(super) lean_gain: f64,
}

/// What a step does.
#[derive(Clone, Debug)]
pub(super) struct Worked {
    pub(super) effect: Effect,
    /// The sum in words: "96 mm × (8/7 − 1), and 5 mm of arch".
    pub(super) sum: String,
    /// What follows, with numbers.
    pub(super) follows: Vec<String>,
    /// The tires that the car stands on from then on.
    pub(super) tires: Option<Corners<FittedTire>>,
    /// Pressure of the axle from then on, kPa.
    pub(super) pressure_kpa: Option<(End, f64)>,
}

impl Worked {
    pub(super) fn new(effect: Effect, sum: impl Into<String>) -> Self {
        Self { effect, sum: sum.into(), follows: Vec::new(), tires: None, pressure_kpa: None }
    }

    fn with(mut self, follows: impl Into<String>) -> Self {
        self.follows.push(follows.into());
        self
    }
}

/// In the order in which they are offered.
pub const KINDS: [Kind; 27] = [
    spring::KIND,
    leaf_out::KIND,
    reversed_eyes::KIND,
    rearched_leaf::KIND,
    perch::KIND,
    shackle::KIND,
    hanger::KIND,
    block::KIND,
    shim::KIND,
    wedge::KIND,
    dropped_axle::KIND,
    dropped_spindle::KIND,
    flipped_axle::KIND,
    coil_cut::KIND,
    coil::KIND,
    coil_over::KIND,
    air::KIND,
    crossmember::KIND,
    kick_up::KIND,
    pie_cut::KIND,
    c_notch::KIND,
    channel::KIND,
    section::KIND,
    tire::KIND,
    wheel::KIND,
    pressure::KIND,
    load::KIND,
];

/// Codes of [`KINDS`], for messages.
pub(super) const CODES: [&str; KINDS.len()] = {
    let mut codes = [""; KINDS.len()];
    let mut i = 0;
    while i < KINDS.len() {
        codes[i] = KINDS[i].code;
        i += 1;
    }
    codes
};

impl Kind {
    /// The kind of that code.
    pub fn of(code: &str) -> Option<&'static Self> {
        KINDS.iter().find(|kind| kind.code == code)
    }

    /// True where `end` has to say at which axle.
    pub fn has_end(&self) -> bool {
        matches!(self.moves, Moves::Spring | Moves::Frame | Moves::Wheels)
            || matches!(self.code, "c_notch" | "wheel" | "wedge")
    }
}

/// Which sort of spring an axle has, as far as the file says it.
pub(super) fn layout(car: &Car<'_>, end: End) -> Option<SpringKind> {
    let both = car.vehicle.suspension.as_ref()?;
    let axle: &AxleSprings = if end == End::Front { &both.front } else { &both.rear };
    axle.spring.or_else(|| {
        let words = axle.kind.as_deref()?.to_lowercase();
        let says = [
            ("transverse", SpringKind::TransverseLeaf),
            ("parallel", SpringKind::ParallelLeaf),
            ("coil", SpringKind::Coil),
            ("torsion", SpringKind::TorsionBar),
            ("air", SpringKind::Air),
        ];
        says.into_iter().find(|(word, _)| words.contains(word)).map(|(_, kind)| kind)
    })
}

/// A number of mm within 0 … most.
const fn mm(key: &'static str, words: &'static str, most: f64) -> Field {
    Field { key, words, takes: Takes::Number { low: 0.0, high: most, unit: "mm" } }
}

/// A number in a unit.
const fn number(key: &'static str, words: &'static str, low: f64, high: f64, unit: &'static str) -> Field {
    Field { key, words, takes: Takes::Number { low, high, unit } }
}

/// Wheel movement over spring movement, 1 where the spring stands on the axle over the wheel.
const WHEEL_OVER_SPRING: Field = number("wheel_over_spring", "Wheel movement over spring movement", 0.5, 5.0, "");

/// The end, which [`Kind::has_end`] has asked for.
fn the(end: Option<End>) -> End {
    end.unwrap_or(End::Front)
}

/// A length with its doubt as a part of it, mm.
fn doubted(value: f64, relative: f64, at_least: f64) -> Quantity {
    Quantity::new(value, (relative * value).abs().max(at_least))
}

const INSTEAD: &str = ", or amount_mm with what it lifts (+) or lowers (-)";

fn whole(value: f64) -> String {
    format!("{:.0}", value.round() + 0.0)
}
