//! Photos as the page hands them over and is shown them: what a file says of itself, the light of a patch, a phone's calibration.
//!
//! Not here: how a photo is read (`imaging`); the pixels, which only pass through.

use shape::Shape;

/// What a photo's file says of itself. A place is never among it.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct PhotoHead {
    /// Size of the picture as it stands upright; 0 where the file does not say.
    pub width_px: u32,
    /// The same.
    pub height_px: u32,
    /// Which phone and lens, the same for every photo by it; empty where the file does not say.
    pub phone: String,
    /// `f/1.8, 1/125 s, ISO 64`.
    pub exposure_words: String,
    /// Why it cannot be measured, a sentence each.
    pub refusals: Vec<String>,
}

/// A rectangle of the upright picture in pixels.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct PhotoPatch {
    /// Left column.
    pub x: u32,
    /// Top row.
    pub y: u32,
    /// Columns.
    pub width: u32,
    /// Rows.
    pub height: u32,
}

/// What was added up of a patch so far, strip by strip.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct PatchSums {
    /// The patch.
    pub patch: PhotoPatch,
    /// Light of each block; empty before the first strip.
    pub light: Vec<f64>,
    /// Pixels of each block.
    pub counts: Vec<u32>,
    /// Clipped pixels.
    pub clipped: u32,
    /// Nearly black pixels.
    pub black: u32,
}

/// A phone's calibration as the page keeps it.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct PhoneCalibration {
    /// Which phone and lens, from [`PhotoHead::phone`].
    pub phone: String,
    /// When it was made.
    pub at: String,
    /// What was trusted, in the person's words.
    pub against: String,
    /// What is added to the EV of its photos, in stops.
    pub offset_stops: f64,
    /// Its standard uncertainty in stops.
    pub standard_uncertainty_stops: f64,
    /// Slope of its tone curve, where known.
    pub tone_slope: Option<f64>,
    /// How far its own brightness value usually lies above the exposure, in stops.
    pub brightness_difference_stops: Option<f64>,
    /// Photos that it rests on.
    pub photos: u32,
    /// `+0.32 ± 0.28 stop from three photos`.
    pub words: String,
    /// What was noticed.
    pub notices: Vec<String>,
}

/// One part of a doubt.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct DoubtPart {
    /// What it comes from.
    pub name: String,
    /// `±0.20 stop`, expanded.
    pub words: String,
}

/// The light of a patch, or why there is none.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct PhotoLight {
    /// Why it cannot be measured, a sentence each; then nothing else counts.
    pub refusals: Vec<String>,
    /// What has to be known.
    pub notices: Vec<String>,
    /// `EV 10.3`.
    pub ev_words: String,
    /// `±0.9 stop`.
    pub doubt_words: String,
    /// `161 cd/m²`.
    pub luminance_words: String,
    /// Where the patch is plain white paper: the light that falls on it.
    pub on_paper: Option<PaperLight>,
    /// The parts of the doubt, the largest first.
    pub parts: Vec<DoubtPart>,
    /// The EV at ISO 100 as it goes into a level: `10.32`.
    pub typed: String,
    /// Standard uncertainty that is new in every photo, in stops.
    pub each_doubt_stops: f64,
    /// Standard uncertainty that every photo by this phone shares, in stops.
    pub shared_doubt_stops: f64,
    /// For calibrating: EV of the exposure alone.
    pub settings_ev100: f64,
    /// For calibrating: how far the patch lies above the mid-tone, in stops.
    pub tone_stops: f64,
    /// For calibrating: the phone's own brightness value against the exposure, in stops.
    pub brightness_difference_stops: Option<f64>,
}

/// The light that falls on plain white paper, from a photo of it.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct PaperLight {
    /// Illuminance in lux, as it goes into a field: `0.0123`.
    pub illuminance: String,
    /// Standard uncertainty in stops, as it goes into a field.
    pub doubt: String,
    /// `0.0123 lx ±0.9 stop`.
    pub words: String,
}

/// How much brighter a patch is than it was.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct LiveView {
    /// `1.0 stop brighter`.
    pub words: String,
    /// `±0.5`.
    pub doubt_words: String,
}

/// One photo for calibrating a phone.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct CalibrationEntry {
    /// From [`PhotoLight`].
    pub settings_ev100: f64,
    /// From [`PhotoLight`].
    pub tone_stops: f64,
    /// From [`PhotoLight`].
    pub brightness_difference_stops: Option<f64>,
    /// EV at ISO 100 by the trusted meter, as typed; empty for a photo of the same light with the slider moved.
    pub typed: String,
}
