//! Which model the levels carry: an offset, a line, or a fall-off at the low end, each by generalised least squares.
//!
//! Not here: least squares themselves ([`metrology::least_squares_by_source`]); what is concluded ([`super::judge`]).

use metrology::{Estimate, Fit, least_squares_by_source};
use photometry::Ev;

use super::ALIKE_EV;
use crate::error::Error;

/// A fall-off needs this many levels.
const FALL_OFF_LEVELS: usize = 5;
/// And must beat the line by so much in the corrected Akaike criterion.
const FALL_OFF_GAIN: f64 = 4.0;
/// Levels on each side of the place where it begins, or its two parameters cannot be told apart.
const FALL_OFF_SIDE: usize = 2;
/// Where it begins is searched in steps of this [EV].
const FALL_OFF_GRID_EV: f64 = 0.02;
/// A column whose square about the means is no more than this share of the whole loses too many digits in the sums.
const TELLING: f64 = 1e-12;

/// The shape of the error over the light.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Model {
    /// `e = a`.
    Offset,
    /// `e = a + b (r − r̄)`.
    Line { mean: f64 },
    /// `e = a + b·max(0, r₀ − r)`, linearised at its best r₀ so that the doubt of r₀ is in the result.
    FallOff { begins: f64, steepness: f64 },
}

/// One row of a design.
struct Row {
    numbers: [f64; 3],
    count: usize,
}

impl AsRef<[f64]> for Row {
    fn as_ref(&self) -> &[f64] {
        &self.numbers[..self.count]
    }
}

impl Model {
    /// How many parameters it has.
    const fn parameters(self) -> usize {
        match self {
            Model::Offset => 1,
            Model::Line { .. } => 2,
            Model::FallOff { .. } => 3,
        }
    }

    fn row(self, light: f64) -> Row {
        let numbers = match self {
            Model::Offset => [1.0, 0.0, 0.0],
            Model::Line { mean } => [1.0, light - mean, 0.0],
            Model::FallOff { begins, steepness } => {
                let below = begins - light;
                [1.0, below.max(0.0), if below > 0.0 { steepness } else { 0.0 }]
            }
        };
        Row { numbers, count: self.parameters() }
    }
}

/// The model that was chosen, with its fit.
pub(crate) struct Chosen {
    pub(crate) model: Model,
    pub(crate) fit: Fit,
    /// The line's slope, whether it was chosen or not.
    pub(crate) slope: Option<Estimate>,
}

impl Chosen {
    pub(crate) fn predict(&self, light: f64) -> Estimate {
        self.fit.predict(self.model.row(light).as_ref())
    }

    pub(crate) fn independent_uncertainty(&self, light: f64) -> f64 {
        self.fit.independent_uncertainty(self.model.row(light).as_ref())
    }

    /// The part of the doubt that the levels of each reference share [stops].
    pub(crate) fn shared_part(&self, light: f64) -> f64 {
        self.fit.shared_part(self.model.row(light).as_ref())
    }

    pub(crate) fn offset(&self) -> Estimate {
        self.fit.coefficient(0)
    }

    pub(crate) fn birge_ratio(&self) -> f64 {
        self.fit.birge_ratio()
    }

    pub(crate) fn parameters(&self) -> usize {
        self.model.parameters()
    }

    pub(crate) fn fall_off_below(&self) -> Option<Ev> {
        match self.model {
            Model::FallOff { begins, .. } => Ev::new(begins).ok(),
            _ => None,
        }
    }

    /// The fitted error at places along the range, for drawing.
    pub(crate) fn curve(&self, lights: &[f64]) -> Vec<(f64, Estimate)> {
        let (low, high) = range(lights);
        const PLACES: usize = 24;
        let mut at: Vec<f64> = (0..=PLACES).map(|i| low + (high - low) * i as f64 / PLACES as f64).collect();
        if let Model::FallOff { begins, .. } = self.model {
            at.push(begins);
            at.sort_by(f64::total_cmp);
        }
        at.into_iter().map(|light| (light, self.predict(light))).collect()
    }
}

/// Dimmest and brightest light.
pub(crate) fn range(lights: &[f64]) -> (f64, f64) {
    lights.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), &light| (low.min(light), high.max(light)))
}

/// The levels as numbers, each with its reference.
pub(crate) struct Levels<'a> {
    pub(crate) lights: &'a [f64],
    pub(crate) errors: &'a [f64],
    pub(crate) variances: &'a [f64],
    /// Which reference each level has.
    pub(crate) sources: &'a [usize],
    /// What the levels of each reference share \[stops\].
    pub(crate) shared: &'a [f64],
}

impl Levels<'_> {
    fn fit(&self, row: impl Fn(f64) -> Row) -> Result<Fit, Error> {
        let design: Vec<Row> = self.lights.iter().map(|&light| row(light)).collect();
        Ok(least_squares_by_source(&design, self.errors, self.variances, self.sources, self.shared)?)
    }
}

impl Levels<'_> {
    /// The fit of `e = a + b·max(0, r₀ − r)` with r₀ given.
    fn bent(&self, begins: f64) -> Result<Fit, Error> {
        self.fit(|light| Row { numbers: [1.0, (begins - light).max(0.0), 0.0], count: 2 })
    }
}

/// Chooses the model by the rules of [`super::judge`].
pub(crate) fn choose(levels: &Levels<'_>) -> Result<Chosen, Error> {
    let fit = |model: Model| levels.fit(|light| model.row(light));
    let lights = levels.lights;
    let offset = Chosen { model: Model::Offset, fit: fit(Model::Offset)?, slope: None };
    let (low, high) = range(lights);
    if lights.len() < 2 || high - low < ALIKE_EV {
        return Ok(offset);
    }
    let line = Model::Line { mean: lights.iter().sum::<f64>() / lights.len() as f64 };
    let line_fit = fit(line)?;
    let slope = line_fit.coefficient(1);
    if let Some(found) = fall_off(levels, &line_fit)? {
        return Ok(Chosen { slope: Some(slope), ..found });
    }
    if slope.value().abs() > slope.expanded_95() {
        return Ok(Chosen { model: line, fit: line_fit, slope: Some(slope) });
    }
    Ok(Chosen { slope: Some(slope), ..offset })
}

/// The fall-off, where the levels carry it.
fn fall_off(levels: &Levels<'_>, line: &Fit) -> Result<Option<Chosen>, Error> {
    let lights = levels.lights;
    let n = lights.len();
    if n < FALL_OFF_LEVELS {
        return Ok(None);
    }
    let mut sorted = lights.to_vec();
    sorted.sort_by(f64::total_cmp);
    let (first, last) = (sorted[FALL_OFF_SIDE - 1], sorted[n - FALL_OFF_SIDE]);
    let Some(begins) = Search::of(levels).best(levels, first, last) else { return Ok(None) };
    let Ok(bent) = levels.bent(begins) else { return Ok(None) };
    let (chi_squared, steepness) = (bent.chi_squared(), bent.coefficient(1).value());
    // Where the doubts are stated too small, both criteria shrink alike: a gain is counted in the scatter that is there.
    let scale = (chi_squared / (n - 3) as f64).max(1.0);
    let gain = corrected_akaike(line.chi_squared() / scale, 2, n) - corrected_akaike(chi_squared / scale, 3, n);
    if gain < FALL_OFF_GAIN || steepness == 0.0 {
        return Ok(None);
    }
    let model = Model::FallOff { begins, steepness };
    Ok(levels.fit(|light| model.row(light)).ok().map(|fit| Chosen { model, fit, slope: None }))
}

/// The scatter of `e = a + b·max(0, r₀ − r)` for one r₀ after another, without a fit for each.
///
/// With each source's offset left free, as [`least_squares_by_source`] counts scatter, `χ² = S_yy − S_xy²/S_xx`, the sums
/// weighed by 1/v and taken about the means of each source. As r₀ passes over a level, one term joins them.
struct Search {
    /// Light less the dimmest, error, weight and source of each level, the dimmest first.
    levels: Vec<(f64, f64, f64, usize)>,
    dimmest: f64,
    sources: Vec<Sums>,
    /// `S_yy`.
    spread: f64,
    /// Whether there are levels enough to leave every source's offset free; else a fit tells the scatter.
    is_free: bool,
}

/// The sums of one source.
#[derive(Clone, Copy, Default)]
struct Sums {
    /// Of all its levels: weights, and weighed errors.
    weight: f64,
    error: f64,
    /// Of those below r₀: weights, weighed lights and their squares, weighed errors, and these times the light.
    below: [f64; 5],
}

impl Search {
    fn of(all: &Levels<'_>) -> Self {
        let dimmest = all.lights.iter().copied().fold(f64::INFINITY, f64::min);
        let count = all.sources.iter().max().map_or(0, |most| most + 1);
        let mut sources = vec![Sums::default(); count];
        for ((error, variance), source) in all.errors.iter().zip(all.variances).zip(all.sources) {
            sources[*source].weight += 1.0 / variance;
            sources[*source].error += error / variance;
        }
        let mut spread = 0.0;
        let mut levels = Vec::with_capacity(all.lights.len());
        for (i, light) in all.lights.iter().enumerate() {
            let (source, weight) = (all.sources[i], 1.0 / all.variances[i]);
            // About the mean of its source, so that the sums do not lose what is small beside an offset.
            let error = all.errors[i] - sources[source].error / sources[source].weight;
            spread += weight * error * error;
            levels.push((light - dimmest, error, weight, source));
        }
        let levels = metrology::ascending(levels, |level| level.0);
        let named = sources.iter().filter(|source| source.weight > 0.0).count();
        Self { is_free: named == 1 || named + 1 < levels.len(), levels, dimmest, sources, spread }
    }

    /// The place between `first` and `last` where the scatter is least; nothing where none can be told.
    fn best(mut self, all: &Levels<'_>, first: f64, last: f64) -> Option<f64> {
        let mut best: Option<(f64, f64)> = None;
        let mut passed = 0;
        let mut begins = first + FALL_OFF_GRID_EV;
        while begins <= last {
            let at = begins - self.dimmest;
            while let Some((light, error, weight, source)) = self.levels.get(passed).copied().filter(|one| one.0 < at) {
                let terms = [1.0, light, light * light, error, error * light];
                for (sum, term) in self.sources[source].below.iter_mut().zip(terms) {
                    *sum += weight * term;
                }
                passed += 1;
            }
            let (mut square, mut whole, mut product) = (0.0, 0.0, 0.0);
            for Sums { weight, below: [w, wr, wrr, we, wer], .. } in &self.sources {
                // x = r₀ − r for the levels below r₀, and 0 for the others.
                let (sum, squares) = (at * w - wr, at * at * w - 2.0 * at * wr + wrr);
                if *weight > 0.0 {
                    square += squares - sum * sum / weight;
                    whole += squares;
                    product += at * we - wer;
                }
            }
            let chi_squared = if self.is_free && square > TELLING * whole {
                Some(self.spread - product * product / square)
            } else {
                // A place where the two columns cannot be told apart is no candidate; the others still are.
                all.bent(begins).ok().map(|fit| fit.chi_squared())
            };
            if let Some(chi_squared) = chi_squared.filter(|one| one.is_finite())
                && best.is_none_or(|(least, _)| chi_squared < least)
            {
                best = Some((chi_squared, begins));
            }
            begins += FALL_OFF_GRID_EV;
        }
        best.map(|(_, begins)| begins)
    }
}

/// `AICc = χ² + 2k + 2k(k+1)/(n−k−1)`; infinite where n leaves no freedom (Hurvich and Tsai, Biometrika 76, 1989, from memory).
fn corrected_akaike(chi_squared: f64, parameters: usize, n: usize) -> f64 {
    let k = parameters as f64;
    let freedom = n as f64 - k - 1.0;
    if freedom <= 0.0 { f64::INFINITY } else { chi_squared + 2.0 * k + 2.0 * k * (k + 1.0) / freedom }
}
