//! Where something begins suddenly: energy in steps of an eighth of a millisecond, the floor beneath it, and the moments at
//! which it rises by more than noise does.
//!
//! Not here: which of these moments belong to a shutter (`not_a_stop`, `pair`, `series`).

use super::picker;
use super::signal::{Signal, decibels};

/// One step of energy \[s\].
const STEP_S: f64 = 0.125e-3;
/// Steps after and before a moment whose means are compared, and steps within which only the strongest counts.
const AFTER: usize = 6;
const BEFORE: usize = 12;
const APART: usize = 8;
/// A rise of 5 dB over what was before, and of 10 dB over the floor.
const RISE: f64 = 3.162_277_660_168_379_5;
const ABOVE_FLOOR: f64 = 10.0;
/// Steps of one block of the floor, and blocks on either side that the floor is taken from (±1.5 s).
const BLOCK: usize = 40;
const AROUND: usize = 300;
/// The share of quiet blocks that is floor.
const QUIET_SHARE: f64 = 0.25;
/// Mean square below which there is no floor: the rounding of a 16-bit recording after the high-pass.
const LEAST_FLOOR: f64 = 1e-10;
/// The level of an event is taken over this long \[s\].
const LEVEL_S: f64 = 3e-3;

/// A sudden beginning.
#[derive(Clone, Copy, Debug)]
pub(super) struct Event {
    /// When \[samples at the working rate\].
    pub at: f64,
    /// Mean square over 3 ms, in dB re full scale.
    pub level_db: f64,
    /// Follows a much louder one so closely that it is taken for its rebound.
    pub rebound: bool,
}

/// A channel with its events.
pub(super) struct Front {
    /// The high-passed samples.
    pub signal: Signal,
    /// In the order of time.
    pub events: Vec<Event>,
    /// Median of the floor \[dB re full scale\].
    pub floor_db: f64,
}

impl Front {
    /// Looks through a filtered channel.
    pub fn of(signal: Signal) -> Self {
        let step = ((signal.rate_hz * STEP_S).round() as usize).max(1);
        let energies: Vec<Energy> = signal.pieces.iter().map(|piece| Energy::of(&piece.samples, step)).collect();
        let floors = floors(energies.iter().flat_map(|energy| &energy.blocks));
        let mut events = Vec::new();
        let mut first_block = 0;
        for (piece, energy) in signal.pieces.iter().zip(&energies) {
            let floor = &floors[first_block..first_block + energy.blocks.len()];
            first_block += energy.blocks.len();
            for at in energy.rises(floor) {
                let rough = piece.start + (at * step) as i64;
                let moment = picker::onset(&signal, rough);
                let level_db = decibels(signal.mean_square(moment.round() as i64, signal.count(LEVEL_S)));
                events.push(Event { at: moment, level_db, rebound: false });
            }
        }
        events.sort_by(|a: &Event, b| a.at.total_cmp(&b.at));
        // Two rises may be refined to one moment; the louder stands for both.
        let apart = signal.samples(0.4e-3);
        events.dedup_by(|later, earlier| {
            let same = later.at - earlier.at < apart;
            if same && later.level_db > earlier.level_db {
                *earlier = *later;
            }
            same
        });
        let mut sorted = floors;
        sorted.sort_by(f64::total_cmp);
        let floor_db = decibels(sorted.get(sorted.len() / 2).copied().unwrap_or(LEAST_FLOOR));
        Self { signal, events, floor_db }
    }

    /// How far the loudest events stand above the floor \[dB\]; 0 where there are none.
    pub fn height_db(&self) -> f64 {
        let mut levels: Vec<f64> = self.events.iter().map(|event| event.level_db).collect();
        levels.sort_by(|a, b| b.total_cmp(a));
        levels.truncate(8);
        if levels.is_empty() { 0.0 } else { levels.iter().sum::<f64>() / levels.len() as f64 - self.floor_db }
    }

    /// A moment in seconds.
    pub fn seconds(&self, at: f64) -> f64 {
        at / self.signal.rate_hz
    }
}

/// The energy of a piece, step by step.
struct Energy {
    /// Sum of the mean squares of all steps before each step, and of all.
    sums: Vec<f64>,
    /// Mean square of each block of steps.
    blocks: Vec<f64>,
}

impl Energy {
    fn of(samples: &[f32], step: usize) -> Self {
        let mut found = Self { sums: Vec::with_capacity(samples.len() / step + 1), blocks: Vec::new() };
        found.sums.push(0.0);
        for block in samples.chunks(step * BLOCK) {
            match step {
                // What most recordings have.
                6 => found.add_block(block.as_chunks::<6>().0.iter().map(mean_square)),
                _ => found.add_block(block.chunks_exact(step).map(mean_square)),
            }
        }
        found
    }

    #[inline(always)]
    fn add_block(&mut self, steps: impl ExactSizeIterator<Item = f64>) {
        let count = steps.len();
        let (mut sum, mut block) = (self.sums.last().copied().unwrap_or(0.0), 0.0);
        self.sums.extend(steps.map(|energy| {
            block += energy;
            sum += energy;
            sum
        }));
        if count > 0 {
            self.blocks.push(block / count as f64);
        }
    }

    /// Number of steps.
    fn steps(&self) -> usize {
        self.sums.len() - 1
    }

    /// Mean over the steps after a moment.
    #[inline(always)]
    fn after(&self, m: usize) -> f64 {
        (self.sums[m + AFTER] - self.sums[m]) / AFTER as f64
    }

    /// By how much the energy after a moment lies above that before it, or above the floor; 0 at either end of the piece.
    fn rise(&self, m: usize, floor: &[f64]) -> f64 {
        if m < BEFORE / 3 || m + AFTER >= self.steps() {
            return 0.0;
        }
        let from = m.saturating_sub(BEFORE);
        let before = (self.sums[m] - self.sums[from]) / (m - from) as f64;
        self.after(m) / before.max(floor.get(m / BLOCK).copied().unwrap_or(LEAST_FLOOR))
    }

    /// Steps at which the energy rises: local maxima of its rise.
    fn rises(&self, floor: &[f64]) -> Vec<usize> {
        let mut high: Vec<(usize, f64)> = Vec::new();
        for (block, &floor_here) in floor.iter().enumerate() {
            let least = ABOVE_FLOOR * floor_here;
            // Little is loud, and only that is looked at closely: the sum of the steps after tells without a division.
            let nearly = least * AFTER as f64 * (1.0 - 1e-9);
            let end = self.steps().saturating_sub(AFTER).min((block + 1) * BLOCK);
            let first = (block * BLOCK).max(BEFORE / 3);
            // No stretch of a block holds more than the block and what its last step looks ahead at: nearly all are passed over whole.
            if first >= end || self.sums[end - 1 + AFTER] - self.sums[first] < nearly {
                continue;
            }
            for m in first..end {
                if self.sums[m + AFTER] - self.sums[m] >= nearly && self.after(m) >= least {
                    let rise = self.rise(m, floor);
                    if rise >= RISE {
                        high.push((m, rise));
                    }
                }
            }
        }
        let highest = |&(m, rise): &(usize, f64)| {
            (m.saturating_sub(APART)..m).rev().all(|other| self.rise(other, floor) < rise)
                && (m + 1..self.steps().min(m + APART + 1)).all(|other| self.rise(other, floor) <= rise)
        };
        high.into_iter().filter(highest).map(|(m, _)| m).collect()
    }
}

#[inline(always)]
fn mean_square(samples: &(impl AsRef<[f32]> + ?Sized)) -> f64 {
    let samples = samples.as_ref();
    samples.iter().map(|&v| f64::from(v * v)).sum::<f64>() / samples.len() as f64
}

/// The floor of every block of every piece: the quiet quarter of what is within 1.5 s, not below the quietest twentieth of all.
fn floors<'a>(blocks: impl Iterator<Item = &'a f64>) -> Vec<f64> {
    // A histogram over decibels slides along; half-decibel bins from −120 dB up.
    const BINS: usize = 260;
    let bin = |mean_square: f64| (((decibels(mean_square) + 120.0) * 2.0).max(0.0) as usize).min(BINS - 1);
    let bins: Vec<usize> = blocks.map(|&b| bin(b)).collect();
    let level: Vec<f64> = (0..BINS).map(|b| libm::pow(10.0, (b as f64 + 0.5) / 20.0 - 12.0)).collect();
    let quantile = |counts: &[u32], total: usize, share: f64| {
        let wanted = (share * total as f64) as usize;
        let mut seen = 0;
        counts
            .iter()
            .position(|&count| {
                seen += count as usize;
                seen > wanted
            })
            .map_or(LEAST_FLOOR, |b| level[b])
    };
    let mut counts = vec![0_u32; BINS];
    bins.iter().for_each(|&b| counts[b] += 1);
    let least = quantile(&counts, bins.len(), 0.05).max(LEAST_FLOOR);
    counts.fill(0);
    let (mut entered, mut left) = (0, 0);
    let mut floor = least;
    (0..bins.len())
        .map(|b| {
            while entered < bins.len().min(b + AROUND + 1) {
                counts[bins[entered]] += 1;
                entered += 1;
            }
            while left + AROUND < b {
                counts[bins[left]] -= 1;
                left += 1;
            }
            // It hardly changes from block to block.
            if b % 16 == 0 {
                floor = quantile(&counts, entered - left, QUIET_SHARE).max(least);
            }
            floor
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::waveform::Waveform;

    /// Clicks of 6 kHz that die away within a millisecond, over a little noise.
    fn clicks(at: &[(usize, f32)]) -> Front {
        let mut chance = 7_u32;
        let mut x: Vec<f32> = (0..48_000)
            .map(|_| {
                chance = chance.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (chance >> 8) as f32 / 16_777_216.0 * 2e-3 - 1e-3
            })
            .collect();
        for &(start, height) in at {
            for i in 0..200 {
                let t = i as f64 / 48_000.0;
                let wave = libm::exp(-t / 0.7e-3) * libm::sin(2.0 * core::f64::consts::PI * 6000.0 * t);
                x[start + i] += height * wave as f32;
            }
        }
        Front::of(Signal::of(Waveform::whole(48_000.0, x).expect("a channel")))
    }

    #[test]
    fn clicks_are_found_where_they_are() {
        let front = clicks(&[(10_000, 0.5), (10_600, 0.3), (30_001, 0.05)]);
        assert_eq!(front.events.len(), 3, "{:?}", front.events);
        for (event, at) in front.events.iter().zip([10_000.0, 10_600.0, 30_001.0]) {
            assert!((event.at - at).abs() <= 2.0, "{} {at}", event.at);
        }
        assert!(front.events[0].level_db > front.events[1].level_db);
        assert!((-75.0..-60.0).contains(&front.floor_db), "{}", front.floor_db);
    }

    #[test]
    fn noise_alone_has_no_events() {
        assert!(clicks(&[]).events.is_empty());
    }
}
