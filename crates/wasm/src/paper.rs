//! The bridge for what leaves the bench or comes back to it: the sheet, files, backups.
//!
//! Not here: anything that is worked out (`record` and the rooms below it).

use record::page::{ComparisonView, Sheet, Taken};
use record::v1::Inspection;
use wasm_bindgen::prelude::*;

use crate::{failed, from_page, to_page};

/// The sheet of an inspection, block by block.
#[wasm_bindgen]
pub fn sheet(inspection: JsValue, now: &str) -> Result<String, JsError> {
    Ok(to_page::<Sheet>(&record::sheet(&from_page::<Inspection>(inspection)?, now).map_err(failed)?))
}

/// Two inspections side by side.
#[wasm_bindgen]
pub fn compare(one: JsValue, other: JsValue) -> Result<String, JsError> {
    let (one, other) = (from_page::<Inspection>(one)?, from_page::<Inspection>(other)?);
    Ok(to_page::<ComparisonView>(&record::compare(&one, &other).map_err(failed)?))
}

/// What an inspection file or a bench backup holds.
#[wasm_bindgen]
pub fn read_file(text: &str) -> Result<String, JsError> {
    Ok(to_page::<Taken>(&record::read_file(text).map_err(failed)?))
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
