//! The note for the service bench: what to mend, with what was measured and seen, one line each.
//!
//! Not here: the text for a buyer ([`super::full`]).

use super::name;
use crate::catalogue;
use crate::finding::Condition;
use crate::outcome::Evidence;
use crate::shutter;
use crate::whole::{Examined, Inspection};
use crate::words;

/// The marked times that are off, with their figures: `1/500: 1/412 s, 0.28 over ±0.05, 2 shots by light`.
fn times(judged: &shutter::Judgement) -> Vec<String> {
    judged
        .rows
        .iter()
        .filter(|row| row.call == metrology::Call::Outside || row.is_uneven())
        .filter_map(|row| {
            let error = row.error?;
            let time = row.time().map_or_else(String::new, |time| format!("{}, ", shutter::time(time.value())));
            let taper = row.taper.filter(|_| row.is_uneven()).map_or_else(String::new, |taper| {
                format!(", {} stop from one end of the gate to the other", words::plain(taper.value().abs(), 1))
            });
            Some(format!("  {}: {time}{}, {}{taper}", row.mark.label(), words::film_error_with_doubt(error), row.how()))
        })
        .collect()
}

/// The openings that are off.
fn openings(examined: &Examined) -> Vec<String> {
    examined
        .aperture
        .iter()
        .flat_map(|judged| judged.outside())
        .filter_map(|row| Some(format!("  {}: {}", row.mark.label(), words::film_error_with_doubt(row.error?))))
        .collect()
}

/// The levels of a meter that is off.
fn levels(examined: &Examined) -> Vec<String> {
    examined
        .meter
        .iter()
        .filter(|judged| judged.call == metrology::Call::Outside)
        .flat_map(|judged| &judged.levels)
        .map(|level| {
            format!(
                "  {}: film gets {} ±{}",
                words::ev(level.reference.value()),
                words::film_error_short(-level.error.value()),
                words::doubt(level.error.expanded_95())
            )
        })
        .collect()
}

/// The note.
pub(super) fn note(inspection: &Inspection, examined: &Examined) -> String {
    let outcome = &examined.outcome;
    let mut lines = vec![name(inspection)];
    if outcome.remedies.is_empty() {
        lines.push("Nothing was found that wants mending.".to_owned());
    } else {
        lines.push("To mend:".to_owned());
        for remedy in &outcome.remedies {
            lines.push(format!("- {}", remedy.text));
            match remedy.evidence {
                Evidence::Shutter => lines.extend(examined.shutter.iter().flat_map(times)),
                Evidence::Aperture => lines.extend(openings(examined)),
                Evidence::Meter => lines.extend(levels(examined)),
                Evidence::Point(key, _) => {
                    if let Some(finding) = catalogue::point(key).and_then(|point| inspection.finding(point)) {
                        let note = finding.note.trim();
                        let note = if note.is_empty() { String::new() } else { format!(": “{note}”") };
                        lines.push(format!("  Found {}{note}", finding.condition.words()));
                    }
                }
                _ => {}
            }
        }
    }
    let worn: Vec<&str> = catalogue::points_of(&inspection.camera)
        .filter(|point| inspection.condition(point) == Condition::Worn)
        .map(|point| point.name)
        .collect();
    if !worn.is_empty() {
        lines.push(format!("Worn, and doing its work: {}.", worn.join(", ")));
    }
    let open: Vec<String> =
        outcome.unchecked.iter().filter(|one| one.matters).map(|one| words::lower_first(&one.text)).collect();
    if !open.is_empty() {
        lines.push(format!("Not checked here: {}.", open.join(", ")));
    }
    lines.extend(outcome.cautions.iter().map(|caution| format!("Caution: {}", caution.text)));
    lines.join("\n")
}
