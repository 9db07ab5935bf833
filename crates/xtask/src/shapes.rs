//! The page's types from the record's shapes: `www/bench/shapes.d.ts`, written from every public structure of `record::v1` and
//! `record::page`, so that the list of fields exists once.
//!
//! Reads the plain form that those files keep to: a documented structure, one documented field a line. Not here: whether the values
//! fit, which crossing the bridge shows; whether the written file is of today, which `tidy` asks.

use std::fs;
use std::path::Path;

use crate::shell::root;

/// Where the types are kept.
pub const PLACE: &str = "www/bench/shapes.d.ts";

const HEAD: &str = "\
/**
 * The shapes that cross to the page, as types: the inspection file of version 1 and what is handed over to be shown.
 * Written by `cargo xtask shapes` from the record crate; not here: any rule on the values, which only that crate knows.
 */
";

/// Writes the types anew.
pub fn run() -> Result<(), String> {
    fs::write(root().join(PLACE), text()?).map_err(|error| format!("cannot write {PLACE}: {error}"))?;
    println!("wrote {PLACE}");
    Ok(())
}

/// The types as they ought to be.
pub fn text() -> Result<String, String> {
    let mut text = HEAD.to_owned();
    for room in ["v1", "page"] {
        for source in sources(&root().join("crates/record/src"), room)? {
            text.push_str(&interfaces(&source)?);
        }
    }
    Ok(text)
}

/// The room's own file first, then those in its folder by name.
fn sources(under: &Path, room: &str) -> Result<Vec<String>, String> {
    let said = |path: &Path, error: std::io::Error| format!("cannot read {}: {error}", path.display());
    let folder = under.join(room);
    let mut paths = vec![under.join(format!("{room}.rs"))];
    let mut inner: Vec<_> = fs::read_dir(&folder)
        .map_err(|error| said(&folder, error))?
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|ending| ending == "rs"))
        .collect();
    inner.sort();
    paths.extend(inner);
    paths.iter().map(|path| fs::read_to_string(path).map_err(|error| said(path, error))).collect()
}

fn interfaces(source: &str) -> Result<String, String> {
    let (mut text, mut words, mut inside) = (String::new(), Vec::new(), false);
    for line in source.lines() {
        let bare = line.trim();
        if let Some(said) = bare.strip_prefix("/// ") {
            words.push(said);
        } else if let Some(name) = bare.strip_prefix("pub struct ").and_then(|rest| rest.strip_suffix(" {")) {
            text.push_str(&format!("\n/** {} */\nexport interface {name} {{\n", words.join(" ")));
            words.clear();
            inside = true;
        } else if inside && bare == "}" {
            text.push_str("}\n");
            inside = false;
        } else if let Some((name, kind)) = bare.strip_prefix("pub ").and_then(|rest| rest.split_once(": "))
            && inside
        {
            let kind = typed(kind.trim_end_matches(','))?;
            text.push_str(&format!("  /** {} */\n  {name}: {kind};\n", words.join(" ")));
            words.clear();
        } else if !bare.starts_with("#[") {
            words.clear();
        }
    }
    Ok(text)
}

/// The page's type for a field's.
fn typed(kind: &str) -> Result<String, String> {
    let inner = |outer: &str| kind.strip_prefix(outer).and_then(|rest| rest.strip_suffix('>'));
    if let Some(item) = inner("Vec<") {
        let item = typed(item)?;
        return Ok(if item.contains(' ') { format!("({item})[]") } else { format!("{item}[]") });
    }
    if let Some(some) = inner("Option<") {
        return Ok(format!("{} | null", typed(some)?));
    }
    let kind = kind.rsplit("::").next().unwrap_or(kind);
    match kind {
        "String" => Ok("string".to_owned()),
        "bool" => Ok("boolean".to_owned()),
        "f64" | "f32" | "u8" | "u16" | "u32" | "u64" | "usize" | "i32" => Ok("number".to_owned()),
        name if name.chars().all(char::is_alphanumeric) => Ok(name.to_owned()),
        other => Err(format!("the type {other} has no counterpart on the page")),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fields_become_fields_with_their_words() {
        let source = "/// A shot.\n#[derive(Clone)]\npub struct Shot {\n    /// When,\n    /// in seconds.\n    pub at_s: Option<f64>,\n    /// Rows.\n    pub rows: Vec<Option<v1::Row>>,\n}\n";
        let text = interfaces(source).expect("types");
        assert!(
            text.contains(
                "/** A shot. */\nexport interface Shot {\n  /** When, in seconds. */\n  at_s: number | null;\n"
            )
        );
        assert!(text.contains("  rows: (Row | null)[];\n}\n"), "{text}");
        assert!(typed("HashMap<String, f64>").is_err());
    }
}
