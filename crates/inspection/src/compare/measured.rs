//! Measured values before and after: marked times, the meter, openings, scattered light.
//!
//! Not here: what a difference means ([`super::difference`]).

use metrology::Estimate;
use timing::State;

use super::{Change, Side, Verdict, difference};
use crate::glare;
use crate::outcome::Evidence;
use crate::words;

/// A value with its name, where it is known.
struct Value {
    name: String,
    error: Estimate,
    /// `0.8 under ±0.1 by light`.
    words: String,
}

fn in_words(error: Estimate, how: &str) -> String {
    let said = words::film_error_with_doubt(error);
    if how.is_empty() { said } else { format!("{said} {how}") }
}

/// Marked times that were measured, or probable; what is only indicated is not held against anything.
fn times(side: Side<'_>) -> Vec<Value> {
    let rows = side.examined.shutter.iter().flat_map(|judged| &judged.rows);
    rows.filter(|row| row.state >= State::Probable)
        .filter_map(|row| {
            let error = row.error?;
            Some(Value { name: row.mark.label(), error, words: in_words(error, row.signal.by()) })
        })
        .collect()
}

/// What film gets by the meter alone, in the middle of its range.
fn meter(side: Side<'_>) -> Vec<Value> {
    let judged = side.examined.meter.iter();
    judged
        .filter_map(|judged| {
            let offset = judged.offset;
            let error =
                Estimate::new(-offset.value(), offset.standard_uncertainty(), offset.degrees_of_freedom()).ok()?;
            Some(Value { name: "Meter".to_owned(), error, words: in_words(error, &judged.uneven_words()) })
        })
        .collect()
}

fn openings(side: Side<'_>) -> Vec<Value> {
    let rows = side.examined.aperture.iter().flat_map(|judged| &judged.rows);
    rows.filter(|row| !row.widest)
        .filter_map(|row| {
            let error = row.error?;
            Some(Value { name: row.mark.label(), error, words: in_words(error, "") })
        })
        .collect()
}

/// The last figure of each day: it is a share of light, and no exposure.
fn scattered(side: Side<'_>) -> Vec<Value> {
    side.inspection
        .glare
        .last()
        .filter(|measured| !measured.rough)
        .map(|measured| Value {
            name: "Light scattered by the lens".to_owned(),
            error: measured.index,
            words: glare::figure(measured.index),
        })
        .into_iter()
        .collect()
}

fn pairs(evidence: Evidence, before: Vec<Value>, after: Vec<Value>) -> Vec<Change> {
    let one = |name: &str, was: Option<&Value>, is: Option<&Value>| {
        let both = was.zip(is).and_then(|(was, is)| difference(was.error, is.error));
        let verdict = match (was, is) {
            (None, _) => Verdict::New,
            (_, None) => Verdict::Gone,
            _ => both.map_or(Verdict::WithinDoubt, |(_, verdict)| verdict),
        };
        let said = |value: Option<&Value>| value.map_or_else(String::new, |value| value.words.clone());
        Change {
            evidence,
            name: name.to_owned(),
            before: said(was),
            after: said(is),
            difference: both.map(|(difference, _)| difference),
            verdict,
        }
    };
    let mut changes: Vec<Change> =
        after.iter().map(|is| one(&is.name, before.iter().find(|was| was.name == is.name), Some(is))).collect();
    changes.extend(
        before
            .iter()
            .filter(|was| after.iter().all(|is| is.name != was.name))
            .map(|was| one(&was.name, Some(was), None)),
    );
    changes
}

/// Everything that was measured on one day at least.
pub(super) fn changes(before: Side<'_>, after: Side<'_>) -> Vec<Change> {
    [
        pairs(Evidence::Shutter, times(before), times(after)),
        pairs(Evidence::Meter, meter(before), meter(after)),
        pairs(Evidence::Aperture, openings(before), openings(after)),
        pairs(Evidence::Glare, scattered(before), scattered(after)),
    ]
    .concat()
}
