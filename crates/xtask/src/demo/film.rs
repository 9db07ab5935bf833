//! A strip of the demo's test roll: a blank frame on a light table with light that came past the upper door channel, computed and
//! then read as any photo is.
//!
//! Not here: reading it (`record`).

use record::v1::RollFrame;

use super::{Camera, Chance};

/// Pixels of a millimetre, size of the photo, place of the film's corner on it.
const SCALE: f64 = 16.0;
const SIZE: (u32, u32) = (760, 680);
const ORIGIN: (f64, f64) = (90.0, 60.0);

/// The frame that lay in the closed camera in bright light; pictures on the strip are upright.
pub(super) fn leaking(camera: &Camera, chance: &mut Chance) -> Result<RollFrame, String> {
    let mut light = Vec::with_capacity((SIZE.0 * SIZE.1) as usize);
    for row in 0..SIZE.1 {
        for column in 0..SIZE.0 {
            let (x, y) = ((f64::from(column) - ORIGIN.0) / SCALE, (f64::from(row) - ORIGIN.1) / SCALE);
            let hole = (x + 475.0) % 4.75 < 1.98 && (2.01..4.80).contains(&y.min(35.0 - y));
            let bare = hole || !(0.0..=35.0).contains(&y);
            // Upright, the strip is turned by half: the top of the gate is at its foot.
            let reach = 35.0 - y;
            let fog = 0.9 * libm::exp(-reach.max(0.0) / 6.0) * libm::exp(-(x - 24.0) * (x - 24.0) / 200.0);
            let density = if bare { 0.0 } else { 0.27 + fog };
            light.push((0.6 * libm::pow(10.0, -density) * (1.0 + 0.01 * chance.next())) as f32);
        }
    }
    let at = |x: f64, y: f64| [ORIGIN.0 + x * SCALE, ORIGIN.1 + y * SCALE];
    let corners = [at(0.0, 5.5), at(36.0, 5.5), at(36.0, 29.5), at(0.0, 29.5)].concat();
    let read =
        record::read_blank(light, SIZE, &corners, "135", false, camera.day).map_err(|error| error.to_string())?;
    Ok(RollFrame {
        frame: "closed".to_owned(),
        lies: "picture-upright".to_owned(),
        source: "strip-1.jpg".to_owned(),
        ..read.frame
    })
}
