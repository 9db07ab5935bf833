//! The time of day as the record takes it, for the one verb that prints when something was made.
//!
//! Not here: anything that depends on the time; no result does.

use std::time::{SystemTime, UNIX_EPOCH};

/// Now, RFC 3339 in UTC to the second. A clock set before 1970 counts as 1970.
pub fn now() -> String {
    at(SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs()))
}

/// A number of seconds since 1970 as a time; the calendar is the Gregorian one, in eras of 400 years that begin in March.
fn at(seconds: u64) -> String {
    let (days, second) = (seconds / 86_400, seconds % 86_400);
    let since_march_0 = days + 719_468;
    let (era, day_of_era) = (since_march_0 / 146_097, since_march_0 % 146_097);
    let year_of_era = (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month_from_march = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * month_from_march + 2) / 5 + 1;
    let month = if month_from_march < 10 { month_from_march + 3 } else { month_from_march - 9 };
    let year = era * 400 + year_of_era + u64::from(month <= 2);
    format!("{year:04}-{month:02}-{day:02}T{:02}:{:02}:{:02}Z", second / 3_600, second / 60 % 60, second % 60)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn days_fall_where_the_calendar_has_them() {
        assert_eq!(at(0), "1970-01-01T00:00:00Z");
        assert_eq!(at(951_782_399), "2000-02-28T23:59:59Z");
        assert_eq!(at(951_782_400), "2000-02-29T00:00:00Z");
        assert_eq!(at(1_772_357_400), "2026-03-01T09:30:00Z");
        assert_eq!(at(4_107_542_400), "2100-03-01T00:00:00Z");
    }
}
