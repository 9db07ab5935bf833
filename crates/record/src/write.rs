//! From an inspection to a file's text: strict and canonical, so that the same inspection has the same bytes.
//!
//! Not here: reading ([`crate::read`]).

use serde::Serialize;

use crate::error::Error;
use crate::v1::{BENCH_FORMAT, Bench, Inspection, VERSION};
use crate::{PROGRAM, limits};

/// The text of an inspection's file: keys in the order of the shape, two spaces, one line end at the end.
///
/// **Errors** where it holds more than [`limits`] allow.
pub fn write_file(inspection: &Inspection) -> Result<String, Error> {
    limits::check(inspection)?;
    text(inspection)
}

/// The text of a bench backup.
pub fn write_bench(inspections: &[Inspection], now: &str) -> Result<String, Error> {
    inspections.iter().try_for_each(limits::check)?;
    text(&Bench {
        format: BENCH_FORMAT.to_owned(),
        version: VERSION,
        created: now.to_owned(),
        program: PROGRAM.to_owned(),
        inspections: inspections.to_vec(),
    })
}

fn text<T: Serialize>(value: &T) -> Result<String, Error> {
    let mut text =
        serde_json::to_string_pretty(value).map_err(|error| Error::new(format!("it cannot be written: {error}")))?;
    text.push('\n');
    if text.len() > limits::FILE_BYTES {
        return Err(Error::new(format!(
            "the file would be {} MB long, and at most {} MB are taken back: leave the pictures out",
            text.len() / (1024 * 1024),
            limits::FILE_BYTES / (1024 * 1024)
        )));
    }
    Ok(text)
}

/// What an inspection's file is called: `lampblack-halden-35-r-41207.json`.
pub fn file_name(inspection: &Inspection) -> String {
    let camera = &inspection.camera;
    let mut name = String::from("lampblack");
    for part in [&camera.maker, &camera.model, &camera.serial] {
        for word in part.split(|c: char| !c.is_ascii_alphanumeric()).filter(|word| !word.is_empty()) {
            name.push('-');
            name.push_str(&word.to_ascii_lowercase());
        }
    }
    name.truncate(80);
    format!("{name}.json")
}

/// Whether two inspections hold the same, whatever was worked out from them and however often they were changed.
pub fn same(a: &Inspection, b: &Inspection) -> bool {
    let bare = |inspection: &Inspection| Inspection {
        result: None,
        program: String::new(),
        updated: String::new(),
        revision: 0,
        photos: inspection.photos.iter().map(|photo| crate::v1::Photo { data: None, ..photo.clone() }).collect(),
        ..inspection.clone()
    };
    bare(a) == bare(b)
}
