//! A luminance picture averaged down by areas, strip by strip, in light.
//!
//! A browser's own scaling averages codes, which is wrong by up to 0.28 stop. Not here: single patches ([`super::Tally`]).

use super::{Layout, MOST_PIXELS, Orientation, Region, Size, View};
use crate::error::Error;
use crate::transfer::Transfer;

/// Luminance of each pixel, 1 being the whitest code.
#[derive(Clone, Debug, PartialEq)]
pub struct Plane {
    /// Columns and rows.
    pub size: Size,
    /// Row by row from the top.
    pub light: Vec<f32>,
}

impl Plane {
    /// The luminance at a pixel; nothing beside the picture.
    pub fn at(&self, x: u32, y: u32) -> Option<f32> {
        let inside = x < self.size.width() && y < self.size.height();
        if inside { self.light.get(y as usize * self.size.width() as usize + x as usize).copied() } else { None }
    }

    /// The same as it is seen, from the way up in which it was stored.
    pub fn upright(self, orientation: Orientation) -> Self {
        if orientation == Orientation::UPRIGHT {
            return self;
        }
        let size = orientation.upright(self.size);
        let mut light = Vec::with_capacity(self.light.len());
        for y in 0..size.height() {
            for x in 0..size.width() {
                let from = orientation.stored(Region { x, y, width: 1, height: 1 }, self.size);
                light.push(self.at(from.x, from.y).unwrap_or(0.0));
            }
        }
        Self { size, light }
    }

    /// A whole picture at once, averaged down so often. **Errors** as [`Reducer::new`].
    pub fn of(view: &View<'_>, factor: u32, transfer: &Transfer) -> Result<Self, Error> {
        let mut reducer = Reducer::new(view.size(), factor)?;
        reducer.strip(view, transfer)?;
        reducer.finish()
    }
}

/// Averages squares of `factor × factor` pixels, fed with strips from the top; what is left over at the right and below, less
/// than a square, is passed over.
#[derive(Clone, Debug)]
pub struct Reducer {
    picture: Size,
    reduced: Size,
    factor: u32,
    next_row: u32,
    sums: Vec<f64>,
    light: Vec<f32>,
}

impl Reducer {
    /// Nothing yet of a picture. **Errors** where the factor is 0 or leaves no pixel.
    pub fn new(picture: Size, factor: u32) -> Result<Self, Error> {
        if factor == 0 || factor > picture.width().min(picture.height()) {
            return Err(Error::new(format!(
                "the factor must be 1 to the shorter side of the picture, {} pixels, and {factor} was given",
                picture.width().min(picture.height())
            )));
        }
        let reduced = Size::new(picture.width() / factor, picture.height() / factor)?;
        // A size has passed its own limit, so that this is an allocation of bearable length.
        debug_assert!(reduced.pixels() <= MOST_PIXELS);
        Ok(Self {
            picture,
            reduced,
            factor,
            next_row: 0,
            sums: vec![0.0; reduced.width() as usize],
            light: Vec::with_capacity(reduced.pixels() as usize),
        })
    }

    /// Takes in the next strip, as wide as the picture. **Errors** where it is not, or reaches below the picture.
    pub fn strip(&mut self, view: &View<'_>, transfer: &Transfer) -> Result<(), Error> {
        let rows = view.size().height();
        if view.size().width() != self.picture.width() || rows > self.picture.height() - self.next_row {
            return Err(Error::new(format!(
                "a strip must be {} pixels wide and at most {} high, and {} × {rows} was given",
                self.picture.width(),
                self.picture.height() - self.next_row,
                view.size().width()
            )));
        }
        let used = self.reduced.width() * self.factor;
        let each = view.layout().bytes();
        let area = f64::from(self.factor) * f64::from(self.factor);
        for y in 0..rows {
            let squares = view.row(y, 0, used).chunks_exact(self.factor as usize * each);
            for (sum, square) in self.sums.iter_mut().zip(squares) {
                for pixel in square.chunks_exact(each) {
                    *sum += match (view.layout(), pixel) {
                        (Layout::Grey, [grey]) => transfer.grey(*grey),
                        (_, [red, green, blue, ..]) => transfer.luminance(*red, *green, *blue),
                        _ => 0.0,
                    };
                }
            }
            self.next_row += 1;
            if self.next_row.is_multiple_of(self.factor) {
                self.light.extend(self.sums.iter().map(|sum| (sum / area) as f32));
                self.sums.fill(0.0);
            }
        }
        Ok(())
    }

    /// The reduced picture. **Errors** where rows are missing.
    pub fn finish(self) -> Result<Plane, Error> {
        if self.light.len() as u64 != self.reduced.pixels() {
            return Err(Error::new(format!(
                "the picture must have {} rows, and {} were handed in",
                self.picture.height(),
                self.next_row
            )));
        }
        Ok(Plane { size: self.reduced, light: self.light })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::transfer::{Curve, Primaries};

    fn size(width: u32, height: u32) -> Size {
        Size::new(width, height).expect("a size")
    }

    #[test]
    fn light_is_averaged_and_codes_are_not() {
        let transfer = Transfer::new(Curve::Srgb, Primaries::Srgb);
        let bytes = [0, 255, 7, 255, 0, 7, 1, 2, 3];
        let view = View::new(size(3, 3), Layout::Grey, &bytes).expect("a view");
        let plane = Plane::of(&view, 2, &transfer).expect("a plane");
        assert_eq!((plane.size, plane.light.as_slice()), (size(1, 1), &[0.5][..]));
        assert_eq!((plane.at(0, 0), plane.at(1, 0)), (Some(0.5), None));
    }

    #[test]
    fn strips_come_to_the_same_as_the_whole() {
        let transfer = Transfer::new(Curve::Srgb, Primaries::DisplayP3);
        let bytes: Vec<u8> = (0..14 * 9 * 3).map(|i| (i * 7 % 256) as u8).collect();
        let whole =
            Plane::of(&View::new(size(14, 9), Layout::Rgb, &bytes).expect("a view"), 4, &transfer).expect("one");
        let mut reducer = Reducer::new(size(14, 9), 4).expect("a reducer");
        for (rows, from) in [(3, 0), (1, 3), (5, 4)] {
            let part = &bytes[from * 42..(from + rows as usize) * 42];
            reducer.strip(&View::new(size(14, rows), Layout::Rgb, part).expect("a view"), &transfer).expect("a strip");
        }
        assert_eq!(reducer.finish().expect("a plane"), whole);
        assert_eq!(whole.size, size(3, 2));
    }

    #[test]
    fn a_picture_is_turned_as_it_is_seen() {
        let stored = Plane { size: size(3, 2), light: vec![1.0, 2.0, 3.0, 4.0, 5.0, 6.0] };
        // Tag 6: the stored first row is seen on the right.
        let seen = stored.clone().upright(Orientation::from_tag(6));
        assert_eq!((seen.size, seen.light), (size(2, 3), vec![4.0, 1.0, 5.0, 2.0, 6.0, 3.0]));
        assert_eq!(stored.clone().upright(Orientation::from_tag(3)).light, vec![6.0, 5.0, 4.0, 3.0, 2.0, 1.0]);
        assert_eq!(stored.clone().upright(Orientation::UPRIGHT), stored);
    }

    #[test]
    fn what_does_not_fit_is_refused() {
        let transfer = Transfer::new(Curve::Srgb, Primaries::Srgb);
        assert!(Reducer::new(size(10, 10), 0).is_err() && Reducer::new(size(10, 10), 11).is_err());
        let mut reducer = Reducer::new(size(2, 2), 1).expect("a reducer");
        assert!(reducer.strip(&View::new(size(1, 1), Layout::Grey, &[0]).expect("a view"), &transfer).is_err());
        assert!(reducer.strip(&View::new(size(2, 3), Layout::Grey, &[0; 6]).expect("a view"), &transfer).is_err());
        assert!(reducer.finish().is_err());
    }
}
