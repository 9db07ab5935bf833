//! Times as text: RFC 3339 in UTC, `2026-03-01T09:30:00Z`, with or without a fraction of a second.
//!
//! Not here: any clock; the calendar itself ([`photometry::Moment`]).

use photometry::Moment;

use crate::error::Error;

/// The pieces of a time that is written as it must be, whether or not the calendar has such a day.
struct Written {
    date: [u32; 3],
    time: [u32; 2],
    second: f64,
}

fn refused(text: &str) -> Error {
    let shown: String = text.chars().take(40).collect();
    Error::new(format!("the time must be RFC 3339 in UTC, and \"{shown}\" was given"))
}

fn written(text: &str) -> Option<Written> {
    let bytes = text.as_bytes();
    let number = |from: usize, to: usize| -> Option<u32> {
        let digits = bytes.get(from..to)?;
        digits.iter().try_fold(0, |sum, digit| digit.is_ascii_digit().then(|| sum * 10 + u32::from(digit - b'0')))
    };
    let within =
        |from: usize, to: usize, least: u32, most: u32| number(from, to).filter(|value| (least..=most).contains(value));
    let signs = [(4, b'-'), (7, b'-'), (10, b'T'), (13, b':'), (16, b':')];
    if !(20..=32).contains(&bytes.len()) || signs.iter().any(|(i, sign)| bytes.get(*i) != Some(sign)) {
        return None;
    }
    let fraction = match bytes.get(19..)? {
        [b'Z'] => 0.0,
        [b'.', digits @ .., b'Z'] if !digits.is_empty() && digits.iter().all(u8::is_ascii_digit) => {
            digits.iter().rev().fold(0.0, |sum, digit| (sum + f64::from(digit - b'0')) / 10.0)
        }
        _ => return None,
    };
    Some(Written {
        date: [number(0, 4)?, within(5, 7, 1, 12)?, within(8, 10, 1, 31)?],
        time: [within(11, 13, 0, 23)?, within(14, 16, 0, 59)?],
        second: f64::from(within(17, 19, 0, 60)?) + fraction,
    })
}

/// A time is taken where it is RFC 3339 in UTC.
pub(crate) fn check(text: &str) -> Result<(), Error> {
    written(text).map(drop).ok_or_else(|| refused(text))
}

/// The moment that a text names. **Errors** where it is not RFC 3339 in UTC, and where the calendar has no such day.
pub fn moment(text: &str) -> Result<Moment, Error> {
    let Written { date: [year, month, day], time: [hour, minute], second } =
        written(text).ok_or_else(|| refused(text))?;
    Ok(Moment::new(i64::from(year), month, day, hour, minute, second)?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_text_names_its_moment() {
        assert_eq!(moment("1970-01-02T00:00:01Z").expect("a moment").seconds_since_1970(), 86_401.0);
        let half = moment("2026-03-01T09:30:00.250Z").expect("a moment").seconds_since_1970();
        assert_eq!(half, 1_772_357_400.25);
    }

    #[test]
    fn what_is_no_time_is_refused_and_shown() {
        for bad in [
            "",
            "now",
            "2026-03-01",
            "2026-03-01T09:30:00",
            "2026-03-01T09:30:00+01:00",
            "2026-03-01t09:30:00Z",
            "2026-03-01T25:30:00Z",
            "2026-03-01T09:60:00Z",
            "2026-03-01T09:30:61Z",
            "2026-00-01T09:30:00Z",
            "ääääääääääääääääääää",
        ] {
            let refused = moment(bad).expect_err("refused").to_string();
            assert!(refused.contains("RFC 3339") && refused.contains(bad) && check(bad).is_err(), "{refused}");
        }
        let refused = moment("2026-02-29T09:30:00Z").expect_err("refused").to_string();
        assert!(refused.contains("2026-02-29") && refused.contains("calendar"), "{refused}");
        assert!(moment("0001-01-01T00:00:00Z").is_err());
    }
}
