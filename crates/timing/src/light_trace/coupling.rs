//! The coupling of the input: its one or two time constants and the level it returns to, from the dark after each closing.
//!
//! A coupled input answers steady light y(t) with `A·exp(−t/τ)`: after the light has gone, the tail tells τ whatever the
//! shot was. Not here: undoing it near an edge ([`super::restore`]).

use super::edges::Pulse;
use super::survey::{Blocks, Survey};

/// Shortest and longest time constant that is looked for \[s\].
const SHORTEST_S: f64 = 1.5e-3;
const LONGEST_S: f64 = 1.5;
/// A tail begins this long after the closing \[s\], beyond bounces, and ends after this.
const TAIL_FROM_S: f64 = 8.0e-3;
const TAIL_TO_S: f64 = 0.6;
/// First bin of a tail in blocks, and by how much each is longer than the last.
const FIRST_BIN: f64 = 4.0;
const GROWTH: f64 = 1.1;
/// The tails of so many shots are enough.
const MOST_TAILS: usize = 24;
/// A tail has to improve the fit by this many times the noise to be one.
const SEEN: f64 = 30.0;

/// What is known of the coupling.
#[derive(Clone, Debug)]
pub(super) struct Coupling {
    /// Time constants \[s\]: none, one or two.
    pub constants_s: Vec<f64>,
    /// Relative standard uncertainty of the sum of their rates.
    pub doubt: f64,
    /// The level in the dark.
    pub level: f64,
    /// The tails do not follow the constants to within three times the noise.
    pub not_exponential: bool,
    /// The first constant is at the end of what was looked for.
    pub at_end: bool,
}

impl Coupling {
    /// Sum of the rates \[1/s\].
    pub fn rate(&self) -> f64 {
        self.constants_s.iter().map(|tau| 1.0 / tau).sum()
    }

    /// Product of the two rates \[1/s²\]; 0 where there is one.
    pub fn product(&self) -> f64 {
        if let [a, b] = self.constants_s.as_slice() { 1.0 / (a * b) } else { 0.0 }
    }

    /// How wrong the sum of the rates may be \[1/s\], as a standard uncertainty.
    pub fn rate_doubt(&self) -> f64 {
        self.rate() * self.doubt.min(1.0)
    }
}

/// One bin of a tail: seconds since the tail's beginning, mean, number of samples.
struct Bin {
    from: f64,
    to: f64,
    mean: f64,
    weight: f64,
}

/// Works out the coupling. `rough` is the rate \[1/s\] that the edges were found with.
pub(super) fn coupling(survey: &Survey, pulses: &[Pulse], rough: f64) -> Coupling {
    let tails = tails(survey, pulses);
    let bins: usize = tails.iter().map(Vec::len).sum();
    let guess = Coupling {
        constants_s: if rough * LONGEST_S > 1.0 { vec![1.0 / rough] } else { Vec::new() },
        doubt: 0.5,
        level: survey.centre,
        not_exponential: false,
        at_end: false,
    };
    let Some((flat, level)) = flat(&tails) else { return guess };
    let variance = survey.noise * survey.noise;
    let one = |ln: f64| solve(&tails, &[libm::exp(ln)]).unwrap_or((f64::INFINITY, 0.0));
    let (low, high) = (libm::log(SHORTEST_S), libm::log(LONGEST_S));
    let ln = least(|x| one(x).0, low, high, 20);
    let (left, single_level) = one(ln);
    if flat - left < SEEN * variance {
        // Nothing decays: a direct input, or shots too short for their tails to be seen; then neither bends an edge.
        return Coupling { constants_s: Vec::new(), level, ..guess };
    }
    let freedom = (bins as f64 - tails.len() as f64 - 2.0).max(1.0);
    let scatter = (left / freedom).max(variance);
    let bend = {
        let h = 0.02;
        ((one(ln + h).0 + one(ln - h).0 - 2.0 * left) / (h * h)).max(0.0)
    };
    let doubt = if bend > 0.0 { (2.0 * scatter / bend).sqrt().min(2.0) } else { 2.0 };
    let at_end = ln - low < 0.02 || high - ln < 0.02;
    let mut found =
        Coupling { constants_s: vec![libm::exp(ln)], doubt, level: single_level, not_exponential: false, at_end };
    if left / freedom > 2.0 * variance {
        if let Some(two) = two(&tails, low, high)
            && two.left < 0.6 * left
        {
            found = Coupling {
                constants_s: vec![two.constants_s.0, two.constants_s.1],
                doubt: (two.doubt * (two.left / freedom).max(variance).sqrt()).min(2.0),
                level: two.level,
                not_exponential: two.left / freedom > 9.0 * variance,
                at_end: false,
            };
        } else {
            found.not_exponential = left / freedom > 9.0 * variance;
        }
    }
    found
}

/// The tails, the longest exposures first: theirs are the largest.
fn tails(survey: &Survey, pulses: &[Pulse]) -> Vec<Vec<Bin>> {
    let mut order: Vec<usize> = (0..pulses.len()).collect();
    let length = |i: &usize| pulses.get(*i).map_or(0.0, |pulse| pulse.closing.at - pulse.opening.at);
    order.sort_by(|a, b| length(b).total_cmp(&length(a)));
    order
        .into_iter()
        .filter_map(|i| {
            let closing = pulses.get(i)?.closing;
            let blocks = survey.stretches.get(closing.stretch)?;
            let next = pulses.get(i + 1).map(|next| next.opening);
            tail(survey, blocks, closing.to, next.filter(|next| next.stretch == closing.stretch).map(|next| next.from))
        })
        .take(MOST_TAILS)
        .collect()
}

fn tail(survey: &Survey, blocks: &Blocks, closed: usize, next: Option<usize>) -> Option<Vec<Bin>> {
    let block_s = survey.size as f64 / survey.rate_hz;
    let in_blocks = |seconds: f64| (seconds / block_s) as usize;
    let from = closed + in_blocks(TAIL_FROM_S);
    let to = (closed + in_blocks(TAIL_TO_S)).min(blocks.len()).min(next.map_or(usize::MAX, |at| at.saturating_sub(20)));
    let (mut at, mut wide) = (from, FIRST_BIN);
    let mut bins = Vec::new();
    while at + wide as usize <= to {
        let end = at + wide as usize;
        bins.push(Bin {
            from: (at - from) as f64 * block_s,
            to: (end - from) as f64 * block_s,
            mean: blocks.mean(at, end),
            weight: ((end - at) * survey.size) as f64,
        });
        at = end;
        wide *= GROWTH;
    }
    (bins.len() >= 8).then_some(bins)
}

/// Weighted squares left when every tail is the same constant level, and that level.
fn flat(tails: &[Vec<Bin>]) -> Option<(f64, f64)> {
    let all = || tails.iter().flatten();
    let weight: f64 = all().map(|bin| bin.weight).sum();
    if weight <= 0.0 {
        return None;
    }
    let level = all().map(|bin| bin.weight * bin.mean).sum::<f64>() / weight;
    Some((all().map(|bin| bin.weight * (bin.mean - level) * (bin.mean - level)).sum(), level))
}

/// Weighted squares left by `level + Σ Bₖ·exp(−t/τₖ)`, every tail with its own B and all with one level; and that level.
fn solve(tails: &[Vec<Bin>], constants: &[f64]) -> Option<(f64, f64)> {
    // The level is eliminated last: each tail's own amplitudes are linear and stand apart from the other tails'.
    let (mut against, mut squares, mut left) = (0.0, 0.0, 0.0);
    for tail in tails {
        // Sums of products of 1, e₁, e₂ and y.
        let mut m = [[0.0_f64; 4]; 4];
        let starts: [f64; 2] = [1.0, 1.0];
        let mut before = starts;
        for bin in tail {
            let mut v = [1.0, 0.0, 0.0, bin.mean];
            for (k, tau) in constants.iter().enumerate().take(2) {
                let after = libm::exp(-bin.to / tau);
                v[1 + k] = tau / (bin.to - bin.from) * (before[k] - after);
                before[k] = after;
            }
            for (row, a) in m.iter_mut().zip(v) {
                for (cell, b) in row.iter_mut().zip(v) {
                    *cell += bin.weight * a * b;
                }
            }
        }
        // Take the exponentials out of 1 and y, one after the other.
        for k in 1..=constants.len().min(2) {
            let pivot = m[k][k];
            if pivot <= 1e-9 * m[0][0] {
                continue;
            }
            let row = m[k];
            for (i, target) in m.iter_mut().enumerate() {
                if i != k {
                    let factor = target[k] / pivot;
                    target.iter_mut().zip(row).for_each(|(x, y)| *x -= factor * y);
                }
            }
        }
        against += m[0][3];
        squares += m[0][0];
        left += m[3][3];
    }
    if squares <= 0.0 {
        return None;
    }
    Some(((left - against * against / squares).max(0.0), against / squares))
}

/// The least of a function between two ends: a grid, then a golden section.
fn least(f: impl Fn(f64) -> f64, low: f64, high: f64, steps: usize) -> f64 {
    let at = |i: usize| low + (high - low) * i as f64 / steps as f64;
    let best = (0..=steps).map(|i| (i, f(at(i)))).min_by(|a, b| a.1.total_cmp(&b.1)).map_or(0, |best| best.0);
    golden(f, at(best.saturating_sub(1)), at((best + 1).min(steps)), 24)
}

fn golden(f: impl Fn(f64) -> f64, mut a: f64, mut b: f64, turns: usize) -> f64 {
    const PART: f64 = 0.618_033_988_749_894_9;
    let (mut c, mut d) = (b - PART * (b - a), a + PART * (b - a));
    let (mut fc, mut fd) = (f(c), f(d));
    for _ in 0..turns {
        if fc < fd {
            (b, d, fd) = (d, c, fc);
            c = b - PART * (b - a);
            fc = f(c);
        } else {
            (a, c, fc) = (c, d, fd);
            d = a + PART * (b - a);
            fd = f(d);
        }
    }
    (a + b) / 2.0
}

/// Two time constants, the shorter first, from a grid and a simplex.
struct Two {
    constants_s: (f64, f64),
    left: f64,
    level: f64,
    /// Standard uncertainty of the sum of the rates over that sum, for noise of variance one.
    doubt: f64,
}

fn two(tails: &[Vec<Bin>], low: f64, high: f64) -> Option<Two> {
    const STEPS: usize = 14;
    /// Nearer than this the two cannot be told apart.
    const APART: f64 = 0.05;
    let at = |i: usize| low + (high - low) * i as f64 / STEPS as f64;
    let value = |p: [f64; 2]| {
        if p[0] < low || p[1] > high || p[1] - p[0] < APART {
            return f64::INFINITY;
        }
        solve(tails, &[libm::exp(p[0]), libm::exp(p[1])]).map_or(f64::INFINITY, |left| left.0)
    };
    let mut best = (f64::INFINITY, [low, high]);
    for i in 0..STEPS {
        for j in i + 1..=STEPS {
            let here = value([at(i), at(j)]);
            if here < best.0 {
                best = (here, [at(i), at(j)]);
            }
        }
    }
    let [a, b] = simplex(value, best.1, (high - low) / STEPS as f64 / 2.0);
    let (short, long) = (libm::exp(a), libm::exp(b));
    let (left, level) = solve(tails, &[short, long])?;
    // How the squares bend about their least gives the covariance of both logarithms.
    let h = 0.02;
    let bend = |p: [f64; 2], q: [f64; 2]| {
        let f = |u: f64, v: f64| value([a + h * (u * p[0] + v * q[0]), b + h * (u * p[1] + v * q[1])]);
        (f(1.0, 1.0) - f(1.0, -1.0) - f(-1.0, 1.0) + f(-1.0, -1.0)) / (4.0 * h * h)
    };
    let (x, y) = ([1.0, 0.0], [0.0, 1.0]);
    let (xx, xy, yy) = (bend(x, x), bend(x, y), bend(y, y));
    let determinant = xx * yy - xy * xy;
    let (p, q) = (1.0 / short, 1.0 / long);
    let variance = 2.0 * (p * p * yy - 2.0 * p * q * xy + q * q * xx) / determinant;
    let doubt = if determinant > 0.0 && variance > 0.0 { variance.sqrt() / (p + q) } else { f64::INFINITY };
    Some(Two { constants_s: (short, long), left, level, doubt })
}

/// The least of a function of two numbers by the simplex of Nelder and Mead (Computer Journal 7 (1965) 308).
fn simplex(f: impl Fn([f64; 2]) -> f64, start: [f64; 2], size: f64) -> [f64; 2] {
    let point = |p: [f64; 2]| (f(p), p);
    let mut s = [point(start), point([start[0] + size, start[1]]), point([start[0], start[1] - size])];
    for _ in 0..80 {
        s.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
        let [best, middle, worst] = s;
        let along = |t: f64| {
            let c = [(best.1[0] + middle.1[0]) / 2.0, (best.1[1] + middle.1[1]) / 2.0];
            point([c[0] + t * (c[0] - worst.1[0]), c[1] + t * (c[1] - worst.1[1])])
        };
        let mirrored = along(1.0);
        let new = if mirrored.0 < best.0 {
            let far = along(2.0);
            if far.0 < mirrored.0 { far } else { mirrored }
        } else if mirrored.0 < middle.0 {
            mirrored
        } else {
            along(if mirrored.0 < worst.0 { 0.5 } else { -0.5 })
        };
        if new.0 < worst.0 {
            s[2] = new;
        } else {
            let closer = |p: [f64; 2]| point([(p[0] + best.1[0]) / 2.0, (p[1] + best.1[1]) / 2.0]);
            s = [best, closer(middle.1), closer(worst.1)];
        }
    }
    s.into_iter().min_by(|a, b| a.0.total_cmp(&b.0)).map_or(start, |best| best.1)
}

#[cfg(test)]
mod tests {
    use super::super::edges::{edges, rough_rate};
    use super::super::survey::survey;
    use super::*;
    use crate::waveform::Waveform;

    fn seen(constants: &[f64]) -> Coupling {
        let mut light: Vec<f64> = (0..96_000)
            .map(|i| if (10_000..22_000).contains(&i) || (60_000..60_500).contains(&i) { 0.4 } else { 0.0 })
            .collect();
        for tau in constants {
            let keep = libm::exp(-1.0 / (48_000.0 * tau));
            let (mut y, mut before) = (0.0, 0.0);
            for x in &mut light {
                y = keep * y + (1.0 + keep) / 2.0 * (*x - before);
                before = *x;
                *x = y;
            }
        }
        let mut state = 3_u32;
        let samples = light
            .iter()
            .map(|x| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (x + 0.01 + (f64::from(state >> 8) / 8_388_608.0 - 1.0) * 0.004) as f32
            })
            .collect();
        let survey = survey(&Waveform::whole(48_000.0, samples).expect("a recording"));
        let rate = rough_rate(&survey);
        coupling(&survey, &edges(&survey, rate).pulses, rate)
    }

    #[test]
    fn one_constant_two_and_none() {
        let one = seen(&[0.02]);
        assert!((one.constants_s[0] / 0.02 - 1.0).abs() < 4.0 * one.doubt && one.doubt < 0.02, "{one:?}");
        assert!((one.level - 0.01).abs() < 2e-4 && !one.not_exponential, "{one:?}");
        let two = seen(&[0.012, 0.15]);
        assert_eq!(two.constants_s.len(), 2, "{two:?}");
        assert!((two.rate() / (1.0 / 0.012 + 1.0 / 0.15) - 1.0).abs() < 0.03, "{two:?}");
        assert!(seen(&[]).constants_s.is_empty());
    }
}
