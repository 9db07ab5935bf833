//! The pixels of an opening: those about a tap that are brighter than half, without holes, and how far each pixel lies from the
//! edge.
//!
//! Every pass is linear in the pixels of the window. Not here: light and its fit ([`super::opening`]).

use core::ops::Range;

use crate::raster::{Plane, Size};

/// Which pixels of a picture belong to the opening, within a window about it.
pub(super) struct Mask {
    picture: Size,
    /// Left column and top row of the window in the picture.
    pub left: u32,
    pub top: u32,
    pub width: usize,
    pub height: usize,
    /// Row by row.
    pub inside: Vec<bool>,
    /// Whether the opening reaches the edge of the picture.
    pub touches_frame: bool,
}

impl Mask {
    /// Fills from a pixel all that is connected to it and brighter than a threshold, and closes its holes.
    pub fn flood(plane: &Plane, from: (u32, u32), threshold: f32, margin: u32) -> Self {
        let (width, height) = (plane.size.width() as usize, plane.size.height() as usize);
        let bright: Vec<bool> = plane.light.iter().map(|light| *light > threshold).collect();
        let mut seen = vec![false; width * height];
        let (mut least, mut most) = ((usize::MAX, usize::MAX), (0, 0));
        fill(&bright, &mut seen, width, vec![from.1 as usize * width + from.0 as usize], |y, columns| {
            least = (least.0.min(columns.start), least.1.min(y));
            most = (most.0.max(columns.end - 1), most.1.max(y));
        });
        let margin = margin as usize;
        let (left, top) =
            (least.0.saturating_sub(margin).min(width - 1), least.1.saturating_sub(margin).min(height - 1));
        let (right, bottom) = ((most.0 + margin).min(width - 1).max(left), (most.1 + margin).min(height - 1).max(top));
        let mut mask = Self {
            picture: plane.size,
            left: left as u32,
            top: top as u32,
            width: right - left + 1,
            height: bottom - top + 1,
            inside: Vec::new(),
            touches_frame: least.0 == 0 || least.1 == 0 || most.0 + 1 >= width || most.1 + 1 >= height,
        };
        for y in top..=bottom {
            mask.inside.extend_from_slice(seen.get(y * width + left..=y * width + right).unwrap_or(&[]));
        }
        mask.close_holes();
        mask
    }

    /// The same opening in a window that is wider by a margin on each side, as far as the picture goes. Holes stay closed: what lay
    /// outside the opening at the window's border lies outside it in a wider one.
    pub fn widened(&self, margin: u32) -> Self {
        let margin = margin as usize;
        let (left, top) = (self.left as usize, self.top as usize);
        let (picture_width, picture_height) = (self.picture.width() as usize, self.picture.height() as usize);
        let (new_left, new_top) = (left.saturating_sub(margin), top.saturating_sub(margin));
        let width = (left + self.width + margin).min(picture_width) - new_left;
        let height = (top + self.height + margin).min(picture_height) - new_top;
        let mut inside = vec![false; width * height];
        let rows = inside.chunks_exact_mut(width).skip(top - new_top);
        for (wide, own) in rows.zip(self.inside.chunks_exact(self.width)) {
            if let Some(part) = wide.get_mut(left - new_left..left - new_left + self.width) {
                part.copy_from_slice(own);
            }
        }
        Self { left: new_left as u32, top: new_top as u32, width, height, inside, ..*self }
    }

    /// Everything that cannot be reached from the window's border without crossing the opening belongs to it.
    fn close_holes(&mut self) {
        let (width, height) = (self.width, self.height);
        let mut outside = vec![false; self.inside.len()];
        let rim = (0..width).flat_map(|x| [x, (height - 1) * width + x]);
        let seeds = rim.chain((0..height).flat_map(|y| [y * width, y * width + width - 1])).collect();
        let free: Vec<bool> = self.inside.iter().map(|inside| !inside).collect();
        fill(&free, &mut outside, width, seeds, |_, _| ());
        for (inside, outside) in self.inside.iter_mut().zip(outside) {
            *inside = !outside;
        }
    }

    /// Number of pixels.
    pub fn area(&self) -> usize {
        self.inside.iter().filter(|inside| **inside).count()
    }

    /// How far each pixel lies from the edge \[pixels\]: above 0 inside, below 0 outside. Two passes each way with steps of
    /// 1 and √2, at most 8 % too long.
    pub fn depth(&self) -> Vec<f32> {
        let within = self.distance(true);
        let without = self.distance(false);
        within.iter().zip(without).map(|(within, without)| within - without).collect()
    }

    /// Distance to the nearest pixel of the other kind, 0 there.
    fn distance(&self, inside: bool) -> Vec<f32> {
        const FAR: f32 = 1e9;
        let mut far: Vec<f32> = self.inside.iter().map(|own| if *own == inside { FAR } else { 0.0 }).collect();
        let mut before = vec![f32::INFINITY; self.width];
        for row in far.chunks_exact_mut(self.width) {
            from_row(row, &before);
            along(row.iter_mut());
            before.copy_from_slice(row);
        }
        before.fill(f32::INFINITY);
        for row in far.chunks_exact_mut(self.width).rev() {
            from_row(row, &before);
            along(row.iter_mut().rev());
            before.copy_from_slice(row);
        }
        far
    }
}

/// Marks as seen all that is free and connected to the seeds by sides, and tells of each run of a row that it comes to. Run by run:
/// pixel by pixel most of the time would go into remembering where to go on.
fn fill(free: &[bool], seen: &mut [bool], width: usize, seeds: Vec<usize>, mut run: impl FnMut(usize, Range<usize>)) {
    let mut open = seeds;
    while let Some(at) = open.pop() {
        let here = |seen: &[bool], at: usize| free.get(at).is_some_and(|free| *free) && !seen[at];
        if !here(seen, at) {
            continue;
        }
        let (row, column) = (at - at % width, at % width);
        let start = (0..column).rev().find(|x| !here(seen, row + x)).map_or(0, |x| x + 1);
        let end = (column..width).find(|x| !here(seen, row + x)).unwrap_or(width);
        seen[row + start..row + end].fill(true);
        run(row / width, start..end);
        for beside in [row.checked_sub(width), Some(row + width)].into_iter().flatten() {
            let mut before = false;
            for at in beside + start..beside + end {
                let now = here(seen, at);
                if now && !before {
                    open.push(at);
                }
                before = now;
            }
        }
    }
}

/// Steps from the row beside: straight, and aslant from both sides.
fn from_row(row: &mut [f32], beside: &[f32]) {
    const ASLANT: f32 = core::f32::consts::SQRT_2;
    let least = |a: f32, b: f32| if b < a { b } else { a };
    for (own, other) in row.iter_mut().zip(beside) {
        *own = least(*own, other + 1.0);
    }
    for (own, other) in row.iter_mut().skip(1).zip(beside) {
        *own = least(*own, other + ASLANT);
    }
    for (own, other) in row.iter_mut().zip(beside.iter().skip(1)) {
        *own = least(*own, other + ASLANT);
    }
}

/// Steps along a row, in the order given.
fn along<'a>(row: impl Iterator<Item = &'a mut f32>) {
    let mut before = f32::INFINITY;
    for own in row {
        let step = before + 1.0;
        before = if step < *own { step } else { *own };
        *own = before;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::raster::Size;

    fn plane(rows: &[&str]) -> Plane {
        let size = Size::new(rows[0].len() as u32, rows.len() as u32).expect("a size");
        Plane { size, light: rows.concat().chars().map(|c| if c == '#' { 1.0 } else { 0.0 }).collect() }
    }

    #[test]
    fn an_opening_is_what_is_connected_without_its_holes() {
        let plane = plane(&[".......", ".###..#", ".#.#..#", ".###...", "......."]);
        let mask = Mask::flood(&plane, (1, 1), 0.5, 1);
        assert_eq!((mask.area(), mask.left, mask.top, mask.width, mask.height), (9, 0, 0, 5, 5));
        assert!(!mask.touches_frame);
        assert!(Mask::flood(&plane, (6, 1), 0.5, 1).touches_frame);
    }

    #[test]
    fn depth_counts_steps_from_the_edge() {
        let plane = plane(&[".......", ".#####.", ".#####.", ".#####.", "......."]);
        let mask = Mask::flood(&plane, (3, 2), 0.5, 3);
        let depth = mask.depth();
        assert_eq!(depth[2 * 7 + 3], 2.0);
        assert_eq!((depth[7 + 3], depth[3]), (1.0, -1.0));
        assert!((depth[0] + core::f32::consts::SQRT_2).abs() < 1e-6);
    }
}
