//! `lampblack judge`: what an inspection comes to, and why.
//!
//! Not here: the rules (`inspection`), the file (`record`).

use std::path::PathBuf;

use lexopt::{Arg, Parser};
use record::shell::{Judged, json};
use record::v1::{Reason, Worked};

use crate::error::Failure;
use crate::{Answer, file, table, usage};

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut path, mut id, mut as_json) = (None::<PathBuf>, None, false);
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("id") => id = Some(usage::text(call)?),
            Arg::Long("json") => as_json = true,
            Arg::Value(value) => usage::one_file(&mut path, value)?,
            other => return Err(other.unexpected().into()),
        }
    }
    let path = usage::needed(path, "the inspection (FILE.json)")?;
    let (mut inspection, notices) = file::inspection(&path, id.as_deref())?;
    let place = file::name(&path);
    let found = record::work_out(&mut inspection).map_err(|error| Failure::from(error).at(&place))?;
    let worked =
        inspection.result.ok_or_else(|| Failure::None(format!("{place}: it comes to nothing that could be said")))?;
    let judged = Judged { id: inspection.id, title: found.domain.camera.title(), notices, worked };
    if as_json { Ok(json(&judged)?) } else { Ok(said(&judged)) }
}

fn texts(reasons: &[Reason]) -> impl Iterator<Item = &str> {
    reasons.iter().map(|reason| reason.text.as_str())
}

fn said(judged: &Judged) -> String {
    let worked = &judged.worked;
    let mut text = table::facts(&[
        ("camera", judged.title.clone()),
        ("outcome", worked.outcome_words.clone()),
        ("why", worked.outcome_sentence.clone()),
    ]);
    // Limits and what was not checked have lists of their own and need not stand twice.
    let listed =
        |reason: &&str| reason.starts_with("Not checked") || texts(&worked.limits).any(|limit| limit == *reason);
    text.push_str(&table::list("Reasons", texts(&worked.reasons).filter(|reason| !listed(reason))));
    text.push_str(&table::list("Limits", texts(&worked.limits)));
    text.push_str(&table::list("Remedies", texts(&worked.remedies)));
    text.push_str(&table::list("Seen, and changes nothing", texts(&worked.remarks)));
    for (usage, head) in [("hand_set", "set by hand"), ("metered", "as the camera's meter says")] {
        text.push_str(&film(worked, usage, head));
    }
    text.push_str(&table::list("What has to be known about it", worked.film_notices.iter().map(String::as_str)));
    if !worked.settle.is_empty() {
        text.push_str(&table::list("What would settle it", std::iter::once(worked.settle.as_str())));
    }
    let matters: Vec<&str> =
        worked.unchecked.iter().filter(|entry| entry.matters).map(|entry| entry.text.as_str()).collect();
    text.push_str(&table::list("Not checked, and it matters", matters.iter().copied()));
    let others: Vec<&str> =
        worked.unchecked.iter().filter(|entry| !entry.matters).map(|entry| entry.text.as_str()).collect();
    if !others.is_empty() {
        text.push_str(&format!("\nNot checked besides: {}\n", others.len()));
        text.push_str(&table::wrapped("  ", 2, &format!("{}.", others.join("; "))));
    }
    text.push_str(&table::list("Cautions", texts(&worked.cautions)));
    text.push_str(&table::list("Noticed on reading", judged.notices.iter().map(String::as_str)));
    text
}

/// What film gets in one usage: a row for each time, and what each film says to them.
fn film(worked: &Worked, usage: &str, head: &str) -> String {
    let rows: Vec<Vec<String>> = worked
        .film_error
        .iter()
        .filter(|row| row.usage == usage)
        .map(|row| vec![row.label.clone(), row.words.clone(), row.doubt_words.clone()])
        .collect();
    if rows.is_empty() {
        return String::new();
    }
    let sentences = worked.film_sentences.iter().filter(|one| one.usage == usage).map(|one| one.text.as_str());
    let table = table::columns(&["time", "film gets", "doubt"], &rows, true);
    format!("\nWhat film gets, {head}\n{table}{}", table::list("", sentences).trim_start())
}
