//! The test roll of version 1: what was done at the camera, when it was exposed, and what the photos of its strips show.
//!
//! Holds what was measured on the photos, not the photos. Sides and parts are those of the photo; how the strip lies stands beside
//! them. Not here: how a photo is measured (`imaging`), what it says of this camera ([`inspection`]).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shape::Shape;

use super::TimingNotice;

/// A test roll.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct TestRoll {
    /// What was ticked off at the camera, in that order.
    pub steps: Vec<RollStep>,
    /// When the last frame was exposed; empty before that.
    pub exposed: String,
    /// Blank frames that were photographed.
    pub frames: Vec<RollFrame>,
    /// Walls that were photographed.
    pub walls: Vec<RollWall>,
}

/// A step that is done.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct RollStep {
    /// Key of the step in `inspection::test_roll`.
    pub step: String,
    /// When it was ticked off.
    pub at: String,
}

/// A blank frame as a photo shows it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct RollFrame {
    /// When the photo was measured.
    pub at: String,
    /// Which frame: `closed`, `lens-open` or `bulb`.
    pub frame: String,
    /// Name of the picture's file.
    pub source: String,
    /// How the strip lies: `picture-upright`, `as-in-camera`, `picture-mirrored`, `mirrored-upside-down` or `unknown`.
    pub lies: String,
    /// Which film: `135`, or the height of the gate of roll film in millimetres, `56`.
    pub film: String,
    /// `none`, `back`, `front`, `pinhole` or `cannot tell`.
    pub group: String,
    /// Side of the gate on the photo: `top`, `bottom`, `left`, `right`, or empty.
    pub side: String,
    /// The part that it would be if the strip lay as in the camera and the hinge were at the right, or empty.
    pub part: String,
    /// How sure that is, 0 to 1.
    pub confidence: f64,
    /// The densest place above the film's base.
    pub peak_density: f64,
    /// Density from which something counts as light; 0 where the photo could not be measured.
    pub threshold_density: f64,
    /// Density above the base: rows of letters, one for each square millimetre, from 3 mm left of the gate and 1.5 mm above the film on;
    /// `0` to `9` and `a` to `z` in steps of 0.05, `.` where a hole is.
    pub density_map: Vec<String>,
    /// What has to be known about it.
    pub notices: Vec<TimingNotice>,
    /// Id of the kept picture, or empty.
    pub photo: String,
}

/// An evenly lit wall as one to four photos show it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct RollWall {
    /// When it was worked out.
    pub at: String,
    /// Names of the pictures' files: the wall, with one stop less, with one stop more, turned; empty where there was none.
    pub sources: Vec<String>,
    /// The marked time, or empty.
    pub time: String,
    /// Which way the curtains run on the picture: `horizontal` or `vertical`.
    pub travel: String,
    /// From one end of the travel to the other in stops, + more at its end.
    pub taper_stops: f64,
    /// Its standard uncertainty in stops.
    pub standard_uncertainty_stops: f64,
    /// What of the single frame's taper is the wall in stops; `null` without a turned frame.
    pub wall_stops: Option<f64>,
    /// Half the height of ripples along the travel in stops.
    pub band_stops: f64,
    /// The deeper end against the line of the middle in stops.
    pub end_drop_stops: f64,
    /// Middle against the mean of the ends in stops.
    pub bow_stops: f64,
    /// The film's contrast that was used.
    pub gamma: f64,
    /// Places along the travel, from the middle, in lengths of the travel.
    pub profile_position: Vec<f64>,
    /// Exposure there against the mean in stops.
    pub profile_stops: Vec<f64>,
    /// What has to be known about it.
    pub notices: Vec<TimingNotice>,
}

/// What a test roll comes to.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct TestRollResult {
    /// `at_the_camera`, `waiting` or `read`.
    pub state: String,
    /// `light on 1 of 3 frames`.
    pub headline: String,
    /// The blank frames, in the order of `frames`.
    pub frames: Vec<RollFrameResult>,
    /// The walls, in the order of `walls`.
    pub walls: Vec<RollWallResult>,
    /// What was not tried.
    pub missing: Vec<String>,
}

/// What a blank frame tells.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct RollFrameResult {
    /// Which frame.
    pub frame: String,
    /// The frame in a few words.
    pub frame_words: String,
    /// `dark`, `light`, `likely`, `cannot_tell` or `unread`.
    pub call: String,
    /// The call as said.
    pub call_words: String,
    /// Side of the gate seen from behind, or empty.
    pub side: String,
    /// Key of the place of the open back that it points at, or empty.
    pub place: String,
    /// Key of the catalogue's point of that place, or empty.
    pub point: String,
    /// How sure, 0 to 1.
    pub confidence: f64,
    /// What it tells.
    pub sentence: String,
}

/// What a wall tells.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct RollWallResult {
    /// `within`, `outside` or `cannot_tell`.
    pub call: String,
    /// The call as said.
    pub call_words: String,
    /// The marked time as said, or empty.
    pub mark: String,
    /// `0.40 ± 0.10 stop from end to end`.
    pub figure: String,
    /// What it tells.
    pub sentence: String,
    /// What would settle it, or empty.
    pub settle: String,
}
