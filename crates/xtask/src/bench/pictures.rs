//! Pictures of twelve megapixels, natively: the light of a patch as large as the picture, and an opening found in one.
//!
//! Not here: signals ([`super`]), the same in the browser and in NumPy (`tests/bench`).

use std::hint::black_box;

use record::page::{PatchSums, PhotoPatch};

use super::median_ms;

/// A picture as phones take them.
pub const SIZE: (u32, u32) = (4000, 3000);
/// Rows that are handed over at a time, as the page does.
const ROWS: u32 = 600;
const RADIUS: f64 = 700.0;

/// A bright disc on a dark field, as a canvas gives it: the same picture as the scripts make.
fn picture() -> Vec<u8> {
    let (width, height) = SIZE;
    let mut rgba = Vec::with_capacity(width as usize * height as usize * 4);
    for y in 0..height {
        for x in 0..width {
            let (dx, dy) = (f64::from(x) - 2000.0, f64::from(y) - 1500.0);
            let inside = (RADIUS - (dx * dx + dy * dy).sqrt() + 0.5).clamp(0.0, 1.0);
            let code = (12.0 + 138.0 * inside) as u8;
            rgba.extend([code, code, code, 255]);
        }
    }
    rgba
}

/// One line for each, as `name milliseconds`.
pub fn run() -> Result<(), String> {
    let said = |error: record::Error| error.to_string();
    let rgba = picture();
    let (width, height) = SIZE;
    let row = width as usize * 4;
    let strips = || rgba.chunks(row * ROWS as usize).enumerate().map(|(n, strip)| (n as u32 * ROWS, strip));
    let patch = || -> Result<PatchSums, record::Error> {
        let empty = PatchSums { patch: PhotoPatch { x: 0, y: 0, width, height }, ..PatchSums::default() };
        strips().try_fold(empty, |sums, (top, strip)| record::photo_strip(&sums, strip, width, 0, top))
    };
    let opening = || -> Result<Option<f64>, record::Error> {
        let factor = record::picture_factor(width, height)?;
        let high = ROWS / factor * factor;
        let mut light = Vec::new();
        for strip in rgba.chunks(row * high as usize) {
            let rows = (strip.len() / row) as u32;
            light.extend(record::picture_strip(strip, width, rows, factor)?);
        }
        let (columns, rows) = (width / factor, light.len() as u32 / (width / factor));
        let tap = (f64::from(columns) / 2.0, f64::from(rows) / 2.0);
        Ok(record::find_opening(light, columns, rows, tap, "", &[])?.opening.area_px)
    };
    patch().map_err(said)?;
    let area = opening().map_err(said)?.ok_or("no opening was found in the picture that was made for it")?;
    println!("patch {}", median_ms(|| drop(black_box(patch()))));
    println!("openings {}", median_ms(|| drop(black_box(opening()))));
    println!("area {area}");
    let floor = || black_box(&rgba).iter().map(|byte| u64::from(*byte)).sum::<u64>();
    let floor = median_ms(|| {
        black_box(floor());
    });
    println!("floor-patch {floor}");
    println!("floor-openings {floor}");
    Ok(())
}
