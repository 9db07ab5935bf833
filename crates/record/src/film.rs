//! From photos of strips to the test roll: light averaged by the page goes in, what a frame shows comes out.
//!
//! Every call stands alone, so that a worker can be started again between any two. Not here: how a frame is measured (`imaging`), what
//! it says of the camera ([`inspection`]).

use imaging::evenness::{Frames, evenness};
use imaging::film_strip::{Format, Strip, lay_out, reduction, tint};
use imaging::fog::{Lies, Side, Source, density_map, fog};
use imaging::raster::{Layout, Size, View};
use inspection::test_roll::letters;

use crate::aperture::plane;
use crate::convert::film_format;
use crate::error::Error;
use crate::page::FilmRead;
use crate::{convert, time, v1};

/// The four corners from x and y by turns.
fn corners(given: &[f64]) -> Result<[(f64, f64); 4], Error> {
    match given {
        [a, b, c, d, e, f, g, h] => Ok([(*a, *b), (*c, *d), (*e, *f), (*g, *h)]),
        _ => {
            Err(Error::new(format!("the gate has four corners with two numbers each, and {} were given", given.len())))
        }
    }
}

fn notices(of: &[imaging::Notice]) -> Vec<v1::TimingNotice> {
    of.iter().map(|notice| v1::TimingNotice { code: notice.code.to_owned(), text: notice.text.clone() }).collect()
}

/// How often a photo is averaged down, from the gate's corners in its own pixels, x and y by turns.
pub fn film_factor(corners_px: &[f64]) -> Result<u32, Error> {
    Ok(reduction(&corners(corners_px)?))
}

/// Lays a film out by the corners of its gate, in pixels of the averaged picture.
fn laid_out(light: Vec<f32>, width: u32, height: u32, corners_px: &[f64], format: Format) -> Result<Strip, Error> {
    Ok(lay_out(&plane(light, width, height)?, &corners(corners_px)?, format)?)
}

/// A blank frame. `film` is `135` or the height of a gate of roll film; `masked`, whether the film has a colour negative's mask.
pub fn read_blank(
    light: Vec<f32>,
    (width, height): (u32, u32),
    corners_px: &[f64],
    film: &str,
    masked: bool,
    now: &str,
) -> Result<FilmRead, Error> {
    time::check(now)?;
    let strip = laid_out(light, width, height, corners_px, film_format(film)?)?;
    // In the photo's own terms: how it lies is said beside, and may be said otherwise later.
    let found = fog(&strip, Lies::AsInCamera);
    let mut told = notices(&found.notices);
    if masked {
        told.push(v1::TimingNotice {
            code: "colour_mask".to_owned(),
            text: "A colour negative with its orange mask: densities go by the photo's luminance and are lower than a black-and-white \
                   film's. Sides hold; weak fog may be missed."
                .to_owned(),
        });
    }
    Ok(FilmRead {
        edges_found: strip.edges_found,
        refusal: found
            .notices
            .iter()
            .find(|notice| notice.weight == imaging::Weight::Refusal)
            .map_or_else(String::new, |notice| notice.text.clone()),
        corners_px: strip.corners_px.iter().flat_map(|(x, y)| [*x, *y]).collect(),
        frame: v1::RollFrame {
            at: now.to_owned(),
            film: film.to_owned(),
            group: found.group.key().to_owned(),
            side: found.side.map_or("", Side::key).to_owned(),
            part: found.source.map_or("", Source::key).to_owned(),
            confidence: found.confidence,
            peak_density: found.peak_density,
            threshold_density: found.threshold_density,
            density_map: density_map(&strip).map_or_else(Vec::new, |cells| letters(&cells)),
            notices: told,
            ..v1::RollFrame::default()
        },
    })
}

/// One photo of a wall, laid out.
pub fn lay_out_wall(light: Vec<f32>, width: u32, height: u32, corners_px: &[f64]) -> Result<Vec<f32>, Error> {
    Ok(laid_out(light, width, height, corners_px, Format::Perforated)?.into_log())
}

/// A wall from one to four photos that were laid out; those that were not taken are empty.
pub fn read_wall(
    main: Vec<f32>,
    minus_one: Vec<f32>,
    plus_one: Vec<f32>,
    turned: Vec<f32>,
    travel: &str,
    now: &str,
) -> Result<v1::RollWall, Error> {
    time::check(now)?;
    let strip = |log: Vec<f32>| Strip::from_log(log, Format::Perforated, true);
    let other = |log: Vec<f32>| if log.is_empty() { Ok(None) } else { strip(log).map(Some) };
    let main = strip(main)?;
    let (minus_one, plus_one, turned) = (other(minus_one)?, other(plus_one)?, other(turned)?);
    let frames =
        Frames { main: &main, minus_one: minus_one.as_ref(), plus_one: plus_one.as_ref(), turned: turned.as_ref() };
    let found = evenness(&frames, convert::film_travel(travel)?)?;
    let (profile_position, profile_stops) = found.profile.iter().copied().unzip();
    Ok(v1::RollWall {
        at: now.to_owned(),
        travel: travel.to_owned(),
        taper_stops: found.taper_stops,
        standard_uncertainty_stops: found.standard_uncertainty_stops,
        wall_stops: found.wall_stops,
        band_stops: found.band_stops,
        end_drop_stops: found.end_drop_stops,
        bow_stops: found.bow_stops,
        gamma: found.gamma,
        profile_position,
        profile_stops,
        notices: notices(&found.notices),
        ..v1::RollWall::default()
    })
}

/// Whether the film has the orange mask of a colour negative, from a small view of the photo (sRGB; red, green, blue and opacity) and
/// the corners in its pixels.
pub fn film_masked(rgba: &[u8], width: u32, height: u32, corners_px: &[f64]) -> Result<bool, Error> {
    let view = View::new(Size::new(width, height)?, Layout::Rgba, rgba)?;
    Ok(tint(&view, &corners(corners_px)?)?.masked)
}
