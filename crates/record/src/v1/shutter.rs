//! The shutter's part of version 1: takes with their shots as they were caught, and what each marked time comes to.
//!
//! Holds moments and times, not sound: what is needed to work it out again. Not here: how a shot is found (`timing`), how an
//! error is judged ([`inspection`]).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shape::Shape;

use super::Estimate;

/// The shutter check.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Shutter {
    /// Key of the shutter's build, see `inspection::shutter::Build`: `cloth`, `metal`, `leaf`, or empty.
    pub build: String,
    /// Key of the tolerance, see `inspection::tolerance::OF_TIMES`, or `own`; empty for the usual one.
    pub tolerance: String,
    /// For `own`: its half-width as typed.
    pub own_tolerance: String,
    /// The same in stops.
    pub own_tolerance_stops: Option<f64>,
    /// The takes, in the order they were made.
    pub takes: Vec<Take>,
}

/// One recording or clip with what was found in it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Take {
    /// When it was made.
    pub started: String,
    /// `sound`, `light` or `video`.
    pub signal: String,
    /// Where it came from: `microphone`, or the name of a file.
    pub source: String,
    /// How it was caught, a line each: sampling rate, processing, frame rates.
    pub capture: Vec<String>,
    /// Sampling rate of a recording in hertz.
    pub sample_rate_hz: Option<f64>,
    /// Interval between the frames of a clip in seconds.
    pub frame_interval_s: Option<f64>,
    /// Whether a mirror moved with the shots.
    pub mirror: bool,
    /// The marked times in the order they were fired, one for each shot asked for.
    pub asked: Vec<String>,
    /// For a series of sounds: the common offset in seconds that was added to every interval.
    pub offset_s: Option<f64>,
    /// For a light trace: time constants of the input's coupling in seconds.
    pub coupling_s: Vec<f64>,
    /// The shots, in the order of time.
    pub shots: Vec<Shot>,
    /// What has to be known about the take.
    pub notices: Vec<TimingNotice>,
    /// Key of the recording where the person keeps it on the phone, or empty.
    pub kept: String,
}

/// One release of the shutter.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Shot {
    /// Where it begins in the take, in seconds.
    pub start_s: f64,
    /// The marked time it counts for, or empty.
    pub marked: String,
    /// `true` where the person left it out.
    pub dropped: bool,
    /// `true` where the person said which mark it belongs to.
    pub confirmed: bool,
    /// Effective time in the middle of the frame in seconds; `null` where it cannot be told.
    pub time_s: Option<f64>,
    /// Its standard uncertainty in seconds.
    pub standard_uncertainty_s: Option<f64>,
    /// The part of that which all shots of the take share, in seconds.
    pub shared_s: f64,
    /// `measured`, `probable`, `indicative` or `cannot_tell`.
    pub state: String,
    /// Times that would also fit, in seconds.
    pub candidates_s: Vec<f64>,
    /// Times at several places of the frame.
    pub places: Vec<ShotPlace>,
    /// How long the first and the second curtain travelled, in seconds, where that was seen or heard.
    pub travel_s: Vec<f64>,
    /// From a series of sounds: opening to closing in seconds, without the common offset.
    pub interval_s: Option<f64>,
    /// Moments of impacts or edges in the take, in seconds.
    pub events_s: Vec<f64>,
    /// Exposure that a bounce adds, in seconds at the open level; no part of the time.
    pub bounce_s: Option<f64>,
    /// What has to be known about the shot.
    pub notices: Vec<TimingNotice>,
}

/// The time at one place of the frame.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct ShotPlace {
    /// `left`, `middle`, `right`; `first`, `second`.
    pub position: String,
    /// Time in seconds.
    pub time_s: f64,
    /// Its standard uncertainty in seconds.
    pub standard_uncertainty_s: f64,
}

/// A code for programs and a sentence for people.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct TimingNotice {
    /// `no-open-level`.
    pub code: String,
    /// A sentence.
    pub text: String,
}

/// The shutter, judged.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct ShutterResult {
    /// One word for all of it: `within`, `outside` or `cannot_tell`.
    pub call: String,
    /// The call as said.
    pub call_words: String,
    /// `9 of 11 marked times within`.
    pub headline: String,
    /// One sentence on how the error runs over the times.
    pub pattern: String,
    /// The tolerance in words with where it comes from.
    pub tolerance_words: String,
    /// Spread between shots of one marked time in stops, from all marks together; `null` where every mark has one shot.
    pub spread_stops: Option<f64>,
    /// Time by time, in dial order.
    pub times: Vec<TimeResult>,
    /// Marked times of the camera without a time, as said.
    pub missing: Vec<String>,
    /// What would settle what is open, or empty.
    pub settle: String,
    /// Bulb and self-timer, a sentence each.
    pub others: Vec<String>,
    /// Usual causes of such a pattern, worded as such.
    pub causes: Vec<String>,
    /// What a person should know before trusting it.
    pub notices: Vec<String>,
}

/// One marked time.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct TimeResult {
    /// The mark: `1/125`.
    pub marked: String,
    /// As shown.
    pub label: String,
    /// Exact value of the mark in seconds.
    pub exact_s: f64,
    /// `sound`, `light` or `video`: the way that counts.
    pub signal: String,
    /// How far it may be trusted: `measured`, `probable`, `indicative`, `cannot_tell`.
    pub state: String,
    /// The state as said.
    pub state_words: String,
    /// How many shots count.
    pub shots: u32,
    /// Mean time in seconds, or `null`.
    pub time_s: Option<Estimate>,
    /// Spread between its shots in stops (experimental standard deviation), with two shots or more.
    pub spread_stops: Option<f64>,
    /// Shutter error in stops, + is open too long; `null` where there is no time.
    pub error_stops: Option<Estimate>,
    /// What its doubt is made of, in stops, each named.
    pub doubts: Vec<Doubt>,
    /// Half-width of the tolerance in stops.
    pub tolerance_stops: f64,
    /// Probability that the true error is within the tolerance.
    pub conformity: f64,
    /// `within`, `outside` or `cannot_tell`.
    pub call: String,
    /// The call as said.
    pub call_words: String,
    /// How much longer one end of the gate is exposed than the other, in stops; `null` where unknown.
    pub taper_stops: Option<Estimate>,
    /// `1/310 s`.
    pub time_words: String,
    /// `0.8 under`.
    pub error_words: String,
    /// `±0.2`.
    pub doubt_words: String,
    /// `3 shots by light, measured`.
    pub how_words: String,
    /// What has to be known about it, a sentence each.
    pub notices: Vec<String>,
}

/// A part of a doubt.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Doubt {
    /// What it is: `spread between shots`.
    pub name: String,
    /// Standard uncertainty in stops.
    pub standard_uncertainty_stops: f64,
}
