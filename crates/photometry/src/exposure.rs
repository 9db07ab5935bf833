//! The exposure equation in every direction, by exact values.
//!
//! *Symbols:* N f-number, t exposure time \[s\], S film speed \[ISO\], EV at ISO 100, L luminance \[cd/m²\], E illuminance \[lx\],
//! K and C constants. *Sources:* APEX, ASA PH2.5-1960; ISO 2720:1974 (clauses not read). Not here: marks ([`crate::scale`]).

use crate::error::Error;
use crate::quantity::{Ev, ExposureTime, FNumber, FilmSpeed, Illuminance, Luminance, Stops};

/// `EV100 = log2(N²/t) − log2(S/100)`, the light for which N, t and S give the standard exposure.
///
/// ```
/// use photometry::{ExposureTime, FNumber, FilmSpeed, exposure_value};
/// let ev = exposure_value(FNumber::new(16.0)?, ExposureTime::new(1.0 / 128.0)?, FilmSpeed::new(100.0)?);
/// assert!((ev.value() - 15.0).abs() < 1e-12);
/// # Ok::<(), photometry::Error>(())
/// ```
///
/// What the widest quantities would take beyond EV −30 or EV 40, where no light is, is held at those ends.
pub fn exposure_value(n: FNumber, t: ExposureTime, s: FilmSpeed) -> Ev {
    Ev::held(exposure_value_at_speed(n, t) - libm::log2(s.value() / 100.0))
}

/// `EV = log2(N²/t)`, whatever the film.
pub fn exposure_value_at_speed(n: FNumber, t: ExposureTime) -> f64 {
    2.0 * libm::log2(n.value()) - libm::log2(t.value())
}

/// Time that N and S need in that light: `t = N²/2^EV·100/S` \[s\].
pub fn time_for(ev100: Ev, n: FNumber, s: FilmSpeed) -> Result<ExposureTime, Error> {
    ExposureTime::new(n.value() * n.value() * libm::exp2(-ev100.value()) * 100.0 / s.value())
}

/// F-number that t and S need in that light: `N = √(t·2^EV·S/100)`.
pub fn f_number_for(ev100: Ev, t: ExposureTime, s: FilmSpeed) -> Result<FNumber, Error> {
    FNumber::new((t.value() * libm::exp2(ev100.value()) * s.value() / 100.0).sqrt())
}

/// Film speed that N and t suit in that light: `S = 100·N²/(t·2^EV)` \[ISO\].
pub fn film_speed_for(ev100: Ev, n: FNumber, t: ExposureTime) -> Result<FilmSpeed, Error> {
    FilmSpeed::new(100.0 * n.value() * n.value() / (t.value() * libm::exp2(ev100.value())))
}

fn constant(value: f64, name: &str) -> Result<f64, Error> {
    if value > 0.0 && value <= 1e6 {
        Ok(value)
    } else {
        Err(Error::new(format!("the constant {name} must be above 0, and {value} was given")))
    }
}

/// `L = K·2^EV/100` \[cd/m²\].
pub fn luminance(ev100: Ev, k: f64) -> Result<Luminance, Error> {
    Luminance::new(constant(k, "K")? * libm::exp2(ev100.value()) / 100.0)
}

/// `E = C·2^EV/100` \[lx\].
pub fn illuminance(ev100: Ev, c: f64) -> Result<Illuminance, Error> {
    Illuminance::new(constant(c, "C")? * libm::exp2(ev100.value()) / 100.0)
}

/// `EV100 = log2(100·L/K)`.
pub fn ev_from_luminance(luminance: Luminance, k: f64) -> Result<Ev, Error> {
    Ev::new(libm::log2(100.0 * luminance.value() / constant(k, "K")?))
}

/// `EV100 = log2(100·E/C)`.
pub fn ev_from_illuminance(illuminance: Illuminance, c: f64) -> Result<Ev, Error> {
    Ev::new(libm::log2(100.0 * illuminance.value() / constant(c, "C")?))
}

fn reflectance(value: f64) -> Result<f64, Error> {
    if value > 0.0 && value <= 1.0 {
        Ok(value)
    } else {
        Err(Error::new(format!("the reflectance must be above 0 and at most 1, and {value} was given")))
    }
}

/// Luminance of a matt surface, `L = ρ·E/π` \[cd/m²\].
pub fn luminance_of_matt_surface(illuminance: Illuminance, rho: f64) -> Result<Luminance, Error> {
    Luminance::new(reflectance(rho)? * illuminance.value() / core::f64::consts::PI)
}

/// Reflectance of plain white paper and the half-width of what it may be (from memory; common practice): matt enough to be taken as
/// such, and at hand on any bench.
pub const WHITE_PAPER: (f64, f64) = (0.85, 0.07);

/// Illuminance on a matt surface of reflectance ρ from its luminance, `E = π·L/ρ` \[lx\]: the other way round.
pub fn illuminance_of_matt_surface(luminance: Luminance, rho: f64) -> Result<Illuminance, Error> {
    Illuminance::new(core::f64::consts::PI * luminance.value() / reflectance(rho)?)
}

/// How far the incident reading lies above the reflected reading of a card of reflectance ρ in the same light:
/// `log2(π·K/(ρ·C))` \[stops\]; −0.20 for K = 12.5, C = 250, ρ = 0.18.
pub fn incident_to_card_difference(k: f64, c: f64, rho: f64) -> Result<Stops, Error> {
    Stops::new(libm::log2(core::f64::consts::PI * constant(k, "K")? / (reflectance(rho)? * constant(c, "C")?)))
}

/// Reflectance at which reflected and incident readings agree, `ρ = π·K/C`.
pub fn implied_reflectance(k: f64, c: f64) -> Result<f64, Error> {
    Ok(core::f64::consts::PI * constant(k, "K")? / constant(c, "C")?)
}

/// Film-plane exposure of the metered tone, `H = q·K/S` \[lx·s\].
pub fn metered_exposure(q: f64, k: f64, s: FilmSpeed) -> Result<f64, Error> {
    Ok(constant(q, "q")? * constant(k, "K")? / s.value())
}

/// APEX aperture value `Av = log2(N²)`.
pub fn aperture_value(n: FNumber) -> f64 {
    2.0 * libm::log2(n.value())
}

/// APEX time value `Tv = −log2(t)`.
pub fn time_value(t: ExposureTime) -> f64 {
    -libm::log2(t.value())
}

/// APEX speed value in the form of Exif 2.32 Annex C, `Sv = log2(S/3.125)` (clause from memory).
pub fn speed_value(s: FilmSpeed) -> f64 {
    libm::log2(s.value() / 3.125)
}

/// APEX brightness value `Bv = log2(L/(K/3.125))` in the form that keeps `Ev = Av + Tv = Bv + Sv` for this K (Exif 2.32 Annex C,
/// from memory); luminance in foot-lamberts is the case `K = 3.125·1 fL`, 0.22 EV from K = 12.5.
pub fn brightness_value(luminance: Luminance, k: f64) -> Result<f64, Error> {
    Ok(libm::log2(3.125 * luminance.value() / constant(k, "K")?))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_constant_that_is_none_is_refused() {
        let ev = Ev::new(10.0).expect("ev");
        for bad in [0.0, -1.0, f64::NAN, f64::INFINITY] {
            assert!(luminance(ev, bad).is_err() && illuminance(ev, bad).is_err());
            assert!(incident_to_card_difference(12.5, 250.0, bad).is_err());
        }
    }

    #[test]
    fn the_incident_reading_lies_a_fifth_of_a_stop_below_the_card() {
        let difference = incident_to_card_difference(12.5, 250.0, 0.18).expect("a difference").value();
        let light = Illuminance::new(1000.0).expect("lux");
        let incident = ev_from_illuminance(light, 250.0).expect("ev");
        let card = ev_from_luminance(luminance_of_matt_surface(light, 0.18).expect("cd/m²"), 12.5).expect("ev");
        assert!((incident.above(card).value() - difference).abs() < 1e-12);
        assert!((difference + 0.196_55).abs() < 1e-4, "{difference}");
    }

    proptest! {
        #[test]
        fn every_direction_leads_back(ev in -10.0..25.0_f64, n in 0.7..64.0_f64, s in 3.0..12800.0_f64, k in 10.6..13.4_f64) {
            let (ev, n, s) = (Ev::new(ev).unwrap(), FNumber::new(n).unwrap(), FilmSpeed::new(s).unwrap());
            let t = time_for(ev, n, s).unwrap();
            let close = |a: f64, b: f64| (a - b).abs() < 1e-9 * b.abs().max(1.0);
            prop_assert!(close(exposure_value(n, t, s).value(), ev.value()));
            let brightness = brightness_value(luminance(ev, k).unwrap(), k).unwrap();
            prop_assert!((aperture_value(n) + time_value(t) - brightness - speed_value(s)).abs() < 1e-9);
            prop_assert!(close(f_number_for(ev, t, s).unwrap().value(), n.value()));
            prop_assert!(close(film_speed_for(ev, n, t).unwrap().value(), s.value()));
            prop_assert!(close(ev_from_luminance(luminance(ev, k).unwrap(), k).unwrap().value(), ev.value()));
            prop_assert!(close(ev_from_illuminance(illuminance(ev, 250.0).unwrap(), 250.0).unwrap().value(), ev.value()));
        }
    }
}
