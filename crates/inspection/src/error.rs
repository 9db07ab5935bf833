//! The one public error of this crate: why there is no outcome.
//!
//! Not here: notices, which travel beside an outcome.

use core::fmt;

/// Why a procedure has no outcome: lower case, names the quantity, what was given and the limit.
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

impl From<metrology::Error> for Error {
    fn from(error: metrology::Error) -> Self {
        Self(error.to_string())
    }
}

impl From<imaging::Error> for Error {
    fn from(error: imaging::Error) -> Self {
        Self::new(error.to_string())
    }
}

impl From<photometry::Error> for Error {
    fn from(error: photometry::Error) -> Self {
        Self(error.to_string())
    }
}
