//! A moment as the caller saw it: UTC and the local offset.

/// When something was written, as the shell's clock said; never used to order anything.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stamp {
    /// Milliseconds since 1970-01-01T00:00:00Z.
    pub utc_ms: i64,
    /// Local time less UTC, minutes.
    pub offset_minutes: i32,
}

impl Stamp {
    /// Local time as `YYYY-MM-DDTHH:MM:SS+HH:MM`.
    pub fn iso(self) -> String {
        let sign = if self.offset_minutes < 0 { '-' } else { '+' };
        let offset = self.offset_minutes.unsigned_abs();
        format!("{}T{}:{:02}{sign}{:02}:{:02}", self.date(), self.clock(), self.seconds(), offset / 60, offset % 60)
    }

    /// Local day, `YYYY-MM-DD`.
    pub fn date(self) -> String {
        let (year, month, day) = civil(self.local_seconds().div_euclid(86_400));
        format!("{year:04}-{month:02}-{day:02}")
    }

    /// Local time of day, `14:32`.
    pub fn clock(self) -> String {
        let second = self.local_seconds().rem_euclid(86_400);
        format!("{:02}:{:02}", second / 3600, second / 60 % 60)
    }

    fn seconds(self) -> i64 {
        self.local_seconds().rem_euclid(60)
    }

    fn local_seconds(self) -> i64 {
        self.utc_ms.div_euclid(1000).saturating_add(i64::from(self.offset_minutes) * 60)
    }
}

/// Year, month and day of a day number counted from 1970-01-01, in the proleptic Gregorian calendar.
///
/// Counts in eras of 400 years that begin on 1 March, so that the leap day ends a year.
const fn civil(day: i64) -> (i64, i64, i64) {
    let day = day + 719_468;
    let era = day.div_euclid(146_097);
    let in_era = day.rem_euclid(146_097);
    let year_of_era = (in_era - in_era / 1460 + in_era / 36_524 - in_era / 146_096) / 365;
    let in_year = in_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month_from_march = (5 * in_year + 2) / 153;
    let day_of_month = in_year - (153 * month_from_march + 2) / 5 + 1;
    let month = if month_from_march < 10 { month_from_march + 3 } else { month_from_march - 9 };
    (year_of_era + era * 400 + if month <= 2 { 1 } else { 0 }, month, day_of_month)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Expected values: GNU `date -u -d @N`.
    #[test]
    fn a_moment_is_printed_as_the_wall_clock_said() {
        for (utc_ms, offset_minutes, iso) in [
            (0, 0, "1970-01-01T00:00:00+00:00"),
            (951_782_400_000, 0, "2000-02-29T00:00:00+00:00"),
            (1_934_000_000_000, 120, "2031-04-15T08:13:20+02:00"),
            (1_934_000_000_000, -330, "2031-04-15T00:43:20-05:30"),
            (-1, 0, "1969-12-31T23:59:59+00:00"),
        ] {
            assert_eq!(Stamp { utc_ms, offset_minutes }.iso(), iso);
        }
    }
}
