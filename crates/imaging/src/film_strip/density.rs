//! Density of a film that was laid out: against its holes and the bare table where light is looked for, against its own base where
//! frames are compared.
//!
//! Not here: laying it out ([`super`]), what the density says.

use super::{FILM_MM, Format, GATE, LEFT_MM, PX_PER_MM, Strip, TOP_MM};
use crate::linear::solve;

/// Side of a cell \[mm\].
pub(crate) const CELL_MM: f64 = 0.5;
const ACROSS: usize = 84;
const DOWN: usize = 76;
const CELL_PX: usize = 8;
/// Where the holes lie within a margin \[mm from the film's edge\], and what is taken off their rim \[px\].
const HOLE_MM: (f64, f64) = (2.01, 4.80);
const ROOM_MM: f64 = 0.45;
const RIM_PX: usize = 2;
/// Window in which a hole is told from the film \[mm\], and the least contrast that tells it.
const WINDOW_MM: f64 = 7.0;
const CONTRAST: f64 = 0.06;
/// log10 of the light from which the photo may be burnt out.
const CLIPPED: f32 = -0.02;
/// Rounds in which what lies off the table's surface is left out.
const ROUNDS: usize = 3;

/// What density is counted from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reference {
    /// The bare light table, seen through the holes and beside the film.
    Table,
    /// The film's own base, in margins and gaps.
    Base,
}

/// The means of cells of half a millimetre.
#[derive(Clone, Debug)]
pub struct Cells {
    /// Density, row by row; not a number where nothing of a cell counts.
    density: Vec<f64>,
}

impl Cells {
    /// Columns and rows.
    pub const SIZE: (usize, usize) = (ACROSS, DOWN);

    /// Density of a cell; nothing where it is a hole or lies beside.
    pub fn at(&self, column: usize, row: usize) -> Option<f64> {
        let inside = column < ACROSS && row < DOWN;
        self.density.get(row * ACROSS + column).copied().filter(|density| inside && density.is_finite())
    }

    /// Middle of a cell \[mm\].
    pub fn place(column: usize, row: usize) -> (f64, f64) {
        (LEFT_MM + (column as f64 + 0.5) * CELL_MM, TOP_MM + (row as f64 + 0.5) * CELL_MM)
    }

    /// The cell that a place lies in.
    pub(crate) fn cell(x: f64, y: f64) -> (usize, usize) {
        let index = |value: f64, most: usize| (value.max(0.0) as usize).min(most - 1);
        (index((x - LEFT_MM) / CELL_MM, ACROSS), index((y - TOP_MM) / CELL_MM, DOWN))
    }

    /// Mean over a rectangle \[mm\]; nothing where no cell of it counts.
    pub(crate) fn mean(&self, left: f64, top: f64, right: f64, bottom: f64) -> Option<f64> {
        let (first, last) = (Self::cell(left + 0.01, top + 0.01), Self::cell(right - 0.01, bottom - 0.01));
        let (mut sum, mut count) = (0.0, 0.0);
        for row in first.1..=last.1 {
            for column in first.0..=last.0 {
                if let Some(density) = self.at(column, row) {
                    sum += density;
                    count += 1.0;
                }
            }
        }
        (count > 0.0).then(|| sum / count)
    }

    /// Every cell with its place.
    pub(crate) fn each(&self) -> impl Iterator<Item = (usize, usize, f64)> + '_ {
        self.density
            .iter()
            .enumerate()
            .filter(|(_, density)| density.is_finite())
            .map(|(i, density)| (i % ACROSS, i / ACROSS, *density))
    }

    pub(crate) fn less(mut self, base: f64) -> Self {
        for density in &mut self.density {
            *density -= base;
        }
        self
    }
}

/// Density with what is known of its reference.
#[derive(Clone, Debug)]
pub struct Density {
    /// The cells.
    pub cells: Cells,
    /// Standard deviation of the reference about its surface.
    pub residual: f64,
    /// Share of the reference that may be burnt out.
    pub clipped: f64,
    /// Contrast of holes against film, the weaker margin; 0 without holes.
    pub hole_contrast: f64,
    /// Whether there was enough to count from.
    pub referenced: bool,
}

/// Which canvas pixels show the bare table: holes without their rims, and what lies beside the film.
fn table(strip: &Strip) -> (Vec<bool>, Vec<bool>, f64) {
    let (width, height) = (Strip::width(), Strip::height());
    let (mut hole, mut weakest) = (vec![false; width * height], f64::INFINITY);
    if strip.format != Format::Perforated {
        return beside(strip);
    }
    for lower in [false, true] {
        let at = |mm: f64| if lower { FILM_MM - mm } else { mm };
        let (a, b) = (at(HOLE_MM.0 - ROOM_MM), at(HOLE_MM.1 + ROOM_MM));
        let rows = (((a.min(b) - TOP_MM) * PX_PER_MM) as usize)..(((a.max(b) - TOP_MM) * PX_PER_MM) as usize);
        let half = (WINDOW_MM / 2.0 * PX_PER_MM) as usize;
        let step = half / 2;
        let mut contrasts = Vec::new();
        for middle in (0..width).step_by(step) {
            let columns = middle.saturating_sub(half)..(middle + half).min(width);
            // Every third pixel tells as much.
            let mut values: Vec<f32> = rows
                .clone()
                .step_by(3)
                .flat_map(|row| columns.clone().step_by(3).map(move |column| row * width + column))
                .map(|i| strip.log[i])
                .collect();
            values.sort_by(f32::total_cmp);
            let level = |share: f64| values.get((values.len() as f64 * share) as usize).copied().unwrap_or(0.0);
            let (film, open) = (level(0.2), level(0.8));
            contrasts.push(f64::from(open - film));
            if f64::from(open - film) < CONTRAST {
                continue;
            }
            let limit = (film + open) / 2.0;
            for row in rows.clone() {
                for column in middle.saturating_sub(step / 2)..(middle + step - step / 2).min(width) {
                    let i = row * width + column;
                    hole[i] = strip.log[i] > limit;
                }
            }
        }
        contrasts.sort_by(f64::total_cmp);
        weakest = weakest.min(contrasts.get(contrasts.len() / 2).copied().unwrap_or(0.0));
    }
    let mut bare = vec![false; width * height];
    for row in RIM_PX..height - RIM_PX {
        let (_, y) = Strip::place(0, row);
        if !(-0.4..=FILM_MM + 0.4).contains(&y) {
            bare[row * width..(row + 1) * width].fill(true);
            continue;
        }
        for column in RIM_PX..width - RIM_PX {
            let whole = |r: usize, c: usize| hole[r * width + c];
            bare[row * width + column] = whole(row, column)
                && whole(row - RIM_PX, column)
                && whole(row + RIM_PX, column)
                && whole(row, column - RIM_PX)
                && whole(row, column + RIM_PX);
        }
    }
    (bare, hole, if weakest.is_finite() { weakest } else { 0.0 })
}

/// The bare table of a film without holes: what lies above and below it, and how much brighter that is than the film's margins.
fn beside(strip: &Strip) -> (Vec<bool>, Vec<bool>, f64) {
    let (width, height) = (Strip::width(), Strip::height());
    let (first, last) = strip.format.edges();
    let mut bare = vec![false; width * height];
    let (mut table, mut film) = ((0.0, 0.0), (0.0, 0.0));
    for row in 0..height {
        let (_, y) = Strip::place(0, row);
        let outside = y < first - 0.4 || y > last + 0.4;
        let margin = (first + 0.2..GATE[1] - 0.2).contains(&y) || (GATE[3] + 0.2..last - 0.2).contains(&y);
        if !outside && !margin {
            continue;
        }
        let sum: f64 = strip.log[row * width..(row + 1) * width].iter().map(|log| f64::from(*log)).sum();
        let level = if outside { &mut table } else { &mut film };
        (level.0, level.1) = (level.0 + sum, level.1 + width as f64);
        bare[row * width..(row + 1) * width].fill(outside);
    }
    let contrast = if table.1 > 0.0 && film.1 > 0.0 { f64::max(0.0, table.0 / table.1 - film.0 / film.1) } else { 0.0 };
    (bare, vec![false; width * height], contrast)
}

/// A quadratic surface in millimetres.
struct Surface([f64; 6]);

impl Surface {
    fn terms(x: f64, y: f64) -> [f64; 6] {
        let (x, y) = ((x - 18.0) / 20.0, (y - 17.5) / 20.0);
        [1.0, x, y, x * x, x * y, y * y]
    }

    fn at(&self, x: f64, y: f64) -> f64 {
        Self::terms(x, y).iter().zip(self.0).map(|(term, own)| term * own).sum()
    }

    /// Least squares with what lies three deviations off left out, three times; the surface and its standard deviation.
    fn fit(points: &[(f64, f64, f64)]) -> Option<(Self, f64)> {
        let mut surface: Option<(Self, f64)> = None;
        for _ in 0..=ROUNDS {
            let mut normal = [[0.0; 7]; 6];
            let mut count = 0;
            for (x, y, value) in points {
                if let Some((known, spread)) = &surface
                    && (value - known.at(*x, *y)).abs() > 3.0 * spread
                {
                    continue;
                }
                let terms = Self::terms(*x, *y);
                for i in 0..6 {
                    for j in i..6 {
                        normal[i][j] += terms[i] * terms[j];
                    }
                    normal[i][6] += terms[i] * value;
                }
                count += 1;
            }
            for (i, j) in (1..6).flat_map(|i| (0..i).map(move |j| (i, j))) {
                normal[i][j] = normal[j][i];
            }
            if count < 60 {
                return None;
            }
            let own = Self(solve(normal)?);
            let (mut sum, mut kept) = (0.0, 0.0);
            for (x, y, value) in points {
                let off = value - own.at(*x, *y);
                if surface.as_ref().is_none_or(|(known, spread)| (value - known.at(*x, *y)).abs() <= 3.0 * spread) {
                    sum += off * off;
                    kept += 1.0;
                }
            }
            surface = Some((own, (sum / f64::max(kept, 1.0)).sqrt().max(1e-4)));
        }
        surface
    }
}

/// Whether a place belongs to the film's base: a margin or the gap to the next frame, well away from edges and gate.
fn is_base(format: Format, x: f64, y: f64) -> bool {
    let (first, last) = format.edges();
    let (near, far) = if format == Format::Perforated { (0.5, 4.9) } else { format.margin() };
    let margin = (first + near..=first + far).contains(&y) || (last - far..=last - near).contains(&y);
    let gap = (-1.7..=-0.3).contains(&x) || (GATE[2] + 0.3..=GATE[2] + 1.7).contains(&x);
    margin || (gap && (first + near..=last - near).contains(&y))
}

/// The rim of a hole, which is neither hole nor film, and the hole: the nine pixels at a reach, row by row and then along the row.
fn near_hole(hole: &[bool], width: usize, height: usize) -> Vec<bool> {
    const REACH: usize = 4;
    let row = |row: usize| &hole[row * width..(row + 1) * width];
    let mut near = Vec::with_capacity(hole.len());
    for middle in 0..height {
        let (above, below) = (row(middle.saturating_sub(REACH)), row((middle + REACH).min(height - 1)));
        let any: Vec<bool> =
            row(middle).iter().zip(above).zip(below).map(|((here, above), below)| here | above | below).collect();
        near.extend(
            (0..width)
                .map(|column| any[column.saturating_sub(REACH)] | any[column] | any[(column + REACH).min(width - 1)]),
        );
    }
    near
}

/// Density of a strip, cell by cell, against the table or against the film's base. Time: O(pixels of the canvas).
pub fn density(strip: &Strip, from: Reference) -> Density {
    let (width, height) = (Strip::width(), Strip::height());
    let (bare, hole, hole_contrast) = table(strip);
    let near = near_hole(&hole, width, height);
    let (mut points, mut burnt) = (Vec::new(), 0.0);
    for row in (0..height).step_by(2) {
        for column in (0..width).step_by(2) {
            let i = row * width + column;
            let (x, y) = Strip::place(column, row);
            let counts = match from {
                Reference::Table => bare[i],
                Reference::Base => is_base(strip.format, x, y) && !near[i],
            };
            if counts {
                points.push((x, y, f64::from(strip.log[i])));
            }
            if bare[i] && strip.log[i] > CLIPPED {
                burnt += 1.0;
            }
        }
    }
    let table_count = bare.iter().filter(|bare| **bare).count() as f64 / 4.0;
    let fitted = Surface::fit(&points);
    let referenced = fitted.is_some() && (from == Reference::Base || hole_contrast >= CONTRAST);
    let (surface, residual) = fitted.unwrap_or((Surface([0.0; 6]), 1.0));
    let (first, last) = strip.format.edges();
    let mut sums = vec![(0.0, 0_u32); ACROSS * DOWN];
    for row in 0..(DOWN * CELL_PX).min(height) {
        for column in 0..(ACROSS * CELL_PX).min(width) {
            let (x, y) = Strip::place(column, row);
            if near[row * width + column] || !(first + 0.15..=last - 0.15).contains(&y) {
                continue;
            }
            let sum = &mut sums[row / CELL_PX * ACROSS + column / CELL_PX];
            sum.0 += surface.at(x, y) - f64::from(strip.log[row * width + column]);
            sum.1 += 1;
        }
    }
    // A cell of which hardly anything is left says nothing.
    let enough = (CELL_PX * CELL_PX / 4) as u32;
    let density =
        sums.iter().map(|(sum, count)| if *count >= enough { sum / f64::from(*count) } else { f64::NAN }).collect();
    Density {
        cells: Cells { density },
        residual,
        clipped: if table_count > 0.0 { burnt / table_count } else { 0.0 },
        hole_contrast,
        referenced,
    }
}
