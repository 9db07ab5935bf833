//! The moment of an onset to a few hundredths of a millisecond: where the samples before and after are best told apart.
//!
//! Not here: which onsets there are (`onsets`).

use super::signal::Signal;

/// How far before and after the rough moment is looked \[s\].
const BEFORE_S: f64 = 2e-3;
const AFTER_S: f64 = 1e-3;
/// Samples that either side must at least have.
const LEAST: usize = 4;

/// How far the rough criterion may lie from the exact one: its logarithms are good to 10⁻⁵, and there are fewer than 300 samples.
const ROUGH: f32 = 0.01;
/// Keeps digital silence finite; far below the rounding of any recording.
const TINY: f64 = 1e-14;

/// The sample at which the mean square changes most clearly near `rough`: the minimum of Akaike's criterion
/// `k·ln(mean of the first k squares) + (n − k)·ln(mean of the others)`.
///
/// The criterion is reckoned roughly for every sample, and exactly where it comes near the least.
pub(super) fn onset(signal: &Signal, rough: i64) -> f64 {
    let before = signal.count(BEFORE_S).max(2 * LEAST);
    let length = before + signal.count(AFTER_S).max(2 * LEAST);
    let start = rough - before as i64;
    let window = signal.read(start, length);
    // The squares before each sample that may be the one, and those from it on.
    let total: f64 = window.iter().map(|&v| f64::from(v * v)).sum();
    let mut sum = 0.0;
    let sums: Vec<(f64, f64)> = window
        .iter()
        .map(|&v| {
            let first = sum;
            sum += f64::from(v * v);
            (first, (total - first).max(0.0))
        })
        .collect();
    let sums = sums.get(LEAST..length + 1 - LEAST).unwrap_or_default();
    let roughly: Vec<f32> = sums
        .iter()
        .enumerate()
        .map(|(place, &(first, rest))| {
            let (n1, n2) = ((place + LEAST) as i32 as f32, (length - LEAST - place) as i32 as f32);
            n1 * rough_log(first as f32 / n1 + TINY as f32) + n2 * rough_log(rest as f32 / n2 + TINY as f32)
        })
        .collect();
    let near = roughly.iter().copied().fold(f32::INFINITY, f32::min) + 2.0 * ROUGH;
    let mut best = (f64::INFINITY, before);
    for (place, (&(first, rest), _)) in
        sums.iter().zip(&roughly).enumerate().filter(|(_, (_, roughly))| **roughly <= near)
    {
        let (n1, n2) = ((place + LEAST) as f64, (length - LEAST - place) as f64);
        let value = n1 * libm::log(first / n1 + TINY) + n2 * libm::log(rest / n2 + TINY);
        if value < best.0 {
            best = (value, place + LEAST);
        }
    }
    (start + best.1 as i64) as f64
}

/// The natural logarithm of a positive normal number to 10⁻⁵, without branches: `ln(2ᵉ·m) = e·ln 2 + 2·artanh((m − 1)/(m + 1))`
/// with m from √½ to √2, and the series of the inverse hyperbolic tangent.
#[inline(always)]
fn rough_log(x: f32) -> f32 {
    const ONE: i32 = 0x3F80_0000;
    const ROOT_OF_HALF: i32 = 0x3F35_04F3;
    let bits = x.to_bits() as i32 + (ONE - ROOT_OF_HALF);
    let exponent = ((bits >> 23) - 127) as f32;
    let m = f32::from_bits(((bits & 0x007F_FFFF) + ROOT_OF_HALF) as u32);
    let s = (m - 1.0) / (m + 1.0);
    let square = s * s;
    exponent * core::f32::consts::LN_2 + 2.0 * s * (1.0 + square * (1.0 / 3.0 + square * (0.2 + square * (1.0 / 7.0))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rough_logarithms_are_near_the_exact_ones() {
        for k in -4600..600 {
            let x = libm::pow(10.0, f64::from(k) * 0.003) as f32;
            assert!((f64::from(rough_log(x)) - libm::log(f64::from(x))).abs() < 1e-5, "{x}");
        }
    }
}
