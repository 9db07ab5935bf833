//! The time of day as the record takes it, for the one verb that prints when something was made.
//!
//! Not here: the calendar (`photometry`); anything that depends on the time: no result does.

use std::time::{SystemTime, UNIX_EPOCH};

use photometry::Day;

/// Now, RFC 3339 in UTC to the second. A clock set before 1970 counts as 1970.
pub fn now() -> String {
    at(SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |since| since.as_secs()))
}

/// A number of seconds since 1970 as a time.
fn at(seconds: u64) -> String {
    let (days, second) = (seconds / 86_400, seconds % 86_400);
    // A day is so many seconds that their number always fits.
    let Day { year, month, day } = Day::of_days_since_1970(i64::try_from(days).unwrap_or(0));
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
