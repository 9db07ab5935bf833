//! What stray light does to film that lies still in a camera: the dose, how long it takes to show, and the other way round.
//!
//! Not here: where the light comes in (`inspection`), how it is found in a picture (`imaging`).

use super::{FilmKind, stops_between};
use crate::constants::C_DEFAULT;
use crate::error::Error;
use crate::exposure::illuminance;
use crate::quantity::{Ev, ExposureTime, FilmSpeed, Illuminance, Stops};

/// Standard uncertainty of where fog begins to show \[stops\]: the speed point stands for density 0.10 under the developing of
/// the standard; film, developing and eye move it by a stop either way at most (rectangular, own estimate: no standard says).
pub const FOG_THRESHOLD_STOPS: f64 = 0.577_350_269_189_625_8;

/// Standard uncertainty taken for a leak's light where none is stated \[stops\] (own estimate).
pub const LEAK_DOUBT_STOPS: f64 = 1.0;

/// Exposure at which fog begins to show \[lx·s\]: `H = 0.8/S`, the speed point of ISO 6:1993, density 0.10 above base and fog
/// (formula from memory).
pub fn fog_exposure(speed: FilmSpeed) -> f64 {
    FilmKind::BlackAndWhiteNegative.speed_exposure(speed)
}

/// Dose `H = E·t` \[lx·s\], E illuminance on the film \[lx\], t time \[s\]. Film forgets part of very weak light (reciprocity
/// failure), which is left out: the dose is on the safe side for long times.
pub fn dose(on_film: Illuminance, time: ExposureTime) -> f64 {
    on_film.value() * time.value()
}

/// How far a dose lies above the exposure at which fog begins to show, `log2(H·S/0.8)` \[stops\]; below it where negative.
///
/// **Errors** where the dose is not above 0.
pub fn dose_above_fog(dose: f64, speed: FilmSpeed) -> Result<Stops, Error> {
    stops_between(dose, fog_exposure(speed))
}

/// Attenuation that keeps film of this speed from showing `outside` \[lx\] after `time`: `E_film/E_outside = 0.8/(S·t·E)`, at
/// most 1.
pub fn attenuation_needed(outside: Illuminance, time: ExposureTime, speed: FilmSpeed) -> f64 {
    (fog_exposure(speed) / dose(outside, time)).min(1.0)
}

/// Optical density of an attenuation, `−log10(a)`. **Errors** where it is not above 0 and at most 1.
pub fn density_of(attenuation: f64) -> Result<f64, Error> {
    if attenuation > 0.0 && attenuation <= 1.0 {
        Ok(-libm::log10(attenuation))
    } else {
        Err(Error::new(format!("the attenuation must be above 0 and at most 1, and {attenuation} was given")))
    }
}

/// How long film may lie in a light before fog shows, with the ends of its 95 % interval \[s\].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lasting {
    /// Best estimate \[s\].
    pub time: f64,
    /// Lower end \[s\]: the time to keep to.
    pub low: f64,
    /// Upper end \[s\].
    pub high: f64,
}

/// Coverage factor for 95 % of a normal distribution.
const COVERAGE: f64 = 1.96;

/// How long it takes until fog shows: `t = 0.8/(S·E)`, with `u² = u_E² + u_fog²` in stops and the interval `t·2^(±1.96 u)`.
///
/// `on_film` illuminance on the film \[lx\]; `doubt_stops` its standard uncertainty \[stops\]. **Errors** where that is not
/// between 0 and 10.
pub fn lasting(on_film: Illuminance, speed: FilmSpeed, doubt_stops: f64) -> Result<Lasting, Error> {
    if !(0.0..=10.0).contains(&doubt_stops) {
        return Err(Error::new(format!(
            "the doubt of the illuminance must be between 0 and 10 stops, and {doubt_stops} was given"
        )));
    }
    let factor = libm::exp2(COVERAGE * libm::hypot(doubt_stops, FOG_THRESHOLD_STOPS));
    let time = fog_exposure(speed) / on_film.value();
    Ok(Lasting { time, low: time / factor, high: time * factor })
}

/// The illuminance on the film that shows after a time: `E = 0.8/(S·t)` \[lx\]. **Errors** beyond the range of an illuminance.
pub fn fogging_illuminance(time: ExposureTime, speed: FilmSpeed) -> Result<Illuminance, Error> {
    Illuminance::new(fog_exposure(speed) / time.value())
}

/// A light in which a loaded camera lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surrounding {
    /// Key.
    pub key: &'static str,
    /// Words.
    pub words: &'static str,
    /// Exposure value at ISO 100, as tabulated.
    pub ev100: f64,
}

/// Lights in which a loaded camera lies, brightest first: exposure values of ANSI PH2.7 as tabulated in a secondary source.
pub const SURROUNDINGS: [Surrounding; 5] = [
    Surrounding { key: "sun", words: "in the sun", ev100: 15.0 },
    Surrounding { key: "overcast", words: "outside, heavy overcast or open shade", ev100: 12.0 },
    Surrounding { key: "office", words: "in an office or shop", ev100: 7.5 },
    Surrounding { key: "home", words: "in a room at home", ev100: 6.0 },
    Surrounding { key: "dusk", words: "in a dim room", ev100: 3.0 },
];

/// Standard uncertainty of such a light \[stops\]: the tables leave a stop either way (rectangular).
pub const SURROUNDING_DOUBT_STOPS: f64 = 0.577_350_269_189_625_8;

impl Surrounding {
    /// The light with this key.
    pub fn from_key(key: &str) -> Option<&'static Self> {
        SURROUNDINGS.iter().find(|light| light.key == key)
    }

    /// Its illuminance \[lx\] by C = 250 lx·s·ISO. **Errors** never for the lights of [`SURROUNDINGS`].
    pub fn illuminance(&self) -> Result<Illuminance, Error> {
        illuminance(Ev::new(self.ev100)?, C_DEFAULT)
    }
}

/// The light on the film when the same leak is held in another light: `E₂ = E₁·(A₂/A₁)`, A illuminance outside \[lx\].
/// **Errors** beyond the range of an illuminance.
pub fn leak_in(on_film: Illuminance, outside_then: Illuminance, outside: Illuminance) -> Result<Illuminance, Error> {
    Illuminance::new(on_film.value() * (outside.value() / outside_then.value()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn lux(value: f64) -> Illuminance {
        Illuminance::new(value).expect("lux")
    }

    fn iso(value: f64) -> FilmSpeed {
        FilmSpeed::new(value).expect("a film speed")
    }

    #[test]
    fn ten_times_the_light_shows_in_a_tenth_of_the_time() {
        let (weak, strong) = (lasting(lux(1e-6), iso(400.0), 0.0), lasting(lux(1e-5), iso(400.0), 0.0));
        let (weak, strong) = (weak.expect("a time"), strong.expect("a time"));
        assert!((weak.time / strong.time - 10.0).abs() < 1e-9);
        assert!((weak.time - 2000.0).abs() < 1e-6);
        assert!(weak.low < weak.time && weak.time < weak.high);
        assert!(lasting(lux(1.0), iso(100.0), f64::NAN).is_err() && lasting(lux(1.0), iso(100.0), -1.0).is_err());
    }

    #[test]
    fn a_brighter_place_is_listed_first() {
        for pair in SURROUNDINGS.windows(2) {
            assert!(pair[0].illuminance().expect("lux") > pair[1].illuminance().expect("lux"));
        }
        assert!(Surrounding::from_key("sun").is_some() && Surrounding::from_key("moon").is_none());
    }

    #[test]
    fn an_attenuation_is_never_a_gain() {
        let second = ExposureTime::new(1.0).expect("a time");
        assert_eq!(attenuation_needed(lux(1e-6), second, iso(100.0)), 1.0);
        assert!(density_of(0.0).is_err() && density_of(1.5).is_err());
    }

    proptest! {
        #[test]
        fn both_ways_agree(light in 1e-9_f64..1e-1, speed in 6.0_f64..6400.0) {
            let lasts = lasting(lux(light), iso(speed), 0.5).expect("a time");
            if let Ok(time) = ExposureTime::new(lasts.time) {
                let back = fogging_illuminance(time, iso(speed)).expect("lux").value();
                prop_assert!((back / light - 1.0).abs() < 1e-12);
                let above = dose_above_fog(dose(lux(light), time), iso(speed)).expect("stops").value();
                prop_assert!(above.abs() < 1e-9);
            }
        }
    }
}
