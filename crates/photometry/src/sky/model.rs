//! The model of daylight availability: sun, sky, and their light on a plane.
//!
//! *Symbols:* h true elevation of the sun, J day of the year, E illuminance \[lx\]. Not here: how far to trust it
//! ([`super::doubt`]).

use crate::error::Error;
use crate::quantity::{Elevation, Illuminance};

/// Illuminance of the sun outside the air at its mean distance \[lx\] (IES 1984; later handbooks 128 klx, 0.006 stop more).
pub const SOLAR_ILLUMINANCE: f64 = 127_500.0;
/// How much more there is when the earth is nearest to the sun.
const ORBIT: f64 = 0.034;
/// Share of the light that the ground around a plane throws back; grass 0.1, dry concrete 0.3 and more, snow 0.8.
pub(super) const GROUND: f64 = 0.2;

/// What the sky is like.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sky {
    /// Less than a third of it covered, the sun free.
    Clear,
    /// The sun comes and goes.
    Partly,
    /// Covered all over, no shadows.
    Cloudy,
}

/// Numbers of one sky: extinction of the sun's light per air mass, and `A + B·sinᶜh` \[lx\] of sky alone on the horizontal.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Coefficients {
    /// Extinction c, none where the sun is not to be seen.
    pub extinction: Option<f64>,
    /// A, B \[lx\] and the exponent C.
    pub sky: (f64, f64, f64),
}

impl Sky {
    /// Every sky, the brightest first.
    pub const ALL: [Sky; 3] = [Sky::Clear, Sky::Partly, Sky::Cloudy];

    /// The key.
    pub const fn key(self) -> &'static str {
        match self {
            Sky::Clear => "clear",
            Sky::Partly => "partly",
            Sky::Cloudy => "cloudy",
        }
    }

    /// The sky with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|sky| sky.key() == key)
    }

    /// What one sees.
    pub const fn words(self) -> &'static str {
        match self {
            Sky::Clear => "clear: the sun is free, less than a third of the sky is covered",
            Sky::Partly => "partly cloudy: the sun comes and goes",
            Sky::Cloudy => "cloudy: covered all over, no shadows",
        }
    }

    /// The model's numbers (clear and cloudy sky from secondary sources, partly cloudy from memory).
    pub const fn coefficients(self) -> Coefficients {
        match self {
            Sky::Clear => Coefficients { extinction: Some(0.21), sky: (800.0, 15_500.0, 0.5) },
            Sky::Partly => Coefficients { extinction: Some(0.80), sky: (300.0, 45_000.0, 1.0) },
            Sky::Cloudy => Coefficients { extinction: None, sky: (300.0, 21_000.0, 1.0) },
        }
    }
}

/// The plane that the light falls on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Plane {
    /// Lying flat, as a lux meter on a table.
    Horizontal,
    /// Square to the sun.
    FacingSun,
    /// Upright and turned towards the sun, as a subject lit from the front.
    Upright,
}

impl Plane {
    /// Every plane.
    pub const ALL: [Plane; 3] = [Plane::Horizontal, Plane::FacingSun, Plane::Upright];

    /// The key.
    pub const fn key(self) -> &'static str {
        match self {
            Plane::Horizontal => "horizontal",
            Plane::FacingSun => "facing-sun",
            Plane::Upright => "upright",
        }
    }

    /// The plane with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|plane| plane.key() == key)
    }

    /// The words at the bench.
    pub const fn words(self) -> &'static str {
        match self {
            Plane::Horizontal => "a flat surface facing up",
            Plane::FacingSun => "a surface square to the sun",
            Plane::Upright => "an upright surface turned to the sun",
        }
    }
}

/// Daylight in its parts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Components {
    /// Of the sun alone on a plane square to it; none where it is not to be seen.
    pub direct_normal: Option<Illuminance>,
    /// Of the sky alone on the horizontal.
    pub sky: Illuminance,
    /// Of both on the horizontal.
    pub global: Illuminance,
}

/// Illuminance of the sun outside the air, `E = 127 500·(1 + 0.034·cos(2π(J − 2)/365))` \[lx\], J day of the year.
pub fn extraterrestrial(day_of_year: u32) -> Result<Illuminance, Error> {
    if !(1..=366).contains(&day_of_year) {
        return Err(Error::new(format!("the day of the year must be between 1 and 366, and {day_of_year} was given")));
    }
    let turn = 2.0 * core::f64::consts::PI * (f64::from(day_of_year) - 2.0) / 365.0;
    Illuminance::new(SOLAR_ILLUMINANCE * (1.0 + ORBIT * libm::cos(turn)))
}

/// The same as [`Components`], as plain numbers \[lx\], where the sun may give nothing.
#[derive(Clone, Copy)]
pub(super) struct Parts {
    pub direct: f64,
    pub sky: f64,
    /// Sine and cosine of the elevation.
    pub sine: f64,
    pub cosine: f64,
}

impl Parts {
    /// **Errors** below the horizon, where the model ends.
    pub fn of(sky: Sky, elevation: Elevation, extraterrestrial: Illuminance) -> Result<Self, Error> {
        let degrees = elevation.degrees();
        if degrees < 0.0 {
            return Err(Error::new(format!(
                "the sun's elevation must be at least 0 degrees for its light to be reckoned, and it is {degrees:.2}"
            )));
        }
        let (sine, cosine) = (libm::sin(elevation.radians()).max(0.0), libm::cos(elevation.radians()).max(0.0));
        let (a, b, c) = sky.coefficients().sky;
        let bare = Self { direct: 0.0, sky: a + b * libm::pow(sine, c), sine, cosine };
        Ok(match sky.coefficients().extinction {
            Some(extinction) => bare.with_sun(extinction, extraterrestrial),
            None => bare,
        })
    }

    /// The same sky with the sun through air of this extinction: `E_dn = E_xt·exp(−c/sin h)`.
    pub fn with_sun(self, extinction: f64, extraterrestrial: Illuminance) -> Self {
        // On the horizon the way through the air has no end, and nothing arrives.
        Self { direct: extraterrestrial.value() * libm::exp(-extinction / self.sine.max(1e-9)), ..self }
    }

    /// The same sky with the sun behind a cloud.
    pub fn without_sun(self) -> Self {
        Self { direct: 0.0, ..self }
    }

    pub fn global(self) -> f64 {
        self.direct * self.sine + self.sky
    }

    /// Cosine of the plane's tilt, and of the angle at which the sun meets it.
    const fn geometry(self, plane: Plane) -> (f64, f64) {
        match plane {
            Plane::Horizontal => (1.0, self.sine),
            Plane::FacingSun => (self.sine, 1.0),
            Plane::Upright => (0.0, self.cosine),
        }
    }

    /// Of the sky on the plane, were it equally bright all over.
    pub fn sky_on(self, plane: Plane) -> f64 {
        self.sky * (1.0 + self.geometry(plane).0) / 2.0
    }

    /// Of the ground on the plane.
    pub fn ground_on(self, plane: Plane) -> f64 {
        GROUND * self.global() * (1.0 - self.geometry(plane).0) / 2.0
    }

    pub fn on(self, plane: Plane) -> f64 {
        self.direct * self.geometry(plane).1 + self.sky_on(plane) + self.ground_on(plane)
    }
}

/// Daylight in its parts: `E_dn = E_xt·exp(−c/sin h)` of the sun, `E_sky = A + B·sinᶜh` of the sky, `E = E_dn·sin h + E_sky`.
///
/// *Symbols:* E_xt illuminance outside the air \[lx\], h true elevation. **Errors** below the horizon.
pub fn components(sky: Sky, elevation: Elevation, extraterrestrial: Illuminance) -> Result<Components, Error> {
    let parts = Parts::of(sky, elevation, extraterrestrial)?;
    Ok(Components {
        direct_normal: Illuminance::new(parts.direct).ok(),
        sky: Illuminance::new(parts.sky)?,
        global: Illuminance::new(parts.global())?,
    })
}

/// Illuminance on a plane tilted by β: `E_dn·cos i + E_sky·(1 + cos β)/2 + 0.2·E·(1 − cos β)/2`, i angle between the sun and the
/// plane's normal; the sky taken as equally bright all over, the ground as throwing back a fifth. **Errors** below the horizon.
pub fn on_plane(
    sky: Sky,
    plane: Plane,
    elevation: Elevation,
    extraterrestrial: Illuminance,
) -> Result<Illuminance, Error> {
    Illuminance::new(Parts::of(sky, elevation, extraterrestrial)?.on(plane))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sky::second_model;
    use proptest::prelude::*;

    fn mean() -> Illuminance {
        Illuminance::new(SOLAR_ILLUMINANCE).expect("lux")
    }

    fn at(degrees: f64) -> Elevation {
        Elevation::new(degrees).expect("an elevation")
    }

    #[test]
    fn keys_lead_back() {
        for sky in Sky::ALL {
            assert_eq!(Sky::from_key(sky.key()), Some(sky));
        }
        for plane in Plane::ALL {
            assert_eq!(Plane::from_key(plane.key()), Some(plane));
        }
        assert_eq!((Sky::from_key("foggy"), Plane::from_key("")), (None, None));
    }

    #[test]
    fn below_the_horizon_there_is_no_answer_and_on_it_there_is_one() {
        for sky in Sky::ALL {
            let refused = components(sky, at(-0.01), mean()).expect_err("refused").to_string();
            assert!(refused.contains("-0.01"), "{refused}");
            let dusk = components(sky, at(0.0), mean()).expect("light");
            assert!(dusk.direct_normal.is_none() && dusk.sky == dusk.global);
        }
        assert!(extraterrestrial(0).is_err() && extraterrestrial(367).is_err());
    }

    #[test]
    fn in_the_zenith_flat_and_facing_are_one() {
        for sky in Sky::ALL {
            let on = |plane| on_plane(sky, plane, at(90.0), mean()).expect("light").value();
            assert!((on(Plane::Horizontal) - on(Plane::FacingSun)).abs() < 1e-6);
        }
    }

    proptest! {
        #[test]
        fn the_higher_the_sun_the_more_light(low in 0.0..90.0_f64, more in 0.0..90.0_f64, day in 1..=366_u32) {
            let (low, high) = (at(low), at((low + more).min(90.0)));
            let outside = extraterrestrial(day).unwrap();
            for sky in Sky::ALL {
                for plane in [Plane::Horizontal, Plane::FacingSun] {
                    let on = |h| on_plane(sky, plane, h, outside).unwrap().value();
                    // The ground adds less to a plane that turns away from it: allow that trace.
                    prop_assert!(on(high) >= on(low) * (1.0 - 1e-9), "{sky:?} {plane:?}");
                }
                let (a, b) = (components(sky, low, outside).unwrap(), components(sky, high, outside).unwrap());
                prop_assert!(b.sky.value() >= a.sky.value() && b.global.value() >= a.global.value());
            }
        }

        #[test]
        fn the_clearer_the_sky_the_more_light_from_thirty_degrees_up(h in 30.0..=90.0_f64) {
            for plane in Plane::ALL {
                let [clear, partly, cloudy] = Sky::ALL.map(|sky| on_plane(sky, plane, at(h), mean()).unwrap().value());
                prop_assert!(cloudy < partly && cloudy < clear);
                // High in the sky the sun glances off an upright plane, and bright clouds give it more.
                let most = if plane == Plane::Upright { 1.7 } else { 1.0 };
                prop_assert!(partly < clear * most);
            }
        }

        #[test]
        fn two_published_models_agree_from_thirty_degrees_up(h in 30.0..=90.0_f64) {
            let first = components(Sky::Clear, at(h), mean()).unwrap().global.value();
            let second = second_model(at(h)).unwrap().value();
            prop_assert!((second / first - 1.0).abs() < 0.05, "{first} {second}");
        }
    }
}
