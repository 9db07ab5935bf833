//! Marks on dials and rings, and the exact values they stand for.
//!
//! A mark is text as engraved: `5.6`, `1/125`, `400`. `5.6+1/3` is the place a third of the way from that mark to the next on
//! its dial (less light, shorter time, higher film speed), by the logarithm. Errors are taken against the exact value; the
//! mark is what is shown.
//!
//! Exact: a mark of a geometric series stands for its place in it (f/5.6 is 2^(5/2), 1/125 s is 1/128 s, ISO 125 is
//! 100·2^(1/3)); a mark of the old series of times that the modern one does not share (1/25, 1/50, 1/100 …), and any other
//! number, stands for what it says. A mark that both series have (1/250, 1/500, 1/1000) takes its modern place on every dial,
//! 0.03 stop from the number engraved. The marking series are those of ISO 517 (f-numbers) and ISO 516 (times), from memory.
//!
//! Not here: equations ([`crate::exposure`]).

mod series;
mod text;

pub use series::{
    F_NUMBER_MARKS, FILM_SPEED_MARKS, Scale, TIME_MARKS_MODERN, TIME_MARKS_MODERN_MORE, TIME_MARKS_OLD,
    TIME_MARKS_OLD_MORE, TimeSeries,
};

use std::sync::Arc;

use crate::error::Error;
use crate::quantity::{ExposureTime, FNumber, FilmSpeed};
use text::Parsed;

macro_rules! mark {
    ($(#[$doc:meta])* $name:ident, $quantity:ident, $dial:expr, $label:expr) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq)]
        pub struct $name {
            // Shared, since every row and cell of a mark has it.
            text: Arc<str>,
            exact: $quantity,
        }

        impl $name {
            /// Reads a mark; `neighbours` are the marks of its dial in dial order, needed for places between marks. Where
            /// there are none, or the mark is not among them, the usual series counts.
            ///
            /// **Errors** where the text is no such mark, naming what was given.
            pub fn parse(text: &str, neighbours: &[&str]) -> Result<Self, Error> {
                let parsed = Parsed::of(text, $dial)?;
                let exact = $quantity::new(parsed.exact($dial, neighbours)).map_err(|error| parsed.refused(&error))?;
                Ok(Self { text: parsed.text().into(), exact })
            }

            /// As kept: `5.6+1/3`.
            pub fn text(&self) -> &str {
                &self.text
            }

            /// The exact value it stands for.
            pub const fn exact(&self) -> $quantity {
                self.exact
            }

            /// As shown, fractions as the trade writes them.
            pub fn label(&self) -> String {
                let label: fn(&str) -> String = $label;
                match self.text.split_once('+') {
                    None => label(&self.text),
                    Some((mark, fraction)) => format!("{} + {}", label(mark), text::vulgar(fraction)),
                }
            }
        }
    };
}

mark!(
    /// A mark of an aperture ring, shown as `f/5.6`.
    FNumberMark, FNumber, Scale::FNumber, |mark| format!("f/{mark}")
);
mark!(
    /// A mark of a shutter dial, shown as `1/125` or `2 s`.
    TimeMark, ExposureTime, Scale::Time, |mark| if mark.contains('/') { mark.to_owned() } else { format!("{mark} s") }
);
mark!(
    /// A mark of a film-speed dial, shown as `ISO 400`.
    FilmSpeedMark, FilmSpeed, Scale::FilmSpeed, |mark| format!("ISO {mark}")
);

/// Places of a dial in dial order, each mark followed by its between-mark places: `parts` 2 for halves, 3 for thirds, any
/// other number for none. The last mark has none after it.
pub fn places(marks: &[&str], parts: u8) -> Vec<String> {
    let fractions: &[&str] = match parts {
        2 => &["1/2"],
        3 => &["1/3", "2/3"],
        _ => &[],
    };
    let mut places = Vec::new();
    for (i, mark) in marks.iter().enumerate() {
        places.push((*mark).to_owned());
        if i + 1 < marks.len() {
            places.extend(fractions.iter().map(|fraction| format!("{mark}+{fraction}")));
        }
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn f(text: &str) -> f64 {
        FNumberMark::parse(text, &[]).expect(text).exact().value()
    }

    fn t(text: &str) -> f64 {
        TimeMark::parse(text, &[]).expect(text).exact().value()
    }

    fn s(text: &str) -> f64 {
        FilmSpeedMark::parse(text, &[]).expect(text).exact().value()
    }

    #[test]
    fn a_mark_stands_for_its_place_in_the_series() {
        assert!((f("5.6") - libm::exp2(2.5)).abs() < 1e-12);
        assert!((f("1.8") - libm::exp2(5.0 / 6.0)).abs() < 1e-12);
        assert_eq!(t("1/125"), 1.0 / 128.0);
        assert_eq!(t("30"), 32.0);
        assert!((s("125") - 125.992_104_989).abs() < 1e-6);
        assert_eq!(s("6"), 6.25);
    }

    #[test]
    fn any_other_number_stands_for_what_it_says() {
        assert_eq!(t("1/25"), 1.0 / 25.0);
        assert_eq!(t("1/300"), 1.0 / 300.0);
        assert_eq!(f("1.9"), 1.9);
        assert_eq!(s("75"), 75.0);
    }

    #[test]
    fn between_marks_goes_by_the_logarithm_to_the_next_mark_of_the_dial() {
        assert!((f("5.6+1/3") - libm::exp2(2.5 + 1.0 / 6.0)).abs() < 1e-12);
        assert!((t("1/60+1/2") - libm::exp2(-6.5)).abs() < 1e-15);
        let old = TimeMark::parse("1/100+1/2", &["1/50", "1/100", "1/200"]).expect("a mark");
        assert!((old.exact().value() - 1.0 / f64::sqrt(100.0 * 200.0)).abs() < 1e-15);
        assert!((s("400+1/2") / s("400") - libm::exp2(1.0 / 6.0)).abs() < 1e-12, "film-speed dials go in thirds");
    }

    #[test]
    fn the_trades_ways_of_writing_are_read() {
        assert_eq!(FNumberMark::parse(" f/5,6 ", &[]).expect("a mark").text(), "5.6");
        assert_eq!(TimeMark::parse("2 s", &[]).expect("a mark").label(), "2 s");
        assert_eq!(FilmSpeedMark::parse("ISO 400", &[]).expect("a mark").text(), "400");
        assert_eq!(FNumberMark::parse("5.6 + 1/3", &[]).expect("a mark").label(), "f/5.6 + ⅓");
    }

    #[test]
    fn what_is_no_mark_is_refused_and_named() {
        for bad in ["1/0", "", "abc", "1/125/3", "NaN", "inf", "-2", "1e9", "1/125+5", "+1/3", "1/-4", "0"] {
            let error = TimeMark::parse(bad, &[]).expect_err(bad).to_string();
            assert!(error.starts_with("the time"), "{error}");
        }
        assert!(FNumberMark::parse("-2", &[]).expect_err("refused").to_string().contains("-2"));
        assert!(FilmSpeedMark::parse("0", &[]).is_err());
        let long = FNumberMark::parse(&"9".repeat(200), &[]).expect_err("refused").to_string();
        assert!(long.len() < 160, "{long}");
    }

    #[test]
    fn a_dial_shows_its_series_by_its_marks() {
        for series in [TimeSeries::Modern, TimeSeries::Old] {
            assert_eq!(TimeSeries::of(series.marks()), series);
        }
        assert_eq!(TimeSeries::of(&[]), TimeSeries::Modern);
        assert!(Scale::Time.marks().windows(2).all(|pair| t(pair[0]) > t(pair[1])));
    }

    #[test]
    fn places_lie_between_the_marks_in_dial_order() {
        assert_eq!(places(&["4", "5.6", "8"], 3), ["4", "4+1/3", "4+2/3", "5.6", "5.6+1/3", "5.6+2/3", "8"]);
        assert_eq!(places(&["4", "5.6"], 1), ["4", "5.6"]);
        for marks in [F_NUMBER_MARKS, FILM_SPEED_MARKS] {
            let values: Vec<f64> = places(marks, 2)
                .iter()
                .map(|place| if marks == F_NUMBER_MARKS { f(place) } else { s(place) })
                .collect();
            assert!(values.windows(2).all(|pair| pair[0] < pair[1]));
        }
    }

    proptest! {
        #[test]
        fn a_mark_leads_back_to_itself(i in 0..F_NUMBER_MARKS.len(), j in 0..TIME_MARKS_MODERN.len(), fraction in 0..3_usize) {
            let tail = ["", "+1/3", "+1/2"][fraction];
            let text = format!("{}{tail}", F_NUMBER_MARKS[i]);
            let mark = FNumberMark::parse(&text, F_NUMBER_MARKS).unwrap();
            prop_assert_eq!(mark.text(), text.as_str());
            let text = format!("{}{tail}", TIME_MARKS_MODERN[j]);
            let mark = TimeMark::parse(&text, TIME_MARKS_MODERN).unwrap();
            prop_assert_eq!(mark.text(), text.as_str());
        }

        #[test]
        fn no_text_makes_a_panic(text in ".{0,40}", neighbour in ".{0,8}") {
            let _ = FNumberMark::parse(&text, &[&neighbour]);
            let _ = TimeMark::parse(&text, &[&neighbour]);
            let _ = FilmSpeedMark::parse(&text, &[&neighbour]);
        }
    }
}
