//! Photos: what a file says of itself, the light of a patch strip by strip, a phone's calibration.
//!
//! Not here: how any of it is worked out (`record` and the rooms below it).

use record::page::{CalibrationEntry, LiveView, PatchSums, PhoneCalibration, PhotoHead, PhotoLight};
use wasm_bindgen::prelude::*;

use crate::{failed, from_page, to_page};

/// What the original bytes of a photo say.
#[wasm_bindgen]
pub fn photo_head(bytes: &[u8]) -> Result<String, JsError> {
    Ok(to_page::<PhotoHead>(&record::photo_head(bytes)))
}

/// Adds a strip of the upright picture to what was added up of a patch.
#[wasm_bindgen]
pub fn photo_strip(before: JsValue, rgba: &[u8], width: u32, left: u32, top: u32) -> Result<String, JsError> {
    let before = from_page::<PatchSums>(before)?;
    Ok(to_page::<PatchSums>(&record::photo_strip(&before, rgba, width, left, top).map_err(failed)?))
}

/// The light of a patch, by the phone's calibration where there is one.
#[wasm_bindgen]
pub fn photo_light(bytes: &[u8], patch: JsValue, calibration: JsValue) -> Result<String, JsError> {
    let patch = from_page::<Option<PatchSums>>(patch)?;
    let calibration = from_page::<Option<PhoneCalibration>>(calibration)?;
    Ok(to_page::<PhotoLight>(&record::photo_light(bytes, patch.as_ref(), calibration.as_ref()).map_err(failed)?))
}

/// How much brighter a patch is than it was, with the exposure locked.
#[wasm_bindgen]
pub fn patch_difference(before: JsValue, now: JsValue) -> Result<String, JsError> {
    let (before, now) = (from_page::<PatchSums>(before)?, from_page::<PatchSums>(now)?);
    Ok(to_page::<LiveView>(&record::patch_difference(&before, &now).map_err(failed)?))
}

/// A phone's calibration from photos beside a trusted meter.
#[wasm_bindgen]
pub fn calibrate_phone(
    entries: JsValue,
    meter_doubt: &str,
    phone: &str,
    against: &str,
    now: &str,
) -> Result<String, JsError> {
    let entries = from_page::<Vec<CalibrationEntry>>(entries)?;
    let made = record::calibrate_phone(&entries, meter_doubt, phone, against, now).map_err(failed)?;
    Ok(to_page::<PhoneCalibration>(&made))
}

/// What the calibrations of one phone and lens say of one another.
#[wasm_bindgen]
pub fn calibration_history(entries: JsValue) -> Result<String, JsError> {
    let entries = from_page::<Vec<PhoneCalibration>>(entries)?;
    Ok(to_page::<Vec<String>>(&record::calibration_history(&entries).map_err(failed)?))
}
