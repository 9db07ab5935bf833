//! Two inspections of one camera side by side: what changed, by how much, and whether the change is more than the doubt.
//!
//! A change of a measured value is `d = after − before` with `u² = u_before² + u_after²` \[stops\]: the two were measured apart. A
//! doubt that both share, such as one reference on both days, would make the change better known than is said here, never worse.
//! It counts as a change where |d| is beyond its expanded uncertainty at 95 %. Not here: how each is judged; which inspections
//! belong together (`www`, `cli`).

mod measured;
mod say;

use metrology::Estimate;

use crate::catalogue::{Area, points};
use crate::finding::Condition;
use crate::outcome::Evidence;
use crate::whole::{Examined, Inspection};
use crate::words;

/// One inspection with what it comes to.
#[derive(Clone, Copy, Debug)]
pub struct Side<'a> {
    /// What was entered and caught.
    pub inspection: &'a Inspection,
    /// What it comes to.
    pub examined: &'a Examined,
}

/// What can be said about one thing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It changed, beyond doubt.
    Changed,
    /// It may have changed, and the doubt is larger than that.
    WithinDoubt,
    /// It is known now and was not before.
    New,
    /// It was known before and is not now.
    Gone,
}

impl Verdict {
    /// The key for whoever shows it.
    pub const fn key(self) -> &'static str {
        match self {
            Verdict::Changed => "changed",
            Verdict::WithinDoubt => "within_doubt",
            Verdict::New => "new",
            Verdict::Gone => "gone",
        }
    }

    /// As said.
    pub const fn words(self) -> &'static str {
        match self {
            Verdict::Changed => "changed",
            Verdict::WithinDoubt => "no change beyond doubt",
            Verdict::New => "only now",
            Verdict::Gone => "only before",
        }
    }
}

/// One thing before and after.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// What it is about.
    pub evidence: Evidence,
    /// `1/1000`, `Hinge seal`.
    pub name: String,
    /// As it was, in words; empty where it was not known.
    pub before: String,
    /// As it is, in words; empty where it is not known.
    pub after: String,
    /// After less before \[stops\], for what is measured on both days.
    pub difference: Option<Estimate>,
    /// What can be said.
    pub verdict: Verdict,
}

/// The comparison.
#[derive(Clone, Debug, PartialEq)]
pub struct Comparison {
    /// One sentence: the outcome then and now, and how much changed.
    pub headline: String,
    /// What was measured, thing by thing, in the order of the areas.
    pub measured: Vec<Change>,
    /// What was looked at and is another than before.
    pub findings: Vec<Change>,
    /// How many points were found the same on both days.
    pub same: usize,
    /// What has to be known.
    pub notices: Vec<String>,
}

/// After less before, and what can be said about it.
fn difference(before: Estimate, after: Estimate) -> Option<(Estimate, Verdict)> {
    let doubts = [before, after].map(|one| (one.standard_uncertainty(), one.degrees_of_freedom()));
    let variance: f64 = doubts.iter().map(|(u, _)| u * u).sum();
    let freedom = metrology::effective_degrees_of_freedom(&doubts);
    let difference = Estimate::new(after.value() - before.value(), variance.sqrt(), freedom).ok()?;
    let beyond = difference.value().abs() > difference.expanded_95();
    Some((difference, if beyond { Verdict::Changed } else { Verdict::WithinDoubt }))
}

/// Points whose condition is another than before.
fn findings(before: &Inspection, after: &Inspection) -> (Vec<Change>, usize) {
    let (mut changes, mut same) = (Vec::new(), 0);
    for area in Area::ALL {
        for point in points().filter(|point| point.area == area) {
            let (was, is) = (before.condition(point), after.condition(point));
            let verdict = match (was, is) {
                (Condition::NotChecked, Condition::NotChecked) => continue,
                (Condition::NotChecked, _) => Verdict::New,
                (_, Condition::NotChecked) => Verdict::Gone,
                _ if was == is => {
                    same += 1;
                    continue;
                }
                _ => Verdict::Changed,
            };
            changes.push(Change {
                evidence: Evidence::Point(point.key, point.area),
                name: words::sentence_case(point.name),
                before: if was.is_checked() { was.words().to_owned() } else { String::new() },
                after: if is.is_checked() { is.words().to_owned() } else { String::new() },
                difference: None,
                verdict,
            });
        }
    }
    (changes, same)
}

/// Lays two inspections side by side, the earlier one first.
pub fn compare(before: Side<'_>, after: Side<'_>) -> Comparison {
    let measured = measured::changes(before, after);
    let (findings, same) = findings(before.inspection, after.inspection);
    Comparison {
        headline: say::headline(before, after, &measured, &findings),
        notices: say::notices(before, after, &measured),
        measured,
        findings,
        same,
    }
}

#[cfg(test)]
mod tests;
