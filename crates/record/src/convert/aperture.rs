//! The aperture's and the glass's part of a file: openings to the domain, what they come to back, and what their pages show.
//!
//! Not here: finding an opening in a picture ([`crate::aperture`]).

use imaging::Weight;
use imaging::blades::Opening;
use inspection::aperture::{self, Check, From, Judgement, Shot};
use inspection::drawing;
use inspection::glare::{self, Comparison, Measured};
use inspection::tolerance::OF_F_NUMBERS;
use inspection::words;
use metrology::{Call, Estimate};
use photometry::FNumberMark;

use super::choice::tolerances;
use super::marks;
use super::number::optional;
use super::shown::drawing as shown;
use super::worked::estimate;
use crate::error::Error;
use crate::{page, v1};

/// Widest picture that an opening can have been found in \[pixels\].
const WIDEST_PX: f64 = 100_000.0;
/// Lengths are kept to a thousandth of a pixel: finer is noise, and makes files long.
const GRID: f64 = 1000.0;
/// Codes that a kept opening is measured by; others are words only.
const CODES: [&str; 4] = ["low_contrast", "opening_touches_frame", "background_clipped", "reflection_near_opening"];

/// Fills in the numbers beside the texts.
pub(super) fn settle(entry: &mut v1::Aperture) -> Result<(), Error> {
    entry.own_tolerance_stops = optional(&entry.own_tolerance, "own tolerance of marked f-numbers")?;
    entry.blade_count = match optional(&entry.blades, "number of blades")? {
        None => None,
        Some(count) if (5.0..=16.0).contains(&count) && count.floor() == count => Some(count as u32),
        Some(count) => {
            return Err(Error::new(format!("the number of blades must be 5 to 16, whole, and {count} was given")));
        }
    };
    Ok(())
}

fn within(value: f64, least: f64, most: f64, what: &str) -> Result<f64, Error> {
    if (least..=most).contains(&value) {
        Ok(value)
    } else {
        Err(Error::new(format!("the {what} must be {least} to {most}, and {value} was given")))
    }
}

fn opening(entry: &v1::OpeningShot) -> Result<Option<Opening>, Error> {
    let Some(area) = entry.area_px else { return Ok(None) };
    let [x, y] = entry.centre_px.as_slice() else {
        return Err(Error::new("the middle of an opening has two numbers, from the left and from the top"));
    };
    if entry.outline_px.len() != Opening::OUTLINE {
        return Err(Error::new(format!(
            "the outline of an opening must have {} rays, and {} were given",
            Opening::OUTLINE,
            entry.outline_px.len()
        )));
    }
    let reach = |value: f64, what: &str| within(value, 0.0, WIDEST_PX, what);
    let notices = entry
        .notices
        .iter()
        .filter_map(|notice| {
            let code = CODES.into_iter().find(|code| *code == notice.code)?;
            Some(imaging::Notice { code, text: notice.text.clone(), weight: Weight::Warning })
        })
        .collect();
    for radius in &entry.outline_px {
        reach(*radius, "outline of an opening in pixels")?;
    }
    Ok(Some(Opening {
        area_px: within(area, 1.0, WIDEST_PX * WIDEST_PX, "area of an opening in pixels")?,
        perimeter_px: reach(entry.perimeter_px, "edge of an opening in pixels")?,
        edge_doubt_px: reach(entry.edge_doubt_px, "doubt of an edge in pixels")?,
        noise: within(entry.noise, 0.0, 1e3, "relative doubt of an area")?,
        centre_px: (reach(*x, "middle of an opening in pixels")?, reach(*y, "middle of an opening in pixels")?),
        outline_px: entry.outline_px.clone(),
        notices,
    }))
}

fn shot(entry: &v1::OpeningShot, number: usize, dial: &[&str]) -> Result<Shot, Error> {
    let mark = match entry.f_number.as_str() {
        "" => None,
        text => Some(marks::f_number(text, dial)?),
    };
    let from = match entry.side.as_str() {
        "" => From::Unknown,
        "open" => From::Open,
        "closed" => From::Closed,
        other => {
            let shown: String = other.chars().take(40).collect();
            return Err(Error::new(format!("the ring comes from open or closed, and \"{shown}\" was given")));
        }
    };
    let name = match entry.source.trim() {
        "" => format!("Photo {number}"),
        name => format!("Photo {number}, {name}"),
    };
    Ok(Shot { mark, from, size_px: (entry.width_px, entry.height_px), opening: opening(entry)?, name })
}

fn dial(record: &v1::Inspection) -> Vec<&str> {
    record.lens.f_numbers.iter().map(String::as_str).collect()
}

/// The domain's check, `None` where no opening was photographed, and the kept picture with its place among the shots.
/// **Errors** for what no opening can be.
#[allow(clippy::type_complexity)]
pub(super) fn check(
    record: &v1::Inspection,
    marks: &[FNumberMark],
) -> Result<(Option<Check>, Option<(String, usize)>), Error> {
    let entry = &record.aperture;
    let tolerance = OF_F_NUMBERS.chosen(&entry.tolerance, entry.own_tolerance_stops)?;
    let dial = dial(record);
    let (mut shots, mut picture) = (Vec::new(), None);
    for (i, one) in entry.openings.iter().enumerate() {
        let read = shot(one, i + 1, &dial).map_err(|error| error.at(&format!("aperture, photo {}", i + 1)))?;
        if one.dropped {
            continue;
        }
        if picture.is_none() && !one.photo.is_empty() {
            picture = Some((one.photo.clone(), shots.len()));
        }
        shots.push(read);
    }
    let blade_count = entry.blade_count.and_then(|count| usize::try_from(count).ok());
    let check = (!shots.is_empty()).then(|| Check { marks: marks.to_vec(), blade_count, tolerance, shots });
    Ok((check, picture))
}

/// The measurements of scattered light.
pub(super) fn glare(record: &v1::Inspection) -> Result<Vec<Measured>, Error> {
    record
        .lens_measurements
        .glare
        .iter()
        .enumerate()
        .map(|(i, entry)| {
            let place = format!("scattered light, measurement {}", i + 1);
            let index = within(entry.glare_index, -1.0, 1.0, "scattered light as a share").and_then(|index| {
                Ok(Estimate::new(index, within(entry.standard_uncertainty, 0.0, 1.0, "its doubt")?, f64::INFINITY)?)
            });
            let label = match entry.label.trim() {
                "" => format!("measurement {}", i + 1),
                label => label.to_owned(),
            };
            Ok(Measured { label, index: index.map_err(|error| error.at(&place))?, rough: entry.method == "single" })
        })
        .collect()
}

/// The judged aperture as it is kept.
pub(super) fn result(judgement: &Judgement) -> v1::ApertureResult {
    let number = |count: usize| u32::try_from(count).unwrap_or(u32::MAX);
    v1::ApertureResult {
        call: judgement.call.key().to_owned(),
        call_words: judgement.call.word().to_owned(),
        headline: judgement.headline.clone(),
        pattern: judgement.pattern.clone(),
        tolerance_words: judgement.tolerance.words(),
        stops: judgement
            .rows
            .iter()
            .map(|row| v1::StopResult {
                f_number: row.mark.text().to_owned(),
                label: row.mark.label(),
                widest: row.widest,
                shots: number(row.shots),
                error_stops: row.error.map(estimate),
                tolerance_stops: row.tolerance_stops,
                conformity: row.conformity,
                call: row.call.key().to_owned(),
                call_words: if row.widest { "fixed ring" } else { row.call.word() }.to_owned(),
                roundness: row.roundness,
                error_words: row.error.map_or_else(
                    || Call::CannotTell.word().to_owned(),
                    |error| words::film_error_known(error.value(), error.expanded_95()),
                ),
                doubt_words: row
                    .error
                    .map_or_else(String::new, |error| format!("±{}", words::doubt(error.expanded_95()))),
                how_words: words::count(row.shots, "photo", "photos"),
                notices: row.notices.clone(),
            })
            .collect(),
        missing: judgement.missing.iter().map(FNumberMark::label).collect(),
        same: judgement.same.clone(),
        blade_count: judgement.blade_count.map(number),
        odd_blades: judgement
            .odd_blades
            .iter()
            .zip(&judgement.odd_words)
            .map(|(blade, said)| v1::OddBladeResult {
                angle_deg: blade.angle_deg,
                deviation: blade.deviation,
                words: said.clone(),
            })
            .collect(),
        repeatability_stops: judgement.repeatability_stops,
        hysteresis_stops: judgement.hysteresis_stops,
        settling: judgement.settling.clone(),
        settle: judgement.settle.clone(),
        notices: judgement.notices.clone(),
    }
}

/// The comparison as it is kept.
pub(super) fn comparison(compared: &Comparison) -> v1::LensComparison {
    v1::LensComparison {
        sentence: compared.sentence.clone(),
        figures: compared.figures.iter().map(|(_, figure)| figure.clone()).collect(),
        notices: compared.notices.clone(),
    }
}

/// What the pages show.
pub(super) fn view(judgement: Option<&Judgement>, record: &v1::Inspection) -> page::ApertureView {
    let rows = judgement.map_or(&[][..], |judgement| &judgement.rows);
    let errors: Vec<Estimate> = rows.iter().filter_map(|row| row.error).collect();
    let scale = drawing::bar_scale(&errors, rows.iter().map(|row| row.tolerance_stops).fold(0.0, f64::max));
    let dial = dial(record);
    let openings = &record.aperture.openings;
    let outline_of = |(i, entry): (usize, &v1::OpeningShot)| {
        let shot = shot(entry, i + 1, &dial).ok()?;
        let odd = judgement.map_or(&[][..], |judgement| judgement.odd_in(&shot));
        shot.opening.as_ref().map(|found| shown(&drawing::opening_outline(found, shot.size_px, odd)))
    };
    page::ApertureView {
        plot: judgement.and_then(drawing::aperture_plot).as_ref().map(shown),
        bars: rows
            .iter()
            .map(|row| match row.error {
                // The fixed ring is put against no tolerance.
                Some(error) => shown(&drawing::bar(error, if row.widest { 0.0 } else { row.tolerance_stops }, scale)),
                None => page::Drawing::default(),
            })
            .collect(),
        outlines: openings.iter().enumerate().map(outline_of).collect(),
        notices: openings
            .iter()
            .map(|entry| entry.notices.iter().map(|notice| notice.text.clone()).collect())
            .collect(),
        tolerances: tolerances(&OF_F_NUMBERS),
        glare_meaning: glare::MEANING.to_owned(),
    }
}

/// An opening that was found, in the file's shape.
pub(crate) fn kept_opening(found: &Opening) -> v1::OpeningShot {
    let grid = |value: f64| (value * GRID).round() / GRID;
    v1::OpeningShot {
        area_px: Some(grid(found.area_px)),
        perimeter_px: grid(found.perimeter_px),
        edge_doubt_px: grid(found.edge_doubt_px),
        noise: found.noise,
        centre_px: vec![grid(found.centre_px.0), grid(found.centre_px.1)],
        outline_px: found.outline_px.iter().map(|radius| grid(*radius)).collect(),
        notices: found
            .notices
            .iter()
            .map(|notice| v1::TimingNotice { code: notice.code.to_owned(), text: notice.text.clone() })
            .collect(),
        ..v1::OpeningShot::default()
    }
}

/// The outline of an opening over its picture, before anything is judged.
pub(crate) fn outline(found: &Opening, size_px: (u32, u32)) -> page::Drawing {
    shown(&drawing::opening_outline(found, size_px, &[]))
}

/// What a set-up is like.
pub(crate) fn setup(checks: Vec<aperture::SetupCheck>) -> Vec<page::SetupView> {
    checks.into_iter().map(|check| page::SetupView { good: check.good, text: check.text }).collect()
}
