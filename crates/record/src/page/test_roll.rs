//! What the pages of the test roll show, and what a photo of a strip comes back as.
//!
//! Not here: the roll itself, which has the file's shape ([`crate::v1`]).

use shape::Shape;

use super::{Choice, Drawing};
use crate::v1;

/// The test roll as its pages show it.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct TestRollView {
    /// The open back with what was found at the seals, and marked where the roll points.
    pub drawing: Drawing,
    /// Whether the roll points at a place of the drawing.
    pub points: bool,
    /// How far it is: `not_begun`, `at_the_camera`, `waiting` or `read`.
    pub state: String,
    /// `exposed 2026-03-01, waiting for the film`.
    pub headline: String,
    /// What to do at the camera; nothing for sheet film.
    pub steps: Vec<RollStepView>,
    /// `about 20 minutes left`, or empty.
    pub left_words: String,
    /// The blank frames to choose from.
    pub blanks: Vec<Choice>,
    /// How a strip can lie.
    pub lies: Vec<Choice>,
    /// Films to choose from.
    pub films: Vec<Choice>,
    /// Ways in which curtains run.
    pub travels: Vec<Choice>,
    /// The camera's marked times.
    pub times: Vec<Choice>,
    /// The density map of each blank frame; `null` where there is none.
    pub maps: Vec<Option<Drawing>>,
    /// The profile of each wall; `null` where there is none.
    pub profiles: Vec<Option<Drawing>>,
}

/// A step at the camera.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct RollStepView {
    /// Key.
    pub key: String,
    /// In a few words.
    pub name: String,
    /// What to do.
    pub text: String,
    /// `4 min`.
    pub minutes_words: String,
    /// What a timer counts in seconds; 0 where nothing is to be counted.
    pub timer_s: u32,
    /// `frame 2`, or empty.
    pub frame_words: String,
    /// Whether it is ticked off.
    pub done: bool,
}

/// A blank frame read from a photo.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct FilmRead {
    /// As it is kept.
    pub frame: v1::RollFrame,
    /// Why the photo cannot be measured, or empty; such a frame is not kept.
    pub refusal: String,
    /// The gate's corners as they were taken, x and y by turns, in pixels of the averaged picture.
    pub corners_px: Vec<f64>,
    /// Whether the film's edges were found.
    pub edges_found: bool,
}
