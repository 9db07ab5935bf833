//! Files of every version, for ever, and files that are no good: what is read, what is refused, and in which words.
//!
//! `v1/` holds a file for each camera of the demo and one with everything in it, as version 1 wrote them: none is ever written
//! again. `bad/` is refused, `tolerated/` is taken with a word. Not here: the values of published tables (`reference`).

mod bad;
mod kept;
mod properties;

use std::path::PathBuf;

fn folder(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("records").join(name)
}

/// The text of a file beside this one.
fn text(name: &str) -> String {
    std::fs::read_to_string(folder(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// The names of the files in a folder beside this one, sorted.
fn names(of: &str) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder(of))
        .unwrap_or_else(|error| panic!("{of}: {error}"))
        .map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned())
        .collect();
    names.sort();
    names
}
