//! Photos of the outside with the lamp on and off: pixels in, marked spots out.
//!
//! Not here: what a spot is (`imaging`), which place of the camera it lies at, which the person says.

use imaging::leak_spots::{LeakSpots, Spot, leak_spots as find};
use imaging::raster::{Layout, Plane, Size, View};
use imaging::transfer::{Curve, Primaries, Transfer};
use inspection::words;

use crate::error::Error;
use crate::page::{Drawing, LeakPicture, Mark};

/// Cells along the longer side.
const CELLS: u32 = 400;
/// Least radius of a ring about a spot, in shares of the longer side.
const LEAST_RING: f64 = 0.02;

fn refused(error: imaging::Error) -> Error {
    Error::new(error.to_string())
}

fn plane(rgba: &[u8], size: Size) -> Result<Plane, Error> {
    let view = View::new(size, Layout::Rgba, rgba).map_err(refused)?;
    let factor = (size.width().max(size.height()) / CELLS).max(1);
    Plane::of(&view, factor, &Transfer::new(Curve::Srgb, Primaries::Srgb)).map_err(refused)
}

/// A ring about a spot with its number beside it.
fn ring(index: usize, spot: &Spot, width: f64, height: f64) -> [Mark; 2] {
    let longer = width.max(height);
    let (x, y) = (spot.x * width, spot.y * height);
    let radius = (0.75 * (spot.width * width).max(spot.height * height)).max(LEAST_RING * longer);
    // Where there is no room above, the number stands below.
    let beside = if y > 3.0 * radius { y - 1.3 * radius } else { y + 2.2 * radius };
    [
        Mark { shape: "dot".to_owned(), role: "ring".to_owned(), x, y, x2: radius, ..Mark::default() },
        Mark {
            shape: "text".to_owned(),
            role: "ring-number".to_owned(),
            x,
            y: beside,
            text: (index + 1).to_string(),
            anchor: "middle".to_owned(),
            ..Mark::default()
        },
    ]
}

/// Where light comes out: two pictures of the same size, four bytes a pixel, with the lamp on and with it off.
///
/// **Errors** where they are no such pictures.
pub fn leak_picture(on: &[u8], off: &[u8], width: u32, height: u32) -> Result<LeakPicture, Error> {
    let size = Size::new(width, height).map_err(refused)?;
    let LeakSpots { spots, notices, .. } = find(&plane(on, size)?, &plane(off, size)?).map_err(refused)?;
    let (w, h) = (f64::from(width), f64::from(height));
    let said = match spots.len() {
        0 => "No spot stands out of the noise. What is weaker than that does not show in such a photo.".to_owned(),
        n => format!("{}: light comes out here.", words::sentence_case(&words::count(n, "spot", "spots"))),
    };
    Ok(LeakPicture {
        drawing: Drawing {
            width: w,
            height: h,
            title: "The outside with the lamp on".to_owned(),
            description: said.clone(),
            marks: spots.iter().enumerate().flat_map(|(index, spot)| ring(index, spot, w, h)).collect(),
        },
        spots: spots.len(),
        words: said,
        notices: notices.into_iter().map(|notice| notice.text).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bright_square_is_ringed_where_it_is() {
        let (width, height) = (800_u32, 600_u32);
        let picture = |lit: bool| -> Vec<u8> {
            (0..width * height)
                .flat_map(|i| {
                    let (x, y) = (i % width, i / width);
                    // A grain of codes as a dark photo has it.
                    let grain = (x.wrapping_mul(2_654_435_761).wrapping_add(y.wrapping_mul(40_503)) >> 7) % 3;
                    let code =
                        if lit && (200..216).contains(&x) && (300..316).contains(&y) { 120 } else { 8 + grain as u8 };
                    [code, code, code, 255]
                })
                .collect()
        };
        let found = leak_picture(&picture(true), &picture(false), width, height).expect("an outcome");
        assert_eq!(found.spots, 1);
        assert!(found.words.contains("light comes out here"));
        let number = &found.drawing.marks[1];
        assert!((number.x - 208.0).abs() < 4.0 && number.text == "1");
        assert_eq!(leak_picture(&picture(false), &picture(false), width, height).expect("an outcome").spots, 0);
        assert!(leak_picture(&[], &[], width, height).is_err());
    }
}
