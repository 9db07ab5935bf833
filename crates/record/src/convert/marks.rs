//! Marks of dials read from a file's texts; those of the usual series, which most are, were read once and are copied.
//!
//! Not here: what a mark is and how it is read (`photometry`).

use std::sync::LazyLock;

use photometry::{
    Error, F_NUMBER_MARKS, FILM_SPEED_MARKS, FNumberMark, FilmSpeedMark, TIME_MARKS_MODERN_MORE, TIME_MARKS_OLD_MORE,
    TimeMark,
};

/// Marks by their text, sorted. None of them lies between two others, so that no dial's neighbours matter to it.
type Usual<M> = LazyLock<Vec<(&'static str, M)>>;

static TIMES: Usual<TimeMark> =
    LazyLock::new(|| usual(&[TIME_MARKS_MODERN_MORE, TIME_MARKS_OLD_MORE], |text| TimeMark::parse(text, &[])));
static F_NUMBERS: Usual<FNumberMark> = LazyLock::new(|| usual(&[F_NUMBER_MARKS], |text| FNumberMark::parse(text, &[])));
static FILM_SPEEDS: Usual<FilmSpeedMark> =
    LazyLock::new(|| usual(&[FILM_SPEED_MARKS], |text| FilmSpeedMark::parse(text, &[])));

fn usual<M>(
    series: &[&'static [&'static str]],
    read: impl Fn(&'static str) -> Result<M, Error>,
) -> Vec<(&'static str, M)> {
    let mut texts: Vec<&'static str> = series.iter().copied().flatten().copied().collect();
    texts.sort_unstable();
    texts.dedup();
    texts.into_iter().filter_map(|text| Some((text, read(text).ok()?))).collect()
}

fn known<M: Clone>(marks: &[(&'static str, M)], text: &str) -> Option<M> {
    let at = marks.binary_search_by_key(&text, |(known, _)| known).ok()?;
    marks.get(at).map(|(_, mark)| mark.clone())
}

/// [`TimeMark::parse`].
pub(super) fn time(text: &str, dial: &[&str]) -> Result<TimeMark, Error> {
    known(&TIMES, text).map_or_else(|| TimeMark::parse(text, dial), Ok)
}

/// [`FNumberMark::parse`].
pub(super) fn f_number(text: &str, dial: &[&str]) -> Result<FNumberMark, Error> {
    known(&F_NUMBERS, text).map_or_else(|| FNumberMark::parse(text, dial), Ok)
}

/// [`FilmSpeedMark::parse`].
pub(super) fn film_speed(text: &str) -> Result<FilmSpeedMark, Error> {
    known(&FILM_SPEEDS, text).map_or_else(|| FilmSpeedMark::parse(text, &[]), Ok)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mark_that_was_read_before_is_the_one_that_is_read() {
        for text in TIME_MARKS_MODERN_MORE.iter().chain(TIME_MARKS_OLD_MORE) {
            let dial = ["1", text, "1/3000"];
            assert!(known(&TIMES, text).is_some());
            assert_eq!(time(text, &dial), TimeMark::parse(text, &dial));
        }
        for text in F_NUMBER_MARKS {
            assert_eq!(f_number(text, &["1", text]), FNumberMark::parse(text, &["1", text]));
        }
        for text in FILM_SPEED_MARKS {
            assert_eq!(film_speed(text), FilmSpeedMark::parse(text, &[]));
        }
        for other in ["1/125+1/3", " 1/125", "1/77", "none"] {
            assert_eq!(time(other, &["1/125", "1/300"]), TimeMark::parse(other, &["1/125", "1/300"]));
        }
    }
}
