//! One shot by itself: every two of its impacts are weighed as the ends of the two curtains' travels.
//!
//! The weight grows with the likeness of the two sounds and with the doublet evidence (each curtain is heard leaving and
//! arriving, and both travel equally long), and falls with unequal loudness and with the distance from the marked time. Not
//! here: what follows from the weights (`verdict`), several shots together (`series`).

use super::onsets::{Event, Front};
use super::signal::dot;

/// So many of the loudest events are paired.
const LOUDEST: usize = 36;
/// Times looked at \[stops about the marked time\]; without one, shortest and longest \[s\].
const AROUND_STOPS: f64 = 1.5;
const BLIND_S: (f64, f64) = (0.8e-3, 6.0);
/// The window that is compared begins this much before the onset \[s\], is this long \[s\] or this share of the interval …
const LEAD_S: f64 = 0.2e-3;
const WINDOW_S: f64 = 4e-3;
const WINDOW_SHARE: f64 = 0.8;
/// … and is shifted by so much \[s\].
const SHIFT_S: f64 = 0.7e-3;
/// From this likeness on, the shift of best likeness is the time; below, it may have slipped by a cycle.
pub(super) const ALIKE: f64 = 0.5;
/// … unless it lies further than this from the onsets' own difference \[s\]: then it has slipped all the same.
const SLIP_S: f64 = 0.12e-3;
/// A curtain travels this long \[s\].
const TRAVEL_S: (f64, f64) = (1.8e-3, 16e-3);
/// Both travels agree within this \[s\], this share, and are as unequally loud within this \[dB\].
const TRAVEL_TOLERANCE_S: f64 = 0.15e-3;
const TRAVEL_TOLERANCE: f64 = 0.035;
const TRAVEL_LEVELS_DB: f64 = 9.0;
/// What likeness is hoped for at most, and how far behind the best a pair is still worth comparing.
const BEST_LIKENESS: f64 = 0.85;
const BEHIND: f64 = 0.45;

/// The moments of both curtains, where they leave and where they arrive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Travel {
    /// Duration of the first and the second curtain's travel \[s\].
    pub first_s: f64,
    pub second_s: f64,
    /// Whether the pair is the two arrivals; else the two departures.
    pub arrivals: bool,
}

/// Two impacts taken for the same event of the two curtains.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pair {
    /// Numbers of the events among those of the shot.
    pub a: usize,
    pub b: usize,
    /// From one to the other \[s\].
    pub time_s: f64,
    /// The weight.
    pub score: f64,
    /// Largest normalised correlation of the two sounds.
    pub likeness: f64,
    /// 1 − chance that the doublet is a coincidence; 0 where there is none.
    pub doublet: f64,
    /// Both travels, where both were heard.
    pub travel: Option<Travel>,
}

impl Pair {
    /// The time in the middle of the frame, where both travels were heard: `0.6·arrivals + 0.4·departures`.
    pub fn centre_s(&self) -> Option<f64> {
        self.travel.map(|travel| {
            let mismatch = travel.second_s - travel.first_s;
            self.time_s + if travel.arrivals { -0.4 * mismatch } else { 0.6 * mismatch }
        })
    }
}

/// Every pair of `events` that may be one, the best first. `marked_s` where the dial's time is known.
pub(super) fn pairs(front: &Front, events: &[Event], marked_s: Option<f64>) -> Vec<Pair> {
    let rate = front.signal.rate_hz;
    let mut by_level: Vec<usize> = (0..events.len()).filter(|&i| !events[i].rebound).collect();
    by_level.sort_by(|&i, &j| events[j].level_db.total_cmp(&events[i].level_db).then(i.cmp(&j)));
    by_level.truncate(LOUDEST);
    let loudest = by_level.first().map_or(0.0, |&i| events[i].level_db);
    by_level.sort_unstable();
    let stops = libm::exp2(AROUND_STOPS);
    let (shortest, longest) = marked_s.map_or(BLIND_S, |marked| (marked / stops, marked * stops));

    let mut found = Vec::new();
    for (n, &a) in by_level.iter().enumerate() {
        for &b in &by_level[n + 1..] {
            let time_s = (events[b].at - events[a].at) / rate;
            if time_s < shortest || time_s > longest {
                continue;
            }
            let (level_a, level_b) = (events[a].level_db, events[b].level_db);
            let unequal = (level_a - level_b).abs();
            let quiet = (loudest - 3.0 - level_a).max(0.0) + (loudest - 3.0 - level_b).max(0.0);
            let off = marked_s.map_or(0.0, |marked| libm::log2(time_s / marked));
            let base = -0.015 * unequal - 0.04 * (unequal - 6.0).max(0.0) - 0.03 * quiet - 0.12 * off * off;
            found.push(Pair { a, b, time_s, score: base, likeness: 0.0, doublet: 0.0, travel: None });
        }
    }
    // Doublets and likeness cost time: pairs that could not come near the best even with both are left out.
    found.sort_by(|p, q| q.score.total_cmp(&p.score));
    let mut weighed: Vec<Pair> = Vec::new();
    let mut best = f64::NEG_INFINITY;
    for pair in &mut found {
        if pair.score + 0.35 + BEST_LIKENESS < best - BEHIND {
            break;
        }
        (pair.doublet, pair.travel) = doublet(rate, events, pair.a, pair.b);
        pair.score += 0.35 * pair.doublet;
        if pair.score + BEST_LIKENESS < best - BEHIND {
            continue;
        }
        let (likeness, shift_s) = likeness(front, &events[pair.a], &events[pair.b]);
        pair.likeness = likeness;
        if likeness >= ALIKE && shift_s.abs() <= SLIP_S {
            pair.time_s = (pair.time_s + shift_s).max(shortest * 0.5);
        }
        pair.score += likeness;
        best = best.max(pair.score);
        weighed.push(*pair);
    }
    weighed.sort_by(|p, q| q.score.total_cmp(&p.score));
    weighed
}

/// The best normalised correlation of two impacts' sounds, and by how much later than its onset the second one then is \[s\].
fn likeness(front: &Front, a: &Event, b: &Event) -> (f64, f64) {
    let signal = &front.signal;
    let window = (signal.samples(WINDOW_S)).min(WINDOW_SHARE * (b.at - a.at)).max(4.0) as usize;
    let (lead, shift) = (signal.count(LEAD_S) as i64, signal.count(SHIFT_S) as i64);
    let (at_a, at_b) = (a.at.round() as i64, b.at.round() as i64);
    let first = signal.read(at_a - lead, window);
    let second = signal.read(at_b - lead - shift, window + 2 * shift as usize);
    let energy_first = dot(&first, &first);
    let mut energy = dot(&second[..window], &second[..window]);
    let mut curve = Vec::with_capacity(2 * shift as usize + 1);
    for lag in 0..=2 * shift as usize {
        if lag > 0 {
            let (out, into) = (f64::from(second[lag - 1]), f64::from(second[lag + window - 1]));
            energy += into * into - out * out;
        }
        let product = dot(&first, &second[lag..lag + window]);
        let size = (energy_first * energy.max(0.0)).sqrt();
        curve.push(if size > 1e-15 { (product / size).clamp(-1.0, 1.0) } else { 0.0 });
    }
    let (top, &best) = match curve.iter().enumerate().max_by(|p, q| p.1.total_cmp(q.1)) {
        Some(top) => top,
        None => return (0.0, 0.0),
    };
    let lag = top as f64 + summit(&curve, top) - shift as f64;
    // The onsets themselves were rounded to samples.
    let rounding = (at_b - at_a) as f64 - (b.at - a.at);
    (best.max(0.0), (lag + rounding) / signal.rate_hz)
}

/// Where between its neighbours a curve's highest sample has its summit, from −0.5 to 0.5.
pub(super) fn summit(curve: &[f64], top: usize) -> f64 {
    let at = |i: usize| curve.get(i).copied();
    let (Some(left), Some(middle), Some(right)) = (top.checked_sub(1).and_then(at), at(top), at(top + 1)) else {
        return 0.0;
    };
    let bend = left - 2.0 * middle + right;
    if bend < 0.0 { (0.5 * (left - right) / bend).clamp(-0.5, 0.5) } else { 0.0 }
}

/// Whether both curtains were heard at the other end of their travel too: the evidence, and the travels.
fn doublet(rate: f64, events: &[Event], a: usize, b: usize) -> (f64, Option<Travel>) {
    let mut best: (f64, f64, Option<Travel>) = (0.0, f64::NEG_INFINITY, None);
    for before in [true, false] {
        let near_a = others(rate, events, a, before);
        let near_b = others(rate, events, b, before);
        for &(i, travel_a) in &near_a {
            for &(j, travel_b) in &near_b {
                // One event cannot be the end of both curtains.
                if i == b || j == a || i == j {
                    continue;
                }
                let tolerance = TRAVEL_TOLERANCE_S.max(TRAVEL_TOLERANCE * travel_a);
                let relative = |main: usize, other: usize| events[other].level_db - events[main].level_db;
                if (travel_a - travel_b).abs() > tolerance || (relative(a, i) - relative(b, j)).abs() > TRAVEL_LEVELS_DB
                {
                    continue;
                }
                let chance = near_a.len() as f64 * near_b.len() as f64 * 2.0 * tolerance / (TRAVEL_S.1 - TRAVEL_S.0);
                let evidence = 1.0 - chance.min(1.0);
                let loudness = events[i].level_db + events[j].level_db;
                if evidence > best.0 || (evidence == best.0 && evidence > 0.0 && loudness > best.1) {
                    let travel = Travel { first_s: travel_a, second_s: travel_b, arrivals: before };
                    best = (evidence, loudness, Some(travel));
                }
            }
        }
    }
    (best.0, best.2)
}

/// The events that lie a curtain's travel before (or after) one, with the travel \[s\].
fn others(rate: f64, events: &[Event], of: usize, before: bool) -> Vec<(usize, f64)> {
    let at = events[of].at;
    let travel = |i: usize| if before { (at - events[i].at) / rate } else { (events[i].at - at) / rate };
    let near = |&i: &usize| travel(i) <= TRAVEL_S.1;
    let list: Vec<usize> = if before {
        (0..of).rev().take_while(near).collect()
    } else {
        (of + 1..events.len()).take_while(near).collect()
    };
    list.into_iter().map(|i| (i, travel(i))).filter(|&(_, travel)| travel >= TRAVEL_S.0).collect()
}
