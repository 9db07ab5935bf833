//! The shell's answers on the sun and on daylight.
//!
//! Not here: the reckoning (`photometry`), the sentences (`inspection`).

use inspection::daylight::Notice as Said;
use photometry::{Daylight as Light, SunPosition};
use serde::Serialize;

/// What a person should know before trusting an answer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Notice {
    /// Which, in letters and hyphens.
    pub code: String,
    /// A sentence.
    pub text: String,
}

fn notices(said: &[Said]) -> Vec<Notice> {
    said.iter().map(|notice| Notice { code: notice.code.to_owned(), text: notice.text.clone() }).collect()
}

/// Where the sun stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Sun {
    /// True elevation of its middle.
    pub elevation_deg: f64,
    /// Elevation at which it is seen through the air.
    pub apparent_elevation_deg: f64,
    /// Direction from north through east.
    pub azimuth_deg: f64,
    /// What a person should know before trusting it.
    pub notices: Vec<Notice>,
}

impl Sun {
    /// Of a position.
    pub fn of(sun: &SunPosition, said: &[Said]) -> Self {
        Self {
            elevation_deg: sun.elevation.degrees(),
            apparent_elevation_deg: sun.apparent.degrees(),
            azimuth_deg: sun.azimuth_deg(),
            notices: notices(said),
        }
    }
}

/// The light to expect on a surface.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct Daylight {
    /// Illuminance on it.
    pub illuminance_lux: f64,
    /// The same by the incident constant C = 250.
    pub ev100: f64,
    /// Standard uncertainty of one reading.
    pub standard_uncertainty_stops: f64,
    /// Its part that is new at every reading.
    pub each_doubt_stops: f64,
    /// Its part that all readings of an hour share.
    pub shared_doubt_stops: f64,
    /// What sunny 16 says (EV 15) less what the light is: + reads high.
    pub sunny16_error_stops: f64,
    /// True elevation of the sun.
    pub elevation_deg: f64,
    /// What a person should know before trusting it.
    pub notices: Vec<Notice>,
}

impl Daylight {
    /// Of a light.
    pub fn of(light: &Light, said: &[Said]) -> Self {
        Self {
            illuminance_lux: light.illuminance.value(),
            ev100: light.ev100.value(),
            standard_uncertainty_stops: light.doubt.both().value(),
            each_doubt_stops: light.doubt.each.value(),
            shared_doubt_stops: light.doubt.shared.value(),
            sunny16_error_stops: light.sunny16_error.value(),
            elevation_deg: light.sun.elevation.degrees(),
            notices: notices(said),
        }
    }
}
