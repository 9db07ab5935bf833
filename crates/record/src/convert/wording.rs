//! The texts that are handed on.
//!
//! Not here: how they are put together ([`inspection::wording`]).

use inspection::wording::{Wording, compose};
use inspection::{Examined, Inspection};

use super::inputs::unknown;
use super::worked::pointing;
use crate::error::Error;
use crate::{page, v1};

/// The texts by key, each with its name and what it is for.
const TEXTS: [(&str, &str, &str); 4] = [
    ("line", "One line", "for a list, a label, a message"),
    ("paragraph", "A paragraph", "for a short listing"),
    ("full", "In full", "for a listing that leaves nothing out"),
    ("service", "For the service bench", "what to mend, with the measured figures"),
];

/// As the file has it.
pub(super) fn result(domain: &Inspection, examined: &Examined) -> v1::Wording {
    let Wording { line, paragraph, full, service, said } = compose(domain, examined);
    let said = said
        .iter()
        .map(|one| v1::Said {
            text: one.text.clone(),
            evidence: one
                .evidence
                .iter()
                .map(|evidence| {
                    let (about, point, area) = pointing(*evidence);
                    v1::Traced { about, point, area }
                })
                .collect(),
        })
        .collect();
    v1::Wording { line, paragraph, full, service, said }
}

/// Whether the changed texts are of texts that there are.
pub(super) fn check(record: &v1::Inspection) -> Result<(), Error> {
    match record.texts.iter().find(|text| TEXTS.iter().all(|(key, ..)| *key != text.key)) {
        Some(other) => Err(unknown("text", &other.key, &TEXTS.map(|(key, ..)| key))),
        None => Ok(()),
    }
}

fn made<'w>(wording: &'w v1::Wording, key: &str) -> &'w str {
    match key {
        "line" => &wording.line,
        "paragraph" => &wording.paragraph,
        "full" => &wording.full,
        _ => &wording.service,
    }
}

/// The texts as they stand: the person's own where there is one, marked where something came in since.
pub(crate) fn texts(record: &v1::Inspection) -> Vec<page::TextView> {
    let nothing = v1::Wording::default();
    let wording = record.result.as_ref().map_or(&nothing, |result| &result.wording);
    TEXTS
        .iter()
        .map(|(key, name, purpose)| {
            let made = made(wording, key);
            let edited = record.texts.iter().rev().find(|text| text.key == *key);
            page::TextView {
                key: (*key).to_owned(),
                name: (*name).to_owned(),
                purpose: (*purpose).to_owned(),
                text: edited.map_or(made, |edited| edited.text.as_str()).to_owned(),
                made: made.to_owned(),
                edited: edited.is_some(),
                outdated: edited.is_some_and(|edited| edited.made_from != made),
            }
        })
        .collect()
}
