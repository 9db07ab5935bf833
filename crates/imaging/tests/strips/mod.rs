//! A maker of photos of strips: film on an uneven light table, held a little askew, through a phone with a tone curve of its own, its
//! flare and its noise, in eight bits.
//!
//! The model follows what is known of leaks: light past a door does not know the gate, light through the front is cut off by it. Not
//! here: what is expected of the photos (`strips_simulated.rs`).

use imaging::film_strip::{Format, Strip, lay_out};
use imaging::fog::Side;
use imaging::raster::{Plane, Size};
use imaging::transfer::Curve;

/// Chance from a seed (SplitMix64, constants from memory).
pub struct Chance(pub u64);

impl Chance {
    pub fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    pub fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    /// Nearly normal, deviation 1.
    pub fn normal(&mut self) -> f64 {
        ((0..3).map(|_| self.uniform()).sum::<f64>() - 1.5) * 2.0
    }
}

/// Density above the base at a place of the film \[mm\].
pub type Fogged = Box<dyn Fn(f64, f64) -> f64>;

const SIZE: (u32, u32) = (820, 720);

/// What the photo shows beside the fog.
#[derive(Clone, Copy)]
pub struct Photo {
    /// Density of the base.
    pub base: f64,
    /// Whether there are holes.
    pub perforated: bool,
    /// Upper and lower edge of the film \[mm\].
    pub edges: (f64, f64),
    /// Whether light and dark are exchanged.
    pub inverted: bool,
    /// How bright the table is, 1 being the whitest.
    pub table: f64,
    /// How far the photo is shifted up \[mm\], so that the upper margin is cut off.
    pub cut_mm: f64,
}

impl Photo {
    pub fn usual(chance: &mut Chance) -> Self {
        Self {
            base: chance.between(0.22, 0.38),
            perforated: true,
            edges: (0.0, 35.0),
            inverted: false,
            table: chance.between(0.5, 0.75),
            cut_mm: 0.0,
        }
    }
}

/// A photo as it is laid out, its corners clicked up to 6 pixels off.
pub fn photographed(fogged: &Fogged, photo: Photo, format: Format, chance: &mut Chance) -> Strip {
    let scale = chance.between(16.5, 17.5);
    let turn = chance.between(-0.03, 0.03);
    let (lean_x, lean_y) = (chance.between(-4e-5, 4e-5), chance.between(-4e-5, 4e-5));
    let (dx, dy) = (chance.between(-8.0, 8.0), chance.between(-8.0, 8.0) - photo.cut_mm * scale);
    let (cx, cy) = (f64::from(SIZE.0) / 2.0 + dx, f64::from(SIZE.1) / 2.0 + dy);
    let (cos, sin) = (libm::cos(turn), libm::sin(turn));
    // From the photo to the film: turned, and leaning a little away.
    let film = |px: f64, py: f64| {
        let (u, v) = (px - cx, py - cy);
        let far = 1.0 + lean_x * u + lean_y * v;
        (18.0 + (u * cos + v * sin) / (scale * far), 17.5 + (v * cos - u * sin) / (scale * far))
    };
    let (tx, ty, bulge) = (chance.between(-0.004, 0.004), chance.between(-0.004, 0.004), chance.between(0.0, 4e-4));
    let tone = chance.between(0.85, 1.2);
    let flare = chance.between(0.005, 0.03);
    let noise = chance.between(0.004, 0.012);
    let phase = chance.between(0.0, 4.75);
    let mut bare = Vec::with_capacity((SIZE.0 * SIZE.1) as usize);
    for row in 0..SIZE.1 {
        for column in 0..SIZE.0 {
            let (x, y) = film(f64::from(column) + 0.5, f64::from(row) + 0.5);
            let (rx, ry) = (x - 18.0, y - 17.5);
            let table = photo.table * (1.0 + tx * rx + ty * ry - bulge * (rx * rx + ry * ry));
            let hole = photo.perforated
                && (x + phase + 475.0).rem_euclid(4.75) < 1.98
                && (2.01..4.80).contains(&(y - photo.edges.0).min(photo.edges.1 - y));
            let on_film = (photo.edges.0..=photo.edges.1).contains(&y) && !hole;
            let density = if on_film { photo.base + fogged(x, y).max(0.0) } else { 0.0 };
            bare.push(table * libm::exp10(-density));
        }
    }
    let mean = bare.iter().sum::<f64>() / bare.len() as f64;
    let codes = Curve::Srgb.table();
    let light = bare
        .into_iter()
        .map(|own| {
            let own = own * (1.0 - flare) + mean * flare;
            let own = own * (1.0 + noise * chance.normal());
            let own = if photo.inverted { (0.45 * 0.12 / own.max(1e-3)).min(1.0) } else { own };
            // A phone's curve bends tones about the middle one; then eight bits.
            let curved = 0.18 * libm::pow((own / 0.18).max(1e-6), tone);
            codes[(Curve::Srgb.code(curved.min(1.0)) * 255.0).round() as usize] as f32
        })
        .collect();
    let plane = Plane { size: Size::new(SIZE.0, SIZE.1).expect("a size"), light };
    // Where a place of the film lies on the photo, by going back and forth.
    let on_photo = |x: f64, y: f64| {
        let (mut px, mut py) = (cx, cy);
        for _ in 0..30 {
            let (fx, fy) = film(px, py);
            px += (x - fx) * scale;
            py += (y - fy) * scale;
        }
        (px, py)
    };
    let mut click = |x: f64, y: f64| {
        let (px, py) = on_photo(x, y);
        (px + 6.0 * (chance.uniform() - 0.5), py + 6.0 * (chance.uniform() - 0.5))
    };
    let corners = [click(0.0, 5.5), click(36.0, 5.5), click(36.0, 29.5), click(0.0, 29.5)];
    lay_out(&plane, &corners, format).expect("laid out")
}

/// How far inward from a side of the gate, and where along it from the middle \[mm\].
fn from_side(side: Side, x: f64, y: f64) -> (f64, f64) {
    match side {
        Side::Left => (x, y - 17.5),
        Side::Right => (36.0 - x, y - 17.5),
        Side::Top => (y - 5.5, x - 18.0),
        Side::Bottom => (29.5 - y, x - 18.0),
    }
}

/// Past the door, a hinge or a latch: from the edge of the film or from the roll beside it.
pub fn door(side: Side, chance: &mut Chance) -> Fogged {
    let peak = chance.between(0.12, 0.9);
    let upright = matches!(side, Side::Left | Side::Right);
    let reach = chance.between(4.0, 8.0);
    let before = if upright { chance.between(1.0, 3.0) } else { 5.5 };
    let (at, wide) = if upright {
        (chance.between(-3.0, 3.0), 40.0)
    } else {
        (chance.between(-9.0, 9.0), chance.between(8.0, 20.0))
    };
    Box::new(move |x, y| {
        let (inward, along) = from_side(side, x, y);
        peak * libm::exp(-(inward + before).max(0.0) / reach)
            * libm::exp(-0.5 * ((along - at) / wide) * ((along - at) / wide))
    })
}

/// Through the cassette's window: the middle of a side only.
pub fn window(side: Side, chance: &mut Chance) -> Fogged {
    let (peak, reach, wide) = (chance.between(0.2, 0.9), chance.between(4.0, 7.0), chance.between(4.0, 5.5));
    Box::new(move |x, y| {
        let (inward, along) = from_side(side, x, y);
        peak * libm::exp(-(inward + 2.0).max(0.0) / reach) * libm::exp(-0.5 * along * along / (wide * wide))
    })
}

fn in_gate(x: f64, y: f64, soft: f64) -> f64 {
    let inside = x.min(36.0 - x).min(y - 5.5).min(29.5 - y);
    (inside / soft + 0.5).clamp(0.0, 1.0)
}

/// Past the edge of the mirror box.
pub fn foam(side: Side, chance: &mut Chance) -> Fogged {
    let (peak, reach, at) = (chance.between(0.12, 0.7), chance.between(2.5, 5.0), chance.between(-7.0, 7.0));
    let (wide, soft) = (chance.between(6.0, 12.0), chance.between(0.1, 0.3));
    Box::new(move |x, y| {
        let (inward, along) = from_side(side, x, y);
        let own = peak
            * libm::exp(-inward.max(0.0) / reach)
            * libm::exp(-0.5 * ((along - at) / wide) * ((along - at) / wide));
        own * in_gate(x, y, soft)
    })
}

/// Through the mount: the whole gate.
pub fn mount(chance: &mut Chance) -> Fogged {
    let (peak, tilt, soft) = (chance.between(0.12, 0.6), chance.between(-0.006, 0.006), chance.between(0.1, 0.3));
    Box::new(move |x, y| peak * (1.0 + tilt * (x - 18.0)) * in_gate(x, y, soft))
}

/// A hole in a curtain.
pub fn pinhole(chance: &mut Chance) -> Fogged {
    let (peak, size) = (chance.between(0.2, 0.9), chance.between(0.5, 0.9));
    let (at_x, at_y) = (chance.between(7.0, 29.0), chance.between(11.0, 24.0));
    Box::new(move |x, y| peak * libm::exp(-0.5 * ((x - at_x) * (x - at_x) + (y - at_y) * (y - at_y)) / (size * size)))
}
