//! A moment of universal time and the calendar day that it falls on.
//!
//! Not here: reading a time from text (`record`), reading a clock (nowhere below the page and the shell).

use crate::error::Error;

const DAY_S: f64 = 86_400.0;
/// Days from the start of the year 0 in March to 1970-01-01.
const TO_MARCH_0: i64 = 719_468;
/// Julian day of 1970-01-01, 0 h.
const JULIAN_DAY_1970: f64 = 2_440_587.5;
/// First and last year: before, the calendar was another one in most countries; after, nobody can say how the earth will turn.
const YEARS: core::ops::RangeInclusive<i64> = 1600..=2999;

/// A day of the Gregorian calendar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Day {
    /// Year.
    pub year: i64,
    /// Month, 1 to 12.
    pub month: u32,
    /// Day of the month, 1 to 31.
    pub day: u32,
}

impl Day {
    /// The day that lies so many days after 1970-01-01, in eras of 400 years that begin in March.
    pub fn of_days_since_1970(days: i64) -> Self {
        let since_march_0 = days.saturating_add(TO_MARCH_0);
        let (era, day_of_era) = (since_march_0.div_euclid(146_097), since_march_0.rem_euclid(146_097));
        let year_of_era = (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
        let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let from_march = (5 * day_of_year + 2) / 153;
        let day = day_of_year - (153 * from_march + 2) / 5 + 1;
        let month = if from_march < 10 { from_march + 3 } else { from_march - 9 };
        // Both lie within a month and a year.
        Self { year: era * 400 + year_of_era + i64::from(month <= 2), month: month as u32, day: day as u32 }
    }

    /// How many days it lies after 1970-01-01; the inverse of [`Day::of_days_since_1970`].
    fn days_since_1970(self) -> i64 {
        let year = self.year - i64::from(self.month <= 2);
        let (era, year_of_era) = (year.div_euclid(400), year.rem_euclid(400));
        let month = i64::from(self.month);
        let from_march = if month > 2 { month - 3 } else { month + 9 };
        let day_of_year = (153 * from_march + 2) / 5 + i64::from(self.day) - 1;
        era * 146_097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year - TO_MARCH_0
    }

    /// Day of the year, the first being 1.
    pub fn of_year(self) -> u32 {
        let first = Self { month: 1, day: 1, ..self };
        // Less than a year.
        (self.days_since_1970() - first.days_since_1970() + 1) as u32
    }
}

/// A moment of universal time. UTC stands for UT1, from which it is never more than 0.9 s away: 0.004° of the sun's height.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// Seconds since 1970-01-01, 0 h, leap seconds not counted.
    seconds: f64,
    /// Terrestrial time less universal time \[s\].
    delta_t_s: f64,
}

impl Moment {
    /// From a calendar day and a time of it. **Errors** for a day that the calendar has not, a time beyond 23:59:60, and years
    /// outside 1600 to 2999. A leap second counts as the first second of the next minute.
    pub fn new(year: i64, month: u32, day: u32, hour: u32, minute: u32, second: f64) -> Result<Self, Error> {
        let given = Day { year, month, day };
        // The year first: days of a year without end cannot be counted.
        let real = YEARS.contains(&year)
            && (1..=12).contains(&month)
            && (1..=31).contains(&day)
            && Day::of_days_since_1970(given.days_since_1970()) == given;
        if !real {
            return Err(Error::new(format!(
                "the day must be one of the calendar between the years {} and {}, and {year:04}-{month:02}-{day:02} was given",
                YEARS.start(),
                YEARS.end()
            )));
        }
        if hour > 23 || minute > 59 || !(0.0..61.0).contains(&second) {
            return Err(Error::new(format!(
                "the time of day must be at most 23:59:60, and {hour:02}:{minute:02}:{second:02} was given"
            )));
        }
        let of_day = f64::from(hour * 3_600 + minute * 60) + second;
        Self::of_seconds_since_1970(given.days_since_1970() as f64 * DAY_S + of_day)
    }

    /// From seconds since 1970-01-01, 0 h UTC, leap seconds not counted, as clocks of computers give them.
    /// **Errors** outside the years 1600 to 2999.
    pub fn of_seconds_since_1970(seconds: f64) -> Result<Self, Error> {
        let start = |year| Day { year, month: 1, day: 1 }.days_since_1970() as f64 * DAY_S;
        if !(start(*YEARS.start())..=start(*YEARS.end() + 1)).contains(&seconds) {
            return Err(Error::new(format!(
                "the time must lie between the years {} and {}, and {seconds} s from 1970 was given",
                YEARS.start(),
                YEARS.end()
            )));
        }
        let year = 1970.0 + seconds / (365.2425 * DAY_S);
        let delta_t_s = solar_positioning::delta_t::estimate(year.min(2999.999))
            .map_err(|error| Error::new(format!("the turning of the earth cannot be told: {error}")))?;
        Ok(Self { seconds, delta_t_s })
    }

    /// The same moment with a measured difference between terrestrial and universal time \[s\]; 69 s around 2024. Otherwise it
    /// is estimated by the polynomials of Espenak and Meeus, continued from 2015. **Errors** beyond ±20 000 s.
    pub fn with_delta_t(self, delta_t_s: f64) -> Result<Self, Error> {
        if (-20_000.0..=20_000.0).contains(&delta_t_s) {
            Ok(Self { delta_t_s, ..self })
        } else {
            Err(Error::new(format!(
                "terrestrial less universal time must be within 20000 s, and {delta_t_s} was given"
            )))
        }
    }

    /// The moment so many seconds later. **Errors** as [`Moment::of_seconds_since_1970`].
    pub fn later_by(self, seconds: f64) -> Result<Self, Error> {
        Ok(Self { delta_t_s: self.delta_t_s, ..Self::of_seconds_since_1970(self.seconds + seconds)? })
    }

    /// Seconds since 1970-01-01, 0 h UTC.
    pub const fn seconds_since_1970(self) -> f64 {
        self.seconds
    }

    /// The day that it falls on, in universal time.
    pub fn day(self) -> Day {
        // The range of years keeps it far from the ends of the type.
        Day::of_days_since_1970((self.seconds / DAY_S).floor() as i64)
    }

    /// Julian day, in days of universal time.
    pub fn julian_day(self) -> f64 {
        self.seconds / DAY_S + JULIAN_DAY_1970
    }

    /// From a Julian day. **Errors** as [`Moment::of_seconds_since_1970`].
    pub(super) fn of_julian_day(julian_day: f64) -> Result<Self, Error> {
        Self::of_seconds_since_1970((julian_day - JULIAN_DAY_1970) * DAY_S)
    }

    /// Terrestrial less universal time \[s\].
    pub(super) const fn delta_t_s(self) -> f64 {
        self.delta_t_s
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn days_fall_where_the_calendar_has_them() {
        for (year, month, day, of_year) in
            [(2024, 2, 29, 60), (2023, 12, 31, 365), (2000, 12, 31, 366), (1900, 3, 1, 60), (2400, 3, 1, 61)]
        {
            let moment = Moment::new(year, month, day, 12, 0, 0.0).expect("a moment");
            assert_eq!(moment.day(), Day { year, month, day });
            assert_eq!(moment.day().of_year(), of_year);
        }
        // The epoch of the star catalogues: 2000-01-01, noon.
        assert_eq!(Moment::new(2000, 1, 1, 12, 0, 0.0).expect("a moment").julian_day(), 2_451_545.0);
    }

    #[test]
    fn what_is_no_moment_is_refused_with_what_was_given() {
        for (year, month, day) in
            [(2023, 2, 29), (2024, 13, 1), (2024, 4, 31), (2024, 0, 1), (9999, 1, 1), (i64::MIN, 1, 1)]
        {
            let refused = Moment::new(year, month, day, 0, 0, 0.0).expect_err("refused").to_string();
            assert!(refused.contains("calendar"), "{refused}");
        }
        assert!(Moment::new(2024, 1, 1, 24, 0, 0.0).is_err() && Moment::new(2024, 1, 1, 0, 60, 0.0).is_err());
        for second in [61.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(Moment::new(2024, 1, 1, 0, 0, second).is_err(), "{second}");
            assert!(Moment::of_seconds_since_1970(second * 1e12).is_err(), "{second}");
        }
        let leap = Moment::new(2016, 12, 31, 23, 59, 60.0).expect("a leap second");
        assert_eq!(leap, Moment::new(2017, 1, 1, 0, 0, 0.0).expect("a moment"));
        assert!(leap.with_delta_t(f64::NAN).is_err());
    }

    proptest! {
        #[test]
        fn every_day_leads_back(days in -135_140..376_200_i64) {
            let day = Day::of_days_since_1970(days);
            prop_assert_eq!(day.days_since_1970(), days);
            let next = Day::of_days_since_1970(days + 1);
            prop_assert!(next.of_year() == day.of_year() + 1 || (next.of_year() == 1 && day.of_year() >= 365));
        }
    }
}
