//! The rules held against a small tree that is clean, with one fault planted at a time: each rule must be able to fail.
//!
//! Not here: the tree of the checkout itself, which `cargo xtask tidy` looks at.

use super::*;

const GUIDE: &str = "# Guide\n```\nmetrology ← photometry\nphotometry ← inspection ← record\nrecord ← wasm ← www\neverything ← tests, crates/xtask\n```\n\
    - `crates/metrology` — a\n- `crates/photometry` — b\n- `crates/record` — c\n- `www/pages` — d\n- `www/view` — e\n- `www/store` — f\n\
    - `www/plot` — g\n- `www/bench` — h\n";

fn clean() -> Tree {
    let rust = "//! What a thing of this room is.\n";
    let script = "/** What a thing of this room is. */\n";
    let mut tree = Tree::default();
    for (name, text) in [
        ("Cargo.toml", "[workspace]\n".to_owned()),
        ("Cargo.lock", "version = 4\n".to_owned()),
        ("README.md", "# It\n".to_owned()),
        ("LICENSE-MIT", "x\n".to_owned()),
        ("LICENSE-APACHE", "x\n".to_owned()),
        ("DEVELOPERS.md", GUIDE.to_owned()),
        (".gitignore", "target/\n".to_owned()),
        (".ci/run", "#!/usr/bin/env bash\n# What decides whether it is good.\n".to_owned()),
        ("demo/bench.json", "{}\n".to_owned()),
        ("tests/reference/main.rs", rust.to_owned()),
        ("crates/metrology/Cargo.toml", "[dependencies]\n".to_owned()),
        ("crates/metrology/src/lib.rs", rust.to_owned()),
        ("crates/photometry/Cargo.toml", "[dependencies]\nmetrology.workspace = true\n".to_owned()),
        ("crates/photometry/src/lib.rs", rust.to_owned()),
        ("crates/record/Cargo.toml", "[dependencies]\nphotometry.workspace = true\nserde = \"1\"\n".to_owned()),
        ("crates/record/src/lib.rs", rust.to_owned()),
        (
            "www/index.html",
            "<!doctype html>\n<!-- The bench: which cameras are on it. -->\n<script type=\"module\" src=\"pages/index.js\"></script>\n"
                .to_owned(),
        ),
        (
            "www/pages/index.js",
            format!("{script}import \"../view/card.js\";\nimport \"../store/kept.js\";\nimport \"../bench/client.js\";\n"),
        ),
        ("www/view/card.js", format!("{script}import \"../plot/bar.js\";\n")),
        ("www/plot/bar.js", format!("{script}import {{ svg }} from \"../vendor/lit-html/lit-html.js\";\n")),
        ("www/store/kept.js", script.to_owned()),
        ("www/bench/client.js", format!("{script}new Worker(new URL(\"./worker.js\", import.meta.url));\n")),
        ("www/bench/worker.js", script.to_owned()),
    ] {
        tree.insert(name, text.into_bytes());
    }
    tree
}

/// The faults of the clean tree after a file was put or changed.
fn with(name: &str, text: &str) -> Vec<String> {
    let mut tree = clean();
    tree.insert(name, text.as_bytes().to_vec());
    tree.faults()
}

/// The faults of the clean tree after text was added to a file.
fn added(name: &str, text: &str) -> Vec<String> {
    let old = clean().texts.remove(name).unwrap_or_default();
    with(name, &(old + text))
}

fn one(faults: Vec<String>, begin: &str, holds: &str) {
    assert!(faults.len() == 1 && faults[0].starts_with(begin) && faults[0].contains(holds), "{faults:#?}");
}

#[test]
fn a_clean_tree_has_no_faults() {
    assert_eq!(clean().faults(), Vec::<String>::new());
}

#[test]
fn a_file_without_its_remit_is_seen() {
    one(with("crates/record/src/a.rs", "use std::fmt;\n"), "crates/record/src/a.rs:1:", "remit");
    one(with("crates/record/src/a.rs", "//! x\n"), "crates/record/src/a.rs:1:", "remit");
    one(with("www/store/kept.js", "export {};\n"), "www/store/kept.js:1:", "remit");
    one(with("www/view/a.css", "p {}\n"), "www/view/a.css:1:", "remit");
    one(with("www/a.html", "<!DOCTYPE html>\n<html></html>\n"), "www/a.html:2:", "remit");
    one(with("tests/a.sh", "#!/bin/sh\ntrue\n"), "tests/a.sh:2:", "remit");
    one(with(".ci/run", "#!/bin/sh\ntrue\n"), ".ci/run:2:", "remit");
}

#[test]
fn a_long_file_is_seen() {
    one(added("crates/record/src/lib.rs", &"\n".repeat(800)), "crates/record/src/lib.rs:801:", "801 lines");
    one(added("www/store/kept.js", &"\n".repeat(200)), "www/store/kept.js:201:", "201 lines");
}

#[test]
fn what_is_unfinished_is_seen() {
    for word in ["TO-DO", "FIX-ME", "XX-X", "to-do!()", "unim-plemented!()"] {
        one(
            added("crates/record/src/lib.rs", &format!("// {}\n", word.replace('-', ""))),
            "crates/record/src/lib.rs:2:",
            "unfinished",
        );
    }
    assert!(added("crates/record/src/lib.rs", "const METODOS: u8 = 0;\n").is_empty());
}

#[test]
fn blanks_at_the_end_of_a_line_are_seen() {
    one(added("README.md", "a \n"), "README.md:2:", "blanks");
}

#[test]
fn an_outside_address_in_what_ships_is_seen() {
    one(added("www/view/card.js", "const a = \"https://example.org\";\n"), "www/view/card.js:3:", "outside");
    assert!(added("www/view/card.js", "const a = \"http://www.w3.org/2000/svg\";\n").is_empty());
    assert!(added("README.md", "https://example.org\n").is_empty());
}

#[test]
fn a_registry_in_a_lock_file_is_seen() {
    one(with("www/package-lock.json", "{\n  \"resolved\": \"x\"\n}\n"), "www/package-lock.json:2:", "registry");
}

#[test]
fn unsafe_code_is_seen_and_talk_of_it_is_not() {
    one(added("crates/record/src/lib.rs", "fn a() { unsafe { b() } }\n"), "crates/record/src/lib.rs:2:", "unsafe");
    assert!(added("crates/record/src/lib.rs", "#![forbid(unsafe_code)] // unsafe\n").is_empty());
}

#[test]
fn files_net_and_clock_in_a_shut_crate_are_seen() {
    for word in ["std::fs", "std::net", "std::time::Instant::now", "std::time::SystemTime::now"] {
        one(
            added("crates/record/src/lib.rs", &format!("use {word};\n")),
            "crates/record/src/lib.rs:2:",
            "without files",
        );
    }
    assert!(added("tests/reference/main.rs", "use std::fs;\n").is_empty());
}

#[test]
fn serialisation_in_a_domain_crate_is_seen() {
    one(
        added("crates/metrology/src/lib.rs", "use serde::Serialize;\n"),
        "crates/metrology/src/lib.rs:2:",
        "serialisation",
    );
    one(added("crates/metrology/Cargo.toml", "serde.workspace = true\n"), "crates/metrology/Cargo.toml:2:", "serde");
    assert!(added("crates/record/src/lib.rs", "use serde::Serialize;\n").is_empty());
}

#[test]
fn an_edge_against_the_map_is_seen() {
    let fault = added("crates/metrology/Cargo.toml", "photometry.workspace = true\n");
    one(fault, "crates/metrology/Cargo.toml:2:", "metrology must not depend on photometry");
    assert!(added("crates/record/Cargo.toml", "metrology = { path = \"../metrology\" }\n").is_empty());
}

#[test]
fn a_room_off_the_map_is_seen_and_a_mapped_one_that_is_gone() {
    one(with("crates/timing/Cargo.toml", ""), "crates/timing:1:", "not on the map");
    one(with("www/icons/a.svg", ""), "www/icons:1:", "not on the map");
    one(added("DEVELOPERS.md", "- `crates/imaging` — i\n"), "DEVELOPERS.md:16:", "crates/imaging is on the map");
}

#[test]
fn what_the_top_does_not_hold_is_seen_and_what_it_lacks() {
    one(with("notes.txt", "x\n"), "notes.txt:1:", "not among");
    let mut tree = clean();
    tree.texts.remove("README.md");
    tree.sizes.remove("README.md");
    one(tree.faults(), "README.md:1:", "lacks");
}

#[test]
fn what_can_be_built_is_never_kept() {
    one(with("demo/a.wasm", "x"), "demo/a.wasm:1:", "never kept");
    let mut tree = clean();
    tree.insert("tests/big.bin", vec![255; 8 * 1024 * 1024]);
    one(tree.faults(), "tests:1:", "bytes");
}

#[test]
fn imports_the_wrong_way_are_seen() {
    for (file, to, room) in [
        ("www/store/kept.js", "../view/card.js", "view"),
        ("www/bench/client.js", "../view/card.js", "view"),
        ("www/plot/bar.js", "../bench/client.js", "bench"),
        ("www/view/card.js", "../store/kept.js", "store"),
    ] {
        let faults = added(file, &format!("import \"{to}\";\n"));
        assert!(
            faults
                .iter()
                .any(|fault| fault.starts_with(file) && fault.contains(&format!("must not import from {room}"))),
            "{faults:?}"
        );
    }
    let faults = added("www/view/card.js", "import \"../pages/index.js\";\n");
    assert!(faults.iter().any(|fault| fault.contains("view must not import from pages")), "{faults:?}");
    one(
        added("www/view/card.js", "import { html } from \"lit-html\";\n"),
        "www/view/card.js:3:",
        "no relative address",
    );
}

#[test]
fn a_circle_of_imports_is_seen() {
    let mut tree = clean();
    tree.insert("www/view/card.js", b"/** What a card shows here. */\nimport \"./b.js\";\n".to_vec());
    tree.insert("www/view/b.js", b"/** What a card shows here. */\nimport \"./card.js\";\n".to_vec());
    let faults = tree.faults();
    assert!(faults.iter().any(|fault| fault.starts_with("www/view/b.js:2:") && fault.contains("circle")), "{faults:?}");
}

#[test]
fn a_module_that_no_page_reaches_is_seen() {
    one(
        with("www/view/lonely.js", "/** What nobody needs at all. */\n"),
        "www/view/lonely.js:1:",
        "no page reaches it",
    );
    one(with("www/lonely.js", "/** What nobody needs at all. */\n"), "www/lonely.js:1:", "no room");
}

#[test]
fn a_head_that_lacks_what_every_page_has_is_seen() {
    let mut tree = clean();
    tree.insert("www/lampblack.webmanifest", b"{}\n".to_vec());
    let faults = tree.faults();
    assert!(
        faults.len() == 3 && faults.iter().all(|fault| fault.starts_with("www/index.html:1: the head lacks")),
        "{faults:?}"
    );
}

#[test]
fn the_service_worker_may_stand_at_the_top_and_nothing_else() {
    let mut tree = clean();
    tree.insert("www/sw.js", b"/** What keeps the program. */\n".to_vec());
    tree.insert("www/bench/client.js", b"/** What a thing of this room is. */\nnew Worker(new URL(\"./worker.js\", import.meta.url));\nnew URL(\"../sw.js\", import.meta.url);\n".to_vec());
    assert_eq!(tree.faults(), Vec::<String>::new());
}
