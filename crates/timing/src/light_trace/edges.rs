//! Edges: where light comes on and goes off, to a tenth of a millisecond, and which of them belong together as pulses.
//!
//! The droop of a coupled input is undone roughly first, so that only light makes edges. Not here: the exact moment
//! ([`super::flank`]), the coupling as it is finally used ([`super::coupling`]).

use super::survey::{Blocks, Survey, quantile};

/// Widths of the boxes whose difference is an edge, in blocks: 0.1, 0.2, 0.4 and 1.6 ms.
const SCALES: [usize; 4] = [1, 2, 4, 16];
/// How many standard deviations of the noise an edge stands out.
const THRESHOLD: f64 = 7.0;
/// Steps smaller than this part of the largest are no edges of the shutter …
const STRONG: f64 = 0.3;
/// … unless they are alone: a slit much narrower than the sensor.
const WEAK: f64 = 0.05;
/// A change as slow as this part of the steepest is the lamp's, unless it is …
const SLOW: f64 = 0.35;
/// … as large as this part of the largest: leaves may close much more slowly than they open.
const WHOLE: f64 = 0.75;
/// How far from any strong edge a weak one is alone \[s\].
const ALONE_S: f64 = 0.08;
/// A weak pulse is a fast one \[s\].
const WEAK_LONGEST_S: f64 = 0.02;
/// Edges of one sign nearer than this are one \[s\].
const MERGED_S: f64 = 4.0e-3;
/// Light that comes again this soon after it went \[s\] belongs to the same release.
pub(super) const SAME_RELEASE_S: f64 = 0.012;
/// No more edges than this are looked at: so many are no shutter.
const MOST_EDGES: usize = 20_000;

/// One edge, in the block counting of its stretch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Edge {
    /// Which stretch.
    pub stretch: usize,
    /// First and last block of the change.
    pub from: usize,
    /// See `from`.
    pub to: usize,
    /// Where it is steepest, in samples of the recording.
    pub at: f64,
    /// Change of the restored signal.
    pub step: f64,
    /// Largest change within about half a millisecond.
    pub steep: f64,
}

/// Light on, then off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pulse {
    /// Light comes on.
    pub opening: Edge,
    /// Light goes off.
    pub closing: Edge,
}

/// What the edges say as a whole.
#[derive(Default)]
pub(super) struct Edges {
    /// Pulses in the order of time.
    pub pulses: Vec<Pulse>,
    /// +1 where light makes the signal rise, −1 where it makes it fall.
    pub sign: f64,
    /// Light that came on and was not seen to go.
    pub unclosed: Vec<Edge>,
    /// Steps in sample numbers at which the lamp itself goes on and off: three or more, evenly spaced.
    pub pulsed: bool,
    /// How many edges there were before any was left out.
    pub found: usize,
}

/// The rate of the coupling \[1/s\] that makes the signal's restored course as short as it can be.
///
/// With bins `b` and their spacing Δ, `|b₂ − b₁ + ρ·Δ·(b₁ + b₂)/2|` summed over all bins is least at a weighted median, so
/// no search is needed. Edges are outliers in it.
pub(super) fn rough_rate(survey: &Survey) -> f64 {
    const WIDE: usize = 4;
    const FASTEST: f64 = 1.0 / 1.2e-3;
    const SMALL: f64 = 0.05;
    let spacing = (WIDE * survey.size) as f64 / survey.rate_hz;
    let least = 6.0 * survey.noise / ((WIDE * survey.size) as f64).sqrt();
    let mut pairs: Vec<(f64, f64)> = Vec::new();
    for blocks in &survey.stretches {
        let bins = blocks.len() / WIDE;
        let mut before = blocks.mean(0, WIDE) - survey.centre;
        for bin in 1..bins {
            let here = blocks.mean(bin * WIDE, (bin + 1) * WIDE) - survey.centre;
            let middle = (before + here) / 2.0;
            if middle.abs() > least {
                pairs.push(((before - here) / (spacing * middle), middle.abs()));
            }
            before = here;
        }
    }
    // What is small beside the pulses may be hum.
    let largest = pairs.iter().map(|pair| pair.1).fold(0.0, f64::max);
    pairs.retain(|pair| pair.1 > SMALL * largest);
    let total: f64 = pairs.iter().map(|pair| pair.1).sum();
    pairs.sort_unstable_by(|a, b| a.0.total_cmp(&b.0));
    let mut sum = 0.0;
    for (ratio, weight) in pairs {
        sum += weight;
        if sum >= total / 2.0 {
            return ratio.clamp(0.0, FASTEST);
        }
    }
    0.0
}

/// Finds the edges and puts them together.
pub(super) fn edges(survey: &Survey, rate: f64) -> Edges {
    let restored: Vec<Vec<f64>> = survey.stretches.iter().map(|blocks| restored_sums(blocks, survey, rate)).collect();
    let mut all: Vec<Edge> = Vec::new();
    let mut covered: Vec<Vec<(usize, usize)>> = vec![Vec::new(); restored.len()];
    for scale in SCALES {
        let threshold = threshold(&restored, scale, survey);
        for (stretch, sums) in restored.iter().enumerate() {
            let mut fresh = Vec::new();
            runs(sums, scale, threshold, |from, to, peak| {
                if all.len() + fresh.len() < MOST_EDGES
                    && covered.get(stretch).is_some_and(|spans| silent(spans, from.saturating_sub(scale), to + scale))
                {
                    let at = survey.stretches.get(stretch).map_or(0, |blocks| blocks.start) as f64
                        + (peak as f64 + 0.5) * survey.size as f64
                        - 0.5;
                    fresh.push(Edge {
                        stretch,
                        from,
                        to,
                        at,
                        step: step(sums, from, peak, to),
                        steep: steep(sums, from, to),
                    });
                }
            });
            if let Some(spans) = covered.get_mut(stretch) {
                spans.extend(fresh.iter().map(|edge| (edge.from, edge.to)));
                spans.sort_unstable();
            }
            all.extend(fresh);
        }
    }
    all.sort_unstable_by(|a, b| a.at.total_cmp(&b.at));
    let found = all.len();
    let kept = keep(drop_spikes(merge(all, survey)), survey);
    let mut edges = pair(&kept, survey);
    edges.found = found;
    edges
}

/// Running sums of the restored block means.
fn restored_sums(blocks: &Blocks, survey: &Survey, rate: f64) -> Vec<f64> {
    let per_block = rate * survey.size as f64 / survey.rate_hz;
    let mut sums = Vec::with_capacity(blocks.sums.len());
    let (mut sum, mut integral) = (0.0, 0.0);
    sums.push(0.0);
    for pair in blocks.sums.windows(2) {
        if let [before, after] = pair {
            let level = after - before - survey.centre;
            sum += level + per_block * (integral + level / 2.0);
            integral += level;
            sums.push(sum);
        }
    }
    sums
}

/// Mean after block k minus mean before it.
fn difference(sums: &[f64], k: usize, scale: usize) -> f64 {
    match (sums.get(k.wrapping_sub(scale)), sums.get(k), sums.get(k + 1), sums.get(k + 1 + scale)) {
        (Some(a), Some(b), Some(c), Some(d)) => ((d - c) - (b - a)) / scale as f64,
        _ => 0.0,
    }
}

fn threshold(restored: &[Vec<f64>], scale: usize, survey: &Survey) -> f64 {
    const EVERY: usize = 16;
    let white = survey.noise * (2.0 / (scale * survey.size) as f64).sqrt();
    let mut seen: Vec<f64> = Vec::new();
    for sums in restored {
        let last = sums.len().saturating_sub(scale + 1);
        seen.extend((scale..last).step_by(EVERY).map(|k| difference(sums, k, scale).abs()));
    }
    // A quarter of normally distributed numbers lie within 0.3186 standard deviations.
    THRESHOLD * white.max(quantile(&mut seen, 0.25) / 0.3186)
}

/// Calls back with first block, last block and steepest block of every run above the threshold.
fn runs(sums: &[f64], scale: usize, threshold: f64, mut found: impl FnMut(usize, usize, usize)) {
    const LANES: usize = 16;
    let count = sums.len().saturating_sub(2 * scale + 1);
    let part = |from: usize| sums.get(from..from + count).unwrap_or(&[]);
    // Mean after block k minus mean before it, for k = scale, scale + 1, …
    let (a, b, c, d) = (part(0), part(scale), part(scale + 1), part(2 * scale + 1));
    let least = threshold * scale as f64;
    let mut open: Option<(usize, usize, f64)> = None;
    let mut k = scale;
    let lanes = a.chunks(LANES).zip(b.chunks(LANES)).zip(c.chunks(LANES).zip(d.chunks(LANES)));
    for ((a, b), (c, d)) in lanes {
        let mut differences = [0.0_f64; LANES];
        let mut largest = 0.0_f64;
        for (difference, ((a, b), (c, d))) in differences.iter_mut().zip(a.iter().zip(b).zip(c.iter().zip(d))) {
            *difference = (d - c) - (b - a);
            largest = if difference.abs() > largest { difference.abs() } else { largest };
        }
        if largest <= least && open.is_none() {
            k += a.len();
            continue;
        }
        for difference in differences.iter().take(a.len()) {
            open = match open {
                Some((from, peak, height)) if difference.abs() > least && difference * height > 0.0 => {
                    Some(if difference.abs() > height.abs() { (from, k, *difference) } else { (from, peak, height) })
                }
                was => {
                    if let Some((from, peak, _)) = was {
                        found(from, k - 1, peak);
                    }
                    (difference.abs() > least).then_some((k, k, *difference))
                }
            };
            k += 1;
        }
    }
    if let Some((from, peak, _)) = open {
        found(from, k - 1, peak);
    }
}

fn silent(spans: &[(usize, usize)], from: usize, to: usize) -> bool {
    let after = spans.partition_point(|span| span.0 <= to);
    // Spans of one scale do not overlap and the finer ones are short: the last few before `to` decide.
    spans.get(after.saturating_sub(4)..after).is_none_or(|near| near.iter().all(|span| span.1 < from))
}

/// From the farthest block before the steepest place to the farthest after it, within 0.2 ms of the run: at the fastest times
/// there is no more than a block or two between one edge and the next.
fn step(sums: &[f64], from: usize, peak: usize, to: usize) -> f64 {
    const BESIDE: usize = 2;
    let sign = difference(sums, peak, 1).signum();
    let level = |k: usize| match (sums.get(k), sums.get(k + 1)) {
        (Some(first), Some(last)) => Some(sign * (last - first)),
        _ => None,
    };
    let before = (from.saturating_sub(BESIDE)..=peak).filter_map(level).fold(f64::INFINITY, f64::min);
    let after = (peak..=to + 1 + BESIDE).filter_map(level).fold(f64::NEG_INFINITY, f64::max);
    if before.is_finite() && after.is_finite() { sign * (after - before).max(0.0) } else { 0.0 }
}

/// The largest change within a run over boxes of three blocks.
fn steep(sums: &[f64], from: usize, to: usize) -> f64 {
    const WIDE: usize = 3;
    (from..=to).map(|k| difference(sums, k, WIDE).abs()).fold(0.0, f64::max)
}

fn merge(all: Vec<Edge>, survey: &Survey) -> Vec<Edge> {
    let near = MERGED_S * survey.rate_hz;
    let mut merged: Vec<Edge> = Vec::with_capacity(all.len());
    for edge in all {
        match merged.last_mut() {
            Some(last)
                if last.stretch == edge.stretch
                    && last.step * edge.step > 0.0
                    && edge.at - last.at < near
                    && last.steep.min(edge.steep) > SLOW * last.steep.max(edge.steep) =>
            {
                if edge.step.abs() > last.step.abs() {
                    last.at = edge.at;
                }
                last.step += edge.step;
                last.steep = last.steep.max(edge.steep);
                last.from = last.from.min(edge.from);
                last.to = last.to.max(edge.to);
            }
            _ => merged.push(edge),
        }
    }
    merged
}

/// A crackle of a plug goes up and comes back within one block: no shutter does.
fn drop_spikes(all: Vec<Edge>) -> Vec<Edge> {
    let mut kept: Vec<Edge> = Vec::with_capacity(all.len());
    for edge in all {
        match kept.last() {
            Some(last)
                if last.stretch == edge.stretch
                    && last.step * edge.step < 0.0
                    && edge.to <= last.from.saturating_add(2) =>
            {
                kept.pop();
            }
            _ => kept.push(edge),
        }
    }
    kept
}

fn keep(all: Vec<Edge>, survey: &Survey) -> Vec<Edge> {
    let largest = all.iter().map(|edge| edge.step.abs()).fold(0.0, f64::max);
    let is_strong = |edge: &Edge| edge.step.abs() >= STRONG * largest;
    let steepest = all.iter().filter(|edge| is_strong(edge)).map(|edge| edge.steep).fold(0.0, f64::max);
    let all: Vec<Edge> =
        all.into_iter().filter(|edge| edge.steep >= SLOW * steepest || edge.step.abs() >= WHOLE * largest).collect();
    let strong: Vec<f64> = all.iter().filter(|edge| is_strong(edge)).map(|edge| edge.at).collect();
    let alone = ALONE_S * survey.rate_hz;
    // No strong edge near one place, those of the pulse in question left out.
    let far = |first: f64, last: f64| {
        let before = strong.partition_point(|&x| x < first);
        let after = strong.partition_point(|&x| x <= last);
        before.checked_sub(1).and_then(|i| strong.get(i)).is_none_or(|x| first - x > alone)
            && strong.get(after).is_none_or(|x| x - last > alone)
    };
    let mut kept: Vec<Edge> = Vec::with_capacity(all.len());
    let mut i = 0;
    while let Some(edge) = all.get(i) {
        // A low pulse is kept with both its edges or not at all.
        if let Some(next) = all.get(i + 1)
            && !(is_strong(edge) && is_strong(next))
            && edge.step.abs().min(next.step.abs()) >= WEAK * largest
            && next.step * edge.step < 0.0
            && (0.5..2.0).contains(&(next.step / edge.step).abs())
            && next.at - edge.at < WEAK_LONGEST_S * survey.rate_hz
            && far(edge.at, next.at)
        {
            kept.push(*edge);
            kept.push(*next);
            i += 2;
            continue;
        }
        if is_strong(edge) {
            kept.push(*edge);
        }
        i += 1;
    }
    kept
}

fn pair(kept: &[Edge], survey: &Survey) -> Edges {
    let Some(first) = kept.first() else { return Edges { sign: 1.0, ..Edges::default() } };
    let sign = first.step.signum();
    let mut edges = pair_with(kept, sign);
    if kept.len() % 2 == 1 && kept.len() >= 3 {
        // One edge too many: the recording may begin in the open. The reading with less open time is the right one.
        let other = pair_with(kept, -sign);
        let open = |edges: &Edges| edges.pulses.iter().map(|p| p.closing.at - p.opening.at).sum::<f64>();
        if !other.pulses.is_empty() && open(&other) < 0.5 * open(&edges) {
            edges = other;
        }
    }
    edges.pulsed = evenly_spaced(&edges.pulses, survey);
    edges
}

fn pair_with(kept: &[Edge], sign: f64) -> Edges {
    let mut edges = Edges { sign, ..Edges::default() };
    let mut open: Option<Edge> = None;
    for edge in kept {
        let rising = edge.step * sign > 0.0;
        match open {
            None if rising => open = Some(*edge),
            Some(opening) if !rising => {
                edges.pulses.push(Pulse { opening, closing: *edge });
                open = None;
            }
            Some(opening) if rising && edge.step.abs() > 0.5 * opening.step.abs() => {
                edges.unclosed.push(opening);
                open = Some(*edge);
            }
            _ => {}
        }
    }
    edges.unclosed.extend(open);
    edges
}

/// Three openings in a row, evenly spaced and faster than any hand: the lamp.
fn evenly_spaced(pulses: &[Pulse], survey: &Survey) -> bool {
    const LONGEST_S: f64 = 0.025;
    const SLACK_S: f64 = 0.2e-3;
    pulses.windows(3).any(|three| {
        let [a, b, c] = three else { return false };
        let first = (b.opening.at - a.opening.at) / survey.rate_hz;
        let second = (c.opening.at - b.opening.at) / survey.rate_hz;
        first < LONGEST_S && (first - second).abs() < 0.04 * first + SLACK_S
    })
}

#[cfg(test)]
mod tests {
    use super::super::survey::survey;
    use super::*;
    use crate::waveform::Waveform;

    /// Light through a coupling of one time constant, with a little noise.
    fn coupled(len: usize, tau_s: f64, light: impl Fn(usize) -> f64) -> Survey {
        let keep = 1.0 / (1.0 + 1.0 / (48_000.0 * tau_s));
        let (mut y, mut before, mut state) = (0.0, 0.0, 1_u32);
        let samples = (0..len)
            .map(|i| {
                y = keep * (y + light(i) - before);
                before = light(i);
                state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (y + f64::from(state >> 8) / 16_777_216.0 * 0.002) as f32
            })
            .collect();
        survey(&Waveform::whole(48_000.0, samples).expect("a recording"))
    }

    fn open(i: usize, from: usize, to: usize) -> f64 {
        if (from..to).contains(&i) { -0.4 } else { 0.0 }
    }

    #[test]
    fn the_rate_and_the_pulses_of_an_inverted_signal() {
        let seen = coupled(96_000, 0.02, |i| open(i, 20_000, 24_000) + open(i, 60_000, 60_050));
        let rate = rough_rate(&seen);
        assert!((rate / 50.0 - 1.0).abs() < 0.1, "{rate}");
        let edges = edges(&seen, rate);
        assert_eq!((edges.pulses.len(), edges.sign, edges.pulsed, edges.unclosed.len()), (2, -1.0, false, 0));
        assert!((edges.pulses[0].opening.at - 20_000.0).abs() < 8.0);
        assert!((edges.pulses[1].closing.at - 60_050.0).abs() < 8.0);
    }

    #[test]
    fn a_lamp_that_goes_on_and_off_is_seen_and_a_recording_that_begins_in_the_open_is_read_rightly() {
        let chopped = coupled(48_000, 0.02, |i| if i % 480 < 200 { open(i, 20_000, 24_000) } else { 0.0 });
        assert!(edges(&chopped, rough_rate(&chopped)).pulsed);
        let begun = coupled(96_000, 0.02, |i| open(i, 0, 2_000) + open(i, 40_000, 41_000) + open(i, 70_000, 70_400));
        let edges = edges(&begun, 50.0);
        assert_eq!((edges.pulses.len(), edges.sign), (2, -1.0));
    }

    #[test]
    fn constant_light_has_no_edges() {
        let seen = coupled(48_000, 0.02, |_| 0.0);
        assert!(edges(&seen, rough_rate(&seen)).pulses.is_empty());
    }
}
