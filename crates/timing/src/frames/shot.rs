//! Where the shots lie in a clip, and what each strip saw of one: the lit frames, their sum, the frames missing among them,
//! and light that came in again.
//!
//! Not here: levels (`levels`), from the sum to a time (`duty`) and its doubt (`doubt`).

use core::ops::Range;

use super::duty::Lit;
use super::levels::Levels;

/// Frames beyond the lit ones that still belong to the sum: light below the threshold.
const MARGIN: usize = 2;
/// Dark for no longer than this \[s\] is the same release: the strips are not uncovered at once.
const SAME_RELEASE_S: f64 = 0.012;
/// Dark for no more frames than this is the same release.
const SAME_RELEASE_FRAMES: u64 = 3;
/// A frame above this part of the open level is as good as open.
const OPEN: f64 = 0.97;

/// A strip with its levels; `light` is linear light with the tone exponent applied.
pub(super) struct Lane<'a> {
    pub position: &'static str,
    pub light: &'a [f64],
    pub levels: Levels,
}

/// What a strip saw of one release.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pulse {
    /// The frames, the open level being 1.
    pub lit: Lit,
    /// Noise of the sum \[intervals\].
    pub noise: f64,
    /// Frames missing where it opened or closed.
    pub drops: u64,
    /// Index of the first and of the last lit frame.
    pub first: usize,
    /// See `first`.
    pub last: usize,
    /// Light that came in again: where it begins, its height over the open level, its sum \[intervals\].
    pub again: Option<(usize, f64, f64)>,
}

/// Index ranges of the lit frames of each release, over all strips.
pub(super) fn releases(lanes: &[Lane<'_>], numbers: &[u64], interval_s: f64) -> Vec<Range<usize>> {
    let dark = SAME_RELEASE_FRAMES.max((SAME_RELEASE_S / interval_s) as u64);
    let mut found: Vec<Range<usize>> = Vec::new();
    let mut last = 0_u64;
    let levels: Vec<(&[f64], f64, f64)> =
        lanes.iter().map(|lane| (lane.light, lane.levels.black, lane.levels.threshold())).collect();
    let lit = |index: usize| {
        levels.iter().any(|&(light, black, over)| light.get(index).is_some_and(|light| light - black > over))
    };
    for (index, number) in numbers.iter().enumerate() {
        // Nearly all of them are dark, so the threshold of each strip is worked out once.
        if !lit(index) {
            continue;
        }
        match found.last_mut() {
            Some(release) if number - last - 1 <= dark => release.end = index + 1,
            _ => found.push(index..index + 1),
        }
        last = *number;
    }
    found
}

impl Lane<'_> {
    fn over_black(&self, index: usize) -> f64 {
        self.light.get(index).map_or(0.0, |light| light - self.levels.black)
    }

    fn lit(&self, index: usize) -> bool {
        self.over_black(index) > self.levels.threshold()
    }

    /// What this strip saw of a release; `None` where it saw nothing.
    pub fn pulse(&self, release: &Range<usize>, numbers: &[u64]) -> Option<Pulse> {
        let runs = self.runs(release);
        let brightest = runs.iter().cloned().max_by(|a, b| self.total(a).total_cmp(&self.total(b)))?;
        let open = self.levels.open_at((brightest.start + brightest.end - 1) as f64 / 2.0);
        if open.is_nan() || open <= 0.0 {
            return None;
        }
        let before = runs.iter().rfind(|run| run.end <= brightest.start).map_or(0, |run| run.end);
        let after = runs.iter().find(|run| run.start >= brightest.end).map_or(self.light.len(), |run| run.start);
        let from = brightest.start.saturating_sub(MARGIN).max(before);
        let to = (brightest.end + MARGIN).min(after);
        let share = |index: usize| self.over_black(index) / open;
        let (mut sum, mut noise, mut drops) = (0.0, 0.0, 0_u64);
        for index in from..to {
            let here = share(index);
            sum += here;
            let (dark, lit) = (self.levels.dark_noise / open, here.max(0.0) * self.levels.open_noise);
            noise += dark * dark + lit * lit;
            let gap = match (numbers.get(index), numbers.get(index + 1)) {
                (Some(a), Some(b)) if index + 1 < to => b - a - 1,
                _ => 0,
            };
            if gap > 0 {
                // Between two open frames, or two dark ones, a missing frame was like its neighbours.
                let next = share(index + 1);
                sum += gap as f64 * f64::midpoint(here, next);
                let alike = here.min(next) >= OPEN || !(self.lit(index) || self.lit(index + 1));
                drops += if alike { 0 } else { gap };
            }
        }
        let (first, last) = (brightest.start, brightest.end - 1);
        let again = runs.iter().find(|run| run.start > last + 1).map(|run| {
            let height = run.clone().map(share).fold(0.0, f64::max);
            (run.start, height, run.clone().map(share).sum())
        });
        let frames = match (numbers.get(first), numbers.get(last)) {
            (Some(a), Some(b)) => b - a + 1,
            _ => return None,
        };
        Some(Pulse {
            lit: Lit {
                sum: sum.max(0.0),
                frames,
                first: share(first),
                last: share(last),
                noise: self.levels.open_noise,
            },
            noise: noise.sqrt(),
            drops,
            first,
            last,
            again,
        })
    }

    /// Runs of lit frames in a release.
    fn runs(&self, release: &Range<usize>) -> Vec<Range<usize>> {
        let mut runs: Vec<Range<usize>> = Vec::new();
        for index in release.clone().filter(|index| self.lit(*index)) {
            match runs.last_mut() {
                Some(run) if run.end == index => run.end = index + 1,
                _ => runs.push(index..index + 1),
            }
        }
        runs
    }

    fn total(&self, run: &Range<usize>) -> f64 {
        run.clone().map(|index| self.over_black(index)).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::frames::levels;

    /// A clip of 200 frames: an open run, then the frames that are handed in from 120.
    fn clip(frames: &[f64]) -> Vec<f64> {
        let mut values = vec![0.0; 200];
        values[40..60].fill(0.8);
        for (value, frame) in values[120..].iter_mut().zip(frames) {
            *value = 0.8 * frame;
        }
        values
    }

    fn second(values: &[f64], numbers: &[u64]) -> Pulse {
        let lane = Lane { position: "middle", light: values, levels: levels::find(values, numbers).expect("levels") };
        let found = releases(core::slice::from_ref(&lane), numbers, 1.0 / 240.0);
        assert_eq!(found.len(), 2, "{found:?}");
        lane.pulse(&found[1], numbers).expect("a pulse")
    }

    #[test]
    fn frames_are_summed_with_what_lies_below_the_threshold() {
        let numbers: Vec<u64> = (0..200).collect();
        let pulse = second(&clip(&[0.01, 0.5, 1.0, 1.0, 0.25, 0.005]), &numbers);
        assert!((pulse.lit.sum - 2.765).abs() < 1e-9);
        assert_eq!((pulse.lit.frames, pulse.first, pulse.last, pulse.drops), (4, 121, 124, 0));
        assert!(pulse.again.is_none());
    }

    #[test]
    fn a_missing_frame_counts_only_at_an_edge() {
        let values = clip(&[0.5, 1.0, 1.0, 0.25]);
        let missing_after = |index: u64| (0..200).map(|k| if k > index { k + 1 } else { k }).collect::<Vec<u64>>();
        let inside = second(&values, &missing_after(121));
        assert!(inside.drops == 0 && (inside.lit.sum - 3.75).abs() < 1e-9 && inside.lit.frames == 5);
        let edge = second(&values, &missing_after(120));
        assert!(edge.drops == 1 && (edge.lit.sum - 3.5).abs() < 1e-9);
        let outside = second(&values, &missing_after(118));
        assert_eq!(outside.drops, 0);
    }

    #[test]
    fn light_that_comes_again_is_told_apart() {
        let numbers: Vec<u64> = (0..200).collect();
        let pulse = second(&clip(&[0.5, 1.0, 0.5, 0.0, 0.15, 0.05]), &numbers);
        assert!((pulse.lit.sum - 2.0).abs() < 1e-9);
        let (at, height, extra) = pulse.again.expect("a bounce");
        assert!(at == 124 && (height - 0.15).abs() < 1e-9 && (extra - 0.2).abs() < 1e-9);
    }
}
