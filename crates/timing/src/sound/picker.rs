//! The moment of an onset to a few hundredths of a millisecond: where the samples before and after are best told apart.
//!
//! Not here: which onsets there are (`onsets`).

use super::signal::Signal;

/// How far before and after the rough moment is looked \[s\].
const BEFORE_S: f64 = 2e-3;
const AFTER_S: f64 = 1e-3;
/// Samples that either side must at least have.
const LEAST: usize = 4;

/// The sample at which the mean square changes most clearly near `rough`: the minimum of Akaike's criterion
/// `k·ln(mean of the first k squares) + (n − k)·ln(mean of the others)`.
pub(super) fn onset(signal: &Signal, rough: i64) -> f64 {
    let before = signal.count(BEFORE_S).max(2 * LEAST);
    let length = before + signal.count(AFTER_S).max(2 * LEAST);
    let start = rough - before as i64;
    let window = signal.read(start, length);
    let total: f64 = window.iter().map(|&v| f64::from(v * v)).sum();
    let mut first = 0.0;
    let mut best = (f64::INFINITY, before);
    for (k, &v) in window.iter().enumerate() {
        if k >= LEAST && k + LEAST <= length {
            let (n1, n2) = (k as f64, (length - k) as f64);
            let rest = (total - first).max(0.0);
            // The tiny term keeps digital silence finite; it is far below the rounding of any recording.
            let value = n1 * libm::log(first / n1 + 1e-14) + n2 * libm::log(rest / n2 + 1e-14);
            if value < best.0 {
                best = (value, k);
            }
        }
        first += f64::from(v * v);
    }
    (start + best.1 as i64) as f64
}
