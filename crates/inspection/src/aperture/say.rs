//! What a judged aperture comes to in words: how the errors run, how the iris repeats, what would settle it.
//!
//! Not here: the calls themselves ([`super::judge`]), what follows for the camera ([`crate::outcome`]).

use metrology::Call;
use photometry::FNumberMark;

use super::{Check, FEWEST_CLOSED, HYSTERESIS_STOPS, Judgement, SCATTER_STOPS, StopRow};
use crate::shutter::listed;
use crate::words;

/// What no photo of a lens on a table can say.
pub(super) const COMMON: &str = "The marks are put against one another: an error that all of them share does not show.";

/// `f/16 is 0.4 stop too small (under); the others agree within 0.1 stop.`
pub(super) fn pattern(rows: &[StopRow]) -> String {
    let known: Vec<(&StopRow, f64)> =
        rows.iter().filter(|row| !row.widest).filter_map(|row| Some((row, row.error?.value()))).collect();
    if known.len() < FEWEST_CLOSED {
        return "Too few stopped-down marks to say how the errors run.".to_owned();
    }
    let off: Vec<&(&StopRow, f64)> = known.iter().filter(|(row, _)| row.call == Call::Outside).collect();
    let most = known.iter().map(|(_, error)| error.abs()).fold(0.0, f64::max);
    if off.is_empty() {
        return format!("The marks agree with one another within {} stop.", words::doubt(most.max(0.01)));
    }
    let said: Vec<String> = off
        .iter()
        .map(|(row, error)| {
            let side = if *error > 0.0 { "wide" } else { "small" };
            format!("{} is too {side} ({})", row.mark.label(), words::film_error(*error))
        })
        .collect();
    let rest =
        known.iter().filter(|(row, _)| row.call != Call::Outside).map(|(_, error)| error.abs()).fold(0.0, f64::max);
    if off.len() == known.len() {
        format!("{}.", listed(&said))
    } else {
        format!("{}; the others agree within {} stop.", listed(&said), words::doubt(rest.max(0.01)))
    }
}

/// How well the iris repeats and whether the side matters.
pub(super) fn settling(scatter: Option<f64>, hysteresis: Option<f64>) -> Vec<String> {
    let mut said = Vec::new();
    if let Some(scatter) = scatter {
        let judged = if scatter > SCATTER_STOPS { "the iris does not settle well" } else { "the iris settles well" };
        said.push(format!(
            "Set again, an opening comes back within {} stop: {judged}.",
            words::doubt((2.0 * scatter).max(0.01))
        ));
    }
    if let Some(hysteresis) = hysteresis {
        let size = words::doubt(hysteresis.abs().max(0.01));
        let side = if hysteresis > 0.0 { "wider" } else { "smaller" };
        said.push(if hysteresis.abs() > HYSTERESIS_STOPS {
            format!(
                "Coming from the open side, openings are {size} stop {side}: set the ring from the same side each time."
            )
        } else {
            format!("From which side the ring is turned matters by {size} stop.")
        });
    }
    said
}

/// What would settle it.
pub(super) fn settle(rows: &[StopRow], missing: &[FNumberMark]) -> String {
    let closed = rows.iter().filter(|row| !row.widest && row.error.is_some()).count();
    if closed < FEWEST_CLOSED {
        return format!(
            "{} would settle it: the marks are judged against the middle of at least three.",
            words::sentence_case(&words::count(
                FEWEST_CLOSED - closed,
                "more stopped-down mark",
                "more stopped-down marks"
            ))
        );
    }
    let open: Vec<String> = rows
        .iter()
        .filter(|row| !row.widest && row.call == Call::CannotTell && row.error.is_some())
        .map(|row| row.mark.label())
        .collect();
    if !open.is_empty() {
        return format!(
            "Two more photos of {}, with the lens filling more of the picture, would settle it.",
            listed(&open)
        );
    }
    let unseen: Vec<String> = rows.iter().filter(|row| row.error.is_none()).map(|row| row.mark.label()).collect();
    if !unseen.is_empty() {
        return format!("A photo of {} that shows a whole opening would settle it.", listed(&unseen));
    }
    if !missing.is_empty() {
        let marks: Vec<String> = missing.iter().map(FNumberMark::label).collect();
        return format!("A photo of {} is missing.", listed(&marks));
    }
    String::new()
}

/// What is said before there are two marks with an opening.
pub(super) fn too_few(check: &Check, notices: Vec<String>) -> Judgement {
    let mut seen: Vec<&str> = check
        .shots
        .iter()
        .filter(|shot| shot.opening.is_some())
        .filter_map(|shot| Some(shot.mark.as_ref()?.text()))
        .collect();
    seen.sort_unstable();
    seen.dedup();
    Judgement {
        rows: Vec::new(),
        missing: check.marks.clone(),
        call: Call::CannotTell,
        headline: format!("{} with an opening", words::count(seen.len(), "marked f-number", "marked f-numbers")),
        pattern: "Openings are put against one another, so that one of them alone says nothing.".to_owned(),
        same: Vec::new(),
        odd_blades: Vec::new(),
        odd_words: Vec::new(),
        blade_count: check.blade_count,
        settling: Vec::new(),
        repeatability_stops: None,
        hysteresis_stops: None,
        settle: "Photos of the widest mark and of three others that show a whole opening.".to_owned(),
        tolerance: check.tolerance.clone(),
        notices,
    }
}
