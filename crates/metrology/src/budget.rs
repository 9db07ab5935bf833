//! A budget of named contributions, combined to one standard uncertainty (JCGM 100:2008, 5.1.2 and 5.2.2).
//!
//! Not here: where the contributions come from.

use crate::coverage::{effective_degrees_of_freedom, not_negative};
use crate::error::{Error, finite};

/// One named contribution.
#[derive(Clone, Debug, PartialEq)]
pub struct Contribution {
    /// What it is, as said in a budget.
    pub name: String,
    /// Sensitivity coefficient `∂f/∂x`.
    pub sensitivity: f64,
    /// Standard uncertainty of the input.
    pub standard_uncertainty: f64,
    /// Its degrees of freedom, infinite where nothing limits them.
    pub degrees_of_freedom: f64,
}

/// Contributions, and which of them are correlated.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Budget {
    /// The contributions.
    pub contributions: Vec<Contribution>,
    /// Correlation coefficients between pairs of contributions, by their places in the list.
    pub correlations: Vec<(usize, usize, f64)>,
}

/// What a budget comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Combined {
    /// Combined standard uncertainty.
    pub standard_uncertainty: f64,
    /// Effective degrees of freedom by Welch and Satterthwaite, which holds for uncorrelated contributions only.
    pub degrees_of_freedom: f64,
}

impl Budget {
    /// Combined standard uncertainty `u_c² = Σ c_i²u_i² + 2Σ c_i c_j u_i u_j r_ij`.
    ///
    /// **Errors** where a number is not finite, a doubt is below 0, a correlation is outside ±1 or names no contribution.
    pub fn combined(&self) -> Result<Combined, Error> {
        let mut parts = Vec::with_capacity(self.contributions.len());
        for contribution in &self.contributions {
            finite(contribution.sensitivity, "sensitivity")?;
            not_negative(contribution.standard_uncertainty, "standard uncertainty")?;
            if contribution.degrees_of_freedom.is_nan() || contribution.degrees_of_freedom <= 0.0 {
                return Err(Error::new(format!("the degrees of freedom of {} must be above 0", contribution.name)));
            }
            parts.push((contribution.sensitivity * contribution.standard_uncertainty, contribution.degrees_of_freedom));
        }
        let mut variance: f64 = parts.iter().map(|(part, _)| part * part).sum();
        for &(i, j, r) in &self.correlations {
            let (Some((a, _)), Some((b, _))) = (parts.get(i), parts.get(j)) else {
                return Err(Error::new(format!("the correlation between {i} and {j} names no contribution")));
            };
            if !(-1.0..=1.0).contains(&r) || i == j {
                return Err(Error::new(format!("a correlation must lie between -1 and 1, and {r} was given")));
            }
            variance += 2.0 * a * b * r;
        }
        let magnitudes: Vec<(f64, f64)> = parts.iter().map(|(part, freedom)| (part.abs(), *freedom)).collect();
        Ok(Combined {
            // Full negative correlation may leave a rounding error below zero.
            standard_uncertainty: variance.max(0.0).sqrt(),
            degrees_of_freedom: effective_degrees_of_freedom(&magnitudes),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn part(sensitivity: f64, standard_uncertainty: f64) -> Contribution {
        Contribution { name: "part".into(), sensitivity, standard_uncertainty, degrees_of_freedom: f64::INFINITY }
    }

    #[test]
    fn correlated_parts_add_or_cancel() {
        let mut budget = Budget { contributions: vec![part(1.0, 0.3), part(1.0, 0.4)], correlations: Vec::new() };
        assert!((budget.combined().expect("a sum").standard_uncertainty - 0.5).abs() < 1e-12);
        budget.correlations.push((0, 1, 1.0));
        assert!((budget.combined().expect("a sum").standard_uncertainty - 0.7).abs() < 1e-12);
        budget.correlations[0].2 = -1.0;
        assert!((budget.combined().expect("a sum").standard_uncertainty - 0.1).abs() < 1e-12);
        budget.correlations[0].2 = 1.5;
        assert!(budget.combined().is_err());
    }
}
