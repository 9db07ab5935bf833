//! The mark of the page as pictures of the sizes that a phone asks for, painted from the one drawing in `www/icons/mark.svg`: bars
//! about a zero line, as the page draws every error. It holds rectangles only, so that painting it is adding up areas.
//!
//! Not here: the drawing.

/// Side of the drawing in its own units.
const SIDE: f64 = 32.0;
/// Of a picture that a phone may cut to any shape, this share of the side in the middle always shows; the mark stands in it.
const SAFE: f64 = 0.8;

/// A picture: its name, its side in pixels, and whether a phone may cut it.
const PICTURES: [(&str, u32, bool); 5] = [
    ("mark-180.png", 180, false),
    ("mark-192.png", 192, false),
    ("mark-512.png", 512, false),
    ("mark-maskable-192.png", 192, true),
    ("mark-maskable-512.png", 512, true),
];

/// A rectangle of the drawing.
#[derive(Debug, PartialEq)]
struct Rectangle {
    left: f64,
    top: f64,
    width: f64,
    height: f64,
    colour: [u8; 3],
}

/// Every picture with its name.
pub fn pictures(svg: &str) -> Result<Vec<(String, Vec<u8>)>, String> {
    let drawing = rectangles(svg)?;
    PICTURES
        .iter()
        .map(|(name, side, cut)| {
            let share = if *cut { SAFE } else { 1.0 };
            Ok(((*name).to_owned(), encode(&paint(&drawing, *side, share), *side)?))
        })
        .collect()
}

fn rectangles(svg: &str) -> Result<Vec<Rectangle>, String> {
    let found: Option<Vec<Rectangle>> = svg.split("<rect ").skip(1).map(rectangle).collect();
    match found {
        Some(found) if !found.is_empty() && svg.matches('<').count() == found.len() + 2 => Ok(found),
        _ => Err("www/icons/mark.svg: only rectangles with x, y, width, height and a colour can be painted".to_owned()),
    }
}

fn rectangle(text: &str) -> Option<Rectangle> {
    let value = |name: &str| text.split_once(&format!("{name}=\""))?.1.split('"').next();
    let number = |name: &str| value(name)?.parse::<f64>().ok();
    let hex = value("fill")?.strip_prefix('#')?;
    let part = |at: usize| u8::from_str_radix(hex.get(at..at + 2)?, 16).ok();
    Some(Rectangle {
        left: number("x")?,
        top: number("y")?,
        width: number(" width").or_else(|| number("width"))?,
        height: number("height")?,
        colour: [part(0)?, part(2)?, part(4)?],
    })
}

/// Three bytes a pixel. The first rectangle is the ground and always fills the picture; the others fill a share of it in the middle.
fn paint(drawing: &[Rectangle], side: u32, share: f64) -> Vec<u8> {
    let scale = f64::from(side) * share / SIDE;
    let edge = f64::from(side) * (1.0 - share) / 2.0;
    let mut light = vec![0.0_f64; (side * side * 3) as usize];
    for (i, one) in drawing.iter().enumerate() {
        let (scale, edge) = if i == 0 { (f64::from(side) / SIDE, 0.0) } else { (scale, edge) };
        let across = covered(edge + one.left * scale, one.width * scale, side);
        let down = covered(edge + one.top * scale, one.height * scale, side);
        for (y, high) in down.iter().enumerate() {
            for (x, wide) in across.iter().enumerate() {
                let at = (y * side as usize + x) * 3;
                for (value, colour) in light[at..at + 3].iter_mut().zip(one.colour) {
                    *value += (f64::from(colour) - *value) * high * wide;
                }
            }
        }
    }
    light.into_iter().map(|value| value.round() as u8).collect()
}

/// How much of each pixel of a row a stretch covers.
fn covered(begin: f64, length: f64, side: u32) -> Vec<f64> {
    let end = begin + length;
    (0..side).map(f64::from).map(|at| (end.min(at + 1.0) - begin.max(at)).clamp(0.0, 1.0)).collect()
}

fn encode(pixels: &[u8], side: u32) -> Result<Vec<u8>, String> {
    let said = |error: png::EncodingError| format!("a picture of the mark: {error}");
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, side, side);
    encoder.set_color(png::ColorType::Rgb);
    encoder.set_compression(png::Compression::High);
    let mut writer = encoder.write_header().map_err(said)?;
    writer.write_image_data(pixels).map_err(said)?;
    writer.finish().map_err(said)?;
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    const TWO: &str = "<svg viewBox=\"0 0 32 32\"><rect x=\"0\" y=\"0\" width=\"32\" height=\"32\" fill=\"#ffffff\"/>\
                       <rect x=\"8\" y=\"16\" width=\"8\" height=\"1\" fill=\"#000000\"/></svg>";

    #[test]
    fn a_rectangle_stands_where_the_drawing_has_it() {
        let drawing = rectangles(TWO).expect("two");
        let pixels = paint(&drawing, 64, 1.0);
        let at = |x: usize, y: usize| pixels[(y * 64 + x) * 3];
        assert_eq!(
            [at(15, 32), at(16, 32), at(31, 33), at(32, 33), at(16, 31), at(16, 34)],
            [255, 0, 0, 255, 255, 255]
        );
        // Half a pixel is half as dark; a cut picture has its ground to the edge.
        assert_eq!(paint(&drawing, 16, 1.0)[(8 * 16 + 4) * 3], 128);
        let cut = paint(&drawing, 40, 0.8);
        assert_eq!((cut[0], cut[(20 * 40 + 12) * 3], cut[(20 * 40 + 11) * 3]), (255, 0, 255));
    }

    #[test]
    fn a_drawing_that_cannot_be_painted_is_refused() {
        assert!(rectangles(&TWO.replace("</svg>", "<path d=\"M0 0\"/></svg>")).is_err());
        assert!(rectangles(&TWO.replace("#000000", "black")).is_err());
        assert!(rectangles("<svg></svg>").is_err());
    }

    #[test]
    fn every_size_is_made() {
        let made = pictures(TWO).expect("made");
        let side = |name: &str| made.iter().find(|(other, _)| other == name).map(|(_, bytes)| bytes[16..24].to_vec());
        assert_eq!(side("mark-512.png"), Some(vec![0, 0, 2, 0, 0, 0, 2, 0]));
        assert_eq!(made.len(), PICTURES.len());
    }
}
