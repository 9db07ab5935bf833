//! `lampblack daylight`: the light of sun and sky to expect on a surface, and how far sunny 16 is from it.
//!
//! Not here: the reckoning (`photometry`), the sentences (`inspection`).

use inspection::daylight::{light_notices, sunny16_words};
use lexopt::{Arg, Parser};
use metrology::to_decimals;
use photometry::{Plane, Sky, daylight};
use record::shell::{Daylight, json};

use crate::error::{Failure, one_line};
use crate::sun::Here;
use crate::{Answer, table, usage};

/// One of a few words; another one is a call that cannot be understood.
fn one_of<T>(call: &mut Parser, option: &str, find: fn(&str) -> Option<T>, keys: &[&str]) -> Result<T, Failure> {
    let text = usage::text(call)?;
    find(&text).ok_or_else(|| {
        Failure::Usage(format!("{option} must be one of {}, and \"{}\" was given", keys.join(", "), one_line(&text)))
    })
}

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut here, mut sky, mut plane) = (Here::default(), None, None);
    let mut as_json = false;
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("sky") => sky = Some(one_of(call, "--sky", Sky::from_key, &Sky::ALL.map(Sky::key))?),
            Arg::Long("plane") => plane = Some(one_of(call, "--plane", Plane::from_key, &Plane::ALL.map(Plane::key))?),
            Arg::Long("json") => as_json = true,
            Arg::Long(option) => {
                let option = option.to_owned();
                if !here.take(&option, call)? {
                    return Err(Arg::Long(&option).unexpected().into());
                }
            }
            other => return Err(other.unexpected().into()),
        }
    }
    let sky = usage::needed(sky, "the sky (--sky clear)")?;
    let plane = usage::needed(plane, "the surface (--plane upright)")?;
    let (moment, place) = here.found()?;
    let light = daylight(moment, place, sky, plane)?;
    let answer = Daylight::of(&light, &light_notices(moment, place, sky, plane, &light)?);
    if as_json {
        return Ok(json(&answer)?);
    }
    let mut text = table::facts(&[
        ("sun", format!("{}° up", to_decimals(answer.elevation_deg, 1))),
        ("sky", sky.words().to_owned()),
        ("surface", plane.words().to_owned()),
        ("illuminance", format!("{} klx", to_decimals(answer.illuminance_lux / 1000.0, 1))),
        (
            "EV at ISO 100",
            format!(
                "{} ± {} (95 %)",
                to_decimals(answer.ev100, 1),
                to_decimals(answer.standard_uncertainty_stops * metrology::student_factor(0.95, f64::INFINITY)?, 1)
            ),
        ),
        ("by eye", sunny16_words(&light, plane)),
    ]);
    let parts: Vec<Vec<String>> = light
        .doubt
        .parts
        .iter()
        .map(|(words, doubt)| vec![(*words).to_owned(), to_decimals(doubt.value(), 2)])
        .collect();
    text.push('\n');
    text.push_str(&table::columns(&["doubt", "stops"], &parts, true));
    text.push_str(&table::list("To mind", answer.notices.iter().map(|notice| notice.text.as_str())));
    Ok(text)
}
