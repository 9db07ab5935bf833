//! The true grid of a clip's frames: their interval, the number of each, the frames that are missing, and how unevenly they
//! come.
//!
//! Not here: brightness, and what a missing frame does to a shot (`shot`, `doubt`).

use crate::extremes::{greatest, least};

/// How fast the loop follows the frames.
const GAIN: f64 = 0.1;
/// An interval that changes by less than this part of it numbers the frames as before: the loop would be off by ten times as much of an
/// interval, where half of one decides.
const SETTLED: f64 = 1e-6;

/// Numbers and interval of the frames.
#[derive(Clone, Debug)]
pub(super) struct Grid {
    /// Interval between frames \[s, in the file's time\].
    pub interval_s: f64,
    /// Number of each frame on the grid, the first 0, rising.
    pub numbers: Vec<u64>,
    /// How many numbers between first and last have no frame.
    pub missing: u64,
    /// How far a frame is from an even grid \[intervals, standard deviation\].
    pub jitter: f64,
    /// Share of steps that are not one interval long.
    pub odd_share: f64,
}

/// A typical interval between times: the mean of the differences that lie within half of their median. The median alone is
/// off where the file's clock is coarse and 2 and 3 of its ticks alternate. 0 for fewer than two times.
pub(crate) fn typical_interval_s(times_s: &[f64]) -> f64 {
    let mut steps: Vec<f64> = times_s.windows(2).map(|pair| pair[1] - pair[0]).collect();
    let middle = steps.len() / 2;
    if middle >= steps.len() {
        return 0.0;
    }
    // Wherever the median lies between such a least and greatest, all are near it, as in nearly every clip.
    if least(&steps) > 0.0 && greatest(&steps) <= 1.5 * least(&steps) {
        return steps.iter().sum::<f64>() / steps.len() as f64;
    }
    let median = *steps.select_nth_unstable_by(middle, f64::total_cmp).1;
    let near = |step: &&f64| (**step - median).abs() <= 0.5 * median;
    let (sum, count) = steps.iter().filter(near).fold((0.0, 0_u32), |(sum, count), step| (sum + step, count + 1));
    if count == 0 { median } else { sum / f64::from(count) }
}

/// Finds the grid of rising times (12 at least) by a first-order loop, and its interval by regression.
///
/// *Symbols:* `k += max(1, round((t − predicted)/T))`, `predicted += 0.1·error`. `clock_step_s`: a tick of the file's clock
/// \[s\], whose rounding is no unevenness of the frames.
pub(super) fn find(times_s: &[f64], clock_step_s: f64) -> Grid {
    let mut interval_s = typical_interval_s(times_s);
    let mut numbers = Vec::new();
    for _ in 0..2 {
        numbers = number(times_s, interval_s);
        let better = regression(times_s, &numbers);
        if !(better.is_finite() && better > 0.0) {
            continue;
        }
        let settled = (better - interval_s).abs() <= SETTLED * interval_s;
        interval_s = better;
        // Frames that lie even are numbered alike by both.
        if settled {
            break;
        }
    }
    let steps = numbers.windows(2).map(|pair| pair[1] - pair[0]);
    let (mut missing, mut odd, mut squares, mut count) = (0_u64, 0_u64, 0.0, 0_u64);
    for (step, pair) in steps.zip(times_s.windows(2)) {
        missing += step - 1;
        odd += u64::from(step != 1);
        let error = ((pair[1] - pair[0]) / interval_s - step as f64).clamp(-1.0, 1.0);
        squares += error * error;
        count += 1;
    }
    let tick = clock_step_s / interval_s;
    let variance = squares / count.max(1) as f64 / 2.0 - tick * tick / 12.0;
    Grid {
        interval_s,
        numbers,
        missing,
        // A hundredth of an interval cannot be told from the rounding of a file.
        jitter: if variance > 1e-4 { variance.sqrt() } else { 0.0 },
        odd_share: odd as f64 / count.max(1) as f64,
    }
}

fn number(times_s: &[f64], interval_s: f64) -> Vec<u64> {
    let mut numbers = Vec::with_capacity(times_s.len());
    let mut predicted = times_s.first().copied().unwrap_or(0.0);
    let mut number = 0_u64;
    let next = 1.5 * interval_s;
    for (index, time) in times_s.iter().enumerate() {
        if index > 0 {
            let gap_s = time - predicted;
            // Nearly every frame is the next one, and dividing and rounding cost more than asking. The cast saturates: a gap of years is
            // one large number, not a panic.
            let steps = if gap_s < next { 1.0 } else { (gap_s / interval_s).round().clamp(1.0, 1e12) };
            number += steps as u64;
            predicted += steps * interval_s;
        }
        predicted += GAIN * (time - predicted);
        numbers.push(number);
    }
    numbers
}

fn regression(times_s: &[f64], numbers: &[u64]) -> f64 {
    let count = times_s.len().max(1) as f64;
    let mean_time = times_s.iter().sum::<f64>() / count;
    let mean_number = numbers.iter().map(|number| *number as f64).sum::<f64>() / count;
    let (mut both, mut square) = (0.0, 0.0);
    for (time, number) in times_s.iter().zip(numbers) {
        let offset = *number as f64 - mean_number;
        both += offset * (time - mean_time);
        square += offset * offset;
    }
    both / square
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn missing_frames_are_counted_and_the_interval_is_exact() {
        let times: Vec<f64> =
            (0..500).filter(|k| ![50, 120, 121, 300].contains(k)).map(|k| 3.0 + f64::from(k) / 239.76).collect();
        let grid = find(&times, 0.0);
        assert_eq!(grid.missing, 4);
        assert!((grid.interval_s * 239.76 - 1.0).abs() < 1e-9);
        assert_eq!((grid.numbers[50], grid.jitter), (51, 0.0));
        assert!((grid.odd_share - 3.0 / 495.0).abs() < 1e-12);
    }

    #[test]
    fn a_coarse_clock_drops_no_frames() {
        // 240 frames a second on a clock of 600 ticks: 2 and 3 ticks in turn.
        let times: Vec<f64> = (0..400).map(|k| (f64::from(k) * 2.5).floor() / 600.0).collect();
        let grid = find(&times, 1.0 / 600.0);
        assert_eq!(grid.missing, 0);
        assert!((grid.interval_s * 240.0 - 1.0).abs() < 1e-4);
        assert!(grid.jitter < 0.09, "{}", grid.jitter);
        assert!(find(&times, 0.0).jitter > 0.1);
    }

    #[test]
    fn a_typical_interval_leaves_out_what_is_far_from_the_median() {
        let even: Vec<f64> = (0..100).map(f64::from).collect();
        assert_eq!(typical_interval_s(&even), 1.0);
        let gaps: Vec<f64> = (0..100).map(|k| f64::from(k) + if k > 50 { 7.0 } else { 0.0 }).collect();
        assert_eq!(typical_interval_s(&gaps), 1.0);
        let alternating: Vec<f64> = (0..101).map(|k| f64::from(k * 5 / 2)).collect();
        assert_eq!(typical_interval_s(&alternating), 2.5);
        assert_eq!((typical_interval_s(&[1.0]), typical_interval_s(&[])), (0.0, 0.0));
    }

    #[test]
    fn uneven_frames_are_seen_and_huge_gaps_survive() {
        let uneven: Vec<f64> =
            (0..400).map(|k| (f64::from(k) + 0.15 * f64::from(k * 7919 % 100) / 50.0) / 240.0).collect();
        let grid = find(&uneven, 0.0);
        // A rectangle of full width 0.3 has a standard deviation of 0.087.
        assert!((grid.jitter - 0.087).abs() < 0.02, "{}", grid.jitter);
        let mut gap: Vec<f64> = (0..20).map(f64::from).collect();
        gap.push(1e300);
        assert!(find(&gap, 0.0).missing > 1_000_000);
        let tiny: Vec<f64> = (0..20).map(|k| f64::from(k) * 1e-300).collect();
        assert_eq!(find(&tiny, 0.0).missing, 0);
    }
}
