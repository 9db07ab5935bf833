//! How much the lamp's light swings with the mains while the shutter is open.
//!
//! Not here: hum in the electronics ([`super::hum`]), a lamp that goes out between its flashes ([`super::edges`]).

use super::edges::Pulse;
use super::restore::Trace;

/// The plateau is looked at from this long after the opening to as long before the closing \[s\].
const MARGIN_S: f64 = 1.5e-3;
/// It has to last this long \[s\], and no more than the longest is looked at.
const LEAST_S: f64 = 0.011;
const MOST_S: f64 = 0.06;

/// Amplitude of the largest of 100 and 120 Hz over the open level, and its standard uncertainty.
pub(super) fn flicker(trace: &Trace, pulse: &Pulse, step: f64, noise: f64) -> Option<(f64, f64)> {
    let rate_hz = trace.wave.rate_hz();
    if pulse.opening.stretch != pulse.closing.stretch && step <= 0.0 {
        return None;
    }
    let flank = |edge: &super::edges::Edge| (edge.to - edge.from) as f64 * 1.0e-4 * rate_hz;
    let from = pulse.opening.at + MARGIN_S * rate_hz + flank(&pulse.opening);
    let to = (pulse.closing.at - MARGIN_S * rate_hz - flank(&pulse.closing)).min(from + MOST_S * rate_hz);
    if to - from < LEAST_S * rate_hz {
        return None;
    }
    let window = trace.window(pulse.opening.stretch, pulse.opening.at - 0.01 * rate_hz, to, 8.0e-3)?;
    let light = window.light.get((from - window.start).max(0.0) as usize..)?;
    // Means of about 0.25 ms carry 120 Hz whole and cost a twelfth.
    let size = ((0.25e-3 * rate_hz) as usize).max(1);
    let points: Vec<f64> = light.chunks_exact(size).map(|part| part.iter().sum::<f64>() / size as f64).collect();
    let spacing = size as f64 / rate_hz;
    if (points.len() as f64) * spacing < LEAST_S * 0.95 {
        return None;
    }
    let scatter = noise / step * (2.0 / (points.len() * size) as f64).sqrt();
    [100.0, 120.0]
        .into_iter()
        .filter_map(|frequency| amplitude(&points, spacing, frequency))
        .max_by(f64::total_cmp)
        .map(|size| (size / step, scatter))
}

/// Least squares of a level, a slope, for long plateaus a bend, and one frequency; gives its amplitude.
fn amplitude(points: &[f64], spacing: f64, frequency: f64) -> Option<f64> {
    const MOST: usize = 5;
    let n = points.len() as f64;
    let columns = if n * spacing > 0.02 { MOST } else { MOST - 1 };
    let mut m = [[0.0_f64; MOST + 1]; MOST];
    for (i, y) in points.iter().enumerate() {
        let t = (i as f64 + 0.5) / n * 2.0 - 1.0;
        let turn = core::f64::consts::TAU * frequency * i as f64 * spacing;
        let bend = if columns == MOST { t * t } else { 0.0 };
        let v = [libm::cos(turn), libm::sin(turn), 1.0, t, bend, *y];
        for (row, a) in m.iter_mut().zip(v) {
            for (cell, b) in row.iter_mut().zip(v) {
                *cell += a * b;
            }
        }
    }
    for k in (0..columns).rev() {
        let row = m[k];
        if row[k].abs() < 1e-9 * n {
            return None;
        }
        for (i, target) in m.iter_mut().enumerate() {
            if i != k {
                let factor = target[k] / row[k];
                target.iter_mut().zip(row).for_each(|(x, y)| *x -= factor * y);
            }
        }
    }
    let (cos, sin) = (m[0][MOST] / m[0][0], m[1][MOST] / m[1][1]);
    let size = (cos * cos + sin * sin).sqrt();
    size.is_finite().then_some(size)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_swing_is_found_beside_a_slope() {
        for (count, frequency) in [(240, 100.0), (48, 120.0)] {
            let points: Vec<f64> = (0..count)
                .map(|i| {
                    let t = f64::from(i) * 0.25e-3;
                    1.0 + 0.8 * t + 0.1 * libm::sin(core::f64::consts::TAU * frequency * t + 0.7)
                })
                .collect();
            let found = amplitude(&points, 0.25e-3, frequency).expect("an amplitude");
            assert!((found - 0.1).abs() < 1e-6, "{found}");
        }
    }
}
