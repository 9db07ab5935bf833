//! What the shutter's pages hand in and are handed to show.
//!
//! Not here: takes, shots and results themselves, which have the file's shape ([`crate::v1`]).

use shape::Shape;

use super::Drawing;
use crate::v1;

/// What is known about a recording or a clip before it is measured.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct TakeAbout {
    /// When it was begun.
    pub started: String,
    /// `sound`, `light` or `video`.
    pub signal: String,
    /// `microphone`, or the name of a file.
    pub source: String,
    /// How it was caught, a line each.
    pub capture: Vec<String>,
    /// Key of the shutter's build; empty where unknown.
    pub build: String,
    /// Whether a mirror moved with the shots.
    pub mirror: bool,
    /// The marked times in the order they were fired, one for each shot asked for; empty where the order is unknown.
    pub asked: Vec<String>,
    /// For a clip: share of the frame interval that each frame is exposed for, as typed; empty where unknown.
    pub duty: String,
    /// For a clip: true frames per second as typed, where the file's own are slow motion; empty for the file's own.
    pub capture_rate: String,
    /// For a clip: linear values at full-stop steps of the lens aperture, the widest first; empty where not stepped.
    pub tone_steps: Vec<f64>,
}

/// What is heard in the last few seconds, while a take runs.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Listening {
    /// Shots so far in the window, in the order of time.
    pub heard: Vec<HeardShot>,
    /// Whether the input is driven too hard.
    pub clipped: bool,
    /// Whether there is too much going on between shots.
    pub busy: bool,
    /// Whether nothing at all comes in.
    pub dead: bool,
    /// What to do about it in a sentence, or empty.
    pub advice: String,
    /// Level of the quiet, in words: `quiet`, `some noise`, `loud`.
    pub floor_words: String,
}

/// A shot that was just caught.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct HeardShot {
    /// Where it begins in the window, in seconds.
    pub start_s: f64,
    /// Where it ends in the window, in seconds.
    pub end_s: f64,
    /// Its provisional time in words, or empty: `about 1/60 s`.
    pub words: String,
}

/// A box of a clip's file.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct MovieBox {
    /// Four letters.
    pub kind: String,
    /// Where it begins in the file, in bytes.
    pub start: f64,
    /// Its size with its head, in bytes.
    pub size: f64,
}

/// What a clip's file says about its frames.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct Movie {
    /// When each frame is shown, in seconds, in the order of time.
    pub frame_times_s: Vec<f64>,
    /// Frames per second as the file plays.
    pub file_rate_hz: f64,
    /// Frames per second as it was captured, where the file says so.
    pub capture_rate_hz: Option<f64>,
    /// `The file plays at 30 frames a second; it was captured at 240.`
    pub rate_words: String,
    /// What has to be asked because they disagree, or empty.
    pub question: String,
    /// Short name of the coding.
    pub codec: String,
    /// Width in pixels.
    pub width_px: u32,
    /// Height in pixels.
    pub height_px: u32,
    /// One tick of the file's clock in seconds.
    pub clock_step_s: f64,
    /// What has to be known, a sentence each.
    pub notices: Vec<String>,
}

/// Linear light of the three strips in one frame.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct FrameStrips {
    /// Mean linear light left, middle, right, 0 to 1.
    pub means: Vec<f64>,
    /// Share of clipped white.
    pub clipped_share: f64,
}

/// The frames of a clip after they were read.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
#[serde(default)]
pub struct FrameTable {
    /// Five numbers for each frame, one after another: when it was shown in seconds, linear light left, middle and right, and the share of clipped white.
    pub rows: Vec<f64>,
    /// One tick of the file's clock in seconds, from [`Movie::clock_step_s`]; 0 where unknown.
    pub clock_step_s: f64,
}

impl FrameTable {
    /// Adds a frame.
    pub fn push(&mut self, time_s: f64, [left, middle, right]: [f64; 3], clipped_share: f64) {
        self.rows.extend([time_s, left, middle, right, clipped_share]);
    }
}

/// What the shutter's page shows besides the results themselves.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct ShutterView {
    /// Error against marked time, or `null`.
    pub plot: Option<Drawing>,
    /// One bar about zero per marked time with a result, in the order of the results; an empty drawing where there is no time.
    pub bars: Vec<Drawing>,
    /// The takes as said.
    pub takes: Vec<TakeView>,
    /// The camera's marked times, with how many shots each has.
    pub marks: Vec<MarkView>,
    /// What a build is taken for where none was entered.
    pub build: String,
}

/// A take as said.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct TakeView {
    /// `Sound, 24 shots`.
    pub title: String,
    /// Its shots as said.
    pub shots: Vec<ShotView>,
    /// What has to be known about it and about most of its shots.
    pub notices: Vec<String>,
}

/// A shot as said.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct ShotView {
    /// `12.4 s`: where it stands in the take.
    pub at_words: String,
    /// `1/310 s`, or `cannot tell`.
    pub time_words: String,
    /// `0.8 under`, or empty.
    pub error_words: String,
    /// `0.82 under ±0.04`: the same with its doubt; without it where there is none.
    pub full_words: String,
    /// `measured`.
    pub state_words: String,
    /// Other times that would fit, or empty.
    pub candidates_words: String,
    /// What has to be known about this shot in particular.
    pub notices: Vec<String>,
    /// Whether it would fit another mark nearly as well, and the person has not said which one it was.
    pub mark_unsure: bool,
}

/// A marked time of the camera.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct MarkView {
    /// The mark.
    pub mark: String,
    /// As shown: `1/500`.
    pub label: String,
    /// As spoken: `one five-hundredth`.
    pub spoken: String,
    /// How many shots count for it.
    pub shots: usize,
}

/// A take that was measured, ready to be kept.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct MeasuredTake {
    /// The take in the file's shape.
    pub take: v1::Take,
    /// `11 shots found, 10 with a time.`
    pub summary: String,
}
