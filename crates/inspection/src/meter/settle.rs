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
/// Of these, so many at once where each has to be looked at.
const STRIDE: usize = 10;

/// The fitted error at one level and the two parts of its doubt \[stops\].
struct Part {
    value: f64,
    independent: f64,
    shared: f64,
}

/// Probability at the worst level with the independent variance multiplied by `share` and the shared doubts by `common`.
fn worst(parts: &[Part], tolerance: Tolerance, share: f64, common: f64, freedom: f64) -> f64 {
    parts
        .iter()
        .map(|part| {
            let independent = part.independent * share.sqrt();
            let common = part.shared * common;
            let total = (independent * independent + common * common).sqrt();
            // Welch–Satterthwaite with the shared part known: only the independent part has few degrees of freedom.
            let effective = if independent > 0.0 && freedom.is_finite() {
                freedom * libm::pow(total / independent, 4.0)
            } else {
                f64::INFINITY
            };
            Estimate::new(part.value, total, effective)
                .map_or(0.5, |estimate| conformance_probability(estimate, tolerance))
        })
        .fold(1.0, f64::min)
}

/// The first of the numbers `from..=to` that will do, where every one after it does too.
fn first(mut from: usize, to: usize, will_do: impl Fn(usize) -> bool) -> Option<usize> {
    if from > to || !will_do(to) {
        return None;
    }
    let mut known = to;
    while from < known {
        let middle = from.midpoint(known);
        if will_do(middle) { known = middle } else { from = middle + 1 }
    }
    Some(known)
}

fn decides(probability: f64) -> bool {
    Call::from_probability(probability) != Call::CannotTell
}

/// A sentence on what would settle it.
pub(super) fn what_would_settle(chosen: &Chosen, lights: &[f64], shared: &[f64], tolerance: Tolerance) -> String {
    let n = lights.len();
    let parts: Vec<Part> = lights
        .iter()
        .map(|&light| Part {
            value: chosen.predict(light).value(),
            independent: chosen.independent_uncertainty(light),
            shared: chosen.shared_part(light),
        })
        .collect();
    let scaled = chosen.fit.is_scaled();
    let freedom = |more: usize| {
        if scaled { (n + more).saturating_sub(chosen.parameters()).max(1) as f64 } else { f64::INFINITY }
    };
    let with_more =
        |more: usize, common: f64| worst(&parts, tolerance, n as f64 / (n + more) as f64, common, freedom(more));
    if decides(worst(&parts, tolerance, 0.0, 1.0, f64::INFINITY)) {
        return match first(1, MOST_READINGS, |more| decides(with_more(more, 1.0))) {
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
        let smaller = |i: usize| 1.0 - i as f64 / TRIES as f64;
        let will_do = |i: usize| decides(with_more(more, smaller(i)));
        // With few degrees of freedom a shared part, which is known, can make a call that what is left alone cannot: the steps
        // are looked through, most of them in strides. Else less doubt always does.
        let found = if scaled {
            let to = (0..=TRIES).step_by(STRIDE).find(|&i| will_do(i));
            to.and_then(|to| (to.saturating_sub(STRIDE - 1)..=to).find(|&i| will_do(i)))
        } else {
            first(0, TRIES, will_do)
        };
        found.filter(|&i| i < TRIES).map(smaller)
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
