//! What a picture file says of how it was taken: exposure, which phone and lens, which way up, and whether it may be measured.
//!
//! Read from the original bytes of a JPEG, PNG or HEIF, within bounds, by the notes of CIPA DC-008-2019 (Exif 2.32). Where a
//! picture was taken is cut out of the data before they are read, and has no place in what comes out. Not here: pixels
//! ([`crate::raster`]), light ([`crate::luminance`]).

mod container;
mod exposure;
mod heif;
mod kind;
mod tiff;
mod xmp;

pub use container::Container;
pub use exposure::Exposure;

use ::exif::Tag;

use crate::notice::{Notice, Weight};
use crate::raster::{Orientation, Size};
use crate::transfer::Primaries;
use container::Pieces;
use tiff::{Fault, Tags};

/// Which phone, which of its lenses, and which version of its program: a calibration holds for these.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Phone {
    /// Maker.
    pub maker: Option<String>,
    /// Model.
    pub model: Option<String>,
    /// Lens, in the phone's own words.
    pub lens: Option<String>,
    /// Focal length \[mm\].
    pub focal_length_mm: Option<f64>,
    /// Version of the phone's program.
    pub software: Option<String>,
}

/// How a picture was taken.
#[derive(Clone, Debug, PartialEq)]
pub struct Metadata {
    /// What kind of file it is.
    pub container: Container,
    /// Size of the stored pixels, as the file says.
    pub size: Option<Size>,
    /// Which way up they stand.
    pub orientation: Orientation,
    /// Time, f-number and speed.
    pub exposure: Exposure,
    /// APEX brightness, uncalibrated.
    pub brightness_value: Option<f64>,
    /// Exposure compensation that was set \[stops\].
    pub compensation_stops: Option<f64>,
    /// When it was taken, in the phone's own words and zone: `2024:05:01 12:00:00`.
    pub taken: Option<String>,
    /// Which phone and lens.
    pub phone: Phone,
    /// Which primaries the codes stand for.
    pub primaries: Primaries,
    /// What was noticed, refusals among it.
    pub notices: Vec<Notice>,
}

impl Metadata {
    /// Reads a file's bytes. There is always an answer; what is wrong stands in the notices.
    ///
    /// Time: O(bytes). Memory: one block of at most 1 MiB beside what was handed in.
    pub fn read(bytes: &[u8]) -> Self {
        let pieces = Pieces::of(bytes);
        let mut notices = Vec::new();
        if pieces.container == Container::Other {
            notices.push(unsupported());
        }
        let tags = first_tags(&pieces, &mut notices);
        // What kind of picture it is says more than what is missing in it, so that it is said first.
        if let Some(tags) = &tags {
            kind::of_tags(tags, &mut notices);
        }
        for text in &pieces.xmp {
            kind::of_xmp(text, &mut notices);
        }
        let exposure = exposure(&pieces, tags.as_ref(), &mut notices);
        if pieces.cut_off {
            notices.push(unreadable());
        }
        let size = pieces.size.and_then(|(width, height)| Size::new(width, height).ok());
        if let (Some(tags), Some(size)) = (&tags, size) {
            resampled(tags, size, &mut notices);
        }
        let primaries = primaries(&pieces, &mut notices);
        let mut told = Vec::<Notice>::new();
        // Two descriptions may say the same.
        for notice in notices {
            if !told.iter().any(|other| other.code == notice.code) {
                told.push(notice);
            }
        }
        Self {
            container: pieces.container,
            size,
            orientation: tags
                .as_ref()
                .and_then(|tags| tags.whole(Tag::Orientation))
                .map_or(Orientation::UPRIGHT, Orientation::from_tag),
            exposure,
            brightness_value: tags.as_ref().and_then(exposure::brightness),
            compensation_stops: tags.as_ref().and_then(exposure::compensation),
            taken: tags.as_ref().and_then(|tags| tags.text(Tag::DateTimeOriginal)),
            phone: tags.as_ref().map_or_else(Phone::default, Phone::of),
            primaries,
            notices: told,
        }
    }

    /// Why the picture cannot be measured whatever its pixels are; nothing where it can.
    pub fn refusals(&self) -> impl Iterator<Item = &Notice> {
        self.notices.iter().filter(|notice| notice.weight == Weight::Refusal)
    }
}

impl Phone {
    fn of(tags: &Tags) -> Self {
        Self {
            maker: tags.text(Tag::Make),
            model: tags.text(Tag::Model),
            lens: tags.text(Tag::LensModel),
            focal_length_mm: tags.number(Tag::FocalLength).filter(|mm| *mm > 0.0 && *mm <= 10_000.0),
            software: tags.text(Tag::Software),
        }
    }

    /// Whether both are the same lens of the same model: maker, model, lens and focal length to a hundredth of a millimetre.
    pub fn same_lens(&self, other: &Phone) -> bool {
        let hundredths = |phone: &Phone| phone.focal_length_mm.map(|mm| (mm * 100.0).round() as i64);
        self.maker == other.maker
            && self.model == other.model
            && self.lens == other.lens
            && hundredths(self) == hundredths(other)
    }
}

pub(crate) fn unsupported() -> Notice {
    Notice::refusal(
        "unsupported_container",
        "This is no picture that can be opened here. Choose a JPEG: the phone's camera settings have a choice for it, often \
         named \"most compatible\".",
    )
}

pub(crate) fn unreadable() -> Notice {
    Notice::refusal(
        "pixels_unreadable",
        "The picture is damaged or was not copied to its end. Choose the original, or take it again.",
    )
}

/// The tags of the first block that has any; what is wrong with the blocks is said only where none has.
fn first_tags(pieces: &Pieces<'_>, notices: &mut Vec<Notice>) -> Option<Tags> {
    let mut faults = Vec::new();
    let mut found = None;
    for block in &pieces.tiff {
        let (tags, fault) = tiff::read(block);
        faults.extend(fault);
        if tags.is_some() {
            found = tags.map(|tags| (tags, fault));
            break;
        }
    }
    let fault = match &found {
        Some((_, fault)) => *fault,
        None => faults.first().copied(),
    };
    match fault {
        Some(Fault::ByteOrder) => notices.push(Notice::warning(
            "tiff_bad_order",
            "The exposure data of this picture are damaged at their beginning. Choose the original from the phone's library.",
        )),
        Some(Fault::OutOfRange) => notices.push(Notice::warning(
            "ifd_out_of_range",
            "A part of this picture's exposure data is missing. Choose the original from the phone's library.",
        )),
        None => {}
    }
    found.map(|(tags, _)| tags)
}

fn exposure(pieces: &Pieces<'_>, tags: Option<&Tags>, notices: &mut Vec<Notice>) -> Exposure {
    if tags.is_none() && pieces.tiff.is_empty() {
        let described = pieces.xmp.iter().map(|text| Exposure::of_xmp(text)).find(|exposure| !exposure.is_empty());
        notices.push(match described {
            Some(_) => Notice::refusal(
                "xmp_only",
                "A program wrote this picture anew and kept only a description of it. Choose the untouched original.",
            ),
            None => Notice::refusal(
                "no_exif",
                "This picture has no exposure data: choose the original from the phone's library, not a fresh shot taken \
                 through the page, a screenshot, or a picture that a messenger has passed on.",
            ),
        });
        return described.unwrap_or_default();
    }
    let exposure = tags.map(Exposure::of).unwrap_or_default();
    let missing = |code, what: &str| {
        let text = format!(
            "This picture does not say its {what}: choose the original from the phone's library, taken with its own camera app."
        );
        Notice::refusal(code, text)
    };
    if exposure.time.is_none() {
        notices.push(missing("missing_exposure_time", "exposure time"));
    }
    if exposure.f_number.is_none() {
        notices.push(missing("missing_fnumber", "f-number"));
    }
    if exposure.speed_saturated {
        notices.push(Notice::refusal(
            "iso_saturated",
            "The speed in this picture is only \"65535 or more\". Take it again in more light, or choose a lower ISO.",
        ));
    }
    if exposure.speed.is_none() {
        notices.push(missing("missing_iso", "speed (ISO)"));
    }
    exposure
}

/// The pixels that the camera says it made, against those that are there; a program may have turned them.
fn resampled(tags: &Tags, size: Size, notices: &mut Vec<Notice>) {
    let said = (tags.whole(Tag::PixelXDimension), tags.whole(Tag::PixelYDimension));
    let (Some(width), Some(height)) = said else { return };
    let stored = (size.width(), size.height());
    if width > 0 && height > 0 && stored != (width, height) && stored != (height, width) {
        notices.push(Notice::warning(
            "resampled",
            format!(
                "The camera took {width} × {height} pixels and the file has {} × {}: it was made smaller or cut, which can \
                 change its tones. Choose the original.",
                stored.0, stored.1
            ),
        ));
    }
}

fn primaries(pieces: &Pieces<'_>, notices: &mut Vec<Notice>) -> Primaries {
    let Some(profile) = pieces.profile else { return Primaries::Srgb };
    // The name stands near the beginning, in letters of one or of two bytes.
    let head = profile.get(..4096).unwrap_or(profile);
    let plain: Vec<u8> = head.iter().copied().filter(|byte| *byte != 0).collect();
    let has = |name: &str| plain.windows(name.len()).any(|word| word.eq_ignore_ascii_case(name.as_bytes()));
    if has("Display P3") || has("DCI(P3)") {
        return Primaries::DisplayP3;
    }
    if !has("sRGB") {
        notices.push(Notice::remark(
            "colour_profile_unknown",
            "The picture has a colour profile that is not known here and was read as sRGB. For a grey or white patch that \
             makes little difference.",
        ));
    }
    Primaries::Srgb
}

#[cfg(test)]
mod tests;
