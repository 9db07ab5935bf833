//! Openings and scattered light from pictures: pixels of the page's canvas in, plain shapes out.
//!
//! Not here: anything that is worked out (`record` and the rooms below it); decoding a picture, which the browser does.

use record::page::{FoundOpening, GlarePhotos, GlareSample, Hole, PictureAbout};
use record::v1::{GlareMeasured, OpeningShot};
use wasm_bindgen::prelude::*;

use crate::{failed, from_page, to_page};

/// What a picture's file says of itself.
#[wasm_bindgen]
pub fn picture_about(bytes: &[u8]) -> Result<String, JsError> {
    Ok(to_page::<PictureAbout>(&record::picture_about(bytes)))
}

/// How often a picture of this size is averaged down.
#[wasm_bindgen]
pub fn picture_factor(width: u32, height: u32) -> Result<u32, JsError> {
    record::picture_factor(width, height).map_err(failed)
}

/// Light of a strip of a canvas, averaged over squares.
#[wasm_bindgen]
pub fn picture_strip(rgba: &[u8], width: u32, height: u32, factor: u32) -> Result<Vec<f32>, JsError> {
    record::picture_strip(rgba, width, height, factor).map_err(failed)
}

/// The opening about a tap.
#[wasm_bindgen]
pub fn find_opening(
    light: Vec<f32>,
    width: u32,
    height: u32,
    x: f64,
    y: f64,
    shown: &str,
    dial: JsValue,
) -> Result<String, JsError> {
    let dial = from_page::<Vec<String>>(dial)?;
    Ok(to_page::<FoundOpening>(&record::find_opening(light, width, height, (x, y), shown, &dial).map_err(failed)?))
}

/// Photos with their marks and sides guessed.
#[wasm_bindgen]
pub fn guess_openings(openings: JsValue, dial: JsValue) -> Result<String, JsError> {
    let (openings, dial) = (from_page::<Vec<OpeningShot>>(openings)?, from_page::<Vec<String>>(dial)?);
    Ok(to_page::<Vec<OpeningShot>>(&record::guess_openings(openings, &dial).map_err(failed)?))
}

/// The black hole about a tap.
#[wasm_bindgen]
pub fn find_hole(light: Vec<f32>, width: u32, height: u32, x: f64, y: f64, factor: u32) -> Result<String, JsError> {
    Ok(to_page::<Hole>(&record::find_hole(light, width, height, (x, y), factor).map_err(failed)?))
}

/// Light of a hole and its field.
#[wasm_bindgen]
pub fn glare_sample(rgba: &[u8], hole: JsValue, ev100: Option<f64>, name: &str) -> Result<String, JsError> {
    let hole = from_page::<Hole>(hole)?;
    Ok(to_page::<GlareSample>(&record::glare_sample(rgba, &hole, ev100, name).map_err(failed)?))
}

/// What a lens scatters.
#[wasm_bindgen]
pub fn measure_glare(photos: JsValue, now: &str) -> Result<String, JsError> {
    Ok(to_page::<GlareMeasured>(&record::measure_glare(&from_page::<GlarePhotos>(photos)?, now).map_err(failed)?))
}
