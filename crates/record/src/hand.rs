//! Shapes as text over the border to the page: the same reader and writer as for the file, so that a shape's code is there once.
//!
//! Not here: which shapes cross it (`wasm`).

use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::error::Error;
use crate::json::{from_text, to_compact};

/// A shape from a text that the page made.
pub fn taken<T: DeserializeOwned>(text: &str) -> Result<T, Error> {
    from_text(text).map_err(|error| Error::new(format!("what was handed over cannot be read: {error}")))
}

/// The text of a shape.
pub fn handed<T: Serialize>(shape: &T) -> Result<String, Error> {
    to_compact(shape).map_err(|error| Error::new(format!("it cannot be handed over: {error}")))
}
