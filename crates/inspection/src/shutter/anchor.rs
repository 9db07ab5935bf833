//! One slow time measured by light or video anchors a whole series of sounds: differences between its shots are sure, only
//! their common offset is not, and the anchor gives it.
//!
//! Not here: how the series is found in the sound (`timing::sound`).

use std::borrow::Cow;

use metrology::Estimate;
use timing::State;

use super::taken::{CountsFor, Signal, Take, TakenShot};

/// Slowest marked times serve best; faster ones than this are no anchor [s].
const SLOWEST_ANCHOR_S: f64 = 1.0 / 40.0;
/// How well a series places its intervals [s] (measured on simulated shots with known truth).
const INTERVAL_DOUBT_S: f64 = 0.04e-3;
/// The shutter's spread between two firings of the anchor where it was not measured, as a share of the time: assumed.
const ASSUMED_SHARE: f64 = 0.01;

fn text_of(shot: &TakenShot) -> Option<&str> {
    match &shot.counts_for {
        CountsFor::Mark(mark) => Some(mark.text()),
        _ => None,
    }
}

/// Mean and variance of the mean; the spread is assumed where there is one value only.
fn mean(values: &[f64]) -> Option<(f64, f64)> {
    let n = values.len() as f64;
    let mean = values.iter().sum::<f64>() / n;
    match values.len() {
        0 => None,
        1 => Some((mean, (ASSUMED_SHARE * mean) * (ASSUMED_SHARE * mean))),
        _ => {
            let squares: f64 = values.iter().map(|value| (value - mean) * (value - mean)).sum();
            Some((mean, squares / (n - 1.0) / n))
        }
    }
}

/// The offset `c = t − d` of a series: t by light or video, d the series' interval at the same mark; the mark that gives it
/// best counts.
///
/// Nothing for a take that is no sound, or where no slow time of its marks was measured by light or video.
pub fn offset(series: &Take, takes: &[Take]) -> Option<Estimate> {
    if series.signal != Signal::Sound {
        return None;
    }

    let mut marks: Vec<&str> =
        series.shots.iter().filter(|shot| shot.interval_s.is_some()).filter_map(text_of).collect();
    marks.sort_unstable();
    marks.dedup();
    let offsets = marks.into_iter().filter_map(|mark| {
        let here = |shot: &&TakenShot| text_of(shot) == Some(mark);
        let anchors: Vec<Estimate> = takes
            .iter()
            .filter(|take| take.signal != Signal::Sound)
            .flat_map(|take| &take.shots)
            .filter(here)
            .filter(|shot| shot.state == State::Measured)
            .filter_map(|shot| shot.time)
            .filter(|time| time.value() >= SLOWEST_ANCHOR_S)
            .collect();
        let times: Vec<f64> = anchors.iter().map(|time| time.value()).collect();
        let intervals: Vec<f64> = series.shots.iter().filter(here).filter_map(|shot| shot.interval_s).collect();
        let (time, time_variance) = mean(&times)?;
        let (interval, interval_variance) = mean(&intervals)?;
        let method = anchors.iter().map(|time| time.standard_uncertainty()).fold(0.0, f64::max);
        let doubt = (time_variance + interval_variance + method * method).sqrt();
        Estimate::new(time - interval, doubt, f64::INFINITY).ok()
    });
    offsets.min_by(|a, b| a.standard_uncertainty().total_cmp(&b.standard_uncertainty()))
}

/// The shot put on that offset; nothing where it is in no series or already says as much without.
pub fn put_on(shot: &TakenShot, offset: Estimate) -> Option<TakenShot> {
    let shared = offset.standard_uncertainty();
    let doubt = (shared * shared + INTERVAL_DOUBT_S * INTERVAL_DOUBT_S).sqrt();
    let time = Estimate::new(shot.interval_s? + offset.value(), doubt, f64::INFINITY).ok()?;
    let better = shot.state < State::Probable || shot.time.is_none_or(|before| doubt < before.standard_uncertainty());
    (better && time.value() > 0.0).then(|| TakenShot {
        time: Some(time),
        shared_s: shared,
        state: shot.state.max(State::Probable),
        ..shot.clone()
    })
}

/// The takes with every series of sounds put on its anchor, where there is one and it tells more than the sound alone; only
/// what changes is made anew.
pub(super) fn anchored(takes: &[Take]) -> (Cow<'_, [Take]>, bool) {
    let mut anchored = Cow::Borrowed(takes);
    for (t, take) in takes.iter().enumerate() {
        let Some(offset) = offset(take, takes) else { continue };
        for (s, shot) in take.shots.iter().enumerate() {
            if let Some(put) = put_on(shot, offset) {
                anchored.to_mut()[t].shots[s] = put;
            }
        }
    }
    let used = matches!(anchored, Cow::Owned(_));
    (anchored, used)
}
