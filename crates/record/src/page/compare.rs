//! Two inspections side by side, as shown.
//!
//! Not here: what counts as a change ([`inspection::compare`]).

use shape::Shape;

/// A comparison.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct ComparisonView {
    /// The earlier one.
    pub before: ComparedSide,
    /// The later one.
    pub after: ComparedSide,
    /// One sentence.
    pub headline: String,
    /// What was measured.
    pub measured: Vec<ChangeView>,
    /// What was looked at and is another than before.
    pub findings: Vec<ChangeView>,
    /// `12 points were found the same on both days.`
    pub same_words: String,
    /// What has to be known.
    pub notices: Vec<String>,
}

/// One of the two.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct ComparedSide {
    /// Id of the inspection.
    pub id: String,
    /// The camera's name.
    pub title: String,
    /// Day of the last change: `2026-03-01`.
    pub day: String,
    /// Key of the outcome.
    pub outcome: String,
    /// The outcome in words.
    pub outcome_words: String,
    /// Fingerprint.
    pub fingerprint: String,
}

/// One thing before and after.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct ChangeView {
    /// `point`, `meter`, `shutter`, `aperture`, `glare`.
    pub about: String,
    /// Key of the point where `about` is `point`, else empty.
    pub point: String,
    /// Key of its area, or empty.
    pub area: String,
    /// `1/1000`.
    pub name: String,
    /// As it was; empty where it was not known.
    pub before: String,
    /// As it is; empty where it is not known.
    pub after: String,
    /// After less before, where both were measured: in stops, or for scattered light as a share.
    pub difference: Option<f64>,
    /// Its standard uncertainty.
    pub standard_uncertainty: Option<f64>,
    /// `changed`, `within_doubt`, `new` or `gone`.
    pub verdict: String,
    /// `no change beyond doubt`.
    pub verdict_words: String,
    /// All of it in a sentence.
    pub sentence: String,
}
