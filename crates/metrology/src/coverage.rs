//! From standard to expanded uncertainty: normal and Student's distribution, coverage factors, effective degrees of freedom.
//!
//! Not here: probabilities of conformity ([`crate::conformance_probability`]).

use crate::error::{Error, finite};

/// Steps of a bisection that no double can out-resolve.
const HALVINGS: usize = 200;

/// Standard normal distribution function `Φ(z)`.
pub fn normal_cdf(z: f64) -> f64 {
    0.5 * libm::erfc(-z / core::f64::consts::SQRT_2)
}

/// Quantile of the standard normal distribution, `0 < p < 1`.
pub fn normal_quantile(p: f64) -> Result<f64, Error> {
    probability(p)?;
    Ok(bisect(|z| normal_cdf(z) - p, -40.0, 40.0))
}

fn probability(p: f64) -> Result<f64, Error> {
    if p > 0.0 && p < 1.0 {
        Ok(p)
    } else {
        Err(Error::new(format!("the probability must lie between 0 and 1, and {p} was given")))
    }
}

fn bisect(f: impl Fn(f64) -> f64, mut low: f64, mut high: f64) -> f64 {
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if middle == low || middle == high {
            break;
        }
        if f(middle) < 0.0 { low = middle } else { high = middle }
    }
    0.5 * (low + high)
}

/// Student's distribution function at t for `degrees_of_freedom` above 0, not necessarily whole; normal where infinite.
///
/// `F(t) = 1 − I_x(ν/2, 1/2)/2` for t ≥ 0 with `x = ν/(ν + t²)`, by the regularised incomplete beta function.
pub fn student_cdf(t: f64, degrees_of_freedom: f64) -> f64 {
    if degrees_of_freedom > 1e8 {
        return normal_cdf(t);
    }
    let tail = 0.5 * incomplete_beta(degrees_of_freedom / (degrees_of_freedom + t * t), 0.5 * degrees_of_freedom, 0.5);
    if t >= 0.0 { 1.0 - tail } else { tail }
}

/// Regularised incomplete beta function `I_x(a, b)` by its continued fraction (modified Lentz), for 0 ≤ x ≤ 1.
fn incomplete_beta(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    // The fraction converges fast only on this side; the other follows by symmetry.
    if x > (a + 1.0) / (a + b + 2.0) {
        return 1.0 - incomplete_beta(1.0 - x, b, a);
    }
    let front =
        libm::exp(libm::lgamma(a + b) - libm::lgamma(a) - libm::lgamma(b) + a * libm::log(x) + b * libm::log1p(-x)) / a;
    const TINY: f64 = 1e-300;
    let keep = |value: f64| if value.abs() < TINY { TINY } else { value };
    let mut c = 1.0;
    let mut d = 1.0 / keep(1.0 - (a + b) * x / (a + 1.0));
    let mut fraction = d;
    for m in 1..=1000 {
        let m = f64::from(m);
        for numerator in [
            m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m)),
            -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0)),
        ] {
            d = 1.0 / keep(1.0 + numerator * d);
            c = keep(1.0 + numerator / c);
            fraction *= c * d;
        }
        if (c * d - 1.0).abs() < 1e-16 {
            break;
        }
    }
    (front * fraction).clamp(0.0, 1.0)
}

/// Two-sided coverage factor: `P(|t| ≤ k) = coverage_probability` (JCGM 100:2008, Table G.2).
///
/// **Errors** where the probability is not between 0 and 1 or the degrees of freedom are not above 0.
///
/// ```
/// assert!((metrology::student_factor(0.95, 4.0)? - 2.776).abs() < 1e-3);
/// # Ok::<(), metrology::Error>(())
/// ```
pub fn student_factor(coverage_probability: f64, degrees_of_freedom: f64) -> Result<f64, Error> {
    probability(coverage_probability)?;
    if degrees_of_freedom.is_nan() || degrees_of_freedom <= 0.0 {
        return Err(Error::new(format!("the degrees of freedom must be above 0, and {degrees_of_freedom} was given")));
    }
    let upper = 0.5 * (1.0 + coverage_probability);
    if degrees_of_freedom > 1e8 {
        return normal_quantile(upper);
    }
    let mut high = 1.0;
    while student_cdf(high, degrees_of_freedom) < upper && high < 1e150 {
        high *= 2.0;
    }
    Ok(bisect(|t| student_cdf(t, degrees_of_freedom) - upper, 0.0, high))
}

/// Effective degrees of freedom by Welch and Satterthwaite, `ν = u_c⁴ / Σ(u_i⁴/ν_i)` (JCGM 100:2008, G.4.1, formula G.2b);
/// infinite where nothing limits them. Each contribution is its standard uncertainty, sensitivity included, and its own ν.
pub fn effective_degrees_of_freedom(contributions: &[(f64, f64)]) -> f64 {
    let total: f64 = contributions.iter().map(|(u, _)| u * u).sum();
    let limited: f64 = contributions.iter().map(|(u, freedom)| u * u * u * u / freedom).sum();
    if limited > 0.0 && limited.is_finite() { total * total / limited } else { f64::INFINITY }
}

/// Refuses what is no number; used by those who take a coverage factor of their own.
pub(crate) fn not_negative(value: f64, quantity: &str) -> Result<f64, Error> {
    finite(value, quantity)?;
    if value < 0.0 {
        return Err(Error::new(format!("the {quantity} must not be below 0, and {value} was given")));
    }
    Ok(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_degree_of_freedom_is_cauchys() {
        for t in [-3.0, -0.2, 0.0, 0.7, 12.0] {
            let exact = 0.5 + libm::atan(t) / core::f64::consts::PI;
            assert!((student_cdf(t, 1.0) - exact).abs() < 1e-13, "{t}");
        }
    }

    #[test]
    fn many_degrees_of_freedom_are_normal() {
        assert!((student_cdf(1.3, 1e7) - normal_cdf(1.3)).abs() < 1e-7);
        assert!((student_factor(0.95, f64::INFINITY).expect("a factor") - 1.959_963_984_540_054).abs() < 1e-12);
    }

    #[test]
    fn what_is_no_probability_is_refused() {
        for p in [0.0, 1.0, -0.2, f64::NAN] {
            assert!(student_factor(p, 3.0).is_err() && normal_quantile(p).is_err());
        }
        assert!(student_factor(0.95, 0.0).is_err());
    }

    #[test]
    fn only_what_is_limited_limits() {
        assert_eq!(effective_degrees_of_freedom(&[(0.3, f64::INFINITY), (0.0, 2.0)]), f64::INFINITY);
        assert!((effective_degrees_of_freedom(&[(0.1, 4.0)]) - 4.0).abs() < 1e-12);
    }
}
