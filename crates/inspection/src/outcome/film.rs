//! What film gets, as far as it says more than shutter, aperture and meter each by themselves.
//!
//! Errors that are each within their tolerance may add up to more than a film forgives. Not here: the sum
//! ([`crate::film_error`]); the one word ([`super`]).

use metrology::Call;

use super::weigh::Weighed;
use super::{Evidence, Reason};
use crate::film_error::{FilmGets, Usage};

/// Weighs it. What one measurement says alone is not said again.
pub(super) fn weigh(gets: &FilmGets, weighed: &mut Weighed) {
    let named = |evidence: Evidence| matches!(evidence, Evidence::Shutter | Evidence::Aperture | Evidence::Meter);
    if weighed.service.iter().chain(&weighed.limits).any(|reason| named(reason.evidence)) {
        return;
    }
    let in_hand = gets.films.iter().any(|film| film.in_hand);
    for usage in Usage::ALL {
        for (f, film) in gets.films.iter().enumerate() {
            // Without a film in hand the one that forgives least stands for all: what it is safe for, the others are.
            if if in_hand { !film.in_hand } else { film.key != "reversal" } {
                continue;
            }
            let outside = gets
                .of_usage(usage)
                .any(|row| row.verdicts.get(f).is_some_and(|verdict| verdict.call == Call::Outside));
            if !outside {
                continue;
            }
            if let Some(sentence) = gets.sentence(usage, f) {
                weighed.limits.push(Reason {
                    text: format!("What film gets, {}. {sentence}", usage.words().to_lowercase()),
                    evidence: Evidence::Film,
                });
            }
        }
    }
}
