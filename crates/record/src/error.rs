//! The one public error of this crate: why a file, an inspection or a call was refused.
//!
//! Not here: findings, which travel beside what was read.

use core::fmt;

/// Why something was refused: lower case, names the place, what was given and the limit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Error(String);

impl Error {
    pub(crate) fn new(text: impl Into<String>) -> Self {
        Self(text.into())
    }

    /// The same error with the place where it happened before it.
    pub(crate) fn at(self, place: &str) -> Self {
        Self(format!("{place}: {}", self.0))
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl core::error::Error for Error {}

impl From<inspection::Error> for Error {
    fn from(error: inspection::Error) -> Self {
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

impl From<metrology::Error> for Error {
    fn from(error: metrology::Error) -> Self {
        Self(error.to_string())
    }
}

impl From<timing::Error> for Error {
    fn from(error: timing::Error) -> Self {
        Self(error.to_string())
    }
}
