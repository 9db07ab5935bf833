//! What would settle a call that cannot be made yet: more readings, or a better reference.
//!
//! The doubt has a part that more readings make smaller and a part that they share; both are tried in turn.
//! Not here: the call itself ([`super::judge`]).

use metrology::{Call, Estimate, Tolerance, conformance_probability, student_factor};

use super::model::Chosen;
use crate::words;

/// More readings than this nobody takes.
const MOST_READINGS: usize = 60;
/// Steps in which a smaller shared doubt is tried.
const TRIES: usize = 400;

/// Probability at the worst level with the independent variance multiplied by `share` and the shared doubts by `common`.
fn worst(chosen: &Chosen, lights: &[f64], tolerance: Tolerance, share: f64, common: f64, freedom: f64) -> f64 {
    lights
        .iter()
        .map(|&light| {
            let independent = chosen.independent_uncertainty(light) * share.sqrt();
            let common = chosen.shared_part(light) * common;
            let total = (independent * independent + common * common).sqrt();
            // Welch–Satterthwaite with the shared part known: only the independent part has few degrees of freedom.
            let effective = if independent > 0.0 && freedom.is_finite() {
                freedom * libm::pow(total / independent, 4.0)
            } else {
                f64::INFINITY
            };
            Estimate::new(chosen.predict(light).value(), total, effective)
                .map_or(0.5, |estimate| conformance_probability(estimate, tolerance))
        })
        .fold(1.0, f64::min)
}

fn decides(probability: f64) -> bool {
    Call::from_probability(probability) != Call::CannotTell
}

/// A sentence on what would settle it.
pub(super) fn what_would_settle(chosen: &Chosen, lights: &[f64], shared: &[f64], tolerance: Tolerance) -> String {
    let n = lights.len();
    let scaled = chosen.fit.is_scaled();
    let freedom = |more: usize| {
        if scaled { (n + more).saturating_sub(chosen.parameters()).max(1) as f64 } else { f64::INFINITY }
    };
    let with_more = |more: usize, common: f64| {
        worst(chosen, lights, tolerance, n as f64 / (n + more) as f64, common, freedom(more))
    };
    if decides(worst(chosen, lights, tolerance, 0.0, 1.0, f64::INFINITY)) {
        return match (1..=MOST_READINGS).find(|&more| decides(with_more(more, 1.0))) {
            Some(more) => {
                let count = words::sentence_case(&words::count(more, "more reading", "more readings"));
                format!("{count} like these would settle it.")
            }
            None => format!(
                "More than {MOST_READINGS} readings like these would be needed: read the scale more finely, or take a reference \
                 that is steadier from level to level."
            ),
        };
    }
    let enough = |more: usize| {
        (0..TRIES)
            .map(|i| 1.0 - i as f64 / TRIES as f64)
            .chain(std::iter::once(0.0))
            .find(|&smaller| decides(with_more(more, smaller)))
            .filter(|&smaller| smaller > 0.0)
    };
    let factor = student_factor(0.95, f64::INFINITY).unwrap_or(1.96);
    let said = |smaller: f64| {
        // Rounded down, so that the doubt that is named is good enough.
        words::plain((smaller * factor * 100.0).floor() / 100.0, 2)
    };
    for more in [0, 2, 5, 10, 20] {
        let Some(smaller) = enough(more) else { continue };
        // With several references the largest of their doubts is named; it is the one that a better reference would replace.
        let largest = shared.iter().copied().fold(0.0, f64::max);
        if said(largest * smaller) == "0.00" {
            continue;
        }
        let readings = match more {
            0 => String::new(),
            _ => format!(", with {},", words::count(more, "more reading", "more readings")),
        };
        return format!(
            "More readings alone will not settle it. A reference whose shared doubt is ±{} stop or less (now ±{}){readings} would.",
            said(largest * smaller),
            words::plain(largest * factor, 2),
        );
    }
    "The error lies on the limit of the tolerance itself: no reading will settle it. Choose the tolerance that the film needs."
        .to_owned()
}
