//! Generalised least squares with a doubt that all observations share.
//!
//! The covariance of the observations is `V = diag(v_i) + u_c²·1·1ᵀ`: an independent part, and a shared one that more
//! observations do not average away; with several sources, one such block for the observations of each. Not here: which model to fit, and what is concluded from it.
//!
//! *Symbols:* X design, y values, `β = (XᵀV⁻¹X)⁻¹XᵀV⁻¹y`, n observations, p parameters, R Birge ratio.
//! *Sources:* JCGM 100:2008, H.3 for the line; R. T. Birge, Phys. Rev. 40 (1932) 207, for the ratio (from memory).

use crate::coverage::{effective_degrees_of_freedom, not_negative};
use crate::error::{Error, finite};
use crate::estimate::Estimate;

/// A column that depends on the others to within this part of its length cannot be told from them.
const RANK_TOLERANCE: f64 = 1e-10;

/// A fit with its covariance, the independent and the shared part kept apart.
#[derive(Clone, Debug)]
pub struct Fit {
    coefficients: Vec<f64>,
    /// `G diag(v) Gᵀ`, after scaling, row by row.
    independent: Vec<f64>,
    /// `G·g_s`, source by source: what an offset of one that its observations share does to each coefficient.
    shared_gain: Vec<f64>,
    shared_uncertainties: Vec<f64>,
    residuals: Vec<f64>,
    chi_squared: f64,
    freedom: usize,
    scaled: bool,
}

/// Fits `y = Xβ` with `V = diag(independent_variances) + shared_uncertainty²·1·1ᵀ`.
///
/// Where the scatter is larger than stated, `R² = eᵀWe/(n − p) > 1` with W the inverse of the independent part alone, the
/// independent part is multiplied by R² and the fit is done again, once; its degrees of freedom are then n − p. The shared
/// part is never scaled: scatter says nothing about it.
///
/// **Arguments** `design` n rows of p numbers; `values` n numbers; `independent_variances` n numbers above 0, in the square
/// of the values' unit; `shared_uncertainty` not below 0, in the values' unit.
/// **Errors** where the lengths differ, n < p, a number is not finite, a variance is not above 0, or the columns of the
/// design cannot be told apart.
/// **Method** whitening by the Cholesky factor of V, then Householder reflections on columns scaled to length one: about `n³`
/// steps, meant for hundreds of observations. A shared doubt 10⁴ times the others costs half of the digits.
pub fn generalised_least_squares(
    design: &[Vec<f64>],
    values: &[f64],
    independent_variances: &[f64],
    shared_uncertainty: f64,
) -> Result<Fit, Error> {
    let sources = vec![0; values.len()];
    least_squares_by_source(design, values, independent_variances, &sources, &[shared_uncertainty])
}

/// The same with several sources: `V = diag(independent_variances) + Σ u_s²·g_s·g_sᵀ`, g_s one for the observations of source s.
///
/// The scatter is counted with each source's own offset left free, so that sources that lie apart do not look like scatter; n − p
/// is then smaller by the sources beyond the first.
///
/// **Arguments** `sources` n numbers that count into `shared_uncertainties`. **Errors** also where one counts beyond it.
pub fn least_squares_by_source<R: AsRef<[f64]>>(
    design: &[R],
    values: &[f64],
    independent_variances: &[f64],
    sources: &[usize],
    shared_uncertainties: &[f64],
) -> Result<Fit, Error> {
    let design = Design::of(design, values, independent_variances, shared_uncertainties)?;
    let (n, p) = (design.rows, design.columns);
    if sources.len() != n || sources.iter().any(|source| *source >= shared_uncertainties.len()) {
        return Err(Error::new(format!(
            "every observation needs one of the {} sources, and {} were named for {n}",
            shared_uncertainties.len(),
            sources.len()
        )));
    }
    let shared = Shared { sources, uncertainties: shared_uncertainties };
    let first = solve(&design, values, independent_variances, &shared)?;
    let chi_of =
        |solved: &Solved| solved.residuals.iter().zip(independent_variances).map(|(e, v)| e * e / v).sum::<f64>();
    let (chi_squared, freedom) = match freed(&design, values, independent_variances, sources) {
        Some((solved, parameters)) => (chi_of(&solved), n - parameters),
        None => (chi_of(&first), n - p),
    };
    let ratio = if freedom > 0 { chi_squared / freedom as f64 } else { 0.0 };
    let scaled = ratio > 1.0 && ratio.is_finite();
    let last = if scaled {
        let wider: Vec<f64> = independent_variances.iter().map(|v| v * ratio).collect();
        solve(&design, values, &wider, &shared)?
    } else {
        first
    };
    let outcome = last.coefficients.iter().chain(&last.independent).chain(&last.shared_gain);
    for number in outcome.chain(&last.residuals).chain([&chi_squared]) {
        finite(*number, "outcome of the fit")?;
    }
    Ok(Fit {
        coefficients: last.coefficients,
        independent: last.independent,
        shared_gain: last.shared_gain,
        shared_uncertainties: shared_uncertainties.to_vec(),
        residuals: last.residuals,
        chi_squared,
        freedom,
        scaled,
    })
}

/// A design in one piece: the numbers row by row.
struct Design {
    numbers: Vec<f64>,
    rows: usize,
    columns: usize,
}

impl Design {
    /// A design with the values that it is for, when all of them can be fitted.
    fn of<R: AsRef<[f64]>>(design: &[R], values: &[f64], variances: &[f64], shared: &[f64]) -> Result<Self, Error> {
        let n = values.len();
        let p = design.first().map_or(0, |row| row.as_ref().len());
        if n == 0 || p == 0 {
            return Err(Error::new("a fit needs one observation and one parameter at least, and none was given"));
        }
        if design.len() != n || variances.len() != n {
            return Err(Error::new(format!(
                "a fit needs as many rows and variances as values: {} rows, {} variances, {n} values were given",
                design.len(),
                variances.len()
            )));
        }
        if design.iter().any(|row| row.as_ref().len() != p) {
            return Err(Error::new("the rows of the design must all have the same length"));
        }
        if n < p {
            return Err(Error::new(format!("{p} parameters need {p} observations at least, and {n} were given")));
        }
        for uncertainty in shared {
            not_negative(*uncertainty, "shared uncertainty")?;
        }
        let mut numbers = Vec::with_capacity(n * p);
        for row in design {
            numbers.extend_from_slice(row.as_ref());
        }
        for value in numbers.iter().chain(values) {
            finite(*value, "observation")?;
        }
        for variance in variances {
            if !(*variance > 0.0 && variance.is_finite()) {
                return Err(Error::new(format!("the independent variance must be above 0, and {variance} was given")));
            }
        }
        Ok(Self { numbers, rows: n, columns: p })
    }

    fn each_row(&self) -> impl Iterator<Item = &[f64]> {
        self.numbers.chunks_exact(self.columns)
    }
}

/// What observations share: which source each has, and how sure each source is.
struct Shared<'a> {
    sources: &'a [usize],
    uncertainties: &'a [f64],
}

impl Shared<'_> {
    fn covariance(&self, i: usize, j: usize) -> f64 {
        let (one, other) = (self.sources[i], self.sources[j]);
        if one == other { self.uncertainties[one] * self.uncertainties[one] } else { 0.0 }
    }
}

/// The fit with every source's offset against the first one's left free, and its number of parameters; nothing where there is
/// one source only, or the offsets cannot be told from the parameters.
fn freed(design: &Design, values: &[f64], variances: &[f64], sources: &[usize]) -> Option<(Solved, usize)> {
    if sources.iter().all(|source| Some(source) == sources.first()) {
        return None;
    }
    let mut named: Vec<usize> = sources.to_vec();
    named.sort_unstable();
    named.dedup();
    let others = named.get(1..)?;
    let parameters = design.columns + others.len();
    if parameters >= values.len() {
        return None;
    }
    let mut numbers = Vec::with_capacity(design.rows * parameters);
    for (row, source) in design.each_row().zip(sources) {
        numbers.extend_from_slice(row);
        numbers.extend(others.iter().map(|other| f64::from(u8::from(source == other))));
    }
    let wider = Design { numbers, rows: design.rows, columns: parameters };
    let alone = Shared { sources: &vec![0; values.len()], uncertainties: &[0.0] };
    Some((solve(&wider, values, variances, &alone).ok()?, parameters))
}

struct Solved {
    coefficients: Vec<f64>,
    independent: Vec<f64>,
    shared_gain: Vec<f64>,
    residuals: Vec<f64>,
}

fn solve(design: &Design, values: &[f64], variances: &[f64], shared: &Shared<'_>) -> Result<Solved, Error> {
    let (n, p) = (design.rows, design.columns);
    let factor = cholesky(variances, shared);
    // Columns of length one keep the reflections accurate where parameters differ by many orders of magnitude.
    let lengths: Vec<f64> = (0..p)
        .map(|j| {
            let length = design.each_row().map(|row| row[j] * row[j]).sum::<f64>().sqrt();
            if length > 0.0 { length } else { 1.0 }
        })
        .collect();
    // The design's columns, the values, and each observation's own unit vector, so that the gain G of β = G y comes out of the
    // same reflections; all of n numbers, one after another.
    let mut columns = vec![0.0; (p + 1 + n) * n];
    for (i, row) in design.each_row().enumerate() {
        for (j, (x, length)) in row.iter().zip(&lengths).enumerate() {
            columns[j * n + i] = x / length;
        }
        columns[p * n + i] = values[i];
        columns[(p + 1 + i) * n + i] = 1.0;
    }
    for (j, column) in columns.chunks_exact_mut(n).enumerate() {
        // Above its one a unit vector stays nothing.
        forward(&factor, column, j.saturating_sub(p + 1));
    }
    reflect(&mut columns, p, n)?;
    let (triangle, rotated) = columns.split_at(p * n);
    let back = |right: &[f64], beta: &mut [f64]| {
        for i in (0..p).rev() {
            let sum: f64 = (i + 1..p).map(|j| triangle[j * n + i] * beta[j]).sum();
            beta[i] = (right[i] - sum) / triangle[i * n + i];
        }
        beta.iter_mut().zip(&lengths).for_each(|(b, length)| *b /= length);
    };
    let mut coefficients = vec![0.0; p];
    back(&rotated[..n], &mut coefficients);
    let mut gain = vec![0.0; n * p];
    for (right, column) in rotated[n..].chunks_exact(n).zip(gain.chunks_exact_mut(p)) {
        back(right, column);
    }
    let of = |a: usize, b: usize| (0..n).map(|i| gain[i * p + a] * variances[i] * gain[i * p + b]).sum::<f64>();
    let independent = (0..p * p).map(|at| of(at / p, at % p)).collect();
    let mut shared_gain = Vec::with_capacity(shared.uncertainties.len() * p);
    for source in 0..shared.uncertainties.len() {
        let own = || gain.chunks_exact(p).zip(shared.sources).filter(|(_, other)| **other == source);
        shared_gain.extend((0..p).map(|a| own().map(|(column, _)| column[a]).sum::<f64>()));
    }
    let residuals = design
        .each_row()
        .zip(values)
        .map(|(row, value)| value - row.iter().zip(&coefficients).map(|(x, b)| x * b).sum::<f64>())
        .collect();
    Ok(Solved { coefficients, independent, shared_gain, residuals })
}

/// Lower Cholesky factor of V, row by row, each as long as all of them; positive definite since every v is above 0.
fn cholesky(variances: &[f64], shared: &Shared<'_>) -> Vec<f64> {
    let n = variances.len();
    let mut factor = vec![0.0; n * n];
    for (i, variance) in variances.iter().enumerate() {
        for j in 0..=i {
            let (above, row) = factor.split_at_mut(i * n);
            let other = if j == i { &row[..j] } else { &above[j * n..j * n + j] };
            let sum: f64 = row[..j].iter().zip(other).map(|(a, b)| a * b).sum();
            let entry = shared.covariance(i, j) + if i == j { *variance } else { 0.0 } - sum;
            row[j] = if i == j { entry.max(f64::MIN_POSITIVE).sqrt() } else { entry / above[j * n + j] };
        }
    }
    factor
}

/// Solves `L x = b` in place, where b has nothing before `from`.
fn forward(factor: &[f64], x: &mut [f64], from: usize) {
    let n = x.len();
    for i in from..n {
        let row = &factor[i * n..i * n + i + 1];
        let (known, rest) = x.split_at_mut(i);
        let sum: f64 = row[from..i].iter().zip(&known[from..]).map(|(l, known)| l * known).sum();
        rest[0] = (rest[0] - sum) / row[i];
    }
}

/// Householder reflections that make the first p columns of n numbers upper triangular, done to all columns alike.
fn reflect(columns: &mut [f64], p: usize, n: usize) -> Result<(), Error> {
    let mut mirror = Vec::with_capacity(n);
    for j in 0..p {
        let own = &columns[j * n..(j + 1) * n];
        let whole = own.iter().map(|x| x * x).sum::<f64>().sqrt();
        let below = own[j..].iter().map(|x| x * x).sum::<f64>().sqrt();
        if below <= RANK_TOLERANCE * whole || below == 0.0 {
            return Err(Error::new(format!(
                "parameter {} cannot be told from the others by these observations",
                j + 1
            )));
        }
        let corner = if own[j] > 0.0 { -below } else { below };
        mirror.clear();
        mirror.extend_from_slice(&own[j..]);
        mirror[0] -= corner;
        let square: f64 = mirror.iter().map(|x| x * x).sum();
        for column in columns[j * n..].chunks_exact_mut(n) {
            let along: f64 = mirror.iter().zip(&column[j..]).map(|(m, x)| m * x).sum();
            let twice = 2.0 * along / square;
            for (x, m) in column[j..].iter_mut().zip(&mirror) {
                *x -= twice * m;
            }
        }
    }
    Ok(())
}

impl Fit {
    /// Coefficient i with its full doubt. `i` counts the columns of the design; one beyond them is a programming error.
    pub fn coefficient(&self, i: usize) -> Estimate {
        let mut row = vec![0.0; self.coefficients.len()];
        row[i] = 1.0;
        self.predict(&row)
    }

    /// `xᵀβ` with its full doubt and effective degrees of freedom (Welch and Satterthwaite, the shared part unlimited).
    /// `row` holds one finite number for each column of the design.
    pub fn predict(&self, row: &[f64]) -> Estimate {
        let value: f64 = row.iter().zip(&self.coefficients).map(|(x, b)| x * b).sum();
        let independent = self.independent_uncertainty(row);
        let shared = self.shared_part(row);
        let own = if self.scaled { self.freedom as f64 } else { f64::INFINITY };
        Estimate::checked(
            value,
            (independent * independent + shared * shared).sqrt(),
            effective_degrees_of_freedom(&[(independent, own), (shared, f64::INFINITY)]),
        )
    }

    /// The part of the doubt of `xᵀβ` that comes from the independent variances, scaled where they were.
    pub fn independent_uncertainty(&self, row: &[f64]) -> f64 {
        let variance: f64 = row
            .iter()
            .zip(self.independent.chunks_exact(self.coefficients.len()))
            .map(|(x, line)| x * line.iter().zip(row).map(|(c, y)| c * y).sum::<f64>())
            .sum();
        variance.max(0.0).sqrt()
    }

    /// What an offset of one that all observations of a source share does to `xᵀβ`: with one source, one for a constant and
    /// nothing for a slope. 0 for a source that there is not.
    pub fn shared_sensitivity(&self, row: &[f64], source: usize) -> f64 {
        let mut gains = self.shared_gain.chunks_exact(self.coefficients.len());
        gains.nth(source).map_or(0.0, |gain| row.iter().zip(gain).map(|(x, g)| x * g).sum())
    }

    /// The part of the doubt of `xᵀβ` that comes from what observations share.
    pub fn shared_part(&self, row: &[f64]) -> f64 {
        let parts = self.shared_uncertainties.iter().enumerate().map(|(source, uncertainty)| {
            let part = self.shared_sensitivity(row, source) * uncertainty;
            part * part
        });
        parts.sum::<f64>().sqrt()
    }

    /// Covariance of two coefficients.
    pub fn covariance(&self, i: usize, j: usize) -> f64 {
        let p = self.coefficients.len();
        let gains = self.shared_gain.chunks_exact(p);
        let shared = self.shared_uncertainties.iter().zip(gains).map(|(u, gain)| u * u * gain[i] * gain[j]);
        self.independent[i * p + j] + shared.sum::<f64>()
    }

    /// Correlation of two coefficients; 0 where one has no doubt.
    pub fn correlation(&self, i: usize, j: usize) -> f64 {
        let scale = (self.covariance(i, i) * self.covariance(j, j)).sqrt();
        if scale > 0.0 { self.covariance(i, j) / scale } else { 0.0 }
    }

    /// `y − Xβ`.
    pub fn residuals(&self) -> &[f64] {
        &self.residuals
    }

    /// n − p.
    pub fn residual_degrees_of_freedom(&self) -> usize {
        self.freedom
    }

    /// `R = √(eᵀWe/(n − p))` by the variances as stated; 0 where n = p.
    pub fn birge_ratio(&self) -> f64 {
        if self.freedom == 0 { 0.0 } else { (self.chi_squared / self.freedom as f64).sqrt() }
    }

    /// `eᵀWe` by the variances as stated.
    pub fn chi_squared(&self) -> f64 {
        self.chi_squared
    }

    /// Whether the independent part was widened by R².
    pub fn is_scaled(&self) -> bool {
        self.scaled
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn line(x: &[f64]) -> Vec<Vec<f64>> {
        let mean = x.iter().sum::<f64>() / x.len() as f64;
        x.iter().map(|x| vec![1.0, x - mean]).collect()
    }

    #[test]
    fn a_perfect_line_is_found() {
        let fit = generalised_least_squares(&line(&[1.0, 2.0, 3.0]), &[3.0, 5.0, 7.0], &[0.01; 3], 0.0).expect("a fit");
        assert!((fit.coefficient(0).value() - 5.0).abs() < 1e-12 && (fit.coefficient(1).value() - 2.0).abs() < 1e-12);
        assert!(!fit.is_scaled() && fit.coefficient(0).degrees_of_freedom().is_infinite());
    }

    #[test]
    fn what_cannot_be_fitted_is_refused_with_a_reason() {
        let refused = |design: &[Vec<f64>], values: &[f64], variances: &[f64], shared: f64| {
            generalised_least_squares(design, values, variances, shared).expect_err("refused").to_string()
        };
        assert!(refused(&[], &[], &[], 0.0).contains("none was given"));
        assert!(refused(&[vec![1.0, 2.0]], &[1.0], &[1.0], 0.0).contains("2 observations"));
        assert!(refused(&[vec![1.0, 2.0], vec![1.0, 2.0]], &[1.0, 1.0], &[1.0; 2], 0.0).contains("cannot be told"));
        assert!(refused(&[vec![1.0]], &[f64::NAN], &[1.0], 0.0).contains("finite"));
        assert!(refused(&[vec![1.0]], &[1.0], &[0.0], 0.0).contains("above 0"));
        assert!(refused(&[vec![1.0]], &[1.0], &[1.0], -1.0).contains("shared"));
    }

    /// Two observations and a shared doubt: the closed forms of the weighted mean and its doubt.
    #[test]
    fn unequal_observations_are_weighed_by_their_own_doubt() {
        let fit = generalised_least_squares(&[vec![1.0], vec![1.0]], &[1.0, 1.1], &[0.01, 0.04], 0.4).expect("a fit");
        assert!((fit.coefficient(0).value() - 1.02).abs() < 1e-12, "{}", fit.coefficient(0).value());
        assert!((fit.independent_uncertainty(&[1.0]) - 0.008_f64.sqrt()).abs() < 1e-12);
        assert!((fit.coefficient(0).standard_uncertainty() - (0.16 + 0.008_f64).sqrt()).abs() < 1e-12);
    }

    #[test]
    fn only_the_independent_part_is_widened_by_scatter() {
        let wild =
            generalised_least_squares(&vec![vec![1.0]; 4], &[0.0, 1.0, 0.0, 1.0], &[0.01; 4], 0.3).expect("a fit");
        assert!(wild.is_scaled() && wild.birge_ratio() > 5.0);
        let spread = 1.0_f64 / 3.0 / 4.0;
        assert!((wild.coefficient(0).standard_uncertainty() - (spread + 0.09).sqrt()).abs() < 1e-12);
        assert!((wild.independent_uncertainty(&[1.0]) - spread.sqrt()).abs() < 1e-12);
        assert!((wild.shared_sensitivity(&[1.0], 0) - 1.0).abs() < 1e-12);
    }

    proptest! {
        #[test]
        fn the_shared_doubt_raises_the_offset_and_leaves_the_slope(
            y in prop::collection::vec(-2.0..2.0_f64, 3..15), shared in 0.0..2.0_f64,
        ) {
            let x: Vec<f64> = (0..y.len()).map(|i| i as f64).collect();
            let v: Vec<f64> = (0..y.len()).map(|i| 0.01 + 0.002 * i as f64).collect();
            let with = generalised_least_squares(&line(&x), &y, &v, shared).unwrap();
            let without = generalised_least_squares(&line(&x), &y, &v, 0.0).unwrap();
            let close = |a: f64, b: f64| (a - b).abs() < 1e-9;
            prop_assert!(close(with.coefficient(1).value(), without.coefficient(1).value()));
            prop_assert!(close(with.coefficient(1).standard_uncertainty(), without.coefficient(1).standard_uncertainty()));
            let (u, bare) = (with.coefficient(0).standard_uncertainty(), without.coefficient(0).standard_uncertainty());
            prop_assert!(close(u * u, bare * bare + shared * shared));
        }

        #[test]
        fn raising_every_value_raises_the_offset_by_as_much(
            y in prop::collection::vec(-2.0..2.0_f64, 2..15), raise in -5.0..5.0_f64,
        ) {
            let x: Vec<f64> = (0..y.len()).map(|i| i as f64).collect();
            let v = vec![0.02; y.len()];
            let raised: Vec<f64> = y.iter().map(|y| y + raise).collect();
            let a = generalised_least_squares(&line(&x), &y, &v, 0.1).unwrap();
            let b = generalised_least_squares(&line(&x), &raised, &v, 0.1).unwrap();
            prop_assert!((b.coefficient(0).value() - a.coefficient(0).value() - raise).abs() < 1e-10);
            prop_assert!((b.coefficient(1).value() - a.coefficient(1).value()).abs() < 1e-10);
        }

        #[test]
        fn one_more_observation_never_adds_doubt_but_by_scatter(
            y in prop::collection::vec(-2.0..2.0_f64, 1..12), v in prop::collection::vec(0.001..1.0_f64, 13), more in -2.0..2.0_f64,
        ) {
            let mut longer = y.clone();
            longer.push(more);
            let fit = |y: &[f64]| generalised_least_squares(&vec![vec![1.0]; y.len()], y, &v[..y.len()], 0.2).unwrap();
            let (a, b) = (fit(&y), fit(&longer));
            if !b.is_scaled() {
                prop_assert!(b.coefficient(0).standard_uncertainty() <= a.coefficient(0).standard_uncertainty() + 1e-12);
            }
        }

        #[test]
        fn no_numbers_make_a_panic(
            rows in prop::collection::vec(prop::collection::vec(prop::num::f64::ANY, 0..4), 0..6),
            y in prop::collection::vec(prop::num::f64::ANY, 0..6), v in prop::collection::vec(prop::num::f64::ANY, 0..6),
            shared in prop::num::f64::ANY,
        ) {
            if let Ok(fit) = generalised_least_squares(&rows, &y, &v, shared) {
                prop_assert!(fit.residuals().len() == y.len());
            }
        }
    }

    #[test]
    fn two_sources_share_their_own_doubts_only() {
        // Two levels by each of two references; a constant is their weighted mean, and each shared doubt counts with its weight.
        let design = vec![vec![1.0]; 4];
        let fit = least_squares_by_source(&design, &[0.0, 0.0, 1.0, 1.0], &[0.02; 4], &[0, 0, 1, 1], &[0.1, 0.3])
            .expect("a fit");
        // Means of each source have the variances 0.01 + 0.01 and 0.01 + 0.09.
        let weights = (1.0 / 0.02, 1.0 / 0.10);
        let estimate = fit.coefficient(0);
        assert!((estimate.value() - weights.1 / (weights.0 + weights.1)).abs() < 1e-12);
        let doubt = (1.0 / (weights.0 + weights.1)).sqrt();
        assert!((estimate.standard_uncertainty() - doubt).abs() < 1e-12);
        // Within each source there is no scatter at all, however far the two lie apart.
        assert!(fit.birge_ratio() < 1e-9 && fit.residual_degrees_of_freedom() == 2);
    }

    #[test]
    fn a_slope_over_two_sources_has_their_difference_in_its_doubt() {
        let design = line(&[0.0, 1.0, 2.0, 3.0]);
        let by = |sources: &[usize], shared: &[f64]| {
            least_squares_by_source(&design, &[0.0; 4], &[1e-4; 4], sources, shared)
                .expect("a fit")
                .coefficient(1)
                .standard_uncertainty()
        };
        let one = by(&[0; 4], &[0.3]);
        let halves = by(&[0, 0, 1, 1], &[0.3, 0.3]);
        let mixed = by(&[0, 1, 0, 1], &[0.3, 0.3]);
        assert!(halves > 1.3 * one && mixed < 1.3 * halves && mixed >= one - 1e-12, "{one} {halves} {mixed}");
    }

    #[test]
    fn a_source_that_is_not_there_is_refused() {
        assert!(least_squares_by_source(&[vec![1.0]], &[0.0], &[0.1], &[1], &[0.1]).is_err());
        assert!(least_squares_by_source(&[vec![1.0]], &[0.0], &[0.1], &[], &[0.1]).is_err());
    }
}
