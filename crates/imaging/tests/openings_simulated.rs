//! Simulated series of openings by phones of many tone curves: blur, flare, noise and eight bits, each stop with an error that is known.
//!
//! Not here: single openings against geometry (`imaging::blades`), the corpus of pictures (the shell's tests).

use imaging::blades::{From, Shot, measure, series};
use imaging::raster::{Plane, Size};
use imaging::transfer::Curve;
use photometry::FNumberMark;

const MARKS: [&str; 7] = ["2", "2.8", "4", "5.6", "8", "11", "16"];
const BLADES: usize = 6;
const SIDE: u32 = 260;

/// Chance from a seed (SplitMix64, constants from memory).
struct Chance(u64);

impl Chance {
    fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }
}

/// What a phone does to light before it writes a code.
struct Phone {
    contrast: f64,
    flare: f64,
    noise: f64,
    blur_px: f64,
}

impl Phone {
    fn any(chance: &mut Chance) -> Self {
        Self {
            contrast: chance.between(0.85, 1.35),
            flare: chance.between(0.0, 0.02),
            noise: chance.between(0.003, 0.012),
            blur_px: chance.between(0.6, 2.6),
        }
    }

    /// Light as it is read back by the usual curve: an S about the mid-tone, eight bits.
    fn read(&self, light: f64, chance: &mut Chance) -> f32 {
        const MID: f64 = 0.18;
        let light = (light + self.flare * 0.3) * (1.0 + self.noise * chance.normal());
        let bent = MID * libm::pow((light / MID).max(1e-6), self.contrast);
        let code = (255.0 * to_code(bent.clamp(0.0, 1.0))).round() / 255.0;
        Curve::Srgb.light(code) as f32
    }
}

/// The code of a light by the sRGB curve (IEC 61966-2-1).
fn to_code(light: f64) -> f64 {
    if light <= 0.003_130_8 { 12.92 * light } else { 1.055 * libm::pow(light, 1.0 / 2.4) - 0.055 }
}

/// A photo of a hexagon of this flat-to-middle distance.
fn photo(flat: f64, turn: f64, phone: &Phone, chance: &mut Chance) -> Plane {
    let middle = (130.0 + chance.between(-1.0, 1.0), 130.0 + chance.between(-1.0, 1.0));
    let flats: Vec<(f64, f64)> = (0..BLADES)
        .map(|blade| turn + blade as f64 * core::f64::consts::TAU / BLADES as f64)
        .map(|angle| (libm::cos(angle), libm::sin(angle)))
        .collect();
    let mut light = Vec::with_capacity((SIDE * SIDE) as usize);
    for y in 0..SIDE {
        for x in 0..SIDE {
            let (dx, dy) = (f64::from(x) - middle.0, f64::from(y) - middle.1);
            let inside = flats.iter().map(|(cos, sin)| flat - dx * cos - dy * sin).fold(f64::INFINITY, f64::min);
            let cover = (inside / (2.0 * phone.blur_px) + 0.5).clamp(0.0, 1.0);
            light.push(phone.read(0.004 + 0.3 * cover, chance));
        }
    }
    Plane { size: Size::new(SIDE, SIDE).expect("a size"), light }
}

#[test]
fn stated_doubts_hold_over_phones_of_many_curves() {
    const LENSES: u64 = 16;
    let (mut inside, mut count, mut squares) = (0_usize, 0_usize, 0.0);
    for lens in 0..LENSES {
        let mut chance = Chance(7000 + lens);
        let phone = Phone::any(&mut chance);
        let turn = chance.uniform();
        let (mut shots, mut truth) = (Vec::new(), Vec::new());
        for (n, mark) in MARKS.iter().enumerate() {
            let mark = FNumberMark::parse(mark, &[]).expect("a mark");
            let error = 0.15 * chance.normal();
            // Areas as the marks have them, with the error; the widest is the largest.
            let flat = 112.0 * libm::exp2(-(n as f64) / 2.0) * libm::exp2(error / 2.0);
            let opening = measure(&photo(flat, turn, &phone, &mut chance), (130.0, 130.0)).ok();
            shots.push(Shot { mark, from: From::Unknown, opening, notices: Vec::new() });
            truth.push(error);
        }
        let found = series(&shots, Some(BLADES)).expect("a series");
        // The errors are against the middle of the stopped-down marks, and so is the truth.
        let mut stopped: Vec<f64> = truth[1..].to_vec();
        stopped.sort_by(f64::total_cmp);
        let middle = (stopped[2] + stopped[3]) / 2.0;
        for (stop, error) in found.stops.iter().zip(&truth).skip(1) {
            let (Some(own), Some(doubt)) = (stop.error_stops, stop.standard_uncertainty_stops) else { continue };
            let off = own - (error - middle);
            squares += off * off;
            inside += usize::from(off.abs() <= 1.96 * doubt);
            count += 1;
        }
    }
    let (share, rms) = (inside as f64 / count as f64, (squares / count as f64).sqrt());
    println!("{count} stops, {:.1} % within 95 %, {rms:.3} stop RMS", 100.0 * share);
    assert!(count >= 5 * LENSES as usize && share > 0.91, "{share}");
    assert!(rms < 0.06, "{rms}");
}
