//! A photo of developed film on a light table, laid out in millimetres of the film: density, holes, gate.
//!
//! *Equations:* photo pixel = H·(x, y, 1) with the homography H of the gate's four corners; density `D = log10 T0 − log10 Y` with T0
//! the light table's own brightness as a quadratic surface. *Symbols:* x, y \[mm\] along and across the film, the gate's upper left
//! corner at (0, 5.5); Y luminance of the photo. Valid for 135 film with its perforation, and with less to be told for roll film, whose
//! gate is stretched to the same place. *Source:* film and perforation of ISO 1007 (from memory). Not here: what fogs it ([`crate::fog`]), how evenly it was exposed ([`crate::evenness`]).

mod density;
mod homography;
mod kind;
mod tint;

pub(crate) use density::CELL_MM;
pub use density::{Cells, Density, Reference, density};
pub use kind::{Holes, holes};
pub use tint::{Tint, tint};

use core::ops::Range;

use crate::error::Error;
use crate::raster::Plane;
use homography::Homography;

/// Canvas pixels of a millimetre.
pub(crate) const PX_PER_MM: f64 = 16.0;
/// What the canvas holds \[mm\]: the gate with three millimetres of its neighbours on each side, the whole width of the film.
pub(crate) const LEFT_MM: f64 = -3.0;
pub(crate) const TOP_MM: f64 = -1.5;
const WIDTH: usize = 672;
const HEIGHT: usize = 608;
/// The gate \[mm\]: left, top, right, bottom.
pub(crate) const GATE: [f64; 4] = [0.0, 5.5, 36.0, 29.5];
/// Width of the film \[mm\].
pub(crate) const FILM_MM: f64 = 35.0;
/// A photo finer than this against the canvas is averaged down first.
const FINER: f64 = 1.6;
/// Least light that a logarithm is taken of.
const LEAST: f32 = 1e-5;
/// Columns in which a film's edge is looked for, and how far from where it should be \[mm\].
const STRIPS: usize = 12;
const EDGE_MM: f64 = 1.1;
/// A step of density that counts as an edge.
const EDGE_STEP: f64 = 0.08;

/// Width of roll film \[mm\] (common practice, from memory).
const ROLL_MM: f64 = 61.5;
/// Gates of roll film: the least and the largest side \[mm\].
const ROLL_GATE_MM: (f64, f64) = (36.0, 60.0);

/// The film: with perforation, whose holes are a reference and whose measures are known, or without.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Format {
    /// 135, 24 × 36 mm.
    Perforated,
    /// Roll film: the gate's height across the film \[mm\]. The canvas is stretched so that the gate fills the same place.
    Roll {
        /// Across the film \[mm\].
        gate_mm: f64,
    },
}

impl Format {
    /// Roll film. **Errors** where the gate's height is not 36 to 60 mm.
    pub fn roll(gate_mm: f64) -> Result<Self, Error> {
        if (ROLL_GATE_MM.0..=ROLL_GATE_MM.1).contains(&gate_mm) {
            Ok(Format::Roll { gate_mm })
        } else {
            Err(Error::new(format!(
                "the gate of roll film must be {} to {} mm high, and {gate_mm} was given",
                ROLL_GATE_MM.0, ROLL_GATE_MM.1
            )))
        }
    }

    /// Upper and lower edge of the film on the canvas \[mm\].
    pub(crate) fn edges(self) -> (f64, f64) {
        match self {
            Format::Perforated => (0.0, FILM_MM),
            Format::Roll { gate_mm } => {
                let height = GATE[3] - GATE[1];
                let margin = (ROLL_MM - gate_mm) / 2.0 * height / gate_mm;
                ((GATE[1] - margin).max(TOP_MM + 2.0), (GATE[3] + margin).min(FILM_MM + TOP_MM.abs() - 2.0))
            }
        }
    }

    /// What of a margin can be relied on: from and to \[mm from the film's edge\].
    pub(crate) fn margin(self) -> (f64, f64) {
        match self {
            Format::Perforated => (0.5, 5.0),
            Format::Roll { .. } => (0.2, (GATE[1] - self.edges().0 - 0.2).max(0.6)),
        }
    }
}

/// The film, laid out.
#[derive(Clone, Debug)]
pub struct Strip {
    /// log10 of the luminance, row by row.
    pub(crate) log: Vec<f32>,
    /// Which film it is.
    pub format: Format,
    /// Whether the film's edges were found, so that clicks beside the corner do not matter.
    pub edges_found: bool,
    /// The gate's corners as they were taken, in pixels of the plane: those given, moved to the film's edges.
    pub corners_px: [(f64, f64); 4],
}

impl Strip {
    /// Numbers of a laid-out film.
    pub const PIXELS: usize = WIDTH * HEIGHT;

    /// A film that was laid out before, from what [`Strip::into_log`] gave. **Errors** where that is not as long, or no number.
    pub fn from_log(log: Vec<f32>, format: Format, edges_found: bool) -> Result<Self, Error> {
        if log.len() != Self::PIXELS || log.iter().any(|value| !value.is_finite()) {
            return Err(Error::new(format!(
                "a film that was laid out must have {} finite values, and {} were given",
                Self::PIXELS,
                log.len()
            )));
        }
        Ok(Self { log, format, edges_found, corners_px: [(0.0, 0.0); 4] })
    }

    /// log10 of the luminance, row by row.
    pub fn into_log(self) -> Vec<f32> {
        self.log
    }

    pub(crate) const fn width() -> usize {
        WIDTH
    }

    pub(crate) const fn height() -> usize {
        HEIGHT
    }

    /// Where a canvas pixel's middle lies \[mm\].
    pub(crate) fn place(column: usize, row: usize) -> (f64, f64) {
        (LEFT_MM + (column as f64 + 0.5) / PX_PER_MM, TOP_MM + (row as f64 + 0.5) / PX_PER_MM)
    }
}

/// How often a photo is averaged down before it is laid out, from the gate's corners in its own pixels.
pub fn reduction(corners_px: &[(f64, f64); 4]) -> u32 {
    let [tl, tr, ..] = corners_px;
    let finer = libm::hypot(tr.0 - tl.0, tr.1 - tl.1) / (GATE[2] * PX_PER_MM);
    if finer > FINER { (finer.min(64.0)) as u32 } else { 1 }
}

/// Lays a photo out by the gate's corners: upper left, upper right, lower right, lower left, in pixels of the plane as it is.
///
/// **Errors** where the corners are crossed or turned, lie on one line, or the gate is smaller than 100 pixels across.
pub fn lay_out(plane: &Plane, corners_px: &[(f64, f64); 4], format: Format) -> Result<Strip, Error> {
    const SMALLEST: f64 = 100.0;
    let turns = (0..4).map(|i| {
        let (a, b, c) = (corners_px[i], corners_px[(i + 1) % 4], corners_px[(i + 2) % 4]);
        (b.0 - a.0) * (c.1 - b.1) - (b.1 - a.1) * (c.0 - b.0)
    });
    if !corners_px.iter().all(|(x, y)| x.is_finite() && y.is_finite()) || !turns.into_iter().all(|turn| turn > 0.0) {
        return Err(Error::new(
            "the gate's corners must go round it: upper left, upper right, lower right, lower left",
        ));
    }
    let across = libm::hypot(corners_px[1].0 - corners_px[0].0, corners_px[1].1 - corners_px[0].1);
    if across < SMALLEST {
        return Err(Error::new(format!("the gate must be {SMALLEST} pixels wide at least, and {across:.0} was given")));
    }
    let millimetres = [(GATE[0], GATE[1]), (GATE[2], GATE[1]), (GATE[2], GATE[3]), (GATE[0], GATE[3])];
    let map = Homography::of(&millimetres, corners_px)?;
    let (first, last) = format.edges();
    // The edges are looked for first, and nothing else of this layout is needed where they are found.
    let mut plain = vec![0.0; WIDTH * HEIGHT];
    for height_mm in [first, last] {
        let (from, to) = rows_of_edge(height_mm);
        sample(plane, &map, |_, y| y, from - 3..to + 3, &mut plain);
    }
    let (Some(top), Some(bottom)) = (edge(&plain, first), edge(&plain, last)) else {
        sample(plane, &map, |_, y| y, 0..HEIGHT, &mut plain);
        return Ok(Strip { log: plain, format, edges_found: false, corners_px: *corners_px });
    };
    // What a click was off across the film, at its upper and lower edge, is taken out along straight lines.
    let bend = |x: f64, y: f64| {
        let (upper, lower) = (top.0 + top.1 * x, bottom.0 + bottom.1 * x);
        y + upper + (lower - upper) * (y - first) / (last - first)
    };
    let mut snapped = vec![0.0; WIDTH * HEIGHT];
    sample(plane, &map, bend, 0..HEIGHT, &mut snapped);
    let moved = millimetres.map(|(x, y)| map.at(x, bend(x, y)));
    Ok(Strip { log: snapped, format, edges_found: true, corners_px: moved })
}

/// Canvas pixels of some rows, found in the photo by bilinear reading; what lies beside the photo takes its nearest pixel.
///
/// Row by row in passes of one kind each: the places, which come several at a time, the photo's pixels, the logarithms.
fn sample(plane: &Plane, map: &Homography, bend: impl Fn(f64, f64) -> f64, rows: Range<usize>, log: &mut [f32]) {
    let (width, height) = (plane.size.width() as usize, plane.size.height() as usize);
    let (right, bottom) = ((width - 1) as f64, (height - 1) as f64);
    let mut places = [(0.0, 0.0); WIDTH];
    for (row, values) in rows.clone().zip(log.chunks_exact_mut(WIDTH).skip(rows.start)) {
        for (column, place) in places.iter_mut().enumerate() {
            let (x, y) = Strip::place(column, row);
            let (px, py) = map.at(x, bend(x, y));
            *place = ((px - 0.5).clamp(0.0, right), (py - 0.5).clamp(0.0, bottom));
        }
        for (value, &(px, py)) in values.iter_mut().zip(&places) {
            let (x, y) = (px as u32 as usize, py as u32 as usize);
            let (fx, fy) = ((px - x as f64) as f32, (py - y as f64) as f32);
            let at = |x: usize, y: usize| plane.light.get(y * width + x).copied().unwrap_or(0.0);
            let (x1, y1) = ((x + 1).min(width - 1), (y + 1).min(height - 1));
            let upper = at(x, y) * (1.0 - fx) + at(x1, y) * fx;
            let lower = at(x, y1) * (1.0 - fx) + at(x1, y1) * fx;
            let light = upper * (1.0 - fy) + lower * fy;
            *value = if light > LEAST { light } else { LEAST };
        }
        for value in values {
            *value = libm::log10f(*value);
        }
    }
}

/// First and last row of the canvas in which the film's edge near a height is looked for.
fn rows_of_edge(height_mm: f64) -> (usize, usize) {
    let row_of = |y: f64| ((y - TOP_MM) * PX_PER_MM).round();
    (row_of(height_mm - EDGE_MM).max(3.0) as usize, (row_of(height_mm + EDGE_MM) as usize).min(HEIGHT - 4))
}

/// Where the film's edge near a height really lies, less that height \[mm\]: offset and slope along the film. Nothing where fewer than
/// half of the strips show one.
fn edge(log: &[f32], height_mm: f64) -> Option<(f64, f64)> {
    let outward = if height_mm > FILM_MM / 2.0 { 1.0 } else { -1.0 };
    let mut found = Vec::new();
    for strip in 0..STRIPS {
        let (from, to) = (strip as f64 * GATE[2] / STRIPS as f64, (strip + 1) as f64 * GATE[2] / STRIPS as f64);
        let columns = ((from - LEFT_MM) * PX_PER_MM) as usize..((to - LEFT_MM) * PX_PER_MM) as usize;
        let mean = |row: usize| -> f64 {
            let line = &log[row * WIDTH..(row + 1) * WIDTH];
            columns.clone().map(|column| f64::from(line[column])).sum::<f64>() / columns.len().max(1) as f64
        };
        let (first, last) = rows_of_edge(height_mm);
        let best = (first..=last)
            .map(|row| (row, outward * (mean(row + 2) - mean(row - 3))))
            .max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((row, step)) = best
            && step > EDGE_STEP
        {
            found.push(((from + to) / 2.0, TOP_MM + row as f64 / PX_PER_MM - height_mm));
        }
    }
    if found.len() < STRIPS / 2 {
        return None;
    }
    // The median line first, then one through what lies near it.
    let mut offsets: Vec<f64> = found.iter().map(|(_, off)| *off).collect();
    offsets.sort_by(f64::total_cmp);
    let middle = offsets[offsets.len() / 2];
    found.retain(|(_, off)| (off - middle).abs() < 0.4);
    let n = found.len() as f64;
    let (mx, my) = (found.iter().map(|p| p.0).sum::<f64>() / n, found.iter().map(|p| p.1).sum::<f64>() / n);
    let below: f64 = found.iter().map(|p| (p.0 - mx) * (p.0 - mx)).sum();
    let slope = if below > 1.0 { found.iter().map(|p| (p.0 - mx) * (p.1 - my)).sum::<f64>() / below } else { 0.0 };
    Some((my - slope * mx, slope))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::raster::Size;

    #[test]
    fn corners_that_do_not_go_round_are_refused() {
        let plane = Plane { size: Size::new(400, 300).expect("a size"), light: vec![0.5; 120_000] };
        let good = [(50.0, 50.0), (350.0, 50.0), (350.0, 250.0), (50.0, 250.0)];
        let strip = lay_out(&plane, &good, Format::Perforated).expect("laid out");
        assert!(!strip.edges_found && strip.log.len() == WIDTH * HEIGHT);
        for bad in [
            [good[1], good[0], good[2], good[3]],
            [good[0], good[3], good[2], good[1]],
            [(0.0, 0.0), (1.0, 1.0), (2.0, 2.0), (3.0, 3.0)],
            [(0.0, 0.0), (50.0, 0.0), (50.0, 30.0), (0.0, 30.0)],
            [(f64::NAN, 0.0), good[1], good[2], good[3]],
        ] {
            assert!(lay_out(&plane, &bad, Format::Perforated).is_err(), "{bad:?}");
        }
        assert_eq!((reduction(&good), reduction(&good.map(|(x, y)| (x * 20.0, y * 20.0)))), (1, 10));
    }
}
