//! How far a marked time may be off: common practice, to be chosen. No standard gives limits that could be read here.
//!
//! Not here: whether a time keeps them ([`super::judge`]).

use metrology::Tolerance;
use photometry::{Stops, TimeMark};

use crate::error::Error;
use crate::words;

/// Marked times from here on down count as fast [s]: the exact value of 1/250, with room for the old series.
const FAST_BELOW_S: f64 = 1.0 / 270.0;
/// Widest tolerance of one's own [stops].
const WIDEST_STOPS: f64 = 10.0;

/// One choice.
#[derive(Clone, Debug, PartialEq)]
pub struct ToleranceKind {
    /// Key in a file.
    pub key: &'static str,
    /// As said.
    pub words: &'static str,
    /// What it is for and where it comes from.
    pub help: &'static str,
    /// Half-width down to 1/250 s [stops].
    slow_stops: f64,
    /// Half-width beyond [stops].
    fast_stops: f64,
}

/// The choices; the first is the usual one.
pub const TOLERANCES: [ToleranceKind; 3] = [
    ToleranceKind {
        key: "mechanical",
        words: "±1/3 stop to 1/250, ±1/2 beyond",
        help: "mechanical shutters (common practice)",
        slow_stops: 1.0 / 3.0,
        fast_stops: 0.5,
    },
    ToleranceKind {
        key: "electronic",
        words: "±1/6 stop to 1/250, ±1/3 beyond",
        help: "electronically timed shutters (common practice)",
        slow_stops: 1.0 / 6.0,
        fast_stops: 1.0 / 3.0,
    },
    ToleranceKind {
        key: "reversal",
        words: "±1/3 stop at every time",
        help: "for reversal film, whatever the shutter (common practice)",
        slow_stops: 1.0 / 3.0,
        fast_stops: 1.0 / 3.0,
    },
];

/// Key of a tolerance of one's own.
pub const OWN: &str = "own";

/// The tolerance that was chosen.
#[derive(Clone, Debug, PartialEq)]
pub enum Chosen {
    /// One of [`TOLERANCES`].
    Kind(&'static ToleranceKind),
    /// One's own half-width for every time.
    Own(Stops),
}

impl Chosen {
    /// By key; the usual one where the key is empty. `own` is needed for [`OWN`]. **Errors** for an unknown key or an own
    /// tolerance that is not above 0.
    pub fn of(key: &str, own: Option<f64>) -> Result<Self, Error> {
        if key == OWN {
            return match own {
                Some(stops) if stops > 0.0 && stops <= WIDEST_STOPS => Ok(Chosen::Own(Stops::new(stops)?)),
                Some(stops) => Err(Error::new(format!(
                    "the tolerance of marked times must be above 0 and at most {WIDEST_STOPS} stops, and {stops} was given"
                ))),
                None => Err(Error::new("enter your own tolerance of marked times, in stops")),
            };
        }
        let key = if key.is_empty() { TOLERANCES[0].key } else { key };
        TOLERANCES.iter().find(|kind| kind.key == key).map(Chosen::Kind).ok_or_else(|| {
            let shown: String = key.chars().take(40).collect();
            Error::new(format!(
                "the tolerance of marked times must be one of mechanical, electronic, reversal, own, and \"{shown}\" was given"
            ))
        })
    }

    /// Half-width for a marked time [stops].
    pub fn stops(&self, mark: &TimeMark) -> f64 {
        match self {
            Chosen::Own(stops) => stops.value(),
            Chosen::Kind(kind) if mark.exact().value() < FAST_BELOW_S => kind.fast_stops,
            Chosen::Kind(kind) => kind.slow_stops,
        }
    }

    /// The interval for a marked time [stops].
    pub(super) fn interval(&self, mark: &TimeMark) -> Result<Tolerance, Error> {
        Ok(Tolerance::symmetric(self.stops(mark))?)
    }

    /// As said, with where it comes from.
    pub fn words(&self) -> String {
        match self {
            Chosen::Kind(kind) => format!("{}: {}", kind.words, kind.help),
            Chosen::Own(stops) => format!("±{} stop at every time: your own", words::fraction(stops.value())),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fast_times_are_allowed_more() {
        let mark = |text| TimeMark::parse(text, &[]).expect("a mark");
        let usual = Chosen::of("", None).expect("the usual one");
        assert_eq!(usual.stops(&mark("1/250")), 1.0 / 3.0);
        assert_eq!(usual.stops(&mark("1/300")), 0.5);
        assert_eq!(usual.stops(&mark("1/500")), 0.5);
        assert_eq!(Chosen::of("electronic", None).expect("known").stops(&mark("1")), 1.0 / 6.0);
        assert_eq!(Chosen::of(OWN, Some(0.25)).expect("own").stops(&mark("1/1000")), 0.25);
    }

    #[test]
    fn what_is_no_tolerance_is_refused() {
        assert!(Chosen::of("loose", None).expect_err("refused").to_string().contains("loose"));
        for own in [None, Some(0.0), Some(-1.0), Some(f64::NAN), Some(11.0)] {
            assert!(Chosen::of(OWN, own).is_err());
        }
    }
}
