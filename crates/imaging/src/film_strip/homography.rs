//! The plane-to-plane map of four corners: eight unknowns from eight equations.
//!
//! Not here: which corners ([`super`]).

use crate::error::Error;
use crate::linear::solve;

/// `x' = (a x + b y + c)/(g x + h y + 1)` and the like.
#[derive(Clone, Copy, Debug)]
pub(super) struct Homography([f64; 8]);

impl Homography {
    /// The map that takes four points to four others. **Errors** where three of them lie on one line.
    pub(super) fn of(from: &[(f64, f64); 4], to: &[(f64, f64); 4]) -> Result<Self, Error> {
        let mut rows = [[0.0; 9]; 8];
        for (pair, ((x, y), (u, v))) in rows.chunks_exact_mut(2).zip(from.iter().zip(to)) {
            pair[0] = [*x, *y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y, *u];
            pair[1] = [0.0, 0.0, 0.0, *x, *y, 1.0, -v * x, -v * y, *v];
        }
        // Millimetres against pixels lie close enough together to be solved as they stand.
        let found = solve(rows).ok_or_else(|| Error::new("the gate's corners must not lie on one line"))?;
        Ok(Self(found))
    }

    pub(super) fn at(&self, x: f64, y: f64) -> (f64, f64) {
        let [a, b, c, d, e, f, g, h] = self.0;
        let scale = g * x + h * y + 1.0;
        let scale = if scale.abs() < 1e-9 { 1e-9 } else { scale };
        let part = 1.0 / scale;
        ((a * x + b * y + c) * part, (d * x + e * y + f) * part)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn corners_go_to_corners_and_the_crossing_to_the_crossing() {
        let from = [(0.0, 0.0), (36.0, 0.0), (36.0, 24.0), (0.0, 24.0)];
        let to = [(100.0, 90.0), (900.0, 120.0), (870.0, 700.0), (140.0, 660.0)];
        let map = Homography::of(&from, &to).expect("a map");
        for (a, b) in from.iter().zip(&to) {
            let (u, v) = map.at(a.0, a.1);
            assert!((u - b.0).abs() < 1e-9 && (v - b.1).abs() < 1e-9);
        }
        // The diagonals cross at the same point on both sides.
        let (u, v) = map.at(18.0, 12.0);
        let on = |p: (f64, f64), q: (f64, f64)| ((q.0 - p.0) * (v - p.1) - (q.1 - p.1) * (u - p.0)).abs() / 1e3;
        assert!(on(to[0], to[2]) < 1e-6 && on(to[1], to[3]) < 1e-6);
        assert!(Homography::of(&from, &[(0.0, 0.0); 4]).is_err());
    }
}
