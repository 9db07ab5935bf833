//! `lampblack compare`: two inspections of one camera side by side.
//!
//! Not here: what counts as a change (`inspection`).

use std::path::PathBuf;

use lexopt::{Arg, Parser};
use record::page::{ComparedSide, ComparisonView};
use record::shell::json_of;

use crate::error::Failure;
use crate::{Answer, file, table};

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut paths, mut as_json) = (Vec::<PathBuf>::new(), false);
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("json") => as_json = true,
            Arg::Value(value) => paths.push(value.into()),
            other => return Err(other.unexpected().into()),
        }
    }
    let [one, other] = paths.as_slice() else {
        return Err(Failure::Usage(format!("two inspections are laid side by side, and {} were given", paths.len())));
    };
    let (one, _) = file::inspection(one, None)?;
    let (other, _) = file::inspection(other, None)?;
    let laid = record::compare(&one, &other)?;
    if as_json { Ok(json_of(&laid)) } else { Ok(said(&laid)) }
}

fn who(side: &ComparedSide) -> String {
    format!("{}, {}, {}", side.title, side.day, side.outcome_words)
}

fn said(laid: &ComparisonView) -> String {
    let mut text = table::facts(&[
        ("before", who(&laid.before)),
        ("after", who(&laid.after)),
        ("in short", laid.headline.clone()),
    ]);
    text.push_str(&table::list("Measured", laid.measured.iter().map(|one| one.sentence.as_str())));
    text.push_str(&table::list("Found another than before", laid.findings.iter().map(|one| one.sentence.as_str())));
    text.push_str(&table::list("Besides", std::iter::once(laid.same_words.as_str())));
    text.push_str(&table::list("What has to be known", laid.notices.iter().map(String::as_str)));
    text
}
