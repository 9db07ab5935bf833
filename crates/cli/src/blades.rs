//! `lampblack blades`: the openings of a lens, from a job that names one picture for each mark.
//!
//! A picture that cannot be used is said so and the others go on. Not here: measuring (`imaging`), the job's shape (`record`).

use imaging::blades::{From, Series, Shot, measure, reduction, series};
use imaging::exif::Metadata;
use imaging::raster::Plane;
use imaging::transfer::{Curve, Transfer};
use imaging::{Notice, raster::Size};
use lexopt::Parser;
use photometry::FNumberMark;
use record::shell::json;
use record::shell::pictures::{BladesJob, BladesRead, BladesShot, Side, blades_job};

use crate::error::{Failure, one_line};
use crate::job::{Called, called};
use crate::picture::{self, Refused};
use crate::{Answer, table};

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let Called { job, path, place, as_json } = called(call, blades_job, |_| false)?;
    let (series, scale) = measured(&job, &path).map_err(|failure| failure.at(&place))?;
    let read = BladesRead::of(&series, scale);
    if as_json { Ok(json(&read)?) } else { Ok(said(&read)) }
}

/// The lens, and how many pixels of a picture one of the measured ones is.
fn measured(job: &BladesJob, path: &std::path::Path) -> Result<(Series, f64), Failure> {
    let marks: Vec<String> = job.shots.iter().map(|shot| shot.f_number.text()).collect();
    let neighbours: Vec<&str> = marks.iter().map(String::as_str).collect();
    let mut shots = Vec::new();
    // Pictures of different sizes cannot be put against one another: the first one's counts.
    let mut first: Option<Size> = None;
    for (shot, mark) in job.shots.iter().zip(&marks) {
        let mark = FNumberMark::parse(mark, &neighbours)?;
        let from = match shot.from {
            None => From::Unknown,
            Some(Side::Open) => From::Open,
            Some(Side::Closed) => From::Closed,
        };
        let found = plane(shot, path).and_then(|(plane, size)| {
            let wanted = *first.get_or_insert(size);
            if size != wanted {
                return Err(unlike(shot, size, wanted));
            }
            let factor = f64::from(reduction(size));
            measure(&plane, (job.centre_px[0] / factor, job.centre_px[1] / factor)).map_err(|error| {
                notice("no_opening_at_tap", format!("{}: {error}. Tap the middle of the opening.", shown(&shot.file)))
            })
        });
        let (opening, notices) = match found {
            Ok(opening) => (Some(opening), Vec::new()),
            Err(notice) => (None, vec![notice]),
        };
        shots.push(Shot { mark, from, opening, notices });
    }
    let factor = first.map_or(1.0, |size| f64::from(reduction(size)));
    let found = series(&shots, job.blades).map_err(|error| {
        // Where nothing is left, why the pictures were not used says more.
        let why: Vec<&str> = shots.iter().flat_map(|shot| &shot.notices).map(|notice| notice.text.as_str()).collect();
        Failure::None(if why.is_empty() { error.to_string() } else { format!("{error}: {}", why.join(" ")) })
    })?;
    Ok((found, factor * factor))
}

/// A picture by its own name: the job says where it lies.
fn shown(file: &str) -> String {
    let name = std::path::Path::new(file).file_name().map_or_else(|| file.into(), std::ffi::OsStr::to_string_lossy);
    one_line(&name)
}

fn notice(code: &'static str, text: String) -> Notice {
    Notice { code, text, weight: imaging::Weight::Warning }
}

fn unlike(shot: &BladesShot, size: Size, wanted: Size) -> Notice {
    notice(
        "different_size",
        format!(
            "{}: it has {} × {} pixels and the first picture {} × {}. Take all of them with the same lens at the same zoom.",
            shown(&shot.file),
            size.width(),
            size.height(),
            wanted.width(),
            wanted.height()
        ),
    )
}

/// The luminance of a picture as it is seen, averaged down, and the picture's own size.
fn plane(shot: &BladesShot, job: &std::path::Path) -> Result<(Plane, Size), Notice> {
    let unreadable = |why: String| notice("pixels_unreadable", format!("{}: {why}.", shown(&shot.file)));
    let bytes = picture::read(&picture::beside(job, &shot.file)).map_err(|failure| unreadable(failure.to_string()))?;
    let metadata = Metadata::read(&bytes);
    let pixels = picture::Pixels::decode(&bytes, &metadata).map_err(|refused| match refused {
        Refused::Kind => unreadable("it is no JPEG or PNG".to_owned()),
        Refused::Damaged => unreadable("it is damaged or was not copied to its end".to_owned()),
        Refused::Size(why) => unreadable(why),
    })?;
    let transfer = Transfer::new(Curve::Srgb, metadata.primaries);
    let plane = pixels
        .view()
        .and_then(|view| Plane::of(&view, reduction(pixels.size()), &transfer))
        .map_err(|error| unreadable(error.to_string()))?;
    Ok((plane.upright(metadata.orientation), metadata.orientation.upright(pixels.size())))
}

fn said(read: &BladesRead) -> String {
    let stops =
        |value: Option<f64>, decimals| value.map_or_else(|| "–".to_owned(), |v| metrology::to_decimals(v, decimals));
    let rows: Vec<Vec<String>> = read
        .stops
        .iter()
        .map(|stop| {
            let error = stop.error_stops.zip(stop.standard_uncertainty_stops).map_or_else(
                || "–".to_owned(),
                |(error, doubt)| {
                    let shown = metrology::rounded(error.abs(), 2.0 * doubt);
                    let side = if error < 0.0 { "too small" } else { "too wide" };
                    format!("{} ± {} stop {side}", shown.value, shown.uncertainty)
                },
            );
            vec![format!("f/{}", stop.f_number), error, stops(stop.area_px, 0), stops(stop.roundness, 4)]
        })
        .collect();
    let mut text = table::columns(&["mark", "opening", "pixels", "roundness"], &rows, true);
    text.push('\n');
    text.push_str(&table::facts(&[
        ("blades", read.blade_count.map_or_else(|| "cannot be told".to_owned(), |count| count.to_string())),
        (
            "hysteresis",
            read.hysteresis_stops.map_or_else(String::new, |value| format!("{} stop", stops(Some(value), 3))),
        ),
        (
            "repeatability",
            read.repeatability_stops.map_or_else(String::new, |value| format!("{} stop", stops(Some(value), 3))),
        ),
    ]));
    let of_stops = read
        .stops
        .iter()
        .flat_map(|stop| stop.notices.iter().map(move |notice| format!("f/{}: {}", stop.f_number, notice.text)));
    let all: Vec<String> = read.notices.iter().map(|notice| notice.text.clone()).chain(of_stops).collect();
    text.push_str(&table::list("To mind", all.iter().map(String::as_str)));
    text
}
