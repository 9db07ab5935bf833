//! `lampblack table`: one row for each measurement and finding, for any spreadsheet or engine.
//!
//! Not here: the columns (`record::table`); tables for people ([`crate::table`]).

use std::path::PathBuf;

use lexopt::{Arg, Parser};

use crate::error::{Failure, one_line};
use crate::{Answer, file, usage};

/// Runs the verb. A backup gives the rows of every inspection in it.
pub fn run(call: &mut Parser) -> Answer {
    let (mut paths, mut form) = (Vec::<PathBuf>::new(), None);
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("as") => form = Some(usage::text(call)?),
            // One object a line is what this verb gives as JSON.
            Arg::Long("json") => form = Some("ndjson".to_owned()),
            Arg::Value(value) => paths.push(value.into()),
            other => return Err(other.unexpected().into()),
        }
    }
    if paths.is_empty() {
        return Err(Failure::Usage("the inspections (FILE.json …) are missing".to_owned()));
    }
    let write = match form.as_deref().unwrap_or("csv") {
        "csv" => record::table::csv,
        "ndjson" => record::table::ndjson,
        other => {
            return Err(Failure::Usage(format!("--as must be csv or ndjson, and \"{}\" was given", one_line(other))));
        }
    };
    let mut rows = Vec::new();
    for path in &paths {
        let at = |error: record::Error| Failure::from(error).at(&file::name(path));
        for inspection in record::read_file(&file::read(path)?).map_err(at)?.inspections {
            rows.extend(record::table::rows(&inspection).map_err(at)?);
        }
    }
    Ok(write(&rows)?)
}
