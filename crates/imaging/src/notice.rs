//! What has to be known about a picture beside its outcome: a code for programs, a sentence for people, and how much it weighs.
//!
//! Not here: errors, which mean that there is no outcome at all ([`crate::Error`]).

/// How much a notice weighs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// Good to know; the measurement stands as it is.
    Remark,
    /// The measurement stands, and is to be looked at twice.
    Warning,
    /// This picture cannot be measured.
    Refusal,
}

/// A code, a sentence that a person at a bench can act on, and its weight.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// Lower-case words with low lines: `missing_iso`. Codes are for ever.
    pub code: &'static str,
    /// What it means and what to do.
    pub text: String,
    /// How much it weighs.
    pub weight: Weight,
}

impl Notice {
    /// Good to know.
    pub(crate) fn remark(code: &'static str, text: impl Into<String>) -> Self {
        Self { code, text: text.into(), weight: Weight::Remark }
    }

    /// Look twice.
    pub(crate) fn warning(code: &'static str, text: impl Into<String>) -> Self {
        Self { code, text: text.into(), weight: Weight::Warning }
    }

    /// Cannot be measured.
    pub(crate) fn refusal(code: &'static str, text: impl Into<String>) -> Self {
        Self { code, text: text.into(), weight: Weight::Refusal }
    }
}
