//! Type A: what repeated readings say about their own scatter (JCGM 100:2008, 4.2).
//!
//! Not here: doubt that repeating cannot show ([`crate::Distribution`]).

use crate::error::{Error, finite};
use crate::estimate::Estimate;

fn moments(readings: &[f64]) -> Result<(f64, f64), Error> {
    if readings.len() < 2 {
        return Err(Error::new(format!("a scatter needs 2 readings at least, and {} was given", readings.len())));
    }
    for reading in readings {
        finite(*reading, "reading")?;
    }
    let n = readings.len() as f64;
    let mean = readings.iter().sum::<f64>() / n;
    let squares = readings.iter().map(|reading| (reading - mean) * (reading - mean)).sum::<f64>();
    Ok((mean, squares))
}

/// Mean of repeated readings with `u = s/√n` and n − 1 degrees of freedom (JCGM 100:2008, 4.2.3). Needs two readings.
pub fn mean_of(readings: &[f64]) -> Result<Estimate, Error> {
    let (mean, squares) = moments(readings)?;
    let n = readings.len() as f64;
    Estimate::new(mean, (squares / (n - 1.0) / n).sqrt(), n - 1.0)
}

/// Experimental standard deviation `s = √(Σ(x − x̄)²/(n − 1))` (JCGM 100:2008, 4.2.2). Needs two readings.
pub fn experimental_standard_deviation(readings: &[f64]) -> Result<f64, Error> {
    let (_, squares) = moments(readings)?;
    Ok((squares / (readings.len() as f64 - 1.0)).sqrt())
}

/// A standard deviation pooled from several groups of readings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pooled {
    /// `√(Σ(n_i − 1)s_i² / Σ(n_i − 1))`.
    pub standard_deviation: f64,
    /// `Σ(n_i − 1)`.
    pub degrees_of_freedom: usize,
}

/// Pooled repeatability of groups of readings (JCGM 100:2008, 4.2.4); `None` where no group has two readings.
pub fn pooled_repeatability(groups: &[Vec<f64>]) -> Option<Pooled> {
    let (mut squares, mut freedom) = (0.0, 0);
    for group in groups {
        if let Ok((_, own)) = moments(group) {
            squares += own;
            freedom += group.len() - 1;
        }
    }
    (freedom > 0).then(|| Pooled { standard_deviation: (squares / freedom as f64).sqrt(), degrees_of_freedom: freedom })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_reading_says_nothing_about_scatter() {
        assert!(mean_of(&[1.0]).is_err());
        assert_eq!(pooled_repeatability(&[vec![1.0], vec![]]), None);
    }

    #[test]
    fn groups_are_pooled_by_their_freedom() {
        let pooled = pooled_repeatability(&[vec![0.0, 2.0], vec![5.0], vec![1.0, 2.0, 3.0]]).expect("a pool");
        assert_eq!(pooled.degrees_of_freedom, 3);
        assert!((pooled.standard_deviation - (4.0_f64 / 3.0).sqrt()).abs() < 1e-12);
    }
}
