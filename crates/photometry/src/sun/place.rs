//! Where one stands and the air above: latitude, longitude, height, pressure, temperature; and a short list of cities.
//!
//! Not here: finding out where a phone is (the page).

use crate::error::Error;

/// A place on the earth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    latitude_deg: f64,
    longitude_deg: f64,
    altitude_m: f64,
}

fn within(value: f64, least: f64, most: f64, what: &str, unit: &str) -> Result<f64, Error> {
    if (least..=most).contains(&value) {
        Ok(value)
    } else {
        Err(Error::new(format!("the {what} must be between {least} and {most} {unit}, and {value} was given")))
    }
}

impl Place {
    /// At sea level: latitude \[°\], north positive, and longitude \[°\], east positive.
    pub fn new(latitude_deg: f64, longitude_deg: f64) -> Result<Self, Error> {
        Ok(Self {
            latitude_deg: within(latitude_deg, -90.0, 90.0, "latitude", "degrees")?,
            longitude_deg: within(longitude_deg, -180.0, 180.0, "longitude", "degrees")?,
            altitude_m: 0.0,
        })
    }

    /// The same at a height above the sea \[m\].
    pub fn at_altitude(self, altitude_m: f64) -> Result<Self, Error> {
        Ok(Self { altitude_m: within(altitude_m, -500.0, 9_000.0, "altitude", "m")?, ..self })
    }

    /// The place to a tenth of a degree: enough for the light, and not where somebody lives.
    pub fn rounded(self) -> Self {
        let tenth = |degrees: f64| libm::round(degrees * 10.0) / 10.0;
        Self { latitude_deg: tenth(self.latitude_deg), longitude_deg: tenth(self.longitude_deg), ..self }
    }

    /// Latitude \[°\], north positive.
    pub const fn latitude_deg(self) -> f64 {
        self.latitude_deg
    }

    /// Longitude \[°\], east positive.
    pub const fn longitude_deg(self) -> f64 {
        self.longitude_deg
    }

    /// Height above the sea \[m\].
    pub const fn altitude_m(self) -> f64 {
        self.altitude_m
    }
}

/// The air that bends the sun's light.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    pressure_hpa: f64,
    temperature_c: f64,
}

impl Air {
    /// Temperature where none is known \[°C\].
    pub const USUAL_TEMPERATURE_C: f64 = 15.0;

    /// From pressure at the place itself (not reduced to the sea) \[hPa\] and temperature \[°C\].
    pub fn new(pressure_hpa: f64, temperature_c: f64) -> Result<Self, Error> {
        Ok(Self {
            pressure_hpa: within(pressure_hpa, 300.0, 1_100.0, "pressure", "hPa")?,
            temperature_c: within(temperature_c, -90.0, 60.0, "temperature", "°C")?,
        })
    }

    /// Pressure that is usual at a height \[hPa\]: `p = 1013.25·(1 − 2.25577·10⁻⁵·h)^5.25588`, h height \[m\], of the standard
    /// atmosphere (ISO 2533:1975, from memory).
    pub fn usual_pressure_hpa(place: Place) -> f64 {
        1013.25 * libm::pow(1.0 - 2.255_77e-5 * place.altitude_m, 5.255_88)
    }

    /// What is usual at a place, at 15 °C.
    pub fn usual(place: Place) -> Self {
        Self { pressure_hpa: Self::usual_pressure_hpa(place), temperature_c: Self::USUAL_TEMPERATURE_C }
    }

    /// Pressure \[hPa\].
    pub const fn pressure_hpa(self) -> f64 {
        self.pressure_hpa
    }

    /// Temperature \[°C\].
    pub const fn temperature_c(self) -> f64 {
        self.temperature_c
    }
}

/// A city to choose in place of a position.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct City {
    /// Its name.
    pub name: &'static str,
    /// Latitude to a tenth of a degree, north positive.
    pub latitude_deg: f64,
    /// Longitude to a tenth of a degree, east positive.
    pub longitude_deg: f64,
}

const fn city(name: &'static str, latitude_deg: f64, longitude_deg: f64) -> City {
    City { name, latitude_deg, longitude_deg }
}

/// Large cities, in the order of the alphabet, so spread that most people live near the latitude of one.
pub const CITIES: [City; 40] = [
    city("Athens", 38.0, 23.7),
    city("Auckland", -36.8, 174.8),
    city("Bangkok", 13.8, 100.5),
    city("Beijing", 39.9, 116.4),
    city("Berlin", 52.5, 13.4),
    city("Bogotá", 4.7, -74.1),
    city("Buenos Aires", -34.6, -58.4),
    city("Cairo", 30.0, 31.2),
    city("Cape Town", -33.9, 18.4),
    city("Chicago", 41.9, -87.6),
    city("Delhi", 28.6, 77.2),
    city("Dubai", 25.2, 55.3),
    city("Helsinki", 60.2, 24.9),
    city("Hong Kong", 22.3, 114.2),
    city("Istanbul", 41.0, 29.0),
    city("Jakarta", -6.2, 106.8),
    city("Lagos", 6.5, 3.4),
    city("Lima", -12.0, -77.0),
    city("London", 51.5, -0.1),
    city("Los Angeles", 34.1, -118.2),
    city("Madrid", 40.4, -3.7),
    city("Melbourne", -37.8, 145.0),
    city("Mexico City", 19.4, -99.1),
    city("Moscow", 55.8, 37.6),
    city("Mumbai", 19.1, 72.9),
    city("Nairobi", -1.3, 36.8),
    city("New York", 40.7, -74.0),
    city("Oslo", 59.9, 10.8),
    city("Paris", 48.9, 2.3),
    city("Reykjavik", 64.1, -21.9),
    city("Rome", 41.9, 12.5),
    city("Santiago", -33.4, -70.7),
    city("São Paulo", -23.6, -46.6),
    city("Seoul", 37.6, 127.0),
    city("Singapore", 1.4, 103.8),
    city("Sydney", -33.9, 151.2),
    city("Tokyo", 35.7, 139.7),
    city("Toronto", 43.7, -79.4),
    city("Tromsø", 69.6, 19.0),
    city("Vienna", 48.2, 16.4),
];

impl City {
    /// Where it lies. **Errors** never, since every row of the list is a place.
    pub fn place(&self) -> Result<Place, Error> {
        Place::new(self.latitude_deg, self.longitude_deg)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_place_is_refused_with_its_limit() {
        let refused = Place::new(95.0, 0.0).expect_err("refused").to_string();
        assert_eq!(refused, "the latitude must be between -90 and 90 degrees, and 95 was given");
        for bad in [f64::NAN, f64::INFINITY, -181.0] {
            assert!(Place::new(0.0, bad).is_err(), "{bad}");
        }
        let place = Place::new(0.0, 0.0).expect("a place");
        assert!(place.at_altitude(1e5).is_err() && place.at_altitude(f64::NAN).is_err());
        assert!(Air::new(0.0, 15.0).is_err() && Air::new(1000.0, -300.0).is_err() && Air::new(f64::NAN, 0.0).is_err());
    }

    #[test]
    fn the_usual_air_thins_with_height() {
        let at =
            |m| Air::usual(Place::new(0.0, 0.0).expect("a place").at_altitude(m).expect("a height")).pressure_hpa();
        assert_eq!(at(0.0), 1013.25);
        // Tables of the standard atmosphere: 898.7 hPa at 1000 m, 540.2 hPa at 5000 m.
        assert!((at(1000.0) - 898.7).abs() < 0.1 && (at(5000.0) - 540.2).abs() < 0.1);
        assert!(Air::new(at(9000.0), 15.0).is_ok() && Air::new(at(-500.0), 15.0).is_ok());
    }

    #[test]
    fn every_city_is_a_rounded_place_in_the_order_of_the_alphabet() {
        for city in &CITIES {
            let place = city.place().expect("a place");
            assert_eq!(place, place.rounded(), "{}", city.name);
        }
        let plain = |name: &str| name.replace('ã', "a").replace('ø', "o").replace('á', "a");
        assert!(CITIES.windows(2).all(|pair| plain(pair[0].name) < plain(pair[1].name)));
        let near = Place::new(52.516_3, 13.377_7).expect("a place").rounded();
        assert_eq!((near.latitude_deg(), near.longitude_deg()), (52.5, 13.4));
    }
}
