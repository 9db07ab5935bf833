//! The meter check: readings against a reference become an offset, a slope where the levels carry one, and a call.
//!
//! Holds the inputs ([`Run`], [`Level`], [`Reading`]) and [`judge`]. The fit is in `model`, what would settle an open call
//! in `settle`, sentences in `say`. Not here: what the dial should be set to ([`crate::remedy`]), the check that needs no
//! reference ([`crate::consistency`]), drawing ([`crate::drawing`]).
//!
//! *Symbols:* `r` reference \[EV at ISO 100\], `m` reading \[EV at ISO 100\], `e = m − r` error \[stops\], + reads high;
//! `u_i` doubt that is new at every level, `u_c` doubt that all levels of a reference share \[stops\].

mod model;
mod say;
mod settle;

use metrology::{Call, Estimate, Tolerance, conformance_probability, pooled_repeatability};
use photometry::{Ev, FilmSpeedMark, Stops};

use crate::camera::step_variance;
use crate::error::Error;
use crate::remedy::{self, DialAdvice};

pub(crate) use model::{Chosen, Model};

/// The smallest independent variance that a level is given [stops²]: a level with no doubt of its own at all takes its
/// doubt from the scatter, which any common small value leads to.
const SMALLEST_VARIANCE: f64 = 1e-12;

/// Levels closer than this are alike [EV]: no slope is told from them.
pub const ALIKE_EV: f64 = 0.05;

/// What the camera's meter said once.
#[derive(Clone, Debug)]
pub struct Reading {
    /// What it comes to.
    pub ev100: Ev,
    /// What the scale could be read to.
    pub step: Stops,
    /// As said: `1/125 · f/5.6`.
    pub words: String,
}

/// One steady amount of light.
#[derive(Clone, Debug)]
pub struct Level {
    /// What the light is.
    pub reference: Ev,
    /// Standard uncertainty of that which is new at this level.
    pub each_doubt: Stops,
    /// Which reference it was held against: counts into [`Run::shared_doubts`].
    pub source: usize,
    /// What the camera said, once or more.
    pub readings: Vec<Reading>,
}

/// A series of levels against one reference, or against several.
#[derive(Clone, Debug)]
pub struct Run {
    /// The levels.
    pub levels: Vec<Level>,
    /// Standard uncertainty that all levels of a reference share, reference by reference.
    pub shared_doubts: Vec<Stops>,
    /// Half-width of the tolerance.
    pub tolerance: Stops,
    /// Speed of the film in hand.
    pub film_speed: Option<FilmSpeedMark>,
    /// Lowest and highest mark of the film-speed dial.
    pub dial: Option<(FilmSpeedMark, FilmSpeedMark)>,
}

/// One level, judged.
#[derive(Clone, Debug)]
pub struct LevelJudgement {
    /// The light.
    pub reference: Ev,
    /// Meter error as read, with its own full doubt.
    pub error: Estimate,
    /// Meter error by the fit, with its doubt.
    pub fitted: Estimate,
    /// Probability that the fitted error is within the tolerance.
    pub conformity: f64,
    /// What the camera said: `1/125 · f/5.6`.
    pub reading_words: String,
}

/// What a run comes to.
#[derive(Clone, Debug)]
pub struct Judgement {
    /// Meter error in the middle of the range [stops].
    pub offset: Estimate,
    /// Change of the error with the light [stops per stop]; `None` where the levels are alike or only one.
    pub slope: Option<Estimate>,
    /// Whether the slope is beyond its doubt and part of the judgement.
    pub slope_reported: bool,
    /// Where a fall-off at the low end begins.
    pub fall_off_below: Option<Ev>,
    /// Scatter against the stated doubt; 0 where it cannot be told.
    pub birge_ratio: f64,
    /// The tolerance.
    pub tolerance: Stops,
    /// Level by level, in the order of the run.
    pub levels: Vec<LevelJudgement>,
    /// Probability that the worst level is within the tolerance.
    pub conformity: f64,
    /// The call.
    pub call: Call,
    /// What would settle it, or empty.
    pub settle: String,
    /// What to set the dial to, or why not.
    pub remedy: DialAdvice,
    /// One sentence on how the error runs over the range.
    pub pattern: String,
    /// Usual causes of such a pattern, worded as such.
    pub causes: Vec<String>,
    /// What a person should know before trusting it.
    pub notices: Vec<String>,
    /// The fitted error along the range, for drawing: light [EV], error [stops], its doubt.
    pub curve: Vec<(f64, Estimate)>,
}

/// The error of one level by itself, with its full doubt: `√(u_i² + step²/12 + s_r²/n + u_c²)`.
///
/// **Errors** where the level has no reading or the run's doubts are all zero.
pub fn level_error(level: &Level, shared_doubt: Stops, repeatability: f64) -> Result<Estimate, Error> {
    let variance = independent_variance(level, repeatability)? + shared_doubt.value() * shared_doubt.value();
    Ok(Estimate::new(mean_error(level)?, variance.sqrt(), f64::INFINITY)?)
}

/// Mean reading less reference [stops].
fn mean_error(level: &Level) -> Result<f64, Error> {
    let n = level.readings.len();
    if n == 0 {
        return Err(Error::new(format!(
            "the level at {} has no reading, and it needs one at least",
            crate::words::ev(level.reference.value())
        )));
    }
    let sum: f64 = level.readings.iter().map(|reading| reading.ev100.value()).sum();
    Ok(sum / n as f64 - level.reference.value())
}

/// `u_i² + step²/12 + s_r²/n`: the mean of n repeated readings has the n-th part of their variance (JCGM 100:2008, 4.2.3);
/// the step does not average, since repeats of a steady light fall on the same side of it.
fn independent_variance(level: &Level, repeatability: f64) -> Result<f64, Error> {
    if level.each_doubt.value() < 0.0 {
        return Err(Error::new(format!(
            "the reference's doubt must not be below 0 stops, and {} was given",
            level.each_doubt.value()
        )));
    }
    let step = level.readings.iter().map(|reading| step_variance(reading.step)).fold(0.0, f64::max);
    let n = level.readings.len().max(1) as f64;
    let each = level.each_doubt.value();
    Ok((each * each + step + repeatability * repeatability / n).max(SMALLEST_VARIANCE))
}

/// Judges a run: generalised least squares with `V = diag(u_i² + step_i²/12 + s_r²/n_i) + u_c²·1·1ᵀ`, one such block for the
/// levels of each reference, for an offset, for
/// offset and slope, and for a fall-off at the low end, whichever the levels carry.
///
/// The slope is part of it where `|b|` exceeds its 95 % expanded uncertainty; a fall-off only with five levels or more and
/// an AICc at least 4 better than the line's. Where the scatter is larger than stated the independent part is multiplied
/// by the squared Birge ratio, once; the shared part never, since scatter says nothing about it. The call uses the worst
/// level (JCGM 106:2012, 7.4, from memory; proof at 95 % as ISO 14253-1:2017, from memory).
///
/// **Errors:** no level, a level without a reading or of a reference that is not there, a doubt below 0, no doubt anywhere, a
/// tolerance that is not above 0.
pub fn judge(run: &Run) -> Result<Judgement, Error> {
    if run.levels.is_empty() {
        return Err(Error::new("the run has no level yet, and it needs one at least: a reference and a reading"));
    }
    if let Some(doubt) = run.shared_doubts.iter().find(|doubt| doubt.value() < 0.0) {
        return Err(Error::new(format!("the shared doubt must not be below 0 stops, and {} was given", doubt.value())));
    }
    let tolerance = Tolerance::symmetric(run.tolerance.value())?;
    let repeats: Vec<Vec<f64>> =
        run.levels.iter().map(|level| level.readings.iter().map(|reading| reading.ev100.value()).collect()).collect();
    let repeatability = pooled_repeatability(&repeats).map_or(0.0, |pooled| pooled.standard_deviation);

    let mut lights = Vec::with_capacity(run.levels.len());
    let mut errors = Vec::with_capacity(run.levels.len());
    let mut variances = Vec::with_capacity(run.levels.len());
    for level in &run.levels {
        lights.push(level.reference.value());
        errors.push(mean_error(level)?);
        variances.push(independent_variance(level, repeatability)?);
    }
    let sources: Vec<usize> = run.levels.iter().map(|level| level.source).collect();
    let shared: Vec<f64> = run.shared_doubts.iter().map(|doubt| doubt.value()).collect();
    let choice = model::choose(&model::Levels {
        lights: &lights,
        errors: &errors,
        variances: &variances,
        sources: &sources,
        shared: &shared,
    })?;

    let mut levels = Vec::with_capacity(run.levels.len());
    for (i, level) in run.levels.iter().enumerate() {
        let fitted = choice.predict(lights[i]);
        levels.push(LevelJudgement {
            reference: level.reference,
            error: Estimate::new(
                errors[i],
                (variances[i] + shared[level.source] * shared[level.source]).sqrt(),
                f64::INFINITY,
            )?,
            fitted,
            conformity: conformance_probability(fitted, tolerance),
            reading_words: say::readings(level),
        });
    }
    let conformity = levels.iter().map(|level| level.conformity).fold(1.0, f64::min);
    let call = Call::from_probability(conformity);
    let settle = match call {
        Call::CannotTell => settle::what_would_settle(&choice, &lights, &shared, tolerance),
        _ => String::new(),
    };
    let fitted: Vec<Estimate> = levels.iter().map(|level| level.fitted).collect();
    let remedy = remedy::dial_advice(run, &choice, &fitted);
    Ok(Judgement {
        offset: choice.offset(),
        slope: choice.slope,
        slope_reported: matches!(choice.model, Model::Line { .. }),
        fall_off_below: choice.fall_off_below(),
        birge_ratio: choice.birge_ratio(),
        tolerance: run.tolerance,
        pattern: say::pattern(&choice, &lights),
        causes: say::causes(&choice, &lights),
        notices: say::notices(run, &choice, &lights, &variances),
        curve: choice.curve(&lights),
        levels,
        conformity,
        call,
        settle,
        remedy,
    })
}

impl Judgement {
    /// `0.7 stop over`: what film gets in the middle of the range.
    pub fn headline(&self) -> String {
        crate::words::film_error(-self.offset.value())
    }

    /// `±0.2 stop in the middle of the range`.
    pub fn headline_doubt(&self) -> String {
        let place = if self.levels.len() == 1 { "at this level" } else { "in the middle of the range" };
        let place = if self.fall_off_below.is_some() { "above the fall-off" } else { place };
        format!("±{} {place}", crate::words::doubt(self.offset.expanded_95()))
    }

    /// `above EV 8.1, and an error that grows below`, or that the error changes with the light; empty where it is even. Whoever says
    /// the headline alone has to say this too.
    pub fn uneven_words(&self) -> String {
        match self.fall_off_below {
            Some(begins) => format!("above {}, and an error that grows below", crate::words::ev(begins.value())),
            None if self.slope_reported => "in the middle of the range, and another at its ends".to_owned(),
            None => String::new(),
        }
    }

    /// `±1/2 stop · 1 % likely to be within`.
    pub fn call_reason(&self) -> String {
        let stops = self.tolerance.value();
        format!(
            "±{} {} · {} likely to be within",
            crate::words::fraction(stops),
            crate::words::unit(stops),
            crate::words::per_cent(self.conformity)
        )
    }
}

#[cfg(test)]
mod tests;
