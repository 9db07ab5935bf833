//! The film in hand as entered, and what film gets as worked out.
//!
//! Not here: the rules ([`inspection::film_error`]).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shape::Shape;

use super::Estimate;

/// The film that the camera is to be used with, as far as it was said.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Film {
    /// `reversal`, `colour_negative`, `black_and_white_negative` or empty.
    pub kind: String,
    /// Own latitude under in stops, as typed; with `over` it stands for the usual one.
    pub under: String,
    /// Own latitude over in stops, as typed.
    pub over: String,
    /// The same in stops.
    pub under_stops: Option<f64>,
    /// The same in stops.
    pub over_stops: Option<f64>,
}

/// A film and what it forgives.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct FilmLatitude {
    /// `reversal`, `colour_negative`, `black_and_white_negative` or `own`.
    pub film: String,
    /// As said.
    pub words: String,
    /// Under-exposure that it forgives, in stops.
    pub under_stops: f64,
    /// Over-exposure that it forgives, in stops.
    pub over_stops: f64,
    /// `1/2 under to 1/2 over`.
    pub latitude_words: String,
    /// Where the latitude comes from.
    pub source: String,
    /// `true` for the film in hand.
    pub in_hand: bool,
}

/// What film gets at one marked time in one usage.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct FilmError {
    /// `hand_set` or `metered`.
    pub usage: String,
    /// The marked time, or empty where the row stands for all of metered use.
    pub time: String,
    /// As shown: `1/125`.
    pub label: String,
    /// Film error of its worst f-number or light in stops, + is over-exposed; `null` where it is not told.
    pub error_stops: Option<f64>,
    /// Its standard uncertainty in stops.
    pub standard_uncertainty_stops: Option<f64>,
    /// `0.4 over`, or from where to where it goes.
    pub words: String,
    /// `±0.2`.
    pub doubt_words: String,
    /// Why it is not told, or empty.
    pub why_not: String,
    /// F-number by f-number where openings were measured; else the ends, or the one figure that stands for all.
    pub cells: Vec<FilmCell>,
    /// What each film says, in the order of `films`.
    pub verdicts: Vec<FilmVerdict>,
}

/// One f-number or light of a row.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct FilmCell {
    /// The marked f-number, or empty where it does not matter.
    pub f_number: String,
    /// `true` where the opening at it was measured; else it is taken as marked.
    pub opening_measured: bool,
    /// The light in metered use, EV at ISO 100.
    pub reference_ev100: Option<f64>,
    /// Film error.
    pub error_stops: Estimate,
    /// `f/8`, `EV 12.0`, or both.
    pub label: String,
    /// `0.4 over`.
    pub words: String,
    /// `±0.2`.
    pub doubt_words: String,
}

/// What a film says to a row.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct FilmVerdict {
    /// Key of the film.
    pub film: String,
    /// `within`, `outside` or `cannot_tell`.
    pub call: String,
    /// Probability that the worst cell lies within the latitude.
    pub conformity: f64,
    /// The least compensation that makes it safe, in stops, + gives more; `null` where none is needed or none helps.
    pub compensation_stops: Option<f64>,
    /// `safe`, `give 2/3 stop less`, `leave it out`, `cannot tell`.
    pub words: String,
}

/// Which times are safe for a film, in a sentence.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct FilmSentence {
    /// `hand_set` or `metered`.
    pub usage: String,
    /// Key of the film.
    pub film: String,
    /// The sentence.
    pub text: String,
}
