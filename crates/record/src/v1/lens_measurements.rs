//! The lens's measurements of version 1: how much light it scatters, each time it was measured, and the comparison.
//!
//! Not here: how glare is measured (`imaging`), what a difference says ([`inspection`]).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shape::Shape;

use super::TimingNotice;

/// What was measured of the lens's glass.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct LensMeasurements {
    /// Each measurement of scattered light, in the order they were made.
    pub glare: Vec<GlareMeasured>,
}

/// One measurement of scattered light.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct GlareMeasured {
    /// When it was made.
    pub at: String,
    /// What it is of: `before cleaning`, `after cleaning`, or the person's own words.
    pub label: String,
    /// Light of the black hole over that of the field, without what phone and box scatter.
    pub glare_index: f64,
    /// Its standard uncertainty.
    pub standard_uncertainty: f64,
    /// `two-exposure` or `single`.
    pub method: String,
    /// What has to be known about it.
    pub notices: Vec<TimingNotice>,
}

/// The measurements, compared.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct LensComparison {
    /// The last against the first, a sentence.
    pub sentence: String,
    /// `2.1 % ± 0.4 %` for each measurement.
    pub figures: Vec<String>,
    /// What a person should know before trusting it.
    pub notices: Vec<String>,
}
