//! A second published model of the clear sky, independent of the first, to hold it against.
//!
//! *Source:* P. Janiczek and J. DeYoung, Computer Programs for Sun and Moon Illuminance, USNO Circular 171, 1987, as
//! transcribed in an open package and checked against two of its printed values. Not here: what is shown ([`super::sunny`]).

use crate::error::Error;
use crate::quantity::{Elevation, Illuminance};

/// Illuminance of the sun outside the air in that model \[lx\].
pub const SECOND_SOLAR_ILLUMINANCE: f64 = 133_775.0;
/// Radius of the earth over the height of the air.
const EARTH_OVER_AIR: f64 = 753.661_56;

/// Lowest apparent elevation \[°\]; one of the printed values lies at −0.1°.
const LOWEST: f64 = -0.5;

/// Sun and clear sky on the horizontal \[lx\], `E = 133 775·(e^(−0.21·m)·sin h + 0.0289·e^(−0.042·m)·(1 + (h + 90)·sin h/57.29577951))`,
/// h apparent elevation \[°\], m mass of the air in a shell of even density. **Errors** more
/// than half a degree below the horizon, where it was not checked.
pub fn second_model(apparent: Elevation) -> Result<Illuminance, Error> {
    let degrees = apparent.degrees();
    if degrees < LOWEST {
        return Err(Error::new(format!(
            "the sun's elevation must be at least {LOWEST} degrees for its light to be reckoned, and it is {degrees:.2}"
        )));
    }
    let sine = libm::sin(apparent.radians());
    let shell = EARTH_OVER_AIR * libm::cos(apparent.radians()) / (EARTH_OVER_AIR + 1.0);
    let into = libm::cos(libm::asin(shell));
    let mass = EARTH_OVER_AIR * (into - sine) + into;
    let sun = libm::exp(-0.21 * mass) * sine;
    let sky = 0.0289 * libm::exp(-0.042 * mass) * (1.0 + (degrees + 90.0) * sine / 57.295_779_51);
    Illuminance::new(SECOND_SOLAR_ILLUMINANCE * (sun + sky))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_ends_below_the_horizon_and_rises_all_the_way() {
        assert!(second_model(Elevation::new(-0.6).expect("an elevation")).is_err());
        let light: Vec<f64> = (0..=90)
            .map(|h| second_model(Elevation::new(f64::from(h)).expect("an elevation")).expect("light").value())
            .collect();
        assert!(light.windows(2).all(|pair| pair[0] < pair[1]) && light[0] > 600.0);
    }

    /// The two printed values, by a sun that stands up to 0.02° from that of the circular.
    #[test]
    fn it_gives_the_printed_values() {
        use crate::sun::{Air, Moment, Place, sun_position};
        for (latitude, longitude, day, minute, printed, within) in
            [(-23.4, -135.8, (1986, 12, 18, 21), 0, 123_786.0, 2.0), (21.3, 39.5, (1988, 8, 13, 15), 53, 697.0, 10.0)]
        {
            let place = Place::new(latitude, longitude).expect("a place");
            let moment = Moment::new(day.0, day.1, day.2, day.3, minute, 0.0).expect("a moment");
            let sun = sun_position(moment, place, Air::usual(place)).expect("a position");
            let light = second_model(sun.apparent).expect("light").value();
            assert!((light - printed).abs() < within, "{light}");
        }
    }
}
