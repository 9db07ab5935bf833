//! The round as the page shows it: its steps with how far each is.
//!
//! Not here: how a step comes about (`inspection::round`).

use shape::Shape;

/// A step of the round.
#[derive(Clone, Debug, Default, PartialEq, Shape)]
pub struct StepView {
    /// `identity`, the key of an area, `marked-times` or `meter-run`.
    pub key: String,
    /// Name.
    pub name: String,
    /// `3 of 8`, `not yet`.
    pub state: String,
    /// Whether nothing of it is left.
    pub done: bool,
    /// What is left of it in seconds.
    pub left_s: u32,
    /// Keys of the points that are looked at meanwhile.
    pub meanwhile: Vec<String>,
}
