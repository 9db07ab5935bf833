//! How far the computed light is to be trusted, in stops: haze, cloud, the second model, the sky's evenness, the ground.
//!
//! The shares of each part were set beside the hourly sums of light of two typical years (NSRDB TMY3, 36° and 55° north) so
//! that the 95 % interval holds about as many of them: under a clear sky 90 to 100 %, partly cloudy 88 to 100 %, cloudy without
//! any sun 94 to 100 %, in every range of elevations and on every plane. Where more than two thirds are covered and the sun
//! shines through all the same, `cloudy` does not hold. Not here: the light itself ([`super::model`]).

use super::model::{Parts, Plane, Sky};
use super::second::second_model;
use crate::error::Error;
use crate::quantity::{Elevation, Illuminance, Stops};

/// Extinction of the clearest and of the haziest clear air; the model has 0.21.
const EXTINCTION: (f64, f64) = (0.07, 0.35);
/// What differs at least between one reading and the next: how the target is turned, thin cloud \[stops\].
const EACH: f64 = 0.20;
/// What the model itself and the constant of the sun are good for \[stops\].
const MODEL: f64 = 0.20;
/// The mean light of a partly cloudy day around the model's \[stops\].
const PARTLY_SHARED: f64 = 0.30;
/// Thickness of the cloud: what changes from reading to reading, and what stays for an hour \[stops\]. The light of a covered
/// sky without sun lies 0.1 to 1 stop above the model, which is that of a dull one.
const CLOUDY: (f64, f64) = (0.50, 0.55);
/// The light of the clear sky alone, and of its part that an upright plane sees, which is no even part \[stops\].
const CLEAR_SKY: f64 = 0.30;
const UPRIGHT_SKY: f64 = 0.50;
/// The ground may throw back a tenth or a third \[stops\].
const GROUND_SHARE: f64 = 0.70;

/// The doubt of a computed light as two standard uncertainties \[stops\], and what makes them up.
#[derive(Clone, Debug, PartialEq)]
pub struct LightDoubt {
    /// New at every reading.
    pub each: Stops,
    /// Shared by all readings of an hour.
    pub shared: Stops,
    /// What the two are made of, in words, with standard uncertainties; those that count.
    pub parts: Vec<(&'static str, Stops)>,
}

impl LightDoubt {
    /// Both together: the doubt of one reading.
    pub fn both(&self) -> Stops {
        // Both are held within the range.
        held(libm::hypot(self.each.value(), self.shared.value()))
    }
}

fn held(stops: f64) -> Stops {
    Stops::new(stops.clamp(0.0, 10.0)).unwrap_or(Stops::ZERO)
}

/// Root mean square of what lies evenly between two ends, taken from 0 and not from the middle.
fn spread(low: f64, high: f64) -> f64 {
    ((low * low + low * high + high * high) / 3.0).sqrt()
}

/// The doubt of a plane's light. **Errors** below the horizon.
pub(super) fn doubt(
    sky: Sky,
    plane: Plane,
    elevation: Elevation,
    extraterrestrial: Illuminance,
) -> Result<LightDoubt, Error> {
    let parts = Parts::of(sky, elevation, extraterrestrial)?;
    let light = parts.on(plane);
    let stops = |other: Parts| libm::log2(other.on(plane) / light);
    let ground = ("what the ground throws back", GROUND_SHARE * parts.ground_on(plane) / light);
    let scale = super::SOLAR_ILLUMINANCE / extraterrestrial.value();
    let models = libm::log2(parts.global() * scale / second_model(elevation)?.value()).abs() / 3.0_f64.sqrt();
    let (each, shared) = match sky {
        Sky::Clear => {
            let sun = spread(
                stops(parts.with_sun(EXTINCTION.1, extraterrestrial)),
                stops(parts.with_sun(EXTINCTION.0, extraterrestrial)),
            );
            let evenness = if plane == Plane::Upright { UPRIGHT_SKY } else { CLEAR_SKY };
            let shared = vec![
                ("the model", MODEL),
                ("haze before the sun", sun),
                ("another published model", models),
                ("the light of the sky", evenness * parts.sky_on(plane) / light),
                ground,
            ];
            (("how the target is turned, thin cloud", EACH), shared)
        }
        Sky::Partly => {
            let sun = spread(stops(parts.without_sun()), stops(parts.with_sun(EXTINCTION.0, extraterrestrial)));
            let low = ("another published model, of a clear sky", models * low_sun(elevation));
            (
                ("the sun behind a cloud or beside it", libm::hypot(EACH, sun)),
                vec![("the mean of such days", PARTLY_SHARED), low, ground],
            )
        }
        Sky::Cloudy => (("clouds that pass", CLOUDY.0), vec![("how thick the cloud is", CLOUDY.1), ground]),
    };
    let together = shared.iter().map(|(_, u)| u * u).sum::<f64>().sqrt();
    Ok(LightDoubt {
        each: held(each.1),
        shared: held(together),
        parts: core::iter::once(each)
            .chain(shared)
            .filter(|(_, u)| *u >= 0.005)
            .map(|(words, u)| (words, held(u)))
            .collect(),
    })
}

/// 1 on the horizon, 0 from 10° up: what the models differ by under a clear sky says something of a cloudy one only where the
/// way through the air is long.
fn low_sun(elevation: Elevation) -> f64 {
    (1.0 - elevation.degrees() / 10.0).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sky::{SOLAR_ILLUMINANCE, extraterrestrial};
    use proptest::prelude::*;

    fn of(sky: Sky, plane: Plane, degrees: f64) -> LightDoubt {
        let outside = Illuminance::new(SOLAR_ILLUMINANCE).expect("lux");
        doubt(sky, plane, Elevation::new(degrees).expect("an elevation"), outside).expect("a doubt")
    }

    #[test]
    fn it_grows_as_the_sun_sinks_and_as_the_sky_gets_worse() {
        for plane in [Plane::FacingSun, Plane::Upright] {
            let at = |sky, h| of(sky, plane, h).both().value();
            assert!(at(Sky::Clear, 5.0) > at(Sky::Clear, 10.0) && at(Sky::Clear, 10.0) > at(Sky::Clear, 20.0));
            assert!(at(Sky::Clear, 20.0) > at(Sky::Clear, 40.0));
            assert!(at(Sky::Partly, 10.0) > at(Sky::Partly, 20.0) && at(Sky::Partly, 20.0) > at(Sky::Partly, 40.0));
            assert!(at(Sky::Clear, 40.0) < at(Sky::Partly, 40.0) && at(Sky::Clear, 60.0) < at(Sky::Cloudy, 60.0));
        }
        let high = of(Sky::Clear, Plane::FacingSun, 50.0).both().value();
        assert!((0.28..0.36).contains(&high), "{high}");
    }

    #[test]
    fn the_parts_make_up_the_whole() {
        let doubt = of(Sky::Clear, Plane::Upright, 25.0);
        let together = doubt.parts.iter().map(|(_, u)| u.value() * u.value()).sum::<f64>().sqrt();
        assert!((together - doubt.both().value()).abs() < 0.01 && doubt.parts.len() >= 5);
    }

    #[test]
    fn a_spread_is_that_of_even_chance() {
        assert!((spread(-1.0, 1.0) - 1.0 / 3.0_f64.sqrt()).abs() < 1e-12 && spread(0.5, 0.5) == 0.5);
    }

    proptest! {
        #[test]
        fn there_is_always_a_doubt_and_an_end_to_it(h in 0.0..=90.0_f64, day in 1..=366_u32, sky in 0..3_usize, plane in 0..3_usize) {
            let outside = extraterrestrial(day).unwrap();
            let found = doubt(Sky::ALL[sky], Plane::ALL[plane], Elevation::new(h).unwrap(), outside).unwrap();
            prop_assert!((0.25..4.0).contains(&found.both().value()), "{}", found.both().value());
            prop_assert!(found.each.value() > 0.0 && found.shared.value() >= 0.2);
        }
    }
}
