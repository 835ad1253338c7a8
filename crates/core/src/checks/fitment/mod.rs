//! Wheels in their openings: the gaps now and with another wheel and tire, at rest, at full bump, at full lock and at both; scrub radius, centring
//! and what the tires carry. A gap that clears does not make a wheel or a spacer approved.

mod findings;
mod gaps;
mod kingpin;
mod load;
mod lock;
mod outline;
mod together;
mod wheel;

pub(super) use findings::check;
pub use findings::opening_standing;
pub use gaps::{GapBasis, WheelState};
pub use load::{WheelLoad, wheel_load};
pub use wheel::{MaxLoad, WheelSize, offset_mm, width_on_rim_mm};

use super::finding::Verdict;
use super::travel::track_bar_shift_mm;
use crate::car::{AxleTravel, GapPlace, OtherWheel, Side, Vehicle};
use crate::corner::Corner;
use crate::uncertainty::Quantity;
use gaps::Around;

/// How the car stands since its gaps were measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// How far the body rose off this wheel's axle, mm.
    pub spring_rise: Quantity,
    /// Wheel centre to floor, where it was read.
    pub loaded_radius: Option<Quantity>,
}

impl Standing {
    /// As on the day the gaps were measured.
    pub const AS_MEASURED: Self = Self { spring_rise: Quantity::exact(0.0), loaded_radius: None };
}

/// A wheel in its opening, and another in its place.
#[derive(Clone, Debug, PartialEq)]
pub struct InOpening {
    /// Where it stands.
    pub corner: Corner,
    /// The wheel that is there.
    pub now: WheelSize,
    /// The other.
    pub other: Option<WheelSize>,
    /// How far the other's outer and inner edge move, outboard and inboard, mm; `None` without another, or without both offsets.
    pub edges: Option<[Quantity; 2]>,
    /// Every gap in every state that can be told.
    pub gaps: Vec<GapIn>,
    /// Scrub radius now and with the other, mm.
    pub scrub: Option<(Quantity, Option<Quantity>)>,
    /// Kingpin inboard of the present tire's middle at the height of the wheel centre, mm.
    pub kingpin: Option<Quantity>,
    /// How far the wheel stands behind the middle of its opening, mm.
    pub behind_middle: Option<Quantity>,
}

impl InOpening {
    /// What comes nearest first, of the other wheel or of the one that is there; a bound on lock and bump together is no such number.
    pub fn first(&self, other: bool) -> Option<&GapIn> {
        let numbers = self.gaps.iter().filter(|gap| gap.state != WheelState::FullLockAndBump);
        let told = numbers.filter_map(|gap| Some((gap, gap.told(other)?.value)));
        told.min_by(|a, b| a.1.total_cmp(&b.1)).map(|(gap, _)| gap)
    }
}

/// A gap in one state.
#[derive(Clone, Debug, PartialEq)]
pub struct GapIn {
    /// To what.
    pub place: GapPlace,
    /// In which state.
    pub state: WheelState,
    /// With the wheel that is on the car, mm.
    pub now: Quantity,
    /// With the other, mm; `None` without another, or where it cannot be told.
    pub then: Option<Quantity>,
    /// How the gap came to be known.
    pub basis: GapBasis,
    /// Touches from this steered angle on, of so many, degrees.
    pub from_deg: Option<[f64; 2]>,
}

impl GapIn {
    /// Of the other wheel where there is one, else of the wheel that is there.
    pub fn told(&self, other: bool) -> Option<Quantity> {
        if other { self.then } else { Some(self.now) }
    }

    /// Whether it clears; what is only known as "at least" never says that it touches.
    pub fn verdict(&self, other: bool) -> Option<Verdict> {
        let verdict = Verdict::clearing(self.told(other)?, 0.0);
        let bound = self.basis == GapBasis::AtLeast && verdict == Verdict::Touches;
        Some(if bound { Verdict::CantTell } else { verdict })
    }
}

/// A wheel in its opening; `None` where nothing about it was measured or its tire's width is not known.
pub fn in_opening(
    vehicle: &Vehicle,
    corner: Corner,
    other: Option<&OtherWheel>,
    standing: &Standing,
) -> Option<InOpening> {
    let fitment = vehicle.fitment.as_ref()?;
    let wheel = fitment.wheels.get(&corner)?;
    let now = WheelSize::fitted(vehicle, corner, standing.loaded_radius)?;
    let other = other.filter(|other| other.is_for(corner)).and_then(|other| WheelSize::of(other, &now));
    let steer = fitment.steer.as_ref().filter(|_| corner.is_front());
    let pin = steer.and_then(|steer| kingpin::kingpin_mm(steer, &now));
    let travel = vehicle.travel.as_ref().map(|travel| if corner.is_front() { &travel.front } else { &travel.rear });
    let bump = travel.and_then(AxleTravel::bump_mm).map(|mm| Quantity::new(mm, BUMP_READ_U_MM));
    let around = Around {
        now: &now,
        other: other.as_ref(),
        steer: steer.zip(pin.map(|[at_hub, _]| at_hub)),
        bump,
        shift_out_mm: travel.map_or(0.0, |travel| shift_out_mm(travel, corner)),
        spring_rise: standing.spring_rise,
    };
    let gaps = WheelState::ALL.into_iter().flat_map(|state| {
        let around = &around;
        wheel.gaps.iter().filter_map(move |(place, gap)| {
            let found = gaps::found(*place, gap, state, around)?;
            Some(GapIn {
                place: *place,
                state,
                now: found.now,
                then: found.then,
                basis: found.basis,
                from_deg: found.from_deg,
            })
        })
    });
    let gaps = gaps.collect();
    let edges = other.as_ref().and_then(|other| {
        let (from, to) = (now.offset?, other.offset?);
        let half = (other.section_width.value - now.section_width.value) / 2.0;
        let u = (other.section_width.u.hypot(now.section_width.u) / 2.0).hypot(from.u.hypot(to.u));
        let offset = to.value - from.value;
        Some([Quantity::new(half - offset, u), Quantity::new(half + offset, u)])
    });
    let scrub = steer.zip(pin).map(|(steer, [_, scrub])| {
        (scrub, other.as_ref().and_then(|other| kingpin::scrub_then_mm(scrub, steer, &now, other)))
    });
    let gap = |place| wheel.gaps.get(&place).map(|gap| Quantity::new(gap.at_rest_mm, gap.u_mm.unwrap_or(1.5)));
    let behind_middle = gap(GapPlace::Ahead)
        .zip(gap(GapPlace::Behind))
        .map(|(ahead, behind)| Quantity::new((ahead.value - behind.value) / 2.0, ahead.u.hypot(behind.u) / 2.0));
    let kingpin = pin.map(|[at_hub, _]| at_hub);
    Some(InOpening { corner, edges, gaps, scrub, kingpin, behind_middle, now, other })
}

/// Travel up to a stop by a rule, mm [common practice, no source].
const BUMP_READ_U_MM: f64 = 2.0;

/// What a track bar shifts the axle toward this wheel's outside at full bump, mm.
fn shift_out_mm(travel: &AxleTravel, corner: Corner) -> f64 {
    let Some((bar, bump)) = travel.track_bar.as_ref().zip(travel.bump_mm()) else { return 0.0 };
    let toward_frame_end = track_bar_shift_mm(bar, bump);
    if (bar.frame_end == Side::Left) == corner.is_left() { toward_frame_end } else { -toward_frame_end }
}
