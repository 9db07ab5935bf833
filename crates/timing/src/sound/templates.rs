//! A camera's own opening and closing, cut out of one slow shot and found again in every other, also where both overlap.
//!
//! With `r_O`, `r_C` the correlations of a shot with both, `E_O`, `E_C` their energies and `g(d)` the correlation of the one with
//! the other, least squares of `y ≈ a·O(·−i) + b·C(·−i−d)` explains
//! `(r_O²·E_C − 2·r_O·r_C·g + r_C²·E_O)/(E_O·E_C − g²)` of a shot's energy. The interval `d` differs from the shot's time by an
//! offset that all shots share. Not here: that offset (`offset`).

use super::curve::Curve;
use super::onsets::Front;
use super::pair::summit;
use super::prepared::{Prepared, Region, Scratch, Tables};
use super::rows::{Overlap, Shape, Sides};
use super::signal::{Signal, dot};
use crate::correlation::Parts;
use crate::extremes::highest;

/// A template begins this long before its first event and ends this long after its last \[s\], and is no longer than this \[s\].
const LEAD_S: f64 = 1.5e-3;
const TAIL_S: f64 = 18e-3;
const LONGEST_S: f64 = 48e-3;
/// A single impact as a template \[s\].
pub(super) const IMPACT_S: f64 = 7.8e-3;
/// Peaks of each correlation that are followed, and how far apart they are \[s\].
const PEAKS: usize = 10;
const PEAKS_APART_S: f64 = 0.4e-3;
/// A peak is no lower than this share of the highest.
const LEAST_PEAK: f32 = 0.12;
/// Both sounds must be there with at least this share of their strength, and neither with so many times the other's.
pub(super) const LEAST_GAIN: f64 = 0.15;
pub(super) const UNEQUAL_GAIN: f64 = 5.0;
/// Another interval is another answer from this difference on \[s\].
const OTHER_S: f64 = 1.2e-3;

/// An opening and a closing.
#[derive(Clone, Debug)]
pub(super) struct Templates {
    opening: Vec<f32>,
    closing: Vec<f32>,
    opening_energy: f64,
    closing_energy: f64,
    /// `g(d)` for `d` from `−closing.len() + 1` on, and one over the determinant there (0 where both are too alike).
    overlap: Vec<(f64, f64)>,
    /// The same, rounded.
    rounded: Overlap,
    /// The spectra of `opening − i·closing`, by the number of their table.
    spectra: Vec<(usize, Parts)>,
}

/// A shot in which both templates were found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Fit {
    /// Where the opening's template begins \[samples\].
    pub opening: f64,
    /// From there to where the closing's begins \[samples\].
    pub interval: f64,
    /// Share of the energy covered that is explained.
    pub share: f64,
    /// By how much the next other interval explains less, in the same share.
    pub margin: f64,
    /// How strong the opening and the closing are, the templates' own strength being 1.
    gains: (f64, f64),
}

impl Templates {
    /// Cuts out an opening and a closing by their first and last moments \[samples\]; nothing where one is silent.
    pub fn cut(front: &Front, opening: (f64, f64), closing: (f64, f64), tables: &mut Tables) -> Option<Self> {
        let signal = &front.signal;
        let (lead, tail, longest) = (signal.samples(LEAD_S), signal.samples(TAIL_S), signal.samples(LONGEST_S));
        let slice = |(from, to): (f64, f64), end: f64| {
            let start = from - lead;
            let length = (to + tail).min(start + longest).min(end) - start;
            (length > 8.0).then(|| signal.read(start as i64, length as usize).into_owned())
        };
        // The opening must not reach into the closing.
        Self::new(slice(opening, closing.0 - lead)?, slice(closing, f64::INFINITY)?, tables)
    }

    /// Most samples of a template that is cut out by such moments.
    pub fn longest(signal: &Signal, (from, to): (f64, f64)) -> usize {
        let whole = to - from + signal.samples(LEAD_S + TAIL_S);
        whole.min(signal.samples(LONGEST_S)).max(signal.samples(IMPACT_S)).ceil() as usize + 1
    }

    /// Takes two single impacts.
    pub fn impacts(front: &Front, opening: f64, closing: f64, tables: &mut Tables) -> Option<Self> {
        let signal = &front.signal;
        let slice = |at: f64| signal.read((at - signal.samples(0.4e-3)) as i64, signal.count(IMPACT_S)).into_owned();
        Self::new(slice(opening), slice(closing), tables)
    }

    fn new(opening: Vec<f32>, closing: Vec<f32>, tables: &mut Tables) -> Option<Self> {
        let (opening_energy, closing_energy) = (dot(&opening, &opening), dot(&closing, &closing));
        if opening_energy < 1e-12 || closing_energy < 1e-12 {
            return None;
        }
        let number = tables.fitting(opening.len() + closing.len());
        let fourier = tables.table(number);
        let n = fourier.length();
        let mut found = Parts::default();
        fourier.correlate(&fourier.spectrum(&opening, &[]), &fourier.spectrum(&closing, &[]), &mut found);
        let product = found.re();
        let back = closing.len() - 1;
        let energies = opening_energy * closing_energy;
        let overlap: Vec<(f64, f64)> = (0..back + opening.len())
            .map(|d| {
                let g = f64::from(product[(d + n - back) % n]);
                let det = energies - g * g;
                (g, if det > 0.02 * energies { 1.0 / det } else { 0.0 })
            })
            .collect();
        let rounded = Overlap::of(&overlap);
        Some(Self { opening, closing, opening_energy, closing_energy, overlap, rounded, spectra: Vec::new() })
    }

    /// `g` and one over the determinant at an interval; nothing where the templates do not overlap.
    #[inline(always)]
    fn overlap(&self, interval: i64) -> Option<(f64, f64)> {
        let place = interval + self.closing.len() as i64 - 1;
        usize::try_from(place).ok().and_then(|place| self.overlap.get(place)).copied()
    }

    /// The spectrum by a table, kept for the next shot.
    fn spectrum(&mut self, tables: &Tables, table: usize) -> &Parts {
        let place = match self.spectra.iter().position(|(by, _)| *by == table) {
            Some(place) => place,
            None => {
                let turned: Vec<f32> = self.closing.iter().map(|v| -v).collect();
                self.spectra.push((table, tables.table(table).spectrum(&self.opening, &turned)));
                self.spectra.len() - 1
            }
        };
        &self.spectra[place].1
    }

    /// Correlations of a region with the opening (real part) and with the closing (imaginary part), for every sample at which one
    /// may begin.
    fn correlate(&mut self, region: &Region, tables: &Tables, found: &mut Parts) {
        // One transform serves both: Y·conj(F{O − iC}) is r_O in its real and r_C in its imaginary part.
        tables.table(region.table).correlate(&region.spectrum, self.spectrum(tables, region.table), found);
    }

    /// Looks for both in a shot.
    pub fn find(&mut self, shot: &Prepared, signal: &Signal, tables: &mut Tables) -> Option<Fit> {
        let mut scratch = core::mem::take(&mut tables.scratch);
        let fit = self.find_with(shot, signal, tables, &mut scratch);
        tables.scratch = scratch;
        fit
    }

    fn find_with(&mut self, shot: &Prepared, signal: &Signal, tables: &Tables, scratch: &mut Scratch) -> Option<Fit> {
        let rate = signal.rate_hz;
        let Scratch { first, second: apart, tops, cells: by_interval } = scratch;
        self.correlate(&shot.first, tables, first);
        let r_o = &first.re()[..shot.first.length];
        let (second, r_c) = match &shot.second {
            Some(region) => {
                self.correlate(region, tables, apart);
                (region, apart.im())
            }
            None => (&shot.first, first.im()),
        };
        let r_c = &r_c[..second.length];
        let offset = second.start - shot.first.start;
        let other = OTHER_S * rate;
        let peaks_apart = (PEAKS_APART_S * rate) as usize;
        let (low, high) = shot.range;
        if high < low {
            return None;
        }
        let shape = Shape {
            lengths: (self.opening.len(), self.closing.len()),
            energies: (self.opening_energy, self.closing_energy),
            overlap: &self.rounded,
        };
        let (opening, closing) = (Curve::of(r_o, &mut tops.0), Curve::of(r_c, &mut tops.1));
        let [peaks_o, peaks_c] = [opening, closing].map(|curve| curve.peaks(peaks_apart, LEAST_PEAK, PEAKS));
        let sides = Sides::of(opening, closing, offset, shape);
        by_interval.clear();
        by_interval.resize((high - low + 1) as usize, 0.0);
        for &i in &peaks_o {
            let (from, to) = clip(i as i64 + low - offset, i as i64 + high - offset, r_c.len());
            sides.hold_opening(i, (from, to), low, by_interval);
        }
        for &j in &peaks_c {
            let (from, to) = clip(j as i64 + offset - high, j as i64 + offset - low, r_o.len());
            sides.hold_closing(j, (from, to), low, by_interval);
        }
        let best = highest(by_interval);
        if best <= 0.0 {
            return None;
        }
        let place = by_interval.iter().rposition(|&cell| cell == best)?;
        // Which opening it was that explains most at this interval.
        let interval = place as i64 + low;
        let of_closings = peaks_c.iter().filter_map(|&j| usize::try_from(j as i64 + offset - interval).ok());
        let explained_at = |i: usize| {
            let j = usize::try_from(i as i64 + interval - offset).ok()?;
            Some((self.explained(f64::from(*r_o.get(i)?), f64::from(*r_c.get(j)?), interval), i))
        };
        let openings = peaks_o.iter().copied().chain(of_closings).filter_map(explained_at);
        let (_, i) = openings.max_by(|p, q| p.0.total_cmp(&q.0).then(q.1.cmp(&p.1)))?;
        let before = (place as f64 - other).ceil().max(0.0) as usize;
        let behind = by_interval.len().min((place as f64 + other).floor() as usize + 1);
        let next = highest(&by_interval[..before]).max(highest(&by_interval[behind..]));
        // The summit between samples, with the opening held where it is and then the opening with the interval's end held.
        let at = |i: i64, d: i64| {
            let j = usize::try_from(i + d - offset).ok()?;
            let i = usize::try_from(i).ok()?;
            Some(self.explained(f64::from(*r_o.get(i)?), f64::from(*r_c.get(j)?), d))
        };
        let around = |step: &dyn Fn(i64) -> Option<f64>| {
            let curve: Option<Vec<f64>> = (-1..=1).map(step).collect();
            curve.map_or(0.0, |curve| summit(&curve, 1))
        };
        let closing_off = around(&|k| at(i as i64, interval + k));
        let opening_off = around(&|k| at(i as i64 + k, interval - k));
        let covered = self.covered(signal, shot, second, i as i64 + shot.first.start, interval).max(1e-20);
        Some(Fit {
            opening: (i as i64 + shot.first.start) as f64 + opening_off,
            interval: interval as f64 + closing_off - opening_off,
            share: f64::from(best) / covered,
            margin: f64::from(best - next) / covered,
            gains: self.gains(
                r_o.get(i).copied().map_or(0.0, f64::from),
                usize::try_from(i as i64 + interval - offset)
                    .ok()
                    .and_then(|j| r_c.get(j))
                    .copied()
                    .map_or(0.0, f64::from),
                interval,
            ),
        })
    }

    /// What least squares explains; nothing where a sound would have to be absent or turned round.
    #[inline(always)]
    fn explained(&self, r_o: f64, r_c: f64, interval: i64) -> f64 {
        if r_o <= 0.0 && r_c <= 0.0 {
            return 0.0;
        }
        let (a, b) = self.gains(r_o, r_c, interval);
        if a < LEAST_GAIN || b < LEAST_GAIN || a > UNEQUAL_GAIN * b || b > UNEQUAL_GAIN * a {
            return 0.0;
        }
        a * r_o + b * r_c
    }

    /// The strengths of both by least squares; 0 where they are too alike to be told apart at this interval.
    #[inline(always)]
    fn gains(&self, r_o: f64, r_c: f64, interval: i64) -> (f64, f64) {
        let (e_o, e_c) = (self.opening_energy, self.closing_energy);
        match self.overlap(interval) {
            Some((g, over_det)) => ((r_o * e_c - r_c * g) * over_det, (r_c * e_o - r_o * g) * over_det),
            None => (r_o / e_o, r_c / e_c),
        }
    }

    /// The means over the shots in which both were found, each freed from the other: what differs from shot to shot goes.
    pub fn averaged(&self, front: &Front, fits: &[Fit], tables: &mut Tables) -> Option<Self> {
        let mut opening = Mean::of(self.opening.len());
        let mut closing = Mean::of(self.closing.len());
        for fit in fits {
            let (at, interval) = (fit.opening.round() as i64, fit.interval.round() as i64);
            let (a, b) = fit.gains;
            opening.add(&front.signal.read(at, self.opening.len()), &self.closing, interval, a, b);
            closing.add(&front.signal.read(at + interval, self.closing.len()), &self.opening, -interval, b, a);
        }
        Self::new(opening.value()?, closing.value()?, tables)
    }

    /// Energy of the samples that either template covers.
    fn covered(&self, signal: &Signal, shot: &Prepared, second: &Region, opening: i64, interval: i64) -> f64 {
        let energy = |region: &Region, from: i64, to: i64| {
            let place = |at: i64| at.clamp(region.start, region.start + region.length as i64);
            let samples = signal.read(place(from), (place(to) - place(from)) as usize);
            dot(&samples, &samples)
        };
        let closing = opening + interval;
        let (opening_end, closing_end) = (opening + self.opening.len() as i64, closing + self.closing.len() as i64);
        let both = energy(&shot.first, opening, opening_end) + energy(second, closing, closing_end);
        let shared = (opening.max(closing), opening_end.min(closing_end));
        both - if shared.0 < shared.1 { energy(&shot.first, shared.0, shared.1) } else { 0.0 }
    }
}

/// A template as the least-squares mean of several shots.
struct Mean {
    sum: Vec<f32>,
    weight: f64,
}

impl Mean {
    fn of(length: usize) -> Self {
        Self { sum: vec![0.0; length], weight: 0.0 }
    }

    /// Adds a shot in which the template stands with `gain` and the other one, `shift` samples later, with `other_gain`.
    fn add(&mut self, samples: &[f32], other: &[f32], shift: i64, gain: f64, other_gain: f64) {
        self.weight += gain * gain;
        for (n, (sum, &v)) in self.sum.iter_mut().zip(samples).enumerate() {
            let place = usize::try_from(n as i64 - shift).ok();
            let beside = place.and_then(|place| other.get(place)).copied().unwrap_or(0.0);
            *sum += gain as f32 * (v - other_gain as f32 * beside);
        }
    }

    fn value(self) -> Option<Vec<f32>> {
        let scale = 1.0 / self.weight as f32;
        (self.weight > 0.0).then(|| self.sum.into_iter().map(|v| v * scale).collect())
    }
}

fn clip(from: i64, to: i64, length: usize) -> (usize, usize) {
    let clip = |at: i64| at.clamp(0, length as i64) as usize;
    (clip(from), clip(to.saturating_add(1)))
}
