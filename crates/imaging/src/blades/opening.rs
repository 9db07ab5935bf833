//! One opening, lit from behind: its area by the light that each pixel of its edge lets through, and its outline.
//!
//! *Equation:* coverage `α = (Y − B)/(F − B)`, area `Σα` \[pixels\]; Y light of a pixel, F a quadratic through the lit core, B a
//! plane through the dark ring about it. A pixel half covered counts a half, which holds in light and not in codes. *Valid* for
//! openings of 25 pixels radius and more against a field that is not clipped. Not here: f-numbers ([`super::series`]).

use super::region::Mask;
use super::surface::{Shape, Surface};
use crate::error::Error;
use crate::notice::Notice;
use crate::raster::Plane;
use crate::transfer::Curve;

/// Rays of the outline.
pub(super) const RAYS: usize = 360;
/// The field must be so many times as bright as the dark.
const CONTRAST_NEEDED: f64 = 4.0;
const CONTRAST_WANTED: f64 = 6.0;
/// Share of clipped pixels from which a field is spoken of.
const CLIPPED: f64 = 0.005;
const CLIPPED_CODE: f64 = 250.0;
/// How far about the tap the field is looked for \[pixels\].
const TAP: u32 = 8;
const TAP_REACH: u32 = 24;
/// A radius from which on the stated doubt holds \[pixels\].
const SMALLEST_RADIUS: f64 = 12.0;
/// Share of a ring's pixels that may be brighter than the dark by a tenth of the field.
const REFLECTION: f64 = 0.02;

/// What one photo gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Opening {
    /// Area \[pixels of the plane\].
    pub area_px: f64,
    /// Length of its edge \[pixels of the plane\].
    pub perimeter_px: f64,
    /// How far the edge may be shifted by the phone's tone curve, one standard uncertainty \[pixels of the plane\].
    pub edge_doubt_px: f64,
    /// Relative standard uncertainty of the area from all else.
    pub noise: f64,
    /// Where its middle lies in the plane \[pixels\].
    pub centre_px: (f64, f64),
    /// Distance of the edge from the middle along each of [`Opening::OUTLINE`] rays, from the right on and clockwise as seen
    /// \[pixels\].
    pub outline_px: Vec<f64>,
    /// What was noticed.
    pub notices: Vec<Notice>,
}

impl Opening {
    /// Number of rays of an outline.
    pub const OUTLINE: usize = RAYS;

    /// Relative standard uncertainty of the area by itself.
    pub fn relative_uncertainty(&self) -> f64 {
        let shift = self.edge_doubt_px * self.perimeter_px / self.area_px;
        (shift * shift + self.noise * self.noise).sqrt()
    }

    /// Whether a notice with this code is there.
    pub fn has(&self, code: &str) -> bool {
        self.notices.iter().any(|notice| notice.code == code)
    }
}

fn percentile(values: &mut [f32], share: f64) -> f64 {
    if values.is_empty() {
        return 0.0;
    }
    let at = ((values.len() - 1) as f64 * share).round() as usize;
    f64::from(*values.select_nth_unstable_by(at, f32::total_cmp).1)
}

/// Measures the opening about a tap, in pixels of the plane. **Errors** where no opening is there, or it is too small or not
/// bright enough.
pub fn measure(plane: &Plane, tap: (f64, f64)) -> Result<Opening, Error> {
    let (seed, field, dark) = find(plane, tap)?;
    let mut notices = Vec::new();
    if field < CONTRAST_WANTED * dark {
        notices.push(Notice::warning(
            "low_contrast",
            "The opening is hardly brighter than its surroundings. Darken the room, or mask the light beside the lens.",
        ));
    }
    let threshold = (dark + (field - dark) / 2.0) as f32;
    let rough = Mask::flood(plane, seed, threshold, 0);
    let radius = (rough.area() as f64 / core::f64::consts::PI).sqrt();
    if radius < SMALLEST_RADIUS {
        return Err(Error::new(format!(
            "the opening must have a radius of {SMALLEST_RADIUS} pixels at least, and one of {} was found",
            metrology::to_decimals(radius, 1)
        )));
    }
    let half_width = (0.30 * radius).clamp(6.0, 14.0);
    let mask = rough.widened((2.0 * half_width).ceil() as u32 + 2);
    if mask.touches_frame {
        notices.push(Notice::warning(
            "opening_touches_frame",
            "The opening reaches the edge of the picture, so that a part of it is missing. Move the phone back or aim anew.",
        ));
    }
    let zones = Zones::of(plane, &mask, half_width);
    let clipped = zones.core.iter().filter(|p| f64::from(p.2) >= Curve::Srgb.light(CLIPPED_CODE / 255.0)).count();
    if clipped as f64 > CLIPPED * zones.core.len() as f64 {
        notices.push(Notice::warning(
            "background_clipped",
            "The field behind the opening is burnt out, which makes small openings seem too large. Lower the exposure until it is \
             light grey, and take this picture again.",
        ));
    }
    let too_uneven =
        || Error::new("the light of the opening must be steady enough to be told from the dark, and it is not");
    let lit = Surface::fit(&zones.core, Shape::Quadratic).ok_or_else(too_uneven)?;
    let shade = Surface::fit(&zones.ring, Shape::Plane).ok_or_else(too_uneven)?;
    let reflected = zones.ring.iter().filter(|p| {
        let (x, y) = (f64::from(p.0), f64::from(p.1));
        f64::from(p.2) - shade.at(x, y) > 0.1 * (field - dark)
    });
    if reflected.count() as f64 > REFLECTION * zones.ring.len() as f64 {
        notices.push(Notice::warning(
            "reflection_near_opening",
            "Something bright is reflected beside the opening. Darken the room or turn the lens a little.",
        ));
    }
    let cover = Coverage::of(plane, &mask, &zones.depth, &lit, &shade, half_width, zones.core_depth);
    let (area, centre) = cover.area_and_centre().ok_or_else(too_uneven)?;
    let outline = cover.outline(centre, zones.covered_about(centre, mask.width));
    let edge = cover.edge_pixels();
    let perimeter: f64 = outline
        .iter()
        .zip(outline.iter().cycle().skip(1))
        .map(|(r, next)| {
            let step = core::f64::consts::TAU / RAYS as f64;
            ((next - r) * (next - r) + r * next * step * step).sqrt()
        })
        .sum();
    // Pixels between a tenth and nine tenths of coverage, over the length of the edge.
    let edge_width = edge / perimeter.max(1.0);
    let noise = lit.scatter / (field - dark) * (edge.max(1.0) * 2.0).sqrt() / area;
    Ok(Opening {
        area_px: area,
        perimeter_px: perimeter,
        edge_doubt_px: 0.08 + 0.06 * edge_width,
        noise: (noise * noise + 0.002 * 0.002).sqrt(),
        centre_px: (centre.0 + f64::from(mask.left), centre.1 + f64::from(mask.top)),
        outline_px: outline,
        notices,
    })
}

/// A pixel within the opening, the light of the field, and that of the dark.
fn find(plane: &Plane, tap: (f64, f64)) -> Result<((u32, u32), f64, f64), Error> {
    let (width, height) = (plane.size.width(), plane.size.height());
    let inside = |at: f64, side: u32| at >= 0.0 && at < f64::from(side);
    if !inside(tap.0, width) || !inside(tap.1, height) {
        return Err(Error::new(format!(
            "the tap must lie within the picture of {width} × {height} pixels, and {},{} was given",
            tap.0, tap.1
        )));
    }
    let tap = (tap.0 as u32, tap.1 as u32);
    let around = |reach: u32| {
        let rows = tap.1.saturating_sub(reach)..=(tap.1 + reach).min(height - 1);
        rows.flat_map(move |y| (tap.0.saturating_sub(reach)..=(tap.0 + reach).min(width - 1)).map(move |x| (x, y)))
    };
    let mut near: Vec<f32> = around(TAP).filter_map(|(x, y)| plane.at(x, y)).collect();
    let field = percentile(&mut near, 0.75);
    // Every so many pixels are enough for a percentile of the whole.
    let step = (plane.light.len() / 40_000).max(1);
    let mut all: Vec<f32> = plane.light.iter().copied().step_by(step).collect();
    let dark = percentile(&mut all, 0.10);
    if field < CONTRAST_NEEDED * dark || field <= 0.0 {
        return Err(Error::new(
            "there must be a bright opening at the tap, and it is not 4 times as bright as the dark of the picture",
        ));
    }
    let threshold = (dark + (field - dark) / 2.0) as f32;
    let distance = |(x, y): (u32, u32)| {
        let (x, y) = (i64::from(x) - i64::from(tap.0), i64::from(y) - i64::from(tap.1));
        x * x + y * y
    };
    around(TAP_REACH)
        .filter(|(x, y)| plane.at(*x, *y).is_some_and(|light| light > threshold))
        .min_by_key(|place| distance(*place))
        .map(|seed| (seed, field, dark))
        .ok_or_else(|| Error::new("there must be a bright opening at the tap, and there is none"))
}

/// The lit core, the dark ring, and the depth of every pixel of the window.
struct Zones {
    depth: Vec<f32>,
    core_depth: f64,
    core: Vec<(f32, f32, f32)>,
    ring: Vec<(f32, f32, f32)>,
}

impl Zones {
    fn of(plane: &Plane, mask: &Mask, half_width: f64) -> Self {
        let depth = mask.depth();
        let deepest = f64::from(depth.iter().copied().fold(0.0_f32, f32::max));
        let core_depth = half_width.min(0.45 * deepest);
        let (mut core, mut ring) = (Vec::with_capacity(mask.area()), Vec::new());
        for (at, depth) in depth.iter().enumerate() {
            let (x, y) = (at % mask.width, at / mask.width);
            let Some(light) = plane.at(mask.left + x as u32, mask.top + y as u32) else { continue };
            let depth = f64::from(*depth);
            let point = (x as f32, y as f32, light);
            if depth > core_depth {
                core.push(point);
            } else if depth < -half_width && depth > -2.0 * half_width {
                ring.push(point);
            }
        }
        Self { depth, core_depth, core, ring }
    }
}

impl Zones {
    /// How far about a place every pixel is certainly lit core \[pixels\]; below 0 where nothing is certain: in steps of 1 and √2 a
    /// depth falls by 1.0824 at most for each pixel of way.
    fn covered_about(&self, (x, y): (f64, f64), width: usize) -> f64 {
        const STEEPEST: f64 = 1.0824;
        let place = y.max(0.0) as usize * width + x.max(0.0) as usize;
        let depth = self.depth.get(place).copied().map_or(0.0, f64::from);
        // The place lies within its pixel, and reading between pixels reaches one further.
        (depth - self.core_depth) / STEEPEST - 4.0
    }
}

/// How far each pixel of the window is covered by the opening.
struct Coverage {
    width: usize,
    height: usize,
    alpha: Vec<f32>,
}

impl Coverage {
    fn of(
        plane: &Plane,
        mask: &Mask,
        depth: &[f32],
        lit: &Surface,
        shade: &Surface,
        half_width: f64,
        core_depth: f64,
    ) -> Self {
        let cover = |at: usize, depth: f64| {
            if depth > core_depth {
                return 1.0;
            }
            if depth < -half_width {
                return 0.0;
            }
            let (column, row) = (at % mask.width, at / mask.width);
            let light = plane.at(mask.left + column as u32, mask.top + row as u32).map_or(0.0, f64::from);
            let (x, y) = (column as f64, row as f64);
            let (lit, shade) = (lit.at(x, y), shade.at(x, y));
            // Not held between 0 and 1, so that noise averages out; a surface gone wild is held.
            ((light - shade) / (lit - shade).max(1e-6)).clamp(-1.0, 2.0)
        };
        let alpha = depth.iter().enumerate().map(|(at, depth)| cover(at, f64::from(*depth)) as f32).collect();
        Self { width: mask.width, height: mask.height, alpha }
    }

    fn area_and_centre(&self) -> Option<(f64, (f64, f64))> {
        let (mut area, mut x_sum, mut y_sum) = (0.0, 0.0, 0.0);
        for (y, row) in self.alpha.chunks_exact(self.width).enumerate() {
            let (mut own, mut own_x) = (0.0, 0.0);
            for (x, alpha) in row.iter().enumerate() {
                own += f64::from(*alpha);
                own_x += f64::from(*alpha) * x as f64;
            }
            area += own;
            x_sum += own_x;
            y_sum += own * y as f64;
        }
        (area > 1.0).then(|| (area, (x_sum / area, y_sum / area)))
    }

    /// Pixels between a tenth and nine tenths.
    fn edge_pixels(&self) -> f64 {
        self.alpha.iter().filter(|alpha| **alpha > 0.1 && **alpha < 0.9).count() as f64
    }

    /// Coverage between pixels, 0 outside the window.
    fn at(&self, x: f64, y: f64) -> f64 {
        let (left, top) = (x.floor(), y.floor());
        let (right, down) = (x - left, y - top);
        let pixel = |x: f64, y: f64| {
            let inside = x >= 0.0 && y >= 0.0 && x < self.width as f64 && y < self.height as f64;
            let at = if inside { self.alpha.get(y as usize * self.width + x as usize) } else { None };
            at.map_or(0.0, |alpha| f64::from(*alpha))
        };
        (1.0 - down) * ((1.0 - right) * pixel(left, top) + right * pixel(left + 1.0, top))
            + down * ((1.0 - right) * pixel(left, top + 1.0) + right * pixel(left + 1.0, top + 1.0))
    }

    /// Along each ray, where the coverage first falls below a half; it is whole as far as `covered`.
    fn outline(&self, centre: (f64, f64), covered: f64) -> Vec<f64> {
        const STEP: f64 = 0.25;
        let begin = (covered.max(0.0) / STEP).floor() * STEP;
        let farthest = (self.width + self.height) as f64;
        (0..RAYS)
            .map(|ray| {
                let angle = ray as f64 * core::f64::consts::TAU / RAYS as f64;
                let (cos, sin) = (libm::cos(angle), libm::sin(angle));
                let (mut r, mut before) = (begin, 1.0);
                while r < farthest {
                    let here = self.at(centre.0 + r * cos, centre.1 + r * sin);
                    if here < 0.5 {
                        let share = (before - 0.5) / (before - here).max(1e-9);
                        return (r - STEP + STEP * share).max(0.0);
                    }
                    before = here;
                    r += STEP;
                }
                r
            })
            .collect()
    }
}
