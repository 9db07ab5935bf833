//! From standard to expanded uncertainty: normal and Student's distribution, coverage factors, effective degrees of freedom.
//!
//! Not here: probabilities of conformity ([`crate::conformance_probability`]).

use crate::error::{Error, finite};

/// Steps that no search needs more of: halvings alone would come to neighbouring doubles.
const HALVINGS: usize = 1200;
/// A step that is no larger than this share of its place ends a search: what it leaves is the cube of that, below rounding.
const NEAR: f64 = 3e-6;

/// Standard normal distribution function `Φ(z)`.
pub fn normal_cdf(z: f64) -> f64 {
    0.5 * libm::erfc(-z / core::f64::consts::SQRT_2)
}

/// Quantile of the standard normal distribution, `0 < p < 1`.
pub fn normal_quantile(p: f64) -> Result<f64, Error> {
    probability(p)?;
    let far = upper_normal_quantile(if p < 0.5 { p } else { 1.0 - p });
    Ok(if p < 0.5 { -far } else { far })
}

/// `z` with `Φ(−z) = tail`, for a tail above 0 and not above one half.
fn upper_normal_quantile(tail: f64) -> f64 {
    let density = |z: f64| libm::exp(-0.5 * z * z) / (2.0 * core::f64::consts::PI).sqrt();
    root(nearly_normal_quantile(tail), |z| Place { surplus: normal_cdf(-z) - tail, density: density(z), bend: z })
}

/// The same to about three decimals (C. Hastings, Approximations for Digital Computers (1955), sheet 67, from memory): where the
/// search for the true one begins.
fn nearly_normal_quantile(tail: f64) -> f64 {
    let t = (-2.0 * libm::log(tail)).max(0.0).sqrt();
    let above = 2.515_517 + t * (0.802_853 + t * 0.010_328);
    let below = 1.0 + t * (1.432_788 + t * (0.189_269 + t * 0.001_308));
    (t - above / below).max(0.0)
}

fn probability(p: f64) -> Result<f64, Error> {
    if p > 0.0 && p < 1.0 {
        Ok(p)
    } else {
        Err(Error::new(format!("the probability must lie between 0 and 1, and {p} was given")))
    }
}

/// How a tail stands at one place.
struct Place {
    /// The tail there, less the one that is looked for.
    surplus: f64,
    /// Density: the tail falls by so much.
    density: f64,
    /// Minus the derivative of the density's logarithm.
    bend: f64,
}

/// Where a tail that falls from 0 on has no surplus: Halley's steps from a guess, kept between the places that are known to lie
/// before and beyond it. The error of a step is about the cube of the one before.
fn root(guess: f64, at: impl Fn(f64) -> Place) -> f64 {
    let (mut before, mut beyond) = (0.0_f64, f64::INFINITY);
    let mut x = guess;
    for _ in 0..HALVINGS {
        let Place { surplus, density, bend } = at(x);
        if surplus == 0.0 {
            return x;
        }
        if surplus > 0.0 {
            before = x
        } else {
            beyond = x
        }
        let newton = surplus / density;
        let step = newton / (1.0 - 0.5 * newton * bend).clamp(0.5, 2.0);
        let next = x + step;
        let inside = next > before && next < beyond;
        if inside && step.abs() <= NEAR * x {
            return next;
        }
        x = if inside {
            next
        } else if beyond.is_finite() {
            0.5 * (before + beyond)
        } else {
            (2.0 * x + 1.0).min(LARGEST_FACTOR)
        };
        if x == before || x == beyond {
            return x;
        }
    }
    x
}

/// From so many degrees of freedom on, three terms beyond the normal distribution are exact to rounding.
const NEARLY_NORMAL: f64 = 1e4;
/// Beyond so many standard deviations a nearly normal tail is below 10⁻¹⁷, which is less than half of the last digit of ½ and of 1.
const NOTHING_LEFT: f64 = 8.6;
/// Up to this `t²/(ν + t²)`, and this t, a power series is shorter than the continued fraction, and the tail is no small
/// difference.
const SERIES_TO: f64 = 0.6;
const SERIES_TO_T: f64 = 4.0;
/// No factor is larger: beyond it squares overflow.
const LARGEST_FACTOR: f64 = 1e150;

/// Student's distribution function at t for `degrees_of_freedom` above 0, not necessarily whole; normal where infinite.
///
/// `F(t) = 1 − I_x(ν/2, 1/2)/2` for t ≥ 0 with `x = ν/(ν + t²)`, by the regularised incomplete beta function; from 10⁴ degrees
/// of freedom on by the expansion in 1/ν about the normal distribution (R. A. Fisher, Metron 5 (1925) 109, from memory).
pub fn student_cdf(t: f64, degrees_of_freedom: f64) -> f64 {
    Student::of(degrees_of_freedom).cdf(t)
}

/// Student's distribution with what all its places share worked out once.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Student {
    degrees_of_freedom: f64,
    /// `ln(Γ(ν/2 + ½)/Γ(ν/2))`, where it is needed.
    log_ratio: f64,
}

impl Student {
    /// The distribution for ν above 0, normal where infinite.
    pub(crate) fn of(degrees_of_freedom: f64) -> Self {
        let near = degrees_of_freedom >= NEARLY_NORMAL;
        Self { degrees_of_freedom, log_ratio: if near { 0.0 } else { log_gamma_ratio(0.5 * degrees_of_freedom) } }
    }

    /// [`student_cdf`] at t.
    pub(crate) fn cdf(&self, t: f64) -> f64 {
        if t.is_infinite() || self.degrees_of_freedom.is_infinite() {
            return normal_cdf(t);
        }
        let tail = if self.degrees_of_freedom >= NEARLY_NORMAL {
            nearly_normal_tail(t.abs(), self.degrees_of_freedom)
        } else {
            student_tail(t.abs(), self.degrees_of_freedom, self.log_ratio).0
        };
        if t >= 0.0 { 1.0 - tail } else { tail }
    }

    /// Probability between two places, the first below the second. Most of what is asked lies so far inside its limits that a
    /// nearly normal tail is less than what rounding loses: it is not worked out.
    pub(crate) fn between(&self, from: f64, to: f64) -> f64 {
        if self.degrees_of_freedom < NEARLY_NORMAL {
            return self.cdf(to) - self.cdf(from);
        }
        let up_to = if to > NOTHING_LEFT { 1.0 } else { self.cdf(to) };
        if from < -NOTHING_LEFT && to >= 0.0 { up_to } else { up_to - self.cdf(from) }
    }
}

/// `P(T > t)` for t ≥ 0 and fewer degrees of freedom than [`NEARLY_NORMAL`], and the density at t; `log_ratio` is
/// `ln(Γ(ν/2 + ½)/Γ(ν/2))`.
fn student_tail(t: f64, degrees_of_freedom: f64, log_ratio: f64) -> (f64, f64) {
    let (square, a) = (t * t / degrees_of_freedom, 0.5 * degrees_of_freedom);
    // x = 1/(1 + t²/ν) and its complement each from the square itself, so that neither loses digits near 0 or 1.
    let (x, rest) = (1.0 / (1.0 + square), if square.is_finite() { square / (1.0 + square) } else { 1.0 });
    // ½·x^a·(1 − x)^½/B(a, ½), which both sides share; it is half the density times t.
    let front = 0.5 * libm::exp(log_ratio - a * libm::log1p(square)) * (rest / core::f64::consts::PI).sqrt();
    let tail = if rest <= SERIES_TO && t <= SERIES_TO_T {
        0.5 - 2.0 * front * beta_series(rest, a)
    } else if x <= (a + 1.0) / (a + 2.5) {
        front * beta_fraction(x, a, 0.5) / a
    } else {
        0.5 - front * beta_fraction(rest, 0.5, a) / 0.5
    };
    (tail.clamp(0.0, 0.5), if t > 0.0 { 2.0 * front / t } else { 0.0 })
}

/// `Σ y^n·Π(a + ½ + k)/(3/2 + k)`: `I_y(½, a) = y^½(1 − y)^a/(½·B(½, a))` times it (DLMF 8.17.8, from memory). Every term is
/// above 0, so no digit is lost.
fn beta_series(y: f64, a: f64) -> f64 {
    let (mut term, mut sum, mut k) = (1.0, 1.0, 0.0);
    while term > 1e-17 * sum && k < 2000.0 {
        term *= y * ((a + 0.5 + k) / (1.5 + k));
        sum += term;
        k += 1.0;
    }
    sum
}

/// `P(T > t)` for t ≥ 0 and many degrees of freedom.
fn nearly_normal_tail(t: f64, degrees_of_freedom: f64) -> f64 {
    let (q, n) = (t * t, 1.0 / degrees_of_freedom);
    let first = (q + 1.0) / 4.0;
    let second = (((3.0 * q - 7.0) * q - 5.0) * q - 3.0) / 96.0;
    let third = (((((q - 11.0) * q + 14.0) * q + 6.0) * q - 3.0) * q - 15.0) / 384.0;
    let density = libm::exp(-0.5 * q) / (2.0 * core::f64::consts::PI).sqrt();
    let beyond = if density > 0.0 { t * density * n * (first + n * (second + n * third)) } else { 0.0 };
    normal_cdf(-t) + beyond
}

/// `ln(Γ(a + ½)/Γ(a))`; by its asymptotic series where a difference of large logarithms would lose digits.
fn log_gamma_ratio(a: f64) -> f64 {
    if a < 20.0 {
        return libm::lgamma(a + 0.5) - libm::lgamma(a);
    }
    let r = 1.0 / (a * a);
    let series = -1.0 / 8.0 + r * (1.0 / 192.0 + r * (-1.0 / 640.0 + r * (17.0 / 14_336.0 - r * 31.0 / 18_432.0)));
    0.5 * libm::log(a) + series / a
}

/// Continued fraction of the incomplete beta function (modified Lentz): `I_x(a, b) = x^a(1 − x)^b/(a·B(a, b))` times it.
fn beta_fraction(x: f64, a: f64, b: f64) -> f64 {
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
        // The last bit may go on flickering.
        if (c * d - 1.0).abs() < 2.5e-16 {
            break;
        }
    }
    fraction
}

/// The coverage that is asked for nearly always, and its factor without any limit to the degrees of freedom, to the bit as the
/// search finds it.
const USUAL: (f64, f64) = (0.95, 1.959_963_984_540_053_8);

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
    let tail = 0.5 * (1.0 - coverage_probability);
    if degrees_of_freedom.is_infinite() {
        return Ok(if coverage_probability == USUAL.0 { USUAL.1 } else { upper_normal_quantile(tail) });
    }
    let z = nearly_normal_quantile(tail);
    let log_ratio = log_gamma_ratio(0.5 * degrees_of_freedom);
    let at = |t: f64| {
        let (above, density) = if degrees_of_freedom >= NEARLY_NORMAL {
            let fall = (0.5 * degrees_of_freedom + 0.5) * libm::log1p(t * t / degrees_of_freedom);
            let density = libm::exp(log_ratio - fall) / (core::f64::consts::PI * degrees_of_freedom).sqrt();
            (nearly_normal_tail(t, degrees_of_freedom), density)
        } else {
            student_tail(t, degrees_of_freedom, log_ratio)
        };
        let bend = (degrees_of_freedom + 1.0) * t / (degrees_of_freedom + t * t);
        Place { surplus: above - tail, density, bend }
    };
    Ok(root(nearly_student_quantile(z, degrees_of_freedom), at))
}

/// The same from the normal quantile z by four terms in 1/ν (E. A. Cornish and R. A. Fisher, 1937, as Abramowitz and Stegun
/// 26.7.5, from memory): where the search begins.
fn nearly_student_quantile(z: f64, degrees_of_freedom: f64) -> f64 {
    let (q, n) = (z * z, 1.0 / degrees_of_freedom);
    let first = (q + 1.0) / 4.0;
    let second = ((5.0 * q + 16.0) * q + 3.0) / 96.0;
    let third = (((3.0 * q + 19.0) * q + 17.0) * q - 15.0) / 384.0;
    let fourth = ((((79.0 * q + 776.0) * q + 1482.0) * q - 1920.0) * q - 945.0) / 92_160.0;
    z * (1.0 + n * (first + n * (second + n * (third + n * fourth)))).clamp(1.0, 1e6)
}

/// Effective degrees of freedom by Welch and Satterthwaite, `ν = u_c⁴ / Σ(u_i⁴/ν_i)` (JCGM 100:2008, G.4.1, formula G.2b);
/// infinite where nothing limits them. Each contribution is its standard uncertainty, sensitivity included, and its own ν,
/// which is above 0.
pub fn effective_degrees_of_freedom(contributions: &[(f64, f64)]) -> f64 {
    // In units of a power of two near the largest, so that fourth powers neither vanish nor overflow; it costs no digit.
    let largest = contributions.iter().fold(0.0_f64, |largest, (u, _)| largest.max(u.abs()));
    if largest == 0.0 {
        return f64::INFINITY;
    }
    let exponent = libm::frexp(largest).1;
    let (mut total, mut limited) = (0.0, 0.0);
    for (u, freedom) in contributions {
        let u = libm::ldexp(*u, -exponent);
        total += u * u;
        limited += u * u * u * u / freedom;
    }
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
    use proptest::prelude::*;

    #[test]
    fn one_degree_of_freedom_is_cauchys() {
        for t in [-3.0, -0.2, 0.0, 0.7, 12.0] {
            let exact = 0.5 + libm::atan(t) / core::f64::consts::PI;
            assert!((student_cdf(t, 1.0) - exact).abs() < 1e-13, "{t}");
        }
    }

    /// For even ν the integral is a finite sum: with `s = t/√(ν + t²)`, `F = ½ + s/2·Σ c_j(1 − s²)^j`, `c_j = c_{j−1}(2j − 1)/2j`.
    fn by_finite_sum(t: f64, freedom: u32) -> f64 {
        let s = t / (f64::from(freedom) + t * t).sqrt();
        let (mut term, mut sum) = (1.0, 1.0);
        for j in 1..freedom / 2 {
            let j = f64::from(j);
            term *= (2.0 * j - 1.0) / (2.0 * j) * (1.0 - s * s);
            sum += term;
        }
        0.5 + 0.5 * s * sum
    }

    #[test]
    fn even_degrees_of_freedom_agree_with_the_finite_sum() {
        for freedom in [2, 4, 10, 38, 42, 200, 5000, 9998, 10_000, 10_002, 50_000] {
            for t in [-6.0, -1.7, -0.3, 0.0, 0.01, 0.9, 1.96, 2.6, 4.5, 30.0] {
                let (found, exact) = (student_cdf(t, f64::from(freedom)), by_finite_sum(t, freedom));
                assert!((found - exact).abs() < 2e-13, "ν {freedom}, t {t}: {found} {exact}");
            }
        }
    }

    proptest! {
        #[test]
        fn what_is_not_worked_out_would_change_nothing(
            from in -60.0..2.0_f64, to in -2.0..60.0_f64, freedom in prop_oneof![Just(f64::INFINITY), 1e4..1e9_f64, 1.0..1e4_f64],
        ) {
            let student = Student::of(freedom);
            let (from, to) = (from.min(to), from.max(to));
            prop_assert_eq!(student.between(from, to), student.cdf(to) - student.cdf(from));
        }

        #[test]
        fn a_factor_leads_back_to_its_probability(p in 0.001..0.999_f64, freedom in 0.3..3e4_f64) {
            let k = student_factor(p, freedom).unwrap();
            prop_assert!((2.0 * student_cdf(k, freedom) - 1.0 - p).abs() < 1e-12);
        }

        #[test]
        fn no_number_makes_a_panic_or_leaves_the_range(t in prop::num::f64::ANY, freedom in prop::num::f64::ANY) {
            let p = student_cdf(t, freedom);
            if freedom > 0.0 && !t.is_nan() {
                prop_assert!((0.0..=1.0).contains(&p), "{}", p);
            }
            let _ = (student_factor(t, freedom), normal_quantile(t), effective_degrees_of_freedom(&[(t, freedom)]));
        }

        #[test]
        fn effective_freedom_lies_between_the_least_and_the_sum(
            parts in prop::collection::vec((0.001..10.0_f64, 1.0..50.0_f64), 1..6), scale in prop::sample::select(vec![1e-120, 1.0, 1e120]),
        ) {
            let scaled: Vec<_> = parts.iter().map(|(u, freedom)| (u * scale, *freedom)).collect();
            let found = effective_degrees_of_freedom(&scaled);
            let least = parts.iter().map(|part| part.1).fold(f64::INFINITY, f64::min);
            let sum: f64 = parts.iter().map(|part| part.1).sum();
            prop_assert!(found >= least * (1.0 - 1e-12) && found <= sum * (1.0 + 1e-12), "{}", found);
        }
    }

    #[test]
    fn many_degrees_of_freedom_are_normal() {
        assert!((student_cdf(1.3, 1e7) - normal_cdf(1.3)).abs() < 1e-7);
        assert_eq!(student_cdf(f64::INFINITY, 3.0), 1.0);
        assert!((student_factor(0.95, f64::INFINITY).expect("a factor") - 1.959_963_984_540_054).abs() < 1e-12);
    }

    #[test]
    fn the_usual_factor_is_the_one_that_the_search_finds() {
        let found = upper_normal_quantile(0.5 * (1.0 - USUAL.0));
        assert_eq!(found.to_bits(), USUAL.1.to_bits(), "{found:?}");
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
