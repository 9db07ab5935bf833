//! One opening in a picture of codes, found natively, for the browser's half.
//!
//! Not here: how well an opening is found (`crates/imaging`).

use record::page::FoundOpening;

/// Columns and rows.
const SIZE: (u32, u32) = (240, 180);

/// Codes of a lit hexagon with a soft edge, of whole numbers only so that both halves see the same.
fn codes() -> Vec<u8> {
    let (width, height) = SIZE;
    (0..i64::from(width * height))
        .map(|at| {
            let (x, y) = (2 * (at % i64::from(width)) - 243, 2 * (at / i64::from(width)) - 171);
            // Twice the distance from the flats, in 1/256 of a pixel.
            let flats = [(256, 0), (128, 222), (-128, 222)];
            let beyond = flats.iter().map(|(a, b)| (a * x + b * y).abs()).max().unwrap_or(0);
            let inside = (110 * 256 - beyond) / 4;
            (90 + inside).clamp(14, 178) as u8
        })
        .collect()
}

fn found(factor: u32) -> FoundOpening {
    let rgba: Vec<u8> = codes().into_iter().flat_map(|code| [code, code, code, 255]).collect();
    let (width, height) = SIZE;
    let light = record::picture_strip(&rgba, width, height, factor).expect("light");
    let (width, height) = (width / factor, height / factor);
    let tap = (f64::from(width) / 2.0, f64::from(height) / 2.0);
    record::find_opening(light, width, height, tap, "2", &["2".to_owned(), "16".to_owned()]).expect("an answer")
}

#[test]
fn an_opening_is_written_for_the_browser() {
    let lines: Vec<String> = [1, 2]
        .into_iter()
        .map(|factor| {
            let output = found(factor);
            assert!(output.opening.area_px.is_some_and(|area| area > 2000.0), "{:?}", output.opening.notices);
            serde_json::json!({ "codes": codes(), "width": SIZE.0, "height": SIZE.1, "factor": factor, "output": crate::plain(&output) }).to_string()
        })
        .collect();
    super::write("openings.ndjson", &lines.join("\n"));
}
