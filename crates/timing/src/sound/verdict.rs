//! What one shot's pairs amount to: one time, several that cannot be told apart, or none.
//!
//! Not here: how pairs are weighed (`pair`), what a series adds (`series`).

use super::about::{About, Shutter};
use super::doubt::{self, Centre};
use super::onsets::Event;
use super::pair::{ALIKE, Pair};

/// Below this the second curtain follows so closely that impacts merge: never one answer \[s\].
const ALWAYS_AMBIGUOUS_S: f64 = 2.5e-3;
/// Two impacts that are louder than all others by this \[dB\] are the stops, for times above this \[s\].
const LOUDER_DB: f64 = 3.0;
const LOUDER_FROM_S: f64 = 5e-3;
/// Another pair is another answer when it differs by this \[s\] and this \[stops\].
const OTHER_S: f64 = 1.2e-3;
const OTHER_STOPS: f64 = 0.08;
/// Times this far behind the best are still named.
const NAMED_BEHIND: f64 = 0.3;
const NAMED: usize = 4;

/// What one shot by itself gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Single {
    /// One answer.
    Answer,
    /// Several answers that cannot be told apart.
    Ambiguous,
    /// No two impacts that are alike.
    CannotTell,
}

/// A verdict with what it rests on.
#[derive(Clone, Debug)]
pub(super) struct Verdict {
    pub single: Single,
    /// The best pair, where there is one.
    pub pair: Option<Pair>,
    /// The second curtain's start may lie under the first one's stop.
    pub hidden: bool,
    /// Standard uncertainty of the interval \[s\].
    pub u_s: f64,
    /// Times that would fit, the best first \[s\].
    pub candidates_s: Vec<f64>,
}

/// Judges the pairs of a shot, the best of them first.
pub(super) fn judge(events: &[Event], pairs: &[Pair], about: &About, marked_s: Option<f64>) -> Verdict {
    let none = Verdict {
        single: Single::CannotTell,
        pair: None,
        hidden: false,
        u_s: doubt::LOUD_FAST_S,
        candidates_s: Vec::new(),
    };
    let Some(&best) = pairs.first() else { return none };
    let time = best.time_s;
    let next = pairs.iter().find(|pair| is_other(time, pair.time_s)).map_or(f64::NEG_INFINITY, |pair| pair.score);
    let margin = best.score - next;
    // Blind, more is asked: there is no marked time that would have kept far pairs out.
    let extra = if marked_s.is_none() { 0.1 } else { 0.0 };
    let alike = best.likeness >= if time < 8e-3 { 0.5 } else { 0.4 } - 0.15 * best.doublet + extra;
    let clear = margin >= if time > 0.3 { 0.3 } else { 0.2 } + extra;
    let by_loudness = marked_s.is_some()
        && !about.mirror
        && about.shutter != Shutter::Leaf
        && time > LOUDER_FROM_S
        && are_loudest(events, &best);
    let range = doubt::travel_range_s(about.shutter);
    let hidden = about.shutter != Shutter::Leaf && best.travel.is_none() && (range.0..=range.1).contains(&time);
    // The two loudest may then be the second curtain's start on the first one's stop, and the second one's stop.
    let by_loudness = by_loudness && !(hidden && best.likeness < ALIKE);
    // Blind, two sounds a curtain's travel apart may be nothing but one curtain's, and two sounds alone anybody's.
    let anybody_s = marked_s.is_none() && (hidden || events.len() < 3);
    let single = if time < ALWAYS_AMBIGUOUS_S || anybody_s {
        Single::Ambiguous
    } else if by_loudness || (alike && clear) {
        Single::Answer
    } else if !alike {
        Single::CannotTell
    } else {
        Single::Ambiguous
    };
    let u_s = if hidden {
        doubt::HIDDEN_S
    } else if best.likeness >= ALIKE || best.doublet >= 0.5 {
        doubt::SINGLE_S
    } else if time > doubt::LOUD_SLOW_FROM_S {
        doubt::LOUD_SLOW_S
    } else {
        doubt::LOUD_FAST_S
    };
    let mut candidates_s: Vec<f64> = Vec::new();
    for pair in pairs.iter().take_while(|pair| pair.score >= best.score - NAMED_BEHIND) {
        let time = pair.time_s + Centre::of(pair, about.shutter).shift_s;
        if candidates_s.len() < NAMED && candidates_s.iter().all(|&named| is_other(named, time)) {
            candidates_s.push(time);
        }
    }
    Verdict { single, pair: Some(best), hidden, u_s, candidates_s }
}

fn is_other(time_s: f64, than_s: f64) -> bool {
    (time_s - than_s).abs() > OTHER_S && libm::log2(time_s / than_s).abs() > OTHER_STOPS
}

/// Whether a pair is louder than everything else by 3 dB.
fn are_loudest(events: &[Event], pair: &Pair) -> bool {
    let others = events.iter().enumerate().filter(|(i, _)| *i != pair.a && *i != pair.b);
    let loudest = others.map(|(_, event)| event.level_db).fold(f64::NEG_INFINITY, f64::max);
    let quieter = |i: usize| events.get(i).map_or(f64::NEG_INFINITY, |event| event.level_db);
    quieter(pair.a).min(quieter(pair.b)) >= loudest + LOUDER_DB
}
