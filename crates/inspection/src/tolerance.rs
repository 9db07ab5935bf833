//! How far something marked may be off: common practice, to be chosen. No standard gives limits that could be read here.
//!
//! Not here: whether a measurement keeps them ([`crate::shutter`], [`crate::aperture`], [`crate::meter`]).

use metrology::Tolerance;
use photometry::{Stops, TimeMark};

use crate::error::Error;
use crate::words;

/// Marked times below this count as fast \[s\]: the exact value of 1/250, with room for the old series.
const FAST_BELOW_S: f64 = 1.0 / 270.0;
/// Widest tolerance of one's own \[stops\].
pub const WIDEST_STOPS: f64 = 10.0;

/// Key of a tolerance of one's own.
pub const OWN: &str = "own";

/// One choice.
#[derive(Clone, Debug, PartialEq)]
pub struct Kind {
    /// Key in a file.
    pub key: &'static str,
    /// As said.
    pub words: &'static str,
    /// What it is for and where it comes from.
    pub help: &'static str,
    /// Half-width \[stops\].
    stops: f64,
    /// Half-width for fast times \[stops\].
    fast_stops: f64,
}

impl Kind {
    const fn even(key: &'static str, words: &'static str, help: &'static str, stops: f64) -> Self {
        Self { key, words, help, stops, fast_stops: stops }
    }

    const fn timed(key: &'static str, words: &'static str, help: &'static str, stops: f64, fast_stops: f64) -> Self {
        Self { key, words, help, stops, fast_stops }
    }
}

/// What there is to choose from.
#[derive(Debug)]
pub struct Choices {
    /// What they are for: `marked times`.
    of: &'static str,
    /// What an own limit holds for: `every time`.
    every: &'static str,
    /// The choices; the first is the usual one.
    pub kinds: [Kind; 3],
}

/// For marked times.
pub static OF_TIMES: Choices = Choices {
    of: "marked times",
    every: "every time",
    kinds: [
        Kind::timed(
            "mechanical",
            "±1/3 stop to 1/250, ±1/2 beyond",
            "mechanical shutters (common practice)",
            1.0 / 3.0,
            0.5,
        ),
        Kind::timed(
            "electronic",
            "±1/6 stop to 1/250, ±1/3 beyond",
            "electronically timed shutters (common practice)",
            1.0 / 6.0,
            1.0 / 3.0,
        ),
        Kind::even(
            "reversal",
            "±1/3 stop at every time",
            "for reversal film, whatever the shutter (common practice)",
            1.0 / 3.0,
        ),
    ],
};

/// For marked f-numbers.
pub static OF_F_NUMBERS: Choices = Choices {
    of: "marked f-numbers",
    every: "every f-number",
    kinds: [
        Kind::even("usual", "±1/3 stop", "in general (common practice)", 1.0 / 3.0),
        Kind::even("reversal", "±1/6 stop", "for reversal film and close work (common practice)", 1.0 / 6.0),
        Kind::even("negative", "±1/2 stop", "for negative film only (common practice)", 0.5),
    ],
};

/// For meters, which keep the half-width itself \[stops\], with what each is for.
pub const OF_METERS: [(f64, &str); 3] = [
    (1.0 / 3.0, "for reversal film (common practice)"),
    (0.5, "in general (common practice)"),
    (1.0, "for negative film only (common practice)"),
];

impl Choices {
    /// The usual one.
    pub fn usual(&'static self) -> Chosen {
        Chosen::Kind(&self.kinds[0])
    }

    /// By key; the usual one where the key is empty, and where an own one was chosen and not entered yet: what is waited for
    /// refuses nothing before it is needed. **Errors** for an unknown key or an own tolerance that is not above 0.
    pub fn chosen(&'static self, key: &str, own: Option<f64>) -> Result<Chosen, Error> {
        match (key, own) {
            ("", _) | (OWN, None) => Ok(self.usual()),
            (OWN, Some(stops)) if stops > 0.0 && stops <= WIDEST_STOPS => {
                Ok(Chosen::Own { stops: Stops::new(stops)?, every: self.every })
            }
            (OWN, Some(stops)) => Err(Error::new(format!(
                "the tolerance of {} must be above 0 and at most {WIDEST_STOPS} stops, and {stops} was given",
                self.of
            ))),
            _ => self.kinds.iter().find(|kind| kind.key == key).map(Chosen::Kind).ok_or_else(|| {
                let shown: String = key.chars().take(40).collect();
                let keys = self.kinds.each_ref().map(|kind| kind.key).join(", ");
                Error::new(format!(
                    "the tolerance of {} must be one of {keys}, {OWN}, and \"{shown}\" was given",
                    self.of
                ))
            }),
        }
    }

    /// What an own one is, for a list to choose from: its key, its words, what it holds for.
    pub fn own(&self) -> (&'static str, &'static str, String) {
        (OWN, "Your own", format!("one limit for {}", self.every))
    }
}

/// The tolerance that was chosen.
#[derive(Clone, Debug, PartialEq)]
pub enum Chosen {
    /// One of the [`Choices`].
    Kind(&'static Kind),
    /// One's own.
    Own {
        /// Half-width \[stops\].
        stops: Stops,
        /// What it holds for.
        every: &'static str,
    },
}

impl Chosen {
    /// Half-width \[stops\]; of times, for slow ones.
    pub fn stops(&self) -> f64 {
        match self {
            Chosen::Own { stops, .. } => stops.value(),
            Chosen::Kind(kind) => kind.stops,
        }
    }

    /// Half-width for a marked time \[stops\].
    pub fn stops_at(&self, mark: &TimeMark) -> f64 {
        match self {
            Chosen::Kind(kind) if mark.exact().value() < FAST_BELOW_S => kind.fast_stops,
            _ => self.stops(),
        }
    }

    /// The interval \[stops\].
    pub(crate) fn interval(&self) -> Result<Tolerance, Error> {
        Ok(Tolerance::symmetric(self.stops())?)
    }

    /// The interval for a marked time \[stops\].
    pub(crate) fn interval_at(&self, mark: &TimeMark) -> Result<Tolerance, Error> {
        Ok(Tolerance::symmetric(self.stops_at(mark))?)
    }

    /// As said, with where it comes from: `±1/3 stop: in general (common practice)`.
    pub fn words(&self) -> String {
        match self {
            Chosen::Kind(kind) => format!("{}: {}", kind.words, kind.help),
            Chosen::Own { stops, every } => format!("±{} stop at {every}: your own", words::fraction(stops.value())),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fast_times_are_allowed_more() {
        let mark = |text| TimeMark::parse(text, &[]).expect("a mark");
        let usual = OF_TIMES.usual();
        assert_eq!(usual.stops_at(&mark("1/250")), 1.0 / 3.0);
        assert_eq!(usual.stops_at(&mark("1/300")), 0.5);
        assert_eq!(usual.stops_at(&mark("1/500")), 0.5);
        assert_eq!(OF_TIMES.chosen("electronic", None).expect("known").stops_at(&mark("1")), 1.0 / 6.0);
        assert_eq!(OF_TIMES.chosen(OWN, Some(0.25)).expect("own").stops_at(&mark("1/1000")), 0.25);
    }

    #[test]
    fn what_is_no_tolerance_is_refused() {
        for choices in [&OF_TIMES, &OF_F_NUMBERS] {
            let text = choices.chosen("loose", None).expect_err("refused").to_string();
            assert!(text.contains("loose") && choices.kinds.iter().all(|kind| text.contains(kind.key)), "{text}");
            for own in [0.0, -1.0, f64::NAN, WIDEST_STOPS + 1.0] {
                assert!(choices.chosen(OWN, Some(own)).is_err(), "{own}");
            }
        }
    }

    #[test]
    fn what_is_not_chosen_yet_is_the_usual_one() {
        for choices in [&OF_TIMES, &OF_F_NUMBERS] {
            for (key, own) in [("", None), ("", Some(0.2)), (OWN, None)] {
                assert_eq!(choices.chosen(key, own).expect("the usual one"), choices.usual());
            }
        }
        let own = OF_F_NUMBERS.chosen(OWN, Some(0.25)).expect("own");
        assert_eq!((own.stops(), own.words().as_str()), (0.25, "±1/4 stop at every f-number: your own"));
    }
}
