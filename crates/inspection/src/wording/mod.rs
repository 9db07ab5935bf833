//! The words for the listing, in three lengths, and the note for the service bench, made from what was found and measured.
//!
//! Every sentence is a [`Said`] with the evidence that it comes from. A point that nobody looked at stands among what was not
//! checked and nowhere else; what was only heard is said as heard; a number comes with its doubt and how it was got. Not here: the
//! outcome itself ([`crate::outcome`]); what a person makes of the text, which the record keeps.

mod full;
mod measured;
mod service;

use crate::catalogue;
use crate::finding::Condition;
use crate::outcome::{Evidence, Word};
use crate::whole::{Examined, Inspection};
use crate::words;

/// A sentence and what it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Said {
    /// The paragraph it belongs to, counted from 0.
    pub paragraph: usize,
    /// The sentence.
    pub text: String,
    /// What it rests on; empty for who the camera is.
    pub evidence: Vec<Evidence>,
}

/// The texts.
#[derive(Clone, Debug, PartialEq)]
pub struct Wording {
    /// One line.
    pub line: String,
    /// One paragraph.
    pub paragraph: String,
    /// Everything, in paragraphs.
    pub full: String,
    /// What to mend, for the service bench.
    pub service: String,
    /// The sentences of the full text, each with what it rests on.
    pub said: Vec<Said>,
}

/// Puts the texts together.
pub fn compose(inspection: &Inspection, examined: &Examined) -> Wording {
    let said = full::sentences(inspection, examined);
    Wording {
        line: line(inspection, examined),
        paragraph: paragraph(inspection, examined),
        full: joined(&said),
        service: service::note(inspection, examined),
        said,
    }
}

/// Sentences to paragraphs, with an empty line between them.
fn joined(said: &[Said]) -> String {
    let mut text = String::new();
    let mut last = None;
    for one in said {
        match last {
            None => {}
            Some(paragraph) if paragraph == one.paragraph => text.push(' '),
            Some(_) => text.push_str("\n\n"),
        }
        text.push_str(&one.text);
        last = Some(one.paragraph);
    }
    text
}

/// `Halden 35 R, serial 41 207, with Halden 50 mm f/2`.
fn name(inspection: &Inspection) -> String {
    let camera = &inspection.camera;
    let mut name = [camera.maker.trim(), camera.model.trim()].join(" ").trim().to_owned();
    if name.is_empty() {
        camera.kind.words().clone_into(&mut name);
    }
    if !camera.serial.trim().is_empty() {
        name.push_str(&format!(", serial {}", camera.serial.trim()));
    }
    if !camera.lens.trim().is_empty() {
        name.push_str(&format!(", with {}", camera.lens.trim()));
    }
    name
}

/// The outcome as a buyer reads it: the bench's word and what it means.
fn outcome(word: Word) -> &'static str {
    match word {
        Word::Ready => "ready to use: everything that matters was checked and is within",
        Word::ReadyWithLimits => "ready to use with limits",
        Word::WantsService => "wants service before film is spent on it",
        Word::ForParts => "for parts",
        Word::NotYetKnown => "not fully checked, so that no promise is made",
    }
}

/// Names of what was found faulty or failed.
fn bad(inspection: &Inspection) -> Vec<&'static str> {
    catalogue::points_of(&inspection.camera)
        .filter(|point| inspection.condition(point).is_bad())
        .map(|point| point.name)
        .collect()
}

/// How many of the camera's points nobody looked at.
fn unchecked(inspection: &Inspection) -> usize {
    catalogue::points_of(&inspection.camera)
        .filter(|point| inspection.condition(point) == Condition::NotChecked)
        .count()
}

fn line(inspection: &Inspection, examined: &Examined) -> String {
    let mut parts = vec![format!("{}: {}", name(inspection), examined.outcome.word.words())];
    parts.extend(measured::shortest(examined));
    let bad = bad(inspection);
    if !bad.is_empty() {
        let shown: Vec<&str> = bad.iter().take(2).copied().collect();
        let more =
            if bad.len() > shown.len() { format!(" and {} more", bad.len() - shown.len()) } else { String::new() };
        parts.push(format!("off: {}{more}", shown.join(", ")));
    }
    let unchecked = unchecked(inspection);
    if unchecked > 0 {
        parts.push(format!("{} not looked at", words::count(unchecked, "point", "points")));
    }
    format!("{}.", parts.join("; "))
}

fn paragraph(inspection: &Inspection, examined: &Examined) -> String {
    let mut parts = vec![format!("{}: {}.", name(inspection), outcome(examined.outcome.word))];
    parts.extend(measured::short(inspection, examined).into_iter().map(|said| said.text));
    let bad = bad(inspection);
    if !bad.is_empty() {
        parts.push(format!("Found off: {}.", bad.join(", ")));
    }
    let (done, all) = inspection.progress();
    parts.push(match unchecked(inspection) {
        0 => format!("All {all} points of the check were looked at."),
        left => format!(
            "{done} of {all} points were looked at; {} {} not, and nothing is said about {}.",
            left,
            if left == 1 { "was" } else { "were" },
            if left == 1 { "it" } else { "them" }
        ),
    });
    parts.join(" ")
}

#[cfg(test)]
mod tests;
