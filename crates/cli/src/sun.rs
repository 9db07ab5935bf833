//! `lampblack sun`: where the sun stands at a moment and a place.
//!
//! Not here: the reckoning (`photometry`), the light that it gives ([`crate::daylight`]).

use inspection::daylight::{direction_words, sun_notices};
use lexopt::{Arg, Parser};
use metrology::to_decimals;
use photometry::{Air, Moment, Place, sun_position};
use record::shell::{Sun, json};

use crate::error::Failure;
use crate::{Answer, table, usage};

/// When and where, as both verbs of the sun take it.
#[derive(Default)]
pub struct Here {
    at: Option<String>,
    latitude: Option<f64>,
    longitude: Option<f64>,
    altitude: f64,
}

impl Here {
    /// Takes one of its options; `false` where the option is another.
    pub fn take(&mut self, option: &str, call: &mut Parser) -> Result<bool, Failure> {
        match option {
            "at" => self.at = Some(usage::text(call)?),
            "lat" => self.latitude = Some(usage::number(call, "--lat")?),
            "lon" => self.longitude = Some(usage::number(call, "--lon")?),
            "altitude" => self.altitude = usage::number(call, "--altitude")?,
            _ => return Ok(false),
        }
        Ok(true)
    }

    /// The moment and the place.
    pub fn found(self) -> Result<(Moment, Place), Failure> {
        let at = usage::needed(self.at, "the time (--at 2026-03-01T09:30:00Z)")?;
        let latitude = usage::needed(self.latitude, "the latitude (--lat 52.5)")?;
        let longitude = usage::needed(self.longitude, "the longitude (--lon 13.4)")?;
        Ok((record::moment(&at)?, Place::new(latitude, longitude)?.at_altitude(self.altitude)?))
    }
}

/// Runs the verb.
pub fn run(call: &mut Parser) -> Answer {
    let (mut here, mut pressure, mut temperature) = (Here::default(), None, None);
    let mut as_json = false;
    while let Some(arg) = call.next()? {
        match arg {
            Arg::Long("pressure") => pressure = Some(usage::number(call, "--pressure")?),
            Arg::Long("temperature") => temperature = Some(usage::number(call, "--temperature")?),
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
    let (moment, place) = here.found()?;
    let air = Air::new(
        pressure.unwrap_or_else(|| Air::usual_pressure_hpa(place)),
        temperature.unwrap_or(Air::USUAL_TEMPERATURE_C),
    )?;
    let sun = sun_position(moment, place, air)?;
    let answer = Sun::of(&sun, &sun_notices(&sun));
    if as_json {
        return Ok(json(&answer)?);
    }
    let mut text = table::facts(&[
        ("height", format!("{}°", to_decimals(answer.elevation_deg, 2))),
        (
            "seen at",
            format!(
                "{}° ({} hPa, {} °C)",
                to_decimals(answer.apparent_elevation_deg, 2),
                to_decimals(air.pressure_hpa(), 0),
                to_decimals(air.temperature_c(), 0)
            ),
        ),
        ("direction", format!("{}°, {}", to_decimals(answer.azimuth_deg, 1), direction_words(answer.azimuth_deg))),
    ]);
    text.push_str(&table::list("To mind", answer.notices.iter().map(|notice| notice.text.as_str())));
    Ok(text)
}
