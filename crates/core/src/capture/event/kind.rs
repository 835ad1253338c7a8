//! Kinds of work on a car by code, and what each does to heights.

use serde::{Deserialize, Serialize};

/// What work does to heights; common practice, no source.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum EventEffect {
    /// Springs drop at once and then go on settling for weeks: a new curve begins.
    SettlesAnew,
    /// Heights, weight or marks move at once; nothing settles because of it.
    Moves,
    /// A few mm may be due to it: heights before and after are told apart.
    MayMove,
    /// Heights stay as they are.
    Nothing,
}

macro_rules! kinds {
    ($($kind:ident, $code:literal, $words:literal, $group:ident, $effect:ident;)*) => {
        /// Kinds of work on a car that is built or kept low. Codes are for ever; more may come.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
        #[serde(rename_all = "snake_case")]
        pub enum EventKind {
            $(#[doc = $words] $kind,)*
        }

        impl EventKind {
            /// All of them, group by group.
            pub const ALL: &[Self] = &[$(Self::$kind),*];

            /// Code in files.
            pub const fn code(self) -> &'static str {
                match self { $(Self::$kind => $code,)* }
            }

            /// As it stands in a sentence.
            pub const fn words(self) -> &'static str {
                match self { $(Self::$kind => $words,)* }
            }

            /// Under which heading it is offered.
            pub const fn group(self) -> EventGroup {
                match self { $(Self::$kind => EventGroup::$group,)* }
            }

            /// What such work does to heights where nothing else is said.
            pub const fn effect(self) -> EventEffect {
                match self { $(Self::$kind => EventEffect::$effect,)* }
            }
        }
    };
}

kinds! {
    LeavesOut, "leaves_out", "leaves out", Springs, SettlesAnew;
    EyesReversed, "eyes_reversed", "eyes reversed", Springs, SettlesAnew;
    OtherSprings, "other_springs", "other springs", Springs, SettlesAnew;
    LeavesIn, "leaves_in", "leaves put in", Springs, SettlesAnew;
    Coils, "coils", "coils cut or turned", Springs, SettlesAnew;
    Bushings, "bushings", "new bushings", Springs, SettlesAnew;
    BlocksShims, "blocks_shims", "blocks or shims", AxleFrame, Moves;
    Shackles, "shackles", "other shackles", AxleFrame, Moves;
    SpringPerch, "spring_perch", "spring perch moved", AxleFrame, Moves;
    DroppedAxle, "dropped_axle", "dropped axle", AxleFrame, Moves;
    FrameWork, "frame_work", "frame stepped or cut", AxleFrame, Moves;
    Dampers, "dampers", "other dampers", AxleFrame, MayMove;
    Tires, "tires", "other tires", Wheels, Moves;
    Wheels, "wheels", "other wheels", Wheels, Moves;
    BodyWork, "body_work", "body work", Body, Moves;
    Channelled, "channelled", "body channelled", Body, Moves;
    BodyRemounted, "body_remounted", "body remounted", Body, Moves;
    HeavyParts, "heavy_parts", "heavy parts moved", Body, Moves;
    MarksAnew, "marks_anew", "marks painted anew", Body, Moves;
    TorqueCheck, "torque_check", "torque check", Care, MayMove;
    Alignment, "alignment", "aligned", Care, Nothing;
    StoredForWinter, "stored_for_winter", "stored for winter", Care, MayMove;
    BackOnTheRoad, "back_on_the_road", "back on the road", Care, MayMove;
    Note, "note", "note", Care, Nothing;
}

impl EventKind {
    /// The kind of that code.
    pub fn from_code(code: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|kind| kind.code() == code)
    }

    /// True where springs start settling anew unless the person says otherwise.
    pub fn resets_settling(self) -> bool {
        self.effect() == EventEffect::SettlesAnew
    }
}

/// Headings under which kinds of work are offered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[cfg_attr(feature = "ts", derive(ts_rs::TS), ts(export))]
#[serde(rename_all = "snake_case")]
pub enum EventGroup {
    /// Leaves, eyes, coils, bushings.
    Springs,
    /// What holds the springs, and what they hold.
    AxleFrame,
    /// What touches the ground.
    Wheels,
    /// What rides on the frame.
    Body,
    /// Checks, seasons and notes.
    Care,
}

impl EventGroup {
    /// The heading.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Springs => "Springs",
            Self::AxleFrame => "Axle and frame",
            Self::Wheels => "Wheels and tires",
            Self::Body => "Body and weight",
            Self::Care => "Checks, seasons, notes",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;
    use std::collections::BTreeSet;

    #[test]
    fn codes_are_as_serde_writes_them_and_stand_once() {
        let mut seen = BTreeSet::new();
        for kind in EventKind::ALL {
            assert_eq!(serde_json::to_value(kind).expect("writable"), json!(kind.code()));
            assert_eq!(EventKind::from_code(kind.code()), Some(*kind));
            assert!(seen.insert(kind.code()), "{} stands twice", kind.code());
        }
    }

    /// The trade: leaves and eyes drop the car and go on settling; tires move it by half their change at once; a torque check or
    /// a winter on flat spots may be a few mm.
    #[test]
    fn what_a_kind_does_is_what_the_trade_says() {
        let resets: Vec<&str> =
            EventKind::ALL.iter().filter(|kind| kind.resets_settling()).map(|kind| kind.code()).collect();
        assert_eq!(resets, ["leaves_out", "eyes_reversed", "other_springs", "leaves_in", "coils", "bushings"]);
        assert_eq!(EventKind::Tires.effect(), EventEffect::Moves);
        assert_eq!(EventKind::TorqueCheck.effect(), EventEffect::MayMove);
        assert_eq!(EventKind::StoredForWinter.effect(), EventEffect::MayMove);
        assert_eq!(EventKind::Note.effect(), EventEffect::Nothing);
    }
}
