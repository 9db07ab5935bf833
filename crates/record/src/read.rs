//! From a file's text to inspections: tolerant where that is safe, with a sentence for everything that was noticed.
//!
//! The text is read once, into typed shapes. Keys that this version does not know are kept as text in `foreign`; keys that
//! stand twice, nesting that is too deep and numbers that are none are refused before anything is made of them.
//! Not here: what the values mean ([`crate::convert`]); writing ([`crate::write`]).

use std::collections::HashSet;

use serde::Deserialize;
use serde::de::{DeserializeOwned, Deserializer, Error as _, MapAccess, SeqAccess, Visitor};

use crate::convert;
use crate::error::Error;
use crate::limits;
use crate::page::Taken;
use crate::v1::{BENCH_FORMAT, Bench, FORMAT, Foreign, Inspection, VERSION};

/// Unknown keys are named one by one up to this many.
const NAMED: usize = 5;

/// Reads an inspection file or a bench backup.
///
/// **Errors** where it is none, is cut off, too large, too deep, of a newer version, has a key twice, or holds what no
/// inspection can; nothing is taken then.
pub fn read_file(text: &str) -> Result<Taken, Error> {
    if text.len() > limits::FILE_BYTES {
        return Err(Error::new(format!(
            "the file is {} MB long, and at most {} MB are taken",
            text.len() / (1024 * 1024),
            limits::FILE_BYTES / (1024 * 1024)
        )));
    }
    let text = text.trim_start_matches('\u{feff}');
    if text.trim().is_empty() {
        return Err(Error::new("the file is empty"));
    }
    check_depth(text)?;
    parse::<Unrepeated>(text, &mut Vec::new())?;
    let head: Head = parse(text, &mut Vec::new())?;
    let kind = match head.format.as_str() {
        FORMAT => "inspection",
        BENCH_FORMAT => "bench",
        other => {
            let shown: String = other.chars().take(40).collect();
            return Err(Error::new(format!(
                "the file is no inspection: its format is \"{shown}\", and \"{FORMAT}\" or \"{BENCH_FORMAT}\" was expected"
            )));
        }
    };
    if head.version == 0 || head.version > u64::from(VERSION) {
        return Err(Error::new(format!(
            "the file is of version {}, and this program reads up to version {VERSION}: update the program; nothing was changed",
            head.version
        )));
    }
    let mut unknown = Vec::new();
    let mut inspections = match kind {
        "inspection" => vec![parse::<Inspection>(text, &mut unknown)?],
        _ => parse::<Bench>(text, &mut unknown)?.inspections,
    };
    if inspections.len() > limits::INSPECTIONS {
        return Err(Error::new(format!(
            "the backup holds {} inspections, and at most {} are taken",
            inspections.len(),
            limits::INSPECTIONS
        )));
    }
    let mut findings = keep_unknown(text, &unknown, &mut inspections)?;
    let many = inspections.len() > 1;
    for (i, inspection) in inspections.iter_mut().enumerate() {
        let place = if many { format!("inspection {}", i + 1) } else { "the inspection".to_owned() };
        take(inspection, &mut findings, if many { &place } else { "" }).map_err(|error| error.at(&place))?;
    }
    Ok(Taken { kind: kind.to_owned(), inspections, findings })
}

/// Works an inspection out again and says what differs from what its file said.
fn take(inspection: &mut Inspection, findings: &mut Vec<String>, place: &str) -> Result<(), Error> {
    if inspection.id.trim().is_empty() {
        return Err(Error::new("it has no id"));
    }
    inspection.format = FORMAT.to_owned();
    inspection.version = VERSION;
    let before = inspection.result.take();
    let mut noticed = convert::work_out(inspection)?;
    if let (Some(before), Some(now)) = (&before, &inspection.result) {
        let mut before = before.clone();
        before.program.clone_from(&now.program);
        if before != *now {
            noticed.push(
                "What the file says was worked out differs from what this program works out; what it works out counts."
                    .to_owned(),
            );
        }
    }
    let prefix = if place.is_empty() { String::new() } else { format!("{place}: ") };
    findings.extend(noticed.into_iter().map(|text| format!("{prefix}{text}")));
    Ok(())
}

#[derive(Deserialize)]
struct Head {
    #[serde(default)]
    format: String,
    #[serde(default)]
    version: u64,
}

fn parse<T: DeserializeOwned>(text: &str, unknown: &mut Vec<String>) -> Result<T, Error> {
    let mut deserializer = serde_json::Deserializer::from_str(text);
    let parsed = serde_ignored::deserialize(&mut deserializer, |path| {
        // One more than is kept is enough to know that there are too many.
        if unknown.len() <= limits::FOREIGN {
            unknown.push(path.to_string());
        }
    });
    parsed.and_then(|value| deserializer.end().map(|()| value)).map_err(|error| said(&error))
}

fn said(error: &serde_json::Error) -> Error {
    if error.is_eof() {
        return Error::new(format!(
            "the file ends too early (line {}): it was cut off, so take it again from where it came",
            error.line()
        ));
    }
    let full = error.to_string();
    let text = full.split(" at line ").next().unwrap_or(&full);
    if error.is_syntax() && !text.starts_with("number") {
        return Error::new(format!("the file is no JSON at line {}, column {}: {text}", error.line(), error.column()));
    }
    Error::new(format!("the file cannot be read at line {}, column {}: {text}", error.line(), error.column()))
}

/// Nesting, counted without recursion, so that no depth can do harm.
fn check_depth(text: &str) -> Result<(), Error> {
    let (mut depth, mut in_text, mut escaped) = (0_usize, false, false);
    for byte in text.bytes() {
        if in_text {
            match byte {
                _ if escaped => escaped = false,
                b'\\' => escaped = true,
                b'"' => in_text = false,
                _ => {}
            }
            continue;
        }
        match byte {
            b'"' => in_text = true,
            b'{' | b'[' => {
                depth += 1;
                if depth > limits::DEPTH {
                    return Err(Error::new(format!(
                        "the file is nested more than {} levels deep, which no inspection is",
                        limits::DEPTH
                    )));
                }
            }
            b'}' | b']' => depth = depth.saturating_sub(1),
            _ => {}
        }
    }
    Ok(())
}

/// Any JSON in which no key stands twice in one object and every number is finite.
struct Unrepeated;

impl<'de> Deserialize<'de> for Unrepeated {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct Any;
        impl<'de> Visitor<'de> for Any {
            type Value = Unrepeated;

            fn expecting(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
                f.write_str("JSON")
            }

            fn visit_bool<E>(self, _: bool) -> Result<Unrepeated, E> {
                Ok(Unrepeated)
            }

            fn visit_i64<E>(self, _: i64) -> Result<Unrepeated, E> {
                Ok(Unrepeated)
            }

            fn visit_u64<E>(self, _: u64) -> Result<Unrepeated, E> {
                Ok(Unrepeated)
            }

            fn visit_f64<E>(self, _: f64) -> Result<Unrepeated, E> {
                Ok(Unrepeated)
            }

            fn visit_str<E>(self, _: &str) -> Result<Unrepeated, E> {
                Ok(Unrepeated)
            }

            fn visit_unit<E>(self) -> Result<Unrepeated, E> {
                Ok(Unrepeated)
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Unrepeated, A::Error> {
                while list.next_element::<Unrepeated>()?.is_some() {}
                Ok(Unrepeated)
            }

            fn visit_map<A: MapAccess<'de>>(self, mut object: A) -> Result<Unrepeated, A::Error> {
                let mut keys = HashSet::new();
                while let Some(key) = object.next_key::<String>()? {
                    if keys.contains(&key) {
                        let shown: String = key.chars().take(40).collect();
                        return Err(A::Error::custom(format!("the key \"{shown}\" stands twice in one object")));
                    }
                    keys.insert(key);
                    object.next_value::<Unrepeated>()?;
                }
                Ok(Unrepeated)
            }
        }
        deserializer.deserialize_any(Any)
    }
}

/// Keeps the values of unknown keys as text beside the inspection they stood in, and says so.
fn keep_unknown(text: &str, unknown: &[String], inspections: &mut [Inspection]) -> Result<Vec<String>, Error> {
    if unknown.is_empty() {
        return Ok(Vec::new());
    }
    if unknown.len() > limits::FOREIGN {
        return Err(Error::new(format!(
            "the file has more than {} keys that this version does not know: it is another program's file",
            limits::FOREIGN
        )));
    }
    let whole: serde_json::Value = parse(text, &mut Vec::new())?;
    for path in unknown {
        let parts: Vec<&str> = path.split('.').filter(|part| *part != "?").collect();
        let Some(value) = walk(&whole, &parts) else { continue };
        // A key beside the inspections of a backup goes with the first of them.
        let (at, rest) = match parts.as_slice() {
            ["inspections", i, rest @ ..] => (i.parse::<usize>().unwrap_or(0), rest.join(".")),
            _ => (0, parts.join(".")),
        };
        if let Some(inspection) = inspections.get_mut(at) {
            inspection.foreign.push(Foreign { path: rest, json: value.to_string() });
        }
    }
    let mut findings: Vec<String> = unknown
        .iter()
        .take(NAMED)
        .map(|path| {
            let shown: String = path.replace(".?", "").chars().take(80).collect();
            format!("This version does not know “{shown}”; it was kept as it came.")
        })
        .collect();
    if unknown.len() > NAMED {
        findings.push(format!("So were {} more unknown keys.", unknown.len() - NAMED));
    }
    Ok(findings)
}

/// The value at a path whose keys may themselves contain dots.
fn walk<'v>(value: &'v serde_json::Value, parts: &[&str]) -> Option<&'v serde_json::Value> {
    if parts.is_empty() {
        return Some(value);
    }
    match value {
        serde_json::Value::Array(list) => walk(list.get(parts[0].parse::<usize>().ok()?)?, &parts[1..]),
        serde_json::Value::Object(object) => {
            (1..=parts.len()).find_map(|n| walk(object.get(&parts[..n].join("."))?, &parts[n..]))
        }
        _ => None,
    }
}
