//! JSON text to this crate's shapes and back, in as little code as the page can carry: the derived code of a shape calls into one
//! reader and one writer that are made once for all shapes.
//!
//! `serde_json` would be made anew for every shape, lists for objects included, which made up a third of the page's module. What comes
//! from outside is still looked through by `serde_json` first ([`crate::scan`]), so that this reader needs to be right about sound
//! JSON only. Not here: what the shapes mean.

mod reader;
mod writer;

use core::fmt;

pub(crate) use reader::from_text;
pub(crate) use writer::{to_compact, to_pretty};

/// Why a text was not read, and behind which byte of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct JsonError {
    pub(crate) why: Why,
    /// Bytes up to where it was seen.
    pub(crate) at: usize,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Why {
    /// The text ends within a value.
    Early,
    /// It is no JSON.
    Syntax(&'static str),
    /// It is JSON and does not fit the shape.
    Shape(String),
}

impl JsonError {
    /// Line from 1 and column in bytes, as `serde_json` counts them.
    pub(crate) fn place(&self, text: &str) -> (usize, usize) {
        let before = &text.as_bytes()[..self.at.min(text.len())];
        let line = before.iter().filter(|byte| **byte == b'\n').count() + 1;
        (line, before.iter().rev().take_while(|byte| **byte != b'\n').count())
    }
}

impl fmt::Display for JsonError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.why {
            Why::Early => f.write_str("the text ends too early"),
            Why::Syntax(what) => f.write_str(what),
            Why::Shape(what) => f.write_str(what),
        }
    }
}

impl core::error::Error for JsonError {}

/// Not yet known where: the reader stands there and says so.
const SOMEWHERE: usize = usize::MAX;

impl serde::de::Error for JsonError {
    #[inline(never)]
    fn custom<T: fmt::Display>(what: T) -> Self {
        Self { why: Why::Shape(what.to_string()), at: SOMEWHERE }
    }
}

impl serde::ser::Error for JsonError {
    fn custom<T: fmt::Display>(what: T) -> Self {
        Self { why: Why::Shape(what.to_string()), at: SOMEWHERE }
    }
}

#[cfg(test)]
mod tests;
