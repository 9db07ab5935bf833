//! JSON text to this crate's shapes and back, in as little code as the page can carry: one reader and one writer, made once, ask a
//! shape for its fields by number.
//!
//! Code that a compiler makes anew for every shape made up a third of the page's module. What comes from outside is still looked
//! through by `serde_json` first ([`crate::scan`]), so that this reader needs to be right about sound JSON only. The shapes derive
//! `serde`'s traits too: for the schema, for the shell's answers, and for the tests that hold this against `serde_json`.
//! Not here: what the shapes mean.

mod reader;
mod value;
mod writer;

use core::fmt;

pub use reader::Reader;
pub(crate) use reader::from_text;
pub use value::Value;
pub(crate) use value::{About, Shape};
pub use writer::Writer;
pub(crate) use writer::{to_compact, to_pretty};

/// Why a text was not read, and behind which byte of it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JsonError {
    pub(crate) why: Why,
    /// Bytes up to where it was seen.
    pub(crate) at: usize,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Why {
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

#[cfg(test)]
mod tests;
