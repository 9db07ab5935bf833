//! The halftone patterns: which device pixel is white in which step.
//!
//! An ordered dither after B. Bayer, An optimum method for two-level rendition of continuous-tone pictures, IEEE ICC 1973, of
//! 8 by 8 cells: of 64 cells 64, 32, 16, 8, 4, 2 or 1 are white, spread evenly. A cell is a square of device pixels, so that
//! few white pixels lie at an edge. Not here: what a step is worth as light ([`super::level`]).

use crate::error::Error;
use crate::quantity::Stops;

/// Device pixels along the side of a cell.
pub const CELL_PX: u32 = 4;
/// Cells along the side of a tile.
const CELLS: u32 = 8;
/// Device pixels along the side of a tile, after which the pattern repeats; a field must be a whole number of tiles.
pub const TILE_PX: u32 = CELLS * CELL_PX;

/// One step of the lamp.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ScreenStep {
    /// Its name: the share of the device pixels that are white.
    pub key: &'static str,
    halvings: u32,
}

const fn step(key: &'static str, halvings: u32) -> ScreenStep {
    ScreenStep { key, halvings }
}

/// Every step, full white first.
pub const SCREEN_STEPS: [ScreenStep; 7] =
    [step("1", 0), step("1/2", 1), step("1/4", 2), step("1/8", 3), step("1/16", 4), step("1/32", 5), step("1/64", 6)];

impl ScreenStep {
    /// The step with this key.
    pub fn from_key(key: &str) -> Option<&'static Self> {
        SCREEN_STEPS.iter().find(|step| step.key == key)
    }

    /// Share of the device pixels that are white, exactly.
    pub fn white_share(&self) -> f64 {
        f64::from(self.white_cells()) / f64::from(CELLS * CELLS)
    }

    /// How far it lies below full white: a whole number of stops.
    pub fn below_white(&self) -> Stops {
        Stops::whole(self.halvings)
    }

    /// What it is called at the bench.
    pub fn words(&self) -> String {
        match self.halvings {
            0 => "full white".to_owned(),
            1 => "1 stop down, every second cell white".to_owned(),
            n => format!("{n} stops down, 1 cell in {} white", 1_u32 << n),
        }
    }

    fn white_cells(&self) -> u32 {
        (CELLS * CELLS) >> self.halvings
    }

    /// Whether a device pixel is white, counted from the corner of the field.
    pub fn is_white(&self, x: u32, y: u32) -> bool {
        rank(x / CELL_PX % CELLS, y / CELL_PX % CELLS) < self.white_cells()
    }

    /// One tile, row by row: 255 where a device pixel is white, 0 where it is black.
    pub fn tile(&self) -> Vec<u8> {
        (0..TILE_PX * TILE_PX).map(|i| if self.is_white(i % TILE_PX, i / TILE_PX) { u8::MAX } else { 0 }).collect()
    }
}

/// The order in which the cells of a tile turn white, 0 to 63: the bits of x xor y and of y by turns, the lowest weighing most.
const fn rank(x: u32, y: u32) -> u32 {
    let mixed = x ^ y;
    let mut rank = 0;
    let mut bit = 0;
    while bit < 3 {
        rank = rank << 2 | (mixed >> bit & 1) << 1 | (y >> bit & 1);
        bit += 1;
    }
    rank
}

/// The largest field of whole tiles within a width and a height in device pixels; what is left over stays black.
/// **Errors** where not one tile fits.
pub fn field_size(width_px: u32, height_px: u32) -> Result<(u32, u32), Error> {
    let whole = |size: u32| size / TILE_PX * TILE_PX;
    if width_px < TILE_PX || height_px < TILE_PX {
        return Err(Error::new(format!(
            "the field must be at least {TILE_PX} device pixels wide and high, and {width_px} by {height_px} was given"
        )));
    }
    Ok((whole(width_px), whole(height_px)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn every_step_has_exactly_its_share_of_white_pixels() {
        for (i, step) in SCREEN_STEPS.iter().enumerate() {
            let white = step.tile().iter().filter(|pixel| **pixel == u8::MAX).count();
            assert_eq!(white << i, (TILE_PX * TILE_PX) as usize, "{}", step.key);
            assert_eq!((step.white_share(), step.below_white().value()), (1.0 / f64::from(1 << i), i as f64));
            assert_eq!(ScreenStep::from_key(step.key), Some(step));
        }
        assert_eq!(ScreenStep::from_key("1/3"), None);
    }

    #[test]
    fn the_cells_turn_white_one_by_one_and_half_of_them_in_a_chequer() {
        let mut ranks: Vec<u32> = (0..64).map(|i| rank(i % 8, i / 8)).collect();
        let half = ScreenStep::from_key("1/2").expect("a step");
        assert!((0..64).all(|i| half.is_white(i % 8 * CELL_PX, i / 8 * CELL_PX) == ((i % 8 + i / 8) % 2 == 0)));
        ranks.sort_unstable();
        assert_eq!(ranks, (0..64).collect::<Vec<_>>());
    }

    proptest! {
        #[test]
        fn any_whole_field_keeps_the_share(width in 32..400_u32, height in 32..400_u32, i in 0..7_usize) {
            let (width, height) = field_size(width, height).unwrap();
            let step = &SCREEN_STEPS[i];
            let white = (0..height).flat_map(|y| (0..width).map(move |x| (x, y))).filter(|(x, y)| step.is_white(*x, *y)).count();
            prop_assert_eq!(white << i, (width * height) as usize);
        }

        #[test]
        fn every_step_is_part_of_the_brighter_one(x in 0..=u32::MAX, y in 0..=u32::MAX, i in 1..7_usize) {
            prop_assert!(!SCREEN_STEPS[i].is_white(x, y) || SCREEN_STEPS[i - 1].is_white(x, y));
        }
    }

    #[test]
    fn a_field_that_holds_no_tile_is_refused() {
        assert!(field_size(31, 400).expect_err("refused").to_string().contains("31 by 400"));
        assert_eq!(field_size(1080, 2400).expect("a field"), (1056, 2400));
    }
}
