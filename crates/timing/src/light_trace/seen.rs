//! One release of the shutter as its trace shows it: both flanks, levels, area, what follows; nothing concluded yet.
//!
//! Not here: which level is the open one, whether there is a time and how sure it is ([`super::verdict`]).

use super::bounce::{self, Closed};
use super::edges::{Edge, Pulse, SAME_RELEASE_S};
use super::flank::{Conditions, Flank, Search, View, both, flank};
use super::restore::Trace;
use super::survey::{Survey, median};
use crate::shot::Bounce;

/// Longer pulses are restored at each edge by itself \[s\].
const LONG_S: f64 = 0.016;
/// So much dark (or open) before an edge is used \[s\]; more where two couplings have to be levelled.
const BEFORE_S: f64 = 8.0e-3;
const BEFORE_TWO_S: f64 = 25.0e-3;
/// And so much after it \[s\].
const AFTER_S: f64 = bounce::LOOKED_S + 3.0e-3;

/// Pulses that belong to one release: the first is the exposure, the others followed it within 12 ms.
pub(super) struct Release {
    /// The pulse that is measured.
    pub pulse: Pulse,
    /// The last closing of the release.
    pub ended: Edge,
    /// Light came again nearly as strong as before: no bounce.
    pub broken: bool,
}

/// What the trace shows of a release.
#[derive(Clone, Debug)]
pub(super) struct Seen {
    /// Effective moments of opening and closing, in samples of the recording.
    pub opening: f64,
    /// See `opening`.
    pub closing: f64,
    /// Half-amplitude width in samples.
    pub half: f64,
    /// The pulse's own open level; its peak where it has no plateau.
    pub level: f64,
    /// Relative standard uncertainty of that level from noise.
    pub level_doubt: f64,
    /// Whether both flanks end in a plateau.
    pub plateau: bool,
    /// Variance of the time between the moments, in samples².
    pub variance: f64,
    /// How lopsided the flanks are in the way of a sensor that lags, in samples.
    pub lag: f64,
    /// Restored light times samples, and its variance; for pulses restored as a whole.
    pub area: Option<(f64, f64)>,
    /// Lengths of the flanks in samples.
    pub flanks: (f64, f64),
    /// Relative difference of the steps at opening and closing.
    pub mismatch: f64,
    /// Scatter of the dark before the opening over the level, beyond what noise makes.
    pub roughness: f64,
    /// Light after the closing.
    pub bounce: Option<Bounce>,
}

/// Puts pulses that follow at once with the one they belong to.
pub(super) fn releases(pulses: &[Pulse], rate_hz: f64) -> Vec<Release> {
    let mut releases: Vec<Release> = Vec::new();
    for pulse in pulses {
        if let Some(last) = releases.last_mut()
            && pulse.opening.at - last.ended.at < SAME_RELEASE_S * rate_hz
        {
            last.broken |= pulse.opening.step.abs() > 0.7 * last.pulse.opening.step.abs();
            last.ended = pulse.closing;
        } else {
            releases.push(Release { pulse: *pulse, ended: pulse.closing, broken: false });
        }
    }
    releases
}

/// How much more the means of 0.4 ms scatter in the dark than white noise would make them; 1 for white noise.
pub(super) fn grain(trace: &Trace, survey: &Survey, releases: &[Release]) -> f64 {
    const MOST: usize = 24;
    let rate_hz = survey.rate_hz;
    let piece = (0.4e-3 * rate_hz) as usize;
    let every = releases.len().div_ceil(MOST).max(1);
    let mut scatter: Vec<f64> = releases
        .iter()
        .step_by(every)
        .filter_map(|release| {
            let edge = release.pulse.opening;
            let end = edge.at - reach(&edge, survey);
            let window = trace.window(edge.stretch, end - 0.012 * rate_hz, end, 0.012)?;
            let means: Vec<f64> = window
                .light
                .chunks_exact(piece.max(2))
                .map(|part| part.iter().sum::<f64>() / part.len() as f64)
                .collect();
            if means.len() < 8 {
                return None;
            }
            // Differences leave out what leans.
            let steps: f64 = means.windows(2).map(|pair| if let [a, b] = pair { (b - a) * (b - a) } else { 0.0 }).sum();
            Some((steps / (means.len() - 1) as f64 / 2.0 * piece.max(2) as f64).sqrt() / survey.noise)
        })
        .collect();
    let typical = median(&mut scatter);
    if typical > 1.25 { typical } else { 1.0 }
}

fn reach(edge: &Edge, survey: &Survey) -> f64 {
    (edge.to.saturating_sub(edge.from) + 6) as f64 * survey.size as f64
}

/// Looks at one release. `bounds` are the samples between which nothing else happens.
pub(super) fn look(
    trace: &Trace,
    survey: &Survey,
    release: &Release,
    bounds: (f64, f64),
    how: Conditions,
) -> Option<Seen> {
    let Pulse { opening, closing } = release.pulse;
    let rate_hz = how.rate_hz;
    let before = if trace.coupling.product() > 0.0 { BEFORE_TWO_S } else { BEFORE_S } * rate_hz;
    let after = AFTER_S * rate_hz;
    let whole = opening.stretch == closing.stretch && closing.at - opening.at < LONG_S * rate_hz;
    let lean = trace.coupling.rate_doubt() / rate_hz;
    let end = (closing.at + after).min(bounds.1);
    let (reach_open, reach_close) = (reach(&opening, survey), reach(&closing, survey));
    let from = (opening.at - before).max(bounds.0);
    if whole {
        let lead = (opening.at - reach_open - from).max(0.0) / rate_hz;
        let window = trace.window(opening.stretch, from, end, lead)?;
        let view = View::new(window.light);
        let back = view.reversed();
        let turned = |at: f64| view.len() as f64 - 1.0 - at;
        let (up, down) = (opening.at - window.start, closing.at - window.start);
        let first = Search { guess: up, reach: reach_open, limit: down, after_closing: false };
        let last = Search { guess: turned(down), reach: reach_close, limit: turned(up), after_closing: true };
        let (a, b) = both(&view, &back, first, last, how)?;
        let shut = turned(b.moment);
        let closed = Closed { moment: shut, foot: turned(b.foot), dark: b.dark, open: a.step() };
        let mut seen = seen(&a, &b, (window.start + a.moment, window.start + shut), turned(b.half) - a.half, lean, how);
        let (i, j) = (view.index(a.foot), view.index(turned(b.foot).ceil() + 1.0));
        let wide = (j - i) as f64;
        let light = view.sum(i, j) - (a.dark + b.dark) / 2.0 * wide;
        let level = wide * wide / 4.0 * (1.0 / a.darkness + 1.0 / b.darkness);
        seen.area = Some((light, how.noise * how.noise * (wide + level)));
        seen.roughness = roughness(&view, &a, how);
        seen.bounce = bounce::bounce(&view, &closed, how.noise, rate_hz);
        return Some(seen);
    }
    let middle = (opening.at + closing.at) / 2.0;
    let lead = (opening.at - reach_open - from).max(0.0) / rate_hz;
    let window = trace.window(opening.stretch, from, (opening.at + after).min(middle), lead)?;
    let view = View::new(window.light);
    let limit = view.len() as f64;
    let first = Search { guess: opening.at - window.start, reach: reach_open, limit, after_closing: false };
    let a = refined(&view, first, how)?;
    let from = (closing.at - before).max(middle);
    let lead = (closing.at - reach_close - from).max(0.0) / rate_hz;
    let late = trace.window(closing.stretch, from, end, lead)?;
    let late_view = View::new(late.light);
    let back = late_view.reversed();
    let turned = |at: f64| back.len() as f64 - 1.0 - at;
    let guess = turned(closing.at - late.start);
    let b = refined(&back, Search { guess, reach: reach_close, limit: back.len() as f64, after_closing: true }, how)?;
    let shut = turned(b.moment);
    let moments = (window.start + a.moment, late.start + shut);
    let mut seen = seen(&a, &b, moments, late.start + turned(b.half) - window.start - a.half, lean, how);
    seen.roughness = roughness(&view, &a, how);
    let closed = Closed { moment: shut, foot: turned(b.foot), dark: b.dark, open: b.step() };
    seen.bounce = bounce::bounce(&late_view, &closed, how.noise, rate_hz);
    Some(seen)
}

fn refined(view: &View, search: Search, how: Conditions) -> Option<Flank> {
    let first = flank(view, search, how)?;
    flank(view, Search { guess: first.half, reach: first.length.max(2.0), ..search }, how)
}

fn seen(a: &Flank, b: &Flank, moments: (f64, f64), half: f64, lean: f64, how: Conditions) -> Seen {
    let level = (a.step() + b.step()) / 2.0;
    let plateau = a.plateau > 0.0 && b.plateau > 0.0;
    let noise = how.noise / level;
    let samples = |flank: &Flank| 1.0 / flank.plateau.max(1.0) + 1.0 / flank.darkness;
    Seen {
        opening: moments.0,
        closing: moments.1,
        half,
        level,
        level_doubt: noise * ((samples(a) + samples(b)) / 4.0).sqrt(),
        plateau,
        variance: a.variance + b.variance + (a.lean + b.lean) * (a.lean + b.lean) * lean * lean,
        lag: (a.lopsided - b.lopsided).abs(),
        area: None,
        flanks: (a.length, b.length),
        mismatch: (a.step() - b.step()).abs() / level,
        roughness: 0.0,
        bounce: None,
    }
}

/// Scatter of 0.2 ms means in the dark before the opening, over the step, beyond noise.
fn roughness(view: &View, a: &Flank, how: Conditions) -> f64 {
    let piece = ((0.2e-3 * how.rate_hz) as usize).max(1);
    let part = view.part(a.foot - 6.0e-3 * how.rate_hz, a.foot);
    let means: Vec<f64> = part.chunks_exact(piece).map(|x| x.iter().sum::<f64>() / piece as f64).collect();
    if means.len() < 3 {
        return 0.0;
    }
    let mean = means.iter().sum::<f64>() / means.len() as f64;
    let variance = means.iter().map(|x| (x - mean) * (x - mean)).sum::<f64>() / (means.len() - 1) as f64;
    let white = 2.0 * how.noise * how.noise / piece as f64;
    (variance - white).max(0.0).sqrt() / a.step()
}
