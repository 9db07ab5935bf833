//! When the sun rises, stands highest and sets within a day.
//!
//! Rising and setting are those of almanacs: the sun's middle 50′ below the true horizon at the height of the sea, of which
//! 34′ are refraction and 16′ its half width, as seen from the middle of the earth, from where the appendix of the algorithm
//! reckons too. Not here: its position at a moment ([`super::position`]).

use solar_positioning::{Horizon, SolarEvents};

use super::position::{location, refused};
use super::{Moment, Place};
use crate::error::Error;

/// Elevation of the sun's middle as it rises and sets \[°\]: 50′ and its parallax, which lowers it for somebody on the ground.
const RISING: f64 = -50.0 / 60.0 - 8.794 / 3600.0;

/// What happens within the day after a moment; absent is what does not happen, as in polar night.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SunTimes {
    /// First rise.
    pub rise: Option<Moment>,
    /// First passage through the meridian; near enough when it stands highest. About the 180th meridian it can fall between two
    /// days of universal time.
    pub noon: Option<Moment>,
    /// First setting.
    pub set: Option<Moment>,
}

/// Rise, noon and setting within 24 hours after a moment. **Errors** where the day reaches beyond the year 2999.
pub fn sun_times(start: Moment, place: Place) -> Result<SunTimes, Error> {
    let end = start.later_by(86_400.0)?;
    let (from, to, delta_t) = (start.julian_day(), end.julian_day(), start.delta_t_s());
    let (events, here, horizon) = (SolarEvents::new(), location(place), Horizon::Custom(RISING));
    let found = |event: Result<Option<f64>, _>| event.map_err(refused)?.map(Moment::of_julian_day).transpose();
    Ok(SunTimes {
        rise: found(events.next_rise_from_julian(from, to, here, delta_t, horizon))?,
        noon: found(events.next_transit_from_julian(from, to, here.longitude, delta_t))?,
        set: found(events.next_set_from_julian(from, to, here, delta_t, horizon))?,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sun::{Air, sun_position};

    fn times(latitude: f64, longitude: f64, month: u32, day: u32) -> (SunTimes, Place) {
        let place = Place::new(latitude, longitude).expect("a place");
        (sun_times(Moment::new(2024, month, day, 0, 0, 0.0).expect("a day"), place).expect("times"), place)
    }

    #[test]
    fn in_polar_night_it_does_not_rise_and_in_summer_it_does_not_set() {
        let (winter, _) = times(69.65, 18.96, 12, 21);
        let (summer, place) = times(69.65, 18.96, 6, 21);
        assert!(winter.rise.is_none() && winter.set.is_none() && summer.rise.is_none() && summer.set.is_none());
        let noon = sun_position(summer.noon.expect("a noon"), place, Air::usual(place)).expect("a position");
        assert!(noon.elevation.degrees() > 40.0 && (noon.azimuth_deg() - 180.0).abs() < 0.01);
    }

    #[test]
    fn south_of_the_line_it_stands_in_the_north_at_noon() {
        let (times, place) = times(-33.87, 151.21, 6, 21);
        let noon = sun_position(times.noon.expect("a noon"), place, Air::usual(place)).expect("a position");
        assert!(noon.azimuth_deg().min(360.0 - noon.azimuth_deg()) < 0.05 && noon.elevation.degrees() < 33.0);
        let rise = sun_position(times.rise.expect("a rise"), place, Air::usual(place)).expect("a position");
        assert!((rise.elevation.degrees() + 50.0 / 60.0).abs() < 0.01);
    }
}
