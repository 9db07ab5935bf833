//! The bridge between the page's worker and the bench: values in, values out, no arithmetic.
//!
//! Holds free functions only, so that a trap leaves nothing behind and the worker can simply be started again. Structures are
//! plain data of the `record` crate. Not here: anything that is worked out (`record` and the rooms below it), anything of the
//! page (`www`).

mod film;
mod light_tight;
mod photo;
mod pictures;
mod sky;

use record::page::{
    Accepted, ComparisonView, FrameStrips, FrameTable, LevelPreview, Listening, Lists, MeasuredTake, Movie, MovieBox,
    Place, Sheet, TakeAbout, Taken,
};
use record::v1::{Inspection, Level};
use serde::Serialize;
use serde::de::DeserializeOwned;
use wasm_bindgen::prelude::*;

/// Says where a panic came from, in the browser's console.
#[wasm_bindgen(start)]
pub fn start() {
    console_error_panic_hook::set_once();
}

fn failed(error: impl core::fmt::Display) -> JsError {
    JsError::new(&error.to_string())
}

fn from_page<T: DeserializeOwned>(value: JsValue) -> Result<T, JsError> {
    serde_wasm_bindgen::from_value(value).map_err(failed)
}

/// Structures as plain objects, `None` as `null`: what a page can keep and hand back.
fn to_page<T: Serialize>(value: &T) -> Result<JsValue, JsError> {
    value.serialize(&serde_wasm_bindgen::Serializer::json_compatible()).map_err(failed)
}

/// Program and version.
#[wasm_bindgen]
pub fn version() -> String {
    record::PROGRAM.to_owned()
}

/// Every list that the page offers to choose from.
#[wasm_bindgen]
pub fn lists() -> Result<JsValue, JsError> {
    to_page::<Lists>(&record::lists())
}

/// The places of a dial with these marks, between-mark ones included.
#[wasm_bindgen]
pub fn places(marks: JsValue, between: &str, dial: &str) -> Result<JsValue, JsError> {
    let marks: Vec<String> = from_page(marks)?;
    to_page::<Vec<Place>>(&record::places(&marks, between, dial).map_err(failed)?)
}

/// A new inspection of a camera of which only the kind is known; its id is a UUID of version 7.
#[wasm_bindgen]
pub fn new_inspection(kind: &str, now: &str, now_ms: f64) -> Result<JsValue, JsError> {
    to_page::<Accepted>(&record::new_inspection(kind, &new_id(now_ms)?, now).map_err(failed)?)
}

/// An id of version 7, with chance from the browser.
fn new_id(now_ms: f64) -> Result<String, JsError> {
    let mut chance = [0_u8; 10];
    getrandom::fill(&mut chance).map_err(failed)?;
    Ok(uuid::Builder::from_unix_timestamp_millis(now_ms as u64, &chance).into_uuid().to_string())
}

/// Checks an inspection that was changed, works out its result, raises its revision.
#[wasm_bindgen]
pub fn accept(inspection: JsValue, now: &str) -> Result<JsValue, JsError> {
    to_page::<Accepted>(&record::accept(&from_page::<Inspection>(inspection)?, now).map_err(failed)?)
}

/// What the pages of an inspection show; nothing in it is changed.
#[wasm_bindgen]
pub fn view(inspection: JsValue) -> Result<JsValue, JsError> {
    to_page::<Accepted>(&record::view(&from_page::<Inspection>(inspection)?).map_err(failed)?)
}

/// What a level would add to a run, before it is kept.
#[wasm_bindgen]
pub fn preview_level(inspection: JsValue, run_index: usize, level: JsValue) -> Result<JsValue, JsError> {
    let inspection = from_page::<Inspection>(inspection)?;
    let level = from_page::<Level>(level)?;
    to_page::<LevelPreview>(&record::preview_level(&inspection, run_index, &level).map_err(failed)?)
}

/// The sheet of an inspection, block by block.
#[wasm_bindgen]
pub fn sheet(inspection: JsValue, now: &str) -> Result<JsValue, JsError> {
    to_page::<Sheet>(&record::sheet(&from_page::<Inspection>(inspection)?, now).map_err(failed)?)
}

/// A new inspection of the same camera; its id is a UUID of version 7.
#[wasm_bindgen]
pub fn inspect_again(inspection: JsValue, now: &str, now_ms: f64) -> Result<JsValue, JsError> {
    let inspection = from_page::<Inspection>(inspection)?;
    to_page::<Accepted>(&record::inspect_again(&inspection, &new_id(now_ms)?, now).map_err(failed)?)
}

/// Two inspections side by side.
#[wasm_bindgen]
pub fn compare(one: JsValue, other: JsValue) -> Result<JsValue, JsError> {
    let (one, other) = (from_page::<Inspection>(one)?, from_page::<Inspection>(other)?);
    to_page::<ComparisonView>(&record::compare(&one, &other).map_err(failed)?)
}

/// What an inspection file or a bench backup holds.
#[wasm_bindgen]
pub fn read_file(text: &str) -> Result<JsValue, JsError> {
    to_page::<Taken>(&record::read_file(text).map_err(failed)?)
}

/// Whether two inspections hold the same, whatever was worked out from them.
#[wasm_bindgen]
pub fn same(a: JsValue, b: JsValue) -> Result<bool, JsError> {
    Ok(record::same(&from_page::<Inspection>(a)?, &from_page::<Inspection>(b)?))
}

/// The text of an inspection's file.
#[wasm_bindgen]
pub fn write_file(inspection: JsValue) -> Result<String, JsError> {
    record::write_file(&from_page::<Inspection>(inspection)?).map_err(failed)
}

/// The text of a bench backup.
#[wasm_bindgen]
pub fn write_bench(inspections: JsValue, now: &str) -> Result<String, JsError> {
    record::write_bench(&from_page::<Vec<Inspection>>(inspections)?, now).map_err(failed)
}

/// What an inspection's file is called.
#[wasm_bindgen]
pub fn file_name(inspection: JsValue) -> Result<String, JsError> {
    Ok(record::file_name(&from_page::<Inspection>(inspection)?))
}

/// Measures a recording of one or two channels, each a list of samples of full scale 1.
#[wasm_bindgen]
pub fn measure_recording(
    channels: Vec<js_sys::Float32Array>,
    rate_hz: f64,
    about: JsValue,
) -> Result<JsValue, JsError> {
    let channels = channels.iter().map(js_sys::Float32Array::to_vec).collect();
    let about = from_page::<TakeAbout>(about)?;
    to_page::<MeasuredTake>(&record::measure_recording(channels, rate_hz, &about).map_err(failed)?)
}

/// The same from the bytes of a WAV file.
#[wasm_bindgen]
pub fn measure_wav(bytes: &[u8], about: JsValue) -> Result<JsValue, JsError> {
    let about = from_page::<TakeAbout>(about)?;
    to_page::<MeasuredTake>(&record::measure_wav(bytes, &about).map_err(failed)?)
}

/// What is heard in the last few seconds of a take.
#[wasm_bindgen]
pub fn listen(samples: &[f32], rate_hz: f64, about: JsValue) -> Result<JsValue, JsError> {
    let about = from_page::<TakeAbout>(about)?;
    to_page::<Listening>(&record::listen(samples, rate_hz, &about).map_err(failed)?)
}

/// The box of a clip's file that begins with these bytes.
#[wasm_bindgen]
pub fn movie_box(head: &[u8], at: f64, file_size: f64) -> Result<JsValue, JsError> {
    to_page::<MovieBox>(&record::movie_box(head, at, file_size).map_err(failed)?)
}

/// What the box `moov` of a clip says about its frames.
#[wasm_bindgen]
pub fn read_movie(moov: &[u8]) -> Result<JsValue, JsError> {
    to_page::<Movie>(&record::read_movie(moov).map_err(failed)?)
}

/// Linear light of three strips of one frame of a canvas.
#[wasm_bindgen]
pub fn frame_strips(rgba: &[u8], width: u32, height: u32, across: bool) -> Result<JsValue, JsError> {
    to_page::<FrameStrips>(&record::frame_strips(rgba, width, height, across).map_err(failed)?)
}

/// Measures the frames of a clip, the rows of its table one after another: number by number they would take longer to cross than
/// to measure.
#[wasm_bindgen]
pub fn measure_frames(rows: Vec<f64>, clock_step_s: f64, about: JsValue) -> Result<JsValue, JsError> {
    let (table, about) = (FrameTable { rows, clock_step_s }, from_page::<TakeAbout>(about)?);
    to_page::<MeasuredTake>(&record::measure_frames(&table, &about).map_err(failed)?)
}
