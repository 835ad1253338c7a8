//! The steering's form: its points, each ahead of the front axle, left of the centre, above the ground.

use super::ask::{choice, field, length, only, place, section, side_place};
use super::typed::{Texts, Typed};
use super::unworkable;
use crate::quantity::SLOPE;
use crate::wire::{MechanismForm, MechanismSection, Problem};
use std::ops::RangeInclusive;
use trueground_core::car::{AxleGuide, Kingpin, SideLink, Steering, Vehicle};
use trueground_core::checks::bumpsteer::{Linkage, work_out};
use trueground_core::units::Angle;

pub(super) const GUIDES: [(&str, &str); 4] = [
    ("radius_rod", "radius rod, hairpin or split wishbone"),
    ("leaf", "leaf springs along the car"),
    ("four_bar", "four bars"),
    ("parallel", "straight up and down"),
];
const TRAVEL_MM: RangeInclusive<f64> = 1.0..=500.0;
const RADIUS_MM: RangeInclusive<f64> = 50.0..=5_000.0;
/// Wheel up and down where nothing else is said [common practice, no source].
const USUAL_TRAVEL_MM: f64 = 60.0;

pub(super) fn sections() -> Vec<MechanismSection> {
    let links = ["lower.frame", "lower.axle", "upper.frame", "upper.axle"];
    let link_titles =
        ["Lower bar, at the frame", "Lower bar, at the axle", "Upper bar, at the frame", "Upper bar, at the axle"];
    let mut sections = vec![
        place(
            "pitman_ball",
            "Ball on the steering box\u{2019}s arm",
            "The drag link\u{2019}s end at the pitman arm, straight ahead.",
        ),
        place("arm_ball", "Ball on the wheel\u{2019}s steering arm", "The drag link\u{2019}s other end."),
        place("hub", "Wheel centre", "Of the wheel that the drag link steers."),
        place("kingpin", "A point of the kingpin", "Its lower end, or any place on its axis."),
        MechanismSection {
            shows: "kingpin".to_owned(),
            ..section(
                "How the kingpin leans",
                "With an angle gauge on it, or from the alignment sheet.",
                vec![
                    field("caster", "Top leans back (caster)", "forward: with a minus", "°"),
                    field("inclination", "Top leans in", "toward the middle of the car", "°"),
                ],
            )
        },
        section("What leads the axle?", "", vec![choice("guide", "Guide", &GUIDES)]),
        only(
            place("pivot", "Its pivot at the frame", "The ball or bolt about which rod and axle turn."),
            "guide",
            &["radius_rod"],
        ),
        only(place("eye", "The eye that is fixed to the frame", "Not the shackle\u{2019}s."), "guide", &["leaf"]),
        only(
            section(
                "How long the spring leads like a rod",
                "About three quarters of the way from the fixed eye to the axle (common practice, no source).",
                vec![length("radius", "Radius of the axle\u{2019}s way", "")],
            ),
            "guide",
            &["leaf"],
        ),
    ];
    let bars = links.into_iter().zip(link_titles);
    sections.extend(bars.map(|(name, title)| only(side_place(name, title, ""), "guide", &["four_bar"])));
    sections.push(section(
        "How far the wheel moves",
        "From where it stands now.",
        vec![length("down", "Down", "empty: 60 mm"), length("up", "Up", "empty: 60 mm")],
    ));
    sections
}

pub(super) fn texts(vehicle: &Vehicle, out: &mut Texts) {
    let Some(steering) = &vehicle.steering else {
        out.text("guide", "radius_rod");
        out.length("hub.x", 0.0);
        out.length("hub.y", vehicle.track_front_mm / 2.0);
        return;
    };
    out.place("pitman_ball", steering.pitman_ball);
    out.place("arm_ball", steering.arm_ball);
    out.place("hub", steering.hub);
    out.place("kingpin", steering.kingpin.point);
    let [x, y, z] = steering.kingpin.axis;
    let inward = -side(steering.kingpin.point[1]);
    out.number("caster", Angle::atan2(-x, z).to_deg(), "");
    out.number("inclination", Angle::atan2(y * inward, z).to_deg(), "");
    match steering.guide {
        AxleGuide::RadiusRod { pivot } => {
            out.text("guide", "radius_rod");
            out.place("pivot", pivot);
        }
        AxleGuide::Parallel => out.text("guide", "parallel"),
        AxleGuide::Leaf { eye, radius_mm } => {
            out.text("guide", "leaf");
            out.place("eye", eye);
            out.length("radius", radius_mm);
        }
        AxleGuide::FourBar { lower, upper } => {
            out.text("guide", "four_bar");
            for (name, link) in [("lower", lower), ("upper", upper)] {
                out.side_place(&format!("{name}.frame"), link.frame);
                out.side_place(&format!("{name}.axle"), link.axle);
            }
        }
    }
    out.length("down", -steering.travel_mm[0]);
    out.length("up", steering.travel_mm[1]);
}

/// What must be typed before there is a steering at all.
const ASKED: [&str; 8] = [
    "pitman_ball.x",
    "pitman_ball.y",
    "pitman_ball.z",
    "arm_ball.x",
    "arm_ball.y",
    "arm_ball.z",
    "kingpin.x",
    "kingpin.z",
];

/// # Errors
/// Every field that cannot be read; points that make no linkage, or one that cannot reach over its travel.
pub(super) fn read(vehicle: &mut Vehicle, form: &MechanismForm) -> Result<(), Problem> {
    let mut typed = Typed::of(form);
    if typed.are_empty(&ASKED) {
        vehicle.steering = None;
        return Ok(());
    }
    let (pitman_ball, arm_ball) = (typed.place("pitman_ball"), typed.place("arm_ball"));
    let (hub, point) = (typed.place("hub"), typed.place("kingpin"));
    let caster = typed.signed("caster", "how far the kingpin leans back", &SLOPE);
    let inclination = typed.signed("inclination", "how far the kingpin leans in", &SLOPE);
    let guide = guide(&mut typed);
    let down = typed.optional_length("down", "a travel", TRAVEL_MM);
    let up = typed.optional_length("up", "a travel", TRAVEL_MM);
    typed.done()?;
    let (Some(pitman_ball), Some(arm_ball), Some(hub), Some(point)) = (pitman_ball, arm_ball, hub, point) else {
        return Ok(());
    };
    let (Some(caster), Some(inclination), Some(guide)) = (caster, inclination, guide) else { return Ok(()) };
    let axis = axis_as_it_was(vehicle, form, point)
        .unwrap_or_else(|| [-Angle::deg(caster).tan(), -side(point[1]) * Angle::deg(inclination).tan(), 1.0]);
    let earlier = vehicle.steering.take();
    let steering = Steering {
        pitman_ball,
        arm_ball,
        kingpin: Kingpin { point, axis },
        hub,
        guide,
        travel_mm: [-down.unwrap_or(USUAL_TRAVEL_MM), up.unwrap_or(USUAL_TRAVEL_MM)],
        step_mm: earlier.as_ref().and_then(|earlier| earlier.step_mm),
        measured_in: earlier.as_ref().and_then(|earlier| earlier.measured_in.clone()),
        measured_in_of: earlier.as_ref().map(|earlier| earlier.measured_in_of.clone()).unwrap_or_default(),
        extra: earlier.map(|earlier| earlier.extra).unwrap_or_default(),
    };
    // What cannot reach is refused here, beside its form, and not found out later.
    Linkage::of(&steering).and_then(|linkage| work_out(&linkage)).map_err(|refusal| {
        let field = beside(&refusal.message).to_owned();
        unworkable(refusal, field)
    })?;
    vehicle.steering = Some(steering);
    Ok(())
}

/// The kingpin's direction where its angles were not touched: through a tangent and back it would be another number.
fn axis_as_it_was(vehicle: &Vehicle, form: &MechanismForm, point: [f64; 3]) -> Option<[f64; 3]> {
    let kingpin = vehicle.steering.as_ref()?.kingpin;
    let mut before = Texts::new(form.tape);
    texts(vehicle, &mut before);
    let same = |name: &str| form.values.get(name) == before.values.get(name);
    (same("caster") && same("inclination") && side(point[1]) == side(kingpin.point[1])).then_some(kingpin.axis)
}

pub(super) fn guide(typed: &mut Typed<'_>) -> Option<AxleGuide> {
    match typed.text("guide") {
        "leaf" => {
            let eye = typed.place("eye");
            let radius_mm = typed.length("radius", "the radius of the axle\u{2019}s way", RADIUS_MM);
            Some(AxleGuide::Leaf { eye: eye?, radius_mm: radius_mm? })
        }
        "four_bar" => {
            let [lower, upper] = ["lower", "upper"].map(|name| {
                let [frame, axle] = ["frame", "axle"].map(|end| typed.side_place(&format!("{name}.{end}")));
                Some(SideLink { frame: frame?, axle: axle? })
            });
            Some(AxleGuide::FourBar { lower: lower?, upper: upper? })
        }
        "parallel" => Some(AxleGuide::Parallel),
        _ => Some(AxleGuide::RadiusRod { pivot: typed.place("pivot")? }),
    }
}

/// The field a refusal of the whole linkage stands beside.
fn beside(message: &str) -> &'static str {
    match message {
        _ if message.starts_with("The guide") || message.starts_with("guide.eye") => "guide",
        _ if message.starts_with("guide.pivot") => "pivot.x",
        _ if message.starts_with("guide.lower") || message.starts_with("guide.upper") => "lower.axle.x",
        _ if message.starts_with("arm_ball lies") => "kingpin.x",
        _ => "arm_ball.x",
    }
}

/// +1 on the left.
const fn side(y_mm: f64) -> f64 {
    if y_mm < 0.0 { -1.0 } else { 1.0 }
}
