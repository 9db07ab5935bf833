//! Photos of a lens's openings of known truth: a lit white field through the blades, computed and then found as in any photo.
//!
//! Not here: finding an opening and judging it (`record`).

use photometry::FNumberMark;
use record::v1::OpeningShot;

use super::Chance;

/// Size of the photos as they are measured \[pixels\], and radius of the widest opening on them \[pixels\].
const SIZE: (u32, u32) = (1200, 900);
const WIDEST_PX: f64 = 360.0;
/// Straight blades, turned a little; the widest mark shows the round ring before them.
const BLADES: usize = 6;
const TURNED: f64 = 0.2;
/// Light of the field and of the blades, full scale being 1; noise of a pixel; how wide the edge is \[pixels\].
const FIELD: f64 = 0.42;
const BLACK: f64 = 0.004;
const NOISE: f64 = 0.006;
const EDGE_PX: f64 = 1.6;
/// Milliseconds between two photos, whose order alone counts.
const PAUSE_MS: f64 = 6000.0;

/// Error of an opening over its f-number \[stops\], + is too wide.
fn truth(f_number: f64) -> f64 {
    if f_number > 12.0 { -0.2 } else { 0.04 }
}

/// One photo of every mark, from the widest on.
pub(super) fn photographed(marks: &[String], chance: &mut Chance) -> Result<Vec<OpeningShot>, String> {
    let exact = |mark: &String| {
        FNumberMark::parse(mark, &[]).map(|mark| mark.exact().value()).map_err(|error| error.to_string())
    };
    let widest = marks.first().map(exact).transpose()?.ok_or("a lens without marks has no openings")?;
    marks
        .iter()
        .enumerate()
        .map(|(n, mark)| {
            let f_number = exact(mark)?;
            let part = (widest / f_number) * (widest / f_number);
            let area = core::f64::consts::PI * WIDEST_PX * WIDEST_PX * part;
            let light = match n {
                0 => photo(|x, y| WIDEST_PX - libm::hypot(x, y), chance),
                _ => photo(blades(area * libm::exp2(truth(f_number))), chance),
            };
            let middle = (f64::from(SIZE.0) / 2.0, f64::from(SIZE.1) / 2.0);
            let found = record::find_opening(light, SIZE.0, SIZE.1, middle, mark, marks);
            Ok(OpeningShot {
                source: format!("opening-{}.jpg", n + 1),
                taken_ms: n as f64 * PAUSE_MS,
                f_number: mark.clone(),
                side: "open".to_owned(),
                ..found.map_err(|error| error.to_string())?.opening
            })
        })
        .collect()
}

/// How far inside the blades a place lies \[pixels\], from the middle on; their area is a²·n·tan(π/n), a their distance from it.
fn blades(area: f64) -> impl Fn(f64, f64) -> f64 {
    let half = core::f64::consts::PI / BLADES as f64;
    let distance = (area / (BLADES as f64 * libm::tan(half))).sqrt();
    let normals: [(f64, f64); BLADES] = core::array::from_fn(|blade| {
        let angle = TURNED + 2.0 * half * blade as f64;
        (libm::cos(angle), libm::sin(angle))
    });
    move |x, y| distance - normals.iter().map(|(cos, sin)| cos * x + sin * y).fold(f64::NEG_INFINITY, f64::max)
}

fn photo(inside: impl Fn(f64, f64) -> f64, chance: &mut Chance) -> Vec<f32> {
    let mut light = Vec::with_capacity((SIZE.0 * SIZE.1) as usize);
    for row in 0..SIZE.1 {
        for column in 0..SIZE.0 {
            let (x, y) = (f64::from(column) - f64::from(SIZE.0) / 2.0, f64::from(row) - f64::from(SIZE.1) / 2.0);
            let lit = (inside(x, y) / EDGE_PX + 0.5).clamp(0.0, 1.0);
            light.push((BLACK + (FIELD - BLACK) * lit + NOISE * chance.next()).max(0.0) as f32);
        }
    }
    light
}
