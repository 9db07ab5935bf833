//! How a judged run is said: its pattern over the light, usual causes worded as such, and notices.
//!
//! Not here: numbers (`super::model`), the remedy's words ([`crate::remedy`]).

use super::model::{Chosen, Model, range};
use super::{ALIKE_EV, Level, Run};
use crate::words;

/// A range narrower than this says little about the rest [EV].
const NARROW_EV: f64 = 4.0;
/// Scatter is worth a word from this Birge ratio on.
const SCATTER: f64 = 1.3;

/// `1/125 · f/5.6`, and how often where it was read more than once.
pub(super) fn readings(level: &Level) -> String {
    let mut different: Vec<&str> = Vec::new();
    for reading in &level.readings {
        if !different.contains(&reading.words.as_str()) {
            different.push(&reading.words);
        }
    }
    let said = different.join(" and ");
    match level.readings.len() {
        0 | 1 => said,
        n => format!("{said}, read {n} times"),
    }
}

fn span(lights: &[f64]) -> String {
    let (low, high) = range(lights);
    format!("from {} to {}", words::ev(low), words::ev(high))
}

/// One sentence on how the error runs over the range.
pub(super) fn pattern(chosen: &Chosen, lights: &[f64]) -> String {
    let (low, high) = range(lights);
    let film = |light: f64| words::film_error(-chosen.predict(light).value());
    match chosen.model {
        Model::FallOff { begins, .. } => format!(
            "Above {} the error stays the same, {}; below that it runs away: {} at {}.",
            words::ev(begins),
            film(high),
            film(low),
            words::ev(low)
        ),
        Model::Line { .. } => format!(
            "The error changes with the light: {} at {}, {} at {}.",
            film(low),
            words::ev(low),
            film(high),
            words::ev(high)
        ),
        Model::Offset => {
            let offset = chosen.offset();
            let place = if high - low < ALIKE_EV { format!("at {}", words::ev(low)) } else { span(lights) };
            if offset.value().abs() <= offset.expanded_95() {
                format!("The meter reads true within its doubt {place}.")
            } else {
                let side = if offset.value() > 0.0 { "high" } else { "low" };
                let even = if high - low < ALIKE_EV { "" } else { " by the same amount" };
                format!("The meter reads {side}{even} {place}.")
            }
        }
    }
}

/// Usual causes of such a pattern. They are common practice, worded as possibilities and never as findings.
pub(super) fn causes(chosen: &Chosen, lights: &[f64]) -> Vec<String> {
    let mut causes = Vec::new();
    let (low, high) = range(lights);
    match chosen.model {
        Model::FallOff { .. } => causes.push(
            "Usual causes of a fall-off at the low end: a cell near its limit, or light below the meter's stated range. \
             Look up that range."
                .to_owned(),
        ),
        Model::Line { .. } => {
            causes.push("Usual causes of an error that changes with the light: an ageing cell, or the wrong battery.".to_owned());
        }
        Model::Offset => {
            let offset = chosen.offset();
            if offset.value().abs() > offset.expanded_95() && high - low >= ALIKE_EV {
                causes.push(
                    "Usual causes of an even error: the calibration, the film-speed dial, or the cell's voltage (1.5 V alkaline or \
                     1.55 V silver in place of 1.35 V mercury)."
                        .to_owned(),
                );
            }
        }
    }
    if chosen.birge_ratio() > SCATTER {
        causes.push("Usual causes of scatter: dirty battery contacts, or a worn ring resistor.".to_owned());
    }
    causes
}

/// What a person should know before trusting it.
pub(super) fn notices(run: &Run, chosen: &Chosen, lights: &[f64], variances: &[f64]) -> Vec<String> {
    let mut notices = Vec::new();
    let (low, high) = range(lights);
    if run.levels.len() == 1 {
        notices.push("One level says nothing about the rest of the range: add more, from dim to bright.".to_owned());
    } else if high - low < ALIKE_EV {
        notices.push(
            "All levels are alike, so nothing is known about the rest of the range: add dimmer and brighter ones."
                .to_owned(),
        );
    } else if high - low < NARROW_EV {
        notices.push(format!(
            "The levels cover only {} EV: take dimmer and brighter ones before trusting the rest of the range.",
            words::plain(high - low, 1)
        ));
    }
    if chosen.fit.is_scaled() && chosen.birge_ratio() > SCATTER {
        notices.push(format!(
            "The readings scatter {} times as much as their stated doubts, and the doubt was widened by that: check that the \
             light was steady, then read again.",
            words::plain(chosen.birge_ratio(), 1)
        ));
    }
    if variances.iter().any(|&variance| variance <= super::SMALLEST_VARIANCE) {
        notices.push(
            "A level states no doubt of its own, neither of its reference nor of its scale: the doubt comes from the scatter alone."
                .to_owned(),
        );
    }
    if run.shared_doubts.iter().any(|doubt| doubt.value() == 0.0) {
        notices.push(
            "The reference was taken as having no doubt that all levels share: few references are that good."
                .to_owned(),
        );
    }
    notices
}
