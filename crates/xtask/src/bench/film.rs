//! A photo of a strip of twelve megapixels, natively: averaged down, laid out, its fog told.
//!
//! Not here: the same in NumPy (`tests/bench/pictures.py`), which makes the same picture.

use std::hint::black_box;

use super::median_ms;
use super::pictures::SIZE;

/// Rows that are handed over at a time, as the page does.
const ROWS: u32 = 600;
/// Pixels of a millimetre of film, and the film's corner on the picture.
const SCALE: f64 = 80.0;
const ORIGIN: (f64, f64) = (560.0, 100.0);
const DAY: &str = "2026-03-01T09:30:00Z";

/// A strip with light past its left side, as a canvas gives it.
fn picture() -> Vec<u8> {
    let (width, height) = SIZE;
    let mut rgba = Vec::with_capacity(width as usize * height as usize * 4);
    for y in 0..height {
        for x in 0..width {
            let (u, v) = ((f64::from(x) - ORIGIN.0) / SCALE, (f64::from(y) - ORIGIN.1) / SCALE);
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

/// One line, as `fog milliseconds`.
pub fn run() -> Result<(), String> {
    let rgba = picture();
    let (width, height) = SIZE;
    let at = |x: f64, y: f64| [ORIGIN.0 + x * SCALE, ORIGIN.1 + y * SCALE];
    let corners = [at(0.0, 5.5), at(36.0, 5.5), at(36.0, 29.5), at(0.0, 29.5)].concat();
    let fog = || -> Result<String, record::Error> {
        let factor = record::film_factor(&corners)?;
        let row = width as usize * 4;
        let mut light = Vec::new();
        for strip in rgba.chunks(row * (ROWS / factor * factor) as usize) {
            light.extend(record::picture_strip(strip, width, (strip.len() / row) as u32, factor)?);
        }
        let columns = width / factor;
        let size = (columns, light.len() as u32 / columns);
        let scaled: Vec<f64> = corners.iter().map(|value| value / f64::from(factor)).collect();
        Ok(record::read_blank(light, size, &scaled, "135", false, DAY)?.frame.group)
    };
    let group = fog().map_err(|error| error.to_string())?;
    if group != "back" {
        return Err(format!(
            "the strip of {width} × {height} pixels was made with light from the back, and \"{group}\" was read"
        ));
    }
    println!("fog {}", median_ms(|| drop(black_box(fog()))));
    println!(
        "floor-fog {}",
        median_ms(|| {
            black_box(black_box(&rgba).iter().map(|byte| u64::from(*byte)).sum::<u64>());
        })
    );
    Ok(())
}
