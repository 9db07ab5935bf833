//! The light-tight part of version 1: what was found at each place of the open back, by finger and by lamp.
//!
//! Not here: where the places are and what follows ([`inspection`]).

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use shape::Shape;

/// The careful look at the seals, and the lamp inside.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct LightTight {
    /// Side of the hinge seen from behind: `right`, `left`, `top`, `bottom`, or empty for the usual side.
    pub hinge: String,
    /// What was found, one entry for each place that was looked at.
    pub places: Vec<PlaceLook>,
    /// The conditions that the look last gave to points of the catalogue.
    pub derived: Vec<Derived>,
}

/// What was found at one place of the open back.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct PlaceLook {
    /// Key of the place in `inspection::drawing::back`.
    pub place: String,
    /// `springy`, `flat`, `sticky`, `crumbling`, `gone`, `not_fitted`, or empty.
    pub feel: String,
    /// What is left on the edge: `none`, `dust`, `smear`, `strings`, or empty.
    pub residue: String,
    /// With a lamp behind it: `dark`, `light` (light comes out here), or empty.
    pub lamp: String,
    /// Length of the seal as typed.
    pub length: String,
    /// The same in millimetres.
    pub length_mm: Option<f64>,
    /// Thickness of the seal as typed.
    pub thickness: String,
    /// The same in millimetres.
    pub thickness_mm: Option<f64>,
}

/// A condition that follows from the look.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct Derived {
    /// Key of the point.
    pub point: String,
    /// Key of the condition.
    pub condition: String,
}

/// What the look comes to.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct LightTightResult {
    /// Place by place: only those that were looked at.
    pub places: Vec<PlaceResult>,
    /// What to fit, a line each.
    pub replace: Vec<String>,
    /// Where the round says otherwise than the look, and what to know, a sentence each.
    pub notices: Vec<String>,
}

/// What the look at one place comes to.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize, JsonSchema, Shape)]
#[serde(default)]
pub struct PlaceResult {
    /// Key of the place.
    pub place: String,
    /// Key of its condition.
    pub condition: String,
    /// The risk in a sentence.
    pub risk: String,
}
