//! Jobs about developed film for the shell, and its answers: what fogged a frame, how evenly it was exposed.
//!
//! Not here: opening the pictures (`cli`), measuring them (`imaging`).

use imaging::evenness::{Evenness, Travel};
use imaging::film_strip::Cells;
use imaging::fog::{Fog, Lies, Side, Source};
use serde::{Deserialize, Serialize};

use super::photo::Told;
use super::pictures::job;
use crate::error::Error;

/// A photo of a strip with the corners of the gate on it.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct FilmPhoto {
    /// The picture.
    pub file: String,
    /// Upper left, upper right, lower right, lower left, in pixels of the upright picture.
    pub gate_corners_px: [[f64; 2]; 4],
}

/// A frame that should be blank.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct FogJob {
    /// The picture.
    pub file: String,
    /// Upper left, upper right, lower right, lower left, in pixels of the upright picture.
    pub gate_corners_px: [[f64; 2]; 4],
    /// How the strip lies.
    pub strip_lies: StripLies,
}

impl FogJob {
    /// The photo by itself.
    pub fn photo(&self) -> FilmPhoto {
        FilmPhoto { file: self.file.clone(), gate_corners_px: self.gate_corners_px }
    }
}

/// How a strip lies on its photo.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum StripLies {
    /// Pictures on it are upright and read the right way round.
    PictureUpright,
    /// As it lay in the camera, seen from the back.
    AsInCamera,
    /// The dull side up, pictures upright: writing reads mirror-wise.
    PictureMirrored,
    /// The dull side up, pictures upside down.
    MirroredUpsideDown,
    /// Nobody knows.
    Unknown,
}

impl StripLies {
    /// As the measurement has it.
    pub const fn lies(self) -> Lies {
        match self {
            StripLies::PictureUpright => Lies::PictureUpright,
            StripLies::AsInCamera => Lies::AsInCamera,
            StripLies::PictureMirrored => Lies::PictureMirrored,
            StripLies::MirroredUpsideDown => Lies::MirroredUpsideDown,
            StripLies::Unknown => Lies::Unknown,
        }
    }
}

/// Reads a job. **Errors** where it is no JSON of that shape or too long.
pub fn fog_job(text: &str) -> Result<FogJob, Error> {
    job(text)
}

/// What fogged a frame.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FogRead {
    /// `none`, `back`, `front`, `pinhole` or `cannot tell`.
    pub group: &'static str,
    /// Side of the gate seen from the back: `top`, `bottom`, `left`, `right`, or null.
    pub side: Option<&'static str>,
    /// The part, or null.
    pub source: Option<&'static str>,
    /// How sure that is, 0 to 1.
    pub confidence: f64,
    /// The densest place above the base.
    pub peak_density: f64,
    /// What counts as light.
    pub threshold_density: f64,
    /// Density above the base in cells of half a millimetre, only where it is asked for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub map: Option<MapRead>,
    /// What was noticed.
    pub notices: Vec<Told>,
}

/// The density map.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MapRead {
    /// Side of a cell.
    pub cell_mm: f64,
    /// Left edge of the first column, from the gate's left edge.
    pub left_mm: f64,
    /// Upper edge of the first row, from the film's upper edge.
    pub top_mm: f64,
    /// Rows of densities; null where a hole is.
    pub density: Vec<Vec<Option<f64>>>,
}

impl FogRead {
    /// In the shell's shape.
    pub fn of(found: &Fog, map: Option<&Cells>) -> Self {
        Self {
            group: found.group.key(),
            side: found.side.map(Side::key),
            source: found.source.map(Source::key),
            confidence: found.confidence,
            peak_density: found.peak_density,
            threshold_density: found.threshold_density,
            map: map.map(|cells| {
                let (columns, rows) = Cells::SIZE;
                let (x, y) = Cells::place(0, 0);
                MapRead {
                    cell_mm: 0.5,
                    left_mm: x - 0.25,
                    top_mm: y - 0.25,
                    density: (0..rows).map(|row| (0..columns).map(|column| cells.at(column, row)).collect()).collect(),
                }
            }),
            notices: found.notices.iter().map(Told::of).collect(),
        }
    }
}

/// Frames of an evenly lit wall.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct EvennessJob {
    /// Which way the curtains run: `horizontal` or `vertical`.
    pub travel: Way,
    /// The frame.
    pub main: FilmPhoto,
    /// The same with one stop less.
    pub minus_one: Option<FilmPhoto>,
    /// The same with one stop more.
    pub plus_one: Option<FilmPhoto>,
    /// The same wall with the camera upside down.
    pub turned: Option<FilmPhoto>,
}

/// Which way the curtains run on the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Way {
    /// Along the film.
    Horizontal,
    /// Across it.
    Vertical,
}

impl Way {
    /// As the measurement has it.
    pub const fn travel(self) -> Travel {
        match self {
            Way::Horizontal => Travel::Horizontal,
            Way::Vertical => Travel::Vertical,
        }
    }
}

/// Reads a job. **Errors** where it is no JSON of that shape or too long.
pub fn evenness_job(text: &str) -> Result<EvennessJob, Error> {
    job(text)
}

/// A place along the travel.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct ProfileRead {
    /// From the middle, in lengths of the travel.
    pub position: f64,
    /// Exposure against the mean.
    pub exposure_stops: f64,
}

/// How evenly a frame was exposed.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct EvennessRead {
    /// From one end of the travel to the other, + more at its end.
    pub taper_stops: f64,
    /// Its standard uncertainty.
    pub standard_uncertainty_stops: f64,
    /// What of the single frame's taper is the wall; null without a turned frame.
    pub wall_stops: Option<f64>,
    /// Half the height of ripples along the travel.
    pub band_stops: f64,
    /// The deeper end against the line of the middle.
    pub end_drop_stops: f64,
    /// Middle against the mean of the ends.
    pub bow_stops: f64,
    /// The film's contrast that was used.
    pub gamma: f64,
    /// Exposure along the travel.
    pub profile: Vec<ProfileRead>,
    /// What was noticed.
    pub notices: Vec<Told>,
}

impl EvennessRead {
    /// In the shell's shape.
    pub fn of(found: &Evenness) -> Self {
        Self {
            taper_stops: found.taper_stops,
            standard_uncertainty_stops: found.standard_uncertainty_stops,
            wall_stops: found.wall_stops,
            band_stops: found.band_stops,
            end_drop_stops: found.end_drop_stops,
            bow_stops: found.bow_stops,
            gamma: found.gamma,
            profile: found
                .profile
                .iter()
                .map(|(position, exposure_stops)| ProfileRead { position: *position, exposure_stops: *exposure_stops })
                .collect(),
            notices: found.notices.iter().map(Told::of).collect(),
        }
    }
}
