//! Two inspections side by side, and one camera inspected again.
//!
//! Not here: what counts as a change ([`inspection::compare`]); which inspections belong together, which whoever keeps them finds.

use inspection::compare::{Change, Side, compare as laid};
use inspection::words;

use crate::convert::{self, Examination, pointing};
use crate::error::Error;
use crate::page::{Accepted, ChangeView, ComparedSide, ComparisonView};
use crate::v1::Inspection;

fn side(record: &Inspection, found: &Examination) -> ComparedSide {
    let result = record.result.clone().unwrap_or_default();
    ComparedSide {
        id: record.id.clone(),
        title: found.domain.camera.title(),
        day: record.updated.get(..10).unwrap_or(&record.updated).to_owned(),
        outcome: result.outcome,
        outcome_words: result.outcome_words,
        fingerprint: result.fingerprint,
    }
}

fn change(change: &Change) -> ChangeView {
    let (about, point, area) = pointing(change.evidence);
    ChangeView {
        about,
        point,
        area,
        name: change.name.clone(),
        before: change.before.clone(),
        after: change.after.clone(),
        difference: change.difference.map(|difference| difference.value()),
        standard_uncertainty: change.difference.map(|difference| difference.standard_uncertainty()),
        verdict: change.verdict.key().to_owned(),
        verdict_words: change.verdict.words().to_owned(),
        sentence: change.sentence(),
    }
}

/// Lays two inspections side by side; the one that was changed last counts as the later one, whichever is named first.
///
/// **Errors** where one of them cannot be judged.
pub fn compare(one: &Inspection, other: &Inspection) -> Result<ComparisonView, Error> {
    let (mut before, mut after) =
        if one.updated <= other.updated { (one.clone(), other.clone()) } else { (other.clone(), one.clone()) };
    let was = convert::work_out(&mut before).map_err(|error| error.at("the earlier inspection"))?;
    let is = convert::work_out(&mut after).map_err(|error| error.at("the later inspection"))?;
    let laid = laid(
        Side { inspection: &was.domain, examined: &was.examined },
        Side { inspection: &is.domain, examined: &is.examined },
    );
    Ok(ComparisonView {
        before: side(&before, &was),
        after: side(&after, &is),
        headline: laid.headline.clone(),
        measured: laid.measured.iter().map(change).collect(),
        findings: laid.findings.iter().map(change).collect(),
        same_words: format!(
            "{} found the same on both days.",
            words::sentence_case(&words::count(laid.same, "point was", "points were"))
        ),
        notices: laid.notices,
    })
}

/// A new inspection of the same camera: who it is, its marks, what it is judged by; nothing that was found or measured.
pub fn inspect_again(record: &Inspection, id: &str, now: &str) -> Result<Accepted, Error> {
    let mut again = Inspection {
        id: id.to_owned(),
        created: now.to_owned(),
        camera: record.camera.clone(),
        lens: record.lens.clone(),
        film: record.film.clone(),
        ..Inspection::default()
    };
    again.battery.wanted.clone_from(&record.battery.wanted);
    again.costs.currency.clone_from(&record.costs.currency);
    again.shutter.build.clone_from(&record.shutter.build);
    again.shutter.tolerance.clone_from(&record.shutter.tolerance);
    again.aperture.tolerance.clone_from(&record.aperture.tolerance);
    again.aperture.blades.clone_from(&record.aperture.blades);
    again.light_tight.hinge.clone_from(&record.light_tight.hinge);
    crate::accept(again, now)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::v1::Finding;

    const NOW: &str = "2026-03-01T09:30:00Z";

    #[test]
    fn a_camera_inspected_again_keeps_who_it_is_and_nothing_that_was_found() {
        let mut first = crate::new_inspection("rangefinder", "one", NOW).expect("accepted").inspection;
        first.camera.serial = "12".into();
        first.lens.f_numbers = vec!["2.8".into()];
        first.findings.push(Finding { point: "hinge-seal".into(), condition: "sound".into(), ..Finding::default() });
        let again = inspect_again(&first, "two", "2026-04-01T09:30:00Z").expect("accepted").inspection;
        assert_eq!((again.id.as_str(), again.revision, again.camera.serial.as_str()), ("two", 1, "12"));
        assert!(again.findings.is_empty() && again.lens == first.lens);
        // Whichever is named first, the earlier one is the one before.
        let laid = compare(&again, &first).expect("laid side by side");
        assert_eq!((laid.before.id.as_str(), laid.after.id.as_str()), ("one", "two"));
        assert_eq!(laid.findings[0].verdict, "gone");
    }
}
