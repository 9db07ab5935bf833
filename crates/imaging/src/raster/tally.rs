//! The light of a patch, added up strip by strip so that no picture has to be held whole.
//!
//! Codes are turned to light before anything is averaged. Not here: what the light comes to in EV ([`crate::luminance`]).

use super::{Layout, Region, View};
use crate::error::Error;
use crate::transfer::Transfer;

/// A code from here on may stand for any more light.
const CLIPPED_FROM: u8 = 250;
/// A pixel with no code above this is nearly black.
const BLACK_TO: u8 = 8;
/// The patch is looked at in so many blocks each way, to see whether it is even.
const BLOCKS: u32 = 8;
/// Least light of a block that its logarithm is taken of.
const LEAST: f64 = 1e-5;

/// What a patch of a picture holds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PatchLight {
    /// Mean luminance, 1 being the whitest code.
    pub mean: f64,
    /// Share of pixels with a code of 250 or above in any channel.
    pub clipped: f64,
    /// Share of pixels with no code above 8.
    pub black: f64,
    /// How far the blocks of the patch lie apart, from the tenth to the ninetieth percentile \[stops\].
    pub spread_stops: f64,
    /// Number of pixels.
    pub pixels: u64,
}

/// Adds up the light of a region from strips of the picture, in any order, each once.
#[derive(Clone, Debug)]
pub struct Tally {
    region: Region,
    transfer: Transfer,
    blocks: Vec<(f64, u64)>,
    across: u32,
    down: u32,
    clipped: u64,
    black: u64,
}

/// What a tally has added up so far, to be put down between two strips and taken up again.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sums {
    /// Light of each block.
    pub light: Vec<f64>,
    /// Pixels of each block.
    pub counts: Vec<u64>,
    /// Clipped pixels.
    pub clipped: u64,
    /// Nearly black pixels.
    pub black: u64,
}

impl Tally {
    /// Goes on from what was put down. **Errors** where it is not of such a region.
    pub fn resume(region: Region, transfer: Transfer, sums: &Sums) -> Result<Self, Error> {
        let mut tally = Self::new(region, transfer);
        let (wanted, given) = (tally.blocks.len(), sums.light.len().min(sums.counts.len()));
        if wanted != given || sums.light.iter().any(|light| !(light.is_finite() && *light >= 0.0)) {
            return Err(Error::new(format!(
                "a patch of this size has {wanted} blocks of light, and {given} were given"
            )));
        }
        tally.blocks = sums.light.iter().copied().zip(sums.counts.iter().copied()).collect();
        (tally.clipped, tally.black) = (sums.clipped, sums.black);
        Ok(tally)
    }

    /// Puts down what was added up.
    pub fn sums(&self) -> Sums {
        Sums {
            light: self.blocks.iter().map(|(light, _)| *light).collect(),
            counts: self.blocks.iter().map(|(_, count)| *count).collect(),
            clipped: self.clipped,
            black: self.black,
        }
    }

    /// Nothing yet of a region, in the coordinates of the pixels that will be handed in.
    pub fn new(region: Region, transfer: Transfer) -> Self {
        let (across, down) = (region.width.clamp(1, BLOCKS), region.height.clamp(1, BLOCKS));
        Self {
            region,
            transfer,
            blocks: vec![(0.0, 0); across as usize * down as usize],
            across,
            down,
            clipped: 0,
            black: 0,
        }
    }

    /// Takes in a strip whose first pixel lies at the given column and row of the picture; what lies beside the region is passed
    /// over. Time and reading: O(pixels of the region in the strip).
    pub fn strip(&mut self, view: &View<'_>, left: u32, top: u32) {
        let place = Region { x: left, y: top, width: view.size().width(), height: view.size().height() };
        let Some(shared) = self.region.common(place) else { return };
        for y in shared.y..shared.y + shared.height {
            let row = view.row(y - top, shared.x - left, shared.width);
            let down = u64::from(y - self.region.y) * u64::from(self.down) / u64::from(self.region.height.max(1));
            self.row(row, view.layout(), shared.x - self.region.x, down as usize * self.across as usize);
        }
    }

    /// A row of pixels that begins at a column of the region and falls into the blocks from `first_block` on.
    fn row(&mut self, row: &[u8], layout: Layout, column: u32, first_block: usize) {
        let each = layout.bytes();
        let width = u64::from(self.region.width.max(1));
        for block in 0..self.across {
            // Columns whose block this is: those with column·across/width = block, rounded down.
            let first = (u64::from(block) * width).div_ceil(u64::from(self.across));
            let last = (u64::from(block + 1) * width).div_ceil(u64::from(self.across));
            let inside = |at: u64| (at.saturating_sub(u64::from(column)) as usize * each).min(row.len());
            let Some(pixels) = row.get(inside(first)..inside(last)) else { continue };
            let (mut light, mut count) = (0.0, 0);
            for pixel in pixels.chunks_exact(each) {
                let (here, most) = match *pixel {
                    [grey] => (self.transfer.grey(grey), grey),
                    [red, green, blue, ..] => (self.transfer.luminance(red, green, blue), red.max(green).max(blue)),
                    _ => continue,
                };
                light += here;
                count += 1;
                self.clipped += u64::from(most >= CLIPPED_FROM);
                self.black += u64::from(most <= BLACK_TO);
            }
            if let Some(sum) = self.blocks.get_mut(first_block + block as usize) {
                sum.0 += light;
                sum.1 += count;
            }
        }
    }

    /// What the region holds. **Errors** where pixels of it were not handed in, or were handed in twice.
    pub fn finish(self) -> Result<PatchLight, Error> {
        let wanted = self.region.pixels();
        let pixels: u64 = self.blocks.iter().map(|(_, count)| count).sum();
        if pixels != wanted || pixels == 0 {
            return Err(Error::new(format!("the patch must have {wanted} pixels, and {pixels} were handed in")));
        }
        let share = |count: u64| count as f64 / pixels as f64;
        let mut levels: Vec<f64> =
            self.blocks.iter().map(|(light, count)| libm::log2((light / *count as f64).max(LEAST))).collect();
        levels.sort_by(f64::total_cmp);
        let at = |share: f64| levels.get(((levels.len() - 1) as f64 * share).round() as usize).copied().unwrap_or(0.0);
        Ok(PatchLight {
            mean: self.blocks.iter().map(|(light, _)| light).sum::<f64>() / pixels as f64,
            clipped: share(self.clipped),
            black: share(self.black),
            spread_stops: at(0.9) - at(0.1),
            pixels,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::super::Size;
    use super::*;
    use crate::transfer::{Curve, Primaries};
    use proptest::prelude::*;

    fn transfer() -> Transfer {
        Transfer::new(Curve::Srgb, Primaries::Srgb)
    }

    fn size(width: u32, height: u32) -> Size {
        Size::new(width, height).expect("a size")
    }

    #[test]
    fn half_black_and_half_white_is_half_the_light() {
        // The mean of the codes would be read as 0.214.
        let bytes: Vec<u8> = (0..64 * 64).flat_map(|i| [if (i % 64 + i / 64) % 2 == 0 { 0 } else { 255 }; 4]).collect();
        let view = View::new(size(64, 64), Layout::Rgba, &bytes).expect("a view");
        let mut tally = Tally::new(Region { x: 0, y: 0, width: 64, height: 64 }, transfer());
        tally.strip(&view, 0, 0);
        let light = tally.finish().expect("light");
        assert!((light.mean - 0.5).abs() < 1e-12, "{}", light.mean);
        assert_eq!((light.clipped, light.black), (0.5, 0.5));
        assert!(light.spread_stops < 1e-9);
    }

    #[test]
    fn an_uneven_patch_is_seen() {
        let bytes: Vec<u8> = (0..160 * 10).map(|i| 80 + (i % 160) as u8 / 2).collect();
        let view = View::new(size(160, 10), Layout::Grey, &bytes).expect("a view");
        let mut tally = Tally::new(Region { x: 0, y: 0, width: 160, height: 10 }, transfer());
        tally.strip(&view, 0, 0);
        let spread = tally.finish().expect("light").spread_stops;
        // The first and the last block, by hand: codes 80 to 90 against 150 to 160.
        assert!((1.7..2.1).contains(&spread), "{spread}");
    }

    #[test]
    fn a_patch_with_a_strip_too_few_or_too_many_is_refused() {
        let view = View::new(size(4, 2), Layout::Grey, &[100; 8]).expect("a view");
        let region = Region { x: 0, y: 0, width: 4, height: 4 };
        let mut tally = Tally::new(region, transfer());
        tally.strip(&view, 0, 0);
        assert!(tally.clone().finish().is_err());
        tally.strip(&view, 0, 2);
        assert_eq!(tally.clone().finish().expect("light").pixels, 16);
        tally.strip(&view, 0, 0);
        assert!(tally.finish().is_err());
    }

    proptest! {
        #[test]
        fn strips_come_to_the_same_as_the_whole(
            width in 1_u32..40, height in 1_u32..40, cut in 1_u32..40, seed in any::<u8>(),
            shares in (0.0..0.9_f64, 0.0..0.9_f64),
        ) {
            let bytes: Vec<u8> = (0..width * height).map(|i| (i as u8).wrapping_mul(37).wrapping_add(seed)).collect();
            let whole = size(width, height);
            let region = Region::from_shares([shares.0, shares.1, 0.1, 0.1], whole).unwrap();
            let mut at_once = Tally::new(region, transfer());
            at_once.strip(&View::new(whole, Layout::Grey, &bytes).unwrap(), 0, 0);
            let mut in_strips = Tally::new(region, transfer());
            for top in (0..height).step_by(cut as usize) {
                let rows = cut.min(height - top);
                let from = (top * width) as usize;
                let part = &bytes[from..from + (rows * width) as usize];
                in_strips.strip(&View::new(size(width, rows), Layout::Grey, part).unwrap(), 0, top);
            }
            let (one, other) = (at_once.finish().unwrap(), in_strips.finish().unwrap());
            prop_assert!((one.mean - other.mean).abs() < 1e-12);
            prop_assert_eq!((one.clipped, one.black, one.pixels), (other.clipped, other.black, other.pixels));
            let plain: Vec<f64> = (region.y..region.y + region.height)
                .flat_map(|y| (region.x..region.x + region.width).map(move |x| (x, y)))
                .map(|(x, y)| transfer().grey(bytes[(y * width + x) as usize]))
                .collect();
            prop_assert!((one.mean - plain.iter().sum::<f64>() / plain.len() as f64).abs() < 1e-12);
        }
    }
}
