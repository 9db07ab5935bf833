//! Conformity: how likely the true value lies within its tolerance, and the call that follows.
//!
//! *Sources:* JCGM 106:2012, 7.3, 7.4, 8.3, 9.5 (formulas from memory); ISO 14253-1:2017 for the limit of proof (from memory).
//! Not here: what the tolerance of a camera should be.

use crate::coverage::{Student, normal_cdf, not_negative};
use crate::error::{Error, finite};
use crate::estimate::Estimate;

/// Proof of conformity or of nonconformity: 95 %, the default of ISO 14253-1:2017 (from memory).
pub const PROOF: f64 = 0.95;

/// The interval that an error is allowed; either end may be infinite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tolerance {
    lower: f64,
    upper: f64,
}

impl Tolerance {
    /// An interval with `lower < upper`. **Errors** otherwise.
    pub fn new(lower: f64, upper: f64) -> Result<Self, Error> {
        if lower < upper {
            Ok(Self { lower, upper })
        } else {
            Err(Error::new(format!(
                "the lower limit of a tolerance must lie below the upper, and {lower} and {upper} were given"
            )))
        }
    }

    /// `[−half_width, half_width]`. **Errors** where it is not above 0 and finite.
    pub fn symmetric(half_width: f64) -> Result<Self, Error> {
        finite(half_width, "tolerance")?;
        if half_width <= 0.0 {
            return Err(Error::new(format!("the tolerance must be above 0, and {half_width} was given")));
        }
        Self::new(-half_width, half_width)
    }

    /// Lower limit.
    pub const fn lower(self) -> f64 {
        self.lower
    }

    /// Upper limit.
    pub const fn upper(self) -> f64 {
        self.upper
    }

    /// The acceptance interval with a guard band of `guard` inside each limit (JCGM 106:2012, 8.3.2), or the rejection limits
    /// with a negative one. **Errors** where nothing is left between them.
    pub fn guarded(self, guard: f64) -> Result<Self, Error> {
        finite(guard, "guard band")?;
        Self::new(self.lower + guard, self.upper - guard)
    }
}

/// Probability that the true value lies within the tolerance, `p = F((T_U − y)/u) − F((T_L − y)/u)`, F normal or Student's t
/// by the estimate's degrees of freedom (JCGM 106:2012, 7.4). Without doubt it is 1 within, limits included, and 0 outside.
///
/// ```
/// use metrology::{Estimate, Tolerance, conformance_probability};
/// let y = Estimate::new(13.6, 1.8, f64::INFINITY)?;
/// assert!((conformance_probability(y, Tolerance::new(12.5, 16.3)?) - 0.6626).abs() < 1e-4);
/// # Ok::<(), metrology::Error>(())
/// ```
pub fn conformance_probability(estimate: Estimate, tolerance: Tolerance) -> f64 {
    Chance::of(estimate).within(tolerance)
}

/// An estimate that is held against several tolerances, with what they share worked out once.
#[derive(Clone, Copy, Debug)]
pub struct Chance {
    estimate: Estimate,
    distribution: Student,
}

impl Chance {
    /// The distribution that an estimate stands for.
    pub fn of(estimate: Estimate) -> Self {
        // Without doubt no distribution is asked.
        let freedom =
            if estimate.standard_uncertainty() == 0.0 { f64::INFINITY } else { estimate.degrees_of_freedom() };
        Self { estimate, distribution: Student::of(freedom) }
    }

    /// The estimate.
    pub const fn estimate(&self) -> Estimate {
        self.estimate
    }

    /// [`conformance_probability`] of the estimate.
    pub fn within(&self, tolerance: Tolerance) -> f64 {
        let (y, u) = (self.estimate.value(), self.estimate.standard_uncertainty());
        if u == 0.0 {
            return if y >= tolerance.lower && y <= tolerance.upper { 1.0 } else { 0.0 };
        }
        self.distribution.between((tolerance.lower - y) / u, (tolerance.upper - y) / u).clamp(0.0, 1.0)
    }
}

/// What can be said about conformity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Call {
    /// Proved to conform.
    Within,
    /// Proved not to conform.
    Outside,
    /// Neither is proved yet.
    CannotTell,
}

impl Call {
    /// `within` from [`PROOF`] on, `outside` up to its complement, else `cannot tell`.
    pub fn from_probability(probability: f64) -> Self {
        if probability >= PROOF {
            Call::Within
        } else if probability <= 1.0 - PROOF {
            Call::Outside
        } else {
            Call::CannotTell
        }
    }

    /// As said.
    pub const fn word(self) -> &'static str {
        match self {
            Call::Within => "within",
            Call::Outside => "outside",
            Call::CannotTell => "cannot tell",
        }
    }

    /// The key in a file.
    pub const fn key(self) -> &'static str {
        match self {
            Call::Within => "within",
            Call::Outside => "outside",
            Call::CannotTell => "cannot_tell",
        }
    }
}

/// Risks of deciding by an acceptance interval, over a production with a normal distribution of true values.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GlobalRisks {
    /// Probability that a true value conforms.
    pub prior_conformity: f64,
    /// Probability that an item is accepted and does not conform.
    pub consumers: f64,
    /// Probability that an item is rejected and conforms.
    pub producers: f64,
}

/// Global risks (JCGM 106:2012, 9.5): true values `N(mean, spread²)`, measured with the standard uncertainty `doubt`, accepted
/// within `acceptance`. All in the same unit, spread and doubt above 0. Simpson's rule over ten spreads to each side.
pub fn global_risks(
    mean: f64,
    spread: f64,
    doubt: f64,
    tolerance: Tolerance,
    acceptance: Tolerance,
) -> Result<GlobalRisks, Error> {
    finite(mean, "mean of the production")?;
    for (value, quantity) in [(spread, "spread of the production"), (doubt, "measurement uncertainty")] {
        not_negative(value, quantity)?;
        if value == 0.0 {
            return Err(Error::new(format!("the {quantity} must be above 0, and 0 was given")));
        }
    }
    let accepted = |x: f64| normal_cdf((acceptance.upper - x) / doubt) - normal_cdf((acceptance.lower - x) / doubt);
    let density = |x: f64| {
        let z = (x - mean) / spread;
        libm::exp(-0.5 * z * z) / (spread * (2.0 * core::f64::consts::PI).sqrt())
    };
    let integral = |from: f64, to: f64, f: &dyn Fn(f64) -> f64| {
        const PARTS: usize = 4000;
        let width = (to - from) / PARTS as f64;
        let sum: f64 = (0..=PARTS)
            .map(|i| {
                let weight = if i == 0 || i == PARTS {
                    1.0
                } else if i % 2 == 1 {
                    4.0
                } else {
                    2.0
                };
                weight * f(from + width * i as f64)
            })
            .sum();
        sum * width / 3.0
    };
    let (far_low, far_high) = (mean - 10.0 * spread, mean + 10.0 * spread);
    let low = tolerance.lower.clamp(far_low, far_high);
    let high = tolerance.upper.clamp(far_low, far_high);
    let taken = |x: f64| density(x) * accepted(x);
    let refused = |x: f64| density(x) * (1.0 - accepted(x));
    Ok(GlobalRisks {
        prior_conformity: normal_cdf((tolerance.upper - mean) / spread) - normal_cdf((tolerance.lower - mean) / spread),
        consumers: integral(far_low, low, &taken) + integral(high, far_high, &taken),
        producers: integral(low, high, &refused),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn without_doubt_the_limit_itself_conforms() {
        let tolerance = Tolerance::symmetric(0.5).expect("a tolerance");
        let p = |value: f64| conformance_probability(Estimate::exact(value).expect("a value"), tolerance);
        assert_eq!((p(0.5), p(-0.5), p(0.500_001)), (1.0, 1.0, 0.0));
    }

    #[test]
    fn few_degrees_of_freedom_prove_less() {
        let tolerance = Tolerance::symmetric(0.5).expect("a tolerance");
        let with =
            |freedom: f64| conformance_probability(Estimate::new(0.2, 0.15, freedom).expect("a value"), tolerance);
        assert!(with(2.0) < with(f64::INFINITY) && with(2.0) > 0.5);
    }

    #[test]
    fn between_the_proofs_nothing_is_proved() {
        assert_eq!(Call::from_probability(0.95), Call::Within);
        assert_eq!(Call::from_probability(0.05), Call::Outside);
        assert_eq!(Call::from_probability(0.5), Call::CannotTell);
    }

    #[test]
    fn an_empty_tolerance_is_refused() {
        assert!(Tolerance::symmetric(0.0).is_err() && Tolerance::new(1.0, 1.0).is_err());
        assert!(Tolerance::symmetric(f64::NAN).is_err());
        assert!(Tolerance::symmetric(0.1).expect("a tolerance").guarded(0.2).is_err());
    }

    proptest! {
        #[test]
        fn a_probability_is_one_whatever_is_given(
            y in prop::num::f64::ANY, u in prop::num::f64::ANY, freedom in prop::num::f64::ANY,
            lower in prop::num::f64::ANY, upper in prop::num::f64::ANY,
        ) {
            if let (Ok(estimate), Ok(tolerance)) = (Estimate::new(y, u, freedom), Tolerance::new(lower, upper)) {
                let p = conformance_probability(estimate, tolerance);
                prop_assert!((0.0..=1.0).contains(&p), "{}", p);
            }
        }

        #[test]
        fn a_wider_tolerance_is_never_less_likely_kept(
            y in -2.0..2.0_f64, u in 0.0..1.0_f64, freedom in 1.0..60.0_f64, half in 0.01..2.0_f64, more in 0.0..1.0_f64,
        ) {
            let estimate = Estimate::new(y, u, freedom).unwrap();
            let p = |half: f64| conformance_probability(estimate, Tolerance::symmetric(half).unwrap());
            prop_assert!(p(half + more) >= p(half) - 1e-13);
        }
    }
}
