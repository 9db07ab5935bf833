//! A smooth surface of light through pixels: a plane or a quadratic, fitted with the outliers left out.
//!
//! Not here: which pixels ([`super::opening`]).

/// Terms of a quadratic; a plane uses the first three.
const TERMS: usize = 6;
/// Rounds of leaving out what lies beyond so many standard deviations.
const ROUNDS: usize = 4;
const BEYOND: f64 = 3.0;

/// `c0 + c1·x + c2·y + c3·x² + c4·x·y + c5·y²` in coordinates scaled about a middle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Surface {
    coefficients: [f64; TERMS],
    middle: (f64, f64),
    scale: f64,
    /// Standard deviation of what was kept.
    pub scatter: f64,
}

/// How bent it may be.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Shape {
    Flat = 1,
    Plane = 3,
    Quadratic = 6,
}

impl Surface {
    /// Fits through points of place and light. Nothing where there are fewer than ten for each term.
    pub fn fit(points: &[(f32, f32, f32)], shape: Shape) -> Option<Self> {
        let terms = shape as usize;
        if points.len() < 10 * terms {
            return match shape {
                Shape::Quadratic => Self::fit(points, Shape::Plane),
                Shape::Plane => Self::fit(points, Shape::Flat),
                Shape::Flat => None,
            };
        }
        let count = points.len() as f64;
        let middle = (
            points.iter().map(|p| f64::from(p.0)).sum::<f64>() / count,
            points.iter().map(|p| f64::from(p.1)).sum::<f64>() / count,
        );
        let scale = points
            .iter()
            .map(|p| (f64::from(p.0) - middle.0).abs().max((f64::from(p.1) - middle.1).abs()))
            .fold(1.0, f64::max);
        let mut surface = Self { coefficients: [0.0; TERMS], middle, scale, scatter: f64::INFINITY };
        let bases: Vec<[f64; TERMS]> = points.iter().map(|p| surface.basis(f64::from(p.0), f64::from(p.1))).collect();
        // Before the first fit everything is kept.
        let mut offs = vec![0.0; points.len()];
        for _ in 0..ROUNDS {
            let limit = BEYOND * surface.scatter;
            let kept = |off: f64| off.abs() <= limit || limit.is_infinite();
            let mut sums = Sums::default();
            for ((point, basis), _) in points.iter().zip(&bases).zip(&offs).filter(|(_, off)| kept(**off)) {
                sums.add(basis, f64::from(point.2));
            }
            surface.coefficients = solve(sums.rows(terms), terms)?;
            let (mut squares, mut number) = (0.0, 0.0);
            for ((point, basis), off) in points.iter().zip(&bases).zip(&mut offs) {
                *off = f64::from(point.2) - surface.of(basis);
                if kept(*off) {
                    squares += *off * *off;
                    number += 1.0;
                }
            }
            if number < 5.0 * terms as f64 {
                break;
            }
            surface.scatter = (squares / (number - terms as f64).max(1.0)).sqrt().max(1e-6);
        }
        surface.coefficients.iter().all(|c| c.is_finite()).then_some(surface)
    }

    fn basis(&self, x: f64, y: f64) -> [f64; TERMS] {
        let (x, y) = ((x - self.middle.0) / self.scale, (y - self.middle.1) / self.scale);
        [1.0, x, y, x * x, x * y, y * y]
    }

    /// Its light at a place.
    pub fn at(&self, x: f64, y: f64) -> f64 {
        self.of(&self.basis(x, y))
    }

    fn of(&self, basis: &[f64; TERMS]) -> f64 {
        basis.iter().zip(self.coefficients).map(|(basis, c)| basis * c).sum()
    }
}

/// Sums of products of a quadratic's terms with one another and with the light; each product once.
#[derive(Default)]
struct Sums {
    products: [f64; TERMS * (TERMS + 1) / 2],
    light: [f64; TERMS],
}

impl Sums {
    #[inline(always)]
    fn add(&mut self, basis: &[f64; TERMS], light: f64) {
        let mut at = 0;
        for (row, own) in basis.iter().enumerate() {
            for other in &basis[row..] {
                self.products[at] += own * other;
                at += 1;
            }
        }
        for (sum, own) in self.light.iter_mut().zip(basis) {
            *sum += own * light;
        }
    }

    /// The equations of the first so many terms.
    fn rows(&self, terms: usize) -> [[f64; TERMS + 1]; TERMS] {
        let mut rows = [[0.0; TERMS + 1]; TERMS];
        let places = (0..TERMS).flat_map(|row| (row..TERMS).map(move |column| (row, column)));
        for ((row, column), sum) in places.zip(self.products).filter(|((_, column), _)| *column < terms) {
            (rows[row][column], rows[column][row]) = (sum, sum);
        }
        for (row, light) in rows.iter_mut().zip(self.light).take(terms) {
            row[TERMS] = light;
        }
        rows
    }
}

/// Solves symmetric equations by elimination with the largest pivot; nothing where they do not determine the unknowns.
fn solve(mut rows: [[f64; TERMS + 1]; TERMS], terms: usize) -> Option<[f64; TERMS]> {
    for column in 0..terms {
        let pivot = (column..terms).max_by(|a, b| rows[*a][column].abs().total_cmp(&rows[*b][column].abs()))?;
        rows.swap(column, pivot);
        let lead = rows[column];
        if lead[column].abs() < 1e-9 {
            return None;
        }
        for (at, row) in rows.iter_mut().enumerate().take(terms) {
            if at != column {
                let share = row[column] / lead[column];
                for (own, lead) in row.iter_mut().zip(lead) {
                    *own -= share * lead;
                }
            }
        }
    }
    let mut solved = [0.0; TERMS];
    for (at, value) in solved.iter_mut().enumerate().take(terms) {
        *value = rows[at][TERMS] / rows[at][at];
    }
    Some(solved)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bent(x: f64, y: f64) -> f64 {
        0.4 + 0.001 * x - 0.002 * y + 1e-5 * x * x - 2e-5 * x * y + 3e-6 * y * y
    }

    #[test]
    fn a_quadratic_is_found_again_beside_outliers() {
        let mut points: Vec<(f32, f32, f32)> = (0..60)
            .flat_map(|y| (0..80).map(move |x| (x as f32, y as f32, bent(f64::from(x), f64::from(y)) as f32)))
            .collect();
        for point in points.iter_mut().step_by(37) {
            point.2 += 0.5;
        }
        let surface = Surface::fit(&points, Shape::Quadratic).expect("a surface");
        assert!(
            (surface.at(10.0, 50.0) - bent(10.0, 50.0)).abs() < 1e-4,
            "{}",
            surface.at(10.0, 50.0) - bent(10.0, 50.0)
        );
        assert!(surface.scatter < 1e-3);
    }

    #[test]
    fn too_few_points_give_a_simpler_surface_or_none() {
        let points: Vec<(f32, f32, f32)> = (0..12).map(|i| (i as f32, 0.0, 0.3)).collect();
        let flat = Surface::fit(&points, Shape::Quadratic).expect("a flat one");
        assert!((flat.at(100.0, 100.0) - 0.3).abs() < 1e-6);
        assert!(Surface::fit(&points[..5], Shape::Flat).is_none());
        // Points in one line do not hold a plane.
        let line: Vec<(f32, f32, f32)> = (0..200).map(|i| (i as f32, 0.0, 0.3)).collect();
        assert!(Surface::fit(&line, Shape::Plane).is_none());
    }
}
