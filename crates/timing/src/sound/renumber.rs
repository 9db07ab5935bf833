//! A missing shot, a doubled one, or a knock that is none: when not as many shots as marked times are found, the shots' own
//! intervals say which is which.
//!
//! Not here: the first guess by spacing (`clusters`).

use super::about::About;
use super::align::{Costs, align};
use super::anchor;
use super::clusters::Heard;
use super::notices;
use super::offset::{self, Voter};
use super::onsets::Front;
use super::pair::{self, Pair};
use super::series;
use crate::shot::Take;

/// A match that lies so many stops off its mark costs so much.
const PER_STOP: f64 = 1.0 / 0.35;
/// A match of a shot whose time is not known; a shot that has no mark, known and unknown; a mark without a shot.
const UNKNOWN: f64 = 1.2;
const EXTRA: f64 = 2.6;
const EXTRA_UNKNOWN: f64 = 0.8;
const MISSING: f64 = 2.6;

/// How shots and marks go together.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Order {
    /// One to one, or found by the fit: marks that have no shot, and shots that have no mark.
    Known { missing: Vec<usize>, extra: Vec<usize> },
    /// The counts differ and nothing says why.
    Unsure,
}

impl Order {
    pub fn is_sure(&self) -> bool {
        matches!(self, Order::Known { .. })
    }

    /// Says what is missing and what is too much.
    pub fn say(&self, take: &mut Take, about: &About) {
        match self {
            Order::Known { missing, extra } => {
                if !missing.is_empty() {
                    take.notices.push(notices::shot_missing(missing, &about.marked_s));
                }
                let mut starts = Vec::new();
                for &k in extra {
                    if let Some(shot) = take.shots.get_mut(k) {
                        starts.push(shot.start_s);
                        shot.notices.push(notices::extra());
                    }
                }
                if !starts.is_empty() {
                    take.notices.push(notices::shot_extra(&starts));
                }
            }
            Order::Unsure => take.notices.push(notices::unsure_order()),
        }
    }
}

struct Fitted<'a> {
    times_s: &'a [Option<f64>],
    marked_s: &'a [f64],
}

impl Costs for Fitted<'_> {
    fn matched(&self, first: usize, last: usize, mark: usize) -> Option<f64> {
        if first != last {
            return None;
        }
        let marked = *self.marked_s.get(mark)?;
        Some(match self.times_s.get(first)? {
            Some(time) if *time > 1e-5 => {
                let x = (libm::log2(time / marked) * PER_STOP).abs();
                if x <= 1.0 { 0.5 * x * x } else { x - 0.5 }
            }
            Some(_) => 10.0,
            None => UNKNOWN,
        })
    }

    fn extra(&self, thing: usize) -> f64 {
        if self.times_s.get(thing).copied().flatten().is_some() { EXTRA } else { EXTRA_UNKNOWN }
    }

    fn missing(&self, _: usize) -> f64 {
        MISSING
    }
}

/// Numbers the shots anew where their count is not that of the marks.
pub(super) fn renumber(front: &Front, about: &About, shots: &mut Vec<Heard>) -> Order {
    let marked_s = &about.marked_s;
    let known = Order::Known { missing: Vec::new(), extra: Vec::new() };
    let matched = shots.iter().filter(|heard| heard.marked.is_some()).count();
    if marked_s.is_empty() || (matched == marked_s.len() && matched == shots.len() && !shots.iter().any(|h| h.short)) {
        return known;
    }
    let Some(times_s) = times(front, about, shots) else {
        // Without a series the spacing is all there is. A weak knock beside as many shots as marks is dropped.
        if matched == marked_s.len() {
            let loud = |heard: &Heard| heard.events.iter().map(|e| e.level_db).fold(f64::NEG_INFINITY, f64::max);
            let least = shots.iter().filter(|h| h.marked.is_some()).map(loud).fold(f64::INFINITY, f64::min);
            if shots.iter().all(|heard| heard.marked.is_some() || loud(heard) < least - 10.0) {
                shots.retain(|heard| heard.marked.is_some());
                return known;
            }
        }
        shots.iter_mut().for_each(|heard| heard.marked = None);
        return Order::Unsure;
    };
    let matches = align(shots.len(), marked_s.len(), &Fitted { times_s: &times_s, marked_s });
    shots.iter_mut().for_each(|heard| heard.marked = None);
    for m in &matches {
        if let Some(heard) = shots.get_mut(m.first) {
            heard.marked = Some(m.mark);
        }
    }
    // What neither a mark wants nor the templates know is no shot.
    let mut keep = times_s.iter().map(Option::is_some);
    shots.retain(|heard| keep.next().unwrap_or(false) || heard.marked.is_some());
    let missing = (0..marked_s.len()).filter(|mark| matches.iter().all(|m| m.mark != *mark)).collect();
    let extra = shots.iter().enumerate().filter(|(_, heard)| heard.marked.is_none()).map(|(k, _)| k).collect();
    Order::Known { missing, extra }
}

/// Times by a series that knows no marks; nothing where there is none to rely on.
fn times(front: &Front, about: &About, shots: &[Heard]) -> Option<Vec<Option<f64>>> {
    // What lies apart was put together by its mark, which its spacing bears out.
    let marked: Vec<Option<f64>> = shots
        .iter()
        .map(|heard| heard.apart.and(heard.marked).and_then(|mark| about.marked_s.get(mark)).copied())
        .collect();
    let series = series::solve(front, shots, &marked).filter(|series| series.share >= series::REPEATS)?;
    let rate = front.signal.rate_hz;
    let intervals: Vec<Option<f64>> =
        series.fits.iter().map(|fit| fit.filter(series::is_clear).map(|fit| fit.interval / rate)).collect();
    let offset_s = elected(front, about, shots, &marked, &intervals).or_else(|| {
        let anchor = about.anchor.as_ref()?;
        // The interval nearest to the anchor's mark is that mark's.
        let near = |v: &f64| libm::log2((v / anchor.marked_s).max(1e-9)).abs();
        let nearest =
            intervals.iter().flatten().copied().filter(|v| near(v) < 0.4).min_by(|p, q| near(p).total_cmp(&near(q)))?;
        anchor::offset(anchor, &[(nearest, anchor.marked_s)]).map(|anchored| anchored.offset_s)
    })?;
    Some(intervals.iter().map(|interval| interval.map(|interval| interval + offset_s)).collect())
}

fn elected(
    front: &Front,
    about: &About,
    shots: &[Heard],
    marked: &[Option<f64>],
    intervals: &[Option<f64>],
) -> Option<f64> {
    let pairs: Vec<Vec<Pair>> =
        shots.iter().zip(marked).map(|(heard, marked)| pair::pairs(front, &heard.events, *marked)).collect();
    let voters: Vec<Voter<'_>> = pairs
        .iter()
        .zip(intervals)
        .filter_map(|(pairs, interval)| Some(Voter { interval_s: (*interval)?, pairs, marked_s: &about.marked_s }))
        .collect();
    offset::elect(&voters, about.shutter, None).map(|offset| offset.centre_s)
}
