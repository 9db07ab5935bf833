//! Light that can be reckoned, as the page shows it: sun and sky now and over the day, the screen as a lamp step by step.
//!
//! Not here: the reckoning (`photometry`), the sentences (`inspection`).

use shape::Shape;

use super::Drawing;

/// Sun and sky at a place and time.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct SunView {
    /// `51.2°, south-west`.
    pub sun_words: String,
    /// Why no light can be reckoned, or empty.
    pub refusal: String,
    /// The light on each surface; empty where there is none.
    pub surfaces: Vec<SunSurface>,
    /// What to mind.
    pub notices: Vec<String>,
    /// The day with now marked.
    pub plot: Option<Drawing>,
    /// `good to a third of a stop from 10:20 to 15:40`.
    pub good_words: String,
}

/// The light on one surface.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct SunSurface {
    /// Key: `horizontal`, `facing-sun`, `upright`.
    pub key: String,
    /// `a flat surface`.
    pub words: String,
    /// Whether it is the one that is known best now.
    pub best: bool,
    /// `82 klx`.
    pub lux_words: String,
    /// `EV 15.0`.
    pub ev_words: String,
    /// `±0.7 stop`.
    pub doubt_words: String,
    /// `sunny 16 reads 0.2 stop high for …`.
    pub sunny16_words: String,
    /// Illuminance in lux as it goes into a level.
    pub typed: String,
    /// Standard uncertainty that is new at every reading, in stops.
    pub each_doubt_stops: f64,
    /// Standard uncertainty that all readings of an hour share, in stops.
    pub shared_doubt_stops: f64,
}

/// A large city to choose in place of a position.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct CityChoice {
    /// Name.
    pub name: String,
    /// Latitude in degrees as typed, north positive.
    pub latitude: String,
    /// Longitude in degrees as typed, east positive.
    pub longitude: String,
}

/// The screen as a lamp.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct LampView {
    /// Width of the field in device pixels: whole tiles.
    pub width_px: u32,
    /// Height of the field in device pixels.
    pub height_px: u32,
    /// Device pixels along the side of a tile.
    pub tile_px: u32,
    /// `full white EV 11.3, read by a trusted meter`.
    pub white_words: String,
    /// Standard uncertainty that all steps share, in stops.
    pub shared_doubt_stops: f64,
    /// Whether a trusted meter has read full white.
    pub calibrated: bool,
    /// The steps, full white first.
    pub steps: Vec<LampStep>,
}

/// A step of the lamp.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct LampStep {
    /// `1/8`: share of the device pixels that are white.
    pub key: String,
    /// `3 stops down, 1 cell in 8 white`.
    pub words: String,
    /// `EV 8.3`.
    pub ev_words: String,
    /// EV at ISO 100 as it goes into a level.
    pub typed: String,
    /// Standard uncertainty that is new at this step, in stops.
    pub each_doubt_stops: f64,
    /// One tile, row by row: 255 where a device pixel is white, 0 where it is black.
    pub tile: Vec<u8>,
}
