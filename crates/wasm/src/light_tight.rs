//! The bridge for photos of stray light that comes out.
//!
//! Not here: anything that is worked out (`record` and the rooms below it).

use record::page::LeakPicture;
use wasm_bindgen::prelude::*;

use crate::{failed, to_page};

/// Where light comes out: two pictures of the same size, four bytes a pixel, with the lamp on and with it off.
#[wasm_bindgen]
pub fn leak_picture(on: &[u8], off: &[u8], width: u32, height: u32) -> Result<String, JsError> {
    Ok(to_page::<LeakPicture>(&record::leak_picture(on, off, width, height).map_err(failed)?))
}
