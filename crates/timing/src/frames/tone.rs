//! The tone exponent of a phone's picture, found by stepping the lens aperture by full stops with the shutter held open.
//!
//! Not here: applying it to pixels (`pixels`) or means (`mod`). It is never fitted to the shots themselves: dead time between
//! frames would pass for a bent curve.

use metrology::{Estimate, generalised_least_squares};

use crate::error::Error;

/// Smallest and largest exponent that is taken: beyond them the steps were no full stops.
pub const EXPONENTS: (f64, f64) = (0.5, 2.0);
/// Fewest levels that a fit is made from.
pub const FEWEST_LEVELS: usize = 3;
/// A step of a marked aperture is uncertain by about this \[stops\]; so are tone curves that are not quite powers.
const STEP_DOUBT_STOPS: f64 = 0.067;
/// Linear light above which a picture is close to white and bends.
const HIGHEST_LEVEL: f64 = 0.98;

/// An exponent, if it is in the range of [`EXPONENTS`].
pub(super) fn checked_exponent(exponent: f64) -> Result<f64, Error> {
    if (EXPONENTS.0..=EXPONENTS.1).contains(&exponent) {
        Ok(exponent)
    } else {
        Err(Error::new(format!(
            "the tone exponent must be between {} and {}, and {exponent} was given",
            EXPONENTS.0, EXPONENTS.1
        )))
    }
}

/// The exponent e that makes light of what the assumed curve gave, `light ∝ level^e`, with its doubt.
///
/// **Method** each full stop halves the light, so `log2(level)` falls by `1/e` a stop: a line by least squares, each level
/// uncertain by 0.067 stop (more where the scatter says so); three steps give 3 %.
/// **Arguments** levels: linear light by the assumed curve less black, at full-stop steps, the widest aperture first.
/// **Errors** with fewer than [`FEWEST_LEVELS`] levels, a level that is not above 0 and below 0.98, levels that do not fall,
/// or an exponent outside [`EXPONENTS`].
pub fn tone(levels: &[f64]) -> Result<Estimate, Error> {
    if !(FEWEST_LEVELS..=64).contains(&levels.len()) {
        return Err(Error::new(format!(
            "the tone exponent needs {FEWEST_LEVELS} to 64 levels a full stop apart, and {} were given",
            levels.len()
        )));
    }
    if let Some(level) = levels.iter().find(|level| !(**level > 0.0 && **level < HIGHEST_LEVEL)) {
        return Err(Error::new(format!(
            "each level must be above 0 and below {HIGHEST_LEVEL} of white, and {level} was given"
        )));
    }
    if levels.windows(2).any(|pair| pair[1] >= pair[0]) {
        return Err(Error::new(
            "the levels must fall from the widest aperture to the smallest, and two of them do not",
        ));
    }
    let design: Vec<Vec<f64>> = (0..levels.len()).map(|step| vec![1.0, step as f64]).collect();
    let stops: Vec<f64> = levels.iter().map(|level| libm::log2(*level)).collect();
    let variances = vec![STEP_DOUBT_STOPS * STEP_DOUBT_STOPS; levels.len()];
    let fit = generalised_least_squares(&design, &stops, &variances, 0.0)
        .map_err(|error| Error::new(format!("the levels give no tone exponent: {error}")))?;
    let slope = fit.coefficient(1);
    let exponent = checked_exponent(-1.0 / slope.value())?;
    let doubt = exponent * exponent * slope.standard_uncertainty();
    Estimate::new(exponent, doubt, slope.degrees_of_freedom()).map_err(|error| Error::new(error.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_bent_curve_is_found() {
        for truth in [0.8, 1.0, 1.3] {
            let levels: Vec<f64> = (0..4).map(|stop| libm::pow(0.8 / f64::from(1 << stop), 1.0 / truth)).collect();
            let found = tone(&levels).expect("an exponent");
            assert!((found.value() - truth).abs() < 1e-9, "{found:?}");
            let relative = found.standard_uncertainty() / truth / truth;
            assert!((relative - 0.03).abs() < 0.001, "{relative}");
        }
    }

    #[test]
    fn scatter_widens_the_doubt() {
        let smooth = tone(&[0.8, 0.4, 0.2, 0.1]).expect("an exponent");
        let rough = tone(&[0.8, 0.3, 0.25, 0.1]).expect("an exponent");
        assert!(rough.standard_uncertainty() > 1.5 * smooth.standard_uncertainty());
        assert!(rough.degrees_of_freedom() < 3.0);
    }

    #[test]
    fn what_are_no_steps_is_refused() {
        for levels in [&[0.8, 0.4][..], &[0.99, 0.5, 0.25], &[0.4, 0.4, 0.2], &[0.4, 0.2, 0.0], &[0.4, f64::NAN, 0.1]] {
            assert!(tone(levels).is_err(), "{levels:?}");
        }
        assert!(tone(&[0.8, 0.1, 0.0125]).is_err(), "three stops a step");
    }
}
