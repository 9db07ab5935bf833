//! From a file's text to inspections: tolerant where that is safe, with a sentence for everything that was noticed.
//!
//! The text is read once, into typed shapes. Keys that this version does not know are kept as text in `foreign`; keys that
//! stand twice, nesting that is too deep and numbers that are none are refused before anything is made of them.
//! Not here: looking the text through beforehand ([`crate::scan`]); which keys are unknown ([`crate::unknown`]); what the values
//! mean ([`crate::convert`]); writing ([`crate::write`]).

use shape::Shape;

use crate::convert;
use crate::error::Error;
use crate::json::{JsonError, Value, Why, from_text, to_compact, to_pretty};
use crate::limits;
use crate::page::Taken;
use crate::scan::{check_depth, check_shape, place_at};
use crate::unknown::unknown_keys;
use crate::v1::{BENCH_FORMAT, Bench, FORMAT, Foreign, Inspection, VERSION, Worked};

/// Unknown keys are named one by one up to this many.
const NAMED: usize = 5;
/// Text of a file is shown up to this many letters.
const SHOWN: usize = 40;

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
    if !text.trim_start().starts_with('{') {
        return Err(Error::new(
            "the file is no inspection: it must be one JSON object, and something else stands first",
        ));
    }
    check_depth(text)?;
    check_shape(text).map_err(|error| said(text, &error))?;
    let head: Head = parse(text)?;
    let kind = match head.format.as_str() {
        FORMAT => "inspection",
        BENCH_FORMAT => "bench",
        other => {
            let shown: String = other.chars().take(SHOWN).collect();
            return Err(Error::new(format!(
                "the file is no inspection: its format is \"{shown}\", and \"{FORMAT}\" or \"{BENCH_FORMAT}\" was expected"
            )));
        }
    };
    if head.version == 0 {
        return Err(Error::new(format!("the file says no version, and it must be from 1 to {VERSION}")));
    }
    if head.version > u64::from(VERSION) {
        return Err(Error::new(format!(
            "the file is of version {}, and this program reads up to version {VERSION}: update the program; nothing was changed",
            head.version
        )));
    }
    let (mut inspections, unknown) = match kind {
        "inspection" => {
            let (one, unknown) = parse_whole::<Inspection>(text)?;
            (vec![one], unknown)
        }
        _ => {
            let (bench, unknown) = parse_whole::<Bench>(text)?;
            (bench.inspections, unknown)
        }
    };
    if inspections.len() > limits::INSPECTIONS {
        return Err(Error::new(format!(
            "the backup holds {} inspections, and at most {} are taken",
            inspections.len(),
            limits::INSPECTIONS
        )));
    }
    let mut findings = keep_unknown(text, &unknown, kind, &mut inspections)?;
    let many = inspections.len() > 1;
    for (i, inspection) in inspections.iter_mut().enumerate() {
        let place = if many { format!("inspection {}", i + 1) } else { "the inspection".to_owned() };
        take(inspection, &mut findings, if many { &place } else { "" }).map_err(|error| error.at(&place))?;
    }
    Ok(Taken { kind: kind.to_owned(), inspections, findings })
}

/// Numbers worked out by another version may differ in their last digits without anything having changed.
const LAST_DIGITS: f64 = 1e-9;

/// Whether two results say the same, their numbers to within [`LAST_DIGITS`].
fn alike(a: &serde_json::Value, b: &serde_json::Value) -> bool {
    use serde_json::Value::{Array, Number, Object};
    match (a, b) {
        (Number(a), Number(b)) => match (a.as_f64(), b.as_f64()) {
            (Some(a), Some(b)) => (a - b).abs() <= LAST_DIGITS * a.abs().max(1.0),
            _ => a == b,
        },
        (Array(a), Array(b)) => a.len() == b.len() && a.iter().zip(b).all(|(a, b)| alike(a, b)),
        (Object(a), Object(b)) => {
            a.len() == b.len() && a.iter().all(|(key, a)| b.get(key).is_some_and(|b| alike(a, b)))
        }
        _ => a == b,
    }
}

/// Works an inspection out again and says what differs from what its file said.
fn take(inspection: &mut Inspection, findings: &mut Vec<String>, place: &str) -> Result<(), Error> {
    if inspection.id.trim().is_empty() {
        return Err(Error::new("it has no id"));
    }
    inspection.format = FORMAT.to_owned();
    inspection.version = VERSION;
    let before = inspection.result.take();
    let mut noticed = convert::work_out(inspection)?.notices;
    if let (Some(before), Some(now)) = (&before, &inspection.result) {
        let mut before = before.clone();
        before.program.clone_from(&now.program);
        let as_json =
            |worked: &Worked| -> serde_json::Value { serde_json::from_str(&to_compact(worked)).unwrap_or_default() };
        if before != *now && !alike(&as_json(&before), &as_json(now)) {
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

#[derive(Default, Shape)]
#[serde(default)]
struct Head {
    format: String,
    version: u64,
}

/// Reads one shape and passes over what it does not know.
pub(crate) fn parse<T: Value + Default>(text: &str) -> Result<T, Error> {
    from_text(text).map_err(|error| misfit(text, &error))
}

/// Reads one shape, with the places of the keys that it does not know, part by part.
fn parse_whole<T: Value + Default>(text: &str) -> Result<(T, Vec<Vec<String>>), Error> {
    let value: T = parse(text)?;
    let written = to_pretty(&value);
    // One more than can be kept is enough to know that there are too many.
    let unknown = unknown_keys(text, &written, limits::INSPECTIONS + 1).map_err(|error| said(text, &error))?;
    Ok((value, unknown))
}

/// Why a text is no sound JSON, with its place, in words that do not need this program's source.
fn said(text: &str, error: &serde_json::Error) -> Error {
    if error.is_eof() {
        return too_early(error.line());
    }
    let full = error.to_string();
    let reason = full.rfind(" at line ").map_or(full.as_str(), |end| &full[..end]);
    let position = position(text, (error.line(), error.column()));
    if reason == "number out of range" {
        return Error::new(format!("the file cannot be read at {position}: the number is not finite"));
    }
    if error.is_syntax() {
        return Error::new(format!("the file is no JSON at {position}: {reason}"));
    }
    Error::new(format!("the file cannot be read at {position}: {}", plainly(reason)))
}

/// Why a sound text does not fit a shape, likewise.
fn misfit(text: &str, error: &JsonError) -> Error {
    let (line, column) = error.place(text);
    match &error.why {
        Why::Early => too_early(line),
        Why::Syntax(reason) => {
            Error::new(format!("the file is no JSON at {}: {reason}", position(text, (line, column))))
        }
        Why::Shape(reason) => {
            Error::new(format!("the file cannot be read at {}: {}", position(text, (line, column)), plainly(reason)))
        }
    }
}

fn too_early(line: usize) -> Error {
    Error::new(format!("the file ends too early (line {line}): it was cut off, so take it again from where it came"))
}

fn position(text: &str, (line, column): (usize, usize)) -> String {
    match place_at(text, line, column) {
        place if place.is_empty() => format!("line {line}, column {column}"),
        place => format!("{place} (line {line}, column {column})"),
    }
}

fn plainly(reason: &str) -> String {
    let plain = |said: &str| match said {
        "map" => "an object".to_owned(),
        "sequence" => "a list".to_owned(),
        "a sequence" => "a list".to_owned(),
        "null" => "null".to_owned(),
        "f64" => "a number".to_owned(),
        "u32" | "u64" | "usize" => "a whole number".to_owned(),
        said if said.starts_with("struct ") => "an object".to_owned(),
        said if said.chars().count() > SHOWN => format!("{} …", said.chars().take(SHOWN).collect::<String>()),
        said => said.to_owned(),
    };
    reason
        .strip_prefix("invalid type: ")
        .or_else(|| reason.strip_prefix("invalid value: "))
        .and_then(|rest| rest.rsplit_once(", expected "))
        .map_or_else(
            || reason.to_owned(),
            |(given, expected)| format!("{} was expected, and {} was given", plain(expected), plain(given)),
        )
}

/// Keeps the values of unknown keys as text beside the inspection they stood in, and says so.
fn keep_unknown(
    text: &str,
    unknown: &[Vec<String>],
    kind: &str,
    inspections: &mut [Inspection],
) -> Result<Vec<String>, Error> {
    if unknown.is_empty() {
        return Ok(Vec::new());
    }
    if unknown.len() > limits::INSPECTIONS {
        return Err(Error::new(format!(
            "the file has more than {} keys that this version does not know: it is another program's file",
            limits::INSPECTIONS
        )));
    }
    let whole: serde_json::Value = serde_json::from_str(text).map_err(|error| said(text, &error))?;
    let mut findings = Vec::new();
    let mut more = 0_usize;
    for parts in unknown {
        // A key beside the inspections of a backup goes with the first of them.
        let (at, path) = match parts.as_slice() {
            [list, i, rest @ ..] if kind == "bench" && list == "inspections" => {
                (i.parse::<usize>().unwrap_or(0), rest.join("."))
            }
            _ if kind == "bench" => (0, format!("bench.{}", parts.join("."))),
            _ => (0, parts.join(".")),
        };
        let shown: String = parts.join(".").chars().take(2 * SHOWN).collect();
        let kept = match (walk(&whole, parts), inspections.get_mut(at)) {
            (Some(value), Some(inspection)) => {
                inspection.foreign.push(Foreign { path, json: value.to_string() });
                true
            }
            _ => false,
        };
        if !kept {
            findings.push(format!("This version does not know “{shown}”; there is no inspection to keep it with."));
        } else if findings.len() < NAMED {
            findings.push(format!("This version does not know “{shown}”; it was kept as it came."));
        } else {
            more += 1;
        }
    }
    if more > 0 {
        let keys = if more == 1 { "key was" } else { "keys were" };
        findings.push(format!("{more} more unknown {keys} kept as they came."));
    }
    Ok(findings)
}

/// The value at a place.
fn walk<'v>(value: &'v serde_json::Value, parts: &[String]) -> Option<&'v serde_json::Value> {
    parts.iter().try_fold(value, |value, part| match value {
        serde_json::Value::Array(list) => list.get(part.parse::<usize>().ok()?),
        serde_json::Value::Object(object) => object.get(part),
        _ => None,
    })
}
