//! Sun, sky and screen: light that can be reckoned.
//!
//! Not here: the reckoning (`record` and the rooms below it).

use record::page::{CityChoice, LampView, SunView};
use wasm_bindgen::prelude::*;

use crate::{failed, to_page};

/// Large cities to choose in place of a position.
#[wasm_bindgen]
pub fn cities() -> Result<String, JsError> {
    Ok(to_page::<Vec<CityChoice>>(&record::cities()))
}

/// Sun and sky at a time and place.
#[wasm_bindgen]
pub fn sun_view(at: &str, zone_min: i32, latitude: &str, longitude: &str, sky: &str) -> Result<String, JsError> {
    Ok(to_page::<SunView>(&record::sun_view(at, zone_min, latitude, longitude, sky).map_err(failed)?))
}

/// The screen as a lamp in a place of so many device pixels.
#[wasm_bindgen]
pub fn lamp_view(white: &str, meter_doubt: &str, kind: &str, width_px: u32, height_px: u32) -> Result<String, JsError> {
    Ok(to_page::<LampView>(&record::lamp_view(white, meter_doubt, kind, width_px, height_px).map_err(failed)?))
}
