//! The search for the interval that explains most, row by row: with one template held where it fits, the other one everywhere.
//!
//! Most samples of a correlation are too low to be an opening or a closing, whatever stands beside them; they are passed over by
//! the piece. Not here: the templates and what they mean (`templates`).

use super::curve::{Curve, PIECE};
use super::templates::{LEAST_GAIN, UNEQUAL_GAIN};
use crate::extremes::highest;

const LEAST: f32 = LEAST_GAIN as f32;
const UNEQUAL: f32 = UNEQUAL_GAIN as f32;

/// What least squares needs of two templates at every interval at which they overlap, from the least on.
#[derive(Clone, Debug)]
pub(super) struct Overlap {
    /// `g`, and one over the determinant (0 where both are too alike).
    g: Vec<f32>,
    over_det: Vec<f32>,
    /// The lowest `g` and the highest of the other, piece by piece.
    lowest_g: Vec<f32>,
    highest_over_det: Vec<f32>,
}

impl Overlap {
    /// From the same in full precision.
    pub fn of(exact: &[(f64, f64)]) -> Self {
        let (g, over_det): (Vec<f32>, Vec<f32>) =
            exact.iter().map(|&(g, over_det)| (g as f32, over_det as f32)).unzip();
        let lowest = |piece: &[f32]| piece.iter().copied().fold(f32::INFINITY, f32::min);
        let lowest_g = g.chunks(PIECE).map(lowest).collect();
        let highest_over_det = over_det.chunks(PIECE).map(highest).collect();
        Self { g, over_det, lowest_g, highest_over_det }
    }

    /// Not more than any `g` and not less than any other at `PIECE` places or fewer from one on, as far as there are any.
    #[inline(always)]
    fn bounds(&self, place: i64) -> Option<(f32, f32)> {
        let first = place.div_euclid(PIECE as i64);
        let of = |piece: i64| {
            let piece = usize::try_from(piece).ok()?;
            Some((*self.lowest_g.get(piece)?, *self.highest_over_det.get(piece)?))
        };
        match (of(first), of(first + 1)) {
            (Some(a), Some(b)) => Some((a.0.min(b.0), a.1.max(b.1))),
            (one, other) => one.or(other),
        }
    }
}

/// What of the templates the search needs.
#[derive(Clone, Copy)]
pub(super) struct Shape<'a> {
    /// Samples of the opening and of the closing.
    pub lengths: (usize, usize),
    /// Their energies.
    pub energies: (f64, f64),
    pub overlap: &'a Overlap,
}

/// What a template explains alone: `r²/E`, nothing below the least gain.
#[derive(Clone, Copy)]
struct Alone {
    least: f32,
    scale: f32,
}

impl Alone {
    fn of(energy: f64) -> Self {
        Self { least: (LEAST_GAIN * energy) as f32, scale: (1.0 / energy) as f32 }
    }

    #[inline(always)]
    fn explained(self, r: f32) -> f32 {
        if r > self.least { r * r * self.scale } else { f32::NEG_INFINITY }
    }
}

/// Both correlations of a shot.
pub(super) struct Sides<'a> {
    overlap: &'a Overlap,
    opening: Curve<'a>,
    closing: Curve<'a>,
    alone: (Alone, Alone),
    /// From a place in the opening's correlation to the same moment's in the closing's.
    offset: i64,
    energies: (f32, f32),
    /// Intervals at which the templates overlap.
    overlapping: (i64, i64),
}

impl<'a> Sides<'a> {
    /// For one shot.
    pub fn of(opening: Curve<'a>, closing: Curve<'a>, offset: i64, shape: Shape<'a>) -> Self {
        Self {
            overlap: shape.overlap,
            opening,
            closing,
            alone: (Alone::of(shape.energies.0), Alone::of(shape.energies.1)),
            offset,
            energies: (shape.energies.0 as f32, shape.energies.1 as f32),
            overlapping: (1 - shape.lengths.1 as i64, shape.lengths.0 as i64 - 1),
        }
    }

    /// With the opening at `i`: every closing from one place to another, into the cells of their intervals from `low` on.
    pub fn hold_opening(&self, i: usize, range: (usize, usize), low: i64, cells: &mut [f32]) {
        let (r, e_o) = (self.opening.values[i], self.energies.0);
        let counts = |piece: usize| {
            let first = (piece * PIECE) as i64 + self.offset - i as i64;
            self.may_count(first, self.closing.tops[piece], self.alone.1.least, e_o, r)
        };
        runs(range, counts, |run| self.opening_and_closings(i, run, low, cells));
    }

    /// With the closing at `j`: every opening from one place to another; later ones make shorter intervals.
    pub fn hold_closing(&self, j: usize, range: (usize, usize), low: i64, cells: &mut [f32]) {
        let (r, e_c) = (self.closing.values[j], self.energies.1);
        let counts = |piece: usize| {
            let first = j as i64 + self.offset - ((piece + 1) * PIECE) as i64 + 1;
            self.may_count(first, self.opening.tops[piece], self.alone.0.least, e_c, r)
        };
        runs(range, counts, |run| self.closing_and_openings(j, run, low, cells));
    }

    /// Whether any of a piece's samples, none above `top`, can be there with the least gain: alone, or beside the one that is held,
    /// with the correlation `held`, at one of the piece's intervals from `first` on. `energy` is that of the held one's template.
    ///
    /// The gain is reckoned as [`explained`] does, whose every step rises or falls with each number that goes in: no sample's
    /// gain is above this one.
    #[inline(always)]
    fn may_count(&self, first: i64, top: f32, least_alone: f32, energy: f32, held: f32) -> bool {
        let (from, to) = self.overlapping;
        let apart = first < from || first + PIECE as i64 - 1 > to;
        if apart && top > least_alone {
            return true;
        }
        let bounds = self.overlap.bounds(first - from);
        bounds.is_some_and(|(g, over_det)| (top * energy - held * g) * over_det >= LEAST)
    }

    fn opening_and_closings(&self, i: usize, (from, to): (usize, usize), low: i64, cells: &mut [f32]) {
        let first = from as i64 + self.offset - i as i64;
        let (before, behind) = self.parts(first, to - from);
        let Some(cells) = usize::try_from(first - low).ok().and_then(|place| cells.get_mut(place..place + to - from))
        else {
            return;
        };
        let r = self.opening.values[i];
        let (own, alone) = (self.alone.0.explained(r), self.alone.1);
        let closings = &self.closing.values[from..to];
        raise(&mut cells[..before], closings[..before].iter().map(|&other| own + alone.explained(other)));
        raise(&mut cells[behind..], closings[behind..].iter().map(|&other| own + alone.explained(other)));
        raise(
            &mut cells[before..behind],
            self.both(first + before as i64, behind - before)
                .zip(&closings[before..behind])
                .map(|((g, over_det), &r_c)| explained(r, r_c, g, over_det, self.energies)),
        );
    }

    fn closing_and_openings(&self, j: usize, (from, to): (usize, usize), low: i64, cells: &mut [f32]) {
        let count = to - from;
        let first = j as i64 + self.offset - to as i64 + 1;
        let (before, behind) = self.parts(first, count);
        let Some(cells) = usize::try_from(first - low).ok().and_then(|place| cells.get_mut(place..place + count))
        else {
            return;
        };
        let r = self.closing.values[j];
        let (own, alone) = (self.alone.1.explained(r), self.alone.0);
        let openings = &self.opening.values[from..to];
        // Cell n belongs to the opening n places before the last.
        raise(&mut cells[..before], openings[count - before..].iter().rev().map(|&other| own + alone.explained(other)));
        raise(&mut cells[behind..], openings[..count - behind].iter().rev().map(|&other| own + alone.explained(other)));
        raise(
            &mut cells[before..behind],
            self.both(first + before as i64, behind - before)
                .zip(openings[count - behind..count - before].iter().rev())
                .map(|((g, over_det), &r_o)| explained(r_o, r, g, over_det, self.energies)),
        );
    }

    /// Of `count` intervals from `first` on: where those begin and end at which the templates overlap.
    fn parts(&self, first: i64, count: usize) -> (usize, usize) {
        let place = |interval: i64| (interval - first).clamp(0, count as i64) as usize;
        (place(self.overlapping.0), place(self.overlapping.1 + 1))
    }

    /// `g` and one over the determinant for `count` overlapping intervals from `first` on.
    fn both(&self, first: i64, count: usize) -> impl Iterator<Item = (f32, f32)> + '_ {
        let place = (first - self.overlapping.0).max(0) as usize;
        let Overlap { g, over_det, .. } = self.overlap;
        let end = g.len().min(place + count);
        g[place.min(end)..end].iter().copied().zip(over_det[place.min(end)..end].iter().copied())
    }
}

/// Hands on the places of a range, run by run of the pieces that count.
#[inline(always)]
fn runs((from, to): (usize, usize), counts: impl Fn(usize) -> bool, mut run: impl FnMut((usize, usize))) {
    let mut begun = None;
    for piece in from / PIECE..to.div_ceil(PIECE) {
        let place = (piece * PIECE).max(from);
        match (counts(piece), begun) {
            (true, None) => begun = Some(place),
            (false, Some(begin)) => {
                run((begin, place));
                begun = None;
            }
            _ => {}
        }
    }
    if let Some(begin) = begun.filter(|&begin| begin < to) {
        run((begin, to));
    }
}

/// Raises cells to values that are higher.
#[inline(always)]
fn raise(cells: &mut [f32], values: impl Iterator<Item = f32>) {
    for (cell, value) in cells.iter_mut().zip(values) {
        *cell = if value > *cell { value } else { *cell };
    }
}

/// What least squares explains, rounded and without branches, to find the best of many.
#[inline(always)]
fn explained(r_o: f32, r_c: f32, g: f32, over_det: f32, (e_o, e_c): (f32, f32)) -> f32 {
    let (a, b) = ((r_o * e_c - r_c * g) * over_det, (r_c * e_o - r_o * g) * over_det);
    let there = (a >= LEAST) & (b >= LEAST) & (a <= UNEQUAL * b) & (b <= UNEQUAL * a);
    if there { a * r_o + b * r_c } else { 0.0 }
}
