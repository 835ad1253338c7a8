//! `trueground square`: wheelbases, diagonals, toe, camber and caster.

use crate::Answer;
use crate::car_file;
use crate::check::{finding_lines, findings_json};
use crate::input::FileArguments;
use crate::output::Problem;
use serde_json::Value;
use trueground_core::car::Square;
use trueground_core::checks::square::work_out;
use trueground_core::corner::Corner;
use trueground_core::validate::square_faults;

/// Whether axles and frame stand square: wheelbases, diagonals, toe, camber, caster
///
/// FILE is JSON: {"wheelbase_left_mm", "wheelbase_right_mm", "diagonals": [{"label", "left_front_to_right_rear_mm",
/// "right_front_to_left_rear_mm", "apart_mm"}], "toe_front": {"front_mm", "rear_mm", "apart_mm"}, "toe_rear", "camber_deg": {"FL": -0.5, …},
/// "caster": {"FL": {"gauge_deg"}, "FR": {"steered_deg", "camber_out_deg", "camber_in_deg"}}, "floor": {"rear_higher_deg",
/// "left_higher_front_deg", "left_higher_rear_deg", "u_deg"}}; or a car's file with that under "vehicle": {"square"}. Toe is rear minus front
/// of the tires at the height of the wheel centres, positive in. What the floor leans is taken out of camber and caster.
#[derive(Debug, clap::Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileArguments,
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    let name = arguments.input.file.name();
    let text = arguments.input.file.read()?;
    let (square, tires) = read(&text).map_err(|problem| problem.at(&name))?;
    let answer = work_out(&square, tires);
    if arguments.input.json { findings_json(&answer.findings) } else { Ok(finding_lines(&answer.findings)) }
}

fn read(text: &str) -> Result<(Square, [Option<f64>; 2]), Problem> {
    let car = serde_json::from_str::<Value>(text).is_ok_and(|file| {
        file.get("vehicle").is_some() || file.get("input").is_some_and(|input| input.get("vehicle").is_some())
    });
    if !car {
        return Ok((Square::read(text)?, [None; 2]));
    }
    let vehicle = car_file::of(text)?.vehicle;
    let Some(square) = vehicle.square else {
        let hint = "Add \"square\": {\"wheelbase_left_mm\": …} to the vehicle, or give the measures alone.";
        return Err(Problem::new("The car has no vehicle.square: nothing was measured.", hint));
    };
    if let Some(fault) = square_faults(&square).into_iter().next() {
        return Err(Problem::new(format!("vehicle.square.{fault}."), format!("{}.", fault.hint)));
    }
    let across = |corner| vehicle.tires.as_ref().map(|tires| tires.at(corner).free_diameter_mm);
    Ok((square, [across(Corner::FL), across(Corner::RL)]))
}
