//! The springs of a car's form: to the vehicle's springs and roll share, and back. What the form does not change stays as it was.

use crate::fields::Fields;
use crate::quantity::{BAR, Quantity, RATE, typed};
use crate::wire::{AxleForm, SpringsForm, TapeUnit};
use serde_json::json;
use trueground_core::car::{AxleSprings, Estimate, RideRate, Suspension, Vehicle};
use trueground_core::roll_share;
use trueground_core::validate::vehicle::SPRING_BASE_MM;

/// A rate from a catalogue, a load test or a sum; the bar's is less sure [common practice, no source].
const RATE_REL_U: f64 = 0.1;
const BAR_REL_U: f64 = 0.15;
/// Where a person states a share or a gain without its ± [common practice, no source].
const SHARE_U: f64 = 0.06;
const GAIN_U: f64 = 0.03;
/// Marks a roll share that was worked out from the springs, so that it follows when they change.
const BASIS: &str = "basis";
const FROM_SPRINGS: &str = "springs";

/// The springs as typed; `before` is the form that would make `earlier`.
pub(crate) fn of_form(
    fields: &mut Fields,
    form: &SpringsForm,
    tape: TapeUnit,
    earlier: Option<&Suspension>,
    before: Option<&SpringsForm>,
) -> Option<Suspension> {
    let both = earlier.cloned().unwrap_or_default();
    let front = axle(fields, "springs.front", &form.front, tape, both.front, before.map(|form| &form.front));
    let rear = axle(fields, "springs.rear", &form.rear, tape, both.rear, before.map(|form| &form.rear));
    let said = Suspension { front, rear };
    (earlier.is_some() || said != Suspension::default()).then_some(said)
}

fn axle(
    fields: &mut Fields,
    place: &str,
    form: &AxleForm,
    tape: TapeUnit,
    earlier: AxleSprings,
    before: Option<&AxleForm>,
) -> AxleSprings {
    let mut springs = earlier;
    let changed = |text: fn(&AxleForm) -> &String| before.is_none_or(|before| text(before).trim() != text(form).trim());
    if before.is_none_or(|before| before.spring != form.spring) {
        springs.spring = form.spring;
    }
    if changed(|form| &form.words) {
        let words = form.words.trim();
        springs.kind = match words {
            "" => None,
            words => fields.label(&format!("{place}.words"), "What is typed about the springs", words),
        };
    }
    if changed(|form| &form.base) {
        springs.spring_base_mm =
            fields.optional_length(&format!("{place}.base"), "a spring base", &form.base, tape, SPRING_BASE_MM);
    }
    let mut rate = |name: &str, typed: &str, quantity: &Quantity, rel_u: f64| {
        fields.quantity(&format!("{place}.{name}"), typed, quantity).map(|value| RideRate { value, rel_u })
    };
    if changed(|form| &form.side_rate) {
        springs.side_rate_n_per_mm = rate("side_rate", &form.side_rate, &RATE, RATE_REL_U);
    }
    if changed(|form| &form.ride_rate) {
        springs.axle_ride_rate_n_per_mm = rate("ride_rate", &form.ride_rate, &RATE, RATE_REL_U);
    }
    if changed(|form| &form.bar) {
        springs.bar_nm_per_deg = rate("bar", &form.bar, &BAR, BAR_REL_U);
    }
    springs
}

/// Roll share and lean gain: as typed, else the share that follows from the springs of the vehicle.
pub(crate) fn share_and_gain(
    fields: &mut Fields,
    form: &SpringsForm,
    earlier: Option<&Vehicle>,
    before: Option<&SpringsForm>,
) -> (Option<Estimate>, Option<Estimate>) {
    let mut stated = |name: &str, what: &str, typed: &str, was: Option<&String>, kept: Option<Estimate>, range, u| {
        if was.is_some_and(|was| was.trim() == typed.trim()) && !typed.trim().is_empty() {
            return kept;
        }
        if typed.trim().is_empty() { None } else { fields.estimate(&format!("springs.{name}"), what, typed, range, u) }
    };
    let share = stated(
        "roll_share",
        "the front\u{2019}s part of a twist",
        &form.roll_share,
        before.map(|form| &form.roll_share),
        earlier.and_then(|vehicle| vehicle.roll_share_front.clone()),
        0.0..=1.0,
        SHARE_U,
    );
    let gain = stated(
        "lean_gain",
        "a lean gain",
        &form.lean_gain,
        before.map(|form| &form.lean_gain),
        earlier.and_then(|vehicle| vehicle.lean_gain.clone()),
        0.5..=2.0,
        GAIN_U,
    );
    (share, gain)
}

/// The vehicle with its roll share from its springs, where nobody states one.
pub(crate) fn with_share_from_springs(mut vehicle: Vehicle) -> Vehicle {
    if vehicle.roll_share_front.is_none()
        && let Some(found) = roll_share::from_springs(&vehicle)
    {
        let extra = [(BASIS.to_owned(), json!(FROM_SPRINGS))].into_iter().collect();
        vehicle.roll_share_front = Some(Estimate { value: found.value, u: found.u, extra });
    }
    vehicle
}

/// True where the roll share was worked out from the springs.
pub(crate) fn is_from_springs(share: &Estimate) -> bool {
    share.extra.get(BASIS).is_some_and(|basis| basis == FROM_SPRINGS)
}

/// The form that would make these springs.
pub(crate) fn of(vehicle: &Vehicle, mm: &impl Fn(f64) -> String) -> SpringsForm {
    let rate = |rate: Option<RideRate>, unit: &str| rate.map(|rate| typed(rate.value, unit)).unwrap_or_default();
    let axle = |springs: &AxleSprings| AxleForm {
        spring: springs.spring,
        words: springs.kind.clone().unwrap_or_default(),
        base: springs.spring_base_mm.map(mm).unwrap_or_default(),
        side_rate: rate(springs.side_rate_n_per_mm, "N/mm"),
        ride_rate: rate(springs.axle_ride_rate_n_per_mm, "N/mm"),
        bar: rate(springs.bar_nm_per_deg, ""),
    };
    let both = vehicle.suspension.clone().unwrap_or_default();
    let estimate = |stated: &Option<Estimate>| {
        let stated = stated.as_ref().filter(|stated| !is_from_springs(stated));
        stated.map(|e| format!("{} ± {}", typed(e.value, ""), typed(2.0 * e.u, ""))).unwrap_or_default()
    };
    SpringsForm {
        front: axle(&both.front),
        rear: axle(&both.rear),
        roll_share: estimate(&vehicle.roll_share_front),
        lean_gain: estimate(&vehicle.lean_gain),
    }
}

/// What is known or supposed about the share, as a sentence.
pub(crate) fn in_words(vehicle: &Vehicle) -> String {
    let share = |value: f64, u: f64| format!("{value:.2} ± {:.2}", 2.0 * u);
    match (&vehicle.roll_share_front, roll_share::from_springs(vehicle)) {
        (Some(stated), found) if !is_from_springs(stated) => {
            let springs = found.map(|found| format!(" The springs say {}.", share(found.value, found.u)));
            format!("As you say: {}.{}", share(stated.value, stated.u), springs.unwrap_or_default())
        }
        (_, Some(found)) => format!(
            "From the springs: {} at the front. Front axle {:.0}, rear axle {:.0} N m a degree.",
            share(found.value, found.u),
            found.front.nm_per_deg,
            found.rear.nm_per_deg
        ),
        _ => "Not known: 0.50 ± 0.30 is supposed. Spring base and rate of both axles tell it.".to_owned(),
    }
}
