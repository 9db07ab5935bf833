//! How far a marked f-number may be off: common practice, to be chosen. No standard gives limits that could be read here.
//!
//! Not here: whether an opening keeps them ([`super::judge`]).

use metrology::Tolerance;
use photometry::Stops;

use crate::error::Error;
use crate::words;

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
    /// Half-width [stops].
    stops: f64,
}

/// The choices; the first is the usual one.
pub const TOLERANCES: [ToleranceKind; 3] = [
    ToleranceKind { key: "usual", words: "±1/3 stop", help: "in general (common practice)", stops: 1.0 / 3.0 },
    ToleranceKind {
        key: "reversal",
        words: "±1/6 stop",
        help: "for reversal film and close work (common practice)",
        stops: 1.0 / 6.0,
    },
    ToleranceKind {
        key: "negative", words: "±1/2 stop", help: "for negative film only (common practice)", stops: 0.5
    },
];

/// Key of a tolerance of one's own.
pub const OWN: &str = "own";

/// The tolerance that was chosen.
#[derive(Clone, Debug, PartialEq)]
pub enum Chosen {
    /// One of [`TOLERANCES`].
    Kind(&'static ToleranceKind),
    /// One's own half-width.
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
                    "the tolerance of marked f-numbers must be above 0 and at most {WIDEST_STOPS} stops, and {stops} was given"
                ))),
                None => Err(Error::new("enter your own tolerance of marked f-numbers, in stops")),
            };
        }
        let key = if key.is_empty() { TOLERANCES[0].key } else { key };
        TOLERANCES.iter().find(|kind| kind.key == key).map(Chosen::Kind).ok_or_else(|| {
            let shown: String = key.chars().take(40).collect();
            Error::new(format!(
                "the tolerance of marked f-numbers must be one of usual, reversal, negative, own, and \"{shown}\" was given"
            ))
        })
    }

    /// Half-width [stops].
    pub fn stops(&self) -> f64 {
        match self {
            Chosen::Own(stops) => stops.value(),
            Chosen::Kind(kind) => kind.stops,
        }
    }

    /// The interval [stops].
    pub(super) fn interval(&self) -> Result<Tolerance, Error> {
        Ok(Tolerance::symmetric(self.stops())?)
    }

    /// `±1/3 stop, in general (common practice)`.
    pub fn words(&self) -> String {
        match self {
            Chosen::Own(stops) => format!("±{} stop, your own", words::fraction(stops.value())),
            Chosen::Kind(kind) => format!("{}, {}", kind.words, kind.help),
        }
    }
}
