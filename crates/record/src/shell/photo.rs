//! The shell's answer about a photo: the light of a patch, its doubt, and why a picture was refused.
//!
//! Not here: reading the picture (`imaging`), decoding it (`cli`).

use imaging::exif::{Metadata, Phone};
use imaging::luminance::Photo;
use imaging::raster::Region;
use serde::Serialize;

/// What has to be known: a code for programs, a sentence for people.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Told {
    /// For ever the same.
    pub code: String,
    /// What it means and what to do.
    pub text: String,
}

/// What the picture was taken with; null where it does not say so.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct TakenWith {
    /// F-number.
    pub f_number: Option<f64>,
    /// Exposure time.
    pub time_s: Option<f64>,
    /// The camera's own speed, ISO.
    pub film_speed: Option<f64>,
    /// APEX brightness, uncalibrated.
    pub brightness_value: Option<f64>,
    /// Exposure compensation that was set; it is in the exposure already.
    pub compensation_stops: Option<f64>,
    /// Which way up the stored pixels stand, 1 to 8.
    pub orientation: u8,
}

/// Which phone and lens took it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TakenBy {
    /// Maker.
    pub maker: Option<String>,
    /// Model.
    pub model: Option<String>,
    /// Lens.
    pub lens: Option<String>,
    /// Focal length.
    pub focal_length_mm: Option<f64>,
    /// Version of the phone's program.
    pub software: Option<String>,
}

/// A rectangle of the upright picture, in pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct Patch {
    /// Left column.
    pub x: u32,
    /// Top row.
    pub y: u32,
    /// Columns.
    pub width: u32,
    /// Rows.
    pub height: u32,
}

/// One part of the doubt.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DoubtPart {
    /// What it comes from.
    pub name: String,
    /// One standard uncertainty.
    pub standard_uncertainty_stops: f64,
}

/// A photo, read or refused.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PhotoRead {
    /// `ok`, `warn` or `refuse`.
    pub decision: &'static str,
    /// Why it is refused; empty where it is not.
    pub reasons: Vec<Told>,
    /// EV at ISO 100; null where it is refused.
    pub ev100: Option<f64>,
    /// Its combined standard uncertainty.
    pub standard_uncertainty_stops: Option<f64>,
    /// Half the interval that holds 95 of 100.
    pub expanded_uncertainty_stops: Option<f64>,
    /// The parts of the doubt.
    pub doubt: Vec<DoubtPart>,
    /// Luminance by K.
    pub luminance_cd_m2: Option<f64>,
    /// How far the patch lies above the mid-tone.
    pub tone_stops: Option<f64>,
    /// What it was taken with.
    pub exposure: TakenWith,
    /// Which phone and lens.
    pub phone: TakenBy,
    /// The patch; null where the picture could not be opened.
    pub patch: Option<Patch>,
    /// Warnings and remarks.
    pub notices: Vec<Told>,
}

impl PhotoRead {
    /// A photo in the shell's shape.
    pub fn of(metadata: &Metadata, photo: &Photo, patch: Option<Region>) -> Self {
        let reading = photo.reading.as_ref();
        Self {
            decision: photo.decision.key(),
            reasons: photo.reasons.iter().map(Told::of).collect(),
            ev100: reading.map(|reading| reading.ev100.value()),
            standard_uncertainty_stops: reading.map(|reading| reading.ev100.standard_uncertainty()),
            expanded_uncertainty_stops: reading.map(|reading| reading.ev100.expanded_95()),
            doubt: reading.map_or_else(Vec::new, |reading| {
                let part = |part: &metrology::Contribution| DoubtPart {
                    name: part.name.clone(),
                    standard_uncertainty_stops: (part.sensitivity * part.standard_uncertainty).abs(),
                };
                reading.doubt.contributions.iter().map(part).collect()
            }),
            luminance_cd_m2: reading.map(|reading| reading.luminance.value()),
            tone_stops: reading.map(|reading| reading.tone_stops),
            exposure: TakenWith {
                f_number: metadata.exposure.f_number.map(photometry::FNumber::value),
                time_s: metadata.exposure.time.map(photometry::ExposureTime::value),
                film_speed: metadata.exposure.speed.map(photometry::FilmSpeed::value),
                brightness_value: metadata.brightness_value,
                compensation_stops: metadata.compensation_stops,
                orientation: metadata.orientation.tag(),
            },
            phone: TakenBy::of(&metadata.phone),
            patch: patch.map(|Region { x, y, width, height }| Patch { x, y, width, height }),
            notices: photo.notices.iter().map(Told::of).collect(),
        }
    }
}

impl Told {
    /// A notice of a picture.
    pub fn of(notice: &imaging::Notice) -> Self {
        Self { code: notice.code.to_owned(), text: notice.text.clone() }
    }
}

impl TakenBy {
    fn of(phone: &Phone) -> Self {
        Self {
            maker: phone.maker.clone(),
            model: phone.model.clone(),
            lens: phone.lens.clone(),
            focal_length_mm: phone.focal_length_mm,
            software: phone.software.clone(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use imaging::luminance::{Pixels, Setup, assess};

    #[test]
    fn a_refused_picture_has_reasons_and_no_light() {
        let metadata = Metadata::read(b"<html>");
        let photo = assess(&metadata, &Pixels::Unsupported, &Setup::default()).expect("a photo");
        let text = super::super::json(&PhotoRead::of(&metadata, &photo, None)).expect("text");
        for wanted in ["\"decision\": \"refuse\"", "\"ev100\": null", "\"f_number\": null", "\"code\": \"no_exif\""] {
            assert!(text.contains(wanted), "{text}");
        }
    }
}
