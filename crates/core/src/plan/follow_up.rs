//! What is left to do after work on a car: a list to tick, and the days on which to measure again.
//!
//! U-bolts after the first drive and after 100 to 200 km; days 0, 3, 7, 14, then every two weeks until the springs have settled
//! [common practice, no source].

use crate::capture::{Event, EventEffect, EventKind, day_after, days_between};

/// A thing to do after work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Task {
    /// In files; for ever.
    pub code: &'static str,
    /// For the person.
    pub words: &'static str,
    /// Before the car is driven.
    pub before_driving: bool,
}

const fn task(code: &'static str, words: &'static str, before_driving: bool) -> Task {
    Task { code, words, before_driving }
}

const BRAKE_LINES: Task = task("hoses", "Brake lines and hoses: nothing pulls or rubs at bump, droop and lock", true);
const LOCK: Task = task("lock_to_lock", "Steering lock to lock: tire to fender, frame, rod", true);
const TRAVEL: Task = task("bump_travel", "Bump travel: what is left between axle and stop", true);
const U_BOLTS: Task = task("u_bolts", "U-bolts to torque", true);
const U_BOLTS_FIRST: Task = task("u_bolts_first_drive", "U-bolts again after the first drive", false);
const U_BOLTS_LATER: Task = task("u_bolts_200_km", "U-bolts again after 100 to 200 km", false);
const EXHAUST: Task = task("exhaust", "Exhaust: over the ground, and away from body and floor", true);
const ALIGNMENT: Task = task("alignment", "Alignment, when it has stopped moving: caster, toe, drag link", false);
const LAMPS: Task = task("lamps", "Headlight aim", false);
const WHEEL_NUTS: Task = task("wheel_nuts", "Wheel nuts to torque, and again after 100 km", true);
const SHAFT: Task = task("shaft", "Driveshaft: joint angles, and its splines at full bump", true);
const WELDS: Task = task("welds", "Welds and cracks near the cut, looked at after 200 km", false);
const COOLING: Task = task("cooling", "Coolant temperature on the first long drive", false);
const PEDALS: Task = task("pedals", "Pedals, column and shift lever move freely", true);

/// What is left to do after work of that kind, in the order in which it comes.
pub fn tasks(kind: EventKind) -> Vec<Task> {
    use EventKind as Kind;
    match kind {
        Kind::LeavesOut
        | Kind::LeavesIn
        | Kind::EyesReversed
        | Kind::OtherSprings
        | Kind::BlocksShims
        | Kind::Shackles
        | Kind::SpringPerch => {
            vec![U_BOLTS, BRAKE_LINES, LOCK, TRAVEL, EXHAUST, U_BOLTS_FIRST, U_BOLTS_LATER, ALIGNMENT, LAMPS]
        }
        Kind::Coils => vec![BRAKE_LINES, LOCK, TRAVEL, EXHAUST, ALIGNMENT, LAMPS],
        Kind::DroppedAxle => vec![U_BOLTS, BRAKE_LINES, LOCK, TRAVEL, U_BOLTS_FIRST, U_BOLTS_LATER, ALIGNMENT, LAMPS],
        Kind::FrameWork => vec![BRAKE_LINES, LOCK, TRAVEL, SHAFT, EXHAUST, WELDS, ALIGNMENT, LAMPS],
        Kind::Tires | Kind::Wheels => vec![WHEEL_NUTS, LOCK, TRAVEL, LAMPS],
        Kind::Channelled => vec![PEDALS, BRAKE_LINES, LOCK, COOLING, LAMPS],
        Kind::BodyWork => vec![LOCK, COOLING, LAMPS],
        _ => Vec::new(),
    }
}

/// Days after the work on which to measure again, the first ones; then every two weeks.
pub const DUE_DAYS: [i64; 4] = [0, 3, 7, 14];
const EVERY_DAYS: i64 = 14;
/// As long as springs go on settling where nothing says that they have stopped, days.
const LONGEST_DAYS: i64 = 84;

/// The day on which to measure again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Due {
    /// `YYYY-MM-DD`.
    pub date: String,
    /// Days after the work.
    pub day: i64,
}

/// The next day on which to measure after an event, where one is left: the first of its days since which nobody measured, the last of
/// them where several have passed. Work after which nothing settles asks once, on day 0.
///
/// `measured` are the days of snapshots; `today` is `YYYY-MM-DD`.
pub fn next_due(event: &Event, measured: &[&str], today: &str) -> Option<Due> {
    let settles = event.effect() == EventEffect::SettlesAnew;
    if !settles && event.effect() != EventEffect::Moves {
        return None;
    }
    let since = |date: &str| days_between(&event.date, date);
    let last = measured.iter().filter_map(|date| since(date)).filter(|day| *day >= 0).max();
    let now = since(today)?;
    let days = DUE_DAYS.into_iter().chain((1..).map(|n| 14 + n * EVERY_DAYS)).take_while(|day| *day <= LONGEST_DAYS);
    let open: Vec<i64> =
        days.take(if settles { usize::MAX } else { 1 }).filter(|day| last.is_none_or(|last| *day > last)).collect();
    let passed = open.iter().rev().find(|day| **day <= now).or(open.first());
    passed.and_then(|day| Some(Due { date: day_after(&event.date, *day)?, day: *day }))
}
