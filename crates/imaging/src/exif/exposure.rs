//! Time, f-number and speed that a picture was taken with, from whichever tags say so.
//!
//! *Source:* CIPA DC-008-2019 (Exif 2.32), tags and APEX annex, as told by secondary sources. Not here: what kind of picture it
//! is ([`super::kind`]).

use ::exif::Tag;
use photometry::{ExposureTime, FNumber, FilmSpeed};

use super::tiff::Tags;
use super::xmp;

/// Shortest and longest time that is believed \[s\].
const TIME_S: (f64, f64) = (1e-6, 3600.0);
/// Smallest and largest f-number that is believed.
const F_NUMBER: (f64, f64) = (0.5, 128.0);
/// Lowest and highest speed that is believed \[ISO\].
const SPEED: (f64, f64) = (1.0, 5e6);
/// The largest number of a short: "this or more".
const SATURATED: f64 = 65_535.0;
/// Largest brightness value that is believed, either way.
const BRIGHTNESS: f64 = 30.0;

/// What a picture was taken with.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Exposure {
    /// Exposure time.
    pub time: Option<ExposureTime>,
    /// F-number.
    pub f_number: Option<FNumber>,
    /// Speed that the camera says it worked at, ISO.
    pub speed: Option<FilmSpeed>,
    /// The speed was only said to be 65 535 or more.
    pub speed_saturated: bool,
}

fn within(value: f64, (least, most): (f64, f64)) -> bool {
    value >= least && value <= most
}

impl Exposure {
    pub(super) fn of(tags: &Tags) -> Self {
        let (speed, speed_saturated) = speed(tags);
        Self { time: time(tags), f_number: f_number(tags), speed, speed_saturated }
    }

    /// From a description that a program wrote. Only good for saying that there was once an original.
    pub(super) fn of_xmp(text: &[u8]) -> Self {
        let number = |name: &str| xmp::number(text, name);
        let checked = |value: Option<f64>, range| value.filter(|value| within(*value, range));
        Self {
            time: checked(number("exif:ExposureTime"), TIME_S).and_then(|t| ExposureTime::new(t).ok()),
            f_number: checked(number("exif:FNumber"), F_NUMBER).and_then(|n| FNumber::new(n).ok()),
            speed: checked(number("exif:ISOSpeedRatings").or_else(|| number("exifEX:PhotographicSensitivity")), SPEED)
                .and_then(|s| FilmSpeed::new(s).ok()),
            speed_saturated: false,
        }
    }

    /// Whether anything is known.
    pub(super) fn is_empty(&self) -> bool {
        self.time.is_none() && self.f_number.is_none() && self.speed.is_none()
    }
}

/// The time itself, else `2^−Tv`.
fn time(tags: &Tags) -> Option<ExposureTime> {
    let plain = tags.number(Tag::ExposureTime).filter(|t| within(*t, TIME_S));
    let apex = || {
        let value = tags.number(Tag::ShutterSpeedValue).filter(|tv| within(*tv, (-12.0, 20.0)))?;
        Some(libm::exp2(-value)).filter(|t| within(*t, TIME_S))
    };
    plain.or_else(apex).and_then(|t| ExposureTime::new(t).ok())
}

/// The f-number itself, else `2^(Av/2)`. Both zero is what a camera writes that knows nothing of its lens.
fn f_number(tags: &Tags) -> Option<FNumber> {
    let plain = tags.number(Tag::FNumber);
    let apex = || {
        let value = tags.number(Tag::ApertureValue)?;
        let unknown = plain == Some(0.0) && value == 0.0;
        if unknown { None } else { Some(libm::exp2(value / 2.0)) }
    };
    let believed = |n: &f64| within(*n, F_NUMBER);
    plain.filter(believed).or_else(apex).filter(believed).and_then(|n| FNumber::new(n).ok())
}

/// The sensitivity; where that is full or missing, the long tags in the order that its kind names them.
fn speed(tags: &Tags) -> (Option<FilmSpeed>, bool) {
    let (output, index, iso) = (Tag::StandardOutputSensitivity, Tag::RecommendedExposureIndex, Tag::ISOSpeed);
    let plain = tags.number(Tag::PhotographicSensitivity).filter(|s| *s > 0.0);
    let order = match tags.whole(Tag::SensitivityType) {
        Some(2) => [index, output, iso],
        Some(3) => [iso, output, index],
        Some(5) => [output, iso, index],
        Some(6) => [index, iso, output],
        _ => [output, index, iso],
    };
    let long = || order.into_iter().find_map(|tag| tags.number(tag).filter(|s| within(*s, SPEED)));
    let speed =
        plain.filter(|s| *s != SATURATED && within(*s, SPEED)).or_else(long).and_then(|s| FilmSpeed::new(s).ok());
    (speed, speed.is_none() && plain == Some(SATURATED))
}

/// APEX brightness, where it can be believed.
pub(super) fn brightness(tags: &Tags) -> Option<f64> {
    tags.number(Tag::BrightnessValue).filter(|value| value.abs() <= BRIGHTNESS)
}

/// Exposure compensation \[stops\], where it can be believed.
pub(super) fn compensation(tags: &Tags) -> Option<f64> {
    tags.number(Tag::ExposureBiasValue).filter(|value| value.abs() <= BRIGHTNESS)
}

#[cfg(test)]
mod tests {
    use super::super::tiff::{self, tests::Entry, tests::block};
    use super::*;

    fn exposure(second: &[Entry], rationals: &[(u32, u32)]) -> Exposure {
        Exposure::of(&tiff::read(&block(&[], second, rationals)).0.expect("tags"))
    }

    #[test]
    fn apex_stands_in_for_what_is_missing() {
        let known = exposure(&[(0x9201, 10, 1, 0), (0x9202, 5, 1, 1)], &[(7, 1), (2, 1)]);
        assert_eq!(known.time.map(ExposureTime::value), Some(1.0 / 128.0));
        assert_eq!(known.f_number.map(FNumber::value), Some(2.0));
        let adapted = exposure(&[(0x829D, 5, 1, 0), (0x9202, 5, 1, 0)], &[(0, 1)]);
        assert_eq!(adapted.f_number, None);
    }

    #[test]
    fn a_full_short_gives_way_to_the_long_tag_that_the_kind_names() {
        let long = [(0x8827, 3, 1, 65_535), (0x8830, 3, 1, 2), (0x8831, 4, 1, 100), (0x8832, 4, 1, 409_600)];
        assert_eq!(exposure(&long, &[]).speed.map(FilmSpeed::value), Some(409_600.0));
        let alone = exposure(&[(0x8827, 3, 1, 65_535)], &[]);
        assert_eq!((alone.speed, alone.speed_saturated), (None, true));
        // A long tag that says the same is a true number.
        let honest = exposure(&[(0x8827, 3, 1, 65_535), (0x8833, 4, 1, 65_535)], &[]);
        assert_eq!((honest.speed.map(FilmSpeed::value), honest.speed_saturated), (Some(65_535.0), false));
    }

    #[test]
    fn nothing_over_nothing_and_what_no_camera_does_are_unknown() {
        for (over, under) in [(0, 0), (1, 0), (0, 5), (4000, 1), (1, u32::MAX)] {
            assert_eq!(exposure(&[(0x829A, 5, 1, 0)], &[(over, under)]).time, None, "{over}/{under}");
        }
        assert!(exposure(&[(0x8827, 3, 1, 0)], &[]).is_empty());
    }
}
