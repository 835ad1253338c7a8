//! A day and a time of day as a person types them, never later than now.

use crate::fields::Fields;
use crate::now::Now;
use crate::wire::FieldProblem;
use trueground_core::wording::shown;

const MONTHS: [&str; 12] = ["jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"];
/// Before this nobody measured with it; a year typed with two digits is one of the 2000s.
const FIRST_YEAR: u32 = 1900;

/// When something was read, `YYYY-MM-DDTHH:MM:SS+HH:MM` in the offset of now; the fields are `date` and `time`.
pub(crate) fn read_at(fields: &mut Fields, date: &str, time: &str, now: &Now<'_>) -> Option<String> {
    let (day, clock) = (day(fields, date, now), clock(fields, time));
    let (day, clock) = (day?, clock?);
    let iso = now.stamp().iso();
    let at = format!("{day}T{clock}");
    if at.as_str() > &iso[..16] {
        let sentence = format!("{clock} today has not come yet: it is {}.", &iso[11..16]);
        fields.refuse("time", time, &sentence, "Type the time the reading was taken.");
        return None;
    }
    Some(format!("{at}:00{}", &iso[19..]))
}

/// `2031-04-12` from `2031-04-12`, `12.4.2031`, `12 Apr 2031`, `Apr 12 2031`, not after today; the field is `date`.
pub(crate) fn day(fields: &mut Fields, typed: &str, now: &Now<'_>) -> Option<String> {
    let hint = "Type it as 2031-04-12 or 12 Apr 2031.";
    if typed.trim().is_empty() {
        fields.refuse("date", typed, "The day is missing.", hint);
        return None;
    }
    let read = days(typed);
    let [day] = &read[..] else {
        if read.is_empty() {
            fields.refuse("date", typed, &format!("{} is no day of the calendar.", shown(typed)), hint);
        } else {
            fields.push(FieldProblem {
                field: "date".to_owned(),
                typed: typed.to_owned(),
                sentence: format!("{} can be read two ways.", shown(typed)),
                hint: "Choose the one you mean, or write the month in letters.".to_owned(),
                proposals: read,
            });
        }
        return None;
    };
    let today = now.stamp().date();
    if *day > today {
        let sentence = format!("{} has not come yet: today is {}.", crate::words::day(day), crate::words::day(&today));
        fields.refuse("date", typed, &sentence, "Type the day it was read.");
        return None;
    }
    Some(day.clone())
}

/// The one day that a text means, `YYYY-MM-DD`, past or to come; else a sentence why there is none, and what to do.
pub(crate) fn any_day(typed: &str) -> Result<String, (String, &'static str)> {
    match &days(typed)[..] {
        [day] => Ok(day.clone()),
        [] => Err((format!("{} is no day of the calendar.", shown(typed)), "Type it as 2031-04-12 or 12 Apr 2031.")),
        _ => Err((format!("{} can be read two ways.", shown(typed)), "Write the month in letters.")),
    }
}

/// Every day a text can mean.
fn days(typed: &str) -> Vec<String> {
    let parts: Vec<String> =
        typed.split(|c: char| !c.is_alphanumeric()).filter(|part| !part.is_empty()).map(str::to_lowercase).collect();
    let [a, b, c] = &parts[..] else { return Vec::new() };
    let number = |text: &str| text.parse::<u32>().ok().filter(|_| text.chars().all(|c| c.is_ascii_digit()));
    let month = |text: &str| {
        let found = MONTHS.iter().position(|month| text.starts_with(month) && text.chars().all(char::is_alphabetic));
        found.and_then(|place| u32::try_from(place + 1).ok())
    };
    let orders = if a.len() == 4 {
        vec![(number(a), month(b).or_else(|| number(b)), number(c))]
    } else if let Some(month) = month(b) {
        vec![(number(c), Some(month), number(a))]
    } else if let Some(month) = month(a) {
        vec![(number(c), Some(month), number(b))]
    } else if typed.contains('.') {
        vec![(number(c), number(b), number(a))]
    } else {
        vec![(number(c), number(b), number(a)), (number(c), number(a), number(b))]
    };
    let mut found: Vec<String> = orders
        .into_iter()
        .filter_map(|(year, month, day)| {
            let year = year.map(|year| if year < 100 { 2000 + year } else { year })?;
            written(year, month?, day?)
        })
        .collect();
    found.dedup();
    found
}

fn written(year: u32, month: u32, day: u32) -> Option<String> {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => return None,
    };
    let real = (FIRST_YEAR..=9999).contains(&year) && (1..=days).contains(&day);
    real.then(|| format!("{year:04}-{month:02}-{day:02}"))
}

/// `09:30` from `9:30`, `9.30`, `0930`, `9:30 pm`, `9 am`; the field is `time`.
fn clock(fields: &mut Fields, typed: &str) -> Option<String> {
    let read = time_of_day(typed);
    if read.is_none() {
        let sentence = match typed.trim() {
            "" => "The time of day is missing.".to_owned(),
            _ => format!("{} is no time of day from 0:00 to 23:59.", shown(typed)),
        };
        fields.refuse("time", typed, &sentence, "Type it as 9:30 or 14:05.");
    }
    read
}

fn time_of_day(typed: &str) -> Option<String> {
    let text = typed.trim().to_lowercase();
    let (text, half) = match text.strip_suffix("am").or_else(|| text.strip_suffix("a.m.")) {
        Some(rest) => (rest.trim(), Some(0)),
        None => match text.strip_suffix("pm").or_else(|| text.strip_suffix("p.m.")) {
            Some(rest) => (rest.trim(), Some(12)),
            None => (text.trim_end_matches('h').trim(), None),
        },
    };
    let digits = |text: &str| !text.is_empty() && text.len() <= 4 && text.chars().all(|c| c.is_ascii_digit());
    let (hour, minute) = match text.split_once([':', '.', 'h']) {
        Some((hour, minute)) => (hour, minute),
        None if text.len() == 4 && text.is_ascii() => text.split_at(2),
        None if half.is_some() => (text, "00"),
        None => return None,
    };
    if !digits(hour) || !digits(minute) || minute.len() != 2 {
        return None;
    }
    let (hour, minute): (u32, u32) = (hour.parse().ok()?, minute.parse().ok()?);
    let hour = match half {
        Some(half) if (1..=12).contains(&hour) => hour % 12 + half,
        Some(_) => return None,
        None => hour,
    };
    (hour < 24 && minute < 60).then(|| format!("{hour:02}:{minute:02}"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_is_read_in_the_ways_it_is_written() {
        for (typed, says) in [
            ("2031-04-12", vec!["2031-04-12"]),
            ("12.4.2031", vec!["2031-04-12"]),
            (" 12 Apr 31 ", vec!["2031-04-12"]),
            ("April 12, 2031", vec!["2031-04-12"]),
            ("5/3/2031", vec!["2031-03-05", "2031-05-03"]),
            ("4/4/2031", vec!["2031-04-04"]),
            ("13/4/2031", vec!["2031-04-13"]),
            ("29.2.2031", vec![]),
            ("29.2.2032", vec!["2032-02-29"]),
            ("yesterday", vec![]),
            ("1 2 3 4", vec![]),
            ("99999999999-1-1", vec![]),
        ] {
            assert_eq!(days(typed), says, "{typed}");
        }
    }

    #[test]
    fn a_time_is_read_in_the_ways_it_is_written() {
        for (typed, says) in [
            ("9:30", Some("09:30")),
            ("14.05", Some("14:05")),
            ("0930", Some("09:30")),
            ("9:30 pm", Some("21:30")),
            ("12 am", Some("00:00")),
            ("9 AM", Some("09:00")),
            ("24:00", None),
            ("9:60", None),
            ("13 pm", None),
            ("9", None),
            ("noon", None),
        ] {
            assert_eq!(time_of_day(typed).as_deref(), says, "{typed}");
        }
    }
}
