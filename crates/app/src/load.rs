//! What is aboard beside the nominal load: from typed fuel, people and luggage to masses at their places.

use crate::fields::Fields;
use crate::wire::{
    AboardForm, FuelForm, LoadForm, LoadPlace, LoadRead, LoadSheet, LoadSide, MassView, PlaceView, TapeUnit,
};
use crate::words::whole;
use serde_json::{Value, json};
use trueground_core::capture::LoadChange;
use trueground_core::car::Vehicle;
use trueground_core::level::load_drop_mm;
use trueground_core::wording::shown;

/// Kilograms in a litre of fuel [common practice, no source].
const FUEL_KG_PER_LITRE: f64 = 0.75;
/// Kilograms in a pound [NIST SP 811, appendix B.8: 4.535 924 E-01].
const KG_PER_LB: f64 = 0.453_592_4;
/// A seat's middle from the car's, as part of the track [common practice, no source].
const SEAT_OF_TRACK: f64 = 0.25;
/// Most that one line can hold or be short of, kg, and the most entries there are.
const MOST_KG: f64 = 2_000.0;
const MOST_ENTRIES: usize = 20;
/// Tanks, litres.
const TANK_LITRES: std::ops::RangeInclusive<f64> = 1.0..=500.0;
/// Where anything of a car can be behind its front axle, mm.
const BEHIND_MM: std::ops::RangeInclusive<f64> = -2_500.0..=12_000.0;

const PLACES: [LoadPlace; 6] = [
    LoadPlace::Driver,
    LoadPlace::Passenger,
    LoadPlace::RearSeat,
    LoadPlace::BehindRear,
    LoadPlace::AheadFront,
    LoadPlace::Own,
];

/// Name in files.
const fn code(place: LoadPlace) -> &'static str {
    match place {
        LoadPlace::Driver => "driver",
        LoadPlace::Passenger => "passenger",
        LoadPlace::RearSeat => "rear_seat",
        LoadPlace::BehindRear => "behind_rear",
        LoadPlace::AheadFront => "ahead_front",
        LoadPlace::Own => "own",
    }
}

/// The place, and who or what sits there if nothing else was typed.
const fn words(place: LoadPlace) -> (&'static str, &'static str) {
    match place {
        LoadPlace::Driver => ("driver\u{2019}s seat", "driver"),
        LoadPlace::Passenger => ("passenger\u{2019}s seat", "passenger"),
        LoadPlace::RearSeat => ("rear seat", "on the rear seat"),
        LoadPlace::BehindRear => ("behind the rear axle", "luggage behind the rear axle"),
        LoadPlace::AheadFront => ("ahead of the front axle", "ahead of the front axle"),
        LoadPlace::Own => ("another place", "at another place"),
    }
}

/// Part of the wheelbase behind the front axle where a place usually is [common practice, no source].
const fn usual(place: LoadPlace) -> Option<f64> {
    match place {
        LoadPlace::Driver | LoadPlace::Passenger => Some(0.55),
        LoadPlace::RearSeat => Some(0.85),
        LoadPlace::BehindRear => Some(1.2),
        LoadPlace::AheadFront => Some(-0.12),
        LoadPlace::Own => None,
    }
}

/// About how far behind the front axle a place is, mm: the car's own seats where it has them.
fn about(place: LoadPlace, vehicle: &Vehicle) -> Option<f64> {
    let seat = match place {
        LoadPlace::Driver | LoadPlace::Passenger => vehicle.seats.first(),
        LoadPlace::RearSeat => vehicle.seats.get(1),
        _ => None,
    };
    let part = usual(place)?;
    Some(seat.map_or((part * vehicle.wheelbase_mm / 10.0).round() * 10.0, |seat| 0.0 - seat.x_mm))
}

/// What the load section needs to know; places as this car's person typed them last.
pub(crate) fn sheet(vehicle: &Vehicle, car_document: &Value, side: crate::wire::SideView) -> LoadSheet {
    let place = |place: LoadPlace| {
        let about = about(place, vehicle);
        let remembered = car_document["load"]["places"][code(place)].as_str().filter(|typed| !typed.trim().is_empty());
        PlaceView {
            place,
            words: words(place).0.to_owned(),
            behind: remembered.map_or_else(|| about.map(|mm| format!("{mm}")).unwrap_or_default(), str::to_owned),
            hint: match (remembered, about) {
                (Some(_), _) => "as last time".to_owned(),
                (None, Some(mm)) => format!("about {} mm; change it if you know it", whole(mm)),
                (None, None) => "ahead of the axle with a minus".to_owned(),
            },
        }
    };
    LoadSheet { nominal: vehicle.nominal_load.clone(), side, places: PLACES.map(place).to_vec() }
}

/// The form with the tank as this car's person typed it last.
pub(crate) fn blank(car_document: &Value, vehicle: &Vehicle) -> LoadForm {
    let kept = |key: &str| car_document["load"][key].as_str().map(str::to_owned);
    let mut fuel = FuelForm::default();
    if let Some(tank) = &vehicle.tank {
        fuel.tank = tank.litres.to_string();
        fuel.behind = (0.0 - tank.x_mm).to_string();
        fuel.place = LoadPlace::Own;
    }
    fuel.tank = kept("tank").unwrap_or(fuel.tank);
    fuel.usual = kept("usual").unwrap_or(fuel.usual);
    fuel.behind = kept("tank_behind").unwrap_or(fuel.behind);
    if let Ok(place) = serde_json::from_value(car_document["load"]["tank_place"].clone()) {
        fuel.place = place;
    }
    LoadForm { fuel, aboard: Vec::new() }
}

/// What is remembered of a form for the car's next snapshot.
pub(crate) fn remember(car_document: &mut Value, load: &LoadForm) {
    let mut kept = car_document["load"].take();
    if !kept.is_object() {
        kept = json!({ "places": {} });
    }
    let fuel = &load.fuel;
    if !fuel.tank.trim().is_empty() {
        kept["tank"] = json!(fuel.tank);
        kept["usual"] = json!(fuel.usual);
        kept["tank_behind"] = json!(fuel.behind);
        kept["tank_place"] = json!(code(fuel.place));
    }
    for entry in load.aboard.iter().filter(|entry| entry.place != LoadPlace::Own && !entry.behind.trim().is_empty()) {
        kept["places"][code(entry.place)] = json!(entry.behind);
    }
    if kept["tank"].is_string() || kept["places"].as_object().is_some_and(|places| !places.is_empty()) {
        car_document["load"] = kept;
    } else if let Some(keys) = car_document.as_object_mut() {
        keys.shift_remove("load");
    }
}

/// The masses of a form; what cannot be read is added to `fields` under `load.…`.
pub(crate) fn read(fields: &mut Fields, load: &LoadForm, vehicle: &Vehicle) -> Vec<LoadChange> {
    let mut changes: Vec<LoadChange> = fuel(fields, &load.fuel, vehicle).into_iter().collect();
    if load.aboard.len() > MOST_ENTRIES {
        let sentence = format!("{} entries are aboard: {MOST_ENTRIES} can be kept.", load.aboard.len());
        fields.refuse("load.aboard", "", &sentence, "Put some of them together.");
        return changes;
    }
    for (number, entry) in load.aboard.iter().enumerate() {
        changes.extend(aboard(fields, number, entry, vehicle));
    }
    changes
}

fn aboard(fields: &mut Fields, number: usize, entry: &AboardForm, vehicle: &Vehicle) -> Option<LoadChange> {
    let path = |field: &str| format!("load.aboard.{number}.{field}");
    let mass = mass(fields, &path("mass"), &entry.mass);
    let x = place(fields, &path("behind"), entry.place, &entry.behind, vehicle);
    let label = match entry.what.trim() {
        "" => Some(words(entry.place).1.to_owned()),
        typed => fields.label(&path("what"), "It", typed),
    };
    let half = SEAT_OF_TRACK * (vehicle.track_front_mm + vehicle.track_rear_mm) / 2.0;
    let y_mm = match entry.side {
        LoadSide::Left => half,
        LoadSide::Middle => 0.0,
        LoadSide::Right => -half,
    };
    let mass_kg = mass?;
    let label = format!("{} {}", label?, kg(mass_kg));
    Some(LoadChange { label, mass_kg, x_mm: x?, y_mm: y_mm.round() })
}

/// "75 kg", with a true minus.
fn kg(mass_kg: f64) -> String {
    format!("{} kg", whole(mass_kg))
}

fn fuel(fields: &mut Fields, fuel: &FuelForm, vehicle: &Vehicle) -> Option<LoadChange> {
    if fuel.now.trim().is_empty() {
        return None;
    }
    let tank = match fuel.tank.trim() {
        "" => {
            let hint = "Type what it holds in litres, once for this car.";
            fields.refuse("load.fuel.tank", &fuel.tank, "The size of the tank is missing.", hint);
            None
        }
        typed => litres(fields, "load.fuel.tank", typed, None),
    };
    let x = place(fields, "load.fuel.behind", fuel.place, &fuel.behind, vehicle);
    let (now, usual) = (
        litres(fields, "load.fuel.now", &fuel.now, tank.or(Some(0.0))),
        litres(fields, "load.fuel.usual", &fuel.usual, tank.or(Some(0.0))),
    );
    let (tank, now, usual) = (tank?, now?, usual?);
    for (field, typed, litres) in [("load.fuel.now", &fuel.now, now), ("load.fuel.usual", &fuel.usual, usual)] {
        if litres > tank {
            let sentence = format!("{} is more than the tank of {} l holds.", shown(typed.trim()), whole(tank));
            fields.refuse(field, typed, &sentence, "Correct the litres or the size of the tank.");
            return None;
        }
    }
    let mass_kg = FUEL_KG_PER_LITRE * (now - usual);
    (mass_kg != 0.0).then(|| LoadChange { label: mark(&fuel.now), mass_kg, x_mm: x.unwrap_or_default(), y_mm: 0.0 })
}

/// "fuel full", "fuel 30 l"
fn mark(typed: &str) -> String {
    match typed.trim() {
        "0" => "fuel empty".to_owned(),
        "1" => "fuel a quarter".to_owned(),
        "2" => "fuel half".to_owned(),
        "3" => "fuel three quarters".to_owned(),
        "4" => "fuel full".to_owned(),
        litres => format!("fuel {} l", litres.trim_end_matches('l').trim()),
    }
}

/// Litres of a typed amount; `tank` set: `0` to `4` are quarters of it, and litres are written `30 l`.
fn litres(fields: &mut Fields, field: &str, typed: &str, tank: Option<f64>) -> Option<f64> {
    let text = typed.trim();
    if let (Some(tank), Ok(quarters @ 0..=4)) = (tank, text.parse::<u8>()) {
        return Some(tank * f64::from(quarters) / 4.0);
    }
    let bare = text.strip_suffix(['l', 'L']).unwrap_or(text).trim().replace(',', ".");
    let range = if tank.is_some() { 0.0..=*TANK_LITRES.end() } else { TANK_LITRES };
    let number = bare.parse::<f64>().ok().filter(|litres| range.contains(litres));
    if number.is_none() {
        let sentence = format!("{} is not {} to {} litres.", shown(text), range.start(), range.end());
        fields.refuse(field, typed, &sentence, "Type litres, like 60.");
    }
    number
}

fn mass(fields: &mut Fields, field: &str, typed: &str) -> Option<f64> {
    let text = typed.trim().replace(['\u{2212}', '\u{2013}'], "-");
    if text.is_empty() {
        fields.refuse(field, typed, "The mass is missing.", "Type kilograms, or take the line away.");
        return None;
    }
    let (number, factor) = match (text.strip_suffix("lb"), text.strip_suffix("kg")) {
        (Some(pounds), _) => (pounds.trim(), KG_PER_LB),
        (None, Some(kilograms)) => (kilograms.trim(), 1.0),
        (None, None) => (text.as_str(), 1.0),
    };
    let kg = number.replace(',', ".").replace("- ", "-").parse::<f64>().ok().map(|number| number * factor);
    let kg = kg.filter(|kg| kg.abs() <= MOST_KG && *kg != 0.0);
    if kg.is_none() {
        let sentence = format!("{} is not a mass up to {MOST_KG} kg.", shown(typed.trim()));
        fields.refuse(field, typed, &sentence, "Type kilograms, like 75, or 165 lb; a minus for what is missing.");
    }
    kg
}

/// Ahead of the front axle, mm.
fn place(fields: &mut Fields, field: &str, place: LoadPlace, typed: &str, vehicle: &Vehicle) -> Option<f64> {
    match (typed.trim(), about(place, vehicle)) {
        ("", Some(behind_mm)) => Some(0.0 - behind_mm),
        ("", None) => {
            let hint = "Type how far behind the front axle it is; ahead of it with a minus.";
            fields.refuse(field, typed, "Its place is missing.", hint);
            None
        }
        (typed, _) => fields
            .signed_length(field, "a place behind the front axle", typed, TapeUnit::Mm, BEHIND_MM)
            .map(|mm| 0.0 - mm),
    }
}

/// What a load comes to, for the picture and in words.
pub(crate) fn view(vehicle: &Vehicle, changes: &[LoadChange]) -> LoadRead {
    let mass = |change: &LoadChange| MassView {
        label: change.label.clone(),
        mass_kg: change.mass_kg,
        printed: kg(change.mass_kg),
        s_mm: 0.0 - change.x_mm,
    };
    LoadRead { masses: changes.iter().map(mass).collect(), sentence: sentence(vehicle, changes) }
}

/// "97 kg more than half tank, nobody aboard: about 4 mm lower at the front, 9 mm lower at the rear."
fn sentence(vehicle: &Vehicle, changes: &[LoadChange]) -> String {
    let nominal = vehicle.nominal_load.as_deref().unwrap_or("usual");
    if changes.is_empty() {
        return format!("As usual: {nominal}.");
    }
    let total: f64 = changes.iter().map(|change| change.mass_kg).sum();
    let more = if total >= 0.0 { "more" } else { "less" };
    let [front, rear] = load_drop_mm(vehicle, changes);
    format!("{} {more} than {nominal}: about {}, {}.", kg(total.abs()), moved(front, "front"), moved(rear, "rear"))
}

/// "4 mm lower at the front"
pub(crate) fn moved(drop_mm: f64, end: &str) -> String {
    let size = drop_mm.abs().round();
    if size == 0.0 {
        return format!("the same at the {end}");
    }
    format!("{} mm {} at the {end}", whole(size), if drop_mm > 0.0 { "lower" } else { "higher" })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn vehicle() -> Vehicle {
        serde_json::from_value(json!({
            "label": "x", "wheelbase_mm": 2600.0, "track_front_mm": 1400.0, "track_rear_mm": 1400.0, "nominal_load": "half tank, nobody aboard",
        }))
        .unwrap()
    }

    fn form(fuel_now: &str, aboard: Value) -> LoadForm {
        let fuel = json!({"now": fuel_now, "usual": "2", "tank": "60"});
        serde_json::from_value(json!({"fuel": fuel, "aboard": aboard})).unwrap()
    }

    fn read_all(load: &LoadForm) -> (Vec<LoadChange>, Vec<String>) {
        let mut fields = Fields::default();
        let changes = read(&mut fields, load, &vehicle());
        (
            changes,
            fields
                .done()
                .err()
                .map(|problem| problem.fields.into_iter().map(|field| field.field).collect())
                .unwrap_or_default(),
        )
    }

    /// Hand sums: a full tank of 60 l is 30 l over half, 22.5 kg; behind the rear axle is 1.2 wheelbases; the seat 0.55.
    #[test]
    fn fuel_and_a_driver_become_masses_at_their_places() {
        let load = form("4", json!([{"what": "", "mass": "165 lb", "place": "driver", "side": "left"}]));
        let (changes, problems) = read_all(&load);
        assert_eq!(problems, Vec::<String>::new());
        assert_eq!((changes[0].label.as_str(), changes[0].mass_kg, changes[0].x_mm), ("fuel full", 22.5, -3120.0));
        let driver = &changes[1];
        assert_eq!((driver.label.as_str(), driver.x_mm, driver.y_mm), ("driver 75 kg", -1430.0, 350.0));
        assert!((driver.mass_kg - 74.84).abs() < 0.01);
        // 45 N/mm an axle. Front: (74.84·1170 − 22.5·520)/2600·g/45; rear: (74.84·1430 + 22.5·3120)/2600·g/45.
        assert_eq!(
            view(&vehicle(), &changes).sentence,
            "97 kg more than half tank, nobody aboard: about 6 mm lower at the front, 15 mm lower at the rear."
        );
    }

    #[test]
    fn what_is_missing_is_a_minus_and_the_usual_mark_is_no_change() {
        let load = form(
            "2",
            json!([{"what": "spare wheel", "mass": "\u{2212}18", "place": "own", "side": "middle", "behind": "-30 cm"}]),
        );
        let (changes, problems) = read_all(&load);
        assert_eq!(problems, Vec::<String>::new());
        assert_eq!(changes.len(), 1);
        assert_eq!((changes[0].mass_kg, changes[0].x_mm), (-18.0, 300.0));
    }

    #[test]
    fn every_field_that_cannot_be_read_is_named() {
        let load =
            form("70 l", json!([{"mass": "NaN", "place": "own"}, {"mass": "0", "place": "driver", "behind": "far"}]));
        let (_, problems) = read_all(&load);
        assert_eq!(
            problems,
            [
                "load.fuel.now",
                "load.aboard.0.mass",
                "load.aboard.0.behind",
                "load.aboard.1.mass",
                "load.aboard.1.behind"
            ]
        );
    }
}
