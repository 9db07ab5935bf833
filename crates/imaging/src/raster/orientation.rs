//! Which way up the stored pixels stand, and where a region of the upright picture lies among them.
//!
//! A browser hands pixels over upright; a plain decoder hands them over as stored. Not here: the tag's reading ([`crate::exif`]).

use super::{Region, Size};

/// The eight ways of Exif's orientation tag: first row and first column of the stored picture, as seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Orientation(u8);

impl Orientation {
    /// Stored as seen.
    pub const UPRIGHT: Self = Self(1);

    /// From the tag, 1 to 8; anything else is taken as upright.
    pub const fn from_tag(tag: u32) -> Self {
        match tag {
            1..=8 => Self(tag as u8),
            _ => Self::UPRIGHT,
        }
    }

    /// The tag, 1 to 8.
    pub const fn tag(self) -> u8 {
        self.0
    }

    /// Whether rows and columns are changed about.
    const fn lies(self) -> bool {
        self.0 >= 5
    }

    /// Size of the upright picture, from the stored one's.
    pub const fn upright(self, stored: Size) -> Size {
        if self.lies() { stored.turned() } else { stored }
    }

    /// Where a region of the upright picture lies in the stored one. What reaches beyond the picture is held at its edge.
    pub fn stored(self, upright: Region, stored: Size) -> Region {
        let seen = self.upright(stored);
        let from_right = seen.width().saturating_sub(upright.x.saturating_add(upright.width));
        let from_below = seen.height().saturating_sub(upright.y.saturating_add(upright.height));
        let Region { x, y, width, height } = upright;
        let (x, y) = match self.0 {
            2 => (from_right, y),
            3 => (from_right, from_below),
            4 => (x, from_below),
            5 => (y, x),
            6 => (y, from_right),
            7 => (from_below, from_right),
            8 => (from_below, x),
            _ => (x, y),
        };
        if self.lies() { Region { x, y, width: height, height: width } } else { Region { x, y, width, height } }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Where a stored pixel is seen, written out from the tag's definition.
    fn seen(tag: u8, column: u32, row: u32, width: u32, height: u32) -> (u32, u32) {
        let (last_column, last_row) = (width - 1, height - 1);
        match tag {
            1 => (column, row),
            2 => (last_column - column, row),
            3 => (last_column - column, last_row - row),
            4 => (column, last_row - row),
            5 => (row, column),
            6 => (last_row - row, column),
            7 => (last_row - row, last_column - column),
            _ => (row, last_column - column),
        }
    }

    #[test]
    fn every_pixel_is_found_again_in_every_orientation() {
        let (width, height) = (5, 3);
        let stored = Size::new(width, height).expect("a size");
        for tag in 1..=8 {
            let orientation = Orientation::from_tag(tag.into());
            for column in 0..width {
                for row in 0..height {
                    let (x, y) = seen(tag, column, row, width, height);
                    let pixel = Region { x, y, width: 1, height: 1 };
                    let found = orientation.stored(pixel, stored);
                    assert_eq!((found.x, found.y), (column, row), "tag {tag}");
                }
            }
        }
        let turned = Orientation::from_tag(6).stored(Region { x: 0, y: 0, width: 2, height: 4 }, stored);
        assert_eq!(turned, Region { x: 0, y: 1, width: 4, height: 2 });
    }

    #[test]
    fn a_tag_that_is_none_is_upright() {
        for tag in [0, 9, u32::MAX] {
            assert_eq!(Orientation::from_tag(tag), Orientation::UPRIGHT);
        }
    }
}
