//! `lampblack sheet`: one page about one camera, as a file that needs nothing else.
//!
//! Not here: what stands on it (`inspection`), its markup ([`crate::html`]).

use std::path::{Path, PathBuf};

use lexopt::{Arg, Parser};
use record::shell::json_of;

use crate::error::Failure;
use crate::{Answer, clock, file, html, usage};

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut path, mut out, mut id, mut at) = (None::<PathBuf>, None::<PathBuf>, None, None);
    let mut as_json = false;
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Short('o') | Arg::Long("output") => out = Some(PathBuf::from(call.value()?)),
            Arg::Long("id") => id = Some(usage::text(call)?),
            Arg::Long("at") => at = Some(usage::text(call)?),
            Arg::Long("json") => as_json = true,
            Arg::Value(value) => usage::one_file(&mut path, value)?,
            other => return Err(other.unexpected().into()),
        }
    }
    let path = usage::needed(path, "the inspection (FILE.json)")?;
    let (inspection, _) = file::inspection(&path, id.as_deref())?;
    let place = file::name(&path);
    let sheet =
        record::sheet(&inspection, &at.unwrap_or_else(clock::now)).map_err(|error| Failure::from(error).at(&place))?;
    let text = if as_json { json_of(&sheet) } else { html::document(&sheet) };
    let Some(out) = out else { return Ok(text) };
    if same_file(&path, &out) {
        return Err(Failure::Usage("the sheet would overwrite the inspection: give it another name".to_owned()));
    }
    file::write(&out, &text)?;
    Ok(String::new())
}

fn same_file(one: &Path, other: &Path) -> bool {
    match (one.canonicalize(), other.canonicalize()) {
        (Ok(one), Ok(other)) => one == other,
        _ => false,
    }
}
