//! The live check of a set-up from one photo: is the field as it must be, and the opening large enough and free of reflections?
//!
//! Not here: the measurement ([`imaging`]), whose notices are read here.

use imaging::blades::Opening;
use imaging::raster::Plane;
use imaging::transfer::Curve;

/// Radius that the smallest opening should have \[pixels\] (`imaging::blades`).
const SMALLEST_PX: f64 = 25.0;
/// A field darker than this code is noisy for no need.
const DARK_CODE: f64 = 110.0;

/// One thing that was looked at.
#[derive(Clone, Debug, PartialEq)]
pub struct Check {
    /// Whether it is as it must be.
    pub good: bool,
    /// What it is, and what to do.
    pub text: String,
}

fn check(good: bool, fine: &str, otherwise: String) -> Check {
    Check { good, text: if good { fine.to_owned() } else { otherwise } }
}

/// Looks at a set-up. `shown` is the f-number in the photo and `smallest` the last one of the ring, where they are known.
pub fn setup(plane: &Plane, opening: &Opening, shown: Option<f64>, smallest: Option<f64>) -> Vec<Check> {
    let (x, y) = opening.centre_px;
    let light = plane.at(x.max(0.0) as u32, y.max(0.0) as u32).map_or(0.0, f64::from);
    let code = 255.0 * Curve::Srgb.code(light.clamp(0.0, 1.0));
    let radius = (opening.area_px / core::f64::consts::PI).sqrt();
    let last = match (shown, smallest) {
        (Some(shown), Some(smallest)) if smallest > 0.0 => radius * (shown / smallest).min(1.0),
        // The usual ring closes by five stops and more.
        _ => radius / 6.0,
    };
    let whole = !opening.has("opening_touches_frame");
    vec![
        check(
            !opening.has("background_clipped"),
            "The field is not burnt out.",
            "The field is burnt out: lower the exposure until it is light grey.".to_owned(),
        ),
        check(
            code >= DARK_CODE && !opening.has("low_contrast"),
            "It is bright enough against the dark.",
            if opening.has("low_contrast") {
                "The field hardly stands out: darken the room and mask the light beside the lens.".to_owned()
            } else {
                "The field is dark: raise the exposure until it is light grey, and not white.".to_owned()
            },
        ),
        check(
            last >= SMALLEST_PX && whole,
            "The opening is large enough, and whole.",
            if whole {
                "The smallest openings will have too few pixels: bring the phone nearer, until the lens fills the picture.".to_owned()
            } else {
                "The opening reaches the picture's edge: move the phone back, or aim anew.".to_owned()
            },
        ),
        check(
            !opening.has("reflection_near_opening"),
            "No reflection lies beside it.",
            "A reflection lies beside the opening: switch other lamps off, or shade the lens.".to_owned(),
        ),
    ]
}
