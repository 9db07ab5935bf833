//! `lampblack fog`: what fogged a blank frame of a test roll, from a job that names its photo.
//!
//! Not here: measuring (`imaging`), the job's shape (`record`).

use imaging::fog::{density_map, fog};
use lexopt::Parser;
use record::shell::film::{FogRead, fog_job};
use record::shell::json;

use crate::job::{Called, called};
use crate::strip::strip;
use crate::{Answer, table};

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let mut with_map = false;
    let Called { job, path, place, as_json } = called(call, fog_job, |option| {
        with_map |= option == "map";
        option == "map"
    })?;
    let laid_out = strip(&job.photo(), &path).map_err(|failure| failure.at(&place))?;
    let found = fog(&laid_out, job.strip_lies.lies());
    let map = if with_map { density_map(&laid_out) } else { None };
    let read = FogRead::of(&found, map.as_ref());
    if as_json { Ok(json(&read)?) } else { Ok(said(&read)) }
}

fn said(read: &FogRead) -> String {
    let light = match read.group {
        "none" => "no light above the threshold".to_owned(),
        "back" => "light from the back: door, hinge, latch or window".to_owned(),
        "front" => "light through the front: mirror box or mount".to_owned(),
        "pinhole" => "a spot of light: a hole in a curtain".to_owned(),
        _ => "cannot tell".to_owned(),
    };
    let two = |value: f64| metrology::to_decimals(value, 2);
    let mut text = table::facts(&[
        ("what it shows", light),
        ("side of the gate", read.side.map_or_else(|| "open".to_owned(), |side| format!("{side}, seen from the back"))),
        ("part", read.source.map_or_else(|| "open".to_owned(), |part| part.replace('-', " "))),
        ("how sure", format!("{} of 1", two(read.confidence))),
        (
            "densest place",
            format!("{} above the base; light counts from {}", two(read.peak_density), two(read.threshold_density)),
        ),
    ]);
    text.push_str(&table::list("To mind", read.notices.iter().map(|notice| notice.text.as_str())));
    text
}
