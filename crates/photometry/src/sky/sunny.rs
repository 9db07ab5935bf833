//! The light to expect at a moment and a place, and how far sunny 16 is from it.
//!
//! Not here: the model ([`super::model`]), its doubt ([`super::doubt`]), words for the sky by eye ([`crate::SKY_WORDS`]).

use super::doubt::{LightDoubt, doubt};
use super::model::{Parts, Plane, SOLAR_ILLUMINANCE, Sky, extraterrestrial};
use crate::constants::C_DEFAULT;
use crate::error::Error;
use crate::exposure::{ev_from_illuminance, illuminance};
use crate::quantity::{Elevation, Ev, Illuminance, Stops};
use crate::sun::{Air, Moment, Place, SunPosition, sun_position};

/// The light of sunny 16 \[EV at ISO 100\], as the tables have it (ANSI PH2.7); f/16 at 1/speed taken literally is EV 14.64.
pub const SUNNY_16: f64 = 15.0;

/// The light to expect.
#[derive(Clone, Debug, PartialEq)]
pub struct Daylight {
    /// Where the sun stands.
    pub sun: SunPosition,
    /// Illuminance on the plane.
    pub illuminance: Illuminance,
    /// The same as EV at ISO 100 by the incident constant C = 250.
    pub ev100: Ev,
    /// How far to trust it.
    pub doubt: LightDoubt,
    /// What sunny 16 says less what the light is: + reads high.
    pub sunny16_error: Stops,
}

/// The light to expect on a plane under a sky.
///
/// Equations: [`on_plane`](crate::on_plane), with the sun's true elevation, as the model has it. *Source:* IES 1984. **Errors** while the sun is below
/// the horizon.
pub fn daylight(moment: Moment, place: Place, sky: Sky, plane: Plane) -> Result<Daylight, Error> {
    under(sun_position(moment, place, Air::usual(place))?, moment, sky, plane)
}

/// The same with the sun's place known already.
pub(super) fn under(sun: SunPosition, moment: Moment, sky: Sky, plane: Plane) -> Result<Daylight, Error> {
    let outside = extraterrestrial(moment.day().of_year())?;
    let illuminance = Illuminance::new(Parts::of(sky, sun.elevation, outside)?.on(plane))?;
    let ev100 = ev_from_illuminance(illuminance, C_DEFAULT)?;
    Ok(Daylight {
        sun,
        illuminance,
        ev100,
        doubt: doubt(sky, plane, sun.elevation, outside)?,
        sunny16_error: Stops::new(SUNNY_16 - ev100.value())?,
    })
}

/// The plane whose light is known best with the sun at this elevation; where two are as good, the one that a subject is lit on.
/// **Errors** below the horizon.
pub fn surest_plane(sky: Sky, elevation: Elevation) -> Result<Plane, Error> {
    const AS_GOOD: f64 = 0.03;
    let outside = Illuminance::new(SOLAR_ILLUMINANCE)?;
    let of = |plane| Ok::<f64, Error>(doubt(sky, plane, elevation, outside)?.both().value());
    let best = Plane::ALL.into_iter().map(of).collect::<Result<Vec<_>, _>>()?.into_iter().fold(f64::INFINITY, f64::min);
    for plane in [Plane::Upright, Plane::FacingSun] {
        if of(plane)? <= best + AS_GOOD {
            return Ok(plane);
        }
    }
    Ok(Plane::Horizontal)
}

/// The elevations \[°\] at which a clear sky is within so many stops of an EV on a plane, each as its lowest and highest, by an
/// incident constant C \[lx·s·ISO\], at the mean distance of the sun. To 0.001°; spans narrower than 0.1° may be missed.
pub fn sunny16_elevations(plane: Plane, aim: Ev, within: Stops, c: f64) -> Result<Vec<(Elevation, Elevation)>, Error> {
    let outside = Illuminance::new(SOLAR_ILLUMINANCE)?;
    let aim = illuminance(aim, c)?.value();
    let good = |degrees: f64| -> Result<bool, Error> {
        let light = Parts::of(Sky::Clear, Elevation::new(degrees)?, outside)?.on(plane);
        Ok(libm::log2(light / aim).abs() <= within.value())
    };
    // The edge between two elevations of which one is good: halved until it is known to 0.001°.
    let edge = |mut low: f64, mut high: f64, low_good: bool| -> Result<f64, Error> {
        for _ in 0..8 {
            let middle = (low + high) / 2.0;
            if good(middle)? == low_good { low = middle } else { high = middle }
        }
        Ok((low + high) / 2.0)
    };
    let mut found = Vec::new();
    let mut begun = if good(0.0)? { Some(0.0) } else { None };
    for tenth in 1..=900 {
        let (before, here) = (f64::from(tenth - 1) / 10.0, f64::from(tenth) / 10.0);
        match (begun, good(here)?) {
            (None, true) => begun = Some(edge(before, here, false)?),
            (Some(low), false) => {
                found.push((Elevation::new(low)?, Elevation::new(edge(before, here, true)?)?));
                begun = None;
            }
            _ => {}
        }
    }
    if let Some(low) = begun {
        found.push((Elevation::new(low)?, Elevation::new(90.0)?));
    }
    Ok(found)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn noon(latitude: f64, month: u32) -> Result<Daylight, Error> {
        let place = Place::new(latitude, 0.0).expect("a place");
        daylight(Moment::new(2024, month, 21, 12, 0, 0.0).expect("a moment"), place, Sky::Clear, Plane::Upright)
    }

    #[test]
    fn a_summer_noon_is_what_sunny_16_says_and_a_polar_night_is_refused() {
        let summer = noon(58.0, 6).expect("light");
        assert!(summer.sunny16_error.value().abs() < 0.4 && summer.ev100.value() > 14.5, "{summer:?}");
        assert!(noon(80.0, 12).expect_err("refused").to_string().contains("elevation"));
    }

    #[test]
    fn sunny_16_reads_high_when_the_sun_is_low() {
        let winter = noon(60.0, 12).expect("light");
        assert!(winter.sun.elevation.degrees() < 8.0 && winter.sunny16_error.value() > 0.9, "{winter:?}");
        assert!(winter.sunny16_error.value() + winter.ev100.value() == SUNNY_16);
    }

    #[test]
    fn which_surface_to_meter_goes_by_the_doubt() {
        let at = |sky, h| surest_plane(sky, Elevation::new(h).expect("an elevation")).expect("a plane");
        assert_eq!(at(Sky::Clear, 5.0), Plane::Horizontal);
        assert_eq!(at(Sky::Clear, 35.0), Plane::Upright);
        assert_eq!(at(Sky::Clear, 88.0), Plane::FacingSun);
        assert!(surest_plane(Sky::Clear, Elevation::new(-1.0).expect("an elevation")).is_err());
    }

    proptest! {
        #[test]
        fn no_moment_or_place_makes_a_panic(
            seconds in -11_676_096_000.0..32_503_680_000.0_f64, latitude in -90.0..=90.0_f64, longitude in -180.0..=180.0_f64,
            sky in 0..3_usize, plane in 0..3_usize,
        ) {
            let place = Place::new(latitude, longitude).unwrap();
            let moment = Moment::of_seconds_since_1970(seconds).unwrap();
            let up = sun_position(moment, place, Air::usual(place)).unwrap().elevation.degrees() >= 0.0;
            let light = daylight(moment, place, Sky::ALL[sky], Plane::ALL[plane]);
            prop_assert_eq!(light.is_ok(), up);
            if let Ok(light) = light {
                prop_assert!(light.ev100.value() > 5.0 && light.ev100.value() < 16.5);
            }
        }
    }
}
