//! What the pages of openings and of scattered light hand in and are handed to show.
//!
//! Not here: openings and results themselves, which have the file's shape ([`crate::v1`]).

use shape::Shape;

use super::{Choice, Drawing};
use crate::v1;

/// What a picture's file says before its pixels are looked at.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct PictureAbout {
    /// Width as seen, 0 where the file does not say.
    pub width_px: u32,
    /// Height as seen, 0 where the file does not say.
    pub height_px: u32,
    /// When it was taken by the phone's own clock, in milliseconds; `null` where the file does not say.
    pub taken_ms: Option<f64>,
    /// Exposure value at ISO 100; `null` where the file does not say.
    pub ev100: Option<f64>,
    /// `1/60 s, f/1.8, ISO 100`, or empty.
    pub exposure_words: String,
    /// How often it is averaged down before an opening is measured.
    pub factor: u32,
    /// Why it cannot be measured, or empty.
    pub refusal: String,
}

/// An opening found in one photo.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct FoundOpening {
    /// As it is kept; without an area where none was found.
    pub opening: v1::OpeningShot,
    /// Its outline over the picture.
    pub outline: Option<Drawing>,
    /// What the set-up is like.
    pub checks: Vec<SetupView>,
}

/// One thing of the set-up.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct SetupView {
    /// Whether it is as it must be.
    pub good: bool,
    /// A sentence.
    pub text: String,
}

/// The aperture as its pages show it.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct ApertureView {
    /// The judged aperture's error over the marks, or `null`.
    pub plot: Option<Drawing>,
    /// One bar about zero for each judged mark.
    pub bars: Vec<Drawing>,
    /// The outline of each photo's opening, in the order of the photos; `null` where there is none.
    pub outlines: Vec<Option<Drawing>>,
    /// What has to be known of each photo, in the order of the photos.
    pub notices: Vec<Vec<String>>,
    /// The tolerances to choose from.
    pub tolerances: Vec<Choice>,
    /// What the figure of scattered light means.
    pub glare_meaning: String,
}

/// A round hole found in one photo, in pixels of the picture.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct Hole {
    /// From the left.
    pub x: f64,
    /// From the top.
    pub y: f64,
    /// Its radius.
    pub radius: f64,
    /// Left edge of the part of the picture that is needed to measure it.
    pub left: u32,
    /// Its upper edge.
    pub top: u32,
    /// Its width.
    pub width: u32,
    /// Its height.
    pub height: u32,
    /// The circle over the picture.
    pub outline: Option<Drawing>,
}

/// Light of a hole and its field in one photo.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct GlareSample {
    /// Mean light of the hole.
    pub hole: f64,
    /// Mean light of the field.
    pub field: f64,
    /// How far the field's sectors lie apart, as a share of their mean.
    pub field_spread: f64,
    /// Light near the hole's rim over that of its middle.
    pub slope: f64,
    /// Share of burnt-out pixels of the field.
    pub field_clipped: f64,
    /// Share of crushed pixels of the hole.
    pub hole_crushed: f64,
    /// Exposure value at ISO 100 of the photo, where its file says it.
    pub ev100: Option<f64>,
    /// Name of the picture, for sentences.
    pub name: String,
}

/// The photos of one measurement of scattered light.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct GlarePhotos {
    /// What it is of.
    pub label: String,
    /// Through the lens, the field at mid-grey.
    pub with_normal: Option<GlareSample>,
    /// Through the lens, exposed longer.
    pub with_long: Option<GlareSample>,
    /// Without the lens, the field at mid-grey.
    pub without_normal: Option<GlareSample>,
    /// Without the lens, exposed longer.
    pub without_long: Option<GlareSample>,
}
