//! Rules on one file at a time: its remit, its length, what it must not say or use.
//!
//! Not here: rules between files ([`super::map`], [`super::page`]).

use super::{Tree, ending};
use crate::source::rust_code;

const RUST_LINES: usize = 800;
const SCRIPT_LINES: usize = 200;
/// A browser test tells a whole flow, so it may be longer.
const SCRIPT_TEST_LINES: usize = 300;
/// Fewer words than this are no remit.
const REMIT_WORDS: usize = 4;
/// The only outside names that a page may hold: they are names, and nothing is fetched from them.
const NAMESPACES: [&str; 1] = ["http://www.w3.org/2000/svg"];
/// Crates without serialisation.
const PLAIN: [&str; 5] = ["metrology", "photometry", "timing", "imaging", "inspection"];
/// Crates without files, net and clock.
const SHUT: [&str; 7] = ["metrology", "photometry", "timing", "imaging", "inspection", "record", "wasm"];
const OUTSIDE: [&str; 7] =
    ["std::fs", "std::net", "std::env", "std::process", "std::io", "SystemTime::now", "Instant::now"];

pub(super) fn look(tree: &Tree, faults: &mut Vec<String>) {
    for (name, text) in &tree.texts {
        let mut fault = |line: usize, what: &str| faults.push(format!("{name}:{line}: {what}"));
        if name.ends_with("package-lock.json") {
            locked(text, &mut fault);
            continue;
        }
        remit(name, text, &mut fault);
        length(name, text, &mut fault);
        words(name, text, &mut fault);
        if ending(name) == "rs" {
            rust(name, &rust_code(text), &mut fault);
        }
    }
}

/// How a file of a kind begins to say what it is for, and how that ends.
fn remit_marks(name: &str, text: &str) -> Option<(&'static str, &'static str)> {
    match ending(name) {
        "rs" => Some(("//!", "\n")),
        "js" | "mjs" | "ts" | "css" => Some(("/*", "*/")),
        "html" => Some(("<!--", "-->")),
        "sh" => Some(("#", "\n")),
        _ if text.starts_with("#!") => Some(("#", "\n")),
        _ => None,
    }
}

fn remit(name: &str, text: &str, fault: &mut impl FnMut(usize, &str)) {
    let Some((begin, end)) = remit_marks(name, text) else { return };
    let opening = |line: &str| line.starts_with("#!/") || line.to_lowercase().starts_with("<!doctype");
    let skipped = text.lines().take_while(|line| line.trim().is_empty() || opening(line)).count();
    let rest = text.lines().skip(skipped).collect::<Vec<_>>().join("\n") + "\n";
    let said = rest.trim_start().strip_prefix(begin).and_then(|rest| rest.split(end).next()).unwrap_or_default();
    if said.split_whitespace().filter(|word| word.contains(char::is_alphabetic)).count() < REMIT_WORDS {
        fault(skipped + 1, &format!("the file does not open with its remit ('{begin} …')"));
    }
}

fn length(name: &str, text: &str, fault: &mut impl FnMut(usize, &str)) {
    let most = match ending(name) {
        "rs" => RUST_LINES,
        "js" | "mjs" if name.starts_with("tests/") => SCRIPT_TEST_LINES,
        "js" | "mjs" => SCRIPT_LINES,
        _ => return,
    };
    let lines = text.lines().count();
    if lines > most {
        fault(lines, &format!("{lines} lines, and at most {most} are wanted: give part of it a file of its own"));
    }
}

fn words(name: &str, text: &str, fault: &mut impl FnMut(usize, &str)) {
    // Built from parts, so that this file does not accuse itself.
    let unfinished = ["TO-DO", "FIX-ME", "XX-X", "to-do!(", "unim-plemented!("].map(|word| word.replace('-', ""));
    let ships =
        name.starts_with("www/") && matches!(ending(name), "html" | "js" | "css" | "svg" | "json" | "webmanifest");
    let built_with = ["www/package.json", "www/tsconfig.json"].contains(&name);
    for (at, line) in text.lines().enumerate() {
        if line.ends_with([' ', '\t', '\r']) {
            fault(at + 1, "blanks at the end of the line");
        }
        if let Some(word) = unfinished.iter().find(|word| has_word(line, word)) {
            fault(at + 1, &format!("'{word}' says that something is unfinished"));
        }
        let inside = NAMESPACES.iter().fold(line.to_owned(), |line, name| line.replace(name, ""));
        if ships && !built_with && (inside.contains("http://") || inside.contains("https://")) {
            fault(at + 1, "an outside address in what ships");
        }
    }
}

/// Rust, with comments and literals blanked.
fn rust(name: &str, code: &str, fault: &mut impl FnMut(usize, &str)) {
    let of = |rooms: &[&str]| rooms.iter().any(|room| name.starts_with(&format!("crates/{room}/src/")));
    for (at, line) in code.lines().enumerate() {
        if has_word(line, "unsafe") {
            fault(at + 1, "unsafe code");
        }
        if of(&PLAIN) && (has_word(line, "serde") || has_word(line, "serde_json")) {
            fault(at + 1, "serialisation belongs to the record crate");
        }
        for word in OUTSIDE.iter().filter(|word| of(&SHUT) && has_word(line, word)) {
            fault(at + 1, &format!("{word} in a crate without files, net and clock"));
        }
    }
}

/// A list of locked packages says what, and leaves from where to the machine that installs.
fn locked(text: &str, fault: &mut impl FnMut(usize, &str)) {
    for (at, _) in text.lines().enumerate().filter(|(_, line)| line.trim_start().starts_with("\"resolved\"")) {
        fault(at + 1, "the address of a package registry");
    }
}

/// Whether a word stands in a line on its own, and not as a part of a longer name.
fn has_word(line: &str, word: &str) -> bool {
    let name = |c: char| c.is_alphanumeric() || c == '_';
    let closed = !word.ends_with(name);
    line.match_indices(word)
        .any(|(at, _)| !line[..at].ends_with(name) && (closed || !line[at + word.len()..].starts_with(name)))
}
