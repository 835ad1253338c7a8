//! What a load index on a sidewall stands for.
//!
//! # Source
//! List of load-capacity indices of UN Regulation 30 and 54, Annex 4 (the same series in ISO 4223-1): preferred numbers of 80 to a
//! decade, rounded there. Two stored copies of the list agree.

/// Kilograms for the indices 50 to 130.
const KG: [f64; 81] = [
    190.0, 195.0, 200.0, 206.0, 212.0, 218.0, 224.0, 230.0, 236.0, 243.0, 250.0, 257.0, 265.0, 272.0, 280.0, 290.0,
    300.0, 307.0, 315.0, 325.0, 335.0, 345.0, 355.0, 365.0, 375.0, 387.0, 400.0, 412.0, 425.0, 437.0, 450.0, 462.0,
    475.0, 487.0, 500.0, 515.0, 530.0, 545.0, 560.0, 580.0, 600.0, 615.0, 630.0, 650.0, 670.0, 690.0, 710.0, 730.0,
    750.0, 775.0, 800.0, 825.0, 850.0, 875.0, 900.0, 925.0, 950.0, 975.0, 1000.0, 1030.0, 1060.0, 1090.0, 1120.0,
    1150.0, 1180.0, 1215.0, 1250.0, 1285.0, 1320.0, 1360.0, 1400.0, 1450.0, 1500.0, 1550.0, 1600.0, 1650.0, 1700.0,
    1750.0, 1800.0, 1850.0, 1900.0,
];

const FIRST: usize = 50;

/// What one tire of that load index carries, kg; `None` below 50 and above 130.
pub fn load_index_kg(index: usize) -> Option<f64> {
    KG.get(index.checked_sub(FIRST)?).copied()
}

/// The load index of a service description: 91 of `91V`, 102 of `102/100Q` (the first is for single wheels), 91 of `(91Y)`; `None`
/// where it has none, as `6PR` and `LT` have.
pub fn load_index(service: &str) -> Option<usize> {
    service.split_whitespace().find_map(|word| {
        let word = word.trim_matches(['(', ')']);
        let digits = word.chars().take_while(char::is_ascii_digit).count();
        let (number, rest) = word.split_at(digits);
        let rest = rest.strip_prefix('/').map_or(rest, |rest| rest.trim_start_matches(|c: char| c.is_ascii_digit()));
        let speed = rest.len() == 1 && rest.chars().all(|c| c.is_ascii_uppercase()) || matches!(rest, "A8" | "A6");
        let index = number.parse().ok()?;
        (speed && load_index_kg(index).is_some()).then_some(index)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_load_index_is_found_in_what_stands_behind_the_size() {
        for (service, index, kg) in [
            ("91V", Some(91), Some(615.0)),
            ("102/100Q", Some(102), Some(850.0)),
            ("(91Y)", Some(91), Some(615.0)),
            ("LT 104/101R", Some(104), Some(900.0)),
            ("50N", Some(50), Some(190.0)),
            ("130N", Some(130), Some(1900.0)),
            ("6PR", None, None),
            ("LT", None, None),
            ("8PR", None, None),
            ("131N", None, None),
            ("", None, None),
        ] {
            assert_eq!(load_index(service), index, "{service}");
            assert_eq!(load_index(service).and_then(load_index_kg), kg, "{service}");
        }
    }

    /// Preferred numbers of 80 to a decade: ten more indices carry 10^(1/8) as much, within the list's rounding.
    #[test]
    fn the_list_follows_its_rule() {
        for index in 50..=120 {
            let part = load_index_kg(index + 10).unwrap_or(0.0) / load_index_kg(index).unwrap_or(1.0);
            assert!((part - libm::pow(10.0, 0.125)).abs() < 0.035, "{index}: {part}");
        }
    }
}
