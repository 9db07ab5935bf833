//! The bridge for stray light: the dose of a leak, and photos of the outside.
//!
//! Not here: anything that is worked out (`record` and the rooms below it).

use record::page::{Dose, DoseAsked, LeakPicture};
use wasm_bindgen::prelude::*;

use crate::{failed, from_page, to_page};

/// How long a loaded camera may lie before a leak shows.
#[wasm_bindgen]
pub fn dose(asked: JsValue) -> Result<JsValue, JsError> {
    to_page::<Dose>(&record::dose(&from_page::<DoseAsked>(asked)?).map_err(failed)?)
}

/// Where light comes out: two pictures of the same size, four bytes a pixel, with the lamp on and with it off.
#[wasm_bindgen]
pub fn leak_picture(on: &[u8], off: &[u8], width: u32, height: u32) -> Result<JsValue, JsError> {
    to_page::<LeakPicture>(&record::leak_picture(on, off, width, height).map_err(failed)?)
}
