//! What can be seen of the house rules: remits, the map, edges between rooms, sizes, words that have no place. Each fault is a
//! sentence that begins with the file and line.
//!
//! Holds the tree that the rules look at; the rules are in the files beside this one. Not here: what clippy, rustfmt and the
//! tests see.

mod map;
mod page;
mod text;

use std::collections::BTreeMap;
use std::fs;

use crate::shapes;
use crate::shell::{command, root};

/// The files of the checkout, by their path from its top.
#[derive(Default)]
struct Tree {
    /// Text files.
    texts: BTreeMap<String, String>,
    /// Sizes of all files in bytes, pictures and the like too.
    sizes: BTreeMap<String, u64>,
}

impl Tree {
    /// Everything that git tracks, or would track.
    fn read() -> Result<Self, String> {
        let listed = command("git", &["ls-files", "-z", "--cached", "--others", "--exclude-standard"])
            .output()
            .map_err(|error| format!("cannot run git: {error}"))?;
        let mut tree = Self::default();
        for name in String::from_utf8_lossy(&listed.stdout).split('\0').filter(|name| !name.is_empty()) {
            // A file that is tracked and was removed is no fault of the tree's.
            if let Ok(bytes) = fs::read(root().join(name)) {
                tree.insert(name, bytes);
            }
        }
        if tree.sizes.is_empty() { Err("git lists no files".to_owned()) } else { Ok(tree) }
    }

    fn insert(&mut self, name: &str, bytes: Vec<u8>) {
        self.sizes.insert(name.to_owned(), bytes.len() as u64);
        if let Ok(text) = String::from_utf8(bytes) {
            self.texts.insert(name.to_owned(), text);
        }
    }

    fn faults(&self) -> Vec<String> {
        let mut faults = Vec::new();
        text::look(self, &mut faults);
        map::look(self, &mut faults);
        page::look(self, &mut faults);
        faults
    }
}

/// Looks at the whole checkout.
pub fn run() -> Result<(), String> {
    let tree = Tree::read()?;
    let mut faults = tree.faults();
    // What was built last must be small enough too.
    faults.extend(crate::size::faults());
    if tree.texts.get(shapes::PLACE) != Some(&shapes::text()?) {
        faults.push(format!("{}: it is not what the record's shapes come to: run 'cargo xtask shapes'", shapes::PLACE));
    }
    match faults.len() {
        0 => Ok(()),
        1 => Err(faults.concat()),
        count => Err(format!("{}\n{count} faults", faults.join("\n"))),
    }
}

/// The ending of a file's name.
fn ending(name: &str) -> &str {
    name.rsplit('/').next().and_then(|last| last.rsplit_once('.')).map_or("", |(_, ending)| ending)
}

#[cfg(test)]
mod tests;
