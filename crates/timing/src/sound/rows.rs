//! The search for the interval that explains most, row by row: with one template held where it fits, the other one everywhere.
//!
//! Not here: the templates and what they mean (`templates`).

use super::templates::{LEAST_GAIN, UNEQUAL_GAIN};

/// What of the templates the search needs.
#[derive(Clone, Copy)]
pub(super) struct Shape<'a> {
    /// Samples of the opening and of the closing.
    pub lengths: (usize, usize),
    /// Their energies.
    pub energies: (f64, f64),
    /// `g` and one over the determinant, for every interval at which they overlap, from the least on.
    pub overlap: (&'a [f32], &'a [f32]),
}

/// Both correlations of a shot, and what each template explains alone.
pub(super) struct Sides<'a> {
    overlap: (&'a [f32], &'a [f32]),
    r_o: &'a [f32],
    r_c: &'a [f32],
    alone_o: Vec<f32>,
    alone_c: Vec<f32>,
    /// From a place in `r_o` to the same moment's in `r_c`.
    offset: i64,
    energies: (f32, f32),
    /// Intervals at which the templates overlap.
    overlapping: (i64, i64),
}

impl<'a> Sides<'a> {
    /// For one shot.
    pub fn of(r_o: &'a [f32], r_c: &'a [f32], offset: i64, shape: Shape<'a>) -> Self {
        let alone = |curve: &[f32], energy: f64| -> Vec<f32> {
            let least = (LEAST_GAIN * energy) as f32;
            let scale = (1.0 / energy) as f32;
            curve.iter().map(|&r| if r > least { r * r * scale } else { f32::NEG_INFINITY }).collect()
        };
        Self {
            overlap: shape.overlap,
            r_o,
            r_c,
            alone_o: alone(r_o, shape.energies.0),
            alone_c: alone(r_c, shape.energies.1),
            offset,
            energies: (shape.energies.0 as f32, shape.energies.1 as f32),
            overlapping: (1 - shape.lengths.1 as i64, shape.lengths.0 as i64 - 1),
        }
    }

    /// With the opening at `i`: every closing from one place to another, into the cells of their intervals from `low` on.
    pub fn hold_opening(&self, i: usize, (from, to): (usize, usize), low: i64, cells: &mut [f32]) {
        let first = from as i64 + self.offset - i as i64;
        let (before, behind) = self.parts(first, to - from.min(to));
        let Some(cells) =
            usize::try_from(first - low).ok().and_then(|place| cells.get_mut(place..place + to - from.min(to)))
        else {
            return;
        };
        let (own, r) = (self.alone_o[i], self.r_o[i]);
        let alone = &self.alone_c[from..to.max(from)];
        raise(&mut cells[..before], alone[..before].iter().map(|&other| own + other));
        raise(&mut cells[behind..], alone[behind..].iter().map(|&other| own + other));
        let first = first + before as i64;
        raise(
            &mut cells[before..behind],
            self.both(first, behind - before)
                .zip(&self.r_c[from + before..from + behind])
                .map(|((g, over_det), &r_c)| explained(r, r_c, g, over_det, self.energies)),
        );
    }

    /// With the closing at `j`: every opening from one place to another; later ones make shorter intervals.
    pub fn hold_closing(&self, j: usize, (from, to): (usize, usize), low: i64, cells: &mut [f32]) {
        let count = to - from.min(to);
        let first = j as i64 + self.offset - to as i64 + 1;
        let (before, behind) = self.parts(first, count);
        let Some(cells) = usize::try_from(first - low).ok().and_then(|place| cells.get_mut(place..place + count))
        else {
            return;
        };
        let (own, r) = (self.alone_c[j], self.r_c[j]);
        let alone = &self.alone_o[from..to.max(from)];
        // Cell n belongs to the opening n places before the last.
        raise(&mut cells[..before], alone[count - before..].iter().rev().map(|&other| own + other));
        raise(&mut cells[behind..], alone[..count - behind].iter().rev().map(|&other| own + other));
        let first = first + before as i64;
        let openings = self.r_o[to - behind..to - before].iter().rev();
        raise(
            &mut cells[before..behind],
            self.both(first, behind - before)
                .zip(openings)
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
        let (g, over_det) = self.overlap;
        let end = g.len().min(place + count);
        g[place.min(end)..end].iter().copied().zip(over_det[place.min(end)..end].iter().copied())
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
    const LEAST: f32 = LEAST_GAIN as f32;
    const UNEQUAL: f32 = UNEQUAL_GAIN as f32;
    let (a, b) = ((r_o * e_c - r_c * g) * over_det, (r_c * e_o - r_o * g) * over_det);
    let there = (a >= LEAST) & (b >= LEAST) & (a <= UNEQUAL * b) & (b <= UNEQUAL * a);
    if there { a * r_o + b * r_c } else { 0.0 }
}
