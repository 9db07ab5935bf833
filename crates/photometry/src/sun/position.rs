//! The sun's height and direction, true and as the air lifts it.
//!
//! *Refraction* of the algorithm: `Δe = p/1010 · 283/(273 + T) · 1.02/(60·tan(e + 10.3/(e + 5.11)))` \[°\], p pressure \[hPa\],
//! T temperature \[°C\], e true elevation \[°\]; none where the sun's upper edge is below the horizon (e under −0.833°), so that
//! the apparent elevation jumps there by 0.6°. Not here: rising and setting ([`super::times`]).

use solar_positioning::time::JulianDate;
use solar_positioning::{Location, PreparedPositions, RefractionCorrection, SolarPositions};

use super::{Air, Moment, Place};
use crate::error::Error;
use crate::quantity::Elevation;

/// Where the sun stands for somebody on the ground.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunPosition {
    /// True elevation of its middle, as if there were no air.
    pub elevation: Elevation,
    /// Elevation at which it is seen.
    pub apparent: Elevation,
    azimuth_deg: f64,
}

impl SunPosition {
    /// Direction \[°\]: 0 north, 90 east, below 360. Close to the zenith it says little.
    pub const fn azimuth_deg(&self) -> f64 {
        self.azimuth_deg
    }

    /// Cosine of the angle between the sun as it is seen and the normal of a plane that is tilted \[°\] from the horizontal and faces an
    /// azimuth \[°\]; below 0 the sun is behind it.
    pub fn incidence_cosine(&self, tilt_deg: f64, facing_deg: f64) -> f64 {
        let elevation = self.apparent.radians();
        let (tilt, turn) = (tilt_deg.to_radians(), (self.azimuth_deg - facing_deg).to_radians());
        libm::sin(elevation) * libm::cos(tilt) + libm::cos(elevation) * libm::sin(tilt) * libm::cos(turn)
    }
}

/// Where the sun stands among the stars, seen from the middle of the earth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Celestial {
    /// Right ascension \[°\].
    pub right_ascension_deg: f64,
    /// Declination \[°\].
    pub declination_deg: f64,
    /// Distance \[astronomical units\].
    pub distance_au: f64,
}

/// What the algorithm refuses although everything was checked before.
pub(super) fn refused(error: solar_positioning::Error) -> Error {
    Error::new(format!("the sun's position cannot be reckoned: {error}"))
}

pub(super) const fn location(place: Place) -> Location {
    Location { latitude: place.latitude_deg(), longitude: place.longitude_deg() }
}

fn prepared(moment: Moment) -> Result<PreparedPositions, Error> {
    let time = JulianDate::new(moment.julian_day(), moment.delta_t_s()).map_err(refused)?;
    SolarPositions::new().for_time_from_julian(time).map_err(refused)
}

/// Where the sun stands at a moment, for a place and its air.
///
/// *Source:* NREL/TP-560-34302, within 0.0003° from −2000 to 6000; here 1600 to 2999, and 0.004° since UTC stands for UT1. **Errors** only where the algorithm refuses; every moment, place and air that
/// can be made has a position.
pub fn sun_position(moment: Moment, place: Place, air: Air) -> Result<SunPosition, Error> {
    let prepared = prepared(moment)?;
    let bent = RefractionCorrection::new(air.pressure_hpa(), air.temperature_c()).map_err(refused)?;
    let seen = |air| prepared.at(location(place), place.altitude_m(), air).map_err(refused);
    let (bare, lifted) = (seen(None)?, seen(Some(bent))?);
    Ok(SunPosition {
        elevation: Elevation::new(bare.elevation_angle())?,
        apparent: Elevation::new(lifted.elevation_angle())?,
        azimuth_deg: bare.azimuth(),
    })
}

/// Where the sun stands among the stars at a moment. **Errors** as [`sun_position`].
pub fn celestial(moment: Moment) -> Result<Celestial, Error> {
    let prepared = prepared(moment)?;
    Ok(Celestial {
        right_ascension_deg: prepared.right_ascension(),
        declination_deg: prepared.declination(),
        distance_au: prepared.earth_radius_vector().ok_or_else(|| Error::new("the sun's distance is not known"))?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn seen(seconds: f64, latitude: f64, longitude: f64) -> SunPosition {
        let place = Place::new(latitude, longitude).expect("a place");
        sun_position(Moment::of_seconds_since_1970(seconds).expect("a moment"), place, Air::usual(place))
            .expect("a position")
    }

    /// Angle between two positions in the sky \[°\], which says nothing false at the zenith.
    fn apart(a: SunPosition, b: SunPosition) -> f64 {
        let towards = |p: SunPosition| {
            let (e, az) = (p.elevation.radians(), p.azimuth_deg().to_radians());
            [libm::cos(e) * libm::sin(az), libm::cos(e) * libm::cos(az), libm::sin(e)]
        };
        let (a, b) = (towards(a), towards(b));
        let chord = a.iter().zip(b).map(|(a, b)| (a - b) * (a - b)).sum::<f64>().sqrt();
        (2.0 * libm::asin((chord / 2.0).min(1.0))).to_degrees()
    }

    /// Midnights before which and after which the calendar does something: leap days, new years, centuries.
    fn midnights() -> impl Strategy<Value = f64> {
        let of = |year, month, day| Moment::new(year, month, day, 0, 0, 0.0).expect("a day").seconds_since_1970();
        prop::sample::select(vec![
            of(2024, 2, 29),
            of(2024, 3, 1),
            of(2023, 3, 1),
            of(2000, 3, 1),
            of(1900, 3, 1),
            of(2100, 3, 1),
            of(2025, 1, 1),
            of(2000, 1, 1),
            of(1970, 1, 1),
            of(2017, 1, 1),
        ])
    }

    proptest! {
        #[test]
        fn every_moment_and_place_has_a_position(
            seconds in -11_676_096_000.0..32_503_680_000.0_f64, latitude in -90.0..=90.0_f64, longitude in -180.0..=180.0_f64,
            altitude in -500.0..=9000.0_f64, pressure in 300.0..=1100.0_f64, temperature in -90.0..=60.0_f64,
        ) {
            let place = Place::new(latitude, longitude).unwrap().at_altitude(altitude).unwrap();
            let moment = Moment::of_seconds_since_1970(seconds).unwrap();
            let sun = sun_position(moment, place, Air::new(pressure, temperature).unwrap()).unwrap();
            prop_assert!((0.0..360.0).contains(&sun.azimuth_deg()));
            // The air lifts the sun by a degree at most, and never lowers it by more than a trace at the zenith.
            let lift = sun.apparent.degrees() - sun.elevation.degrees();
            prop_assert!((-1e-3..1.2).contains(&lift), "{lift}");
            prop_assert!(sun.elevation.degrees() > -0.834 || lift == 0.0);
            prop_assert!(celestial(moment).unwrap().declination_deg.abs() < 23.6);
        }

        #[test]
        fn the_sun_runs_on_over_midnight(midnight in midnights(), latitude in -90.0..=90.0_f64, longitude in -180.0..180.0_f64) {
            // In two seconds the sky turns by 30 seconds of arc.
            let step = apart(seen(midnight - 1.0, latitude, longitude), seen(midnight + 1.0, latitude, longitude));
            prop_assert!(step < 1.01 * 2.0 * 360.0 / 86_400.0, "{step}");
        }

        #[test]
        fn the_two_ends_of_the_longitudes_are_one_place(seconds in 0.0..4e9_f64, latitude in -89.0..89.0_f64) {
            prop_assert!(apart(seen(seconds, latitude, -180.0), seen(seconds, latitude, 180.0)) < 1e-6);
        }

        #[test]
        fn before_noon_mirrors_after_noon(days in 0..20_000_i32, latitude in -66.0..66.0_f64, longitude in -179.0..179.0_f64, hours in 0.0..11.0_f64) {
            let place = Place::new(latitude, longitude).unwrap();
            let start = Moment::of_seconds_since_1970(f64::from(days) * 86_400.0).unwrap();
            // Near the 180th meridian noon comes about midnight, and as it comes a little later day by day a day can be without one.
            let noon = match crate::sun::sun_times(start, place).unwrap().noon {
                Some(noon) => noon.seconds_since_1970(),
                None => {
                    prop_assert!(longitude.abs() > 175.0, "only there");
                    return Ok(());
                }
            };
            let (before, after) = (seen(noon - hours * 3600.0, latitude, longitude), seen(noon + hours * 3600.0, latitude, longitude));
            // The declination goes on by up to 0.0165° an hour meanwhile.
            prop_assert!((before.elevation.degrees() - after.elevation.degrees()).abs() < 0.0170 * 2.0 * hours + 0.005);
            let mirrored = (before.azimuth_deg() + after.azimuth_deg()) % 360.0;
            let off = mirrored.min(360.0 - mirrored) * libm::cos(before.elevation.radians());
            prop_assert!(off < 0.0170 * 2.0 * hours + 0.02, "{off}");
        }

        #[test]
        fn half_a_turn_of_the_globe_away_the_sun_stands_as_far_below(seconds in 0.0..4e9_f64, latitude in -90.0..=90.0_f64, longitude in -180.0..0.0_f64) {
            // But for the parallax, 0.0025° on either side.
            let (here, there) = (seen(seconds, latitude, longitude), seen(seconds, -latitude, longitude + 180.0));
            prop_assert!((here.elevation.degrees() + there.elevation.degrees()).abs() < 0.006);
        }
    }

    #[test]
    fn a_plane_that_faces_the_sun_has_it_on_its_normal() {
        let sun = seen(1.7e9, 40.0, 10.0);
        assert!((sun.incidence_cosine(90.0 - sun.apparent.degrees(), sun.azimuth_deg()) - 1.0).abs() < 1e-12);
        assert!((sun.incidence_cosine(0.0, 77.0) - libm::sin(sun.apparent.radians())).abs() < 1e-12);
        assert!(sun.incidence_cosine(90.0, sun.azimuth_deg() + 180.0) < 0.0 || sun.elevation.degrees() < 0.0);
    }
}
