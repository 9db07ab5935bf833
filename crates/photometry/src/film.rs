//! Film: the exposure that its speed stands for, and what it forgives.
//!
//! Not here: what a camera gives it (`inspection`).

mod dose;

use crate::error::Error;
use crate::quantity::{FilmSpeed, Stops};

pub use dose::{
    FOG_THRESHOLD_STOPS, LEAK_DOUBT_STOPS, Lasting, SURROUNDING_DOUBT_STOPS, SURROUNDINGS, Surrounding,
    attenuation_needed, density_of, dose, dose_above_fog, fog_exposure, fogging_illuminance, lasting, leak_in,
};

/// The three kinds of film, each with its own way to a speed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FilmKind {
    /// Black-and-white negative, ISO 6:1993 (formula from memory).
    BlackAndWhiteNegative,
    /// Colour negative, ISO 5800:1987 (formula from memory).
    ColourNegative,
    /// Reversal, ISO 2240:2003 (formula from memory).
    Reversal,
}

/// What a film forgives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Latitude {
    /// Under-exposure \[stops\], a positive number.
    pub under: f64,
    /// Over-exposure \[stops\], a positive number.
    pub over: f64,
    /// Where it comes from.
    pub source: &'static str,
}

impl FilmKind {
    /// Every kind.
    pub const ALL: [FilmKind; 3] = [FilmKind::Reversal, FilmKind::ColourNegative, FilmKind::BlackAndWhiteNegative];

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            FilmKind::BlackAndWhiteNegative => "black_and_white_negative",
            FilmKind::ColourNegative => "colour_negative",
            FilmKind::Reversal => "reversal",
        }
    }

    /// The kind with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|kind| kind.key() == key)
    }

    /// The words at the bench.
    pub const fn words(self) -> &'static str {
        match self {
            FilmKind::BlackAndWhiteNegative => "black-and-white negative",
            FilmKind::ColourNegative => "colour negative",
            FilmKind::Reversal => "reversal",
        }
    }

    /// What it forgives.
    pub const fn latitude(self) -> Latitude {
        match self {
            FilmKind::BlackAndWhiteNegative => Latitude { under: 1.0, over: 2.0, source: "common practice" },
            FilmKind::ColourNegative => Latitude { under: 1.0, over: 3.0, source: "ISO 5800:1987, clause 0" },
            FilmKind::Reversal => {
                Latitude { under: 0.5, over: 0.5, source: "US Army course SS0514, p. 1-29; common practice" }
            }
        }
    }

    /// Exposure H_m that the speed stands for \[lx·s\]: `0.8/S`, `√2/S` or `10/S`.
    pub fn speed_exposure(self, speed: FilmSpeed) -> f64 {
        let numerator = match self {
            FilmKind::BlackAndWhiteNegative => 0.8,
            FilmKind::ColourNegative => core::f64::consts::SQRT_2,
            FilmKind::Reversal => 10.0,
        };
        numerator / speed.value()
    }
}

/// Logarithmic speed, `round(1 + 10·log10 S)` \[degrees\] (ISO 6, 5800, 2240, Table 1).
pub fn logarithmic_speed(speed: FilmSpeed) -> i32 {
    libm::round(1.0 + 10.0 * libm::log10(speed.value())) as i32
}

/// Stops between two exposures or two times, `log2(a/b)`. **Errors** where one is not above 0.
pub fn stops_between(a: f64, b: f64) -> Result<Stops, Error> {
    if a > 0.0 && b > 0.0 && a.is_finite() && b.is_finite() {
        Stops::new(libm::log2(a / b))
    } else {
        Err(Error::new(format!("a ratio in stops needs two numbers above 0, and {a} and {b} were given")))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reversal_forgives_least() {
        for kind in FilmKind::ALL {
            assert!(kind.latitude().over >= FilmKind::Reversal.latitude().over);
            assert_eq!(FilmKind::from_key(kind.key()), Some(kind));
        }
        assert!(stops_between(0.0, 1.0).is_err() && stops_between(1.0, f64::NAN).is_err());
    }
}
