//! A photo of a strip of film, opened and laid out by the corners of its gate.
//!
//! Not here: decoding ([`crate::picture`]), what the film says (`imaging`).

use std::path::Path;

use imaging::exif::Metadata;
use imaging::film_strip::{Format, Strip, lay_out, reduction};
use imaging::raster::Plane;
use imaging::transfer::{Curve, Transfer};
use record::shell::film::FilmPhoto;

use crate::error::{Failure, one_line};
use crate::picture::{self, Refused};

/// The strip of a photo that a job names. **Fails** with a sentence that says which picture.
pub fn strip(photo: &FilmPhoto, job: &Path) -> Result<Strip, Failure> {
    let refused = |why: &str| Failure::None(format!("{}: {why}", one_line(&photo.file)));
    let bytes = picture::read(&picture::beside(job, &photo.file))?;
    let metadata = Metadata::read(&bytes);
    let pixels = picture::Pixels::decode(&bytes, &metadata).map_err(|error| match error {
        Refused::Kind => refused("it is no JPEG or PNG"),
        Refused::Damaged => refused("it is damaged or was not copied to its end"),
        Refused::Size(why) => refused(&why),
    })?;
    let corners = photo.gate_corners_px.map(|[x, y]| (x, y));
    let factor = reduction(&corners);
    let transfer = Transfer::new(Curve::Srgb, metadata.primaries);
    let plane = pixels
        .view()
        .and_then(|view| Plane::of(&view, factor, &transfer))
        .map_err(|error| refused(&error.to_string()))?
        .upright(metadata.orientation);
    let scaled = corners.map(|(x, y)| (x / f64::from(factor), y / f64::from(factor)));
    lay_out(&plane, &scaled, Format::Perforated).map_err(|error| refused(&error.to_string()))
}
