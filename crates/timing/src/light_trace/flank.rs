//! One flank of a pulse: the levels beside it, how long it takes, when its middle passes, and its effective moment.
//!
//! *Equation:* with x the light over its own two levels, 0 in the dark and 1 in the open, the effective moment of an opening
//! in a window [a, b] is `b − ∫ₐᵇ x dt`; the time between the effective moments of opening and closing is the area over the
//! open level, which is the effective time of ISO 516. A lag of the sensor moves both alike and drops out.
//! A closing is looked at backwards, as an opening. Not here: which level is the open one ([`super::verdict`]).

/// Levels are taken over at most this long \[s\].
const LEVEL_S: f64 = 3.0e-3;
/// The dark after a closing, where a bounce may be: a median over this long \[s\].
const AFTER_S: f64 = 4.0e-3;
/// Under a lamp that flickers the open level is a line over this long \[s\].
const FLICKER_LEVEL_S: f64 = 1.2e-3;
/// A plateau has at least this length \[s\] and so many samples.
const LEAST_PLATEAU_S: f64 = 1.2e-4;
const LEAST_PLATEAU: f64 = 5.0;

/// A window in the direction in which the light comes on.
pub(super) struct View {
    values: Vec<f64>,
    sums: Vec<f64>,
}

impl View {
    /// A window and its running sums.
    pub fn new(values: Vec<f64>) -> Self {
        let mut sums = Vec::with_capacity(values.len() + 1);
        let mut sum = 0.0;
        sums.push(sum);
        for value in &values {
            sum += value;
            sums.push(sum);
        }
        Self { values, sums }
    }

    /// The same window backwards.
    pub fn reversed(&self) -> Self {
        Self::new(self.values.iter().rev().copied().collect())
    }

    /// How many values there are.
    pub fn len(&self) -> usize {
        self.values.len()
    }

    /// The values from `from` to before `to`, as far as there are any.
    pub fn part(&self, from: f64, to: f64) -> &[f64] {
        let (from, to) = (self.index(from), self.index(to));
        self.values.get(from..to).unwrap_or(&[])
    }

    /// The nearest place in the window.
    pub fn index(&self, at: f64) -> usize {
        (at.max(0.0) as usize).min(self.values.len())
    }

    /// Sum from `from` to before `to`.
    pub fn sum(&self, from: usize, to: usize) -> f64 {
        match (self.sums.get(from), self.sums.get(to)) {
            (Some(a), Some(b)) if to > from => b - a,
            _ => 0.0,
        }
    }

    /// Mean of the values within `half` of `at`.
    pub fn smooth(&self, at: usize, half: usize) -> f64 {
        let (from, to) = (at.saturating_sub(half), (at + half + 1).min(self.values.len()));
        if to > from { self.sum(from, to) / (to - from) as f64 } else { 0.0 }
    }

    /// The highest smoothed value between two places.
    pub fn peak(&self, from: f64, to: f64, half: usize) -> f64 {
        let (from, to) = (self.index(from), self.index(to).max(self.index(from) + 1));
        (from..to.min(self.len().max(1))).map(|i| self.smooth(i, half)).fold(f64::NEG_INFINITY, f64::max)
    }
}

/// What holds for all flanks of a recording.
#[derive(Clone, Copy)]
pub(super) struct Conditions {
    /// Sampling rate \[Hz\].
    pub rate_hz: f64,
    /// Noise of one sample.
    pub noise: f64,
    /// The lamp flickers by more than a fiftieth.
    pub flickers: bool,
}

/// Where to look.
#[derive(Clone, Copy)]
pub(super) struct Search {
    /// About where the flank is.
    pub guess: f64,
    /// How far from the guess the flank may reach, in samples.
    pub reach: f64,
    /// The plateau ends here at the latest.
    pub limit: f64,
    /// The dark before this flank is, in truth, the dark after a closing.
    pub after_closing: bool,
}

/// A flank, in samples of its window.
#[derive(Clone, Copy, Debug)]
pub(super) struct Flank {
    /// Effective moment by the levels beside the flank.
    pub moment: f64,
    /// Where the middle between the levels is passed.
    pub half: f64,
    /// The flank begins and ends here; the area is taken between.
    pub foot: f64,
    /// See `foot`.
    pub top: f64,
    /// How long a straight flank of this steepness takes from dark to open.
    pub length: f64,
    /// Level in the dark.
    pub dark: f64,
    /// Level in the open; the peak where there is no plateau.
    pub open: f64,
    /// Samples in the open level; 0 where there is no plateau.
    pub plateau: f64,
    /// Samples in the level of the dark.
    pub darkness: f64,
    /// Variance of the moment from noise, in samples².
    pub variance: f64,
    /// How much longer it takes from the middle up than from the bottom to the middle: a lag of the sensor does that at an
    /// opening, and the contrary at a closing.
    pub lopsided: f64,
    /// Samples² by which the moment moves when the levels lean by one of their steps per sample.
    pub lean: f64,
}

impl Flank {
    /// Step from dark to open.
    pub fn step(&self) -> f64 {
        self.open - self.dark
    }
}

/// Both flanks of a pulse in one window; the second one is in the window read backwards.
pub(super) fn both(
    view: &View,
    back: &View,
    opening: Search,
    closing: Search,
    how: Conditions,
) -> Option<(Flank, Flank)> {
    let turned = |at: f64| view.len() as f64 - 1.0 - at;
    let (mut first, mut last) = (opening, closing);
    let mut found = None;
    for _ in 0..3 {
        let a = flank(view, first, how)?;
        let b = flank(back, last, how)?;
        first = Search { guess: a.half, reach: a.length.max(2.0), limit: turned(b.top), ..first };
        last = Search { guess: b.half, reach: b.length.max(2.0), limit: turned(a.top), ..last };
        if turned(b.half) <= a.half {
            return None;
        }
        found = Some((a, b));
    }
    found
}

/// One flank.
pub(super) fn flank(view: &View, search: Search, how: Conditions) -> Option<Flank> {
    let wide = (search.limit - search.guess).max(1.0);
    let level = LEVEL_S * how.rate_hz;
    let before = search.guess - search.reach;
    let mut dark = mean(view.part(before - level, before)).or_else(|| mean(view.part(0.0, search.guess / 2.0)))?;
    let peak_half = ((wide / 10.0) as usize).min((level / 6.0) as usize);
    let peak = view.peak(search.guess, search.limit.min(search.guess + search.reach), peak_half);
    let mut open = peak;
    let mut found: Option<Flank> = None;
    for _ in 0..3 {
        let step = open - dark;
        if step <= 2.0 * how.noise / (wide / 5.0).max(1.0).sqrt() {
            return None;
        }
        let length = found.map_or(0.0, |flank: Flank| flank.length);
        let for_noise = (how.noise / (0.06 * step)) * (how.noise / (0.06 * step));
        let half = (for_noise.max(0.3 * length).min(wide / 3.0) / 2.0) as usize;
        let walk = walk(view, search.guess, search.reach + 3.0 * half as f64 + 8.0, dark, step, half)?;
        let length = ((walk.2 - walk.0) / 0.6).max(1.0);
        let (foot, top) = (walk.0 - 0.5 * length - 1.0, walk.2 + 0.5 * length + 1.0);
        let (below, darkness) = darkness(view, foot, search.after_closing, how)?;
        dark = below;
        let line = plateau(view, top, length, search.limit, how);
        open = line.map_or(peak, |line| line.level);
        found = Some(settle(view, Ends { walk, length, foot, top, dark, darkness }, line, peak, how)?);
    }
    found
}

struct Ends {
    walk: (f64, f64, f64),
    length: f64,
    foot: f64,
    top: f64,
    dark: f64,
    darkness: f64,
}

/// A level that may lean, as under a lamp that flickers.
#[derive(Clone, Copy)]
struct Line {
    /// At the top of the flank.
    level: f64,
    slope: f64,
    /// Samples it counts for.
    weight: f64,
    /// Samples it is taken over.
    taken: f64,
    /// Scatter about it.
    noise: f64,
}

fn settle(view: &View, ends: Ends, line: Option<Line>, peak: f64, how: Conditions) -> Option<Flank> {
    let Ends { walk, length, foot, top, dark, darkness } = ends;
    let open = line.map_or(peak, |line| line.level);
    let step = open - dark;
    if step <= 0.0 {
        return None;
    }
    let (a, b) = (view.index(foot), view.index(top.ceil() + 1.0));
    let slope = line.map_or(0.0, |line| line.slope);
    let shaded: f64 = if slope == 0.0 {
        (view.sum(a, b) - dark * (b - a) as f64) / step
    } else {
        let part = view.values.get(a..b)?;
        part.iter().enumerate().map(|(i, x)| (x - dark) / (step + slope * ((a + i) as f64 - top))).sum()
    };
    let moment = b as f64 - 0.5 - shaded;
    let (high, low) = (shaded.max(0.0), ((b - a) as f64 - shaded).max(0.0));
    let noise = how.noise / step;
    let lit = line.map_or(noise, |line| if line.noise > 1.3 * how.noise { line.noise / step } else { noise });
    let weight = line.map_or(0.0, |line| line.weight);
    let variance = noise * noise * (low + low * low / darkness)
        + lit * lit * (high + if weight > 0.0 { high * high / weight } else { 0.0 });
    let reach_dark = (length + darkness) / 2.0;
    let reach_open = (length + line.map_or(0.0, |line| line.taken)) / 2.0;
    let lean = low * reach_dark + high * reach_open;
    Some(Flank {
        moment,
        half: walk.1,
        foot,
        top,
        length,
        dark,
        open,
        plateau: weight,
        darkness,
        variance,
        lopsided: walk.2 - 2.0 * walk.1 + walk.0,
        lean,
    })
}

/// Where 20 %, 50 % and 80 % of the step are passed, starting from the passage of the middle nearest to the guess.
fn walk(view: &View, guess: f64, reach: f64, dark: f64, step: f64, half: usize) -> Option<(f64, f64, f64)> {
    let last = view.len().checked_sub(2)?;
    let start = view.index(guess).min(last);
    let level = |part: f64| dark + part * step;
    let passes = |i: usize, to: f64| view.smooth(i, half) < to && view.smooth(i + 1, half) >= to;
    let middle = (0..=reach as usize).find_map(|away| {
        let right = (start + away).min(last);
        let left = start.checked_sub(away)?;
        [left, right].into_iter().find(|&i| passes(i, level(0.5)))
    });
    let middle =
        middle.or_else(|| (0..=reach as usize).map(|j| (start + j).min(last)).find(|&i| passes(i, level(0.5))))?;
    let between = |i: usize, to: f64| {
        let (a, b) = (view.smooth(i, half), view.smooth(i + 1, half));
        i as f64 + if b > a { ((to - a) / (b - a)).clamp(0.0, 1.0) } else { 0.5 }
    };
    let low = (0..=middle).rev().find(|&i| view.smooth(i, half) < level(0.2))?;
    let high = (middle..=last).find(|&i| view.smooth(i + 1, half) >= level(0.8))?;
    Some((between(low, level(0.2)), between(middle, level(0.5)), between(high, level(0.8))))
}

/// Level in the dark before the foot, and how many samples it counts for.
fn darkness(view: &View, foot: f64, after_closing: bool, how: Conditions) -> Option<(f64, f64)> {
    let level = if after_closing { AFTER_S } else { LEVEL_S } * how.rate_hz;
    let part = view.part(foot - level, foot);
    if part.len() < 4 {
        // The recording begins here.
        let part = view.part(0.0, foot.max(2.0));
        return mean(part).map(|dark| (dark, part.len() as f64));
    }
    let piece = (0.2e-3 * how.rate_hz) as usize;
    if !after_closing || piece < 4 || part.len() < 6 * piece {
        return mean(part).map(|dark| (dark, part.len() as f64));
    }
    let mut pieces: Vec<f64> = part.chunks_exact(piece).filter_map(mean).collect();
    // A median of normally distributed numbers scatters as the mean of 64 % of them.
    Some((super::survey::median(&mut pieces), part.len() as f64 * 0.64))
}

/// The open level after the top, `None` where the pulse has no plateau.
fn plateau(view: &View, top: f64, length: f64, limit: f64, how: Conditions) -> Option<Line> {
    let room = limit - top;
    if room < LEAST_PLATEAU.max(LEAST_PLATEAU_S * how.rate_hz) {
        return None;
    }
    let long = if how.flickers { FLICKER_LEVEL_S } else { LEVEL_S } * how.rate_hz;
    // A sensor that lags comes up slowly at the end: where there is room, its tail is left out.
    let from = if how.flickers { top } else { top + (0.6 * length).min(0.3 * room) };
    let part = view.part(from.ceil(), (from + long).min(limit) + 1.0);
    let level = mean(part)?;
    let n = part.len() as f64;
    let middle = (n - 1.0) / 2.0;
    let (mut up, mut squares, mut around) = (0.0, 0.0, 0.0);
    for (i, x) in part.iter().enumerate() {
        let t = i as f64 - middle;
        up += t * (x - level);
        squares += t * t;
        around += (x - level) * (x - level);
    }
    let slope = if squares > 0.0 { up / squares } else { 0.0 };
    let noise = if n >= 24.0 { ((around - slope * up) / (n - 2.0)).max(0.0).sqrt() } else { 0.0 };
    // A line is worth its doubt at the flank only where the lamp leans by more than the line scatters.
    if how.flickers && n >= 12.0 {
        return Some(Line { level: level - slope * middle, slope, weight: n / 5.0, taken: n / 3.0, noise });
    }
    Some(Line { level, slope: 0.0, weight: n, taken: n, noise })
}

fn mean(part: &[f64]) -> Option<f64> {
    (!part.is_empty()).then(|| part.iter().sum::<f64>() / part.len() as f64)
}

#[cfg(test)]
mod tests {
    use super::*;

    const HOW: Conditions = Conditions { rate_hz: 48_000.0, noise: 1e-6, flickers: false };

    fn pulse(rise: f64, width: f64, power: f64) -> View {
        // Area of each sample's interval, from the curve's own integral: exact at any place between samples.
        let flank = |t: f64| -> f64 {
            let s = t.clamp(0.0, rise);
            s * libm::pow(s / rise, power) / (power + 1.0) + (t - rise).max(0.0)
        };
        let (open, close) = (500.3, 500.3 + rise + width);
        let light = (0..1500)
            .map(|i| {
                let (a, b) = (i as f64 - 0.5, i as f64 + 0.5);
                let rising = flank(b - open) - flank(a - open);
                let falling = flank(close + rise - a) - flank(close + rise - b);
                0.1 + 0.5 * (rising + falling - 1.0).max(0.0)
            })
            .collect();
        View::new(light)
    }

    fn search(guess: f64, limit: f64, after_closing: bool) -> Search {
        Search { guess, reach: 60.0, limit, after_closing }
    }

    #[test]
    fn trapezoid_and_quadratic_ramps_give_the_effective_time_and_the_half_width() {
        // Opening 2 ms, open 3 ms, closing 2 ms: effective 5 ms with straight ramps; 4.3333 ms and half width 4.1716 ms
        // with quadratic ones.
        for (power, effective_ms, half_ms) in [(1.0, 5.0, 5.0), (2.0, 4.333_333, 4.171_573)] {
            let view = pulse(96.0, 144.0, power);
            let back = view.reversed();
            let turned = |at: f64| 1499.0 - at;
            let (a, b) =
                both(&view, &back, search(550.0, 700.0, false), search(turned(790.0), turned(650.0), true), HOW)
                    .expect("two flanks");
            let time = (turned(b.moment) - a.moment) / 48.0;
            assert!((time - effective_ms).abs() < 2e-3, "{power}: {time} {a:?}");
            assert!(((turned(b.half) - a.half) / 48.0 - half_ms).abs() < 0.02);
            assert!((a.step() - 0.5).abs() < 1e-3 && a.plateau > 0.0);
        }
    }

    #[test]
    fn a_triangle_has_no_plateau() {
        let view = pulse(96.0, 0.0, 1.0);
        let back = view.reversed();
        let turned = |at: f64| 1499.0 - at;
        let (a, b) = both(&view, &back, search(545.0, 640.0, false), search(turned(650.0), turned(550.0), true), HOW)
            .expect("two flanks");
        assert!(a.plateau == 0.0 && b.plateau == 0.0);
    }
}
