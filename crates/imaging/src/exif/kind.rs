//! What kind of picture it is: why one that was put together, edited or lit by a flash tells nothing of the light, and what else
//! is to be known of it.
//!
//! Not here: the patch ([`crate::luminance`]), the exposure's own tags ([`super::exposure`]).

use ::exif::Tag;

use super::tiff::Tags;
use super::xmp;
use crate::notice::Notice;

/// A digital zoom from here on is spoken of.
const ZOOM: f64 = 1.01;
/// An exposure compensation from here on is spoken of \[stops\].
const COMPENSATION: f64 = 0.05;

/// Looks at the tags.
pub(super) fn of_tags(tags: &Tags, notices: &mut Vec<Notice>) {
    match tags.whole(Tag::CustomRendered) {
        Some(1) => notices.push(Notice::warning(
            "custom_rendered",
            "The phone worked on this picture in a way of its own. Take it again with all effects and filters off, if you can.",
        )),
        Some(2 | 3) => notices.push(Notice::refusal(
            "hdr",
            "This is an HDR picture: its tones were changed by a stop and more. Turn HDR off and take it again.",
        )),
        Some(6) => notices.push(panorama()),
        Some(7 | 8) => notices.push(Notice::refusal(
            "portrait_effect",
            "This picture was taken in portrait mode, which changes its tones. Take it again in the plain photo mode.",
        )),
        _ => {}
    }
    if tags.whole(Tag::SceneCaptureType) == Some(3) {
        notices.push(Notice::refusal(
            "night_mode",
            "This picture was taken in night mode, from several exposures. Turn night mode off and take it again.",
        ));
    }
    if tags.whole(Tag::Flash).is_some_and(|flash| flash & 1 == 1) {
        notices.push(Notice::refusal(
            "flash",
            "The flash fired, so the picture shows the flash and not the light of the place. Turn it off and take it again.",
        ));
    }
    if is_screenshot(tags) {
        notices.push(Notice::refusal(
            "screenshot",
            "This is a screenshot. Choose a photo that the phone's own camera took.",
        ));
    }
    if matches!(tags.whole(Tag::CompositeImage), Some(2 | 3)) {
        notices.push(Notice::warning(
            "composite",
            "The phone put this picture together from several exposures. That is usual and mostly harmless; turn HDR and night \
             mode off to be sure.",
        ));
    }
    if tags.number(Tag::DigitalZoomRatio).is_some_and(|zoom| zoom > ZOOM) {
        notices.push(Notice::warning(
            "digital_zoom",
            "The picture was zoomed digitally. Go nearer with the main lens at 1× and take it again.",
        ));
    }
    if let Some(stops) = super::exposure::compensation(tags).filter(|stops| stops.abs() >= COMPENSATION) {
        notices.push(Notice::remark(
            "exposure_compensation",
            format!(
                "The phone was set to expose {} stop {}. That is in the exposure already and is not counted again; set it \
                 back to 0 for the next picture.",
                metrology::to_decimals(stops.abs(), 1),
                if stops < 0.0 { "under" } else { "over" }
            ),
        ));
    }
}

/// Looks at a description in XMP.
pub(super) fn of_xmp(text: &[u8], notices: &mut Vec<Notice>) {
    if xmp::has(text, "GPano:") {
        notices.push(panorama());
    }
    if xmp::has(text, "crs:") || xmp::has(text, "xmpMM:History") {
        notices.push(Notice::refusal(
            "edited",
            "This picture was edited after it was taken, so its tones are no longer the camera's. Choose the untouched original.",
        ));
    }
    if xmp::has(text, "hdrgm:") {
        notices.push(Notice::remark(
            "hdr_gain_map",
            "The picture carries a second one for bright screens. Only the plain one is measured; HDR off is safer.",
        ));
    }
}

fn panorama() -> Notice {
    Notice::refusal("panorama", "This is a panorama, stitched from several exposures. Take a single photo.")
}

fn is_screenshot(tags: &Tags) -> bool {
    // A comment begins with eight letters that name its alphabet, and may have two bytes to a letter.
    let says = |tag| tags.text(tag).is_some_and(|text| text.replace('\0', "").to_lowercase().contains("screenshot"));
    says(Tag::UserComment)
}
