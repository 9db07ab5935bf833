//! How numbers are said at the bench: stops over and under, EV, fractions, with the figures that their doubt carries.
//!
//! Not here: the rules of rounding themselves ([`metrology::rounded`]) and sentences about findings.

use metrology::{Estimate, to_decimals};
use photometry::TimeMark;

/// A number with so many decimals, never `-0.0`.
pub(crate) fn plain(value: f64, decimals: usize) -> String {
    to_decimals(value, decimals)
}

/// `0.4 stop over`, `0.4 stop under` or `no error` for a film error [stops]; on screen it is never a bare sign.
pub fn film_error(stops: f64) -> String {
    let size = plain(stops.abs(), 1);
    match size.as_str() {
        "0.0" => "no error".to_owned(),
        _ => format!("{size} {} {}", unit(stops), side(stops)),
    }
}

/// `0.4 over`, the short form beside a bar.
pub fn film_error_short(stops: f64) -> String {
    let size = plain(stops.abs(), 1);
    if size == "0.0" { "none".to_owned() } else { format!("{size} {}", side(stops)) }
}

/// The short form with as many decimals as its doubt carries: `0.12 over` beside ±0.03, `0.4 over` beside ±0.2.
pub fn film_error_known(stops: f64, expanded: f64) -> String {
    if expanded >= 0.095 {
        return film_error_short(stops);
    }
    let size = plain(stops.abs(), 2);
    if size == "0.00" { "none".to_owned() } else { format!("{size} {}", side(stops)) }
}

/// An error in the short form with its doubt: `0.12 over ±0.03`.
pub(crate) fn film_error_with_doubt(error: Estimate) -> String {
    let expanded = error.expanded_95();
    format!("{} ±{}", film_error_known(error.value(), expanded), doubt(expanded))
}

fn side(stops: f64) -> &'static str {
    if stops > 0.0 { "over" } else { "under" }
}

/// `stop` up to one, `stops` above.
pub(crate) fn unit(stops: f64) -> &'static str {
    if stops.abs() > 1.0 + 1e-9 { "stops" } else { "stop" }
}

/// A doubt with one decimal, two where one would say nothing: `0.2`, `0.04`.
pub fn doubt(expanded: f64) -> String {
    if expanded < 0.095 { plain(expanded, 2) } else { plain(expanded, 1) }
}

/// `EV 6.0`.
pub fn ev(ev100: f64) -> String {
    format!("EV {}", plain(ev100, 1))
}

/// `1/3`, `1/2`, `1` or a decimal.
pub fn fraction(stops: f64) -> String {
    let known =
        [(1.0 / 6.0, "1/6"), (0.25, "1/4"), (1.0 / 3.0, "1/3"), (0.5, "1/2"), (2.0 / 3.0, "2/3"), (0.75, "3/4")];
    match known.iter().find(|(value, _)| (value - stops).abs() < 5e-3) {
        Some((_, text)) => (*text).to_owned(),
        None if (stops - libm::round(stops)).abs() < 1e-9 => plain(stops, 0),
        None => plain(stops, 2),
    }
}

/// A probability in whole per cent, never a certainty: `under 1 %`, `97 %`, `over 99 %`.
pub fn per_cent(probability: f64) -> String {
    let rounded = plain(probability * 100.0, 0);
    match rounded.as_str() {
        "0" => "under 1 %".to_owned(),
        "100" => "over 99 %".to_owned(),
        _ => format!("{rounded} %"),
    }
}

/// Where something stands in a take: `12.4 s`, `2 min 05 s`.
pub fn moment(seconds: f64) -> String {
    if seconds < 60.0 {
        return format!("{} s", plain(seconds.max(0.0), 1));
    }
    let whole = libm::floor(seconds);
    let minutes = libm::floor(whole / 60.0);
    format!("{} min {:0>2} s", plain(minutes, 0), plain(whole - 60.0 * minutes, 0))
}

/// A marked time as it is called out: `one 500th`, `half a second`, `2 seconds`.
pub fn spoken_time(mark: &TimeMark) -> String {
    let text = mark.text();
    match text.strip_prefix("1/") {
        Some("2") => "half a second".to_owned(),
        Some("4") => "a quarter of a second".to_owned(),
        Some(under) => format!("one {under}{}", ordinal(under)),
        None if text == "1" => "one second".to_owned(),
        None => format!("{text} seconds"),
    }
}

fn ordinal(number: &str) -> &'static str {
    let teen = ["11", "12", "13"].iter().any(|teen| number.ends_with(teen));
    match number.as_bytes().last() {
        Some(b'1') if !teen => "st",
        Some(b'2') if !teen => "nd",
        Some(b'3') if !teen => "rd",
        _ => "th",
    }
}

/// Frames per second with the figures that matter: `240`, `29.97`.
pub fn frame_rate(hz: f64) -> String {
    let near_whole = (hz - libm::round(hz)).abs() < 0.005;
    plain(hz, if near_whole { 0 } else { 2 })
}

/// `one reading`, `3 readings`.
pub fn count(n: usize, one: &str, many: &str) -> String {
    const SMALL: [&str; 10] = ["no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];
    let number = SMALL.get(n).map_or_else(|| n.to_string(), |word| (*word).to_owned());
    format!("{number} {}", if n == 1 { one } else { many })
}

fn first_and(first: impl Iterator<Item = char>, rest: &str) -> String {
    let mut text = String::with_capacity(rest.len() + 4);
    text.extend(first);
    text.push_str(rest);
    text
}

/// The same text with its first letter large.
pub fn sentence_case(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first_and(first.to_uppercase(), letters.as_str()),
        None => String::new(),
    }
}

/// The same text with its first letter small.
pub(crate) fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first_and(first.to_lowercase(), letters.as_str()),
        None => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_error_always_says_its_word() {
        assert_eq!(film_error(0.42), "0.4 stop over");
        assert_eq!(film_error(-1.26), "1.3 stops under");
        assert_eq!(film_error(-0.04), "no error");
        assert_eq!(film_error_short(-0.7), "0.7 under");
    }

    #[test]
    fn a_probability_is_never_a_certainty() {
        assert_eq!(per_cent(0.0), "under 1 %");
        assert_eq!(per_cent(1.0), "over 99 %");
        assert_eq!(per_cent(0.634), "63 %");
    }

    #[test]
    fn fractions_are_said_as_the_trade_does() {
        assert_eq!(fraction(1.0 / 3.0), "1/3");
        assert_eq!(fraction(1.0), "1");
        assert_eq!(fraction(0.4), "0.40");
    }

    #[test]
    fn marked_times_are_called_out() {
        let said = |text: &str| spoken_time(&TimeMark::parse(text, &[]).expect("a mark"));
        assert_eq!(said("1/500"), "one 500th");
        assert_eq!(said("1/2"), "half a second");
        assert_eq!(said("2"), "2 seconds");
        assert_eq!((ordinal("112"), ordinal("22"), ordinal("1")), ("th", "nd", "st"));
    }

    #[test]
    fn moments_read_as_on_a_clock() {
        assert_eq!(moment(12.44), "12.4 s");
        assert_eq!(moment(125.7), "2 min 05 s");
    }

    #[test]
    fn counts_read_as_words() {
        assert_eq!(count(1, "reading", "readings"), "one reading");
        assert_eq!(count(12, "reading", "readings"), "12 readings");
    }
}
