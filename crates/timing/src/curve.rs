//! A light curve and its times: effective time, total time, efficiency, width at half of the peak.
//!
//! Definitions of ISO 516 (from memory: the clause could not be read). A curve is straight between its points. Not here:
//! finding the curve in a recording ([`crate::light_trace`]).

use crate::error::Error;

/// Light over time, straight between its points: moments \[s\] that never go back, light of 0 or more in any unit.
#[derive(Clone, Debug, PartialEq)]
pub struct LightCurve {
    points: Vec<(f64, f64)>,
}

impl LightCurve {
    /// A curve of two points or more. **Errors** where time goes back, light is below 0, a number is not finite, or it is dark
    /// throughout.
    pub fn new(points: Vec<(f64, f64)>) -> Result<Self, Error> {
        if points.len() < 2 {
            return Err(Error::new(format!("a light curve needs 2 points at least, and {} was given", points.len())));
        }
        if let Some((time, light)) = points.iter().find(|(t, e)| !t.is_finite() || !e.is_finite() || *e < 0.0) {
            return Err(Error::new(format!("light must be a number of 0 or more, and {light} at {time} s was given")));
        }
        if points.windows(2).any(|pair| pair[1].0 < pair[0].0) {
            return Err(Error::new("the moments of a light curve must not go back"));
        }
        if points.iter().all(|(_, light)| *light == 0.0) {
            return Err(Error::new("the light curve is dark throughout"));
        }
        Ok(Self { points })
    }

    /// The most light.
    pub fn peak(&self) -> f64 {
        self.points.iter().map(|(_, light)| *light).fold(0.0, f64::max)
    }

    /// Effective time `t_e = (1/E_max)·∫E dt` \[s\].
    pub fn effective_time_s(&self) -> f64 {
        let area: f64 =
            self.points.windows(2).map(|pair| (pair[1].0 - pair[0].0) * (pair[0].1 + pair[1].1) / 2.0).sum();
        area / self.peak()
    }

    /// Total time \[s\]: from first light to last light.
    pub fn total_time_s(&self) -> f64 {
        let lit = |pair: &&[(f64, f64)]| pair[0].1 > 0.0 || pair[1].1 > 0.0;
        let first = self.points.windows(2).find(lit).map_or(0.0, |pair| pair[0].0);
        let last = self.points.windows(2).rev().find(lit).map_or(0.0, |pair| pair[1].0);
        last - first
    }

    /// Efficiency `t_e/t_0`.
    pub fn efficiency(&self) -> f64 {
        self.effective_time_s() / self.total_time_s()
    }

    /// Width at half of the peak \[s\]: from the first to the last moment at that light. Equal to the effective time only where
    /// both ramps are straight.
    pub fn half_width_s(&self) -> f64 {
        let half = self.peak() / 2.0;
        let crossing = |pair: &[(f64, f64)]| {
            let ((t0, e0), (t1, e1)) = (pair[0], pair[1]);
            ((e0 - half) * (e1 - half) <= 0.0 && e0 != e1).then(|| t0 + (half - e0) / (e1 - e0) * (t1 - t0))
        };
        let first = self.points.windows(2).find_map(crossing);
        let last = self.points.windows(2).rev().find_map(crossing);
        match (first, last) {
            (Some(first), Some(last)) => last - first,
            _ => self.total_time_s(),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_trapezoid_has_the_times_of_its_geometry() {
        let curve = LightCurve::new(vec![(0.0, 0.0), (2.0, 1.0), (5.0, 1.0), (7.0, 0.0)]).expect("a curve");
        assert_eq!((curve.effective_time_s(), curve.total_time_s(), curve.half_width_s()), (5.0, 7.0, 5.0));
        assert!((curve.efficiency() - 5.0 / 7.0).abs() < 1e-12);
    }

    #[test]
    fn what_is_no_curve_is_refused() {
        for points in [
            vec![(0.0, 1.0)],
            vec![(0.0, 0.0), (1.0, 0.0)],
            vec![(1.0, 0.0), (0.0, 1.0)],
            vec![(0.0, -1.0), (1.0, 1.0)],
            vec![(0.0, f64::NAN), (1.0, 1.0)],
        ] {
            assert!(LightCurve::new(points).is_err());
        }
    }
}
