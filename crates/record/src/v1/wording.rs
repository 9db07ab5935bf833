//! The texts that are handed on: what was made from the findings, and what the person made of it.
//!
//! Not here: how they are put together ([`inspection::wording`]).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shape::Shape;

/// A text that the person changed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct EditedText {
    /// `line`, `paragraph`, `full` or `service`.
    pub key: String,
    /// As the person wrote it.
    pub text: String,
    /// The text it was made from: where that differs from the one of today, something was found or measured since.
    pub made_from: String,
    /// When it was last changed.
    pub at: String,
}

/// The texts as they were put together.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Wording {
    /// One line for the listing.
    pub line: String,
    /// One paragraph.
    pub paragraph: String,
    /// Everything, in paragraphs.
    pub full: String,
    /// What to mend, for the service bench.
    pub service: String,
    /// The sentences of the full text, each with its evidence.
    pub said: Vec<Said>,
}

/// A sentence and what it rests on.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Said {
    /// The sentence.
    pub text: String,
    /// What it rests on; empty for who the camera is.
    pub evidence: Vec<Traced>,
}

/// What a sentence rests on.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Traced {
    /// `point`, `meter`, `shutter`, `aperture`, `film`, `glare`, `consistency` or `costs`.
    pub about: String,
    /// Key of the point where `about` is `point`, else empty.
    pub point: String,
    /// Key of its area, or empty.
    pub area: String,
}
