//! The colour of a film's base against the bare light table, from a small view of the photo: the orange mask of a colour negative.
//!
//! *Equation:* density of a channel = log10(table) − log10(base), the table by the brightest, the base by the middle of what lies in
//! the margins. *Source:* a mask absorbs blue most and red least (common practice); the limit between them is set by hand. Not here:
//! density of the frame, which goes by luminance ([`super::density`]).

use super::homography::Homography;
use super::{FILM_MM, GATE, Strip};
use crate::error::Error;
use crate::raster::View;
use crate::transfer::Curve;

/// Blue over red density from which a base is masked.
const MASK: f64 = 0.25;
/// Points along each margin, and rows of them \[mm from the film's edge\].
const ALONG: usize = 240;
const ROWS_MM: [f64; 4] = [0.9, 1.3, 3.0, 3.6];

/// The base of a film.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tint {
    /// Density of the base in red, green and blue.
    pub base: [f64; 3],
    /// Whether it has the orange mask of a colour negative.
    pub masked: bool,
}

/// The base's colour. The corners are those of the gate in pixels of the view, as in [`super::lay_out`].
pub fn tint(view: &View<'_>, corners_px: &[(f64, f64); 4]) -> Result<Tint, Error> {
    let millimetres = [(GATE[0], GATE[1]), (GATE[2], GATE[1]), (GATE[2], GATE[3]), (GATE[0], GATE[3])];
    let map = Homography::of(&millimetres, corners_px)?;
    let (bytes, size) = (view.layout().bytes(), view.size());
    let table = Curve::Srgb.table();
    let mut channels: [Vec<f64>; 3] = Default::default();
    for i in 0..ALONG {
        let (x, _) = Strip::place(i * (Strip::width() - 1) / (ALONG - 1), 0);
        for from_edge in ROWS_MM {
            for y in [from_edge, FILM_MM - from_edge] {
                let (px, py) = map.at(x, y);
                if !(px >= 0.0 && py >= 0.0 && px < f64::from(size.width()) && py < f64::from(size.height())) {
                    continue;
                }
                let pixel = view.row(py as u32, px as u32, 1);
                for (n, channel) in channels.iter_mut().enumerate() {
                    let code = if bytes >= 3 { pixel.get(n) } else { pixel.first() };
                    channel.push(code.map_or(0.0, |code| table[usize::from(*code)]));
                }
            }
        }
    }
    let base = channels.map(|mut values| {
        values.sort_by(f64::total_cmp);
        let level = |share: f64| values.get((values.len() as f64 * share) as usize).copied().unwrap_or(1.0).max(1e-4);
        // Some four in five of the points lie on the film, the others in holes.
        libm::log10(level(0.95) / level(0.35))
    });
    Ok(Tint { base, masked: base[2] - base[0] > MASK })
}
