//! The ladder between versions of the file; version 1 is its only rung so far.
//!
//! When a version 2 comes: `v1.rs` stays as it is for ever, `v2.rs` holds the new shape, a function here takes a v1 to a v2, and
//! [`crate::read`] parses the version that the file names and climbs from there. A file of every version stays in
//! `tests/records/`. Not here: refusing newer versions, which reading does before anything else.

use crate::v1;

/// The shape that the rest of the program works with.
pub type Current = v1::Inspection;
