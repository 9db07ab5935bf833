//! `lampblack schema`: the JSON Schema of the inspection file.
//!
//! Not here: how it comes about (`record`).

use lexopt::{Arg, Parser};

use crate::Answer;

/// Runs the verb; the schema is one JSON object with or without `--json`.
pub fn run(call: &mut Parser) -> Answer {
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("json") => {}
            other => return Err(other.unexpected().into()),
        }
    }
    Ok(record::schema_text())
}
