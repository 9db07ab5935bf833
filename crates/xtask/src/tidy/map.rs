//! The map in the contributor's guide, held against the tree: rooms, edges between crates, what the top of the checkout holds.
//!
//! The guide is the only list of rooms and edges; this reads it. Not here: imports between rooms of the page
//! ([`super::page`]), where the guide says only what each must never know.

use std::collections::{BTreeMap, BTreeSet};

use super::Tree;

const GUIDE: &str = "DEVELOPERS.md";
/// What the top of the checkout holds besides files whose name begins with a dot.
const TOP: [&str; 10] = [
    "Cargo.lock",
    "Cargo.toml",
    "DEVELOPERS.md",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "README.md",
    "crates",
    "demo",
    "tests",
    "www",
];
const TESTS_BYTES: u64 = 8 * 1024 * 1024;
const COMPILED: [&str; 5] = ["wasm", "rlib", "so", "o", "exe"];

pub(super) fn look(tree: &Tree, faults: &mut Vec<String>) {
    top(tree, faults);
    rooms(tree, faults);
    edges(tree, faults);
}

fn top(tree: &Tree, faults: &mut Vec<String>) {
    let there: BTreeSet<&str> = tree.sizes.keys().filter_map(|name| name.split('/').next()).collect();
    for name in there.iter().filter(|name| !TOP.contains(name) && !name.starts_with('.')) {
        faults.push(format!("{name}:1: not among what the top of the checkout holds"));
    }
    for name in TOP.iter().filter(|name| !there.contains(**name)) {
        faults.push(format!("{name}:1: the top of the checkout lacks it"));
    }
    for name in tree.sizes.keys() {
        if COMPILED.contains(&super::ending(name)) || name.split('/').any(|part| part == "node_modules") {
            faults.push(format!("{name}:1: what can be built or installed is never kept"));
        }
    }
    let tests: u64 = tree.sizes.iter().filter(|(name, _)| name.starts_with("tests/")).map(|(_, size)| size).sum();
    if tests > TESTS_BYTES {
        faults.push(format!("tests:1: {tests} bytes, and at most {TESTS_BYTES} are kept"));
    }
}

/// Rooms on the map that are not in the tree, and the other way round.
fn rooms(tree: &Tree, faults: &mut Vec<String>) {
    let guide = tree.texts.get(GUIDE).map_or("", String::as_str);
    let mapped: BTreeMap<&str, usize> = guide
        .lines()
        .enumerate()
        .filter_map(|(at, line)| Some((line.strip_prefix("- `")?.split_once('`')?.0, at + 1)))
        .collect();
    let is_room = |name: &str| name.starts_with("crates/") || name.starts_with("www/");
    let there: BTreeSet<String> = tree
        .sizes
        .keys()
        .filter(|name| is_room(name))
        .filter_map(|name| name.split('/').collect::<Vec<_>>().get(..3).map(|parts| parts[..2].join("/")))
        .collect();
    for room in there.iter().filter(|room| !mapped.contains_key(room.as_str())) {
        faults.push(format!("{room}:1: not on the map in {GUIDE}"));
    }
    for (room, line) in mapped.iter().filter(|(room, _)| is_room(room) && !there.contains(**room)) {
        faults.push(format!("{GUIDE}:{line}: {room} is on the map and not in the tree"));
    }
}

/// Which rooms each room may know, from lines such as `metrology, photometry ← inspection`; what those know, too.
fn layers(guide: &str) -> BTreeMap<String, BTreeSet<String>> {
    let mut below = BTreeMap::<String, BTreeSet<String>>::new();
    let mut all = BTreeSet::new();
    for line in guide.lines().filter(|line| line.contains(" ← ")) {
        let steps: Vec<Vec<&str>> = line.split(" ← ").map(|step| step.split(", ").map(room_name).collect()).collect();
        for pair in steps.windows(2) {
            let [lower, upper] = pair else { continue };
            for name in upper {
                below.entry((*name).to_owned()).or_default().extend(lower.iter().map(|name| (*name).to_owned()));
            }
            all.extend(lower.iter().chain(upper).map(|name| (*name).to_owned()));
        }
    }
    // As often as there are rooms is as deep as it can go.
    for _ in 0..all.len() {
        for (name, direct) in below.clone() {
            let indirect = direct.iter().filter_map(|lower| below.get(lower)).flatten().cloned().collect::<Vec<_>>();
            below.entry(name).or_default().extend(indirect);
        }
    }
    for known in below.values_mut() {
        if known.remove("everything") {
            known.extend(all.iter().cloned());
        }
    }
    below
}

fn room_name(written: &str) -> &str {
    written.trim().rsplit('/').next().unwrap_or_default()
}

fn edges(tree: &Tree, faults: &mut Vec<String>) {
    let layers = layers(tree.texts.get(GUIDE).map_or("", String::as_str));
    let manifests: BTreeMap<&str, (&str, &str)> = tree
        .texts
        .iter()
        .filter_map(|(file, text)| Some((room_name(file.strip_suffix("/Cargo.toml")?), (file.as_str(), text.as_str()))))
        .collect();
    for (name, (file, text)) in &manifests {
        for (line, other) in dependencies(text).into_iter().filter(|(_, other)| manifests.contains_key(other.as_str()))
        {
            if !layers.get(*name).is_some_and(|known| known.contains(&other)) || other == *name {
                faults.push(format!("{file}:{line}: {name} must not depend on {other}: it is not below it on the map"));
            }
        }
        let plain = ["metrology", "photometry", "timing", "imaging", "inspection"].contains(name);
        // What tests read their truth with is no part of the crate.
        let own = text.split("[dev-dependencies").next().unwrap_or_default();
        for (line, other) in dependencies(own).into_iter().filter(|(_, other)| plain && other.starts_with("serde")) {
            faults.push(format!("{file}:{line}: {name} must not depend on {other}: serialisation belongs to record"));
        }
    }
}

/// What a crate depends on, for whatever purpose, with the line that says so.
fn dependencies(manifest: &str) -> Vec<(usize, String)> {
    let mut found = Vec::new();
    let mut inside = false;
    for (at, line) in manifest.lines().enumerate() {
        let line = line.trim();
        if let Some(table) = line.strip_prefix('[') {
            let table = table.trim_end_matches(']');
            // `[dependencies.name]` is a table of its own.
            match table.split_once("dependencies.") {
                Some((_, name)) => {
                    found.push((at + 1, name.to_owned()));
                    inside = false;
                }
                None => inside = table.ends_with("dependencies") && !table.starts_with("workspace"),
            }
        } else if inside && !line.starts_with('#') {
            let renamed = line.split_once("package = \"").and_then(|(_, rest)| rest.split('"').next());
            let name = line.split(['.', '=', ' ']).next().filter(|name| !name.is_empty());
            found.extend(renamed.or(name).map(|name| (at + 1, name.to_owned())));
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_map_says_who_is_below_whom() {
        let layers = layers("a ← b\na, c ← d ← www\neverything ← tests, crates/xtask\n");
        let known = |name: &str| layers[name].iter().map(String::as_str).collect::<Vec<_>>();
        assert_eq!(known("b"), ["a"]);
        assert_eq!(known("www"), ["a", "c", "d"]);
        assert!(!layers.contains_key("a"));
        assert!(layers["xtask"].contains("d") && layers["tests"].contains("b"));
    }

    #[test]
    fn every_way_to_write_a_dependency_is_read() {
        let text = "[package]\nname = \"x\"\n[dependencies]\na.workspace = true\nb = { path = \"../b\" }\n# c = 1\n\
                    d = { package = \"e\", version = \"1\" }\n[dev-dependencies.f]\nversion = \"1\"\n[lints]\ng = 1\n\
                    [target.'cfg(unix)'.build-dependencies]\nh = \"1\"\n";
        let names: Vec<_> = dependencies(text).into_iter().map(|(_, name)| name).collect();
        assert_eq!(names, ["a", "b", "e", "f", "h"]);
    }
}
