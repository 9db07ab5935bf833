//! From the domain's results to the file's `result`.
//!
//! Not here: how they come about, or how they are drawn (`shown`).

use inspection::consistency::Consistency;
use inspection::meter::Judgement;
use inspection::outcome::{Evidence, Outcome, Reason, Unchecked};
use inspection::remedy::DialAdvice;
use inspection::words;
use inspection::{Examined, Inspection};
use metrology::Estimate;

use crate::{PROGRAM, v1};

pub(super) fn estimate(estimate: Estimate) -> v1::Estimate {
    let freedom = estimate.degrees_of_freedom();
    v1::Estimate {
        value: estimate.value(),
        standard_uncertainty: estimate.standard_uncertainty(),
        degrees_of_freedom: freedom.is_finite().then_some(freedom),
    }
}

pub(crate) fn pointing(evidence: Evidence) -> (String, String, String) {
    let (about, point, area) = match evidence {
        Evidence::Point(key, area) => ("point", key, area.key()),
        Evidence::Meter => ("meter", "", "meter"),
        Evidence::Shutter => ("shutter", "", "shutter"),
        Evidence::Aperture => ("aperture", "", "lens"),
        Evidence::Film => ("film", "", ""),
        Evidence::Glare => ("glare", "", "lens"),
        Evidence::Consistency => ("consistency", "", "meter"),
        Evidence::TestRoll => ("test_roll", "", "seals"),
        Evidence::Costs => ("costs", "", ""),
    };
    (about.to_owned(), point.to_owned(), area.to_owned())
}

fn reasons(reasons: &[Reason]) -> Vec<v1::Reason> {
    reasons
        .iter()
        .map(|reason| {
            let (about, point, area) = pointing(reason.evidence);
            v1::Reason { text: reason.text.clone(), about, point, area }
        })
        .collect()
}

fn unchecked(entry: &Unchecked) -> v1::Unchecked {
    let (about, point, area) = pointing(entry.evidence);
    v1::Unchecked { text: entry.text.clone(), about, point, area, matters: entry.matters, seconds: entry.seconds }
}

/// How much of the catalogue was looked at.
pub(super) fn progress(domain: &Inspection) -> String {
    let (done, all) = domain.progress();
    format!("{done} of {all} points looked at")
}

pub(super) fn worked(domain: &Inspection, examined: &Examined) -> v1::Worked {
    let Outcome {
        word,
        sentence,
        reasons: why,
        limits,
        remarks,
        unchecked: open,
        next,
        settle,
        remedies,
        cautions,
        for_parts_offered,
    } = &examined.outcome;
    v1::Worked {
        program: PROGRAM.to_owned(),
        // Of the record, not of the domain: filled in by whoever holds it.
        fingerprint: String::new(),
        outcome: word.key().to_owned(),
        outcome_words: word.words().to_owned(),
        outcome_sentence: sentence.clone(),
        progress_words: progress(domain),
        reasons: reasons(why),
        limits: reasons(limits),
        remarks: reasons(remarks),
        unchecked: open.iter().map(unchecked).collect(),
        next: next.as_ref().map(unchecked),
        settle: settle.clone(),
        costs_sentence: domain.costs.sentence(),
        films: super::film::films(&examined.film),
        film_error: super::film::rows(&examined.film),
        film_sentences: super::film::sentences(&examined.film),
        film_notices: examined.film.notices.clone(),
        remedies: reasons(remedies),
        cautions: reasons(cautions),
        for_parts_offered: *for_parts_offered,
        meter: examined.meter.as_ref().map(meter),
        shutter: examined.shutter.as_ref().map(super::shutter::result),
        aperture: examined.aperture.as_ref().map(super::aperture::result),
        lens_measurements: examined.glare.as_ref().map(super::aperture::comparison),
        light_tight: super::light_tight::result(domain),
        test_roll: super::test_roll::result(&examined.test_roll),
        consistency: examined.consistency.as_ref().map(consistency),
        wording: super::wording::result(domain, examined),
    }
}

pub(crate) fn meter(judgement: &Judgement) -> v1::MeterResult {
    let (remedy, no_remedy) = match &judgement.remedy {
        DialAdvice::Set(setting) => (
            Some(v1::Remedy {
                dial: setting.dial.clone(),
                residual_stops: setting.residual_stops,
                left_stops: setting.left.iter().map(|left| left.value()).collect(),
                text: setting.text(),
                left_text: setting.left_text(),
            }),
            String::new(),
        ),
        DialAdvice::None(why) => (None, why.clone()),
    };
    v1::MeterResult {
        offset_stops: estimate(judgement.offset),
        slope_stops_per_stop: judgement.slope.map(estimate),
        slope_reported: judgement.slope_reported,
        fall_off_below_ev100: judgement.fall_off_below.map(|ev| ev.value()),
        birge_ratio: judgement.birge_ratio,
        tolerance_stops: judgement.tolerance.value(),
        levels: judgement
            .levels
            .iter()
            .map(|level| v1::LevelResult {
                reference_ev100: level.reference.value(),
                error_stops: level.error.value(),
                error_standard_uncertainty_stops: level.error.standard_uncertainty(),
                fitted_stops: level.fitted.value(),
                standard_uncertainty_stops: level.fitted.standard_uncertainty(),
                conformity: level.conformity,
                light_words: words::ev(level.reference.value()),
                reading_words: level.reading_words.clone(),
                error_words: words::film_error_short(-level.error.value()),
                doubt_words: format!("±{}", words::doubt(level.error.expanded_95())),
            })
            .collect(),
        conformity: judgement.conformity,
        call: judgement.call.key().to_owned(),
        call_words: judgement.call.word().to_owned(),
        headline: judgement.headline(),
        headline_doubt: judgement.headline_doubt(),
        call_reason: judgement.call_reason(),
        pattern: judgement.pattern.clone(),
        settle: judgement.settle.clone(),
        remedy,
        no_remedy,
        causes: judgement.causes.clone(),
        notices: judgement.notices.clone(),
    }
}

fn consistency(result: &Consistency) -> v1::ConsistencyResult {
    v1::ConsistencyResult {
        sentence: result.sentence.clone(),
        effects: result
            .effects
            .iter()
            .map(|effect| v1::Effect {
                dial: effect.dial.key().to_owned(),
                mark: effect.mark.clone(),
                effect_stops: estimate(effect.effect),
                beyond_doubt: effect.beyond_doubt,
                words: effect.words(),
            })
            .collect(),
        drift_stops: result.drift.map(estimate),
        notices: result.notices.clone(),
    }
}
