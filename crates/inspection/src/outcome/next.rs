//! What to do next: the quickest check that could change the outcome, and what would settle it.
//!
//! Not here: the word itself ([`super`]); what would settle one measurement, which says so itself ([`crate::meter`],
//! [`crate::shutter`]).

use super::weigh::Weighed;
use super::{Unchecked, Word, minutes};
use crate::shutter::listed;
use crate::words;

/// Things named one by one; the rest is counted.
const NAMED: usize = 3;

/// The quickest of what was not checked and could change the word. Where something wants service already, or nothing that matters
/// is left, no look does.
pub(super) fn quickest(word: Word, weighed: &Weighed) -> Option<Unchecked> {
    match word {
        Word::NotYetKnown => weighed.unchecked.iter().find(|unchecked| unchecked.matters).cloned(),
        _ => None,
    }
}

/// `Four more minutes would settle it: hinge seal, latch-side seal, marked times, measured, and two more.`
pub(super) fn settle(word: Word, weighed: &Weighed) -> String {
    if word != Word::NotYetKnown {
        return String::new();
    }
    let left: Vec<&Unchecked> = weighed.unchecked.iter().filter(|unchecked| unchecked.matters).collect();
    let seconds: u32 = left.iter().map(|unchecked| unchecked.seconds).sum();
    if left.is_empty() {
        return String::new();
    }
    let mut names: Vec<String> = left.iter().take(NAMED).map(|unchecked| words::lower_first(&unchecked.text)).collect();
    if left.len() > NAMED {
        names.push(words::count(left.len() - NAMED, "other thing", "other things"));
    }
    let more = minutes(seconds).replacen(' ', " more ", 1);
    let also = if weighed.open.is_empty() { "" } else { " With what the measurements still ask for, above." };
    format!("{} would settle it: {}.{also}", words::sentence_case(&more), listed(&names))
}
