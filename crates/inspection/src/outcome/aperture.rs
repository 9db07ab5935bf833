//! What a judged aperture comes to for the camera.
//!
//! Not here: how it is judged ([`crate::aperture`]); the one word that everything comes to ([`super`]).

use metrology::Call;

use super::weigh::Weighed;
use super::{Evidence, Reason};
use crate::aperture::{HYSTERESIS_STOPS, Judgement};
use crate::shutter::listed;
use crate::words;

/// Weighs the aperture, where it was measured. It need not be: film is safe without it as far as the eye can tell.
pub(super) fn weigh(judgement: Option<&Judgement>, weighed: &mut Weighed) {
    let Some(judgement) = judgement.filter(|judgement| !judgement.rows.is_empty()) else { return };
    let reason = |text: String| Reason { text, evidence: Evidence::Aperture };
    let judged: Vec<_> = judgement.rows.iter().filter(|row| !row.widest && row.error.is_some()).collect();
    let outside: Vec<String> = judgement
        .outside()
        .filter_map(|row| Some(format!("{} gives {}", row.mark.label(), words::film_error(row.error?.value()))))
        .collect();
    let open: Vec<String> =
        judged.iter().filter(|row| row.call == Call::CannotTell).map(|row| row.mark.label()).collect();
    if !outside.is_empty() {
        // Where most of the ring is off there is little left to avoid it with.
        if outside.len() * 2 > judged.len() {
            weighed.service.push(reason(format!("Aperture: {}.", listed(&outside))));
        } else {
            weighed.limits.push(reason(format!("Aperture: {}. Leave these out, or allow for it.", listed(&outside))));
        }
        let marks: Vec<String> = judgement.outside().map(|row| row.mark.label()).collect();
        weighed.remedies.push(reason(format!("Aperture: have {} set by a workshop.", listed(&marks))));
    }
    for same in &judgement.same {
        weighed.limits.push(reason(format!("Aperture: {same}")));
    }
    if !judgement.same.is_empty() {
        weighed.remedies.push(reason(
            "Aperture: photograph those marks once more; if it stays, the coupling of ring and blades wants a workshop.".to_owned(),
        ));
    }
    for odd in &judgement.odd_words {
        weighed.limits.push(reason(format!("Aperture: {odd} Bright spots out of focus show its shape.")));
        weighed.remedies.push(reason(
            "Aperture: have the blades cleaned and the one that sits off seated; oil on them is the usual cause (common practice)."
                .to_owned(),
        ));
    }
    if judgement.hysteresis_stops.is_some_and(|stops| stops.abs() > HYSTERESIS_STOPS) {
        weighed.limits.extend(judgement.settling.last().map(|said| reason(format!("Aperture: {said}"))));
    }
    if !open.is_empty() {
        weighed.remarks.push(reason(format!(
            "Aperture: it cannot be told yet whether {} {} within the tolerance. {}",
            listed(&open),
            if open.len() == 1 { "is" } else { "are" },
            judgement.settle
        )));
    } else if outside.is_empty() {
        weighed.remarks.push(reason(format!("Aperture: {}. {}", judgement.headline, judgement.pattern)));
    }
}
