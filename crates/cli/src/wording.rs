//! `lampblack wording`: the texts for the listing and the note for the service bench.
//!
//! Not here: how they are put together (`inspection`).

use std::path::PathBuf;

use lexopt::{Arg, Parser};
use record::shell::{Texts, json};

use crate::error::Failure;
use crate::{Answer, file, usage};

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut path, mut id, mut length, mut as_json) = (None::<PathBuf>, None, None, false);
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("id") => id = Some(usage::text(call)?),
            Arg::Long("length") => length = Some(usage::text(call)?),
            Arg::Long("json") => as_json = true,
            Arg::Value(value) => usage::one_file(&mut path, value)?,
            other => return Err(other.unexpected().into()),
        }
    }
    let path = usage::needed(path, "the inspection (FILE.json)")?;
    let (inspection, _) = file::inspection(&path, id.as_deref())?;
    let accepted = record::view(inspection.clone()).map_err(|error| Failure::from(error).at(&file::name(&path)))?;
    if as_json {
        return Ok(json(&Texts {
            id: accepted.inspection.id,
            title: accepted.view.title,
            texts: accepted.view.texts,
        })?);
    }
    let wanted = length.as_deref().unwrap_or("full");
    let keys: Vec<&str> = accepted.view.texts.iter().map(|text| text.key.as_str()).collect();
    match accepted.view.texts.iter().find(|text| text.key == wanted) {
        // As it is to be pasted: no line is broken here.
        Some(text) => Ok(format!("{}\n", text.text)),
        None => Err(Failure::Usage(format!(
            "--length must be one of {}, and \"{}\" was given",
            keys.join(", "),
            crate::error::one_line(wanted)
        ))),
    }
}
