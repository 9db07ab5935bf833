//! The shell's answers as one JSON object each, with units in the names.
//!
//! Holds the shapes that are no part of a file; what a run or an inspection comes to has the same shape as in a file's
//! `result`; the shots of a shutter are in [`timing`]. Not here: tables for people, options, files (`cli`).

pub mod timing;

mod daylight;

pub mod film;
pub mod photo;
pub mod pictures;

use serde::Serialize;

use crate::check::Checked;
use crate::convert;
use crate::error::Error;
use crate::json::{Value, to_pretty};
use crate::v1::{MeterResult, Worked};

pub use daylight::{Daylight, Notice, Sun};

/// One exposure and the light that it suits.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Exposure {
    /// `log2(N²/t)`, whatever the film.
    pub ev: f64,
    /// The same at ISO 100.
    pub ev100: f64,
    /// Luminance that a reflected-light meter would read, by K.
    pub luminance_cd_m2: f64,
    /// Illuminance that an incident-light meter would read, by C.
    pub illuminance_lux: f64,
    /// F-number that was reckoned with.
    pub f_number: f64,
    /// Time in seconds that was reckoned with.
    pub time_s: f64,
    /// Film speed that was reckoned with, ISO arithmetic.
    pub film_speed: f64,
    /// Constant K.
    pub reflected_constant: f64,
    /// Constant C.
    pub incident_constant: f64,
    /// How far an incident reading lies above that of an 18 % card in the same light, by these constants.
    pub incident_above_card_stops: f64,
    /// What a person should know before trusting it.
    pub notices: Vec<String>,
}

/// One file that was checked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CheckedFile {
    /// Its name as given.
    pub file: String,
    /// What was found out.
    #[serde(flatten)]
    pub checked: Checked,
}

/// Every file that was checked.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct CheckedFiles {
    /// Whether all of them can be taken in.
    pub valid: bool,
    /// What was found, a sentence each; with the file's name before it where there are several.
    pub findings: Vec<String>,
    /// File by file.
    pub files: Vec<CheckedFile>,
}

impl CheckedFiles {
    /// All of them together.
    pub fn of(files: Vec<CheckedFile>) -> Self {
        let several = files.len() > 1;
        let findings = files.iter().flat_map(|file| {
            file.checked
                .findings
                .iter()
                .map(move |finding| if several { format!("{}: {finding}", file.file) } else { finding.clone() })
        });
        Self { valid: files.iter().all(|file| file.checked.valid), findings: findings.collect(), files }
    }
}

/// What one inspection comes to, and whose it is.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Judged {
    /// Id of the inspection.
    pub id: String,
    /// The camera's name, or its kind.
    pub title: String,
    /// What was noticed on reading the file.
    pub notices: Vec<String>,
    /// Everything that was worked out.
    #[serde(flatten)]
    pub worked: Worked,
}

/// The texts of one inspection, and whose they are.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Texts {
    /// Id of the inspection.
    pub id: String,
    /// The camera's name, or its kind.
    pub title: String,
    /// The texts as they stand.
    pub texts: Vec<crate::page::TextView>,
}

/// What a meter run comes to, in the file's own shape.
pub fn meter(judgement: &inspection::meter::Judgement) -> MeterResult {
    convert::meter(judgement)
}

/// An answer as one JSON object and a line end.
pub fn json<T: Serialize>(answer: &T) -> Result<String, Error> {
    let mut text =
        serde_json::to_string_pretty(answer).map_err(|error| Error::new(format!("it cannot be written: {error}")))?;
    text.push('\n');
    Ok(text)
}

/// The same of a shape that the page has too.
pub fn json_of(shape: &dyn Value) -> String {
    to_pretty(shape) + "\n"
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn several_files_are_told_apart() {
        let file = |name: &str, text: &str| CheckedFile { file: name.to_owned(), checked: crate::check(text) };
        let both = CheckedFiles::of(vec![file("a.json", ""), file("b.json", "5")]);
        assert!(!both.valid && both.findings[0] == "a.json: The file is empty.");
        let text = json(&CheckedFiles::of(vec![file("a.json", "")])).expect("text");
        assert!(text.contains("\"valid\": false") && text.contains("\"The file is empty.\""), "{text}");
    }
}
