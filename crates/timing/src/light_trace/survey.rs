//! First look at a channel: means of a tenth of a millisecond as running sums, noise, middle level, and runs of clipped samples.
//!
//! Everything later reads the channel through these means, and goes back to the samples only near an edge. Not here: edges
//! ([`super::edges`]) and what clipping does to a shot ([`super::verdict`]).

use crate::waveform::{Stretch, Waveform};

/// Length of a block \[s\]: an edge of the fastest curtain takes as long.
const BLOCK_S: f64 = 1.0e-4;
/// Length over which the noise is taken \[s\]; the median over all of them is not moved by edges.
const NOISE_S: f64 = 5.0e-3;
/// Samples in a row at the extreme that make clipping.
const CLIPPED_RUN: usize = 12;
/// How near to the extreme they are, as a part of it.
const CLIPPED_NEAR: f64 = 5.0e-4;
/// A full scale that no preamplifier reaches by chance.
const FULL_SCALE: f64 = 0.99;
/// Noise below this is taken for this: rounding alone makes as much.
const LEAST_NOISE: f64 = 1.0e-6;

/// A stretch as running sums of its block means.
pub(super) struct Blocks {
    /// Number of the first sample.
    pub start: u64,
    /// `sums[k]` is the sum of the first k means.
    pub sums: Vec<f64>,
}

impl Blocks {
    /// How many blocks there are.
    pub fn len(&self) -> usize {
        self.sums.len().saturating_sub(1)
    }

    /// Mean over the blocks from `from` to before `to`; 0 where there are none.
    pub fn mean(&self, from: usize, to: usize) -> f64 {
        match (self.sums.get(from), self.sums.get(to)) {
            (Some(first), Some(last)) if to > from => (last - first) / (to - from) as f64,
            _ => 0.0,
        }
    }
}

/// What the first look gives.
pub(super) struct Survey {
    /// Sampling rate \[Hz\].
    pub rate_hz: f64,
    /// Samples in a block.
    pub size: usize,
    /// The stretches, in step with those of the waveform.
    pub stretches: Vec<Blocks>,
    /// Standard deviation of the noise of one sample.
    pub noise: f64,
    /// Mean of everything kept: with a coupled input, the level that it returns to.
    pub centre: f64,
    /// Runs of clipped samples: first and one after the last.
    pub clipped: Vec<(u64, u64)>,
}

/// Looks a channel over once.
pub(super) fn survey(wave: &Waveform) -> Survey {
    let rate_hz = wave.rate_hz();
    let size = ((BLOCK_S * rate_hz + 0.5) as usize).max(1);
    let chunk = ((NOISE_S * rate_hz) as usize).max(2);
    let (mut lowest, mut highest, mut total, mut kept) = (f32::INFINITY, f32::NEG_INFINITY, 0.0, 0_usize);
    let mut scatter: Vec<f64> = Vec::with_capacity(wave.kept() / chunk + 1);
    let mut stretches = Vec::with_capacity(wave.stretches().len());
    let mut ranges = Vec::with_capacity(wave.stretches().len());
    for stretch in wave.stretches() {
        let mut sums = Vec::with_capacity(stretch.samples.len() / size + 1);
        let mut sum = 0.0;
        sums.push(0.0);
        for block in stretch.samples.chunks_exact(size) {
            sum += block.iter().map(|&sample| f64::from(sample)).sum::<f64>() / size as f64;
            sums.push(sum);
        }
        total += sum * size as f64;
        kept += (sums.len() - 1) * size;
        let mut range = Vec::with_capacity(stretch.samples.len() / chunk + 1);
        for part in stretch.samples.chunks(chunk) {
            let (low, high) = extremes(part);
            range.push((low, high));
            lowest = lowest.min(low);
            highest = highest.max(high);
            if part.len() == chunk || (scatter.is_empty() && part.len() > 1) {
                scatter.push((squared_steps(part) / (part.len() - 1) as f64 / 2.0).sqrt());
            }
        }
        stretches.push(Blocks { start: stretch.start, sums });
        ranges.push(range);
    }
    let quantum = quantum(wave.stretches());
    let noise = median(&mut scatter).max(quantum / 12_f64.sqrt()).max(LEAST_NOISE);
    let mut clipped = [(1.0, highest), (-1.0, -lowest)]
        .into_iter()
        .flat_map(|(sign, extreme)| {
            // Noise below the converter's step makes every plateau look cut: then only full scale says so.
            let told = noise > quantum || f64::from(extreme) >= FULL_SCALE;
            let least = (f64::from(extreme) * (1.0 - CLIPPED_NEAR)) as f32;
            let looked = told && f64::from(extreme) > 8.0 * noise;
            let all = wave.stretches().iter().zip(&ranges).filter(move |_| looked);
            all.flat_map(move |(stretch, range)| clipped(stretch, range, chunk, (sign, least), noise))
        })
        .collect::<Vec<_>>();
    let centre = if kept > 0 { total / kept as f64 } else { 0.0 };
    clipped.sort_unstable();
    Survey { rate_hz, size, stretches, noise, centre, clipped }
}

fn extremes(part: &[f32]) -> (f32, f32) {
    // Eight lanes, so that the compiler may use the machine's own.
    let (mut low, mut high) = ([f32::INFINITY; 8], [f32::NEG_INFINITY; 8]);
    let lanes = part.chunks_exact(8);
    let rest = lanes.remainder();
    for eight in lanes {
        for ((low, high), &x) in low.iter_mut().zip(&mut high).zip(eight) {
            *low = if x < *low { x } else { *low };
            *high = if x > *high { x } else { *high };
        }
    }
    let low = low.into_iter().chain(rest.iter().copied()).fold(f32::INFINITY, f32::min);
    let high = high.into_iter().chain(rest.iter().copied()).fold(f32::NEG_INFINITY, f32::max);
    (low, high)
}

fn squared_steps(part: &[f32]) -> f64 {
    let mut lanes = [0.0_f32; 8];
    let last = part.get(1..).unwrap_or(&[]);
    let (firsts, lasts) = (part.chunks_exact(8), last.chunks_exact(8));
    let done = lasts.len() * 8;
    for (first, second) in firsts.zip(lasts) {
        for ((lane, a), b) in lanes.iter_mut().zip(first).zip(second) {
            *lane += (b - a) * (b - a);
        }
    }
    let rest: f64 = part
        .iter()
        .zip(last)
        .skip(done)
        .map(|(a, b)| {
            let step = f64::from(b - a);
            step * step
        })
        .sum();
    lanes.iter().map(|&lane| f64::from(lane)).sum::<f64>() + rest
}

/// The step of the converter: the smallest difference between neighbours in the first stretches.
fn quantum(stretches: &[Stretch]) -> f64 {
    const LOOK: usize = 20_000;
    let mut least = f32::INFINITY;
    let mut left = LOOK;
    for stretch in stretches {
        for pair in stretch.samples.windows(2).take(left) {
            if let [a, b] = pair {
                let step = (b - a).abs();
                if step > 0.0 && step < least {
                    least = step;
                }
            }
        }
        left = left.saturating_sub(stretch.samples.len());
    }
    if least.is_finite() { f64::from(least) } else { 0.0 }
}

/// Runs of samples of a stretch that stand at the extreme and scatter less than the noise. `range` has the extremes of every
/// chunk, so that most of them need not be looked at again; `at` is the sign of the extreme and the least that stands at it.
fn clipped(stretch: &Stretch, range: &[(f32, f32)], chunk: usize, at: (f32, f32), noise: f64) -> Vec<(u64, u64)> {
    let (sign, least) = at;
    let reaches = |i: usize| range.get(i).is_some_and(|&(low, high)| (low * sign).max(high * sign) >= least);
    let mut runs = Vec::new();
    let mut first = 0;
    while first < range.len() {
        if !reaches(first) {
            first += 1;
            continue;
        }
        let last = (first..=range.len()).find(|&i| !reaches(i)).unwrap_or(range.len());
        let from = first * chunk;
        let part = stretch.samples.get(from..(last * chunk).min(stretch.samples.len())).unwrap_or(&[]);
        let (mut run, mut low, mut high) = (0_usize, f32::INFINITY, f32::NEG_INFINITY);
        for (i, x) in part.iter().map(|&x| x * sign).chain([f32::NEG_INFINITY]).enumerate() {
            if x >= least {
                run += 1;
                low = low.min(x);
                high = high.max(x);
            } else if run > 0 {
                if run >= CLIPPED_RUN && f64::from(high - low) < 0.3 * noise {
                    let place = |i: usize| stretch.start.saturating_add((from + i) as u64);
                    runs.push((place(i - run), place(i)));
                }
                (run, low, high) = (0, f32::INFINITY, f32::NEG_INFINITY);
            }
        }
        first = last;
    }
    runs
}

/// The median, which puts the numbers out of order; 0 where there are none.
pub(super) fn median(numbers: &mut [f64]) -> f64 {
    quantile(numbers, 0.5)
}

/// The number below which this part of them lies; 0 where there are none.
pub(super) fn quantile(numbers: &mut [f64], part: f64) -> f64 {
    let Some(last) = numbers.len().checked_sub(1) else { return 0.0 };
    let rank = ((last as f64 * part + 0.5) as usize).min(last);
    *numbers.select_nth_unstable_by(rank, f64::total_cmp).1
}

#[cfg(test)]
mod tests {
    use super::*;

    fn noisy(len: usize, size: f32) -> Vec<f32> {
        let mut state = 7_u32;
        (0..len)
            .map(|_| {
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                ((state >> 8) as f32 / 8_388_608.0 - 1.0) * size
            })
            .collect()
    }

    #[test]
    fn noise_and_middle_are_those_of_the_signal() {
        let samples = noisy(48_000, 0.01).iter().map(|x| x + 0.25).collect();
        let seen = survey(&Waveform::whole(48_000.0, samples).expect("a recording"));
        assert!((seen.noise / (0.01 / 3_f64.sqrt()) - 1.0).abs() < 0.05, "{}", seen.noise);
        assert!((seen.centre - 0.25).abs() < 1e-4);
        assert!(seen.clipped.is_empty());
        assert_eq!((seen.size, seen.stretches[0].len()), (5, 9600));
        assert!((seen.stretches[0].mean(100, 200) - 0.25).abs() < 1e-2);
    }

    #[test]
    fn a_plateau_cut_flat_is_clipped_and_one_with_noise_is_not() {
        let mut samples = noisy(4800, 0.003);
        for x in &mut samples[2000..2100] {
            *x += 0.5;
        }
        let whole = survey(&Waveform::whole(48_000.0, samples.clone()).expect("a recording"));
        assert!(whole.clipped.is_empty());
        for x in &mut samples {
            *x = x.min(0.496);
        }
        let cut = survey(&Waveform::whole(48_000.0, samples).expect("a recording"));
        assert!(!cut.clipped.is_empty() && cut.clipped.iter().all(|run| run.0 >= 2000 && run.1 <= 2100));
    }
}
