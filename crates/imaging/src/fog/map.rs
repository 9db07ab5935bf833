//! The density map of a frame: its noise, its base, its peak, what lies along each side of the gate, and spots.
//!
//! Not here: what they say ([`super::decide`]).

use super::decide::Side;
use crate::film_strip::{CELL_MM, Cells, FILM_MM, Format, GATE};

/// Half the length over which a side is averaged \[mm\], and the step \[mm\].
const HALF_MM: f64 = 2.0;
const STEP_MM: f64 = 0.5;
/// The strip inside the gate \[mm from its edge\].
const INNER_MM: (f64, f64) = (0.6, 2.6);
/// How far from every side the centre begins \[mm\].
const CENTRE_MM: f64 = 7.0;
/// What is nearer than this belongs to a spot \[mm\], and the ring that it is held against \[mm from its middle\].
const NEAR_MM: f64 = 4.0;
const RING_MM: (f64, f64) = (4.0, 6.5);
/// The gap to the next frame \[mm from the gate\].
const GAP_MM: (f64, f64) = (0.25, 1.75);

/// Standard deviation of a cell against the mean of its four neighbours, by the median.
pub(super) fn noise(cells: &Cells) -> f64 {
    let mut sizes: Vec<f64> = cells
        .each()
        .filter_map(|(column, row, density)| {
            let around = [
                cells.at(column.checked_sub(1)?, row)?,
                cells.at(column + 1, row)?,
                cells.at(column, row.checked_sub(1)?)?,
                cells.at(column, row + 1)?,
            ];
            Some((density - around.iter().sum::<f64>() / 4.0).abs())
        })
        .collect();
    sizes.sort_by(f64::total_cmp);
    1.4826 * sizes.get(sizes.len() / 2).copied().unwrap_or(0.0) / 1.25_f64.sqrt()
}

/// The film's base: what eight in a hundred of the smoothed cells lie below.
pub(super) fn base(cells: &Cells) -> f64 {
    let mut values = smoothed(cells);
    values.sort_by(f64::total_cmp);
    values.get(values.len() * 8 / 100).copied().unwrap_or(0.0)
}

/// The median of each cell and its neighbours, for cells on the film.
fn smoothed(cells: &Cells) -> Vec<f64> {
    cells
        .each()
        .map(|(column, row, density)| {
            let mut near: Vec<f64> = (0..9)
                .filter_map(|i| cells.at((column + i % 3).checked_sub(1)?, (row + i / 3).checked_sub(1)?))
                .collect();
            near.sort_by(f64::total_cmp);
            near.get(near.len() / 2).copied().unwrap_or(density)
        })
        .collect()
}

/// What lies along one side of the gate.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Rim {
    /// Densest stretch inside the gate.
    pub inner: f64,
    /// Outside at the same place.
    pub outer: f64,
    /// Densest stretch outside.
    pub outer_most: f64,
    /// Where the densest stretch inside lies along the side \[mm\].
    pub at: f64,
}

/// A compact place that is denser than what surrounds it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Spot {
    /// Middle \[mm\].
    pub x: f64,
    pub y: f64,
    /// Density at its middle.
    pub peak: f64,
    /// Mean of the ring about it.
    pub ring: f64,
    /// Long against short axis.
    pub elongation: f64,
}

/// How far the cells of a ring lie from its middle, in cells, row by row.
fn ring_of_cells() -> Vec<(isize, isize)> {
    const REACH: isize = (RING_MM.1 / CELL_MM) as isize;
    let offsets = (-REACH..=REACH).flat_map(|down| (-REACH..=REACH).map(move |across| (across, down)));
    let off = |(across, down): &(isize, isize)| libm::hypot(*across as f64 * CELL_MM, *down as f64 * CELL_MM);
    offsets.filter(|offset| (RING_MM.0..RING_MM.1).contains(&off(offset))).collect()
}

/// Density above the base, cell by cell.
pub(super) struct Map {
    pub cells: Cells,
    pub format: Format,
}

impl Map {
    pub(super) fn of(cells: Cells, format: Format) -> Self {
        Self { cells, format }
    }

    /// A rectangle along a side: `from` to `to` along it, between two distances from the gate's edge, inside or outside.
    fn along(&self, side: Side, from: f64, to: f64, near: f64, far: f64, inside: bool) -> Option<f64> {
        let sign = if inside { 1.0 } else { -1.0 };
        let span = |edge: f64, inward: f64| {
            let (a, b) = (edge + sign * inward * near, edge + sign * inward * far);
            (a.min(b), a.max(b))
        };
        match side {
            Side::Left | Side::Right => {
                let (edge, inward) = if side == Side::Left { (GATE[0], 1.0) } else { (GATE[2], -1.0) };
                let (left, right) = span(edge, inward);
                self.cells.mean(left, from, right, to)
            }
            Side::Top | Side::Bottom => {
                let (edge, inward) = if side == Side::Top { (GATE[1], 1.0) } else { (GATE[3], -1.0) };
                let (top, bottom) = span(edge, inward);
                self.cells.mean(from, top, to, bottom)
            }
        }
    }

    fn outside(&self, side: Side, from: f64, to: f64) -> Option<f64> {
        let ((first, last), (near, far)) = (self.format.edges(), self.format.margin());
        match side {
            // A margin is measured from the film's edge, so that the gate's penumbra stays out of it.
            Side::Top => self.cells.mean(from, first + near, to, first + far),
            Side::Bottom => self.cells.mean(from, last - far, to, last - near),
            _ => self.along(side, from, to, GAP_MM.0, GAP_MM.1, false),
        }
    }

    /// Ends of the gate along a side \[mm\].
    fn length(side: Side) -> (f64, f64) {
        match side {
            Side::Top | Side::Bottom => (GATE[0], GATE[2]),
            Side::Left | Side::Right => (GATE[1], GATE[3]),
        }
    }

    pub(super) fn rim(&self, side: Side) -> Rim {
        let (first, last) = Self::length(side);
        let steps = ((last - first - 2.0 * HALF_MM) / STEP_MM) as usize;
        let mut rim = Rim { inner: f64::NEG_INFINITY, outer_most: f64::NEG_INFINITY, ..Rim::default() };
        for i in 0..=steps {
            let middle = first + HALF_MM + i as f64 * STEP_MM;
            let (from, to) = (middle - HALF_MM, middle + HALF_MM);
            let outer = self.outside(side, from, to).unwrap_or(0.0);
            rim.outer_most = rim.outer_most.max(outer);
            if let Some(inner) = self.along(side, from, to, INNER_MM.0, INNER_MM.1, true)
                && inner > rim.inner
            {
                (rim.inner, rim.outer, rim.at) = (inner, outer, middle);
            }
        }
        if rim.inner.is_finite() { rim } else { Rim::default() }
    }

    /// What the film's two edge strips show at a left or right side, against its middle.
    pub(super) fn edges_against_middle(&self, side: Side) -> f64 {
        let (left, right) = match side {
            Side::Left => (GATE[0] + INNER_MM.0, GATE[0] + INNER_MM.1),
            _ => (GATE[2] - INNER_MM.1, GATE[2] - INNER_MM.0),
        };
        let middle = self.cells.mean(left, 13.5, right, 21.5).unwrap_or(0.0);
        let edges =
            [self.cells.mean(left, 0.4, right, 1.8), self.cells.mean(left, FILM_MM - 1.8, right, FILM_MM - 0.4)];
        let edges: Vec<f64> = edges.into_iter().flatten().collect();
        let mean = edges.iter().sum::<f64>() / edges.len().max(1) as f64;
        if middle > 1e-6 { mean / middle } else { 1.0 }
    }

    /// Median density within the gate.
    pub(super) fn gate_median(&self) -> f64 {
        let mut values: Vec<f64> = self
            .cells
            .each()
            .filter(|(column, row, _)| {
                let (x, y) = Cells::place(*column, *row);
                x > GATE[0] + 1.0 && x < GATE[2] - 1.0 && y > GATE[1] + 1.0 && y < GATE[3] - 1.0
            })
            .map(|(.., density)| density)
            .collect();
        values.sort_by(f64::total_cmp);
        values.get(values.len() / 2).copied().unwrap_or(0.0)
    }

    /// The densest place well inside the gate, each cell taken with its neighbours.
    pub(super) fn centre_most(&self) -> f64 {
        let inside = |x: f64, y: f64| {
            x > GATE[0] + CENTRE_MM && x < GATE[2] - CENTRE_MM && y > GATE[1] + CENTRE_MM && y < GATE[3] - CENTRE_MM
        };
        self.cells
            .each()
            .zip(smoothed(&self.cells))
            .filter(|((column, row, _), _)| {
                let (x, y) = Cells::place(*column, *row);
                inside(x, y)
            })
            .map(|(_, density)| density)
            .fold(0.0, f64::max)
    }

    /// The densest cell, each taken with its neighbours.
    pub(super) fn peak(&self) -> f64 {
        smoothed(&self.cells).into_iter().fold(0.0, f64::max)
    }

    /// Compact places within the gate, the densest first: cells that exceed the ring 2.5 to 6 mm about them.
    pub(super) fn spots(&self, threshold: f64) -> Vec<Spot> {
        let mut spots: Vec<Spot> = Vec::new();
        let mut cells: Vec<(usize, usize, f64)> = self
            .cells
            .each()
            .filter(|(column, row, density)| {
                let (x, y) = Cells::place(*column, *row);
                *density > threshold && x > GATE[0] + 1.2 && x < GATE[2] - 1.2 && y > GATE[1] + 1.2 && y < GATE[3] - 1.2
            })
            .collect();
        cells.sort_by(|a, b| b.2.total_cmp(&a.2));
        let round = ring_of_cells();
        for (column, row, peak) in cells {
            let (x, y) = Cells::place(column, row);
            if spots.iter().any(|spot| libm::hypot(spot.x - x, spot.y - y) < NEAR_MM) {
                continue;
            }
            let ring = self.ring(column, row, &round);
            if peak - ring > 0.4 * peak && peak - ring > threshold * 0.8 {
                spots.push(self.spot(x, y, peak, ring));
            }
            if spots.len() > 24 {
                break;
            }
        }
        spots
    }

    /// Mean of the cells within the gate that lie on the ring about one; 0 where there are none.
    fn ring(&self, column: usize, row: usize, round: &[(isize, isize)]) -> f64 {
        let (mut ring, mut count) = (0.0, 0.0);
        for (across, down) in round {
            let place = column.checked_add_signed(*across).zip(row.checked_add_signed(*down));
            let Some((column, row)) = place else { continue };
            let (x, y) = Cells::place(column, row);
            let inside = x > GATE[0] && x < GATE[2] && y > GATE[1] && y < GATE[3];
            if let Some(density) = self.cells.at(column, row).filter(|_| inside) {
                ring += density;
                count += 1.0;
            }
        }
        if count > 0.0 { ring / count } else { 0.0 }
    }

    fn spot(&self, x: f64, y: f64, peak: f64, ring: f64) -> Spot {
        let near = self.cells.each().filter_map(|(column, row, density)| {
            let (cx, cy) = Cells::place(column, row);
            (libm::hypot(cx - x, cy - y) < NEAR_MM).then_some((cx - x, cy - y, density))
        });
        // Second moments of what stands out of the ring.
        let (mut sum, mut xx, mut yy, mut xy) = (0.0, 0.0, 0.0, 0.0);
        for (dx, dy, density) in near {
            let weight = (density - ring - 0.25 * (peak - ring)).max(0.0);
            sum += weight;
            xx += weight * dx * dx;
            yy += weight * dy * dy;
            xy += weight * dx * dy;
        }
        let elongation = if sum > 0.0 {
            let (xx, yy, xy) = (xx / sum + 0.04, yy / sum + 0.04, xy / sum);
            let root = ((xx - yy) * (xx - yy) / 4.0 + xy * xy).sqrt();
            let (long, short) = ((xx + yy) / 2.0 + root, ((xx + yy) / 2.0 - root).max(0.01));
            (long / short).sqrt()
        } else {
            1.0
        };
        Spot { x, y, peak, ring, elongation }
    }
}
