//! `lampblack evenness`: how evenly a shutter exposed the frame, from a job that names one to four photos of a test roll.
//!
//! Not here: measuring (`imaging`), the job's shape (`record`).

use std::path::Path;

use imaging::evenness::{Evenness, Frames, evenness};
use lexopt::Parser;
use record::shell::film::{EvennessJob, EvennessRead, FilmPhoto, evenness_job};
use record::shell::json;

use crate::error::Failure;
use crate::job::{Called, called};
use crate::strip::strip;
use crate::{Answer, table};

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let Called { job, path, place, as_json } = called(call, evenness_job, |_| false)?;
    let found = measured(&job, &path).map_err(|failure| failure.at(&place))?;
    let read = EvennessRead::of(&found);
    if as_json { Ok(json(&read)?) } else { Ok(said(&read)) }
}

fn measured(job: &EvennessJob, path: &Path) -> Result<Evenness, Failure> {
    let other = |photo: &Option<FilmPhoto>| photo.as_ref().map(|photo| strip(photo, path)).transpose();
    let main = strip(&job.main, path)?;
    let (minus, plus, turned) = (other(&job.minus_one)?, other(&job.plus_one)?, other(&job.turned)?);
    let frames = Frames { main: &main, minus_one: minus.as_ref(), plus_one: plus.as_ref(), turned: turned.as_ref() };
    Ok(evenness(&frames, job.travel.travel())?)
}

fn said(read: &EvennessRead) -> String {
    let stops = |value: f64| metrology::to_decimals(value, 2);
    let side = |value: f64| if value < 0.0 { "less" } else { "more" };
    let doubt = 2.0 * read.standard_uncertainty_stops;
    let wall = match read.wall_stops {
        Some(wall) => format!("{} stop, taken out", stops(wall.abs())),
        None => "not known: no frame with the camera upside down".to_owned(),
    };
    let mut text = table::facts(&[
        (
            "along the travel",
            format!(
                "{} ± {} stop {} at its end (95 %)",
                stops(read.taper_stops.abs()),
                stops(doubt),
                side(read.taper_stops)
            ),
        ),
        ("the wall", wall),
        ("ripples", format!("±{} stop", stops(read.band_stops))),
        (
            "the darker end",
            format!(
                "{} stop {} than the line of the middle",
                stops(read.end_drop_stops.abs()),
                side(read.end_drop_stops)
            ),
        ),
        ("the film's contrast", stops(read.gamma)),
    ]);
    text.push_str(&table::list("To mind", read.notices.iter().map(|notice| notice.text.as_str())));
    text
}
