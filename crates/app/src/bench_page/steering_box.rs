//! Steering box and turns: the ratio at the road wheels, and what another box or arm does.

use super::{refused, row, view, with_band};
use crate::mechanism_page::MEASURES;
use crate::wire::{BenchPicture, BenchSum, BenchSumView, MechanismRow, MechanismWords, Problem};
use crate::words::capital;
use trueground_core::car::Vehicle;
use trueground_core::checks::steering_box::{BoxBy, SteeringBox, SteeringTable, Steers, work_out};

pub(super) fn sum(vehicle: &Vehicle, _inches: bool) -> Result<BenchSumView, Problem> {
    let told = match &vehicle.steering_box {
        None => None,
        Some(described) => {
            let steering = SteeringBox::of_car(described).map_err(refused)?;
            let answer = work_out(&steering);
            let picture = BenchPicture::Arms {
                pitman_mm: steering.now.pitman_mm,
                arm_mm: steering.now.arm_mm,
                pitman_sweep_deg: answer.now.pitman_sweep_deg.value,
                wheel_sweep_deg: steering.sweep_deg,
            };
            Some((words(&steering, &answer), picture))
        }
    };
    let empty = [
        "No steering box yet.",
        "Count the turns from lock to lock and measure both arms: the ratio at the road wheels follows, and what another box or arm does.",
    ];
    Ok(view(BenchSum::SteeringBox, "Steering box", empty, told))
}

fn words(steering: &SteeringBox, answer: &SteeringTable) -> MechanismWords {
    let now = &answer.now;
    let counted = matches!(steering.now.box_by, BoxBy::Turns(_));
    let headline = format!("{:.1} to 1 at the road wheels.", now.overall_ratio.value);
    let detail = format!(
        "{:.2} turns from lock to lock, {}.",
        now.turns.value,
        if counted { "as counted" } else { "from the box\u{2019}s ratio" }
    );
    let mut rows = vec![
        row(
            "overall_ratio",
            "At the road wheels",
            "Degrees of steering wheel for one of them",
            with_band(now.overall_ratio.value, now.overall_ratio.u, 1),
            [now.overall_ratio.value, now.overall_ratio.u],
        ),
        turns(now, counted),
        box_row(now, counted),
        row(
            "pitman_sweep",
            "The pitman arm swings",
            "From lock to lock, both arms square to the drag link",
            degrees(now),
            [now.pitman_sweep_deg.value, now.pitman_sweep_deg.u],
        ),
    ];
    rows.extend(answer.beside.iter().enumerate().map(|(i, other)| beside(i, other)));
    let text = format!(
        "Both arms from above: the pitman arm, {:.0} mm, swings {:.0}°; the steering arm, {:.0} mm, {:.0}°.",
        steering.now.pitman_mm, now.pitman_sweep_deg.value, steering.now.arm_mm, steering.sweep_deg
    );
    MechanismWords {
        described: true,
        headline,
        detail,
        rows,
        cautions: vec![
            "Steering work belongs to a licensed alignment shop; local codes may require approval.".to_owned(),
            "Look that the box does not reach the end of its own travel before the wheel stops do.".to_owned(),
            MEASURES.to_owned(),
        ],
        notes: notes(counted, !answer.beside.is_empty()),
        text,
    }
}

fn degrees(steers: &Steers) -> [String; 2] {
    let [value, band] = with_band(steers.pitman_sweep_deg.value, steers.pitman_sweep_deg.u, 0);
    [format!("{value}°"), format!("{band}°")]
}

fn turns(now: &Steers, counted: bool) -> MechanismRow {
    let line = if counted { "As counted, to an eighth" } else { "By the ratio, the arms and the sweep" };
    let told = with_band(now.turns.value, now.turns.u, 2);
    row("turns", "Turns, lock to lock", line, told, [now.turns.value, now.turns.u])
}

fn box_row(now: &Steers, counted: bool) -> MechanismRow {
    if counted {
        let told = with_band(now.box_ratio.value, now.box_ratio.u, 1);
        let line = "Of the box alone, from the turns";
        return row("box_ratio", "The box", line, told, [now.box_ratio.value, now.box_ratio.u]);
    }
    let value = [format!("{:.1}", now.box_ratio.value), "as typed".to_owned()];
    row("box_ratio", "The box", "Its ratio", value, [now.box_ratio.value, 0.0])
}

/// Turns, with the ratio and the pull under its name.
fn beside(i: usize, other: &Steers) -> MechanismRow {
    let pull = other.effort.map_or_else(String::new, |part| match (100.0 * part).round() {
        100.0 => "; the pull stays".to_owned(),
        percent => format!("; {percent:.0} % of the pull"),
    });
    let line = format!("{:.1} to 1 at the road wheels{pull}", other.overall_ratio.value);
    let name = capital(other.label.as_deref().unwrap_or_default());
    let [value, band] = with_band(other.turns.value, other.turns.u, 2);
    let value = [format!("{value} turns"), band];
    row(&format!("beside_{i}"), &name, &line, value, [other.turns.value, other.turns.u])
}

fn notes(counted: bool, beside: bool) -> Vec<String> {
    let mut notes = vec![
        "\u{b1} from arms read to 2 mm and a sweep read to 2° (common practice, no source). Both arms are taken square to the drag link."
            .to_owned(),
    ];
    if !counted {
        notes.push("A box\u{2019}s ratio has no \u{b1}: it is taken as typed.".to_owned());
    }
    if beside {
        notes.push(
            "The pull at the rim is told against as it is now, with friction left out and no \u{b1}: the same arms stand in both."
                .to_owned(),
        );
    }
    notes
}
