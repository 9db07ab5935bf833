//! The one public error of this crate.
//!
//! Not here: notices, which travel beside an outcome.

use core::fmt;

/// Why there is no outcome: lower case, names the quantity, what was given and the limit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Error(String);

impl Error {
    pub(crate) fn new(text: impl Into<String>) -> Self {
        Self(text.into())
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl core::error::Error for Error {}

/// Passes a finite number on and refuses any other by the name of its quantity.
pub(crate) fn finite(value: f64, quantity: &str) -> Result<f64, Error> {
    if value.is_finite() {
        Ok(value)
    } else {
        Err(Error::new(format!("the {quantity} must be a finite number, and {value} was given")))
    }
}
