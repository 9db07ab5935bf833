//! The bridge between the page's worker and the bench: values in, values out, no arithmetic.
//!
//! Built once with each of its features, since a page asks little of most: what is asked stands in the file of its feature. Holds
//! free functions only, so that a trap leaves nothing behind and the worker can simply be started again. Structures are plain data of
//! the `record` crate. Not here: anything that is worked out (`record` and the rooms below it), anything of the
//! page (`www`).

#[cfg(feature = "bench")]
mod bench;
#[cfg(feature = "pictures")]
mod film;
#[cfg(feature = "pictures")]
mod light_tight;
#[cfg(feature = "paper")]
mod paper;
#[cfg(feature = "pictures")]
mod photo;
#[cfg(feature = "pictures")]
mod pictures;
#[cfg(feature = "signals")]
mod signals;
#[cfg(feature = "pictures")]
mod sky;

use record::Value;
use wasm_bindgen::prelude::*;

/// Says where a panic came from, in the browser's console.
#[wasm_bindgen(start)]
pub fn start() {
    console_error_panic_hook::set_once();
}

fn failed(error: impl core::fmt::Display) -> JsError {
    JsError::new(&error.to_string())
}

/// Structures come as plain data and cross as JSON, which the browser itself writes: nothing of a shape is in the module twice.
fn from_page<T: Value + Default>(value: JsValue) -> Result<T, JsError> {
    let text = js_sys::JSON::stringify(&value).map_err(|_| JsError::new("what was handed over is no plain data"))?;
    // What JSON does not know, such as `undefined`, is nothing.
    record::taken(text.as_string().as_deref().unwrap_or("null")).map_err(failed)
}

/// Structures as JSON, `None` as `null`, for the page to read: a text goes to it from the worker whole, where an object that the worker
/// had read would be copied once more, piece by piece.
fn to_page<T: Value>(value: &T) -> String {
    record::handed(value)
}
