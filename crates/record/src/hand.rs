//! Shapes as text over the border to the page: the same reader and writer as for the file, so that a shape's code is there once.
//!
//! Not here: which shapes cross it (`wasm`).

use crate::error::Error;
use crate::json::{Value, from_text, to_compact};

/// A shape from a text that the page made.
pub fn taken<T: Value + Default>(text: &str) -> Result<T, Error> {
    from_text(text).map_err(|error| Error::new(format!("what was handed over cannot be read: {error}")))
}

/// The text of a shape; a number that is not finite is `null` in it.
pub fn handed(shape: &dyn Value) -> String {
    to_compact(shape)
}
