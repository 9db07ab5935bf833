//! A number with its doubt: best estimate, standard uncertainty, degrees of freedom.
//!
//! Words as in JCGM 200 (VIM). Not here: how a doubt comes about ([`crate::mean_of`], [`crate::Distribution`], [`crate::Budget`]).

use crate::coverage::student_factor;
use crate::error::{Error, finite};

/// A measured value: estimate, standard uncertainty, and degrees of freedom of that uncertainty.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    value: f64,
    standard_uncertainty: f64,
    degrees_of_freedom: f64,
}

impl Estimate {
    /// An estimate.
    ///
    /// **Arguments** `value` any finite number; `standard_uncertainty` finite and not below 0; `degrees_of_freedom` above 0,
    /// infinite where nothing limits them. **Errors** outside those ranges.
    ///
    /// ```
    /// let x = metrology::Estimate::new(7.88, 0.086, 4.0)?;
    /// assert!((x.expanded_95() - 0.2388).abs() < 1e-3);
    /// # Ok::<(), metrology::Error>(())
    /// ```
    pub fn new(value: f64, standard_uncertainty: f64, degrees_of_freedom: f64) -> Result<Self, Error> {
        finite(value, "estimate")?;
        finite(standard_uncertainty, "standard uncertainty")?;
        if standard_uncertainty < 0.0 {
            return Err(Error::new(format!(
                "the standard uncertainty must not be below 0, and {standard_uncertainty} was given"
            )));
        }
        if degrees_of_freedom.is_nan() || degrees_of_freedom <= 0.0 {
            return Err(Error::new(format!(
                "the degrees of freedom must be above 0, and {degrees_of_freedom} was given"
            )));
        }
        Ok(Self { value, standard_uncertainty, degrees_of_freedom })
    }

    /// A number without doubt, such as a definition.
    pub fn exact(value: f64) -> Result<Self, Error> {
        Self::new(value, 0.0, f64::INFINITY)
    }

    /// For values that the arithmetic of this crate has already checked.
    pub(crate) const fn checked(value: f64, standard_uncertainty: f64, degrees_of_freedom: f64) -> Self {
        Self { value, standard_uncertainty, degrees_of_freedom }
    }

    /// Best estimate.
    pub const fn value(self) -> f64 {
        self.value
    }

    /// Standard uncertainty, in the unit of the value.
    pub const fn standard_uncertainty(self) -> f64 {
        self.standard_uncertainty
    }

    /// Degrees of freedom; infinite where nothing limits them.
    pub const fn degrees_of_freedom(self) -> f64 {
        self.degrees_of_freedom
    }

    /// Expanded uncertainty `U = k·u`, k Student's factor for the degrees of freedom (JCGM 100:2008, G.3).
    ///
    /// A coverage probability outside (0, 1) is taken as 95 %.
    pub fn expanded_uncertainty(self, coverage_probability: f64) -> f64 {
        let factor = student_factor(coverage_probability, self.degrees_of_freedom)
            .or_else(|_| student_factor(0.95, self.degrees_of_freedom))
            .unwrap_or(2.0);
        factor * self.standard_uncertainty
    }

    /// Expanded uncertainty at 95 %.
    pub fn expanded_95(self) -> f64 {
        self.expanded_uncertainty(0.95)
    }
}

/// The largest expanded uncertainty at 95 % of several estimates; 0 without any.
///
/// What is known as well as another one, and to as many degrees of freedom, is no larger and needs no factor of its own.
pub fn largest_expanded_95(estimates: impl Iterator<Item = Estimate>) -> f64 {
    let mut largest: Option<(f64, Estimate)> = None;
    for one in estimates {
        let smaller = |(_, other): &(f64, Estimate)| {
            one.standard_uncertainty <= other.standard_uncertainty && one.degrees_of_freedom >= other.degrees_of_freedom
        };
        if largest.as_ref().is_some_and(smaller) {
            continue;
        }
        let expanded = one.expanded_95();
        if largest.is_none_or(|(most, _)| expanded > most) {
            largest = Some((expanded, one));
        }
    }
    largest.map_or(0.0, |(most, _)| most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_largest_doubt_is_that_of_the_largest_expanded_uncertainty() {
        let all: Vec<Estimate> = [(0.2, 4.0), (0.1, 9.0), (0.3, 50.0), (0.3, f64::INFINITY), (0.29, 2.0), (0.05, 1.0)]
            .map(|(u, freedom)| Estimate::new(0.0, u, freedom).expect("an estimate"))
            .to_vec();
        for some in (0..all.len()).map(|n| &all[n..]) {
            let most = some.iter().map(|one| one.expanded_95()).fold(0.0, f64::max);
            assert_eq!(largest_expanded_95(some.iter().copied()), most);
        }
        assert_eq!(largest_expanded_95(std::iter::empty()), 0.0);
    }

    #[test]
    fn what_is_no_number_is_refused() {
        assert!(Estimate::new(f64::NAN, 0.1, 3.0).is_err());
        assert!(Estimate::new(1.0, -0.1, 3.0).is_err());
        assert!(Estimate::new(1.0, 0.1, 0.0).is_err());
        assert!(Estimate::new(1.0, f64::INFINITY, 3.0).is_err());
        assert!(Estimate::new(1.0, 0.1, f64::INFINITY).is_ok());
    }

    #[test]
    fn few_degrees_of_freedom_widen_the_interval() {
        let few = Estimate::new(0.0, 1.0, 2.0).expect("an estimate");
        let many = Estimate::exact(0.0).expect("an estimate");
        assert!((few.expanded_95() - 4.3027).abs() < 1e-3);
        assert_eq!(many.expanded_95(), 0.0);
    }
}
