//! `lampblack glare`: what a lens scatters, from a job that names two to four pictures of a black hole in a bright field.
//!
//! Not here: measuring (`imaging`), the job's shape (`record`).

use std::path::Path;

use imaging::exif::Metadata;
use imaging::glare::{Glare, Pair, Sample, glare, sample};
use imaging::raster::Region;
use imaging::transfer::{Curve, Transfer};
use lexopt::Parser;
use photometry::exposure_value;
use record::shell::json;
use record::shell::pictures::{GlareJob, GlarePair, GlareRead, glare_job};

use crate::error::{Failure, one_line};
use crate::job::{Called, called};
use crate::picture::{self, Refused};
use crate::{Answer, table};

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let Called { job, path, place, as_json } = called(call, glare_job, |_| false)?;
    let found = measured(&job, &path).map_err(|failure| failure.at(&place))?;
    let read = GlareRead::of(&found);
    if as_json { Ok(json(&read)?) } else { Ok(said(&read)) }
}

fn measured(job: &GlareJob, path: &Path) -> Result<Glare, Failure> {
    let with = pair(&job.with_lens, job, path)?;
    let without = job.without_lens.as_ref().map(|own| pair(own, job, path)).transpose()?;
    Ok(glare(&with, without.as_ref())?)
}

fn pair(own: &GlarePair, job: &GlareJob, path: &Path) -> Result<Pair, Failure> {
    let (normal, exposed) = photo(&own.normal, job, path)?;
    let Some(name) = &own.long else { return Ok(Pair { normal, long: None }) };
    let (long, longer) = photo(name, job, path)?;
    let missing = |name: &str| {
        Failure::None(format!("{}: it does not say its exposure, which the two-exposure method needs", one_line(name)))
    };
    let ratio = exposed.ok_or_else(|| missing(&own.normal))? - longer.ok_or_else(|| missing(name))?;
    Ok(Pair { normal, long: Some((long, ratio)) })
}

/// A picture about the hole, and the EV at ISO 100 of its exposure.
fn photo(name: &str, job: &GlareJob, path: &Path) -> Result<(Sample, Option<f64>), Failure> {
    let refused = |why: &str| Failure::None(format!("{}: {why}", one_line(name)));
    let bytes = picture::read(&picture::beside(path, name))?;
    let metadata = Metadata::read(&bytes);
    let pixels = picture::Pixels::decode(&bytes, &metadata).map_err(|error| match error {
        Refused::Kind => refused("it is no JPEG or PNG"),
        Refused::Damaged => refused("it is damaged or was not copied to its end"),
        Refused::Size(why) => refused(&why),
    })?;
    // The hole's middle, where it lies among the pixels as stored.
    let [x, y] = job.centre_px;
    let seen = metadata.orientation.upright(pixels.size());
    if !(x >= 0.0 && y >= 0.0 && x < f64::from(seen.width()) && y < f64::from(seen.height())) {
        return Err(refused(&format!("the hole at {x},{y} lies outside of {} × {}", seen.width(), seen.height())));
    }
    let middle = Region { x: x as u32, y: y as u32, width: 1, height: 1 };
    let stored = metadata.orientation.stored(middle, pixels.size());
    let centre = (f64::from(stored.x) + 0.5, f64::from(stored.y) + 0.5);
    let transfer = Transfer::new(Curve::Srgb, metadata.primaries);
    let found =
        sample(&pixels.view()?, &transfer, centre, job.radius_px).map_err(|error| refused(&error.to_string()))?;
    let exposure = metadata.exposure;
    let known = exposure.f_number.zip(exposure.time).zip(exposure.speed);
    Ok((found, known.map(|((n, t), s)| exposure_value(n, t, s).value())))
}

fn said(read: &GlareRead) -> String {
    let shown = metrology::rounded(100.0 * read.glare_index, 200.0 * read.standard_uncertainty);
    let mut text = table::facts(&[
        ("glare", format!("{} ± {} % of the field", shown.value, shown.uncertainty)),
        ("found by", if read.method == "single" { "one exposure, rough" } else { "two exposures" }.to_owned()),
        (
            "what it says",
            "how much light is scattered, and never by what: put it against the same lens before and after cleaning, or \
             another of its kind"
                .to_owned(),
        ),
    ]);
    text.push_str(&table::list("To mind", read.notices.iter().map(|notice| notice.text.as_str())));
    text
}
