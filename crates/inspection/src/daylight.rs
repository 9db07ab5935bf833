//! What a person is told about the light of sun and sky: how far sunny 16 is off, which surface to meter, what to mind.
//!
//! Not here: the light and its doubt (`photometry`); daylight as one kind of reference ([`crate::reference`]).

use photometry::{Daylight, Moment, Place, Plane, Sky, SunPosition, daylight, surest_plane};

use crate::error::Error;
use crate::reference::SUN_CAUTION;
use crate::words;

/// Below this elevation the light changes fast, and haze counts for more \[°\].
const LOW_DEG: f64 = 10.0;
/// Another surface is named where it is known better by so much \[stops\].
const BETTER_STOPS: f64 = 0.1;

/// The code of the caution that goes with every light of the sun.
pub const SUN_CAUTION_CODE: &str = "sun-caution";

/// A sentence with its code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Notice {
    /// Which, in letters and hyphens.
    pub code: &'static str,
    /// What a person at a bench can act on.
    pub text: String,
}

fn notice(code: &'static str, text: impl Into<String>) -> Notice {
    Notice { code, text: text.into() }
}

/// `sunny 16 reads 0.2 stop high for an upright surface turned to the sun`.
pub fn sunny16_words(light: &Daylight, plane: Plane) -> String {
    let stops = light.sunny16_error.value();
    let size = words::plain(stops.abs(), 1);
    let said = match size.as_str() {
        "0.0" => "is right".to_owned(),
        _ => format!("reads {size} {} {}", words::unit(stops), if stops > 0.0 { "high" } else { "low" }),
    };
    format!("sunny 16 {said} for {}", plane.words())
}

/// `north-east` and the like for a direction \[°\] from north through east.
pub fn direction_words(azimuth_deg: f64) -> &'static str {
    const NAMES: [&str; 8] = ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];
    // A direction lies within [0, 360), so that its eighth is small; what is none counts as north.
    NAMES.get(libm::round(azimuth_deg / 45.0) as usize % NAMES.len()).copied().unwrap_or(NAMES[0])
}

/// What to mind about a position of the sun.
pub fn sun_notices(sun: &SunPosition) -> Vec<Notice> {
    let mut said = vec![notice(SUN_CAUTION_CODE, SUN_CAUTION)];
    if sun.apparent.degrees() < 0.0 {
        said.push(notice("sun-below-horizon", "The sun is below the horizon: no light can be reckoned from it."));
    }
    said
}

/// What to mind about a light, and which surface is known better. **Errors** as [`photometry::daylight`].
pub fn light_notices(
    moment: Moment,
    place: Place,
    sky: Sky,
    plane: Plane,
    light: &Daylight,
) -> Result<Vec<Notice>, Error> {
    let mut said = vec![notice(SUN_CAUTION_CODE, SUN_CAUTION)];
    let elevation = light.sun.elevation;
    if elevation.degrees() < LOW_DEG {
        let text = format!(
            "The sun is only {}° up: the light changes fast and haze counts for more. A higher sun is known better.",
            words::plain(elevation.degrees(), 1)
        );
        said.push(notice("low-sun", text));
    }
    match sky {
        Sky::Clear => {}
        Sky::Partly => said.push(notice(
            "passing-clouds",
            "The light may double or halve within a minute: read reference and camera at the same time.",
        )),
        Sky::Cloudy => said.push(notice(
            "covered-sky",
            "Sunny 16 is a rule for sun: under cloud take the word for the sky. Where there are shadows, the sky is partly cloudy.",
        )),
    }
    let best = surest_plane(sky, elevation)?;
    let other = daylight(moment, place, sky, best)?.doubt.both().value();
    let own = light.doubt.both().value();
    if best != plane && other + BETTER_STOPS < own {
        let text = format!(
            "Now {} is known better: standard uncertainty {} in place of {} stop.",
            best.words(),
            words::plain(other, 1),
            words::plain(own, 1)
        );
        said.push(notice("another-surface", text));
    }
    Ok(said)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn told(hour: u32, sky: Sky, plane: Plane) -> (Daylight, Vec<Notice>) {
        let moment = Moment::new(2024, 3, 21, hour, 0, 0.0).expect("a moment");
        let place = Place::new(50.0, 0.0).expect("a place");
        let light = daylight(moment, place, sky, plane).expect("light");
        let said = light_notices(moment, place, sky, plane, &light).expect("notices");
        (light, said)
    }

    fn codes(said: &[Notice]) -> Vec<&'static str> {
        said.iter().map(|notice| notice.code).collect()
    }

    #[test]
    fn a_low_sun_is_spoken_of_and_another_surface_named() {
        let (light, said) = told(7, Sky::Clear, Plane::Upright);
        assert_eq!(codes(&said), ["sun-caution", "low-sun", "another-surface"]);
        assert!(said[2].text.contains("a flat surface"), "{}", said[2].text);
        assert!(sunny16_words(&light, Plane::Upright).contains("high for an upright surface"));
        assert_eq!(codes(&told(12, Sky::Clear, Plane::Upright).1), ["sun-caution"]);
    }

    #[test]
    fn a_sky_with_clouds_has_its_sentence() {
        assert!(codes(&told(12, Sky::Partly, Plane::Horizontal).1).contains(&"passing-clouds"));
        assert!(codes(&told(12, Sky::Cloudy, Plane::Horizontal).1).contains(&"covered-sky"));
    }

    #[test]
    fn directions_have_their_names() {
        for (degrees, name) in
            [(0.0, "north"), (359.9, "north"), (140.0, "south-east"), (270.0, "west"), (f64::NAN, "north")]
        {
            assert_eq!(direction_words(degrees), name);
        }
    }
}
