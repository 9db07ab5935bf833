//! From pictures to openings and to scattered light: what a picture's file says, its light averaged down strip by strip, the opening
//! or hole about a tap, which photo shows which mark.
//!
//! Every call stands alone, so that a worker can be started again between any two. Not here: how an opening is found and glare
//! measured (`imaging`), what openings come to ([`inspection`]).

use imaging::blades::{self, reduction};
use imaging::exif::Metadata;
use imaging::glare::{Pair, Sample, glare, sample};
use imaging::raster::{Layout, Plane, Size, View};
use imaging::transfer::{Curve, Primaries, Transfer};
use inspection::aperture::{From, Seen, guess, setup};
use photometry::{FNumberMark, exposure_value};

use crate::convert::{kept_opening, outline};
use crate::error::Error;
use crate::page::{FoundOpening, GlarePhotos, GlareSample, Hole, PictureAbout};
use crate::{convert, time, v1};

/// How far about a hole its field is looked at, as a share of its radius; a pixel more for the edge.
const FIELD_REACH: f64 = 2.3;

/// What a picture says of itself, from its first bytes or all of them.
pub fn picture_about(bytes: &[u8]) -> PictureAbout {
    let metadata = Metadata::read(bytes);
    let seen = metadata.size.map(|size| metadata.orientation.upright(size));
    let exposure = metadata.exposure;
    let known = exposure.f_number.zip(exposure.time).zip(exposure.speed);
    let taken = metadata.taken.as_deref().and_then(moment_ms);
    PictureAbout {
        width_px: seen.map_or(0, Size::width),
        height_px: seen.map_or(0, Size::height),
        taken_ms: taken,
        ev100: known.map(|((n, t), s)| exposure_value(n, t, s).value()),
        exposure_words: known.map_or_else(String::new, |((n, t), s)| {
            let time = t.value();
            let time = if time < 0.4 {
                format!("1/{} s", metrology::to_decimals(1.0 / time, 0))
            } else {
                format!("{} s", metrology::to_decimals(time, 1))
            };
            format!("{time}, f/{}, ISO {}", metrology::to_decimals(n.value(), 1), metrology::to_decimals(s.value(), 0))
        }),
        factor: seen.map_or(1, reduction),
        refusal: String::new(),
    }
}

/// `2024:05:01 12:00:00` as milliseconds of a clock that knows no zone: only its order counts.
fn moment_ms(taken: &str) -> Option<f64> {
    let (date, clock) = taken.trim().split_once(' ')?;
    let text = format!("{}T{}Z", date.replace(':', "-"), clock);
    Some(1000.0 * time::moment(&text).ok()?.seconds_since_1970())
}

/// How often a picture of this size is averaged down. **Errors** where it has too many pixels.
pub fn picture_factor(width: u32, height: u32) -> Result<u32, Error> {
    Ok(reduction(Size::new(width, height)?))
}

/// Light of a strip of a picture as the page's canvas gives it (sRGB; red, green, blue and opacity), averaged over squares of
/// `factor × factor` pixels.
pub fn picture_strip(rgba: &[u8], width: u32, height: u32, factor: u32) -> Result<Vec<f32>, Error> {
    let view = View::new(Size::new(width, height)?, Layout::Rgba, rgba)?;
    Ok(Plane::of(&view, factor, &Transfer::new(Curve::Srgb, Primaries::Srgb))?.light)
}

pub(crate) fn plane(light: Vec<f32>, width: u32, height: u32) -> Result<Plane, Error> {
    let size = Size::new(width, height)?;
    if light.len() as u64 != size.pixels() || light.iter().any(|one| !one.is_finite()) {
        return Err(Error::new(format!(
            "a picture of {width} × {height} must have as many finite values, and {} were given",
            light.len()
        )));
    }
    Ok(Plane { size, light })
}

/// The opening about a tap, in pixels of the averaged picture. `shown` is the marked f-number where it is known, `dial` the ring.
///
/// A picture without an opening there is an answer too: its notice says what to do.
pub fn find_opening(
    light: Vec<f32>,
    width: u32,
    height: u32,
    tap: (f64, f64),
    shown: &str,
    dial: &[String],
) -> Result<FoundOpening, Error> {
    let plane = plane(light, width, height)?;
    let size_px = (width, height);
    let sized = |opening: v1::OpeningShot| v1::OpeningShot { width_px: width, height_px: height, ..opening };
    let found = match blades::measure(&plane, tap) {
        Ok(found) => found,
        Err(error) => {
            let text = format!("No opening was found at the tap: {error}. Tap the middle of the lit opening.");
            let notice = v1::TimingNotice { code: "no_opening_at_tap".to_owned(), text };
            let opening = sized(v1::OpeningShot { notices: vec![notice], ..v1::OpeningShot::default() });
            return Ok(FoundOpening { opening, outline: None, checks: Vec::new() });
        }
    };
    let neighbours: Vec<&str> = dial.iter().map(String::as_str).collect();
    let exact = |text: &str| FNumberMark::parse(text, &neighbours).ok().map(|mark| mark.exact().value());
    let smallest = dial.last().and_then(|last| exact(last));
    let shown = exact(shown).or_else(|| dial.first().and_then(|first| exact(first)));
    Ok(FoundOpening {
        outline: Some(outline(&found, size_px)),
        checks: convert::setup(setup(&plane, &found, shown, smallest)),
        opening: sized(kept_opening(&found)),
    })
}

/// The photos with mark and side filled in, guessed from time and size, and in the order in which they were taken. `dial` is the
/// ring from wide to narrow; without it the marks stay open.
pub fn guess_openings(mut openings: Vec<v1::OpeningShot>, dial: &[String]) -> Result<Vec<v1::OpeningShot>, Error> {
    let neighbours: Vec<&str> = dial.iter().map(String::as_str).collect();
    let marks = dial.iter().map(|text| FNumberMark::parse(text, &neighbours)).collect::<Result<Vec<_>, _>>()?;
    let marks = metrology::ascending(marks, |mark| mark.exact().value());
    let seen: Vec<Seen> = openings.iter().map(|one| Seen { time: one.taken_ms, area_px: one.area_px }).collect();
    for (one, guessed) in openings.iter_mut().zip(guess(&seen, &marks)) {
        one.f_number =
            guessed.mark.and_then(|at| marks.get(at)).map_or_else(String::new, |mark| mark.text().to_owned());
        one.side = match guessed.from {
            From::Unknown => "",
            From::Open => "open",
            From::Closed => "closed",
        }
        .to_owned();
    }
    openings.sort_by(|a, b| a.taken_ms.total_cmp(&b.taken_ms));
    Ok(openings)
}

/// The round black hole about a tap, in pixels of the whole picture; the averaged light is handed in, `factor` says how often.
pub fn find_hole(light: Vec<f32>, width: u32, height: u32, tap: (f64, f64), factor: u32) -> Result<Hole, Error> {
    let mut turned = plane(light, width, height)?;
    // A black hole in a bright field is an opening the other way round.
    let most = turned.light.iter().copied().fold(0.0_f32, f32::max);
    for light in &mut turned.light {
        *light = most - *light;
    }
    let found = blades::measure(&turned, tap).map_err(|error| {
        Error::new(format!("no black hole was found at the tap: {error}; tap the middle of the hole"))
    })?;
    let each = f64::from(factor);
    let radius = each * (found.area_px / core::f64::consts::PI).sqrt();
    let (x, y) = (each * (found.centre_px.0 + 0.5), each * (found.centre_px.1 + 0.5));
    let reach = (FIELD_REACH * radius).ceil() + 1.0;
    let (right, bottom) = (each * f64::from(width), each * f64::from(height));
    let (left, top) = ((x - reach).max(0.0).floor(), (y - reach).max(0.0).floor());
    Ok(Hole {
        x,
        y,
        radius,
        left: left as u32,
        top: top as u32,
        width: ((x + reach).min(right) - left) as u32,
        height: ((y + reach).min(bottom) - top) as u32,
        outline: Some(outline(&found, (width, height))),
    })
}

/// Light of a hole and its field; `rgba` is the part of the picture that [`find_hole`] asked for.
pub fn glare_sample(rgba: &[u8], hole: &Hole, ev100: Option<f64>, name: &str) -> Result<GlareSample, Error> {
    let view = View::new(Size::new(hole.width, hole.height)?, Layout::Rgba, rgba)?;
    let centre = (hole.x - f64::from(hole.left), hole.y - f64::from(hole.top));
    let found = sample(&view, &Transfer::new(Curve::Srgb, Primaries::Srgb), centre, hole.radius)
        .map_err(|error| Error::new(format!("{name}: {error}")))?;
    Ok(GlareSample {
        hole: found.hole,
        field: found.field,
        field_spread: found.field_spread,
        slope: found.slope,
        field_clipped: found.field_clipped,
        hole_crushed: found.hole_crushed,
        ev100,
        name: name.to_owned(),
    })
}

fn pair(normal: &GlareSample, long: Option<&GlareSample>) -> Result<Pair, Error> {
    let read = |one: &GlareSample| Sample {
        hole: one.hole,
        field: one.field,
        field_spread: one.field_spread,
        slope: one.slope,
        field_clipped: one.field_clipped,
        hole_crushed: one.hole_crushed,
    };
    let exposed = |one: &GlareSample| {
        one.ev100.filter(|ev| ev.is_finite()).ok_or_else(|| {
            Error::new(format!(
                "{}: it does not say its exposure, which the longer photo is put against; choose the original from the library",
                one.name
            ))
        })
    };
    let long = long.map(|long| Ok::<_, Error>((read(long), exposed(normal)? - exposed(long)?))).transpose()?;
    Ok(Pair { normal: read(normal), long })
}

/// What a lens scatters, from one to four photos. **Errors** where the photo through the lens is missing, or the exposures do not
/// differ as they must.
pub fn measure_glare(photos: &GlarePhotos, now: &str) -> Result<v1::GlareMeasured, Error> {
    time::check(now)?;
    let normal = photos
        .with_normal
        .as_ref()
        .ok_or_else(|| Error::new("the photo through the lens with the field at mid-grey is missing"))?;
    let with = pair(normal, photos.with_long.as_ref())?;
    let without =
        photos.without_normal.as_ref().map(|normal| pair(normal, photos.without_long.as_ref())).transpose()?;
    let found = glare(&with, without.as_ref())?;
    Ok(v1::GlareMeasured {
        at: now.to_owned(),
        label: photos.label.clone(),
        glare_index: found.index,
        standard_uncertainty: found.standard_uncertainty,
        method: found.method.key().to_owned(),
        notices: found
            .notices
            .iter()
            .map(|notice| v1::TimingNotice { code: notice.code.to_owned(), text: notice.text.clone() })
            .collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A grey field of 200 × 160 with a disc of another code.
    fn rgba(field: u8, disc: u8, radius: f64) -> Vec<u8> {
        (0..200 * 160)
            .flat_map(|at| {
                let (x, y) = (f64::from(at % 200) - 99.5, f64::from(at / 200) - 79.5);
                let code = if x * x + y * y < radius * radius { disc } else { field };
                [code, code, code, 255]
            })
            .collect()
    }

    #[test]
    fn an_opening_is_found_through_strips_and_kept() {
        let bytes = rgba(12, 180, 50.0);
        let mut light = picture_strip(&bytes[..200 * 4 * 64], 200, 64, 2).expect("a strip");
        light.extend(picture_strip(&bytes[200 * 4 * 64..], 200, 96, 2).expect("a strip"));
        let dial = ["2", "4"].map(str::to_owned);
        let found = find_opening(light.clone(), 100, 80, (50.0, 40.0), "2", &dial).expect("found");
        let area = found.opening.area_px.expect("an area");
        assert!((area / (core::f64::consts::PI * 625.0) - 1.0).abs() < 0.01, "{area}");
        assert!(found.checks.iter().all(|check| !check.text.is_empty()) && found.outline.is_some());
        // Beside it there is none, and that is an answer.
        let none = find_opening(light, 100, 80, (3.0, 3.0), "", &dial).expect("an answer");
        assert_eq!((none.opening.area_px, none.opening.notices[0].code.as_str()), (None, "no_opening_at_tap"));
        assert!(find_opening(vec![0.0; 5], 100, 80, (1.0, 1.0), "", &dial).is_err());
    }

    #[test]
    fn scattered_light_goes_from_pixels_to_a_figure() {
        let light = picture_strip(&rgba(140, 20, 30.0), 200, 160, 1).expect("light");
        let hole = find_hole(light, 200, 160, (100.0, 80.0), 1).expect("a hole");
        assert!((hole.radius - 30.0).abs() < 0.5 && (hole.x - 100.0).abs() < 0.1, "{hole:?}");
        let cut = |bytes: &[u8]| -> Vec<u8> {
            (hole.top..hole.top + hole.height)
                .flat_map(|y| {
                    let from = ((y * 200 + hole.left) * 4) as usize;
                    bytes[from..from + (hole.width * 4) as usize].to_vec()
                })
                .collect()
        };
        let sample = |field, disc, ev| glare_sample(&cut(&rgba(field, disc, 30.0)), &hole, Some(ev), "a.jpg");
        let photos = GlarePhotos {
            with_normal: Some(sample(140, 20, 8.0).expect("a sample")),
            with_long: Some(sample(255, 140, 3.0).expect("a sample")),
            without_normal: Some(sample(140, 10, 8.0).expect("a sample")),
            without_long: Some(sample(255, 140, 2.0).expect("a sample")),
            ..GlarePhotos::default()
        };
        let found = measure_glare(&photos, "2026-03-01T09:30:00Z").expect("measured");
        assert!((found.glare_index - (1.0 / 64.0) / (63.0 / 64.0)).abs() < 1e-3, "{}", found.glare_index);
        assert_eq!(found.method, "two-exposure");
        let unsaid =
            GlarePhotos { with_long: photos.with_long.clone().map(|one| GlareSample { ev100: None, ..one }), ..photos };
        assert!(measure_glare(&unsaid, "2026-03-01T09:30:00Z").expect_err("refused").to_string().contains("a.jpg"));
    }

    #[test]
    fn the_moment_of_a_photo_is_read_from_its_own_words() {
        assert_eq!(moment_ms("1970:01:02 00:00:01"), Some(86_401_000.0));
        assert_eq!(moment_ms("soon"), None);
        assert_eq!(picture_about(&[]).taken_ms, None);
    }
}
