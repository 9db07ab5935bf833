//! The aperture's part of version 1: openings as they were found in photos, and what each marked f-number comes to.
//!
//! Holds outlines and areas, not pictures: what is needed to work it out again. Not here: how an opening is found (`imaging`), how an
//! error is judged ([`inspection`]).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shape::Shape;

use super::{Estimate, TimingNotice};

/// The aperture check.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Aperture {
    /// Key of the tolerance, see `inspection::tolerance::OF_F_NUMBERS`, or `own`; empty for the usual one.
    pub tolerance: String,
    /// For `own`: its half-width as typed.
    pub own_tolerance: String,
    /// The same in stops.
    pub own_tolerance_stops: Option<f64>,
    /// Number of blades as typed, where the person counted them.
    pub blades: String,
    /// The same as a number.
    pub blade_count: Option<u32>,
    /// The photos, in the order they are shown.
    pub openings: Vec<OpeningShot>,
}

/// One photo of an opening; lengths are pixels of the picture as it was measured, averaged down.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct OpeningShot {
    /// Name of the picture's file.
    pub source: String,
    /// When it was taken in milliseconds since 1970, or the file's own time; only its order counts.
    pub taken_ms: f64,
    /// The marked f-number it counts for, or empty.
    pub f_number: String,
    /// From which side the ring came: `open`, `closed`, or empty.
    pub side: String,
    /// `true` where the person left it out.
    pub dropped: bool,
    /// Width of the measured picture.
    pub width_px: u32,
    /// Height of the measured picture.
    pub height_px: u32,
    /// Area of the opening; `null` where none was found.
    pub area_px: Option<f64>,
    /// Length of its edge.
    pub perimeter_px: f64,
    /// How far the edge may be shifted, one standard uncertainty.
    pub edge_doubt_px: f64,
    /// Relative standard uncertainty of the area from all else.
    pub noise: f64,
    /// Middle of the opening, from the left and from the top.
    pub centre_px: Vec<f64>,
    /// Distance of the edge from the middle along rays, from the right on and clockwise as seen.
    pub outline_px: Vec<f64>,
    /// What has to be known about it.
    pub notices: Vec<TimingNotice>,
    /// Id of the kept picture, or empty.
    pub photo: String,
}

/// The aperture, judged.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct ApertureResult {
    /// One word for all of it: `within`, `outside` or `cannot_tell`.
    pub call: String,
    /// The call as said.
    pub call_words: String,
    /// `5 of 6 stopped-down marks within`.
    pub headline: String,
    /// One sentence on how the error runs over the marks.
    pub pattern: String,
    /// The tolerance in words with where it comes from.
    pub tolerance_words: String,
    /// Mark by mark, from the widest.
    pub stops: Vec<StopResult>,
    /// Marked f-numbers of the lens without a photo, as said.
    pub missing: Vec<String>,
    /// Neighbours that give the same opening, a sentence each.
    pub same: Vec<String>,
    /// Number of blades, where it is known.
    pub blade_count: Option<u32>,
    /// Blades that sit off.
    pub odd_blades: Vec<OddBladeResult>,
    /// Standard deviation of one setting in stops, where marks were taken more than once.
    pub repeatability_stops: Option<f64>,
    /// How much wider the openings are from the open side in stops, where both sides were taken.
    pub hysteresis_stops: Option<f64>,
    /// How the iris repeats and whether the side matters, a sentence each.
    pub settling: Vec<String>,
    /// What would settle what is open, or empty.
    pub settle: String,
    /// What a person should know before trusting it.
    pub notices: Vec<String>,
}

/// One marked f-number.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct StopResult {
    /// The mark: `5.6`.
    pub f_number: String,
    /// As shown: `f/5.6`.
    pub label: String,
    /// `true` for the widest mark, which shows a fixed ring.
    pub widest: bool,
    /// How many photos count.
    pub shots: u32,
    /// Aperture error in stops, + is too wide; `null` where there is no opening.
    pub error_stops: Option<Estimate>,
    /// Half-width of the tolerance in stops.
    pub tolerance_stops: f64,
    /// Probability that the true error is within the tolerance.
    pub conformity: f64,
    /// `within`, `outside` or `cannot_tell`.
    pub call: String,
    /// The call as said.
    pub call_words: String,
    /// Root mean square of the outline's harmonics 2 to 4, as a share of its radius; `null` where there is no opening.
    pub roundness: Option<f64>,
    /// `0.3 under`.
    pub error_words: String,
    /// `±0.03`.
    pub doubt_words: String,
    /// `one photo`.
    pub how_words: String,
    /// What has to be known about it, a sentence each.
    pub notices: Vec<String>,
}

/// A blade that sits off.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct OddBladeResult {
    /// Where its middle lies in the picture, from the right on and clockwise, in degrees.
    pub angle_deg: f64,
    /// How far, as a share of the blades' distance: + hangs back, − sticks in.
    pub deviation: f64,
    /// A sentence.
    pub words: String,
}
