//! Hum of the mains in the dark parts of a trace: 50 or 60 Hz and its harmonics, found and taken away.
//!
//! Not here: a lamp that flickers, which is in the light and not in the dark ([`super::flicker`]).

use super::edges::Pulse;
use super::survey::{Blocks, Survey};

/// The harmonics that are fitted.
const HARMONICS: [f64; 4] = [1.0, 2.0, 3.0, 5.0];
/// Columns of a window's fit: a parabola, then cosine and sine of each harmonic.
const COLUMNS: usize = 3 + 2 * HARMONICS.len();
/// Length of one window in points of [`POINT_S`]: two cycles of 50 Hz.
const POINTS: usize = 40;
/// One point \[s\].
const POINT_S: f64 = 1.0e-3;
/// No more windows than this, evenly chosen.
const MOST_WINDOWS: usize = 240;
/// After a closing, bounces and the roughly undone coupling need this long \[s\].
const SETTLED_S: f64 = 6.0e-3;
/// Hum is taken away where it explains this part of what moves in the dark.
const WORTH: f64 = 0.3;
/// Mains keep their frequency to within this \[Hz\].
const SEARCH_HZ: f64 = 0.25;

/// Hum as a sum of cosines and sines.
#[derive(Clone, Debug)]
pub(super) struct Hum {
    /// Its fundamental \[Hz\].
    pub frequency_hz: f64,
    /// Cosine and sine amplitudes of each harmonic, phase counted from the first sample of the recording.
    parts: [(f64, f64); HARMONICS.len()],
}

impl Hum {
    /// Largest amplitude of one harmonic.
    pub fn amplitude(&self) -> f64 {
        self.parts.iter().map(|(a, b)| (a * a + b * b).sqrt()).fold(0.0, f64::max)
    }

    /// Takes the hum from values that begin at sample `first` and are `spacing` samples apart.
    pub fn subtract(&self, values: &mut [f64], first: f64, spacing: f64, rate_hz: f64) {
        for (harmonic, (a, b)) in HARMONICS.iter().zip(self.parts) {
            let turn = core::f64::consts::TAU * harmonic * self.frequency_hz / rate_hz;
            let (cos_step, sin_step) = (libm::cos(turn * spacing), libm::sin(turn * spacing));
            let mut at = first;
            // A turned pointer loses its length slowly: it is set anew for every piece.
            for piece in values.chunks_mut(4096) {
                let (mut cos, mut sin) = (libm::cos(turn * at), libm::sin(turn * at));
                for value in piece.iter_mut() {
                    *value -= a * cos + b * sin;
                    (cos, sin) = (cos * cos_step - sin * sin_step, sin * cos_step + cos * sin_step);
                }
                at += piece.len() as f64 * spacing;
            }
        }
    }
}

/// A window of the dark: the middle of it in seconds, and what each column of the fit has in it.
struct Window {
    middle_s: f64,
    fitted: [f64; COLUMNS],
    /// Sum of squares that the parabola leaves.
    moving: f64,
}

impl Window {
    /// About how much of the motion its own harmonics explain.
    fn explained(&self) -> f64 {
        self.fitted.iter().skip(3).map(|x| x * x).sum::<f64>() / 2.0 * POINTS as f64
    }
}

/// Looks for hum in the dark between pulses.
pub(super) fn hum(survey: &Survey, pulses: &[Pulse], rate: f64) -> Option<Hum> {
    let best = [50.0, 60.0]
        .into_iter()
        .filter_map(|mains| explained(survey, pulses, rate, mains))
        .max_by(|a, b| a.1.total_cmp(&b.1))?;
    (best.1 > WORTH).then_some(best.0)
}

/// The hum of a mains frequency and the part of the dark's motion that it explains.
fn explained(survey: &Survey, pulses: &[Pulse], rate: f64, mains: f64) -> Option<(Hum, f64)> {
    let table = table(mains)?;
    let windows = windows(survey, pulses, rate, &table);
    let moving: f64 = windows.iter().map(|window| window.moving).sum();
    let (first, last) = (windows.first()?.middle_s, windows.last()?.middle_s);
    // One frequency over all windows cannot explain more than a frequency for each does.
    let bare: f64 = windows.iter().map(Window::explained).sum();
    if windows.len() < 3 || bare < WORTH * moving {
        return None;
    }
    // What two windows at the ends must agree on decides how finely the frequency has to be looked for.
    let step = (0.2 / (last - first).max(1.0)).clamp(SEARCH_HZ / 4000.0, SEARCH_HZ / 4.0);
    let coherent = |offset: f64, harmonic: usize| -> (f64, f64) {
        let mut sum = (0.0, 0.0);
        let order = HARMONICS.get(harmonic).copied().unwrap_or(1.0);
        for window in &windows {
            let turn = core::f64::consts::TAU * order * (mains + offset) * window.middle_s;
            let (cos, sin) = (libm::cos(turn), libm::sin(turn));
            let (a, b) = match window.fitted.get(3 + 2 * harmonic..5 + 2 * harmonic) {
                Some(&[a, b]) => (a, b),
                _ => (0.0, 0.0),
            };
            // a·cos(ω(t − m)) + b·sin(ω(t − m)), written from the first sample on.
            sum.0 += a * cos - b * sin;
            sum.1 += a * sin + b * cos;
        }
        (sum.0 / windows.len() as f64, sum.1 / windows.len() as f64)
    };
    let power = |part: (f64, f64)| part.0 * part.0 + part.1 * part.1;
    let strength = |offset: f64, most: usize| (0..most).map(|harmonic| power(coherent(offset, harmonic))).sum::<f64>();
    let best = |about: f64, step: f64, steps: i64, most: usize| {
        (-steps..=steps)
            .map(|i| about + i as f64 * step)
            .map(|offset| (offset, strength(offset, most)))
            .max_by(|a, b| a.1.total_cmp(&b.1))
            .map_or(about, |best| best.0)
    };
    let rough = best(0.0, step, (SEARCH_HZ / step) as i64, 2);
    let offset = best(rough, step / 12.0, 12, HARMONICS.len());
    let mut parts = [(0.0, 0.0); HARMONICS.len()];
    let mut total = 0.0;
    for (harmonic, (part, order)) in parts.iter_mut().zip(HARMONICS).enumerate() {
        let here = coherent(offset, harmonic);
        total += power(here);
        // The windows were restored: x = y·(1 + ρ/(iω)). Back to what is in the recording.
        let back = rate / (core::f64::consts::TAU * order * (mains + offset));
        let scale = 1.0 / (1.0 + back * back);
        *part = ((here.0 + back * here.1) * scale, (here.1 - back * here.0) * scale);
    }
    let share = total / 2.0 * (windows.len() * POINTS) as f64 / moving;
    Some((Hum { frequency_hz: mains + offset, parts }, share))
}

/// Rows that turn a window's points into its columns' amplitudes: `(XᵀX)⁻¹Xᵀ`.
fn table(mains: f64) -> Option<Vec<[f64; POINTS]>> {
    let column = |c: usize, i: usize| {
        let t = (i as f64 + 0.5 - POINTS as f64 / 2.0) * POINT_S;
        let order = HARMONICS.get(c.saturating_sub(3) / 2).copied().unwrap_or(1.0);
        let turn = core::f64::consts::TAU * order * mains * t;
        match c {
            0 => 1.0,
            1 => t * 50.0,
            2 => t * t * 2500.0,
            c if c % 2 == 1 => libm::cos(turn),
            _ => libm::sin(turn),
        }
    };
    // Gauss and Jordan on XᵀX beside Xᵀ: eleven columns, done twice per recording.
    let mut rows: Vec<(Vec<f64>, [f64; POINTS])> = (0..COLUMNS)
        .map(|c| {
            let square = (0..COLUMNS).map(|d| (0..POINTS).map(|i| column(c, i) * column(d, i)).sum()).collect();
            (square, core::array::from_fn(|i| column(c, i)))
        })
        .collect();
    for c in 0..COLUMNS {
        let (pivot_row, pivot) = {
            let row = rows.get(c)?;
            (row.clone(), *row.0.get(c)?)
        };
        if pivot.abs() < 1e-9 {
            return None;
        }
        for (r, row) in rows.iter_mut().enumerate() {
            let factor = if r == c { 1.0 - 1.0 / pivot } else { row.0.get(c)? / pivot };
            row.0.iter_mut().zip(&pivot_row.0).for_each(|(x, p)| *x -= factor * p);
            row.1.iter_mut().zip(&pivot_row.1).for_each(|(x, p)| *x -= factor * p);
        }
    }
    Some(rows.into_iter().map(|row| row.1).collect())
}

/// Windows of the restored dark.
fn windows(survey: &Survey, pulses: &[Pulse], rate: f64, table: &[[f64; POINTS]]) -> Vec<Window> {
    let blocks_per_point = ((POINT_S * survey.rate_hz / survey.size as f64) + 0.5).max(1.0);
    let wide = (POINTS as f64 * blocks_per_point) as usize;
    let mut places: Vec<(usize, usize)> = Vec::new();
    for (stretch, blocks) in survey.stretches.iter().enumerate() {
        let settled = (SETTLED_S * survey.rate_hz / survey.size as f64) as usize + 1;
        let mut dark_from = 0;
        let mut open_from = Vec::new();
        for pulse in pulses {
            if pulse.opening.stretch == stretch {
                open_from.push((dark_from, pulse.opening.from.saturating_sub(12)));
                dark_from = usize::MAX;
            }
            if pulse.closing.stretch == stretch {
                dark_from = pulse.closing.to + settled;
            } else if pulse.opening.stretch < stretch && pulse.closing.stretch > stretch {
                dark_from = usize::MAX;
            }
        }
        open_from.push((dark_from, blocks.len()));
        for (from, to) in open_from {
            let mut at = from;
            while at.checked_add(wide).is_some_and(|end| end <= to) {
                places.push((stretch, at));
                at += wide;
            }
        }
    }
    let every = places.len().div_ceil(MOST_WINDOWS).max(1);
    places
        .into_iter()
        .step_by(every)
        .filter_map(|(stretch, at)| window(survey, survey.stretches.get(stretch)?, at, rate, table))
        .collect()
}

fn window(survey: &Survey, blocks: &Blocks, at: usize, rate: f64, table: &[[f64; POINTS]]) -> Option<Window> {
    let block_s = survey.size as f64 / survey.rate_hz;
    let per_point = POINT_S / block_s;
    let mut points = [0.0; POINTS];
    let mut integral = 0.0;
    for (i, point) in points.iter_mut().enumerate() {
        let from = at + (i as f64 * per_point + 0.5) as usize;
        let to = (at + ((i + 1) as f64 * per_point + 0.5) as usize).max(from + 1);
        let level = blocks.mean(from, to) - survey.centre;
        let spent = (to - from) as f64 * block_s;
        *point = level + rate * (integral + level * spent / 2.0);
        integral += level * spent;
    }
    let mut fitted = [0.0; COLUMNS];
    for (amplitude, row) in fitted.iter_mut().zip(table) {
        *amplitude = row.iter().zip(&points).map(|(a, b)| a * b).sum();
    }
    let moving = points
        .iter()
        .enumerate()
        .map(|(i, point)| {
            let t = (i as f64 + 0.5 - POINTS as f64 / 2.0) * POINT_S;
            let left = point - (fitted[0] + fitted[1] * t * 50.0 + fitted[2] * t * t * 2500.0);
            left * left
        })
        .sum();
    let middle = blocks.start as f64 + (at * survey.size) as f64 - 0.5 + POINTS as f64 / 2.0 * POINT_S * survey.rate_hz;
    Some(Window { middle_s: middle / survey.rate_hz, fitted, moving })
}

/// Takes the hum from the block means.
pub(super) fn without_hum(survey: &mut Survey, hum: &Hum) {
    let (size, rate_hz) = (survey.size as f64, survey.rate_hz);
    for blocks in &mut survey.stretches {
        let mut means: Vec<f64> =
            blocks.sums.windows(2).map(|pair| if let [a, b] = pair { b - a } else { 0.0 }).collect();
        hum.subtract(&mut means, blocks.start as f64 + (size - 1.0) / 2.0, size, rate_hz);
        let mut sum = 0.0;
        for (total, mean) in blocks.sums.iter_mut().skip(1).zip(means) {
            sum += mean;
            *total = sum;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::survey::survey;
    use super::*;
    use crate::waveform::Waveform;

    #[test]
    fn hum_is_found_with_its_frequency_and_leaves() {
        let rate = 48_000.0;
        let value = |i: usize| {
            let turn = core::f64::consts::TAU * 50.07 * i as f64 / rate;
            0.01 * libm::cos(turn + 0.3) + 0.004 * libm::sin(3.0 * turn)
        };
        let samples: Vec<f32> = (0..240_000).map(|i| value(i) as f32).collect();
        let mut seen = survey(&Waveform::whole(rate, samples).expect("a recording"));
        let found = hum(&seen, &[], 50.0).expect("hum");
        assert!((found.frequency_hz - 50.07).abs() < 0.02, "{found:?}");
        assert!((found.amplitude() / 0.01 - 1.0).abs() < 0.02, "{found:?}");
        without_hum(&mut seen, &found);
        let left = (0..seen.stretches[0].len()).map(|k| seen.stretches[0].mean(k, k + 1).abs()).fold(0.0, f64::max);
        assert!(left < 8e-4, "{left}");
    }

    #[test]
    fn noise_is_no_hum() {
        let mut state = 5_u32;
        let samples = (0..96_000)
            .map(|_| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (state >> 8) as f32 / 1.6e9
            })
            .collect();
        let seen = survey(&Waveform::whole(48_000.0, samples).expect("a recording"));
        assert!(hum(&seen, &[], 0.0).is_none());
    }
}
