//! Type B: the standard uncertainty of what is known otherwise than by repeating (JCGM 100:2008, 4.3.7 to 4.3.9, from memory).
//!
//! Not here: scatter of readings ([`crate::mean_of`]).

use crate::error::{Error, finite};

/// What is believed about a quantity, about its middle, in the quantity's own unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Distribution {
    /// Anywhere within the half-width alike: `u = a/√3`. A scale readable to a step has the half-width step/2.
    Rectangular {
        /// Half-width a.
        half_width: f64,
    },
    /// More likely near the middle: `u = a/√6`.
    Triangular {
        /// Half-width a.
        half_width: f64,
    },
    /// More likely near the ends: `u = a/√2`.
    UShaped {
        /// Half-width a.
        half_width: f64,
    },
    /// Normal, with its own standard deviation.
    Normal {
        /// Standard deviation.
        standard_deviation: f64,
    },
}

impl Distribution {
    /// The standard uncertainty. **Errors** where the width is not finite or below 0.
    pub fn standard_uncertainty(self) -> Result<f64, Error> {
        let (width, divisor) = match self {
            Distribution::Rectangular { half_width } => (half_width, 3.0),
            Distribution::Triangular { half_width } => (half_width, 6.0),
            Distribution::UShaped { half_width } => (half_width, 2.0),
            Distribution::Normal { standard_deviation } => (standard_deviation, 1.0),
        };
        finite(width, "width of the distribution")?;
        if width < 0.0 {
            return Err(Error::new(format!(
                "the width of the distribution must not be below 0, and {width} was given"
            )));
        }
        Ok(width / f64::sqrt(divisor))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_shape_sets_the_divisor() {
        let u = |distribution: Distribution| distribution.standard_uncertainty().expect("a doubt");
        assert!(u(Distribution::UShaped { half_width: 1.0 }) > u(Distribution::Rectangular { half_width: 1.0 }));
        assert!(u(Distribution::Rectangular { half_width: 1.0 }) > u(Distribution::Triangular { half_width: 1.0 }));
        assert!(Distribution::Rectangular { half_width: -1.0 }.standard_uncertainty().is_err());
    }
}
