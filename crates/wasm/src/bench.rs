//! The bridge for what most pages ask: a camera in hand, what a change leads to.
//!
//! Not here: anything that is worked out (`record` and the rooms below it); the lists to choose from, which are a file beside the page.

use record::page::{Accepted, Dose, DoseAsked, LevelPreview, Place};
use record::v1::{Inspection, Level};
use wasm_bindgen::prelude::*;

use crate::{failed, from_page, to_page};

/// Program and version.
#[wasm_bindgen]
pub fn version() -> String {
    record::PROGRAM.to_owned()
}

/// The places of a dial with these marks, between-mark ones included.
#[wasm_bindgen]
pub fn places(marks: JsValue, between: &str, dial: &str) -> Result<String, JsError> {
    let marks: Vec<String> = from_page(marks)?;
    Ok(to_page::<Vec<Place>>(&record::places(&marks, between, dial).map_err(failed)?))
}

/// A new inspection of a camera of which only the kind is known; its id is a UUID of version 7.
#[wasm_bindgen]
pub fn new_inspection(kind: &str, now: &str, now_ms: f64) -> Result<String, JsError> {
    Ok(to_page::<Accepted>(&record::new_inspection(kind, &new_id(now_ms)?, now).map_err(failed)?))
}

/// A new inspection of the same camera; its id is a UUID of version 7.
#[wasm_bindgen]
pub fn inspect_again(inspection: JsValue, now: &str, now_ms: f64) -> Result<String, JsError> {
    let inspection = from_page::<Inspection>(inspection)?;
    Ok(to_page::<Accepted>(&record::inspect_again(&inspection, &new_id(now_ms)?, now).map_err(failed)?))
}

/// An id of version 7, with chance from the browser.
fn new_id(now_ms: f64) -> Result<String, JsError> {
    let mut chance = [0_u8; 10];
    getrandom::fill(&mut chance).map_err(failed)?;
    Ok(uuid::Builder::from_unix_timestamp_millis(now_ms as u64, &chance).into_uuid().to_string())
}

/// Checks an inspection that was changed, works out its result, raises its revision.
#[wasm_bindgen]
pub fn accept(inspection: JsValue, now: &str) -> Result<String, JsError> {
    Ok(to_page::<Accepted>(&record::accept(from_page::<Inspection>(inspection)?, now).map_err(failed)?))
}

/// What the pages of an inspection show; nothing in it is changed.
#[wasm_bindgen]
pub fn view(inspection: JsValue) -> Result<String, JsError> {
    Ok(to_page::<Accepted>(&record::view(from_page::<Inspection>(inspection)?).map_err(failed)?))
}

/// What a level would add to a run, before it is kept.
#[wasm_bindgen]
pub fn preview_level(inspection: JsValue, run_index: usize, level: JsValue) -> Result<String, JsError> {
    let inspection = from_page::<Inspection>(inspection)?;
    let level = from_page::<Level>(level)?;
    Ok(to_page::<LevelPreview>(&record::preview_level(&inspection, run_index, &level).map_err(failed)?))
}

/// How long a loaded camera may lie before a leak shows.
#[wasm_bindgen]
pub fn dose(asked: JsValue) -> Result<String, JsError> {
    Ok(to_page::<Dose>(&record::dose(&from_page::<DoseAsked>(asked)?).map_err(failed)?))
}
