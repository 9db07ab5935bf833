//! The series that dials are marked in, each once.
//!
//! Not here: how a mark is read ([`super::text`]).

/// Which dial or ring a mark belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// The aperture ring.
    FNumber,
    /// The shutter dial.
    Time,
    /// The film-speed dial.
    FilmSpeed,
}

/// The two series that shutter dials are marked in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TimeSeries {
    /// 1, 1/2, 1/4 … 1/1000: each half the one before.
    Modern,
    /// 1, 1/2, 1/5, 1/10 … 1/500: steps of one stop or of 1.32.
    Old,
}

impl TimeSeries {
    /// Its usual marks, slow to fast.
    pub const fn marks(self) -> &'static [&'static str] {
        match self {
            TimeSeries::Modern => TIME_MARKS_MODERN,
            TimeSeries::Old => TIME_MARKS_OLD,
        }
    }

    /// The series of a dial: old where it carries a mark that only the old series has.
    pub fn of(marks: &[&str]) -> Self {
        let old = |mark: &&str| TIME_MARKS_OLD_MORE.contains(mark) && !TIME_MARKS_MODERN_MORE.contains(mark);
        if marks.iter().any(old) { TimeSeries::Old } else { TimeSeries::Modern }
    }
}

impl Scale {
    /// Its usual marks, in the order of less exposure or higher speed.
    pub const fn marks(self) -> &'static [&'static str] {
        match self {
            Scale::FNumber => F_NUMBER_MARKS,
            Scale::Time => TIME_MARKS_MODERN,
            Scale::FilmSpeed => FILM_SPEED_MARKS,
        }
    }
}

/// Whole stops of the aperture ring.
pub const F_NUMBER_MARKS: &[&str] = &["1", "1.4", "2", "2.8", "4", "5.6", "8", "11", "16", "22", "32", "45", "64"];

/// The usual modern series of times, slow to fast.
pub const TIME_MARKS_MODERN: &[&str] =
    &["1", "1/2", "1/4", "1/8", "1/15", "1/30", "1/60", "1/125", "1/250", "1/500", "1/1000"];

/// Every modern mark that a dial may carry.
pub const TIME_MARKS_MODERN_MORE: &[&str] = &[
    "30", "15", "8", "4", "2", "1", "1/2", "1/4", "1/8", "1/15", "1/30", "1/60", "1/125", "1/250", "1/500", "1/1000",
    "1/2000", "1/4000", "1/8000",
];

/// The usual old series of times, slow to fast (common practice).
pub const TIME_MARKS_OLD: &[&str] = &["1", "1/2", "1/5", "1/10", "1/25", "1/50", "1/100", "1/250", "1/500"];

/// Every old mark that a dial may carry (common practice).
pub const TIME_MARKS_OLD_MORE: &[&str] = &[
    "1", "1/2", "1/5", "1/10", "1/20", "1/25", "1/50", "1/75", "1/100", "1/150", "1/175", "1/200", "1/250", "1/300",
    "1/400", "1/500", "1/1000",
];

/// Third-stop marks of the film-speed dial.
pub const FILM_SPEED_MARKS: &[&str] = &[
    "6", "8", "10", "12", "16", "20", "25", "32", "40", "50", "64", "80", "100", "125", "160", "200", "250", "320",
    "400", "500", "640", "800", "1000", "1250", "1600", "2000", "2500", "3200", "4000", "5000", "6400",
];

/// Half- and third-stop f-numbers as engraved on lenses, each with its place in sixths of a stop from f/1. Where the two
/// series share a number (1.2, 13) it is taken as a third.
const F_NUMBERS_BETWEEN: &[(&str, i32)] = &[
    ("1.1", 2),
    ("1.2", 4),
    ("1.6", 8),
    ("1.7", 9),
    ("1.8", 10),
    ("2.2", 14),
    ("2.4", 15),
    ("2.5", 16),
    ("3.2", 20),
    ("3.3", 21),
    ("3.5", 22),
    ("4.5", 26),
    ("4.8", 27),
    ("5", 28),
    ("6.3", 32),
    ("6.7", 33),
    ("7.1", 34),
    ("9", 38),
    ("9.5", 39),
    ("10", 40),
    ("13", 44),
    ("14", 46),
    ("18", 50),
    ("19", 51),
    ("20", 52),
    ("25", 56),
    ("27", 57),
    ("29", 58),
    ("36", 62),
    ("40", 64),
];

/// The exact value of a mark that stands for its place in a geometric series; `None` where it stands for what it says.
pub(super) fn geometric(mark: &str, dial: Scale) -> Option<f64> {
    let at = |marks: &[&str]| marks.iter().position(|known| *known == mark).map(|i| i as f64);
    match dial {
        Scale::FNumber => at(F_NUMBER_MARKS).map(|i| libm::exp2(i / 2.0)).or_else(|| {
            let place = F_NUMBERS_BETWEEN.iter().find(|(known, _)| *known == mark)?.1;
            // An f-number goes with the square root of the light.
            Some(libm::exp2(f64::from(place) / 12.0))
        }),
        // The list begins at 30 s, which stands for 2⁵ s.
        Scale::Time => at(TIME_MARKS_MODERN_MORE).map(|i| libm::exp2(5.0 - i)),
        // The list begins at 6, which stands for 6.25, twelve thirds below 100.
        Scale::FilmSpeed => at(FILM_SPEED_MARKS).map(|i| 100.0 * libm::exp2((i - 12.0) / 3.0)),
    }
}

/// By what factor the exact value changes from a mark to the next one of the usual series.
pub(super) fn usual_step(dial: Scale) -> f64 {
    match dial {
        Scale::FNumber => core::f64::consts::SQRT_2,
        Scale::Time => 0.5,
        Scale::FilmSpeed => libm::exp2(1.0 / 3.0),
    }
}
