//! The table from a verb's name to its function.

use crate::wire::Problem;
use crate::{Garage, Now, verb};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::Value;
use trueground_core::misread::misread;

type Handler = fn(&mut Garage, Value, &Now<'_>) -> Result<Value, Problem>;

macro_rules! table {
    ($($name:ident),* $(,)?) => {
        &[$((stringify!($name), |garage, request, now| call(stringify!($name), verb::$name, garage, request, now))),*]
    };
}

const TABLE: &[(&str, Handler)] = table![
    open_garage,
    open_sample_garage,
    set_settings,
    add_car,
    change_car,
    sketch_car,
    open_car,
    read_length,
    read_tire,
    add_floor,
    open_floor,
    take_floor_reading,
    undo_floor_reading,
    put_back_floor_reading,
    add_pass,
    open_instruments,
    keep_instrument,
    put_away_instrument,
    change_floor,
    take_straightedge,
    strike_floor_reading,
    use_floor,
    begin_snapshot,
    read_load,
    open_condition,
    change_condition,
    keep_form,
    kept_forms,
    open_walk,
    go_to_step,
    keep_draft,
    take_reading,
    enter_reading,
    check_sheet,
    undo_reading,
    put_back,
    strike_reading,
    unstrike_reading,
    skip_step,
    order_walk,
    finish_snapshot,
    see_result,
    see_settling,
    why,
    compare,
    see_checks,
    print_checks,
    open_under,
    keep_under,
    open_photos,
    see_photo,
    add_photo,
    take_off_photo,
    put_back_photo,
    keep_twist,
    withdraw_twist,
    body_remounted,
    open_book,
    correct_reading,
    add_missed_reading,
    correct_condition,
    take_back_correction,
    open_history,
    keep_event,
    withdraw_event,
    bring_back_event,
    measure_again,
    blank_sheet,
    print_card,
    print_comparison,
    open_targets,
    sketch_target,
    keep_target,
    put_away_target,
    copy_target,
    write_target,
    open_target_file,
    print_history,
    print_settling,
    set_out,
    open_plans,
    sketch_plan,
    keep_plan,
    mark_plan,
    keep_part,
    search_plan,
    tick_task,
    print_plan,
    open_mechanism,
    keep_mechanism,
    see_gearing,
    see_steering,
    see_driveline,
    see_spring,
    see_bench_sums,
    see_fitment,
    open_measured,
    keep_measured,
    leave_measured_out,
    open_grounds,
    open_ground,
    keep_ground,
    put_away_ground,
    take_station,
    undo_station,
    put_back_station,
    see_ramp,
    print_ramp,
    count_photos,
    export_car,
    import_file,
];

/// Does what `verb` asks (see [`crate::wire::VERBS`]).
///
/// # Errors
/// What is wrong, in words; nothing was stored then.
pub fn dispatch(garage: &mut Garage, verb: &str, request: Value, now: &Now<'_>) -> Result<Value, Problem> {
    match TABLE.iter().find(|(name, _)| *name == verb) {
        Some((_, handler)) => handler(garage, request, now),
        None => Err(Problem::new(
            "verb_unknown",
            format!("There is nothing called {} to ask for.", trueground_core::wording::shown(verb)),
            "Start Trueground again, so that its window and its inside are of one version.",
        )),
    }
}

fn call<Q: DeserializeOwned, R: Serialize>(
    name: &str,
    function: fn(&mut Garage, Q, &Now<'_>) -> Result<R, Problem>,
    garage: &mut Garage,
    request: Value,
    now: &Now<'_>,
) -> Result<Value, Problem> {
    let request = serde_path_to_error::deserialize(request).map_err(|error| {
        Problem::new(
            "request_unreadable",
            format!("{name} could not be asked: {}: {}.", error.path(), misread(&error.inner().to_string())),
            "Start Trueground again, so that its window and its inside are of one version.",
        )
    })?;
    let reply = function(garage, request, now)?;
    serde_json::to_value(reply).map_err(|error| {
        Problem::new("reply_unwritable", format!("The answer to {name} could not be written: {error}."), "Try again.")
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_has_the_verbs_of_the_wire() {
        let names: Vec<&str> = TABLE.iter().map(|(name, _)| *name).collect();
        assert_eq!(names, crate::wire::VERBS);
    }
}
