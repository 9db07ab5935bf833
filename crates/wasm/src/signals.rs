//! The bridge for takes of a shutter: recordings and clips.
//!
//! Not here: anything that is measured (`record` and the rooms below it).

use record::page::{FrameStrips, FrameTable, Listening, MeasuredTake, Movie, MovieBox, TakeAbout};
use wasm_bindgen::prelude::*;

use crate::{failed, from_page, to_page};

/// Measures a recording of one or two channels, each a list of samples of full scale 1.
#[wasm_bindgen]
pub fn measure_recording(channels: Vec<js_sys::Float32Array>, rate_hz: f64, about: JsValue) -> Result<String, JsError> {
    let channels = channels.iter().map(js_sys::Float32Array::to_vec).collect();
    let about = from_page::<TakeAbout>(about)?;
    Ok(to_page::<MeasuredTake>(&record::measure_recording(channels, rate_hz, &about).map_err(failed)?))
}

/// The same from the bytes of a WAV file.
#[wasm_bindgen]
pub fn measure_wav(bytes: &[u8], about: JsValue) -> Result<String, JsError> {
    let about = from_page::<TakeAbout>(about)?;
    Ok(to_page::<MeasuredTake>(&record::measure_wav(bytes, &about).map_err(failed)?))
}

/// What is heard in the last few seconds of a take.
#[wasm_bindgen]
pub fn listen(samples: &[f32], rate_hz: f64, about: JsValue) -> Result<String, JsError> {
    let about = from_page::<TakeAbout>(about)?;
    Ok(to_page::<Listening>(&record::listen(samples, rate_hz, &about).map_err(failed)?))
}

/// The box of a clip's file that begins with these bytes.
#[wasm_bindgen]
pub fn movie_box(head: &[u8], at: f64, file_size: f64) -> Result<String, JsError> {
    Ok(to_page::<MovieBox>(&record::movie_box(head, at, file_size).map_err(failed)?))
}

/// What the box `moov` of a clip says about its frames.
#[wasm_bindgen]
pub fn read_movie(moov: &[u8]) -> Result<String, JsError> {
    Ok(to_page::<Movie>(&record::read_movie(moov).map_err(failed)?))
}

/// Linear light of three strips of one frame of a canvas.
#[wasm_bindgen]
pub fn frame_strips(rgba: &[u8], width: u32, height: u32, across: bool) -> Result<String, JsError> {
    Ok(to_page::<FrameStrips>(&record::frame_strips(rgba, width, height, across).map_err(failed)?))
}

/// Measures the frames of a clip, the rows of its table one after another: number by number they would take longer to cross than
/// to measure.
#[wasm_bindgen]
pub fn measure_frames(rows: Vec<f64>, clock_step_s: f64, about: JsValue) -> Result<String, JsError> {
    let (table, about) = (FrameTable { rows, clock_step_s }, from_page::<TakeAbout>(about)?);
    Ok(to_page::<MeasuredTake>(&record::measure_frames(&table, &about).map_err(failed)?))
}
