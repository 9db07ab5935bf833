//! A comparison in words.
//!
//! Not here: what changed ([`super`]).

use super::{Change, Side, Verdict};
use crate::outcome::Evidence;
use crate::words;

impl Change {
    /// `1/1000: 0.8 under ±0.1 by light → 0.1 over ±0.1 by light; a change of 0.9 stop ±0.1.`
    pub fn sentence(&self) -> String {
        let known = |text: &str| if text.is_empty() { "not known".to_owned() } else { text.to_owned() };
        let pair = format!("{}: {} → {}", self.name, known(&self.before), known(&self.after));
        match (self.difference, self.verdict) {
            // Of scattered light the difference is a share, and its words stand in the pair.
            (Some(_), verdict) if self.evidence == Evidence::Glare => match verdict {
                Verdict::Changed => format!("{pair}; a change beyond doubt."),
                _ => format!("{pair}; no change beyond doubt."),
            },
            (Some(difference), Verdict::Changed) => format!("{pair}; a change of {}.", size(difference)),
            (Some(difference), _) => {
                format!("{pair}; no change beyond the doubt of ±{} stop.", words::doubt(difference.expanded_95()))
            }
            (None, _) => format!("{pair}."),
        }
    }
}

fn size(difference: metrology::Estimate) -> String {
    let (value, doubt) = (difference.value().abs(), difference.expanded_95());
    let decimals = if doubt < 0.095 { 2 } else { 1 };
    format!("{} {} ±{}", words::plain(value, decimals), words::unit(value), words::doubt(doubt))
}

pub(super) fn headline(before: Side<'_>, after: Side<'_>, measured: &[Change], findings: &[Change]) -> String {
    let (was, is) = (before.examined.outcome.word, after.examined.outcome.word);
    let outcome =
        if was == is { format!("Still {}", is.words()) } else { format!("From {} to {}", was.words(), is.words()) };
    let count = |list: &[Change]| list.iter().filter(|one| one.verdict == Verdict::Changed).count();
    let both = measured.iter().filter(|one| one.difference.is_some()).count();
    let measured = match (both, count(measured)) {
        (0, _) => "nothing was measured on both days".to_owned(),
        (both, 0) => format!("of {} no change is beyond doubt", words::count(both, "figure", "figures")),
        (both, changed) => format!("{changed} of {} changed beyond doubt", words::count(both, "figure", "figures")),
    };
    let found = match count(findings) {
        0 => "no point was found another than before".to_owned(),
        changed => format!("{} found another than before", words::count(changed, "point was", "points were")),
    };
    format!("{outcome}; {measured}; {found}.")
}

pub(super) fn notices(before: Side<'_>, after: Side<'_>, measured: &[Change]) -> Vec<String> {
    let mut notices = Vec::new();
    let (was, is) = (&before.inspection.camera, &after.inspection.camera);
    let plain = |text: &str| text.chars().filter(|c| c.is_alphanumeric()).collect::<String>().to_lowercase();
    if was.kind != is.kind || plain(&was.serial) != plain(&is.serial) {
        notices.push(format!(
            "These are two cameras by what was entered, {} and {}: what differs need not have changed.",
            was.title(),
            is.title()
        ));
    }
    if plain(&was.lens) != plain(&is.lens) || plain(&was.lens_serial) != plain(&is.lens_serial) {
        notices.push("Another lens was on it: openings and glass are that lens's.".to_owned());
    }
    let references = |side: Side<'_>| -> Vec<&'static str> {
        side.inspection.meter.iter().flat_map(|run| run.references.iter().map(|reference| reference.kind.key)).collect()
    };
    let meters = measured.iter().any(|one| one.evidence == Evidence::Meter && one.difference.is_some());
    if meters && references(before) != references(after) {
        notices.push("The meter was held against another kind of reference.".to_owned());
    }
    if measured.iter().any(|one| one.difference.is_some()) {
        notices.push(
            "The two days are taken as measured apart: a doubt that both share makes a change better known than is said here, never \
             worse."
                .to_owned(),
        );
    }
    notices
}
