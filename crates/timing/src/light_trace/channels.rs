//! Two sensors at both ends of the gate: the time in the middle, the times at the ends, and both curtains' travel between them.
//!
//! Not here: one sensor ([`super::one`]).

use metrology::Estimate;

use super::notices;
use crate::shot::{Place, Shot, State, Take};

/// A curtain is at both sensors within this \[s\].
const TRAVEL_S: f64 = 0.04;
/// Moments nearer than this \[s\] in every shot: one sensor on both channels.
const SAME_S: f64 = 15.0e-6;

/// Puts the takes of two sensors together.
pub(super) fn together(a: Take, b: Take) -> Take {
    let (a, b) = match (a.shots.is_empty(), b.shots.is_empty()) {
        (false, true) => return alone(a),
        (true, false) => return alone(b),
        (true, true) => return a,
        _ => (a, b),
    };
    let pairs = pairs(&a.shots, &b.shots);
    let mut travels: Vec<f64> =
        pairs.iter().filter_map(|&(i, j)| travel(a.shots.get(i?)?, b.shots.get(j?)?)).map(|t| t.0).collect();
    if travels.iter().all(|t| t.abs() < SAME_S) && pairs.iter().all(|pair| pair.0.is_some() && pair.1.is_some()) {
        return if doubt(&a) <= doubt(&b) { a } else { b };
    }
    // The sensor that the first curtain reaches first is the first one.
    let (a, b, pairs) = if super::survey::median(&mut travels) < 0.0 {
        (b, a, pairs.into_iter().map(|(i, j)| (j, i)).collect())
    } else {
        (a, b, pairs)
    };
    let shots = pairs
        .into_iter()
        .filter_map(|(i, j)| match (i.and_then(|i| a.shots.get(i)), j.and_then(|j| b.shots.get(j))) {
            (Some(first), Some(second)) => Some(both(first, second)),
            (Some(only), None) | (None, Some(only)) => {
                let mut shot = only.clone();
                shot.notices.push(notices::unmatched());
                Some(shot)
            }
            (None, None) => None,
        })
        .collect();
    let mut take = Take { shots, coupling_s: a.coupling_s, notices: a.notices, ..Take::default() };
    for notice in b.notices {
        if !take.has(notice.code) {
            take.notices.push(notice);
        }
    }
    take
}

fn alone(mut take: Take) -> Take {
    take.notices.push(notices::one_sensor());
    take
}

fn doubt(take: &Take) -> f64 {
    take.shots.iter().filter_map(|shot| shot.time).map(Estimate::standard_uncertainty).sum()
}

/// Which shot of one goes with which of the other, in the order of time.
fn pairs(a: &[Shot], b: &[Shot]) -> Vec<(Option<usize>, Option<usize>)> {
    let (mut i, mut j) = (0, 0);
    let mut pairs = Vec::with_capacity(a.len().max(b.len()));
    loop {
        match (a.get(i), b.get(j)) {
            (Some(x), Some(y)) if (x.start_s - y.start_s).abs() < TRAVEL_S => {
                pairs.push((Some(i), Some(j)));
                (i, j) = (i + 1, j + 1);
            }
            (Some(x), Some(y)) if x.start_s > y.start_s => {
                pairs.push((None, Some(j)));
                j += 1;
            }
            (Some(_), _) => {
                pairs.push((Some(i), None));
                i += 1;
            }
            (None, Some(_)) => {
                pairs.push((None, Some(j)));
                j += 1;
            }
            (None, None) => return pairs,
        }
    }
}

/// From the first sensor to the second: opening and closing.
fn travel(first: &Shot, second: &Shot) -> Option<(f64, f64)> {
    match (first.events_s.as_slice(), second.events_s.as_slice()) {
        (&[a, b], &[c, d]) => Some((c - a, d - b)),
        _ => None,
    }
}

fn both(first: &Shot, second: &Shot) -> Shot {
    let mut shot = Shot::at(first.start_s.min(second.start_s));
    shot.events_s = first.events_s.iter().chain(&second.events_s).copied().collect();
    shot.notices = first.notices.clone();
    shot.notices.extend(second.notices.iter().filter(|notice| !first.has(notice.code)).cloned());
    shot.bounce = first.bounce.or(second.bounce);
    let (x, y) = match (first.time, second.time) {
        (Some(x), Some(y)) => (x, y),
        (None, None) => return shot,
        (only, other) => {
            shot.time = only.or(other);
            shot.state = State::Measured;
            shot.notices.push(notices::unmatched());
            return shot;
        }
    };
    let (u, v) = (x.standard_uncertainty(), y.standard_uncertainty());
    // Clock and lamp are the same for both: the doubt is not averaged away.
    let (mean, doubt) = ((x.value() + y.value()) / 2.0, (u + v) / 2.0);
    shot.time = Estimate::new(mean, doubt, f64::INFINITY).ok();
    shot.state = if shot.time.is_some() { State::Measured } else { State::CannotTell };
    shot.places = vec![Place { position: "first", time: x }, Place { position: "second", time: y }];
    shot.travel_s = travel(first, second);
    let apart = (u * u + v * v).sqrt();
    if (x.value() - y.value()).abs() > 2.0 * apart {
        shot.notices.push(notices::taper(x.value(), y.value()));
        if let Some((opening, closing)) = shot.travel_s {
            shot.notices.push(notices::travel_differs(opening.abs(), closing.abs()));
        }
    }
    shot
}
