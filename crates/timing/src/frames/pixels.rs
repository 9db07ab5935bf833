//! From the pixels of one frame to the mean light of three strips across the curtain's travel: every pixel is made linear
//! first, then averaged.
//!
//! The order matters: where the shutter's edge lies inside a strip, a mean of codes is not the code of the mean. Not here:
//! getting the pixels out of a clip, and what the strips say about the shutter.

use super::curve::{Curve, Range};
use crate::error::Error;

/// A strip is at most this part of the picture in either direction, so that it is at most this part of the sensor's readout,
/// whichever way that runs.
pub const WIDEST_STRIP: f64 = 0.12;
/// Where the strips lie along the patch: their middles, as parts of its length.
const CENTRES: [f64; 3] = [0.12, 0.5, 0.88];
/// Weights of red, green and blue in the light of a pixel: Recommendation ITU-R BT.709-6, item 3.2.
const WEIGHTS: [f64; 3] = [0.2126, 0.7152, 0.0722];

/// Three tables of 256 entries: what a red, green and blue code add to a pixel's light.
#[derive(Clone, Debug)]
pub struct Lineariser {
    red: [f64; 256],
    green: [f64; 256],
    blue: [f64; 256],
    white: u8,
    black: u8,
    exponent: f64,
}

impl Lineariser {
    /// Tables for a curve, a range of codes and a tone exponent: 1, or what [`super::tone`] found.
    ///
    /// **Errors** where the exponent is outside the range of [`super::tone`].
    pub fn new(curve: Curve, range: Range, exponent: f64) -> Result<Self, Error> {
        let exponent = super::tone::checked_exponent(exponent)?;
        let mut light = [0.0; 256];
        for (code, entry) in light.iter_mut().enumerate() {
            let linear = curve.light(range.signal(code as f64));
            *entry = if exponent == 1.0 { linear } else { libm::pow(linear, exponent) };
        }
        Ok(Self {
            red: light.map(|value| WEIGHTS[0] * value),
            green: light.map(|value| WEIGHTS[1] * value),
            blue: light.map(|value| WEIGHTS[2] * value),
            white: range.white(),
            black: range.black(),
            exponent,
        })
    }

    /// The exponent in the tables, for [`super::Table::with_exponent`].
    pub const fn exponent(&self) -> f64 {
        self.exponent
    }

    /// Light of one pixel, 0 to 1.
    pub fn light(&self, red: u8, green: u8, blue: u8) -> f64 {
        self.red[usize::from(red)] + self.green[usize::from(green)] + self.blue[usize::from(blue)]
    }
}

/// Which way the curtain travels across the picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Axis {
    /// From side to side.
    X,
    /// Up or down.
    Y,
}

/// Where the frame's window lies in the picture \[pixels\].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Patch {
    /// Left edge.
    pub x: u32,
    /// Upper edge.
    pub y: u32,
    /// Width.
    pub width: u32,
    /// Height.
    pub height: u32,
}

/// Where the strips lie.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Layout {
    /// Which way the curtain travels.
    pub axis: Axis,
    /// The lit window that the strips divide.
    pub patch: Patch,
}

impl Layout {
    /// The rectangles of the strips left, middle and right (for travel up or down: upper, middle, lower), so that they can be
    /// drawn over the picture.
    ///
    /// **Errors** where the patch does not lie in the picture or is less than 16 pixels long or 2 across.
    pub fn strips(&self, width: u32, height: u32) -> Result<[Patch; 3], Error> {
        let patch = self.patch;
        let inside = |at: u32, length: u32, whole: u32| at.checked_add(length).is_some_and(|end| end <= whole);
        if !inside(patch.x, patch.width, width) || !inside(patch.y, patch.height, height) {
            return Err(Error::new(format!(
                "the patch must lie in the picture of {width} by {height} pixels, and {} by {} at {}, {} was given",
                patch.width, patch.height, patch.x, patch.y
            )));
        }
        let (along, across, whole_along, whole_across) = match self.axis {
            Axis::X => (patch.width, patch.height, width, height),
            Axis::Y => (patch.height, patch.width, height, width),
        };
        if along < 16 || across < 2 {
            return Err(Error::new(format!(
                "the patch must be 16 pixels long along the curtain's travel and 2 across it, and {along} by {across} was given"
            )));
        }
        let thick = at_least_one(WIDEST_STRIP * f64::from(along.min(whole_along)));
        let long = at_least_one((WIDEST_STRIP * f64::from(whole_across)).min(f64::from(across)));
        let side = (across - long.min(across)) / 2;
        Ok(CENTRES.map(|centre| {
            let from = (centre * f64::from(along) - f64::from(thick) / 2.0).max(0.0) as u32;
            let from = from.min(along - thick.min(along));
            match self.axis {
                Axis::X => Patch { x: patch.x + from, y: patch.y + side, width: thick, height: long },
                Axis::Y => Patch { x: patch.x + side, y: patch.y + from, width: long, height: thick },
            }
        }))
    }
}

fn at_least_one(length: f64) -> u32 {
    (length as u32).max(1)
}

/// Mean light of the three strips of one frame.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StripMeans {
    /// Left (or upper) strip, 0 to 1.
    pub left: f64,
    /// Middle strip, 0 to 1.
    pub middle: f64,
    /// Right (or lower) strip, 0 to 1.
    pub right: f64,
    /// Share of pixels with a colour clipped to white, in the strip that has most.
    pub clipped_share: f64,
    /// Share of pixels that are black and tell nothing more, over all three strips.
    pub dark_share: f64,
}

/// Mean light of three strips of a frame given as red, green, blue and opacity, 8 bits each, row by row.
///
/// **Errors** where the pixels are not `4·width·height` bytes, or as [`Layout::strips`]. Opacity is not looked at.
pub fn strips_of_rgba(
    rgba: &[u8],
    width: u32,
    height: u32,
    layout: &Layout,
    lineariser: &Lineariser,
) -> Result<StripMeans, Error> {
    let bytes = u64::from(width) * u64::from(height) * 4;
    if rgba.len() as u64 != bytes {
        return Err(Error::new(format!(
            "a picture of {width} by {height} pixels needs {bytes} bytes, and {} were given",
            rgba.len()
        )));
    }
    let strips = layout.strips(width, height)?;
    let [left, middle, right] = strips.map(|strip| mean_of_strip(rgba, width as usize, strip, lineariser));
    let pixels = left.pixels + middle.pixels + right.pixels;
    Ok(StripMeans {
        left: left.light,
        middle: middle.light,
        right: right.light,
        clipped_share: left.clipped.max(middle.clipped).max(right.clipped),
        dark_share: (left.dark + middle.dark + right.dark) as f64 / pixels.max(1) as f64,
    })
}

struct Mean {
    light: f64,
    clipped: f64,
    dark: u64,
    pixels: u64,
}

fn mean_of_strip(rgba: &[u8], width: usize, strip: Patch, lineariser: &Lineariser) -> Mean {
    let (mut sum, mut clipped, mut dark, mut pixels) = (0.0, 0_u64, 0_u64, 0_u64);
    let rows = rgba.chunks_exact((width * 4).max(4)).skip(strip.y as usize).take(strip.height as usize);
    for row in rows {
        let from = strip.x as usize * 4;
        let Some(row) = row.get(from..from + strip.width as usize * 4) else { continue };
        for pixel in row.chunks_exact(4) {
            let &[red, green, blue, _] = pixel else { continue };
            sum += lineariser.light(red, green, blue);
            let most = red.max(green).max(blue);
            clipped += u64::from(most > lineariser.white);
            dark += u64::from(most <= lineariser.black);
            pixels += 1;
        }
    }
    let count = pixels.max(1) as f64;
    Mean { light: sum / count, clipped: clipped as f64 / count, dark, pixels }
}

#[cfg(test)]
mod tests {
    use super::*;

    const WHOLE: Layout = Layout { axis: Axis::X, patch: Patch { x: 0, y: 0, width: 200, height: 100 } };

    fn picture(shade: impl Fn(u32, u32) -> u8) -> Vec<u8> {
        (0..100)
            .flat_map(|y| (0..200).map(move |x| (x, y)))
            .flat_map(|(x, y)| [shade(x, y), shade(x, y), shade(x, y), 255])
            .collect()
    }

    #[test]
    fn strips_lie_where_they_should_and_stay_narrow() {
        let [left, middle, right] = WHOLE.strips(200, 100).expect("strips");
        assert_eq!(left, Patch { x: 12, y: 44, width: 24, height: 12 });
        assert_eq!(middle, Patch { x: 88, y: 44, width: 24, height: 12 });
        assert_eq!(right, Patch { x: 164, y: 44, width: 24, height: 12 });
        let upright = Layout { axis: Axis::Y, ..WHOLE }.strips(200, 100).expect("strips");
        assert_eq!(upright[0], Patch { x: 88, y: 6, width: 24, height: 12 });
        let small = Layout { axis: Axis::X, patch: Patch { x: 190, y: 0, width: 10, height: 10 } };
        assert!(small.strips(200, 100).is_err());
        let outside = Layout { axis: Axis::X, patch: Patch { x: u32::MAX, y: 0, width: 100, height: 10 } };
        assert!(outside.strips(200, 100).is_err());
    }

    #[test]
    fn light_is_averaged_not_codes() {
        // Half of each strip black, half at white: half the light, while the mean code would give a quarter.
        let lineariser = Lineariser::new(Curve::Bt709, Range::Full, 1.0).expect("tables");
        let rgba = picture(|_, y| if y % 2 == 0 { 0 } else { 250 });
        let means = strips_of_rgba(&rgba, 200, 100, &WHOLE, &lineariser).expect("means");
        let white = Curve::Bt709.light(250.0 / 255.0);
        assert!((means.middle - white / 2.0).abs() < 1e-12 && means.left == means.right);
        assert_eq!((means.clipped_share, means.dark_share), (0.0, 0.5));
        let rgba = picture(|x, _| if x < 100 { 255 } else { 60 });
        let means = strips_of_rgba(&rgba, 200, 100, &WHOLE, &lineariser).expect("means");
        assert_eq!(means.clipped_share, 1.0);
        assert!((means.left - 1.0).abs() < 1e-12 && means.right < 0.08);
    }

    #[test]
    fn an_exponent_acts_on_each_pixel_and_wrong_sizes_are_refused() {
        let plain = Lineariser::new(Curve::Linear, Range::Full, 1.0).expect("tables");
        let bent = Lineariser::new(Curve::Linear, Range::Full, 1.25).expect("tables");
        let shade = plain.light(128, 128, 128);
        assert!((bent.light(128, 128, 128) - libm::pow(shade, 1.25)).abs() < 1e-12);
        assert!(Lineariser::new(Curve::Linear, Range::Full, f64::NAN).is_err());
        assert!(strips_of_rgba(&[0; 16], 200, 100, &WHOLE, &plain).is_err());
    }
}
