//! What may be said of each shot: measured, probable, indicative, or that it cannot be told.
//!
//! The first rule is that no wrong time is stated as if it were sure; the second is to answer. Not here: where times come from.

use super::about::{About, Shutter};
use super::doubt::{self, Centre};
use super::notices;
use super::offset::SAME_S;
use super::pair::Pair;
use super::verdict::{Single, Verdict};
use crate::shot::{Shot, State};

/// A single shot is relied on from this marked time on \[s\], a leaf shutter from this one on \[s\]; with room for 1/60 and 1/125
/// being 1/64 and 1/128.
const SINGLE_FROM_S: f64 = 1.0 / 68.0;
const LEAF_FROM_S: f64 = 1.0 / 135.0;
/// Faster than this a series' time is never `measured`, and faster than that only a hint \[s\].
const MEASURED_FROM_S: f64 = 1.6e-3;
const PROBABLE_FROM_S: f64 = 0.9e-3;
/// A shot of which the templates explain this share sounds like the others.
const LIKE_THE_OTHERS: f64 = 0.4;
/// More than this off its mark is far \[stops\].
const FAR_STOPS: f64 = 1.0;
/// A shot that its own pair does not confirm lies this near the others' deviation from their marks \[stops\].
pub(super) const IN_LINE_STOPS: f64 = 0.7;
/// … of which there are so many.
pub(super) const LEAST_CONFIRMED: usize = 2;

/// Of the shots placed at least one in so many is confirmed; else the zero itself is doubtful.
const MOST_UNCONFIRMED: usize = 3;

/// Where a series' zero comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Zero {
    /// Elected by the shots' own pairs: centre, edge, doubt of the way between them, scatter of the votes, whether the series' times differ so much that
    /// no wrong pair can have been elected.
    Elected { centre_s: f64, edge_s: f64, centre_u_s: f64, scatter_s: f64, sure: bool },
    /// Given by light or video, with its doubt; and the edge's, where the shots' own pairs bear it out.
    Anchored { offset_s: f64, u_s: f64, edge_s: Option<f64> },
    /// Nowhere: the series shows differences only.
    Unknown,
}

impl Zero {
    /// What is added to an interval to get the time in the middle of the frame \[s\].
    pub fn offset_s(self) -> Option<f64> {
        match self {
            Zero::Elected { centre_s, .. } => Some(centre_s),
            Zero::Anchored { offset_s, .. } => Some(offset_s),
            Zero::Unknown => None,
        }
    }
}

/// Whether a shot's own best pair says the same as the series.
pub(super) fn confirms(pair: Option<&Pair>, interval_s: f64, zero: Zero) -> bool {
    pair.is_some_and(|pair| match zero {
        Zero::Elected { edge_s, .. } => (pair.time_s - interval_s - edge_s).abs() <= SAME_S,
        Zero::Anchored { edge_s, .. } => {
            edge_s.is_some_and(|edge_s| (pair.time_s - interval_s - edge_s).abs() <= SAME_S)
        }
        Zero::Unknown => false,
    })
}

/// Deviation of a time from its mark \[stops\].
pub(super) fn deviation(time_s: f64, marked_s: f64) -> f64 {
    if time_s > 1e-6 { libm::log2(time_s / marked_s) } else { -20.0 }
}

/// A shot's place in the series as the gate sees it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Placed {
    pub interval_s: f64,
    pub confirmed: bool,
    /// Share of the shot that the templates explain, and whether they alone would say so too.
    pub share: f64,
    pub clear: bool,
    /// How many shots were placed, how many of them are confirmed, and the median of their deviations \[stops\].
    pub placed: usize,
    pub others: usize,
    pub line_stops: f64,
}

/// Fills in a shot that the series placed.
pub(super) fn from_series(shot: &mut Shot, placed: Placed, zero: Zero, about: &About, marked_s: Option<f64>) {
    shot.interval_s = Some(placed.interval_s);
    let Some(offset_s) = zero.offset_s() else {
        shot.notices.push(notices::assumed_offset());
        return;
    };
    let time_s = placed.interval_s + offset_s;
    let interval_u = match (placed.confirmed, placed.share >= LIKE_THE_OTHERS) {
        (true, _) => doubt::CONFIRMED_S,
        (false, true) => doubt::UNCONFIRMED_S,
        (false, false) => doubt::UNLIKE_S,
    };
    let scatter = if let Zero::Elected { scatter_s, .. } = zero { scatter_s } else { 0.0 };
    let interval_u = (interval_u * interval_u + scatter * scatter).sqrt();
    let (centre_u, mut state) = match zero {
        Zero::Elected { centre_u_s, sure, .. } => {
            // A leaf's blades sound when they begin to move too, a millisecond or two before they stop, and the fastest of its
            // times is no shorter than that: nothing in the series shows which of both was taken.
            let sure = sure && about.shutter != Shutter::Leaf;
            (centre_u_s, if placed.confirmed && placed.clear && sure { State::Measured } else { State::Probable })
        }
        Zero::Anchored { u_s, edge_s, .. } => {
            let measured = placed.confirmed && placed.clear && !about.mirror;
            // A mirror's own sounds may have been taken for the closing: then no pair of a curtain's agrees.
            let hint = edge_s.is_none() && about.mirror;
            (
                u_s,
                if measured {
                    State::Measured
                } else if hint {
                    State::Indicative
                } else {
                    State::Probable
                },
            )
        }
        Zero::Unknown => return,
    };
    let Some(estimate) = doubt::estimate(time_s, interval_u, centre_u) else {
        shot.notices.push(notices::cannot_tell());
        return;
    };
    let off = marked_s.map(|marked| deviation(time_s, marked));
    // What has no mark may be half a slow shot, whose one curtain passes for both.
    if placed.others * MOST_UNCONFIRMED < placed.placed || marked_s.is_none() {
        state = state.min(State::Indicative);
    }
    if !placed.confirmed && (about.mirror || matches!(zero, Zero::Elected { .. })) {
        let in_line = off.is_some_and(|off| (off - placed.line_stops).abs() <= IN_LINE_STOPS);
        if placed.others < LEAST_CONFIRMED || !in_line {
            // Nothing but the templates speaks for it: the time is named, not stated.
            shot.candidates_s.insert(0, time_s);
            shot.candidates_s.dedup_by(|b, a| (*b - *a).abs() < SAME_S);
            shot.notices.push(if placed.others < LEAST_CONFIRMED {
                notices::ambiguous()
            } else {
                notices::out_of_line()
            });
            return;
        }
        shot.notices.push(notices::series_unconfirmed());
    }
    shot.time = Some(estimate);
    if time_s < MEASURED_FROM_S {
        state = state.min(State::Probable);
    }
    if time_s < PROBABLE_FROM_S {
        state = state.min(State::Indicative);
        shot.notices.push(notices::too_fast());
    }
    // A wrong answer shows as one that is far off its mark: it takes more than one shot to believe it.
    if off.is_some_and(|off| (off - placed.line_stops).abs() > FAR_STOPS) {
        state = state.min(State::Indicative);
        shot.notices.push(notices::out_of_line());
    }
    cap(shot, state, about, marked_s, matches!(zero, Zero::Anchored { .. }));
}

/// Fills in a shot that stands by itself. `most` is the best that may be said of it.
pub(super) fn from_itself(shot: &mut Shot, verdict: &Verdict, about: &About, marked_s: Option<f64>, most: State) {
    let pair = match (verdict.single, verdict.pair) {
        (Single::Answer, Some(pair)) => pair,
        (Single::CannotTell, _) => {
            shot.notices.push(notices::cannot_tell());
            return;
        }
        _ => {
            shot.notices.push(notices::ambiguous());
            return;
        }
    };
    if most == State::CannotTell {
        shot.notices.push(notices::ambiguous());
        return;
    }
    let centre = Centre::of(&pair, about.shutter);
    let Some(estimate) = doubt::estimate(pair.time_s + centre.shift_s, verdict.u_s, centre.u_s) else {
        shot.notices.push(notices::cannot_tell());
        return;
    };
    shot.time = Some(estimate);
    let mut state = most.min(State::Probable);
    if verdict.hidden {
        shot.notices.push(notices::start_hidden());
        state = state.min(State::Indicative);
    }
    match marked_s {
        None => {
            shot.notices.push(notices::blind());
            state = State::Indicative;
        }
        Some(marked) if marked.min(pair.time_s * 1.1) < SINGLE_FROM_S => {
            shot.notices.push(notices::single_shot());
            state = State::Indicative;
        }
        Some(_) => {}
    }
    cap(shot, state, about, marked_s, false);
}

/// One state less, for a recording in which sounds are hard to tell apart.
pub(super) fn demote(shot: &mut Shot) {
    shot.state = match shot.state {
        State::Measured => State::Probable,
        State::Probable | State::Indicative => State::Indicative,
        State::CannotTell => State::CannotTell,
    };
}

/// What holds for every shot, wherever its time comes from.
fn cap(shot: &mut Shot, mut state: State, about: &About, marked_s: Option<f64>, anchored: bool) {
    if about.mirror && !anchored {
        state = state.min(State::Indicative);
    }
    let time_s = shot.time.map_or(0.0, |time| time.value());
    if about.shutter == Shutter::Leaf
        && marked_s.map_or(time_s, |marked| marked.min(time_s * 1.3)) < LEAF_FROM_S
        && !anchored
    {
        state = state.min(State::Indicative);
        shot.notices.push(notices::leaf_fast());
    }
    if marked_s.is_some_and(|marked| deviation(time_s, marked).abs() > FAR_STOPS) {
        state = state.min(State::Probable);
        shot.notices.push(notices::far_from_nominal());
    }
    shot.state = state;
}
