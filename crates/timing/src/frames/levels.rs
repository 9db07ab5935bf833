//! The levels of one strip: black, its noise, and the open field with its spread and drift.
//!
//! Not here: which strip is whose, and what the spread does to a time (`doubt`).

use crate::extremes::greatest;

/// Fewest frames of an open run that gives the open level.
const OPEN_RUN: usize = 4;
/// An open frame is above this part of the brightest.
const OPEN_SHARE: f64 = 0.85;
/// The open field is at least this far above black; less is no lamp.
const LEAST_OPEN: f64 = 0.02;
/// Fewest inner frames of a run whose own level is used for the shots near it, where the levels drift.
const OWN_LEVEL: usize = 6;

/// An open run: where its middle lies, its level over black, and how many inner frames gave it.
#[derive(Clone, Copy, Debug)]
struct Run {
    middle: f64,
    level: f64,
    frames: usize,
}

/// Levels of one strip; all in linear light.
#[derive(Clone, Debug)]
pub(super) struct Levels {
    /// Black.
    pub black: f64,
    /// Noise of a dark frame.
    pub dark_noise: f64,
    /// Open field less black.
    pub open: f64,
    /// Noise of an open frame against the next, as a part of the open level.
    pub open_noise: f64,
    /// Slow spread of the open frames, as a part of the open level.
    pub spread: f64,
    /// Standard deviation of a level that drifts between the open runs, as a part of the open level.
    pub drift: f64,
    /// Spread of all open frames, or the range of the runs, where that is more: what the eye sees.
    pub unsteady: f64,
    /// How many frames gave the open level.
    pub frames: usize,
    runs: Vec<Run>,
}

impl Levels {
    /// Open level over black for a shot at this frame: the same for all, or between the runs' own levels where they drift.
    pub fn open_at(&self, frame: f64) -> f64 {
        if self.drift == 0.0 {
            return self.open;
        }
        let after = self.runs.partition_point(|run| run.middle < frame);
        match (after.checked_sub(1).and_then(|before| self.runs.get(before)), self.runs.get(after)) {
            (Some(a), Some(b)) => a.level + (b.level - a.level) * (frame - a.middle) / (b.middle - a.middle),
            (Some(only), None) | (None, Some(only)) => only.level,
            (None, None) => self.open,
        }
    }

    /// Light over black above which a frame is lit.
    pub fn threshold(&self) -> f64 {
        (6.0 * self.dark_noise).max(0.012 * self.open)
    }

    /// The doubt of the open level, as a part of it: its slow spread, its drift, and its noise averaged.
    pub fn open_doubt(&self) -> f64 {
        let noise = self.open_noise * self.open_noise / self.frames.max(1) as f64;
        (self.spread * self.spread + self.drift * self.drift + noise).sqrt()
    }
}

/// Finds the levels of a strip; `None` where no frame is open. `numbers` are the frames' places on the grid.
pub(super) fn find(values: &[f64], numbers: &[u64]) -> Option<Levels> {
    let (black, dark_noise, top) = dark(values)?;
    let limit = black + OPEN_SHARE * (top - black);
    let runs = runs_above(values, numbers, limit);
    let mut inner: Vec<f64> = runs
        .iter()
        .filter(|run| run.len() >= OPEN_RUN)
        .flat_map(|run| values[run.start + 1..run.end - 1].iter().copied())
        .collect();
    let open = median(&mut inner)? - black;
    if !(open >= LEAST_OPEN && open > 20.0 * dark_noise) {
        return None;
    }
    let (mut squares, mut count, mut steps, mut pairs) = (0.0, 0_usize, 0.0, 0_usize);
    let mut levels = Vec::new();
    for run in runs.iter().filter(|run| run.len() >= 3) {
        let frames = &values[run.start + 1..run.end - 1];
        let level = frames.iter().sum::<f64>() / frames.len() as f64;
        levels.push(Run { middle: (run.start + run.end - 1) as f64 / 2.0, level: level - black, frames: frames.len() });
        if run.len() >= OPEN_RUN {
            squares += frames.iter().map(|value| (value - level) * (value - level)).sum::<f64>();
            count += frames.len();
            steps += frames.windows(2).map(|pair| (pair[1] - pair[0]) * (pair[1] - pair[0])).sum::<f64>();
            pairs += frames.len() - 1;
        }
    }
    let within = squares / count.max(1) as f64 / (open * open);
    let noise = steps / pairs.max(1) as f64 / 2.0 / (open * open);
    // What is beyond the noise, and beyond what the scatter of so few frames would show by chance.
    let chance = 3.0 / (count.max(1) as f64).sqrt();
    let spread = (within - noise * (1.0 + chance)).max(0.0).sqrt();
    let highest = levels.iter().map(|run| run.level).fold(f64::NEG_INFINITY, f64::max);
    let lowest = levels.iter().map(|run| run.level).fold(f64::INFINITY, f64::min);
    // A field that sinks out of the open band, as automatic exposure does, leaves a plateau below it.
    let sunken = plateau_below(values, numbers, black + 0.25 * (top - black), limit)
        .map_or(0.0, |level| (open + black - level) / open);
    let range = ((highest - lowest) / open).max(0.0);
    let drifts = range > 0.005 + 4.0 * noise.sqrt() && levels.len() > 1;
    // A rectangle as wide as what was seen.
    let drift = if drifts { range / 12.0_f64.sqrt() } else { 0.0 };
    let runs: Vec<Run> = levels.into_iter().filter(|run| run.frames >= OWN_LEVEL).collect();
    Some(Levels {
        black,
        dark_noise,
        open,
        open_noise: noise.sqrt(),
        spread: spread.max(sunken / 2.0),
        drift,
        unsteady: within.sqrt().max(if drifts { range } else { 0.0 }).max(sunken),
        frames: inner.len(),
        runs,
    })
}

/// Black, its noise, and the brightest frame.
fn dark(values: &[f64]) -> Option<(f64, f64, f64)> {
    // The 2nd percentile; of a long clip the 24th darkest frame, so that a long open shutter is not taken for the dark.
    let low = lowest_but(values, (values.len() / 50).min(24))?;
    let top = greatest(values);
    let near = 0.03 * (top - low);
    let mut dark: Vec<f64> = values.iter().copied().filter(|value| (value - low).abs() <= near).collect();
    let black = median(&mut dark)?;
    let mut off: Vec<f64> = dark.iter().map(|value| (value - black).abs()).collect();
    // 1.4826 times the median deviation is the standard deviation of a normal distribution, and outliers do not move it.
    Some((black, 1.4826 * median(&mut off)?, top))
}

/// Median, in linear time; the order of the slice is lost.
pub(super) fn median(values: &mut [f64]) -> Option<f64> {
    if values.is_empty() {
        return None;
    }
    let even = values.len().is_multiple_of(2);
    let (below, upper, _) = values.select_nth_unstable_by(values.len() / 2, f64::total_cmp);
    Some(if even { f64::midpoint(greatest(below), *upper) } else { *upper })
}

/// The lowest but `rank` others; `None` where there are no more. For few: hardly any value is among them, and the others cost a
/// comparison each.
fn lowest_but(values: &[f64], rank: usize) -> Option<f64> {
    let mut lowest: Vec<f64> = values.get(..=rank)?.to_vec();
    lowest.sort_unstable_by(f64::total_cmp);
    for &value in &values[rank + 1..] {
        if value < lowest[rank] {
            let place = lowest.partition_point(|other| *other <= value);
            lowest.copy_within(place..rank, place + 1);
            lowest[place] = value;
        }
    }
    Some(lowest[rank])
}

/// Unbroken runs of frames above a limit: a missing frame ends a run.
fn runs_above(values: &[f64], numbers: &[u64], limit: f64) -> Vec<core::ops::Range<usize>> {
    let mut runs: Vec<core::ops::Range<usize>> = Vec::new();
    let mut last: Option<u64> = None;
    for (index, (value, number)) in values.iter().zip(numbers).enumerate() {
        if *value <= limit {
            last = None;
            continue;
        }
        match runs.last_mut() {
            Some(run) if last.is_some_and(|last| number - last == 1) => run.end = index + 1,
            _ => runs.push(index..index + 1),
        }
        last = Some(*number);
    }
    runs
}

/// The lowest level that four frames in a row hold to a tenth, between two limits.
fn plateau_below(values: &[f64], numbers: &[u64], low: f64, high: f64) -> Option<f64> {
    let between = |value: f64| value > low && value < high;
    let flat = values.windows(OPEN_RUN).zip(numbers.windows(OPEN_RUN)).filter_map(|(frames, numbers)| {
        // Nearly every frame is dark or open, which the first tells.
        if !frames.first().copied().is_some_and(between) {
            return None;
        }
        let least = frames.iter().copied().fold(f64::INFINITY, f64::min);
        let most = frames.iter().copied().fold(f64::NEG_INFINITY, f64::max);
        let unbroken = numbers[OPEN_RUN - 1] - numbers[0] == OPEN_RUN as u64 - 1;
        (unbroken && least > low && most < high && most - least < 0.1 * most).then_some((least + most) / 2.0)
    });
    flat.reduce(f64::min)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn clip(open: impl Fn(usize) -> f64) -> (Vec<f64>, Vec<u64>) {
        // Dark with a little noise; open in frames 50..90 and 300..340; 200..202 a fast shot.
        let lit = |k: usize| (50..90).contains(&k) || (300..340).contains(&k) || (200..202).contains(&k);
        let wave = |k: usize| (k * 7919 % 13) as f64 / 13.0 - 0.5;
        let values = (0..400).map(|k| 0.004 + 0.0004 * wave(k) + if lit(k) { open(k) } else { 0.0 }).collect();
        (values, (0..400).collect())
    }

    #[test]
    fn levels_of_a_steady_clip() {
        let (values, numbers) = clip(|_| 0.7);
        let levels = find(&values, &numbers).expect("levels");
        assert!((levels.black - 0.004).abs() < 1e-4 && (levels.open - 0.7).abs() < 1e-3);
        assert!(levels.dark_noise < 3e-4 && levels.unsteady < 0.001 && levels.drift == 0.0);
        assert_eq!(levels.frames, 76);
        assert_eq!(levels.open_at(123.0), levels.open);
    }

    #[test]
    fn a_drift_between_runs_is_followed() {
        let (values, numbers) = clip(|k| if k < 150 { 0.7 } else { 0.74 });
        let levels = find(&values, &numbers).expect("levels");
        assert!(levels.unsteady > 0.03 && levels.drift > 0.01);
        assert!((levels.open_at(0.0) - 0.7).abs() < 1e-3 && (levels.open_at(399.0) - 0.74).abs() < 1e-3);
        assert!((levels.open_at(194.5) - 0.72).abs() < 1e-3);
    }

    #[test]
    fn a_field_that_sinks_is_unsteady() {
        let (values, numbers) = clip(|k| if (310..340).contains(&k) { 0.4 } else { 0.7 });
        let levels = find(&values, &numbers).expect("levels");
        assert!(levels.unsteady > 0.4 && levels.spread > 0.2);
    }

    #[test]
    fn nothing_open_is_no_level() {
        let (values, numbers) = clip(|k| if k == 200 { 0.7 } else { 0.0 });
        assert!(find(&values, &numbers).is_none());
        let (values, numbers) = clip(|_| 0.01);
        assert!(find(&values, &numbers).is_none(), "no lamp");
        assert!(find(&[0.5; 30], &(0..30).collect::<Vec<u64>>()).is_none(), "always open");
    }

    #[test]
    fn the_lowest_but_some() {
        let values: Vec<f64> = (0..200).map(|k| f64::from(k * 7919 % 199)).collect();
        let mut sorted = values.clone();
        sorted.sort_unstable_by(f64::total_cmp);
        for rank in [0, 1, 2, 24, 199] {
            assert_eq!(lowest_but(&values, rank), Some(sorted[rank]), "{rank}");
        }
        assert_eq!(lowest_but(&values, 200), None);
        assert_eq!(lowest_but(&[], 0), None);
    }

    #[test]
    fn medians() {
        assert_eq!(median(&mut [3.0, 1.0, 2.0]), Some(2.0));
        assert_eq!(median(&mut [4.0, 1.0, 2.0, 3.0]), Some(2.5));
        assert_eq!(median(&mut [7.0]), Some(7.0));
        assert_eq!(median(&mut []), None);
    }
}
