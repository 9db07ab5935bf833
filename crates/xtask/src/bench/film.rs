//! A photo of a strip of twelve megapixels, natively: averaged down, laid out, its fog told; half and twice as many pixels too.
//!
//! Not here: the same in NumPy (`tests/bench/fog.py`), which makes the same picture.

use std::hint::black_box;

use record::page::FilmRead;

use super::pictures::{SIZE, SIZES, averaged};
use super::{least_ms, write};

/// Pixels of a millimetre of film, and the film's corner on the picture of twelve megapixels.
const SCALE: f64 = 80.0;
const ORIGIN: (f64, f64) = (560.0, 100.0);
const DAY: &str = "2026-03-01T09:30:00Z";

/// A strip on a picture of a size: what a millimetre comes to, and where it begins.
struct Strip {
    size: (u32, u32),
    scale: f64,
    origin: (f64, f64),
}

impl Strip {
    fn of(size: (u32, u32)) -> Self {
        let part = f64::from(size.0) / f64::from(SIZE.0);
        Self { size, scale: SCALE * part, origin: (ORIGIN.0 * part, ORIGIN.1 * part) }
    }

    /// Light past its left side, as a canvas gives it.
    fn picture(&self) -> Vec<u8> {
        let (width, height) = self.size;
        let mut rgba = Vec::with_capacity(width as usize * height as usize * 4);
        for y in 0..height {
            for x in 0..width {
                let (u, v) = ((f64::from(x) - self.origin.0) / self.scale, (f64::from(y) - self.origin.1) / self.scale);
                let hole = (u + 475.0) % 4.75 < 1.98 && (2.01..4.80).contains(&v.min(35.0 - v));
                let bare = hole || !(0.0..=35.0).contains(&v);
                let fog = 0.7 * libm::exp(-(u + 2.0).max(0.0) / 6.0);
                let light = 0.6 * libm::pow(10.0, if bare { 0.0 } else { -0.28 - fog });
                // sRGB above its foot.
                let code = (255.0 * (1.055 * libm::pow(light.max(0.0032), 1.0 / 2.4) - 0.055)) as u8;
                rgba.extend([code, code, code, 255]);
            }
        }
        rgba
    }

    /// The gate's corners, x and y by turns.
    fn corners(&self) -> Vec<f64> {
        let at = |x: f64, y: f64| [self.origin.0 + x * self.scale, self.origin.1 + y * self.scale];
        [at(0.0, 5.5), at(36.0, 5.5), at(36.0, 29.5), at(0.0, 29.5)].concat()
    }

    fn read(&self, rgba: &[u8]) -> Result<FilmRead, record::Error> {
        let corners = self.corners();
        let factor = record::film_factor(&corners)?;
        let (light, columns, rows) = averaged(rgba, self.size.0, factor)?;
        let scaled: Vec<f64> = corners.iter().map(|value| value / f64::from(factor)).collect();
        record::read_blank(light, (columns, rows), &scaled, "135", false, DAY)
    }
}

/// One line for each, as `name milliseconds`, and what was found for the script.
pub fn run() -> Result<(), String> {
    for (label, size) in [("", SIZE)].into_iter().chain(SIZES) {
        let strip = Strip::of(size);
        let rgba = strip.picture();
        let frame = strip.read(&rgba).map_err(|error| error.to_string())?.frame;
        if frame.group != "back" {
            let (width, height) = size;
            return Err(format!(
                "the strip of {width} × {height} pixels was made with light from the back, and \"{}\" was read",
                frame.group
            ));
        }
        println!("fog{label} {}", least_ms(|| strip.read(black_box(&rgba))));
        if label.is_empty() {
            let floor = || black_box(&rgba).iter().map(|byte| u64::from(*byte)).sum::<u64>();
            println!("floor-fog {}", least_ms(floor));
            write(
                "film.json",
                format!(
                    "{{\"group\":\"{}\",\"side\":\"{}\",\"part\":\"{}\",\"peak_density\":{},\"confidence\":{}}}\n",
                    frame.group, frame.side, frame.part, frame.peak_density, frame.confidence
                ),
            )?;
        }
    }
    Ok(())
}
