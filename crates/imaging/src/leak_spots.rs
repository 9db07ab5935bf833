//! Bright spots on the outside of a camera with a lamp inside: a long exposure with the lamp on against one with it off.
//!
//! A spot says "light comes out here", and nothing of how much film would see. Not here: which part of the camera that is, which
//! the person says (`inspection`); decoding files.
//!
//! Both photos are averaged to small cells of light. What was already bright with the lamp off, within [`REACH`] cells, is taken
//! off first, so that a hot pixel, a standing reflection or a camera that moved a little makes no spot. The noise is that of the
//! difference, by the median of its absolute deviations, in classes of brightness, for it grows with the light.

use std::collections::VecDeque;

use crate::error::Error;
use crate::notice::Notice;
use crate::raster::{Plane, Size};

/// How far the camera may have moved between the photos \[cells\].
pub const REACH: u32 = 2;
/// How many standard deviations of the noise a spot must stand out. On computed noise of a dark photo fewer than 1 pair in 100
/// gives a false spot (see the tests).
pub const STANDS_OUT: f64 = 7.0;
/// Fewest cells of a spot.
const FEWEST_CELLS: usize = 2;
/// Most spots that are given, the brightest first.
const MOST_SPOTS: usize = 12;
/// Classes of brightness in which the noise is told.
const CLASSES: usize = 8;
/// Least noise \[light, 1 is the whitest code\]: half a code near black, spread evenly over a cell (rectangular).
const LEAST_NOISE: f64 = 0.5 / 255.0 / 12.92 / 3.464;
/// Light above which a cell counts as white.
const WHITE: f32 = 0.95;
/// A picture that got brighter all over by more than so many times its noise has been lit from elsewhere.
const ALL_OVER: f64 = 4.0;
/// More of the cells than this standing out means that the photos do not belong together.
const MOST_OF_PICTURE: f64 = 0.15;

/// A place where light comes out, in shares of the picture from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spot {
    /// Middle from the left, weighted by light.
    pub x: f64,
    /// Middle from the top, weighted by light.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// How many times the noise its brightest cell stands out.
    pub stands_out: f64,
}

/// What two photos come to.
#[derive(Clone, Debug, PartialEq)]
pub struct LeakSpots {
    /// The spots, the most light first.
    pub spots: Vec<Spot>,
    /// Standard deviation of the noise in the darker half \[light, 1 is the whitest code\].
    pub noise: f64,
    /// What has to be known.
    pub notices: Vec<Notice>,
}

fn median(values: &mut [f64]) -> f64 {
    if values.is_empty() {
        return 0.0;
    }
    let middle = values.len() / 2;
    *values.select_nth_unstable_by(middle, f64::total_cmp).1
}

/// The brightest cell within reach of each, first along rows, then along columns: O(n).
fn spread(plane: &Plane) -> Vec<f32> {
    let (w, h) = (plane.size.width() as usize, plane.size.height() as usize);
    let reach = REACH as usize;
    let mut rows = vec![0.0_f32; w * h];
    for y in 0..h {
        for x in 0..w {
            let (from, to) = (x.saturating_sub(reach), (x + reach).min(w - 1));
            rows[y * w + x] = plane.light[y * w + from..=y * w + to].iter().copied().fold(0.0, f32::max);
        }
    }
    let mut both = vec![0.0_f32; w * h];
    for y in 0..h {
        let (from, to) = (y.saturating_sub(reach), (y + reach).min(h - 1));
        for x in 0..w {
            both[y * w + x] = (from..=to).map(|row| rows[row * w + x]).fold(0.0, f32::max);
        }
    }
    both
}

/// The middle of the difference and its noise, class by class of the light with the lamp off; the class of each cell.
struct Noise {
    middle: f64,
    of_class: [f64; CLASSES],
    edges: [f32; CLASSES - 1],
}

impl Noise {
    fn of(on: &Plane, off: &Plane) -> Self {
        let mut sorted: Vec<f32> = off.light.clone();
        sorted.sort_unstable_by(f32::total_cmp);
        let edges = core::array::from_fn(|i| sorted[sorted.len() * (i + 1) / CLASSES]);
        let mut noise = Self { middle: 0.0, of_class: [LEAST_NOISE; CLASSES], edges };
        let mut classes: [Vec<f64>; CLASSES] = Default::default();
        let mut all = Vec::with_capacity(on.light.len());
        for (&a, &b) in on.light.iter().zip(&off.light) {
            let difference = f64::from(a) - f64::from(b);
            classes[noise.class(b)].push(difference);
            all.push(difference);
        }
        noise.middle = median(&mut all);
        for (slot, values) in noise.of_class.iter_mut().zip(&mut classes) {
            let middle = median(values);
            let mut away: Vec<f64> = values.iter().map(|value| (value - middle).abs()).collect();
            *slot = (1.4826 * median(&mut away)).max(LEAST_NOISE);
        }
        // Noise does not get less with more light; classes that hold few cells are not trusted below their neighbours.
        for i in 1..CLASSES {
            noise.of_class[i] = noise.of_class[i].max(noise.of_class[i - 1]);
        }
        noise
    }

    fn class(&self, light: f32) -> usize {
        self.edges.iter().take_while(|edge| light >= **edge).count()
    }
}

/// Finds where light comes out. `on` and `off` are the same view, equally exposed, averaged to cells; a cell should be about
/// 1/400 of the longer side.
///
/// **Errors** where the planes differ in size or have fewer than 16 × 16 cells.
pub fn leak_spots(on: &Plane, off: &Plane) -> Result<LeakSpots, Error> {
    let size: Size = on.size;
    if size != off.size {
        return Err(Error::new(format!(
            "both pictures must have the same size, and {} × {} and {} × {} cells were given",
            size.width(),
            size.height(),
            off.size.width(),
            off.size.height()
        )));
    }
    if size.width() < 16
        || size.height() < 16
        || on.light.len() as u64 != size.pixels()
        || off.light.len() != on.light.len()
    {
        return Err(Error::new(format!(
            "the pictures must have at least 16 × 16 cells, and {} × {} were given",
            size.width(),
            size.height()
        )));
    }
    let mut notices = Vec::new();
    let noise = Noise::of(on, off);
    let base = noise.of_class[0];
    if noise.middle.abs() > ALL_OVER * noise.of_class[CLASSES / 2] {
        notices.push(Notice::warning(
            "lit_all_over",
            if noise.middle > 0.0 {
                "With the lamp on the whole picture is brighter: light reaches it by another way, such as the lens or the room. Cover \
                 them and take both photos again."
            } else {
                "With the lamp off the picture is brighter: the photos may be the wrong way round, or were exposed differently."
            },
        ));
    }
    let (w, h) = (size.width() as usize, size.height() as usize);
    let before = spread(off);
    let mut out: Vec<f32> = Vec::with_capacity(w * h);
    for ((&a, &b), &own) in on.light.iter().zip(&before).zip(&off.light) {
        let sigma = noise.of_class[noise.class(own.max(b))];
        let times = (f64::from(a) - f64::from(b) - noise.middle.max(0.0)) / sigma;
        out.push(if times >= STANDS_OUT { times as f32 } else { 0.0 });
    }
    let standing = out.iter().filter(|times| **times > 0.0).count();
    if standing as f64 > MOST_OF_PICTURE * (w * h) as f64 {
        notices.push(Notice::refusal(
            "not_a_pair",
            "The photos differ nearly everywhere: take both from a support, the same exposure, only the lamp switched.",
        ));
        return Ok(LeakSpots { spots: Vec::new(), noise: base, notices });
    }
    let mut spots = grouped(&mut out, on, w, h);
    if on.light.iter().any(|light| *light >= WHITE) && !spots.is_empty() {
        notices.push(Notice::remark(
            "white",
            "A spot is white in the photo: its glare hides weaker ones beside it. A shorter exposure shows them.",
        ));
    }
    if spots.len() > MOST_SPOTS {
        notices.push(Notice::remark(
            "many",
            format!("{} spots were found; the {MOST_SPOTS} brightest are marked.", spots.len()),
        ));
        spots.truncate(MOST_SPOTS);
    }
    Ok(LeakSpots { spots: spots.into_iter().map(|(_, spot)| spot).collect(), noise: base, notices })
}

/// Cells that touch make one spot; those of fewer than [`FEWEST_CELLS`] are left out. Each cell is visited once.
fn grouped(out: &mut [f32], on: &Plane, w: usize, h: usize) -> Vec<(f64, Spot)> {
    let mut spots = Vec::new();
    let mut waiting = VecDeque::new();
    for start in 0..out.len() {
        if out[start] <= 0.0 {
            continue;
        }
        let (mut cells, mut light, mut sum_x, mut sum_y, mut peak) = (0_usize, 0.0, 0.0, 0.0, 0.0_f32);
        let (mut left, mut right, mut top, mut bottom) = (w, 0, h, 0);
        waiting.push_back((start, out[start]));
        out[start] = 0.0;
        while let Some((at, times)) = waiting.pop_front() {
            let (x, y) = (at % w, at / w);
            let weight = f64::from(on.light[at]);
            cells += 1;
            light += weight;
            sum_x += weight * (x as f64 + 0.5);
            sum_y += weight * (y as f64 + 0.5);
            peak = peak.max(times);
            (left, right, top, bottom) = (left.min(x), right.max(x), top.min(y), bottom.max(y));
            for ny in y.saturating_sub(1)..=(y + 1).min(h - 1) {
                for nx in x.saturating_sub(1)..=(x + 1).min(w - 1) {
                    let next = ny * w + nx;
                    if out[next] > 0.0 {
                        waiting.push_back((next, out[next]));
                        out[next] = 0.0;
                    }
                }
            }
        }
        if cells >= FEWEST_CELLS && light > 0.0 {
            spots.push((
                light,
                Spot {
                    x: sum_x / light / w as f64,
                    y: sum_y / light / h as f64,
                    width: (right + 1 - left) as f64 / w as f64,
                    height: (bottom + 1 - top) as f64 / h as f64,
                    stands_out: f64::from(peak),
                },
            ));
        }
    }
    spots.sort_by(|a, b| b.0.total_cmp(&a.0));
    spots
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::raster::{Layout, View};
    use crate::transfer::{Curve, Primaries, Transfer};

    const W: usize = 320;
    const H: usize = 240;
    const FACTOR: u32 = 4;

    /// A plain generator of even numbers from 0 to 1 (64-bit, multiply and shift).
    struct Chance(u64);

    impl Chance {
        fn even(&mut self) -> f64 {
            self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (self.0 >> 11) as f64 / (1_u64 << 53) as f64
        }

        fn normal(&mut self) -> f64 {
            (0..12).map(|_| self.even()).sum::<f64>() - 6.0
        }
    }

    /// A dark photo: a dim camera on a dark ground, hot pixels that stay, shot and read noise, eight-bit codes.
    fn photo(chance: &mut Chance, spots: &[(f64, f64, f64, f64)], shift: i32, lift: f64) -> Plane {
        let transfer = Transfer::new(Curve::Srgb, Primaries::Srgb);
        let mut bytes = Vec::with_capacity(W * H);
        for y in 0..H {
            for x in 0..W {
                let moved = (x as i32 + shift) as f64;
                let body = (80.0..240.0).contains(&moved) && (60..180).contains(&y);
                let mut light = if body { 0.006 } else { 0.0015 } + lift;
                for (cx, cy, size, peak) in spots {
                    let (dx, dy) = ((moved - cx) / size, (y as f64 - cy) / size);
                    let d2 = dx * dx + dy * dy;
                    light += peak * libm::exp(-0.5 * d2);
                }
                if (x * 7919 + y * 104_729) % 9973 == 0 {
                    light = 0.6;
                }
                let noise = (1.5e-6 + 2e-4 * light).sqrt();
                let seen = (light + noise * chance.normal()).clamp(0.0, 1.0);
                let code = if seen <= 0.003_130_8 { 12.92 * seen } else { 1.055 * libm::pow(seen, 1.0 / 2.4) - 0.055 };
                bytes.push((255.0 * code).round() as u8);
            }
        }
        let size = Size::new(W as u32, H as u32).expect("a size");
        Plane::of(&View::new(size, Layout::Grey, &bytes).expect("a view"), FACTOR, &transfer).expect("a plane")
    }

    #[test]
    fn fewer_than_one_dark_pair_in_a_hundred_gives_a_spot() {
        let mut chance = Chance(11);
        let false_alarms = (0..200)
            .filter(|pair| {
                let off = photo(&mut chance, &[], 0, 0.0);
                let on = photo(&mut chance, &[], pair % 5 - 2, 0.0);
                !leak_spots(&on, &off).expect("an outcome").spots.is_empty()
            })
            .count();
        assert!(false_alarms < 2, "{false_alarms} of 200");
    }

    #[test]
    fn a_weak_leak_is_found_where_it_is() {
        let mut chance = Chance(5);
        let mut found = 0;
        for trial in 0..40 {
            let (x, y) = (20.0 + 280.0 * chance.even(), 20.0 + 200.0 * chance.even());
            let off = photo(&mut chance, &[], 0, 0.0);
            let on = photo(&mut chance, &[(x, y, 5.0, 0.03)], trial % 3 - 1, 0.0);
            let spots = leak_spots(&on, &off).expect("an outcome").spots;
            if let [spot] = spots.as_slice() {
                let away = libm::hypot(spot.x * W as f64 - x, spot.y * H as f64 - y);
                assert!(away < 6.0, "{away} pixels off");
                found += 1;
            }
        }
        assert!(found >= 38, "{found} of 40");
    }

    #[test]
    fn two_leaks_are_two_and_the_brighter_comes_first() {
        let mut chance = Chance(3);
        let off = photo(&mut chance, &[], 0, 0.0);
        let on = photo(&mut chance, &[(90.0, 70.0, 4.0, 0.1), (220.0, 160.0, 6.0, 0.5)], 0, 0.0);
        let spots = leak_spots(&on, &off).expect("an outcome").spots;
        assert_eq!(spots.len(), 2);
        assert!((spots[0].x * W as f64 - 220.0).abs() < 4.0 && spots[0].stands_out > spots[1].stands_out);
    }

    #[test]
    fn photos_that_do_not_belong_together_are_said_to() {
        let mut chance = Chance(9);
        let (dark, lit) = (photo(&mut chance, &[], 0, 0.0), photo(&mut chance, &[], 0, 0.05));
        let codes = |given: LeakSpots| given.notices.iter().map(|notice| notice.code).collect::<Vec<_>>();
        assert!(codes(leak_spots(&lit, &dark).expect("an outcome")).contains(&"lit_all_over"));
        assert!(codes(leak_spots(&dark, &lit).expect("an outcome")).contains(&"lit_all_over"));
        let small = Plane { size: Size::new(8, 8).expect("a size"), light: vec![0.0; 64] };
        assert!(leak_spots(&small, &small).is_err() && leak_spots(&dark, &small).is_err());
    }
}
