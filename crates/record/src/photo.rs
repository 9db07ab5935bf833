//! From a photo's bytes and pixels to the light of a patch, and from photos beside a trusted meter to a phone's calibration.
//!
//! Pixels come upright and as sRGB, as a canvas has them. Not here: how a photo is read (`imaging`), where calibrations are kept
//! (the page).

use imaging::Notice;
use imaging::exif::{Metadata, Phone};
use imaging::luminance::{Calibration, CalibrationPhoto, Photo, Pixels, Setup, assess, brighter, calibrate, history};
use imaging::raster::{Layout, Region, Size, Sums, Tally, View};
use imaging::transfer::{Curve, Primaries, Transfer};
use inspection::words;
use metrology::Estimate;

use crate::convert::decimal;
use crate::error::Error;
use crate::page::{
    CalibrationEntry, DoubtPart, LiveView, PaperLight, PatchSums, PhoneCalibration, PhotoHead, PhotoLight, PhotoPatch,
};

fn texts(notices: &[Notice]) -> Vec<String> {
    notices.iter().map(|notice| notice.text.clone()).collect()
}

/// `Halden · H1 · main lens 5.4 mm`: the same for every photo by this phone's lens.
fn phone(phone: &Phone) -> String {
    let focal = phone.focal_length_mm.map(|mm| format!("{} mm", metrology::to_decimals(mm, 1)));
    let parts = [phone.maker.clone(), phone.model.clone(), phone.lens.clone(), focal];
    let parts: Vec<String> = parts.into_iter().flatten().map(|part| part.trim().to_owned()).collect();
    parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" · ")
}

/// What the original bytes of a file say. There is always an answer; what is wrong stands in it.
pub fn photo_head(bytes: &[u8]) -> PhotoHead {
    let metadata = Metadata::read(bytes);
    let size = metadata.size.map(|size| metadata.orientation.upright(size));
    let exposure = &metadata.exposure;
    let said = [
        exposure.f_number.map(|n| format!("f/{}", metrology::to_decimals(n.value(), 1))),
        exposure.time.map(|time| inspection::shutter::time(time.value())),
        exposure.speed.map(|speed| format!("ISO {}", metrology::to_decimals(speed.value(), 0))),
    ];
    PhotoHead {
        width_px: size.map_or(0, Size::width),
        height_px: size.map_or(0, Size::height),
        phone: phone(&metadata.phone),
        exposure_words: said.into_iter().flatten().collect::<Vec<_>>().join(", "),
        refusals: metadata.refusals().map(|notice| notice.text.clone()).collect(),
    }
}

fn transfer() -> Transfer {
    Transfer::new(Curve::Srgb, Primaries::Srgb)
}

fn region(patch: &PhotoPatch) -> Region {
    let &PhotoPatch { x, y, width, height } = patch;
    Region { x, y, width: width.max(1), height: height.max(1) }
}

fn sums(entry: &PatchSums) -> Sums {
    Sums {
        light: entry.light.clone(),
        counts: entry.counts.iter().map(|count| u64::from(*count)).collect(),
        clipped: u64::from(entry.clipped),
        black: u64::from(entry.black),
    }
}

fn tally(entry: &PatchSums) -> Result<Tally, Error> {
    let region = region(&entry.patch);
    if entry.light.is_empty() {
        return Ok(Tally::new(region, transfer()));
    }
    Ok(Tally::resume(region, transfer(), &sums(entry))?)
}

/// Adds a strip of the upright picture whose first pixel lies at a column and row of it. Pixels are turned to light before they are
/// averaged. **Errors** where the bytes are not of that size, or what was added up before is not of this patch.
pub fn photo_strip(before: &PatchSums, rgba: &[u8], width: u32, left: u32, top: u32) -> Result<PatchSums, Error> {
    let row = width as usize * Layout::Rgba.bytes();
    let rows = rgba.len().checked_div(row).unwrap_or(0);
    let size = Size::new(width, u32::try_from(rows).unwrap_or(0))?;
    let mut tally = tally(before)?;
    tally.strip(&View::new(size, Layout::Rgba, rgba)?, left, top);
    let after = tally.sums();
    let count = |count: u64| u32::try_from(count).unwrap_or(u32::MAX);
    Ok(PatchSums {
        patch: before.patch.clone(),
        light: after.light,
        counts: after.counts.into_iter().map(count).collect(),
        clipped: count(after.clipped),
        black: count(after.black),
    })
}

fn kept(entry: &PhoneCalibration) -> Result<Calibration, Error> {
    let offset = Estimate::new(entry.offset_stops, entry.standard_uncertainty_stops, f64::INFINITY)?;
    let calibration = Calibration::new(offset, entry.tone_slope)?;
    Ok(Calibration { brightness_difference_stops: entry.brightness_difference_stops, ..calibration })
}

/// The light of a patch of a photo; without its sums, of a picture that could not be opened. A calibration of another phone or lens
/// is not used.
pub fn photo_light(
    bytes: &[u8],
    patch: Option<&PatchSums>,
    calibration: Option<&PhoneCalibration>,
) -> Result<PhotoLight, Error> {
    let metadata = Metadata::read(bytes);
    let own = calibration.filter(|entry| !entry.phone.is_empty() && entry.phone == phone(&metadata.phone));
    let setup = Setup { calibration: own.map(kept).transpose()?, ..Setup::default() };
    let pixels = match patch {
        Some(entry) => Pixels::Patch(tally(entry)?.finish()?),
        None => Pixels::Unreadable,
    };
    Ok(said(&assess(&metadata, &pixels, &setup)?))
}

/// The light on plain white paper, as it goes into fields.
fn on_paper(reading: &imaging::luminance::Reading) -> Option<PaperLight> {
    let (lux, doubt) = reading.on_white_paper().ok()?;
    // Three figures, whatever its size: a leak's light may be a millionth of a room's.
    let decimals = (0..12).scan(lux.value(), |shown, d| {
        let now = *shown;
        *shown *= 10.0;
        Some((d, now))
    });
    let decimals = decimals.into_iter().find(|(_, shown)| *shown >= 100.0).map_or(12, |(d, _)| d);
    let illuminance = metrology::to_decimals(lux.value(), decimals);
    let factor = metrology::student_factor(0.95, f64::INFINITY).unwrap_or(1.96);
    let words = format!("{illuminance} lx ±{} stop", words::doubt(doubt.value() * factor));
    Some(PaperLight { illuminance, doubt: metrology::to_decimals(doubt.value(), 2), words })
}

fn said(photo: &Photo) -> PhotoLight {
    let told = PhotoLight { refusals: texts(&photo.reasons), notices: texts(&photo.notices), ..PhotoLight::default() };
    let Some(reading) = &photo.reading else { return told };
    let (shared, each) = reading.shared_and_each();
    let factor = metrology::student_factor(0.95, f64::INFINITY).unwrap_or(1.96);
    let mut parts = reading.doubt.contributions.clone();
    parts.sort_by(|a, b| b.standard_uncertainty.total_cmp(&a.standard_uncertainty));
    let light = reading.luminance.value();
    let decimals =
        [(100.0, 0), (10.0, 1), (1.0, 2)].iter().find(|(from, _)| light >= *from).map_or(3, |(_, decimals)| *decimals);
    PhotoLight {
        ev_words: words::ev(reading.ev100.value()),
        doubt_words: format!("±{} stop", words::doubt(reading.ev100.expanded_95())),
        luminance_words: format!("{} cd/m²", metrology::to_decimals(light, decimals)),
        on_paper: on_paper(reading),
        parts: parts
            .iter()
            .filter(|part| part.standard_uncertainty > 0.005)
            .map(|part| DoubtPart {
                name: part.name.clone(),
                words: format!("±{} stop", words::doubt(part.standard_uncertainty * factor)),
            })
            .collect(),
        typed: metrology::to_decimals(reading.ev100.value(), 2),
        each_doubt_stops: each,
        shared_doubt_stops: shared,
        settings_ev100: reading.settings_ev100,
        tone_stops: reading.tone_stops,
        brightness_difference_stops: reading.brightness_difference_stops,
        ..told
    }
}

/// How much brighter a patch is than it was, in words, with the exposure locked: `1.0 stop brighter ±0.5`.
///
/// **Errors** where either is burnt out, nearly black, or not whole.
pub fn patch_difference(before: &PatchSums, now: &PatchSums) -> Result<LiveView, Error> {
    let found = brighter(&tally(before)?.finish()?, &tally(now)?.finish()?)?;
    let stops = found.value();
    let size = metrology::to_decimals(stops.abs(), 1);
    let said = match size.as_str() {
        "0.0" => "no difference".to_owned(),
        _ => {
            let unit = if stops.abs() > 1.0 + 1e-9 { "stops" } else { "stop" };
            format!("{size} {unit} {}", if stops > 0.0 { "brighter" } else { "darker" })
        }
    };
    Ok(LiveView { words: said, doubt_words: format!("±{}", words::doubt(found.expanded_95())) })
}

/// A phone's calibration from photos beside a trusted meter, whose own doubt is typed in stops.
///
/// **Errors** where no photo has a reading beside it, or what comes out is beyond belief.
pub fn calibrate_phone(
    entries: &[CalibrationEntry],
    meter_doubt: &str,
    phone: &str,
    against: &str,
    at: &str,
) -> Result<PhoneCalibration, Error> {
    let doubt = decimal(meter_doubt, "doubt of the trusted meter")?;
    let photos = entries
        .iter()
        .map(|entry| {
            let reference = match entry.typed.trim() {
                "" => None,
                text => Some(Estimate::new(decimal(text, "EV by the trusted meter")?, doubt, f64::INFINITY)?),
            };
            let CalibrationEntry { settings_ev100, tone_stops, brightness_difference_stops, .. } = *entry;
            Ok(CalibrationPhoto::again(settings_ev100, tone_stops, brightness_difference_stops, reference)?)
        })
        .collect::<Result<Vec<_>, Error>>()?;
    let found = calibrate(&photos)?;
    let offset = found.calibration.offset;
    Ok(PhoneCalibration {
        phone: phone.to_owned(),
        at: at.to_owned(),
        against: against.to_owned(),
        offset_stops: offset.value(),
        standard_uncertainty_stops: offset.standard_uncertainty(),
        tone_slope: found.calibration.tone_slope,
        brightness_difference_stops: found.calibration.brightness_difference_stops,
        photos: u32::try_from(found.photos).unwrap_or(u32::MAX),
        words: calibration_words(offset, found.photos),
        notices: texts(&found.notices),
    })
}

/// `photos read 0.3 stop too low, ±0.2, from three photos`.
fn calibration_words(offset: Estimate, photos: usize) -> String {
    let size = metrology::to_decimals(offset.value().abs(), 2);
    let side = if offset.value() > 0.0 { "too low" } else { "too high" };
    format!(
        "photos read {size} stop {side}, ±{}, from {}",
        words::doubt(offset.expanded_95()),
        words::count(photos, "photo", "photos")
    )
}

/// What the calibrations of one phone and lens say of one another, from the oldest to the latest; empty with fewer than two.
pub fn calibration_history(entries: &[PhoneCalibration]) -> Result<Vec<String>, Error> {
    let offsets = entries.iter().map(|entry| kept(entry).map(|own| own.offset)).collect::<Result<Vec<_>, _>>()?;
    let Some(history) = history(&offsets) else { return Ok(Vec::new()) };
    let mut said = vec![format!(
        "{}, {} stop apart (standard deviation).",
        words::sentence_case(&words::count(history.count, "calibration", "calibrations")),
        metrology::to_decimals(history.spread_stops, 2)
    )];
    said.extend(texts(&history.notices));
    Ok(said)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Half black, half white: a half in light, not 0.214 as the code in the middle would have it.
    #[test]
    fn light_is_averaged_and_not_codes() {
        let rgba: Vec<u8> = (0..64).flat_map(|i| if i % 2 == 0 { [0, 0, 0, 255] } else { [255; 4] }).collect();
        let empty = PatchSums { patch: PhotoPatch { x: 0, y: 0, width: 8, height: 8 }, ..PatchSums::default() };
        let whole = photo_strip(&empty, &rgba, 8, 0, 0).expect("one strip");
        let light = tally(&whole).expect("a tally").finish().expect("a patch");
        assert!((light.mean - 0.5).abs() < 1e-12, "{}", light.mean);
        // In two strips it is the same to the bit.
        let upper = photo_strip(&empty, &rgba[..128], 8, 0, 0).expect("a strip");
        assert_eq!(photo_strip(&upper, &rgba[128..], 8, 0, 4).expect("a strip"), whole);
        // A part of it is no patch yet, and what is not of this patch is refused.
        assert!(tally(&upper).expect("a tally").finish().is_err());
        assert!(photo_strip(&PatchSums { light: vec![1.0], counts: vec![1], ..empty }, &rgba, 8, 0, 0).is_err());
        assert!(photo_strip(&whole, &rgba[..7], 8, 0, 0).is_err());
    }

    #[test]
    fn a_calibration_holds_for_its_phone_only() {
        let entries = [CalibrationEntry {
            settings_ev100: 9.0,
            tone_stops: 0.0,
            typed: "10.0".to_owned(),
            ..CalibrationEntry::default()
        }];
        let made = calibrate_phone(&entries, "0.1", "H1", "a meter", "2026-03-01T09:30:00Z").expect("a calibration");
        assert!(made.photos == 1 && made.words.contains("too low") && made.standard_uncertainty_stops > 0.1);
        assert!(calibrate_phone(&[], "0.1", "H1", "", "").is_err());
        assert!(calibrate_phone(&entries, "x", "H1", "", "").is_err());
        let history =
            calibration_history(&[made.clone(), PhoneCalibration { offset_stops: made.offset_stops + 2.0, ..made }])
                .expect("a history");
        assert!(history.len() == 2 && history[0].starts_with("Two calibrations"), "{history:?}");
    }
}
