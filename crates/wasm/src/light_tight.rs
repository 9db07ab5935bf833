//! The bridge for stray light: the dose of a leak.
//!
//! Not here: anything that is worked out (`record` and the rooms below it).

use record::page::{Dose, DoseAsked};
use wasm_bindgen::prelude::*;

use crate::{failed, from_page, to_page};

/// How long a loaded camera may lie before a leak shows.
#[wasm_bindgen]
pub fn dose(asked: JsValue) -> Result<JsValue, JsError> {
    to_page::<Dose>(&record::dose(&from_page::<DoseAsked>(asked)?).map_err(failed)?)
}
