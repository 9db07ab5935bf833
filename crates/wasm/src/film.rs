//! The bridge for photos of strips of film: light averaged by the page in, what a frame shows out.
//!
//! Not here: anything that is worked out (`record` and the rooms below it); decoding a picture, which the browser does.

use record::page::FilmRead;
use record::v1::RollWall;
use wasm_bindgen::prelude::*;

use crate::{failed, to_page};

/// How often a photo is averaged down, from the gate's corners in its own pixels, x and y by turns.
#[wasm_bindgen]
pub fn film_factor(corners_px: &[f64]) -> Result<u32, JsError> {
    record::film_factor(corners_px).map_err(failed)
}

/// Whether a film has a colour negative's mask, from a small view of its photo.
#[wasm_bindgen]
pub fn film_masked(rgba: &[u8], width: u32, height: u32, corners_px: &[f64]) -> Result<bool, JsError> {
    record::film_masked(rgba, width, height, corners_px).map_err(failed)
}

/// A blank frame.
#[wasm_bindgen]
pub fn read_blank(
    light: Vec<f32>,
    width: u32,
    height: u32,
    corners_px: &[f64],
    film: &str,
    masked: bool,
    now: &str,
) -> Result<String, JsError> {
    let read = record::read_blank(light, (width, height), corners_px, film, masked, now).map_err(failed)?;
    Ok(to_page::<FilmRead>(&read))
}

/// One photo of a wall, laid out.
#[wasm_bindgen]
pub fn lay_out_wall(light: Vec<f32>, width: u32, height: u32, corners_px: &[f64]) -> Result<Vec<f32>, JsError> {
    record::lay_out_wall(light, width, height, corners_px).map_err(failed)
}

/// A wall from one to four photos that were laid out; those that were not taken are empty.
#[wasm_bindgen]
pub fn read_wall(
    main: Vec<f32>,
    minus_one: Vec<f32>,
    plus_one: Vec<f32>,
    turned: Vec<f32>,
    travel: &str,
    now: &str,
) -> Result<String, JsError> {
    Ok(to_page::<RollWall>(&record::read_wall(main, minus_one, plus_one, turned, travel, now).map_err(failed)?))
}
