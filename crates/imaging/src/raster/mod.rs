//! The pixels of a picture: their number, a view of their bytes, regions, and which way up they stand.
//!
//! Rooms: [`View`], [`Region`], [`Size`] here; [`Orientation`]; [`Tally`] (light of a patch, strip by strip); [`Plane`] and
//! [`Reducer`] (luminance averaged down by areas, strip by strip). Codes are never averaged, light is. Not here: decoding files,
//! which the page's browser and the shell do.

mod orientation;
mod reduce;
mod tally;

pub use orientation::Orientation;
pub use reduce::{Plane, Reducer};
pub use tally::{PatchLight, Sums, Tally};

use crate::error::Error;

/// Longest side that is taken in \[pixels\]; no JPEG is longer.
pub const LONGEST_SIDE: u32 = 65_535;
/// Most pixels that are taken.
pub const MOST_PIXELS: u64 = 128_000_000;

/// Width and height of a picture \[pixels\].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Size {
    width: u32,
    height: u32,
}

impl Size {
    /// A size. **Errors** where a side is 0 or above [`LONGEST_SIDE`], or the picture has more than [`MOST_PIXELS`].
    pub fn new(width: u32, height: u32) -> Result<Self, Error> {
        if width == 0 || height == 0 || width > LONGEST_SIDE || height > LONGEST_SIDE {
            return Err(Error::new(format!(
                "the sides of a picture must be 1 to {LONGEST_SIDE} pixels, and {width} × {height} was given"
            )));
        }
        let size = Self { width, height };
        if size.pixels() > MOST_PIXELS {
            return Err(Error::new(format!(
                "a picture must have at most {} megapixels, and one of {} was given",
                MOST_PIXELS / 1_000_000,
                size.pixels().div_ceil(1_000_000)
            )));
        }
        Ok(size)
    }

    /// Width \[pixels\].
    pub const fn width(self) -> u32 {
        self.width
    }

    /// Height \[pixels\].
    pub const fn height(self) -> u32 {
        self.height
    }

    /// Number of pixels.
    pub const fn pixels(self) -> u64 {
        self.width as u64 * self.height as u64
    }

    /// Width and height changed about.
    pub const fn turned(self) -> Self {
        Self { width: self.height, height: self.width }
    }
}

/// Which bytes a pixel has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Layout {
    /// One byte of grey.
    Grey,
    /// Red, green, blue.
    Rgb,
    /// Red, green, blue, and an opacity that is not looked at.
    Rgba,
}

impl Layout {
    /// Bytes of a pixel.
    pub const fn bytes(self) -> usize {
        match self {
            Layout::Grey => 1,
            Layout::Rgb => 3,
            Layout::Rgba => 4,
        }
    }
}

/// The pixels of a picture or of a strip of it, row by row from the top, without gaps.
#[derive(Clone, Copy, Debug)]
pub struct View<'a> {
    size: Size,
    layout: Layout,
    bytes: &'a [u8],
}

impl<'a> View<'a> {
    /// A view. **Errors** where there are more or fewer bytes than the size wants.
    pub fn new(size: Size, layout: Layout, bytes: &'a [u8]) -> Result<Self, Error> {
        let wanted = size.pixels() * layout.bytes() as u64;
        if bytes.len() as u64 != wanted {
            return Err(Error::new(format!(
                "{} × {} pixels must have {wanted} bytes, and {} were given",
                size.width,
                size.height,
                bytes.len()
            )));
        }
        Ok(Self { size, layout, bytes })
    }

    /// Its size.
    pub const fn size(&self) -> Size {
        self.size
    }

    /// Which bytes a pixel has.
    pub const fn layout(&self) -> Layout {
        self.layout
    }

    /// The bytes of a row from a column on; nothing where they lie outside.
    pub fn row(&self, y: u32, from: u32, width: u32) -> &'a [u8] {
        let each = self.layout.bytes();
        let start = y as usize * self.size.width as usize + from as usize;
        let inside = y < self.size.height && from.checked_add(width).is_some_and(|end| end <= self.size.width);
        if inside { self.bytes.get(start * each..(start + width as usize) * each).unwrap_or(&[]) } else { &[] }
    }
}

/// A rectangle of pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Region {
    /// Its left column.
    pub x: u32,
    /// Its top row.
    pub y: u32,
    /// Columns, at least one.
    pub width: u32,
    /// Rows, at least one.
    pub height: u32,
}

impl Region {
    /// A rectangle of a picture. **Errors** where it is empty or reaches beyond the picture.
    pub fn new(x: u32, y: u32, width: u32, height: u32, within: Size) -> Result<Self, Error> {
        let fits = |at: u32, length: u32, side: u32| at.checked_add(length).is_some_and(|end| end <= side);
        if width == 0 || height == 0 || !fits(x, width, within.width) || !fits(y, height, within.height) {
            return Err(Error::new(format!(
                "the patch must lie within the picture of {} × {} pixels, and {width} × {height} from {x},{y} on was given",
                within.width, within.height
            )));
        }
        Ok(Self { x, y, width, height })
    }

    /// A rectangle given in shares of the picture's sides: left, top, width, height, each 0 to 1; its edges are taken to the
    /// nearest pixel, and it has one pixel at least. **Errors** where it is empty or reaches beyond the picture.
    pub fn from_shares(shares: [f64; 4], within: Size) -> Result<Self, Error> {
        let [x, y, width, height] = shares;
        // A sum of shares such as 0.1 + 0.9 may lie a rounding error above 1.
        let fits = |at: f64, length: f64| at >= 0.0 && length > 0.0 && at + length <= 1.0 + 1e-9;
        if !fits(x, width) || !fits(y, height) {
            return Err(Error::new(format!(
                "the patch must lie within the picture, 0 to 1, and {width} × {height} from {x},{y} on was given"
            )));
        }
        let edges = |at: f64, length: f64, side: u32| {
            let side = f64::from(side);
            let first = (at * side).round().min(side - 1.0);
            let last = ((at + length) * side).round().clamp(first + 1.0, side);
            (first as u32, (last - first) as u32)
        };
        let ((x, width), (y, height)) = (edges(x, width, within.width), edges(y, height, within.height));
        Self::new(x, y, width, height, within)
    }

    /// Number of pixels.
    pub const fn pixels(self) -> u64 {
        self.width as u64 * self.height as u64
    }

    /// What it shares with another.
    pub(crate) fn common(self, other: Region) -> Option<Region> {
        let span = |a: u32, la: u32, b: u32, lb: u32| {
            let (first, last) = (a.max(b), (a.saturating_add(la)).min(b.saturating_add(lb)));
            (first < last).then(|| (first, last - first))
        };
        let (x, width) = span(self.x, self.width, other.x, other.width)?;
        let (y, height) = span(self.y, self.height, other.y, other.height)?;
        Some(Region { x, y, width, height })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn size(width: u32, height: u32) -> Size {
        Size::new(width, height).expect("a size")
    }

    #[test]
    fn what_is_no_picture_is_refused_before_anything_is_kept() {
        assert!(Size::new(0, 5).is_err() && Size::new(5, 70_000).is_err());
        let error = Size::new(16_000, 12_500).expect_err("too large").to_string();
        assert_eq!(error, "a picture must have at most 128 megapixels, and one of 200 was given");
        assert!(View::new(size(2, 2), Layout::Rgb, &[0; 11]).is_err());
    }

    #[test]
    fn rows_hold_what_they_say() {
        let bytes: Vec<u8> = (0..24).collect();
        let view = View::new(size(4, 2), Layout::Rgb, &bytes).expect("a view");
        assert_eq!(view.row(1, 1, 2), [15, 16, 17, 18, 19, 20]);
        for (y, from, width) in [(2, 0, 1), (0, 3, 2), (0, u32::MAX, 2)] {
            assert!(view.row(y, from, width).is_empty());
        }
    }

    #[test]
    fn a_patch_lies_within_its_picture() {
        let within = size(480, 360);
        let centre = Region::from_shares([0.375, 0.375, 0.25, 0.25], within).expect("a patch");
        assert_eq!(centre, Region::new(180, 135, 120, 90, within).expect("a patch"));
        assert_eq!(Region::from_shares([0.999, 0.1, 0.001, 0.9], within).expect("a patch").width, 1);
        assert_eq!(Region::from_shares([0.0, 0.0, 1.0, 1.0], within).expect("all").pixels(), 480 * 360);
        for bad in [[0.5, 0.0, 0.6, 1.0], [0.0, 0.0, 0.0, 1.0], [-0.1, 0.0, 0.5, 0.5], [f64::NAN, 0.0, 0.5, 0.5]] {
            assert!(Region::from_shares(bad, within).is_err(), "{bad:?}");
        }
        assert!(Region::new(400, 0, 81, 10, within).is_err() && Region::new(1, 1, u32::MAX, 1, within).is_err());
    }

    #[test]
    fn what_two_rectangles_share() {
        let region = |x, y, width, height| Region { x, y, width, height };
        assert_eq!(region(0, 0, 10, 10).common(region(8, 5, 10, 2)), Some(region(8, 5, 2, 2)));
        assert_eq!(region(0, 0, 10, 10).common(region(10, 0, 1, 1)), None);
    }
}
