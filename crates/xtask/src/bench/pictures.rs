//! Pictures of twelve megapixels, natively: the light of a patch as large as the picture, and an opening of a lens found in one and
//! judged; half and twice as many pixels too.
//!
//! Not here: signals ([`super::signals`]), film ([`super::film`]), the same in the browser and in NumPy (`tests/bench`).

use std::hint::black_box;

use record::page::{FoundOpening, PatchSums, PhotoPatch};
use record::v1::{Inspection, OpeningShot};

use super::{least_ms, write};

/// A picture as phones take them.
pub const SIZE: (u32, u32) = (4000, 3000);
/// Half and twice as many pixels.
pub const SIZES: [(&str, (u32, u32)); 2] = [("-half", (2832, 2124)), ("-twice", (5656, 4242))];
/// Rows that are handed over at a time, as the page does.
pub const ROWS: u32 = 600;
/// Blades of the opening, and how far each lies from its middle in the picture of twelve megapixels \[pixels\].
const BLADES: usize = 7;
const APOTHEM: f64 = 650.0;
const DAY: &str = "2026-03-01T09:30:00Z";
/// Marks of the photos that are judged together, and what is left of the area at each.
const MARKS: [(&str, f64); 3] = [("4", 1.0), ("5.6", 0.5), ("8", 0.25)];

/// A bright opening with straight blades on a dark field, as a canvas gives it: the same picture as the scripts make.
fn picture((width, height): (u32, u32)) -> Vec<u8> {
    let apothem = APOTHEM * f64::from(width) / f64::from(SIZE.0);
    let normals: [(f64, f64); BLADES] = core::array::from_fn(|blade| {
        let angle = blade as f64 * core::f64::consts::TAU / BLADES as f64;
        (libm::cos(angle), libm::sin(angle))
    });
    let mut rgba = Vec::with_capacity(width as usize * height as usize * 4);
    for y in 0..height {
        for x in 0..width {
            let (dx, dy) = (f64::from(x) - f64::from(width) / 2.0, f64::from(y) - f64::from(height) / 2.0);
            let off = normals.iter().map(|(cos, sin)| cos * dx + sin * dy).fold(f64::NEG_INFINITY, f64::max);
            let inside = (apothem - off + 0.5).clamp(0.0, 1.0);
            let code = (12.0 + 138.0 * inside) as u8;
            rgba.extend([code, code, code, 255]);
        }
    }
    rgba
}

/// The sums of a patch as large as the picture, strip by strip.
fn patch(rgba: &[u8], (width, height): (u32, u32)) -> Result<PatchSums, record::Error> {
    let empty = PatchSums { patch: PhotoPatch { x: 0, y: 0, width, height }, ..PatchSums::default() };
    let strips = rgba.chunks(width as usize * 4 * ROWS as usize).enumerate();
    strips
        .map(|(n, strip)| (n as u32 * ROWS, strip))
        .try_fold(empty, |sums, (top, strip)| record::photo_strip(&sums, strip, width, 0, top))
}

/// A picture averaged down strip by strip, and its size then.
pub fn averaged(rgba: &[u8], width: u32, factor: u32) -> Result<(Vec<f32>, u32, u32), record::Error> {
    let row = width as usize * 4;
    let mut light = Vec::new();
    for strip in rgba.chunks(row * (ROWS / factor * factor) as usize) {
        light.extend(record::picture_strip(strip, width, (strip.len() / row) as u32, factor)?);
    }
    let columns = width / factor;
    let rows = light.len() as u32 / columns;
    Ok((light, columns, rows))
}

/// The opening in the middle of a picture.
fn opening(rgba: &[u8], (width, height): (u32, u32)) -> Result<FoundOpening, record::Error> {
    let (light, columns, rows) = averaged(rgba, width, record::picture_factor(width, height)?)?;
    record::find_opening(light, columns, rows, (f64::from(columns) / 2.0, f64::from(rows) / 2.0), "", &[])
}

/// The same with its shape judged as that of a lens: roundness, number of blades, blades that sit off.
fn judged(rgba: &[u8], size: (u32, u32), inspection: &Inspection) -> Result<Inspection, record::Error> {
    let found = opening(rgba, size)?.opening;
    let mut inspection = inspection.clone();
    // The same picture twice would count once.
    let shot = |(mark, part): (&str, f64)| OpeningShot {
        f_number: mark.to_owned(),
        area_px: found.area_px.map(|area| part * area),
        ..found.clone()
    };
    inspection.aperture.openings = MARKS.map(shot).to_vec();
    Ok(record::accept(inspection, DAY)?.inspection)
}

/// One line for each, as `name milliseconds`, and what was found for the scripts.
pub fn run() -> Result<(), String> {
    let said = |error: record::Error| error.to_string();
    let inspection = record::new_inspection("rangefinder", "bench", DAY).map_err(said)?.inspection;
    for (label, size) in [("", SIZE)].into_iter().chain(SIZES) {
        let rgba = picture(size);
        let sums = patch(&rgba, size).map_err(said)?;
        let result = judged(&rgba, size, &inspection).map_err(said)?;
        println!("patch{label} {}", least_ms(|| patch(black_box(&rgba), size)));
        println!("openings{label} {}", least_ms(|| judged(black_box(&rgba), size, &inspection)));
        if label.is_empty() {
            let floor = || black_box(&rgba).iter().map(|byte| u64::from(*byte)).sum::<u64>();
            let floor = least_ms(floor);
            println!("floor-patch {floor}\nfloor-openings {floor}");
            write("pictures.json", found(&sums, &result)?)?;
        }
    }
    Ok(())
}

/// What the scripts have to find too.
fn found(sums: &PatchSums, judged: &Inspection) -> Result<String, String> {
    let shot = judged.aperture.openings.first().ok_or("no opening was kept")?;
    let result = judged.result.as_ref().and_then(|result| result.aperture.as_ref()).ok_or("no aperture was judged")?;
    let area = shot.area_px.ok_or("no opening was found in the picture that was made for it")?;
    let roundness = result.stops.iter().find_map(|stop| stop.roundness).ok_or("no roundness was told")?;
    let blades = result.blade_count.ok_or("the blades of the opening were not counted")?;
    let pixels: f64 = sums.counts.iter().map(|count| f64::from(*count)).sum();
    let mean = sums.light.iter().sum::<f64>() / pixels;
    Ok(format!(
        "{{\"mean\":{mean},\"clipped\":{},\"black\":{},\"area_px\":{area},\"perimeter_px\":{},\"roundness\":{roundness},\"blades\":{blades}}}\n",
        f64::from(sums.clipped) / pixels,
        f64::from(sums.black) / pixels,
        shot.perimeter_px,
    ))
}
