//! Native results, written for the browser tests that hold the WASM against them to the last bit.
//!
//! Not here: those comparisons (`tests/browser/parity.test.mjs`).

mod inspections;
mod lights;
mod openings;
mod signals;

use std::fs;
use std::path::PathBuf;

/// Writes a file where the browser tests look for it.
fn write(name: &str, text: &str) {
    let target = std::env::var_os("LAMPBLACK_TARGET")
        .or_else(|| std::env::var_os("CARGO_TARGET_DIR"))
        .map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../target"), PathBuf::from);
    let folder = target.join("parity");
    fs::create_dir_all(&folder).expect("a folder");
    fs::write(folder.join(name), text).expect("written");
}

/// A shape as the page is handed it.
fn plain(shape: &dyn record::Value) -> serde_json::Value {
    serde_json::from_str(&record::handed(shape)).expect("JSON")
}
