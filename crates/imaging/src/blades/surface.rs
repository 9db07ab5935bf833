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
        let mut all = Sums::default();
        all.add(points.iter().map(|p| surface.scaled(p)), 1.0);
        let mut offs = vec![0.0; points.len()];
        for round in 0..ROUNDS {
            // Before the first fit everything is kept.
            let limit = if round == 0 { f64::INFINITY } else { BEYOND * surface.scatter };
            let mut sums = all.clone();
            // Few are left out: taking them off costs less than adding up the others anew.
            let out = points.iter().zip(&offs).filter(|(_, off): &(_, &f64)| off.abs() > limit);
            sums.add(out.map(|(p, _)| surface.scaled(p)), -1.0);
            surface.coefficients = solve(sums.rows(terms), terms)?;
            for (point, off) in points.iter().zip(&mut offs) {
                let (x, y, light) = surface.scaled(point);
                *off = light - surface.of(x, y);
            }
            let (mut squares, mut number) = (0.0, 0.0);
            for off in offs.iter().filter(|off| off.abs() <= limit) {
                squares += off * off;
                number += 1.0;
            }
            if number < 5.0 * terms as f64 {
                break;
            }
            surface.scatter = (squares / (number - terms as f64).max(1.0)).sqrt().max(1e-6);
        }
        surface.coefficients.iter().all(|c| c.is_finite()).then_some(surface)
    }

    /// A point in the scaled coordinates, with its light.
    fn scaled(&self, (x, y, light): &(f32, f32, f32)) -> (f64, f64, f64) {
        let by = 1.0 / self.scale;
        ((f64::from(*x) - self.middle.0) * by, (f64::from(*y) - self.middle.1) * by, f64::from(*light))
    }

    /// Its light at a place.
    pub fn at(&self, x: f64, y: f64) -> f64 {
        let by = 1.0 / self.scale;
        self.of((x - self.middle.0) * by, (y - self.middle.1) * by)
    }

    /// Its light at a place in the scaled coordinates.
    fn of(&self, x: f64, y: f64) -> f64 {
        let [c, cx, cy, cxx, cxy, cyy] = self.coefficients;
        c + (cx + cxx * x + cxy * y) * x + (cy + cyy * y) * y
    }
}

/// How often x and y are factors of each term.
const POWERS: [(usize, usize); TERMS] = [(0, 0), (1, 0), (0, 1), (2, 0), (1, 1), (0, 2)];

/// Sums of products of a quadratic's terms with one another and with the light; each product once.
#[derive(Clone, Default)]
struct Sums {
    products: [f64; TERMS * (TERMS + 1) / 2],
    light: [f64; TERMS],
}

/// Sums over points of one row: of the powers of x, and of the light times them.
#[derive(Default)]
struct Row {
    powers: [f64; 5],
    light: [f64; 3],
}

impl Row {
    fn add(&mut self, x: f64, light: f64) {
        let mut power = 1.0;
        for (n, sum) in self.powers.iter_mut().enumerate() {
            *sum += power;
            if let Some(sum) = self.light.get_mut(n) {
                *sum += power * light;
            }
            power *= x;
        }
    }
}

impl Sums {
    /// Adds points so many times. Those that come one after another from one row share the powers of y.
    fn add(&mut self, points: impl Iterator<Item = (f64, f64, f64)>, times: f64) {
        let (mut row, mut at) = (Row::default(), f64::NAN);
        for (x, y, light) in points {
            if y != at {
                self.add_row(&row, at, times);
                (row, at) = (Row::default(), y);
            }
            row.add(x, light);
        }
        self.add_row(&row, at, times);
    }

    fn add_row(&mut self, row: &Row, y: f64, times: f64) {
        // Before the first row there is none, and no y.
        if row.powers[0] == 0.0 {
            return;
        }
        let of_y = [times, times * y, times * y * y, times * y * y * y, times * y * y * y * y];
        let pairs = POWERS.iter().enumerate().flat_map(|(n, own)| POWERS[n..].iter().map(move |other| (own, other)));
        for (sum, (own, other)) in self.products.iter_mut().zip(pairs) {
            *sum += row.powers[own.0 + other.0] * of_y[own.1 + other.1];
        }
        for (sum, own) in self.light.iter_mut().zip(POWERS) {
            *sum += row.light[own.0] * of_y[own.1];
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
